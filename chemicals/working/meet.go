package working

import (
	"math"
	"math/big"
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
)

// tolerance is how closely a published figure must be met. The zero value is
// to the digits as printed.
type tolerance struct {
	digits   int     // significant ones; 0 for all that are printed
	relative float64 // of the published figure
	absolute float64 // in the unit of the published figure
	within   bool    // relative or absolute stand, not digits
}

func (f figure) meet(want node, at tolerance) (string, bool) { return meetFigure(f, f.in, want, at) }
func (n number) meet(want node, at tolerance) (string, bool) { return meetFigure(n, n.in, want, at) }

// meetFigure compares the likely figure with a published one, in the published unit.
func meetFigure(b body, in func(string) (reading, error), want node, at tolerance) (string, bool) {
	printed, unit := splitFigure(want.text)
	if want.kind != isText || printed == "" {
		return b.text(quantity.Metric), false
	}
	r, err := in(unit)
	if err != nil {
		return b.text(quantity.Metric), false
	}
	return r.text(at.shown(printed)), at.admits(r.is[Likely], printed)
}

// splitFigure parts "21.86 g" into number and unit; the number is empty where
// the text does not begin with one.
func splitFigure(text string) (printed, unit string) {
	text = strings.TrimSpace(strings.ReplaceAll(text, "\u2212", "-"))
	printed = decimalNumber().FindString(text)
	return printed, strings.TrimSpace(text[len(printed):])
}

// shown is the number of digits in which a result is put beside a printed one:
// some more, so that a near miss shows.
func (t tolerance) shown(printed string) int {
	digits := t.digits
	if digits == 0 || t.within {
		digits = max(digits, significant(printed))
	}
	return min(max(digits+2, shownDigits), 15)
}

func (t tolerance) admits(ours float64, printed string) bool {
	want, ok := new(big.Rat).SetString(printed)
	if !ok {
		return false
	}
	published, _ := want.Float64()
	if t.within {
		// A part in 10⁹ more, so that a difference of just the tolerance is
		// not lost to binary rounding.
		allowed := max(t.relative*math.Abs(published), t.absolute) + 1e-9*math.Abs(published)
		return math.Abs(ours-published) <= allowed
	}
	digits := t.digits
	if digits == 0 {
		digits = significant(printed)
	}
	if want.Sign() == 0 {
		return roundsToZero(ours, printed)
	}
	return rounded(ours, digits).Cmp(rounded(published, digits)) == 0
}

// rounded is v to a number of significant digits, halves away from zero. As in
// quantity.Fixed the shortest decimal of 15 digits is rounded, not the binary
// expansion.
func rounded(v float64, digits int) *big.Rat {
	text := strconv.FormatFloat(v, 'e', 14, 64)
	mantissa, exponent, _ := strings.Cut(text, "e")
	m, ok := new(big.Rat).SetString(mantissa)
	if !ok {
		panic("working: cannot read back " + text)
	}
	kept, ok := new(big.Rat).SetString(m.FloatString(digits-1) + "e" + exponent)
	if !ok {
		panic("working: cannot read back " + text)
	}
	return kept
}

// roundsToZero: a printed zero has no significant digits, so its decimals count.
func roundsToZero(ours float64, printed string) bool {
	_, decimals, _ := strings.Cut(printed, ".")
	return math.Abs(ours) < 0.5*math.Pow10(-len(decimals))
}

// significant counts the significant digits of a printed number, the zeros
// behind it among them.
func significant(printed string) int {
	mantissa, _, _ := strings.Cut(strings.ToLower(printed), "e")
	digits := strings.TrimLeft(strings.ReplaceAll(strings.TrimLeft(mantissa, "+-"), ".", ""), "0")
	return min(max(len(digits), 1), 15)
}

func (w word) meet(want node, _ tolerance) (string, bool) {
	return string(w), want.kind == isText && want.text == string(w)
}

func (a answer) meet(want node, _ tolerance) (string, bool) {
	yes, _, err := parseYesNo(want.text)
	return yesNo(bool(a)), want.kind == isText && err == nil && yes == bool(a)
}

// A list is compared whole: as many values, in the same order.
func (l list) meet(want node, at tolerance) (string, bool) {
	holds := want.kind == isList && len(want.list) == len(l)
	parts := make([]string, len(l))
	for i, v := range l {
		wanted := node{}
		if i < len(want.list) {
			wanted = want.list[i]
		}
		var met bool
		parts[i], met = v.meet(wanted, at)
		holds = holds && met
	}
	return strings.Join(parts, "; "), holds
}

func (n named) meet(want node, at tolerance) (string, bool) {
	holds := want.kind == isFields && len(want.fields) == len(n)
	parts := make([]string, len(n))
	for i, one := range n {
		wanted, there := want.field(one.Name)
		got, met := one.Value.meet(wanted, at)
		parts[i] = one.Name + ": " + got
		holds = holds && there && met
	}
	return strings.Join(parts, "; "), holds
}

func (v Value) meet(want node, at tolerance) (string, bool) {
	if v.body == nil {
		return "no value: " + v.why, false
	}
	return v.body.meet(want, at)
}
