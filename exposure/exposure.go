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
// Water: the work of each day is taken through the tanks of its cycle, the
// water of each day to its end (walk.go, daywater.go). A rinse with running
// water is taken at the steady state of its day; a still one load by load. What
// leaves at a point stands beside the limits that bind there, published ones by
// the shop's facts and the permit's own, and beside the samples; a result over a
// limit starts its clocks. The plan tries out what could be done with each
// rinse.
//
// Not covered: losses of products by drag-out, evaporation and dumping, which a
// count or an analysis corrects when it is made; what rinse water holds when it
// comes in; reactions in the water beside the shop's own treatment.
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

// sorted orders gaps by place and text. What is said of several entries in the
// same words stands once, with the first of them.
func sorted(gaps []Gap) []Gap {
	slices.SortStableFunc(gaps, func(a, b Gap) int {
		return cmp.Or(cmp.Compare(a.Where, b.Where), cmp.Compare(a.What, b.What), cmp.Compare(a.Entry, b.Entry))
	})
	return slices.CompactFunc(gaps, func(a, b Gap) bool { return a.Where == b.Where && a.What == b.What })
}
