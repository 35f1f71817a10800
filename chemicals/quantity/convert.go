package quantity

import (
	"slices"
	"strings"
)

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
	Formula string   // "1 gal = 3.785411784 L", or the bridge that was used
	Used    []string // what the formula took beside the value: "M = 58.69 g/mol"
}

// figure is what a text states, as one of the things that have its unit.
type figure struct {
	measure
	unit *unit
}

// goal is a unit to convert to, as one of the things that have it.
type goal struct {
	thing *thing
	unit  *unit
	of    string
}

// Convert reads text, a quantity of any kind, and gives it in another unit. It
// goes across kinds where the dimension is the same (1 mL/ft² is a length), and
// with the bridge between mass, volume and amount. Errors are *Refusal and name
// what is missing.
//
// °C and °F are temperatures here, never differences; ppm is of air, by volume.
// Air and liquid do not mix, and a density is no concentration.
func Convert(text, to string, bridge Bridge) (Conversion, error) {
	froms, err := figures(text)
	if err != nil {
		return Conversion{}, err
	}
	goals := goalsOf(to)
	if len(goals) == 0 {
		return Conversion{}, unknownGoal(to)
	}
	if f, g, ok := pair(froms, goals, sameThing); ok {
		return direct(f, g, text, to)
	}
	if f, g, ok := pair(froms, goals, sameDimension); ok {
		return direct(f, g, text, to)
	}
	for _, f := range froms {
		for _, g := range goals {
			if w := (way{bridge: bridge, from: f, to: g}); w.leads() {
				return w.conversion(text, to)
			}
		}
	}
	return Conversion{}, noWay(froms[0], goals[0], text, to)
}

// pair finds the first reading of the text and of the unit that fit.
func pair(froms []figure, goals []goal, fit func(a, b *thing) bool) (figure, goal, bool) {
	for _, f := range froms {
		for _, g := range goals {
			if fit(f.thing, g.thing) && (g.of == f.of || g.of == "") {
				return f, g, true
			}
		}
	}
	return figure{}, goal{}, false
}

func sameThing(a, b *thing) bool     { return a == b }
func sameDimension(a, b *thing) bool { return a.dimension == b.dimension }

// figures reads a text as each thing that has its unit; the first refusal if
// none believes it.
func figures(text string) ([]figure, error) {
	number, symbol, err := split(text, "350 g/L")
	if err != nil {
		return nil, err
	}
	var found []figure
	for _, g := range goalsOf(symbol) {
		m, refusal := g.thing.measured(number, g.unit, g.of, text)
		if refusal == nil {
			found = append(found, figure{m, g.unit})
		} else if err == nil {
			err = refusal
		}
	}
	switch {
	case len(found) > 0:
		return found, nil
	case err != nil:
		return nil, err
	}
	return nil, unknownUnit(text, symbol)
}

// goalsOf finds what symbol is a unit of. Temperature differences are left out,
// because 10 °C is 50 °F as a temperature and 18 °F as a difference.
func goalsOf(symbol string) []goal {
	var found []goal
	for _, t := range every {
		if t == &temperatureDifference {
			continue
		}
		if u, of, ok := t.unit(symbol); ok {
			found = append(found, goal{t, u, of})
		}
	}
	return found
}

// direct converts within one dimension.
func direct(f figure, g goal, text, to string) (Conversion, error) {
	base := f.base
	if g.thing != f.thing {
		base = f.base / f.thing.si * g.thing.si
	}
	value := g.unit.of(base)
	if err := plausible(g, base, value, text, to); err != nil {
		return Conversion{}, err
	}
	c := Conversion{Value: value, Unit: to, Formula: f.formulaTo(g, to)}
	if f.thing != g.thing && (f.thing == &grainLoading || g.thing == &grainLoading) {
		c.Used = []string{"dry air at 68 °F and 1 atm"}
	}
	return c, nil
}

// formulaTo is the factor between the units, or the formulas of their scales.
func (f figure) formulaTo(g goal, to string) string {
	if f.unit.scale == nil && g.unit.scale == nil {
		one := f.unit.factor / f.thing.si * g.thing.si / g.unit.factor
		return "1 " + f.noted(f.unit.symbol) + " = " + Plain(one) + " " + to
	}
	var steps []string
	if f.unit == g.unit {
		return "the same unit"
	}
	if f.unit.scale != nil {
		steps = append(steps, f.unit.scale.toFormula)
	}
	if g.unit.scale != nil {
		steps = append(steps, g.unit.scale.fromFormula)
	}
	return strings.Join(steps, "; ")
}

// plausible refuses a result that the target could not be, such as 500 % w/w:
// then the value or what bridged it is wrong.
func plausible(g goal, base, value float64, text, to string) error {
	switch {
	case !within(base, g.thing.least, g.thing.most):
		return &Refusal{
			What: quoted(text) + " comes to " + brief(value) + " " + to + ", which is beyond belief for " + g.thing.name,
			Mend: "check the value, and the density or molar mass if one was given",
		}
	case !g.unit.defined(value):
		return g.unit.offScale(quoted(text))
	}
	return nil
}

func unknownUnit(text, symbol string) error {
	if err := vague(text, symbol, every); err != nil {
		return err
	}
	unknown := quoted(text) + " has the unknown unit " + quoted(symbol)
	switch near := nearMiss(symbol, every); {
	case symbol == "":
		return &Refusal{What: quoted(text) + " has no unit", Mend: writeItAs("350 g/L")}
	case isDifference(symbol):
		return &Refusal{What: quoted(text) + " is a temperature difference, which is not converted", Mend: temperaturesOnly}
	case near != "":
		return &Refusal{What: unknown, Mend: "did you mean " + quoted(near) + "?"}
	}
	return &Refusal{What: unknown, Mend: "write a unit of the trade, such as g/L, oz/gal, mL/ft², °F"}
}

// temperaturesOnly stands where K was written.
const temperaturesOnly = "write a temperature in °C or °F; a difference of 1 °C is one of 1.8 °F"

func isDifference(symbol string) bool {
	_, _, ok := temperatureDifference.unit(symbol)
	return ok
}

func unknownGoal(to string) error {
	switch near := nearMiss(to, every); {
	case strings.TrimSpace(to) == "":
		return &Refusal{What: "no unit to convert to", Mend: "name one, such as g/L or lb/10⁶ ft²"}
	case isDifference(to):
		return &Refusal{What: quoted(to) + " is a unit of temperature differences, which are not converted", Mend: temperaturesOnly}
	case near != "":
		return &Refusal{What: quoted(to) + " is not a known unit", Mend: "did you mean " + quoted(near) + "?"}
	}
	return &Refusal{What: quoted(to) + " is not a known unit", Mend: "name the unit to convert to, such as g/L or lb/10⁶ ft²"}
}

// noWay says why two things do not convert.
func noWay(f figure, g goal, text, to string) error {
	kinds := []dimension{f.thing.dimension, g.thing.dimension}
	what := quoted(text) + " does not convert to " + quoted(to)
	switch {
	case f.thing == &airVolume || g.thing == &airVolume:
		return &Refusal{What: what, Mend: "ppm is here of air, by volume: it converts to mg/m³ and µg/m³; in water write mg/L, in a solid mg/kg"}
	case f.thing.note == &currencyNote && g.thing.note == &currencyNote && f.thing == g.thing:
		return &Refusal{What: what, Mend: "exchange rates are not known here; keep to one currency"}
	case g.thing == &normality && g.of == "":
		return &Refusal{What: what, Mend: "name the equivalent: " + quoted(normality.symbols()[0])}
	case f.thing == &normality && g.thing == &normality:
		return &Refusal{What: what, Mend: "name an equivalent of the same formula unit"}
	case slices.Contains(kinds, volumeShare) && slices.Contains(kinds, massShare):
		return &Refusal{What: what, Mend: "two densities are needed: convert to g/L with that of the ingredient, and from there with that of the bath"}
	case slices.Contains(kinds, densityOf):
		return &Refusal{What: what, Mend: "the density of a liquid is no concentration; it converts to g/mL, kg/L and °Bé"}
	}
	return &Refusal{What: what, Mend: "it converts to " + strings.Join(convertsTo(f.thing), ", ")}
}

// convertsTo lists the units that a thing converts to without a bridge.
func convertsTo(t *thing) []string {
	var all []string
	for _, other := range every {
		if !sameDimension(other, t) {
			continue
		}
		for _, symbol := range other.symbols() {
			if !slices.Contains(all, symbol) {
				all = append(all, symbol)
			}
		}
	}
	return all
}
