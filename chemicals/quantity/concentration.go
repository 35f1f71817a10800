package quantity

import (
	"strconv"
	"strings"
)

// BathConcentration is how much of an ingredient a bath holds, on whichever
// basis it was written: mass or volume per volume, mass share, moles or
// equivalents per volume. The bases convert only with a density or a molar
// mass, so none is done silently.
type BathConcentration struct{ m measure }

// GramsPerLitre makes a concentration by mass.
func GramsPerLitre(v float64) BathConcentration {
	return BathConcentration{measure{thing: &bathMass, base: v}}
}

// GramsPerLitre is c in g/L if it was written by mass per volume.
func (c BathConcentration) GramsPerLitre() (float64, bool) { return c.m.on(&bathMass) }

// MillilitresPerLitre is c in mL/L if it was written by volume.
func (c BathConcentration) MillilitresPerLitre() (float64, bool) { return c.m.on(&bathVolume) }

// PercentByMass is c in % w/w if it was written so.
func (c BathConcentration) PercentByMass() (float64, bool) { return c.m.on(&massFraction) }

// MolesPerLitre is c in mol/L if it was written in moles, or in equivalents,
// whose fraction of a mole is then applied.
func (c BathConcentration) MolesPerLitre() (float64, bool) {
	if v, ok := c.m.on(&normality); ok {
		part, _, named := equivalentParts(c.m.of)
		return v * part, named
	}
	return c.m.on(&molarity)
}

func (BathConcentration) things() []*thing {
	return []*thing{&bathMass, &bathVolume, &massFraction, &molarity, &normality}
}
func (BathConcentration) wrap(m measure) BathConcentration { return BathConcentration{m} }
func (c BathConcentration) measure() measure               { return orBase(c.m, &bathMass) }

// MassShare is a share by mass, % w/w, of a product's contents.
type MassShare float64

// Percent is s in % w/w.
func (s MassShare) Percent() float64 { return float64(s) }

func (MassShare) things() []*thing         { return []*thing{&massFraction} }
func (MassShare) wrap(m measure) MassShare { return MassShare(m.base) }
func (s MassShare) measure() measure       { return measure{thing: &massFraction, base: float64(s)} }

var (
	bathMass = thing{
		name: "a concentration in a bath", example: "350 g/L", metric: "g/L", us: "oz/gal", most: 5000, dimension: massPerLiquid, si: 1,
		units: []unit{
			{symbol: "g/L", factor: 1, also: []string{"g/l"}},
			{symbol: "oz/gal", factor: ouncePerGallon},
			{symbol: "troy oz/gal", factor: troyOuncePerGallon},
			{symbol: "mg/L", factor: 0.001, also: []string{"mg/l"}},
			{symbol: "µg/L", factor: 1e-6, also: []string{"µg/l"}},
		},
	}
	bathVolume = thing{
		name: "a volume share of a bath", example: "50 mL/L", metric: "mL/L", us: "% v/v", most: 1000, dimension: volumeShare, si: 1000,
		units: []unit{
			{symbol: "mL/L", factor: 1, also: []string{"ml/L", "ml/l"}},
			{symbol: "% v/v", factor: 10, also: []string{"vol%", "vol %", "%vol"}},
		},
	}
	massFraction = thing{
		name: "a mass share", example: "12 % w/w", metric: "% w/w", us: "% w/w", most: 100, dimension: massShare, si: 100,
		units: []unit{{symbol: "% w/w", factor: 1, also: []string{"wt%", "wt %", "%wt"}}},
	}
	molarity = thing{
		name: "an amount concentration", example: "1.5 mol/L", metric: "mol/L", us: "mol/L", most: 100, dimension: amountOf, si: 1. / 1000,
		units: []unit{{symbol: "mol/L", factor: 1, also: []string{"mol/l", "M"}}},
	}
)

const (
	ouncePerGallon     = 28.349523125 / 3.785411784
	troyOuncePerGallon = 31.1034768 / 3.785411784
)

var normality = thing{
	name: "a normality", example: "2 N (1/2 H2SO4)", metric: "N", us: "N", most: 200, dimension: equivalents, si: 1. / 1000, note: &equivalentNote,
	units: []unit{{symbol: "N", factor: 1}},
}

var equivalentNote = note{
	part:    equivalentOf,
	join:    func(unitSymbol, of string) string { return unitSymbol + " (" + of + ")" },
	example: "1/2 H2SO4",
}

// equivalentOf parts "N (1/2 H2SO4)" into the unit and what the equivalent is,
// in one spelling. Without brackets it names none.
func equivalentOf(symbol string) (unitSymbol, of string, ok bool) {
	rest, found := strings.CutPrefix(symbol, "N")
	rest = strings.TrimSpace(rest)
	if !found || len(rest) < 2 || !strings.HasPrefix(rest, "(") || !strings.HasSuffix(rest, ")") {
		return symbol, "", true
	}
	of = strings.Map(func(r rune) rune {
		if r >= '₀' && r <= '₉' {
			return '0' + r - '₀'
		}
		return r
	}, strings.TrimSpace(rest[1:len(rest)-1]))
	if share, formula, named := equivalentShare(of); named {
		of = share + " " + formula
	}
	return "N", of, true
}

// equivalentShare reads what one equivalent is: a fraction of a formula unit,
// "1/2 H2SO4", each side of it from 1 to 99.
func equivalentShare(of string) (share, formula string, ok bool) {
	slash := digitsEnd(of, 0)
	if slash == len(of) || of[slash] != '/' {
		return "", "", false
	}
	end := digitsEnd(of, slash+1)
	formula = strings.TrimPrefix(of[end:], " ")
	for _, digits := range []string{of[:slash], of[slash+1 : end]} {
		if digits == "" || len(digits) > 2 || digits[0] == '0' {
			return "", "", false
		}
	}
	if formula == "" || formula[0] < 'A' || formula[0] > 'Z' || strings.Trim(formula, formulaSigns) != "" {
		return "", "", false
	}
	return of[:end], formula, true
}

const formulaSigns = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789()."

func equivalentNamed(of, text string) error {
	if _, _, ok := equivalentShare(of); !ok {
		return &Refusal{
			What: quoted(text) + " does not name its equivalent",
			Mend: "write which share of which formula unit one equivalent is, as in " + quoted(normality.example),
		}
	}
	return nil
}

// equivalentParts gives how many moles of the formula unit one equivalent is.
func equivalentParts(of string) (part float64, formula string, ok bool) {
	share, formula, ok := equivalentShare(of)
	if !ok {
		return 0, "", false
	}
	over, under, _ := strings.Cut(share, "/")
	numerator, _ := strconv.Atoi(over) // one or two digits
	denominator, _ := strconv.Atoi(under)
	return float64(numerator) / float64(denominator), formula, true
}

// EquivalentFormula is the formula that a normality names, "H2SO4".
func (c BathConcentration) EquivalentFormula() (string, bool) {
	_, formula, ok := equivalentParts(c.m.of)
	return formula, ok
}
