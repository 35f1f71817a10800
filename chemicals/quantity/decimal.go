package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Figures are rounded from the shortest decimal of at most 15 digits that
// stands for them, not from their binary expansion, because that is what
// spreadsheet programs show: 2.675 with two decimals is 2.68. The functions
// below panic on NaN and infinities.

// fifteen is v with 15 significant digits, "2.67500000000000e+00".
func fifteen(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		panic(fmt.Sprintf("quantity: %v is not a figure", v))
	}
	return strconv.FormatFloat(v, 'e', 14, 64)
}

// Fixed prints v with the given number of decimals, halves away from zero.
func Fixed(v float64, decimals int) string {
	exact, ok := new(big.Rat).SetString(fifteen(v))
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
// significant digits, 1 to 15; never below 0, never above 12, and 0 for v == 0.
func Decimals(v float64, digits int) int {
	if v == 0 {
		return 0
	}
	mantissa, power, _ := strings.Cut(fifteen(math.Abs(v)), "e")
	exponent, err := strconv.Atoi(power)
	if err != nil {
		panic(fmt.Sprintf("quantity: no exponent in %q", power))
	}
	all := strings.Replace(mantissa, ".", "", 1)
	// 9.995 at three digits counts as 10.0.
	if digits < len(all) && strings.Trim(all[:digits], "9") == "" && all[digits] >= '5' {
		exponent++
	}
	return min(max(digits-1-exponent, 0), 12)
}

// Significant prints v with the given count of significant digits, as a plain
// decimal. Digits before the point are never replaced by zeros, and no more
// than 12 decimals are shown.
func Significant(v float64, digits int) string { return Fixed(v, Decimals(v, digits)) }

// Plain is the shortest decimal of at most 15 digits that stands for v, never
// with an exponent: what a numeric spreadsheet cell means.
func Plain(v float64) string {
	short, err := strconv.ParseFloat(fifteen(v), 64)
	if err != nil {
		panic(fmt.Sprintf("quantity: cannot read back %v", v))
	}
	if short == 0 {
		return "0" // without the sign of a negative zero
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}
