package quantity

import (
	"slices"
	"strings"
	"unicode"
)

// wrongUnit refuses a number followed by what is not a unit of any of things.
func wrongUnit(text, symbol string, things []*thing) error {
	switch {
	case symbol == "" && things[0] == &money:
		return &Refusal{What: quoted(text) + " has no currency", Mend: writeItAs(money.example)}
	case symbol == "":
		return &Refusal{What: quoted(text) + " has no unit", Mend: writeItAs(things[0].example)}
	}
	if err := unreadable(text, symbol); err != nil {
		return err
	}
	unknown := quoted(text) + " has the unknown unit " + quoted(symbol)
	if near := nearMiss(symbol, things); near != "" {
		return &Refusal{What: unknown, Mend: "did you mean " + quoted(near) + "?"}
	}
	if err := vague(text, symbol, things); err != nil {
		return err
	}
	if other := otherThing(symbol, things); other != nil {
		return &Refusal{What: quoted(text) + " is " + other.name + "; wanted is " + names(things), Mend: writeItAs(things[0].example)}
	}
	if meant := currencyMeant(symbol, things); meant != "" {
		return &Refusal{What: unknown, Mend: "did you mean " + quoted(meant) + "?"}
	}
	switch {
	case foreignLetters(symbol):
		return &Refusal{What: unknown, Mend: "type the unit in Latin letters; letters of another alphabet may look the same"}
	case secondNumber(symbol):
		return &Refusal{What: quoted(text) + " holds more than one number", Mend: "write one value, as " + quoted(things[0].example)}
	case things[0].note == &currencyNote:
		return &Refusal{What: unknown, Mend: "write the currency as three capital letters, as in " + knownHere(things)}
	}
	return &Refusal{What: unknown, Mend: "known here: " + knownHere(things)}
}

// vague refuses parts per million and percent that do not say of what.
func vague(text, symbol string, things []*thing) error {
	switch strings.ToLower(symbol) {
	case "ppm", "ppb", "ppt", "ppmw", "ppmv", "ppbv":
		if slices.Contains(things, &airVolume) {
			return nil
		}
		return &Refusal{
			What: quoted(text) + " does not say parts of what",
			Mend: "write what was measured: mg/L in water, mg/kg in a solid, ppm only for air; here as in " + quoted(things[0].example),
		}
	case "%", "percent", "pct", "‰":
		return &Refusal{What: quoted(text) + " does not say percent of what", Mend: percentHere(things)}
	}
	return nil
}

func percentHere(things []*thing) string {
	var shares []string
	for _, symbol := range symbolsOf(things) {
		if strings.HasPrefix(symbol, "%") {
			shares = append(shares, symbol)
		}
	}
	if len(shares) == 0 {
		return "no percentage is taken here; " + writeItAs(things[0].example)
	}
	return "write " + strings.Join(shares, " or ")
}

// otherThing is what symbol is a unit of. Three capital letters are taken for a
// currency only where money is wanted, lest LBS be one.
func otherThing(symbol string, wanted []*thing) *thing {
	if t := thingOf(symbol, physical); t != nil || wanted[0].note != &currencyNote {
		return t
	}
	return thingOf(symbol, prices)
}

// foreignLetters finds letters that are neither Latin nor the mu of micro.
func foreignLetters(symbol string) bool {
	return strings.ContainsFunc(symbol, func(r rune) bool {
		return unicode.IsLetter(r) && !unicode.Is(unicode.Latin, r) && plainRune(r) == r
	})
}

// secondNumber finds a number that starts after a blank or a mark, not one that
// belongs to a unit such as gal/1000 ft².
func secondNumber(symbol string) bool {
	before := 'a'
	for _, r := range symbol {
		if r >= '0' && r <= '9' && (unicode.IsSpace(before) || strings.ContainsRune("-–—,;+", before)) {
			return true
		}
		before = r
	}
	return false
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

func knownHere(things []*thing) string { return strings.Join(symbolsOf(things), ", ") }

func symbolsOf(things []*thing) []string {
	var all []string
	for _, t := range things {
		all = append(all, t.symbols()...)
	}
	return all
}
