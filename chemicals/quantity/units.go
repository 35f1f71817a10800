package quantity

import (
	"math"
	"strings"
)

// In reads q in a unit of its thing. The error, a *Refusal, names the units
// that would do.
func In(q Any, symbol string) (float64, error) {
	m := q.measure()
	u, of, ok := m.thing.unit(symbol)
	switch {
	case !ok:
		return 0, foreignUnit(m.thing, symbol)
	case of != "" && of != m.of:
		return 0, otherNote(m, symbol)
	}
	v := u.of(m.base)
	if !u.defined(v) {
		first := m.thing.units[0]
		return 0, u.offScale(brief(first.of(m.base)) + " " + first.symbol)
	}
	return v, nil
}

func foreignUnit(t *thing, symbol string) error {
	if near := nearMiss(symbol, []*thing{t}); near != "" {
		return &Refusal{What: quoted(symbol) + " is not a unit of " + t.name, Mend: "did you mean " + quoted(near) + "?"}
	}
	return &Refusal{
		What: quoted(symbol) + " is not a unit of " + t.name,
		Mend: "write one of: " + strings.Join(t.symbols(), ", "),
	}
}

// otherNote refuses another currency, or the equivalent of something else.
func otherNote(m measure, symbol string) error {
	own := m.thing.note.join(m.thing.units[0].symbol, m.of)
	what := quoted(symbol) + " does not fit what was stated in " + own
	if m.thing == &normality {
		return &Refusal{What: what, Mend: "name the same equivalent, or convert by way of mol/L"}
	}
	return &Refusal{What: what, Mend: "exchange rates are not known here; keep to one currency"}
}

// System chooses the units of computed figures.
type System int

// The systems.
const (
	Metric System = iota + 1
	US            // United States customary
)

func (s System) String() string {
	switch s {
	case Metric:
		return "metric"
	case US:
		return "us"
	}
	return "no system of units"
}

// ParseSystem reads "metric" or "us".
func ParseSystem(text string) (System, error) {
	for s := Metric; s <= US; s++ {
		if s.String() == text {
			return s, nil
		}
	}
	return 0, &Refusal{What: quoted(text) + " is not a system of units", Mend: "write metric or us"}
}

// Unit is the unit in which a computed q is printed in system s, with the
// currency of a price and the equivalent of a normality.
func Unit(q Any, s System) string {
	m := q.measure()
	chosen := m.thing.metric
	if s == US {
		chosen = m.thing.us
	}
	return m.noted(chosen)
}

// noted is a unit of m as it would be read back, with its currency or
// equivalent if symbol lacks it.
func (m measure) noted(symbol string) string {
	if m.thing.note == nil {
		return symbol
	}
	if bare, of, ok := m.thing.note.part(symbol); ok && of == "" {
		symbol = bare
	} else if ok {
		return symbol
	}
	return m.thing.note.join(symbol, m.of)
}

// Print writes q in a unit with the given number of significant digits:
// Print(2*Gallon, "L", 3) is "7.57 L". It panics where In refuses the unit,
// which is a mistake in the program: ask In where the unit is somebody's choice.
func Print(q Any, symbol string, digits int) string {
	v, err := In(q, symbol)
	if err != nil {
		panic("quantity: " + err.Error())
	}
	return Significant(v, digits) + " " + q.measure().noted(symbol)
}

// Finite reports whether q is an ordinary number.
func Finite(q Any) bool {
	b := q.measure().base
	return !math.IsNaN(b) && !math.IsInf(b, 0)
}
