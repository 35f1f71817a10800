package quantity

import (
	"math"
	"strconv"
	"strings"
)

// longest is the most bytes of a number and its unit, without the blanks between.
const longest = 200

// smallest is the least figure, in the unit it is written in, that is not taken
// for a slip of the exponent.
const smallest = 1e-15

// Parse reads a quantity: a plain decimal number, a space, a unit. A unit may
// be spelled with or without superscripts, middle dots and brackets (ft2, ft²;
// A·h, Ah; L/(h m²), L/h·m²). Errors are *Refusal.
func Parse[Q Quantity[Q]](text string) (Q, error) {
	var none Q
	m, err := read(text, none.things())
	if err != nil {
		return none, err
	}
	return none.wrap(m), nil
}

func read(text string, things []*thing) (measure, error) {
	number, symbol, err := split(text, things[0].example)
	if err != nil {
		return measure{}, err
	}
	if t, u, of, ok := find(symbol, things); ok {
		return t.measured(number, u, of, text)
	}
	return measure{}, wrongUnit(text, symbol, things)
}

// measured is number of u, if that can be believed.
func (t *thing) measured(number float64, u *unit, of, text string) (measure, error) {
	if !u.defined(number) {
		return measure{}, u.offScale(quoted(text))
	}
	m := measure{thing: t, base: u.base(number), of: of}
	if m.base == 0 {
		m.base = 0 // negative zero means the same
	}
	if number != 0 && math.Abs(number) < smallest {
		return measure{}, &Refusal{What: quoted(text) + " is all but zero", Mend: "check the exponent of the number"}
	}
	if err := t.wellNoted(of, text); err != nil {
		return measure{}, err
	}
	return m, m.believed(u, text)
}

// wellNoted refuses a normality of nothing and a currency that is a unit.
func (t *thing) wellNoted(of, text string) error {
	switch t.note {
	case &equivalentNote:
		return equivalentNamed(of, text)
	case &currencyNote:
		return currencyNamed(of, text, t.example)
	}
	return nil
}

// believed refuses what no shop can have measured.
func (m measure) believed(u *unit, text string) error {
	t := m.thing
	if within(m.base, t.least, t.most) {
		return nil
	}
	if m.base < 0 && t.least >= 0 {
		return &Refusal{What: quoted(text) + " is negative", Mend: t.name + " is never below zero; write it as " + quoted(t.example)}
	}
	bounds := brief(u.of(t.least)) + " and " + brief(u.of(t.most)) + " " + m.noted(u.symbol)
	return &Refusal{
		What: quoted(text) + " is beyond belief for " + t.name,
		Mend: "check number and unit; what is believed lies between " + bounds,
	}
}

// brief is v in four digits, without zeros at its end.
func brief(v float64) string {
	text := Significant(v, 4)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// split parts a text into its number and its unit.
func split(text, example string) (number float64, symbol string, err error) {
	trimmed := strings.TrimSpace(strings.ReplaceAll(text, "\u2212", "-"))
	end := numberEnd(trimmed)
	symbol = strings.TrimSpace(trimmed[end:])
	switch {
	case end+len(symbol) > longest:
		return 0, "", &Refusal{What: quoted(text) + " is too long for a quantity", Mend: writeItAs(example)}
	case end == 0:
		return 0, "", noNumber(text, trimmed, example)
	}
	if err := brokenNumber(text, trimmed[:end], symbol); err != nil {
		return 0, "", err
	}
	number, parseErr := strconv.ParseFloat(trimmed[:end], 64)
	if parseErr != nil {
		return 0, "", &Refusal{What: quoted(text) + " is beyond any figure", Mend: "check the exponent of the number"}
	}
	if number == 0 && strings.ContainsAny(mantissa(trimmed[:end]), "123456789") {
		return 0, "", &Refusal{What: quoted(text) + " is all but zero", Mend: "check the exponent of the number"}
	}
	return number, symbol, nil
}

func mantissa(number string) string {
	if e := strings.IndexAny(number, "eE"); e >= 0 {
		return number[:e]
	}
	return number
}

// numberEnd is the length of the decimal number at the start of s.
func numberEnd(s string) int {
	start := 0
	if strings.HasPrefix(s, "+") || strings.HasPrefix(s, "-") {
		start = 1
	}
	end := digitsEnd(s, start)
	if end < len(s) && s[end] == '.' {
		if fraction := digitsEnd(s, end+1); fraction > end+1 || end > start {
			end = fraction
		}
	}
	if end == start {
		return 0
	}
	return exponentEnd(s, end)
}

// exponentEnd is where an exponent at end stops; end itself if there is none.
func exponentEnd(s string, end int) int {
	if end >= len(s) || s[end] != 'e' && s[end] != 'E' {
		return end
	}
	digits := end + 1
	if digits < len(s) && (s[digits] == '+' || s[digits] == '-') {
		digits++
	}
	if stop := digitsEnd(s, digits); stop > digits {
		return stop
	}
	return end
}

func digitsEnd(s string, i int) int {
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	return i
}
