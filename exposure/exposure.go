// Package exposure walks the shop over a period and finds what its papers say:
// how much of each product there is and was, what each tank holds, and what
// the record leaves open. It takes values and gives findings with their
// working; it opens no book, sets no page and asks no clock.
//
// Amounts: the last count of a product, plus receipts, less additions since
// (common practice, no source). Contents: the make-up as recorded, or the
// latest analysis, by the composition that the suppliers' sheets and the
// published formulas give.
//
// Not covered: losses by drag-out, evaporation and dumping, which a count or an
// analysis corrects when it is made.
package exposure

import (
	"cmp"
	"slices"
)

// Gap is something that the record does not say, or says with an old date.
type Gap struct {
	Where string // "product NS-20", "tank B5"
	What  string // what is missing or stale
	Mend  string // what to record
	Entry int64  // the entry that it concerns, 0 if there is none
}

// sorted orders gaps by place and text and drops repetitions.
func sorted(gaps []Gap) []Gap {
	slices.SortStableFunc(gaps, func(a, b Gap) int {
		return cmp.Or(cmp.Compare(a.Where, b.Where), cmp.Compare(a.What, b.What))
	})
	return slices.Compact(gaps)
}
