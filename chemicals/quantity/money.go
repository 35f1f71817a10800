package quantity

import (
	"regexp"
	"strings"
)

// Money is a sum with its currency, an ISO 4217 code of three capital letters:
// "125.00 USD".
type Money struct{ m measure }

// Sum is the amount in the currency.
func (p Money) Sum() float64 { return p.m.base }

// Currency is the code, "USD".
func (p Money) Currency() string { return p.m.of }

func (Money) things() []*thing     { return []*thing{&money} }
func (Money) wrap(m measure) Money { return Money{m} }
func (p Money) measure() measure   { return orBase(p.m, &money) }

// MoneyPerVolume is the price of water, sewer or hauling: "4.10 USD/m³".
type MoneyPerVolume struct{ m measure }

// PerLitre is the price of one litre.
func (p MoneyPerVolume) PerLitre() float64 { return p.m.base }

// Currency is the code, "USD".
func (p MoneyPerVolume) Currency() string { return p.m.of }

func (MoneyPerVolume) things() []*thing              { return []*thing{&moneyPerVolume} }
func (MoneyPerVolume) wrap(m measure) MoneyPerVolume { return MoneyPerVolume{m} }
func (p MoneyPerVolume) measure() measure            { return orBase(p.m, &moneyPerVolume) }

// MoneyPerMass is the price of a reagent or a metal: "32.50 USD/troy oz".
type MoneyPerMass struct{ m measure }

// PerGram is the price of one gram.
func (p MoneyPerMass) PerGram() float64 { return p.m.base }

// Currency is the code, "USD".
func (p MoneyPerMass) Currency() string { return p.m.of }

func (MoneyPerMass) things() []*thing            { return []*thing{&moneyPerMass} }
func (MoneyPerMass) wrap(m measure) MoneyPerMass { return MoneyPerMass{m} }
func (p MoneyPerMass) measure() measure          { return orBase(p.m, &moneyPerMass) }

var (
	money = thing{
		name: "a sum of money", example: "125.00 USD", most: 1e12, note: &currencyNote, dimension: moneyOf, si: 1,
		units: []unit{{symbol: "", factor: 1}},
	}
	moneyPerVolume = thing{
		name: "a price per volume", example: "4.10 USD/m³", metric: "/m³", us: "/gal", most: 1e9, note: &currencyNote,
		dimension: pricePerVolume, si: 1. / 1000,
		units: []unit{
			{symbol: "/L", factor: 1 / float64(Litre), also: []string{"/l"}},
			{symbol: "/m³", factor: 1 / float64(CubicMetre)},
			{symbol: "/gal", factor: 1 / float64(Gallon)},
			{symbol: "/ft³", factor: 1 / float64(CubicFoot)},
		},
	}
	moneyPerMass = thing{
		name: "a price per mass", example: "32.50 USD/troy oz", metric: "/kg", us: "/lb", most: 1e9, note: &currencyNote,
		dimension: pricePerMass, si: 1. / 1000,
		units: []unit{
			{symbol: "/g", factor: 1 / float64(Gram)},
			{symbol: "/kg", factor: 1 / float64(Kilogram)},
			{symbol: "/lb", factor: 1 / float64(Pound)},
			{symbol: "/oz", factor: 1 / float64(Ounce)},
			{symbol: "/troy oz", factor: 1 / float64(TroyOunce), also: []string{"/ozt"}},
			{symbol: "/t", factor: 1 / float64(Tonne)},
		},
	}
)

var currencyNote = note{
	part:    currencyOf,
	join:    func(unitSymbol, of string) string { return of + unitSymbol },
	example: "USD",
}

var currencyCode = regexp.MustCompile(`^([A-Z]{3})\s*(/.*)?$`)

// currencyOf parts "USD/m³" into the unit "/m³" and the currency.
func currencyOf(symbol string) (unitSymbol, currency string, ok bool) {
	found := currencyCode.FindStringSubmatch(symbol)
	if found == nil {
		return "", "", false
	}
	return found[2], found[1], true
}

// currencyMeant finds "USD/m³" behind "usd / m3".
func currencyMeant(symbol string, things []*thing) string {
	if things[0].note != &currencyNote || len(symbol) < 3 {
		return ""
	}
	unitSymbol, of, ok := currencyOf(strings.ToUpper(symbol[:3]) + symbol[3:])
	if !ok || isUnit(of) {
		return ""
	}
	for _, t := range things {
		for _, u := range t.units {
			if loose(u.symbol) == loose(unitSymbol) {
				return of + u.symbol
			}
		}
	}
	return ""
}

// isUnit tells LBS and GAL from a currency.
func isUnit(code string) bool { return nearMiss(code, physical) != "" }

func currencyNamed(of, text, example string) error {
	if isUnit(of) {
		return &Refusal{What: quoted(text) + " has the unit " + quoted(of) + " where a currency belongs", Mend: writeItAs(example)}
	}
	return nil
}
