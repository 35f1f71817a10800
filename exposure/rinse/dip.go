package rinse

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const atRest working.Caveat = "this is where the rinse comes to after many loads, without water of its own; it does not clean the work, and what fouls the bath comes back too"

// Dip is a rinse that the work goes through before and after the bath.
type Dip struct {
	Bath working.Estimate[quantity.BathConcentration]
}

// DipResult is that rinse after many loads. Returned is the share of the
// drag-out that goes back into the bath.
type DipResult struct {
	Rinse    working.Estimate[quantity.BathConcentration]
	Returned working.Estimate[float64]
}

// Solve gives what the rinse comes to hold and what it returns.
//
//	d × C0 = d × C + d × C, so C = C0 / 2
//	returned = d × C / (d × C0) = 1 / 2
//
// d drag-out of one load, C0 concentration in the bath, C in the rinse: a load
// brings d of bath in once, and takes d of the rinse out twice, of which once
// into the bath.
//
// Source: computed here, a mass balance; no published example found. Range: any
// bath. Left out: the way there, evaporation, topping up.
func (d Dip) Solve() (DipResult, error) {
	weak := working.Compute(working.Formula{Line: "C = C0 / 2", Unit: dipUnit(d.Bath)}, func(c working.Case) quantity.BathConcentration {
		return diluted(d.Bath.At(c), 0.5)
	}, d.Bath.As("C0", "concentration in the bath")).WithCaveats(thisWet, atRest)
	returned := working.Compute(working.Formula{Line: "returned = C / C0 = 1 / 2", Unit: "%"}, func(working.Case) float64 { return 0.5 })
	return DipResult{Rinse: weak, Returned: returned.WithCaveats(thisWet, atRest)}, nil
}

// dipUnit is the bath's own: such a rinse is half as strong.
func dipUnit(bath working.Estimate[quantity.BathConcentration]) string {
	if !bath.Known() {
		return ""
	}
	return quantity.Unit(bath.Is(), quantity.Metric)
}
