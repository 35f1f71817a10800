package quantity

import (
	"fmt"
	"regexp"
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
func (c BathConcentration) GramsPerLitre() (float64, bool) { return c.on(&bathMass) }

// MillilitresPerLitre is c in mL/L if it was written by volume.
func (c BathConcentration) MillilitresPerLitre() (float64, bool) { return c.on(&bathVolume) }

// PercentByMass is c in % w/w if it was written so.
func (c BathConcentration) PercentByMass() (float64, bool) { return c.on(&massFraction) }

// MolesPerLitre is c in mol/L if it was written in moles, or in equivalents,
// whose fraction of a mole is then applied.
func (c BathConcentration) MolesPerLitre() (float64, bool) {
	if v, ok := c.on(&normality); ok {
		part, _, err := equivalentParts(c.m.of)
		return v * part, err == nil
	}
	return c.on(&molarity)
}

func (c BathConcentration) on(t *thing) (float64, bool) { return c.m.base, c.m.thing == t }

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

// AirConcentration is how much of a substance the air holds, by mass or, for a
// gas or vapour, as parts per million by volume. The two convert only with a
// molar mass and a temperature.
type AirConcentration struct{ m measure }

// MilligramsPerCubicMetre is c in mg/m³ if it was written by mass.
func (c AirConcentration) MilligramsPerCubicMetre() (float64, bool) {
	return c.m.base, c.m.thing == &airMass
}

// PartsPerMillion is c in ppm by volume if it was written so.
func (c AirConcentration) PartsPerMillion() (float64, bool) {
	return c.m.base, c.m.thing == &airVolume
}

func (AirConcentration) things() []*thing                { return []*thing{&airMass, &airVolume} }
func (AirConcentration) wrap(m measure) AirConcentration { return AirConcentration{m} }
func (c AirConcentration) measure() measure              { return orBase(c.m, &airMass) }

// Amount is how much of a product there is, by mass or by volume.
type Amount struct{ m measure }

// OfMass and OfVolume make amounts.
func OfMass(v Mass) Amount { return Amount{v.measure()} }

// OfVolume makes an amount by volume.
func OfVolume(v Volume) Amount { return Amount{v.measure()} }

// Mass is a if it was written by mass.
func (a Amount) Mass() (Mass, bool) { return Mass(a.m.base), a.m.thing == &mass }

// Volume is a if it was written by volume.
func (a Amount) Volume() (Volume, bool) { return Volume(a.m.base), a.m.thing == &volume }

func (Amount) things() []*thing      { return []*thing{&mass, &volume} }
func (Amount) wrap(m measure) Amount { return Amount{m} }
func (a Amount) measure() measure    { return orBase(a.m, &mass) }

func orBase(m measure, t *thing) measure {
	if m.thing == nil {
		m.thing = t
	}
	return m
}

// An equivalent is named as a fraction of a formula unit: "1/2 H2SO4".
var equivalentName = regexp.MustCompile(`^(\d{1,2})/(\d{1,2}) ([A-Z][A-Za-z0-9().]*)$`)

// equivalentOf parts "N (1/2 H2SO4)" into the unit and what the equivalent is.
func equivalentOf(symbol string) (unitSymbol, of string) {
	rest, found := strings.CutPrefix(symbol, "N")
	rest = strings.TrimSpace(rest)
	if !found || !strings.HasPrefix(rest, "(") || !strings.HasSuffix(rest, ")") {
		return symbol, ""
	}
	return "N", rest[1 : len(rest)-1]
}

func equivalentNamed(m measure, text string) error {
	if _, _, err := equivalentParts(m.of); err != nil {
		return &Refusal{What: quoted(text) + " does not name its equivalent", Mend: "write which share of a formula unit one equivalent is: " + quoted(normality.example)}
	}
	return nil
}

func equivalentParts(of string) (part float64, formula string, err error) {
	found := equivalentName.FindStringSubmatch(of)
	if found == nil {
		return 0, "", fmt.Errorf("%q names no equivalent", of)
	}
	over, _ := strconv.Atoi(found[1])
	under, _ := strconv.Atoi(found[2])
	if over == 0 || under == 0 {
		return 0, "", fmt.Errorf("%q names no equivalent", of)
	}
	return float64(over) / float64(under), found[3], nil
}

// EquivalentFormula is the formula that a normality names, "H2SO4".
func (c BathConcentration) EquivalentFormula() (string, bool) {
	_, formula, err := equivalentParts(c.m.of)
	return formula, err == nil
}
