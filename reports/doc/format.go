package doc

import "bathwarden/chemicals/quantity"

// Format prints v with the given number of decimals, halves away from zero, as
// a spreadsheet shows it. It panics on NaN and infinities: an unknown figure is
// a Blank.
func Format(v float64, decimals int) string { return quantity.Fixed(v, decimals) }

// Significant is the number of decimals at which v shows the given count of
// significant digits; never below 0, never above 12. It is 0 for v == 0.
func Significant(v float64, digits int) int { return quantity.Decimals(v, digits) }
