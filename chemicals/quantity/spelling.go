package quantity

import (
	"strings"
	"sync"
	"unicode"
)

// unit finds the unit of t that symbol spells, and what a price or a normality
// carries beside it.
func (t *thing) unit(symbol string) (found *unit, of string, ok bool) {
	if symbol, of, ok = t.part(symbol); !ok {
		return nil, "", false
	}
	if found, ok = spellings()[t][symbol]; !ok {
		found, ok = spellings()[t][spelling(symbol)]
	}
	return found, of, ok
}

// part takes from symbol what its note says.
func (t *thing) part(symbol string) (unitSymbol, of string, ok bool) {
	if t.note == nil {
		return symbol, "", true
	}
	return t.note.part(symbol)
}

// find finds which of things has the unit that symbol spells. Most people spell
// it as it is printed, so that is tried first with all of them.
func find(symbol string, things []*thing) (t *thing, found *unit, of string, ok bool) {
	for _, t := range things {
		if bare, of, ok := t.part(symbol); ok {
			if found, ok := spellings()[t][bare]; ok {
				return t, found, of, true
			}
		}
	}
	for _, t := range things {
		if found, of, ok := t.unit(symbol); ok {
			return t, found, of, true
		}
	}
	return nil, nil, "", false
}

// symbols are the units of t as they would be read.
func (t *thing) symbols() []string {
	all := make([]string, len(t.units))
	for i, u := range t.units {
		all[i] = u.symbol
		if t.note != nil {
			all[i] = t.note.join(u.symbol, t.note.example)
		}
	}
	return all
}

// names are the ways to write u before they are spelled alike.
func (u *unit) names() []string { return append([]string{u.symbol}, u.also...) }

// spellings leads from each spelling to its unit, for every thing.
var spellings = sync.OnceValue(func() map[*thing]map[string]*unit {
	all := make(map[*thing]map[string]*unit, len(every))
	for _, t := range every {
		known := map[string]*unit{}
		for i := range t.units {
			for _, name := range t.units[i].names() {
				spelled := spelling(name)
				known[name] = &t.units[i]
				known[spelled] = &t.units[i]
				known[strings.ReplaceAll(spelled, "·", "")] = &t.units[i]
			}
		}
		all[t] = known
	}
	return all
})

// spelling makes the ways to write one unit alike: ft² and ft2 and ft^2, A·h
// and A.h and A h, µm with either letter mu, L/h·m² and L/(h m2).
func spelling(symbol string) string {
	var b strings.Builder
	parted, last := false, rune(0)
	symbol = unbracketed(strings.TrimSuffix(symbol, "."))
	if strings.ContainsRune(symbol, '^') {
		symbol = powers.Replace(symbol)
	}
	for _, r := range symbol {
		if strings.ContainsRune("·⋅•*.", r) || unicode.IsSpace(r) {
			parted = true
			continue
		}
		r = plainRune(r)
		if parted && r != '/' && (last == 0 || !strings.ContainsRune("/%°", last)) {
			b.WriteRune('·')
		}
		b.WriteRune(r)
		parted, last = false, r
	}
	if parted {
		b.WriteRune('·') // a mark at the end parts nothing, and is not overlooked
	}
	return b.String()
}

// unbracketed drops the brackets of L/(h·m²) and % (w/w): one pair, at the end.
func unbracketed(symbol string) string {
	open := strings.IndexByte(symbol, '(')
	if open < 1 || strings.IndexByte(symbol, ')') != len(symbol)-1 || strings.LastIndexByte(symbol, '(') != open || open == len(symbol)-2 {
		return symbol
	}
	return symbol[:open] + symbol[open+1:len(symbol)-1]
}

var powers = strings.NewReplacer("^2", "²", "^3", "³", "^6", "⁶")

func plainRune(r rune) rune {
	switch r {
	case '²':
		return '2'
	case '³':
		return '3'
	case '⁶':
		return '6'
	case 'μ', 'µ':
		return 'u'
	case 'º', '˚':
		return '°'
	}
	return r
}

// loose drops all that people take for decoration, to find what was meant.
func loose(symbol string) string {
	return strings.Map(func(r rune) rune {
		if r = plainRune(r); unicode.IsLetter(r) || unicode.IsDigit(r) || r == '/' || r == '%' {
			return unicode.ToLower(r)
		}
		return -1
	}, symbol)
}

// nearMiss finds a unit that differs from symbol in the case of letters or in
// marks only. It is offered, not taken: Mg and mg are a billion apart. Prices
// have no near miss, because it would name a currency nobody wrote.
func nearMiss(symbol string, things []*thing) string {
	want := loose(symbol)
	if want == "" {
		return ""
	}
	for _, t := range things {
		for i := range t.units {
			for _, name := range t.units[i].names() {
				if loose(name) == want && t.note != &currencyNote {
					return t.symbols()[i]
				}
			}
		}
	}
	return ""
}

// thingOf finds the thing that symbol is a unit of.
func thingOf(symbol string, among []*thing) *thing {
	t, _, _, _ := find(symbol, among)
	return t
}
