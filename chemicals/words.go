package chemicals

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"bathwarden/chemicals/quantity"
)

// Name is what a thing is called in the book: a tank, a product, a person. Two
// names that differ only in case or in how an accent is encoded are the same. A
// mark that does not show has no place in it, so that two names which look alike
// are one.
type Name string

// Fold is the form in which names are compared.
func Fold(name string) string { return strings.ToLower(norm.NFC.String(name)) }

// UnmarshalText reads a name; inner runs of blanks become one.
func (n *Name) UnmarshalText(text []byte) error {
	tidy := strings.Join(strings.Fields(string(text)), " ")
	const most = 80
	switch {
	case strings.ContainsFunc(tidy, forbidden):
		return &Problem{What: strconv.Quote(tidy) + " holds a control character", Mend: "type the name again"}
	case len([]rune(tidy)) > most:
		return &Problem{What: fmt.Sprintf("a name of %d letters is too long", len([]rune(tidy))), Mend: fmt.Sprintf("use at most %d; a longer text goes into a title or a note", most)}
	case strings.Contains(tidy, ";"):
		return &Problem{What: strconv.Quote(tidy) + " holds a semicolon, which parts the names in a list", Mend: "leave it out"}
	}
	if mark, at, found := hidden(tidy); found {
		return &Problem{
			What: fmt.Sprintf("%q holds %U, which does not show, as its character %d", tidy, mark, at),
			Mend: "type the name again, without it",
		}
	}
	*n = Name(tidy)
	return nil
}

func (n Name) String() string  { return string(n) }
func (n Name) Meaning() string { return Fold(string(n)) }
func (n Name) Known() bool     { return n != "" }
func (Name) Example() string   { return "B5" }

// Text is words, on one line or several.
type Text string

// UnmarshalText reads text; a tab counts as a blank, blanks at the ends of
// lines go.
func (t *Text) UnmarshalText(text []byte) error {
	lines := strings.Split(strings.ReplaceAll(strings.ReplaceAll(string(text), "\r\n", "\n"), "\t", " "), "\n")
	for i, line := range lines {
		lines[i] = strings.TrimSpace(line)
	}
	tidy := strings.TrimSpace(strings.Join(lines, "\n"))
	const most = 4000
	switch {
	case strings.ContainsFunc(strings.ReplaceAll(tidy, "\n", ""), forbidden):
		return &Problem{What: "the text holds a control character", Mend: "type it again, or paste it as plain text"}
	case len([]rune(tidy)) > most:
		return &Problem{What: fmt.Sprintf("a text of %d letters is too long", len([]rune(tidy))), Mend: fmt.Sprintf("use at most %d, and keep the rest where the note can point to", most)}
	}
	if mark, at, found := turning(tidy); found {
		return &Problem{
			What: fmt.Sprintf("the text holds %U, which turns the direction of writing, as its character %d", mark, at),
			Mend: "type it again without it; letters of every script find their direction by themselves",
		}
	}
	*t = Text(tidy)
	return nil
}

func forbidden(r rune) bool { return unicode.IsControl(r) || r == unicode.ReplacementChar }

func (t Text) String() string  { return string(t) }
func (t Text) Meaning() string { return norm.NFC.String(string(t)) }
func (t Text) Known() bool     { return t != "" }
func (Text) Example() string   { return "words" }

// Day is a calendar day, written 2026-03-31; empty where none was given. Days
// compare as text.
type Day string

const dayForm = "2006-01-02"

// DayOf is the day of t in t's own time zone.
func DayOf(t time.Time) Day { return Day(t.Format(dayForm)) }

// ParseDay reads a day between 1900 and 2199.
func ParseDay(text string) (Day, error) {
	var d Day
	return d, d.UnmarshalText([]byte(text))
}

// UnmarshalText reads a day; empty text is no day.
func (d *Day) UnmarshalText(text []byte) error {
	tidy := strings.TrimSpace(string(text))
	if tidy == "" {
		*d = ""
		return nil
	}
	t, err := time.Parse(dayForm, tidy)
	switch {
	case err != nil && len(tidy) == len(dayForm) && tidy[4] == '-' && tidy[7] == '-':
		return &Problem{What: strconv.Quote(tidy) + " is not a day of the calendar", Mend: "check month and day; the order is year-month-day"}
	case err != nil:
		return &Problem{What: strconv.Quote(tidy) + " is not a day", Mend: "write it as year-month-day: 2026-03-31"}
	case t.Year() < 1900 || t.Year() > 2199:
		return &Problem{What: strconv.Quote(tidy) + " is too far from today", Mend: "check the year; days from 1900 to 2199 are taken"}
	}
	*d = Day(tidy)
	return nil
}

func (d Day) String() string  { return string(d) }
func (d Day) Meaning() string { return string(d) }
func (d Day) Known() bool     { return d != "" }
func (Day) Example() string   { return "2026-03-31" }

// Time is the start of d in UTC; the zero time where there is no day.
func (d Day) Time() time.Time {
	t, err := time.Parse(dayForm, string(d))
	if err != nil {
		return time.Time{}
	}
	return t
}

// Add is the day n days later.
func (d Day) Add(n int) Day { return DayOf(d.Time().AddDate(0, 0, n)) }

// Since counts the days from e to d.
func (d Day) Since(e Day) int { return int(math.Round(d.Time().Sub(e.Time()).Hours() / 24)) }

// YesNo is an answer, empty where none was given.
type YesNo string

// The answers.
const (
	Yes YesNo = "yes"
	No  YesNo = "no"
)

func (YesNo) words() []string { return []string{string(Yes), string(No)} }

// Figure is a bare number as somebody wrote it, with its digits.
type Figure struct {
	text string
	is   float64
}

func (f Figure) String() string { return f.text }
func (f Figure) Known() bool    { return f.text != "" }

// Is is the number; 0 where none was given.
func (f Figure) Is() float64 { return f.is }

// Meaning is the number to twelve digits.
func (f Figure) Meaning() string {
	if !f.Known() {
		return ""
	}
	return strconv.FormatFloat(f.is, 'g', 12, 64)
}

// figure reads a number between least and most, with or without a mark behind
// it.
func figure(text, mark, example string, least, most float64) (Figure, error) {
	tidy := strings.Join(strings.Fields(text), " ")
	if tidy == "" {
		return Figure{}, nil
	}
	digits := strings.TrimSpace(strings.TrimSuffix(tidy, mark))
	v, err := strconv.ParseFloat(digits, 64)
	switch {
	case strings.Contains(digits, ","):
		return Figure{}, &Problem{What: strconv.Quote(tidy) + " has a comma in its number", Mend: "write the decimal mark as a point: " + strings.Replace(digits, ",", ".", 1)}
	case mark != "" && !strings.HasSuffix(tidy, mark):
		return Figure{}, &Problem{What: strconv.Quote(tidy) + " lacks the mark " + mark, Mend: "write it as " + strconv.Quote(example)}
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(digits, "xXpP_"):
		return Figure{}, &Problem{What: strconv.Quote(tidy) + " is not a number", Mend: "write it as " + strconv.Quote(example)}
	case v < least || v > most:
		return Figure{}, &Problem{
			What: strconv.Quote(tidy) + " is out of range",
			Mend: fmt.Sprintf("give a value from %s to %s%s", quantity.Plain(least), quantity.Plain(most), mark),
		}
	}
	return Figure{text: tidy, is: v}, nil
}

// PH is a pH value.
type PH struct{ Figure }

// UnmarshalText reads a bare number from -2 to 16.
func (p *PH) UnmarshalText(text []byte) (err error) {
	p.Figure, err = figure(string(text), "", p.Example(), -2, 16)
	return err
}

// Example is a text that would be read.
func (PH) Example() string { return "4.2" }

// Share is a part of a whole, written in percent.
type Share struct{ Figure }

// UnmarshalText reads a percentage from 0 to 100, with its mark.
func (s *Share) UnmarshalText(text []byte) (err error) {
	s.Figure, err = figure(string(text), "%", s.Example(), 0, 100)
	return err
}

// Fraction is s from 0 to 1.
func (s Share) Fraction() float64 { return s.is / 100 }

// Example is a text that would be read.
func (Share) Example() string { return "95 %" }

// Count is a number of things.
type Count struct{ Figure }

// UnmarshalText reads a whole number from 0 to 1,000,000.
func (c *Count) UnmarshalText(text []byte) error {
	read, err := figure(string(text), "", c.Example(), 0, 1e6)
	if err == nil && read.is != math.Trunc(read.is) {
		err = &Problem{What: strconv.Quote(read.text) + " is not a whole number", Mend: "count whole things"}
	}
	if err != nil {
		return err
	}
	c.Figure = read
	return nil
}

// Int is the count.
func (c Count) Int() int { return int(c.is) }

// Example is a text that would be read.
func (Count) Example() string { return "4" }

// Zone is a time zone by its name in the IANA database.
type Zone string

// UnmarshalText reads a zone that the database knows.
func (z *Zone) UnmarshalText(text []byte) error {
	tidy := strings.TrimSpace(string(text))
	if _, err := time.LoadLocation(tidy); err != nil || tidy == "Local" {
		return &Problem{What: strconv.Quote(tidy) + " is not a time zone", Mend: "write a name of the IANA database, such as America/Chicago or Europe/Berlin"}
	}
	*z = Zone(tidy)
	return nil
}

func (z Zone) String() string  { return string(z) }
func (z Zone) Meaning() string { return string(z) }
func (z Zone) Known() bool     { return z != "" }
func (Zone) Example() string   { return "America/Chicago" }

// Location is the zone, UTC where none was given.
func (z Zone) Location() *time.Location {
	where, err := time.LoadLocation(string(z))
	if err != nil {
		return time.UTC
	}
	return where
}
