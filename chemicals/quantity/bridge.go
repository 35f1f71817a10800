package quantity

import (
	"math"
	"strings"
)

// way goes from one dimension to another with a density, a molar mass or a
// molar volume, and gathers what it used and what it lacked.
//
//	% w/w, mg/kg —ρ— g/L, mg/L —M— mol/L —share— N      ρ of the solution
//	mL/L, % v/v  —ρ— g/L, mg/L                          ρ of the ingredient
//	mg/m³ —M, t— ppm                                    in air
//	kg —ρ— L
type way struct {
	bridge   Bridge
	from     figure
	to       goal
	si       float64 // the result in the coherent unit of the goal's dimension
	formulas []string
	used     []string
	missing  []string
	mend     []string
}

// leads reports whether the goal can be reached, given all that is missing.
func (w *way) leads() bool {
	w.si = w.from.base / w.from.thing.si
	from, to := w.from.thing.dimension, w.to.thing.dimension
	switch {
	case from == massOf && to == volumeOf:
		w.si /= w.density("V = m / ρ", "")
	case from == volumeOf && to == massOf:
		w.si *= w.density("m = V × ρ", "")
	case w.from.thing == &airMass && to == airShare:
		w.si *= w.molarVolume() / w.molarMass("ppm = c × Vm / M")
	case from == airShare && w.to.thing == &airMass:
		w.si *= w.molarMass("c = ppm × M / Vm") / w.molarVolume()
	case from == volumeShare && to == massShare, from == massShare && to == volumeShare:
		return false // each takes a density of its own
	case isMolar(from) && isMolar(to):
		return w.toMoles() && w.fromMoles()
	default:
		return w.toMassPerLiquid() && w.fromMassPerLiquid()
	}
	return true
}

func isMolar(d dimension) bool { return d == amountOf || d == equivalents }

// toMassPerLiquid goes to kg/m³ of liquid.
func (w *way) toMassPerLiquid() bool {
	switch w.from.thing.dimension {
	case massPerLiquid:
	case massShare:
		w.si *= w.density("c = w × ρ", " of the solution")
	case volumeShare:
		w.si *= w.density("c = φ × ρ", " of the ingredient")
	case amountOf, equivalents:
		if !w.toMoles() {
			return false
		}
		w.si *= w.molarMass("c = n × M")
	default:
		return false
	}
	return true
}

func (w *way) fromMassPerLiquid() bool {
	switch w.to.thing.dimension {
	case massPerLiquid:
	case massShare:
		w.si /= w.density("w = c / ρ", " of the solution")
	case volumeShare:
		w.si /= w.density("φ = c / ρ", " of the ingredient")
	case amountOf, equivalents:
		w.si /= w.molarMass("n = c / M")
		return w.fromMoles()
	default:
		return false
	}
	return true
}

// toMoles goes from equivalents to moles of the formula unit.
func (w *way) toMoles() bool {
	if w.from.thing.dimension == amountOf {
		return true
	}
	part, _, ok := equivalentParts(w.from.of)
	w.si *= part
	w.formulas = append(w.formulas, "n = N × "+fractionOf(w.from.of))
	return ok
}

// fromMoles goes to equivalents, of the same formula unit if one was named.
func (w *way) fromMoles() bool {
	if w.to.thing.dimension == amountOf {
		return true
	}
	part, formula, ok := equivalentParts(w.to.of)
	if !ok {
		return false
	}
	if _, own, named := equivalentParts(w.from.of); named && own != formula {
		return false
	}
	w.si /= part
	w.formulas = append(w.formulas, "N = n / ("+fractionOf(w.to.of)+")")
	return true
}

// fractionOf is the 1/2 of "1/2 H2SO4".
func fractionOf(of string) string {
	share, _, _ := strings.Cut(of, " ")
	return share
}

func (w *way) conversion(text, to string) (Conversion, error) {
	if len(w.missing) > 0 {
		return Conversion{}, &Refusal{
			What: "going from " + w.from.thing.name + " to " + quoted(to) + " needs " + strings.Join(w.missing, " and "),
			Mend: "give " + strings.Join(w.mend, " and "),
		}
	}
	base := w.si * w.to.thing.si
	value := w.to.unit.of(base)
	if err := plausible(w.to, base, value, text, to); err != nil {
		return Conversion{}, err
	}
	return Conversion{Value: value, Unit: to, Formula: strings.Join(w.formulas, "; "), Used: w.used}, nil
}

// density is the one given, in kg/m³, or a note of what is missing.
func (w *way) density(formula, ofWhat string) float64 {
	w.formulas = append(w.formulas, formula)
	if !w.bridge.Density.Known() {
		w.missing, w.mend = append(w.missing, "a density"+ofWhat), append(w.mend, `density="1.18 g/mL"`)
		return math.NaN()
	}
	w.used = append(w.used, "ρ"+ofWhat+" = "+w.bridge.Density.String())
	return w.bridge.Density.Is().GramsPerMillilitre() * 1000
}

// molarMass is the substance's in kg/mol, or a note of what is missing.
func (w *way) molarMass(formula string) float64 {
	w.formulas = append(w.formulas, formula)
	if !w.bridge.MolarMass.Known() {
		w.missing, w.mend = append(w.missing, "a molar mass"), append(w.mend, `molar_mass="58.69 g/mol"`)
		return math.NaN()
	}
	w.used = append(w.used, "M = "+w.bridge.MolarMass.String())
	return w.bridge.MolarMass.Is().GramsPerMole() / 1000
}

// molarVolumeAt25 is the volume of one mole of gas at 25 °C and 760 torr in
// m³/mol, as the footnote of 29 CFR 1910.1000 Table Z-1 has it.
const molarVolumeAt25 = 24.45e-3

// molarVolume is that of a gas in m³/mol at 760 torr; at 25 °C where no
// temperature is given.
func (w *way) molarVolume() float64 {
	if !w.bridge.Temperature.Known() {
		w.used = append(w.used, "Vm = 24.45 L/mol at 25 °C, assumed")
		return molarVolumeAt25
	}
	w.used = append(w.used, "Vm = 24.45 L/mol × (273.15 + t) / 298.15, t = "+w.bridge.Temperature.String())
	return molarVolumeAt25 * (273.15 + w.bridge.Temperature.Is().Celsius()) / 298.15
}
