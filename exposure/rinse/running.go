package rinse

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Running is one rinse with running water.
type Running struct {
	DragOut working.Estimate[quantity.Flow]
	Water   working.Estimate[quantity.Flow]              // for the ratio
	Ratio   working.Estimate[float64]                    // for the water; or Bath and Target
	Bath    working.Estimate[quantity.BathConcentration] // for the concentration of the rinse
	Target  working.Estimate[quantity.BathConcentration]
	Mixing  working.Estimate[float64] // a fraction; full where absent
}

// RunningResult is the rinse at equilibrium. Rinse is absent without a bath.
type RunningResult struct {
	Ratio working.Estimate[float64]
	Water working.Estimate[quantity.Flow]
	Rinse working.Estimate[quantity.BathConcentration]
}

// Solve gives the ratio that a flow of water reaches, or the flow that a ratio
// takes.
//
//	R = 1 + Q / D
//	C = C0 / r
//
// Q flow of water, D drag-out, R ratio at full mixing, r = m × R ratio with the
// mixing m, C0 concentration in the bath, C in the rinse.
//
// Source: equilibrium rinsing, Metal Finishing Guidebook 2011-2012, p. 81; Yates,
// Products Finishing, December 1991, example 1. Range: any ratio from 1; the
// rinse at equilibrium, which it nears after a few turnovers. Left out: the way
// there, see Day, and what the water brings.
func (d Running) Solve() (RunningResult, error) {
	a := asked{dragOut: d.DragOut, water: d.Water, ratio: d.Ratio, mixing: d.Mixing, bath: d.Bath, target: d.Target}
	r, err := a.solve(layout{
		forRatio: "R = 1 + q", forWater: "q = R − 1", ref: massBalance,
		ratio: func(q float64) float64 { return 1 + q },
		flow:  func(ratio float64) float64 { return ratio - 1 },
	})
	if err != nil {
		return RunningResult{}, err
	}
	weak := working.Compute(working.Formula{Line: "C = C0 / r", Unit: rinseUnit(d.Bath)}, func(c working.Case) quantity.BathConcentration {
		return diluted(d.Bath.At(c), 1/r.ratio.At(c))
	}, d.Bath.As("C0", "concentration in the bath"), r.ratio.As("r", "ratio"))
	return RunningResult{Ratio: r.ratio, Water: r.water, Rinse: weak}, nil
}
