package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Fixed prints v with the given number of decimals, halves away from zero.
//
// It rounds the shortest decimal of at most 15 digits that stands for v, not
// its binary expansion, because that is what spreadsheet programs show: 2.675
// with two decimals is 2.68. Fixed panics on NaN and infinities.
func Fixed(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		panic(fmt.Sprintf("quantity: %v is not a figure", v))
	}
	exact, ok := new(big.Rat).SetString(strconv.FormatFloat(v, 'g', 15, 64))
	if !ok {
		panic(fmt.Sprintf("quantity: cannot read back %v", v))
	}
	text := exact.FloatString(decimals) // rounds halves away from zero
	if strings.ContainsAny(text, "123456789") {
		return text
	}
	return strings.TrimPrefix(text, "-")
}

// Decimals is the number of decimals at which v shows the given count of
// significant digits; never below 0, never above 12, and 0 for v == 0.
func Decimals(v float64, digits int) int {
	if v == 0 {
		return 0
	}
	// Taken from the printed form, so that 9.996 at three digits counts as 10.0.
	text := strconv.FormatFloat(math.Abs(v), 'e', digits-1, 64)
	exponent, err := strconv.Atoi(text[strings.IndexByte(text, 'e')+1:])
	if err != nil {
		panic(fmt.Sprintf("quantity: no exponent in %q", text))
	}
	return min(max(digits-1-exponent, 0), 12)
}

// Significant prints v with the given count of significant digits, as a plain
// decimal. Digits before the point are never replaced by zeros.
func Significant(v float64, digits int) string { return Fixed(v, Decimals(v, digits)) }

// Plain is the shortest decimal of at most 15 digits that stands for v, never
// with an exponent: what a numeric spreadsheet cell means.
func Plain(v float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		panic(fmt.Sprintf("quantity: cannot read back %v", v))
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}
