package working

import (
	"strconv"

	"bathwarden/chemicals/quantity"
)

// expected reads one published answer. The forms:
//
//	mass: {is: 21.86 g, digits: 4}
//	mass: {is: 21.86 g, within: 0.01 g}
//	mass: {is: 21.86 g, within: "0.5 %"}
//	category: {is: small}
//	charge: {is: 14.3 A·h, digits: 3, disputed: {why: ..., ours: 13.8 A·h}}
//
// A word or a list may stand without "is". A figure without digits and within
// is compared at the digits as printed.
func (y *yamlReader) expected(f field) Expected {
	e := Expected{Name: f.name, is: f.node, line: f.line}
	if f.node.kind == isFields {
		y.onlyNames(f.node, "a part of an expected output", "is", "digits", "within", "disputed")
		is, ok := f.node.field("is")
		if !ok {
			y.fault(f.line, f.name+" does not say what is expected", "write "+f.name+": {is: ..., digits: ...}")
		}
		e.is = is
		e.at = y.tolerance(f.node, is)
		e.disputed, e.ours = y.disputed(f.node)
	}
	y.nothingEmpty(e.is, f)
	return e
}

// nothingEmpty: an answer without a value cannot be met.
func (y *yamlReader) nothingEmpty(n node, f field) {
	if n.kind == isText && n.text == "" {
		y.fault(f.line, f.name+" is expected to be nothing", "write the published answer")
	}
	for _, one := range n.list {
		y.nothingEmpty(one, f)
	}
	for _, one := range n.fields {
		y.nothingEmpty(one.node, f)
	}
}

func (y *yamlReader) tolerance(n, is node) tolerance {
	digits, byDigits := n.field("digits")
	within, byWithin := n.field("within")
	var t tolerance
	if byDigits {
		count, err := strconv.Atoi(digits.text)
		if err != nil || count < 1 || count > 15 {
			y.fault(digits.line, "digits is "+quoted(digits.String()), "write how many significant digits count, from 1 to 15")
			return tolerance{}
		}
		t.digits = count
	}
	if !byWithin {
		return t
	}
	printed, unit := splitFigure(within.text)
	amount, err := strconv.ParseFloat(printed, 64)
	switch {
	case byDigits:
		y.fault(within.line, "both digits and within are given", "keep one of them")
	case within.kind != isText || err != nil || amount < 0:
		y.fault(within.line, "within is "+quoted(within.String()), `write a share of the answer, "0.5 %", or a difference, "0.01 g/L"`)
	case unit == "%":
		return tolerance{within: true, relative: amount / 100}
	case !allIn(unit, is):
		y.fault(within.line, "within is not in the unit of the answer", `write a share of the answer, "0.5 %", or a difference in its own unit`)
	}
	return tolerance{within: true, absolute: amount}
}

// allIn reports whether every figure of an answer is in a unit.
func allIn(unit string, is node) bool {
	for _, one := range is.list {
		if !allIn(unit, one) {
			return false
		}
	}
	for _, one := range is.fields {
		if !allIn(unit, one.node) {
			return false
		}
	}
	printed, has := splitFigure(is.text)
	return is.kind != isText || printed == "" || has == unit
}

func (y *yamlReader) disputed(n node) (why string, ours node) {
	about, ok := n.field("disputed")
	if !ok {
		return "", node{}
	}
	if about.kind != isFields {
		y.fault(about.line, "disputed is "+about.kind.String(), "write disputed: {why: ..., ours: ...}")
		return "", node{}
	}
	y.onlyNames(about, "a part of disputed", "why", "ours")
	why = y.wanted(about, "why")
	ours, given := about.field("ours")
	if !given || ours.kind == isText && ours.text == "" {
		y.fault(about.line, "ours is missing", "write the result that stands instead, so that the difference is pinned")
	}
	return why, ours
}

// unitless finds a figure of an answer that is printed without the unit which
// the output has: whether it is met cannot be said. got is the output's own.
func unitless(v Value, want node) (printed, got string, found bool) {
	switch b := v.body.(type) {
	case figure:
		return lacksUnit(want, b.usual(quantity.Metric))
	case number:
		return lacksUnit(want, b.reading)
	case list:
		for i, one := range want.list {
			if i < len(b) && !found {
				printed, got, found = unitless(b[i], one)
			}
		}
	case named:
		for _, f := range want.fields {
			if one, ok := Outputs(b).Output(f.name); ok && !found {
				printed, got, found = unitless(one, f.node)
			}
		}
	}
	return printed, got, found
}

func lacksUnit(want node, r reading) (printed, got string, lacks bool) {
	printed, unit := splitFigure(want.text)
	return printed, r.text(shownDigits), want.kind == isText && printed != "" && unit == "" && r.unit != ""
}

// faultOf refuses an answer, or what stands instead of a disputed one, that
// cannot be compared with the output.
func (e Expected) faultOf(v Value, where string) error {
	for _, want := range []node{e.is, e.ours} {
		if printed, got, found := unitless(v, want); found {
			return &Fault{
				Where: where,
				What:  e.Name + " is expected to be " + quoted(printed) + ", which has no unit",
				Mend:  "write its unit behind it; the output is " + quoted(got),
			}
		}
	}
	return nil
}
