package quantity

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Refusal says why a text is not the quantity that was wanted, and how to
// write it. The caller knows where it stands.
type Refusal struct {
	What string // what is wrong, with the text quoted
	Mend string // how to write it
}

func (r *Refusal) Error() string { return r.What }

// quoted shows a text as Go would write it, so that what does not print shows.
func quoted(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return strconv.Quote(text)
}

func writeItAs(example string) string { return "write it as " + quoted(example) }

// noNumber refuses a text that does not start with a number.
func noNumber(text, trimmed, example string) error {
	first, _ := utf8.DecodeRuneInString(trimmed)
	if trimmed == "" {
		return &Refusal{What: "the value is empty", Mend: writeItAs(example)}
	}
	if err := unreadable(text, trimmed); err != nil {
		return err
	}
	switch {
	case strings.ContainsRune("<>≤≥≦≧", first):
		return &Refusal{
			What: quoted(text) + " is a bound, not a value",
			Mend: "write one value, as " + quoted(example) + "; only the result of a sample may be given as a bound",
		}
	case strings.ContainsRune("–—‐‑", first):
		return &Refusal{What: quoted(text) + " starts with a dash", Mend: "type a minus as \"-\""}
	case strings.ContainsRune(",，٫", first):
		return &Refusal{What: quoted(text) + " has a comma in its number", Mend: "write the decimal mark as a point, with a digit before it, such as 0.5"}
	case unicode.IsDigit(first):
		return &Refusal{What: quoted(text) + " has digits that are not 0 to 9", Mend: "type the number with the digits 0 to 9, as " + quoted(example)}
	case unicode.IsNumber(first):
		return fraction(text)
	}
	return &Refusal{What: quoted(text) + " does not start with a number", Mend: writeItAs(example)}
}

// unreadable refuses what a person cannot see or a program cannot decode.
func unreadable(text, trimmed string) error {
	if !utf8.ValidString(text) {
		return &Refusal{
			What: quoted(text) + " is not UTF-8 text",
			Mend: "save the file as UTF-8, or write units in plain letters: m2, um, C",
		}
	}
	for _, r := range trimmed {
		if unicode.Is(unicode.C, r) && !unicode.IsSpace(r) {
			return &Refusal{What: quoted(text) + " holds a character that does not print", Mend: "type the value again by hand"}
		}
	}
	return nil
}

func fraction(text string) error {
	return &Refusal{What: quoted(text) + " has a fraction", Mend: "write it as a decimal, such as 0.5 for a half"}
}

// brokenNumber refuses a text whose number goes on after number, the part that
// was read.
func brokenNumber(text, number, rest string) error {
	first, size := utf8.DecodeRuneInString(rest)
	if size == 0 || unicode.IsLetter(first) && !strings.ContainsAny(rest, "0123456789") {
		return nil
	}
	next := strings.TrimSpace(rest[size:])
	digit := next != "" && next[0] >= '0' && next[0] <= '9'
	switch {
	case strings.ContainsRune(",，٫", first) && digit:
		return comma(text, number, rest)
	case first == '/' && digit, unicode.Is(unicode.No, first) && !strings.ContainsRune("⁰¹²³⁴⁵⁶⁷⁸⁹", first):
		return fraction(text)
	case strings.ContainsRune("-–—‐‑…~", first) && startsNumber(next), strings.HasPrefix(rest, ".."), hasWord(rest, "to"), hasWord(rest, "or"), hasWord(rest, "and"):
		return &Refusal{What: quoted(text) + " is a range", Mend: "write one value, or use the columns for low and high"}
	case first == '±', strings.HasPrefix(rest, "+/-"), strings.HasPrefix(rest, "+-"):
		return &Refusal{What: quoted(text) + " has a tolerance", Mend: "write the value alone"}
	case unicode.IsNumber(first), digit && strings.ContainsRune(".'’`_·*×xX^", first):
		return &Refusal{What: quoted(text) + " has a number in pieces", Mend: "write one plain decimal number, such as 1200 or 0.5, with nothing between its digits"}
	}
	return nil
}

// startsNumber tells "-6 L" after a number, a range, from "-gal", a unit.
func startsNumber(s string) bool { return numberEnd(s) > 0 }

// hasWord reports whether s begins with the word and then a number.
func hasWord(s, word string) bool {
	after, found := strings.CutPrefix(s, word)
	return found && startsNumber(strings.TrimSpace(after))
}

// The ways to write a number with a comma.
var (
	oneComma      = regexp.MustCompile(`^[+-]?\d+,\d+$`)
	pointsAndMark = regexp.MustCompile(`^[+-]?\d{1,3}(\.\d{3})+,\d+$`)
	commasGrouped = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(,\d{3})+(\.\d*)?$`)
)

// comma says how to write a number with a comma, both ways where it cannot be
// known which was meant.
func comma(text, number, rest string) error {
	run := number + rest
	if end := strings.IndexFunc(run[len(number):], func(r rune) bool {
		return !strings.ContainsRune("0123456789.,，٫", r)
	}); end >= 0 {
		run = run[:len(number)+end]
	}
	run = strings.NewReplacer("，", ",", "٫", ",").Replace(run)
	point := quoted(strings.ReplaceAll(strings.ReplaceAll(run, ".", ""), ",", "."))
	joined := quoted(strings.ReplaceAll(run, ",", ""))
	mend := "write one plain decimal number, such as 1200 or 0.5, with nothing between its digits"
	switch {
	case oneComma.MatchString(run) && commasGrouped.MatchString(run):
		mend = "write " + point + " if the comma is the decimal mark, " + joined + " if it parts thousands"
	case oneComma.MatchString(run), pointsAndMark.MatchString(run):
		mend = "write " + point + ", with a point as the decimal mark"
	case commasGrouped.MatchString(run):
		mend = "write " + joined + ", with nothing between thousands"
	}
	return &Refusal{What: quoted(text) + " has a comma in its number", Mend: mend}
}
