package chemicals

import (
	"strconv"
	"strings"
	"time"
)

// Clock is a time of day, written 14:30; empty where none was given.
type Clock string

const clockForm = "15:04"

// UnmarshalText reads a time of day from 00:00 to 23:59; 7:05 is 07:05.
func (c *Clock) UnmarshalText(text []byte) error {
	tidy := strings.TrimSpace(string(text))
	if tidy == "" {
		*c = ""
		return nil
	}
	t, err := time.Parse(clockForm, tidy)
	if err != nil {
		return &Problem{What: strconv.Quote(tidy) + " is not a time of day", Mend: "write hours and minutes of the 24 hour clock: 14:30"}
	}
	*c = Clock(t.Format(clockForm))
	return nil
}

func (c Clock) String() string  { return string(c) }
func (c Clock) Meaning() string { return string(c) }
func (c Clock) Known() bool     { return c != "" }
func (Clock) Example() string   { return "14:30" }

// Moment is a day with or without a time of day, written 2026-03-31 14:30.
type Moment struct {
	Day   Day
	Clock Clock
}

// UnmarshalText reads a day, and after a blank a time of day.
func (m *Moment) UnmarshalText(text []byte) error {
	day, clock, _ := strings.Cut(strings.TrimSpace(string(text)), " ")
	var read Moment
	if err := read.Day.UnmarshalText([]byte(day)); err != nil {
		return err
	}
	if err := read.Clock.UnmarshalText([]byte(clock)); err != nil {
		return err
	}
	*m = read
	return nil
}

func (m Moment) String() string  { return strings.TrimSpace(string(m.Day) + " " + string(m.Clock)) }
func (m Moment) Meaning() string { return m.String() }
func (m Moment) Known() bool     { return m.Day != "" }
func (Moment) Example() string   { return "2026-03-31 14:30" }

// Time is m on the clock of UTC; midnight where no time of day was given. Two
// of them are as far apart as the moments, but for the hour that clocks are
// set by.
func (m Moment) Time() time.Time {
	t := m.Day.Time()
	c, err := time.Parse(clockForm, string(m.Clock))
	if err != nil {
		return t
	}
	return t.Add(time.Duration(c.Hour())*time.Hour + time.Duration(c.Minute())*time.Minute)
}
