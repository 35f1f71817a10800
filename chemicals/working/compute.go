package working

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
)

// Formula is a formula before it is worked out.
type Formula struct {
	Line string     // "m = Q × η × M / (z × F)"
	Unit string     // in which the working prints the result; of a quantity empty for its usual one, of a share "%"
	Ref  source.Ref // where the formula stands
	// Likely works the formula out for the likely case alone: where the bounds
	// of its terms cancel out.
	Likely bool
}

// Term is an estimate in its place in a formula.
type Term struct {
	input   Input
	missing string
	spread  bool
	steps   []Step
	caveats []Caveat
}

// As puts e into a formula under a symbol.
func (e Estimate[Q]) As(symbol, what string) Term {
	t := Term{
		input:  Input{Symbol: symbol, What: what, Value: e.text, Origin: e.origin, Ref: e.ref},
		spread: e.spread, steps: e.steps, caveats: e.caveats,
	}
	if !e.known {
		t.missing = e.Why()
	}
	return t
}

// AsList puts several estimates into a formula under one symbol; like ones
// that follow each other are counted: "12 × 55 gal; 275 gal".
func AsList[Q any](list []Estimate[Q], symbol, what string) Term {
	all := Term{input: Input{Symbol: symbol, What: what}}
	var texts []string
	var missing []string
	for i := 0; i < len(list); {
		t, same := list[i].As(symbol, what), 1
		for i+same < len(list) && list[i+same].As(symbol, what).input == t.input {
			same++
		}
		text := t.input.Value
		if same > 1 {
			text = strconv.Itoa(same) + " × " + text
		}
		texts = append(texts, text)
		missing = addReason(missing, t.missing)
		all.spread = all.spread || t.spread
		all.steps, all.caveats = joinedSteps(all.steps, t.steps), joined(all.caveats, t.caveats)
		all.input.Origin, all.input.Ref = t.input.Origin, t.input.Ref
		i += same
	}
	all.input.Value, all.missing = strings.Join(texts, "; "), strings.Join(missing, "; ")
	return all
}

// Compute works f out, in each case if a term has bounds. The result carries
// the steps and caveats of its terms and a step of its own; it is absent, with
// the reasons, where a term is absent. Where f gives no number, Method.Run
// refuses the result.
func Compute[Q any](by Formula, f func(Case) Q, from ...Term) Estimate[Q] {
	e := Estimate[Q]{known: true, origin: source.Computed, ref: by.Ref}
	step := Step{Formula: by.Line, Ref: by.Ref}
	var missing []string
	for _, t := range from {
		missing = addReason(missing, t.missing)
		e.spread = e.spread || t.spread
		e.steps, e.caveats = joinedSteps(e.steps, t.steps), joined(e.caveats, t.caveats)
		step.Inputs = append(step.Inputs, t.input)
	}
	if len(missing) > 0 {
		return Absent[Q](strings.Join(missing, "; "))
	}
	e.spread = e.spread && !by.Likely
	for c := range e.is {
		if e.spread || Case(c) == Likely {
			e.is[c] = f(Case(c))
			continue
		}
		e.is[c] = e.is[Likely]
	}
	e.text = e.shown(by.Unit)
	step.Result = e.text
	e.steps = append(e.steps, step)
	return e
}

func addReason(reasons []string, why string) []string {
	for _, r := range reasons {
		if r == why {
			return reasons
		}
	}
	if why == "" {
		return reasons
	}
	return append(reasons, why)
}

// shownDigits are the significant digits in which the working prints.
const shownDigits = 4

func (e Estimate[Q]) shown(unit string) string {
	text := shown(e.is[Likely], unit)
	if e.spread {
		text += " (low " + shown(e.is[Low], unit) + ", high " + shown(e.is[High], unit) + ")"
	}
	return text
}

func shown(v any, unit string) string {
	switch v := v.(type) {
	case quantity.Any:
		if unit == "" {
			unit = quantity.Unit(v, quantity.Metric)
		}
		n, err := quantity.In(v, unit)
		if err != nil {
			panic("working: " + err.Error())
		}
		return decimal(n, shownDigits) + " " + unit
	case float64:
		return strings.TrimSpace(decimal(percent(v, unit), shownDigits) + " " + unit)
	case bool:
		return yesNo(v)
	}
	return fmt.Sprint(v)
}

// percent is a fraction in the unit it is shown in.
func percent(v float64, unit string) float64 {
	if unit == "%" {
		return v * 100
	}
	return v
}

// decimal prints v as a plain decimal, or with an exponent where that would be
// a row of zeros.
func decimal(v float64, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "no number"
	}
	if size := math.Abs(v); size != 0 && (size < 1e-6 || size >= 1e9) {
		return strconv.FormatFloat(v, 'e', digits-1, 64)
	}
	return quantity.Significant(v, digits)
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}
