package quantity

import "strings"

// Bridge is what a conversion between two bases needs: the molar mass of the
// substance, the density of the liquid, the temperature of the air. A zero
// field is one that is not known.
type Bridge struct {
	MolarMass   Stated[MolarMass]
	Density     Stated[Density]
	Temperature Stated[Temperature]
}

// Conversion is a converted figure and how it was reached.
type Conversion struct {
	Value   float64
	Unit    string
	Formula string   // "value × factor", or the bridge that was used
	Used    []string // what the formula took beside the value: "M = 58.69 g/mol"
}

// Known finds the measure that a text states, of whatever thing has its unit.
func known(text string) (measure, error) {
	_, symbol, err := split(text, "350 g/L")
	if err != nil {
		return measure{}, err
	}
	t := thingOf(symbol)
	if t == nil {
		return measure{}, &Refusal{What: quoted(text) + " has the unknown unit " + quoted(symbol), Mend: "write a unit that bathwarden knows, such as g/L, oz/gal, mL/ft², °F"}
	}
	return read(text, []*thing{t})
}

// Convert reads text, a quantity of any kind, and gives it in another unit. It
// goes across kinds where the dimension is the same (1 mL/ft² is a length), and
// with the bridge between mass, volume and amount. Errors are *Refusal and name
// what is missing.
func Convert(text, to string, bridge Bridge) (Conversion, error) {
	from, err := known(text)
	if err != nil {
		return Conversion{}, err
	}
	for _, target := range every {
		u, of, ok := target.unit(to)
		if !ok || target.dimension != from.thing.dimension || of != from.of && of != "" {
			continue
		}
		base := from.base
		if target != from.thing {
			base = from.base / from.thing.si * target.si
		}
		return Conversion{Value: u.of(base), Unit: to, Formula: "the same quantity in another unit"}, nil
	}
	return cross(from, to, bridge)
}

// cross converts between dimensions by way of mass per volume, or between mass
// and volume.
func cross(from measure, to string, bridge Bridge) (Conversion, error) {
	target := thingOf(to)
	if target == nil {
		return Conversion{}, &Refusal{What: quoted(to) + " is not a known unit", Mend: "name the unit to convert to, such as g/L or lb/10⁶ ft²"}
	}
	u, of, _ := target.unit(to)
	w := way{bridge: bridge, from: from, target: target}
	si, ok := w.massOrVolume()
	if !ok {
		si, ok = w.throughMassPerVolume(of)
	}
	switch {
	case len(w.missing) > 0:
		return Conversion{}, &Refusal{
			What: "going from " + from.thing.name + " to " + quoted(to) + " needs " + strings.Join(w.missing, " and "),
			Mend: "give " + strings.Join(w.mend, " and "),
		}
	case !ok:
		return Conversion{}, &Refusal{
			What: from.thing.name + " does not convert to " + quoted(to),
			Mend: "name a unit of the same kind: " + strings.Join(from.thing.symbols(), ", "),
		}
	}
	return Conversion{Value: u.of(si * target.si), Unit: to, Formula: strings.Join(w.formulas, "; "), Used: w.used}, nil
}

// way gathers what a conversion used and what it lacked.
type way struct {
	bridge   Bridge
	from     measure
	target   *thing
	formulas []string
	used     []string
	missing  []string
	mend     []string
}

func (w *way) massOrVolume() (si float64, ok bool) {
	switch {
	case w.from.thing.dimension == massOf && w.target.dimension == volumeOf:
		return w.si() / w.density("V = m / ρ"), true
	case w.from.thing.dimension == volumeOf && w.target.dimension == massOf:
		return w.si() * w.density("m = V × ρ"), true
	}
	return 0, false
}

func (w *way) si() float64 { return w.from.base / w.from.thing.si }

// throughMassPerVolume goes to kg/m³ and from there to the target. Air and
// liquid are kept apart: ppm is of air, and of nothing else.
func (w *way) throughMassPerVolume(of string) (si float64, ok bool) {
	if (w.from.thing == &airVolume) != (w.target == &airMass) && (w.from.thing == &airMass) != (w.target == &airVolume) {
		return 0, false
	}
	concentration, ok := w.toMassPerVolume()
	if !ok {
		return 0, false
	}
	switch w.target.dimension {
	case densityOf:
		return concentration, true
	case massShare, volumeShare:
		return concentration / w.density("share = c / ρ"), true
	case amountOf:
		return concentration / w.molarMass("n = c / M"), true
	case equivalents:
		part, _, err := equivalentParts(of)
		return concentration / w.molarMass("n = c / M") / part, err == nil
	case airShare:
		return concentration / w.molarMass("ppm = c × Vm / M") * w.molarVolume(), true
	}
	return 0, false
}

// toMassPerVolume gives kg/m³.
func (w *way) toMassPerVolume() (float64, bool) {
	switch w.from.thing.dimension {
	case densityOf:
		return w.si(), true
	case massShare, volumeShare:
		return w.si() * w.density("c = share × ρ"), true
	case amountOf:
		return w.si() * w.molarMass("c = n × M"), true
	case equivalents:
		part, _, err := equivalentParts(w.from.of)
		w.formulas = append(w.formulas, "n = N × "+w.from.of)
		return w.si() * part * w.molarMass("c = n × M"), err == nil
	case airShare:
		return w.si() * w.molarMass("c = ppm × M / Vm") / w.molarVolume(), true
	}
	return 0, false
}

// density is the liquid's in kg/m³, or 1 with a note of what is missing.
func (w *way) density(formula string) float64 {
	w.formulas = append(w.formulas, formula)
	if !w.bridge.Density.Known() {
		w.missing, w.mend = append(w.missing, "a density"), append(w.mend, `density="1.18 g/mL"`)
		return 1
	}
	w.used = append(w.used, "ρ = "+w.bridge.Density.String())
	return w.bridge.Density.Is().GramsPerMillilitre() * 1000
}

// molarMass is the substance's in kg/mol, or 1 with a note of what is missing.
func (w *way) molarMass(formula string) float64 {
	w.formulas = append(w.formulas, formula)
	if !w.bridge.MolarMass.Known() {
		w.missing, w.mend = append(w.missing, "a molar mass"), append(w.mend, `molar_mass="58.69 g/mol"`)
		return 1
	}
	w.used = append(w.used, "M = "+w.bridge.MolarMass.String())
	return w.bridge.MolarMass.Is().GramsPerMole() / 1000
}

// molarVolumeAt25 is the volume of one mole of gas at 25 °C and 760 torr in
// m³/mol, as 29 CFR 1910.1000 Table Z-1 uses it to convert its limits.
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
