package working

import "bathwarden/chemicals/quantity"

// Outputs are the named results of a method, in order.
type Outputs []Output

// Output is one named result.
type Output struct {
	Name  string
	Value Value
}

// Value is a result of any form: a quantity, a number, a word, yes or no, a
// list of values, or named values.
type Value struct {
	body    body // nil where there is no value
	why     string
	steps   []Step
	caveats []Caveat
}

// body is what a value holds, one type for each form.
type body interface {
	json(quantity.System) any
	text(quantity.System) string
	meet(want node, at tolerance) (got string, holds bool)
	endless() bool
}

// Figure is a quantity that is printed in metric or in us units; empty ones
// are the usual units of its thing.
func Figure[Q quantity.Any](e Estimate[Q], metric, us string) Value {
	return valueOf(e, func() body {
		return figure{is: [3]quantity.Any{e.is[Likely], e.is[Low], e.is[High]}, spread: e.spread, metric: metric, us: us}
	})
}

// Number is a bare number, unit "", or a share, unit "%": the fraction 0.95 is
// printed as 95 %. Another unit is printed behind the number as it is.
func Number(e Estimate[float64], unit string) Value {
	return valueOf(e, func() body {
		n := number{reading{spread: e.spread, unit: unit}}
		for c, v := range e.is {
			n.is[c] = percent(v, unit)
		}
		return n
	})
}

// Count is a whole number.
func Count(e Estimate[int]) Value {
	return valueOf(e, func() body {
		n := number{reading{spread: e.spread}}
		for c, v := range e.is {
			n.is[c] = float64(v)
		}
		return n
	})
}

// Word is a word, such as a category.
func Word[S ~string](e Estimate[S]) Value {
	return valueOf(e, func() body { return word(e.is[Likely]) })
}

// YesNo is an answer.
func YesNo(e Estimate[bool]) Value {
	return valueOf(e, func() body { return answer(e.is[Likely]) })
}

// List is several values in order.
func List(values ...Value) Value {
	v := Value{body: list(values)}
	for _, one := range values {
		v.steps, v.caveats = joinedSteps(v.steps, one.steps), joined(v.caveats, one.caveats)
	}
	return v
}

// Named is several values by name.
func Named(o Outputs) Value {
	return Value{body: named(o), steps: o.Steps(), caveats: o.Caveats()}
}

func valueOf[Q any](e Estimate[Q], hold func() body) Value {
	if !e.known {
		return Value{why: e.Why()}
	}
	return Value{body: hold(), steps: e.steps, caveats: e.caveats}
}

// Known reports whether there is a value.
func (v Value) Known() bool { return v.body != nil }

// Why says why there is no value.
func (v Value) Why() string { return v.why }

// Text prints the value to four significant digits.
func (v Value) Text(units quantity.System) string {
	if v.body == nil {
		return ""
	}
	return v.body.text(units)
}

// Steps are the steps of all outputs, each once, in order.
func (o Outputs) Steps() []Step {
	var all []Step
	for _, one := range o {
		all = joinedSteps(all, one.Value.steps)
	}
	return all
}

// Caveats are the caveats of all outputs, each once.
func (o Outputs) Caveats() []Caveat {
	var all []Caveat
	for _, one := range o {
		all = joined(all, one.Value.caveats)
	}
	return all
}

// Output looks an output up by its name.
func (o Outputs) Output(name string) (Value, bool) {
	for _, one := range o {
		if one.Name == name {
			return one.Value, true
		}
	}
	return Value{}, false
}

func (o Outputs) names() []string {
	all := make([]string, len(o))
	for i, one := range o {
		all[i] = one.Name
	}
	return all
}

// endless names the first output that holds an infinity or no number.
func (o Outputs) endless() string {
	for _, one := range o {
		if one.Value.body != nil && one.Value.body.endless() {
			return one.Name
		}
	}
	return ""
}
