package working

import (
	"math"
	"strings"

	"bathwarden/chemicals/quantity"
)

// figure is a quantity, number a figure in a unit of its own.
type (
	figure struct {
		is         [3]quantity.Any
		spread     bool
		metric, us string
	}
	number struct{ reading }
	word   string
	answer bool
	list   []Value
	named  Outputs
)

// reading is a figure read in one unit.
type reading struct {
	is     [3]float64
	spread bool
	unit   string
}

func (r reading) text(digits int) string {
	show := func(c Case) string { return strings.TrimSpace(decimal(r.is[c], digits) + " " + r.unit) }
	if !r.spread {
		return show(Likely)
	}
	return show(Likely) + " (low " + show(Low) + ", high " + show(High) + ")"
}

func (r reading) json() any {
	o := object{{"value", r.is[Likely]}}
	if r.spread {
		o = append(o, member{"low", r.is[Low]}, member{"high", r.is[High]})
	}
	return append(o, member{"unit", r.unit})
}

func (r reading) endless() bool {
	for _, v := range r.is {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return true
		}
	}
	return false
}

func (f figure) in(unit string) (reading, error) {
	r := reading{spread: f.spread, unit: unit}
	for c, q := range f.is {
		v, err := quantity.In(q, unit)
		if err != nil {
			return reading{}, err
		}
		r.is[c] = v
	}
	return r, nil
}

// usual reads f in the unit of a system; a unit that the quantity does not
// have is a mistake of the program.
func (f figure) usual(units quantity.System) reading {
	unit := f.metric
	if units == quantity.US {
		unit = f.us
	}
	if unit == "" {
		unit = quantity.Unit(f.is[Likely], units)
	}
	r, err := f.in(unit)
	if err != nil {
		panic("working: " + err.Error())
	}
	return r
}

func (f figure) json(units quantity.System) any    { return f.usual(units).json() }
func (f figure) text(units quantity.System) string { return f.usual(units).text(shownDigits) }
func (f figure) endless() bool                     { return f.usual(quantity.Metric).endless() }

// in reads n in another unit of the same kind, if it has one.
func (n number) in(unit string) (reading, error) {
	if unit == n.unit {
		return n.reading, nil
	}
	r := reading{spread: n.spread, unit: unit}
	for c, v := range n.is {
		to, err := quantity.Convert(quantity.Plain(v)+" "+n.unit, unit, quantity.Bridge{})
		if err != nil {
			return reading{}, err
		}
		r.is[c] = to.Value
	}
	return r, nil
}

func (n number) json(quantity.System) any    { return n.reading.json() }
func (n number) text(quantity.System) string { return n.reading.text(shownDigits) }
func (n number) endless() bool               { return n.reading.endless() }

func (w word) json(quantity.System) any    { return string(w) }
func (w word) text(quantity.System) string { return string(w) }
func (word) endless() bool                 { return false }

func (a answer) json(quantity.System) any    { return bool(a) }
func (a answer) text(quantity.System) string { return yesNo(bool(a)) }
func (answer) endless() bool                 { return false }

func (l list) json(units quantity.System) any {
	all := make([]any, len(l))
	for i, v := range l {
		all[i] = v.json(units)
	}
	return all
}

func (l list) text(units quantity.System) string {
	parts := make([]string, len(l))
	for i, v := range l {
		parts[i] = v.Text(units)
	}
	return strings.Join(parts, "; ")
}

func (l list) endless() bool {
	for _, v := range l {
		if v.body != nil && v.body.endless() {
			return true
		}
	}
	return false
}

func (n named) json(units quantity.System) any {
	o := object{}
	for _, one := range n {
		o = append(o, member{one.Name, one.Value.json(units)})
	}
	return o
}

func (n named) text(units quantity.System) string {
	parts := make([]string, len(n))
	for i, one := range n {
		parts[i] = one.Name + ": " + one.Value.Text(units)
	}
	return strings.Join(parts, "; ")
}

func (n named) endless() bool { return Outputs(n).endless() != "" }
