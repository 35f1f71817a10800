package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Refusal says why a text is not the quantity that was wanted, and how to
// write it. The caller knows where it stands.
type Refusal struct {
	What string // what is wrong, with the text quoted
	Mend string // how to write it
}

func (r *Refusal) Error() string { return r.What }

// Parse reads a quantity: a plain decimal number, a space, a unit. A unit may
// be spelled with or without superscripts, middle dots and spaces (ft2, ft²;
// A·h, Ah). Errors are *Refusal.
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
	for _, t := range things {
		u, of, ok := t.unit(symbol)
		if !ok {
			continue
		}
		m := measure{thing: t, base: u.base(number), of: of}
		return m, believe(m, text)
	}
	return measure{}, wrongUnit(text, symbol, things)
}

// split parts a text into its number and its unit.
func split(text, example string) (float64, string, error) {
	trimmed := strings.TrimSpace(strings.ReplaceAll(text, "\u2212", "-"))
	if trimmed == "" {
		return 0, "", &Refusal{What: "the value is empty", Mend: "write it as " + quoted(example)}
	}
	end := numberEnd(trimmed)
	rest := strings.TrimSpace(trimmed[end:])
	number, err := strconv.ParseFloat(trimmed[:end], 64)
	switch {
	case end == 0:
		return 0, "", &Refusal{What: quoted(text) + " does not start with a number", Mend: "write it as " + quoted(example)}
	case err != nil || math.IsInf(number, 0):
		return 0, "", &Refusal{What: quoted(text) + " has no number that can be read", Mend: "write it as " + quoted(example)}
	case strings.HasPrefix(rest, ","):
		return 0, "", comma(text, trimmed)
	case strings.HasPrefix(rest, ".") || rest != "" && unicode.IsDigit(rune(rest[0])):
		return 0, "", &Refusal{What: quoted(text) + " has a number in pieces", Mend: "write the digits together, with one decimal point"}
	case strings.HasPrefix(rest, "-") || strings.HasPrefix(rest, "\u2013") || strings.HasPrefix(rest, "to "):
		return 0, "", &Refusal{What: quoted(text) + " is a range", Mend: "write one value, or use the columns for low and high"}
	}
	return number, rest, nil
}

func comma(text, trimmed string) error {
	pieces := strings.SplitN(trimmed, ",", 2)
	return &Refusal{
		What: quoted(text) + " has a comma in its number",
		Mend: "write the decimal mark as a point (" + pieces[0] + "." + pieces[1] + "), and thousands without a mark",
	}
}

// numberEnd is the length of the decimal number at the start of s.
func numberEnd(s string) int {
	digits := func(i int) int {
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		return i
	}
	start := 0
	if s[0] == '+' || s[0] == '-' {
		start = 1
	}
	end := digits(start)
	if end < len(s) && s[end] == '.' {
		if frac := digits(end + 1); frac > end+1 || end > start {
			end = frac
		}
	}
	if end == start || end == start+1 && s[start] == '.' {
		return 0
	}
	if end < len(s) && (s[end] == 'e' || s[end] == 'E') {
		exponent := end + 1
		if exponent < len(s) && (s[exponent] == '+' || s[exponent] == '-') {
			exponent++
		}
		if stop := digits(exponent); stop > exponent {
			end = stop
		}
	}
	return end
}

// believe refuses what no shop can have measured.
func believe(m measure, text string) error {
	t := m.thing
	// NaN fails every comparison, so the test is for what is believed.
	if m.base >= t.least && m.base <= t.most {
		if t == &normality {
			return equivalentNamed(m, text)
		}
		return nil
	}
	if m.base < 0 && t.least >= 0 {
		return &Refusal{What: quoted(text) + " is negative", Mend: t.name + " is never below zero; write it as " + quoted(t.example)}
	}
	first := t.units[0]
	return &Refusal{
		What: quoted(text) + " is beyond belief for " + t.name,
		Mend: fmt.Sprintf("check number and unit; what is believed lies between %s and %s %s", Plain(first.of(t.least)), Plain(first.of(t.most)), first.symbol),
	}
}

func wrongUnit(text, symbol string, things []*thing) error {
	example := "write it as " + quoted(things[0].example)
	switch {
	case symbol == "":
		return &Refusal{What: quoted(text) + " has no unit", Mend: example}
	case strings.EqualFold(symbol, "ppm"):
		return &Refusal{
			What: quoted(text) + " does not say parts of what",
			Mend: "write what was measured: mg/L in water, mg/kg in a solid, ppm only for air; here " + quoted(things[0].example),
		}
	case symbol == "%":
		return &Refusal{What: quoted(text) + " does not say percent of what", Mend: "write % w/w or % v/v; here " + quoted(things[0].example)}
	}
	if near := nearMiss(symbol, things); near != "" {
		return &Refusal{What: quoted(text) + " has the unknown unit " + quoted(symbol), Mend: "did you mean " + quoted(near) + "?"}
	}
	if other := thingOf(symbol); other != nil {
		return &Refusal{What: quoted(text) + " is " + other.name + "; wanted is " + names(things), Mend: example}
	}
	return &Refusal{What: quoted(text) + " has the unknown unit " + quoted(symbol), Mend: "known here: " + strings.Join(symbolsOf(things), ", ")}
}

func foreignUnit(t *thing, symbol string) error {
	if near := nearMiss(symbol, []*thing{t}); near != "" {
		return &Refusal{What: quoted(symbol) + " is not a unit here", Mend: "did you mean " + quoted(near) + "?"}
	}
	return &Refusal{
		What: quoted(symbol) + " is not a unit of " + t.name,
		Mend: "write one of: " + strings.Join(t.symbols(), ", "),
	}
}

// nearMiss finds a unit that differs from symbol in the case of letters only.
// It is offered, not taken: Mg and mg are a billion apart.
func nearMiss(symbol string, things []*thing) string {
	for _, t := range things {
		for _, u := range t.units {
			for _, name := range append([]string{u.symbol}, u.also...) {
				if strings.EqualFold(spelling(name), spelling(symbol)) {
					return u.symbol
				}
			}
		}
	}
	return ""
}

func thingOf(symbol string) *thing {
	for _, t := range every {
		if _, _, ok := t.unit(symbol); ok {
			return t
		}
	}
	return nil
}

func names(things []*thing) string {
	if len(things) > 2 {
		return things[0].name
	}
	all := make([]string, len(things))
	for i, t := range things {
		all[i] = t.name
	}
	return strings.Join(all, " or ")
}

func symbolsOf(things []*thing) []string {
	var all []string
	for _, t := range things {
		all = append(all, t.symbols()...)
	}
	return all
}

// spelling makes the ways to write one unit alike: ft² and ft2 and ft^2, A·h
// and A.h and Ah, µm with either letter mu.
func spelling(symbol string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case '²':
			return '2'
		case '³':
			return '3'
		case '⁶':
			return '6'
		case 'μ', 'µ':
			return 'u'
		case '·', '⋅', '•', '*', '.', '^', '(', ')':
			return -1
		}
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, symbol)
}

func quoted(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return strconv.Quote(text)
}
