package rinse

import (
	"errors"
	"fmt"
	"math"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Counterflow is a chain of rinses in which the water runs against the work:
// fresh into the last, from each into the one before, out of the first.
type Counterflow struct {
	DragOut working.Estimate[quantity.Flow]
	Stages  working.Estimate[int]
	Water   working.Estimate[quantity.Flow]              // for the ratio
	Ratio   working.Estimate[float64]                    // for the water; or Bath and Target
	Bath    working.Estimate[quantity.BathConcentration] // for the concentrations of the stages
	Target  working.Estimate[quantity.BathConcentration] // in the last stage
	Mixing  working.Estimate[float64]                    // a fraction; full where absent
}

// CounterflowResult is the chain at equilibrium. WaterRoot is what the usual
// rule q = r^(1/n) gives for the same ratio; it stands beside for comparison.
// Stages are the concentrations from the first to the last; empty without a
// bath.
type CounterflowResult struct {
	Water     working.Estimate[quantity.Flow]
	WaterRoot working.Estimate[quantity.Flow]
	Ratio     working.Estimate[float64]
	Stages    []working.Estimate[quantity.BathConcentration]
}

// Solve gives the ratio that a flow of water reaches, or the flow that a ratio
// takes, exactly.
//
//	R = 1 + q + q² + … + q^n, q = Q / D
//	Ck = C0 × (1 + … + q^(n−k)) / (1 + … + q^n) / m
//
// Q flow of water, D drag-out, n stages, R ratio at full mixing, m mixing,
// C0 concentration in the bath, Ck in stage k.
//
// Source: computed here, a mass balance over each stage as for one running
// rinse. The usual rule q = r^(1/n) stands beside it; the form r^(1/n) + 1/n that
// is also printed adds where the exact answer is nearer to r^(1/n) − 1/n. Range:
// any ratio from 1, 1 to 50 stages, at equilibrium. Left out: as for Running.
func (d Counterflow) Solve() (CounterflowResult, error) {
	stages := stagesFault(d.Stages, "stages")
	n := 1
	if stages == nil {
		n = d.Stages.Is()
	}
	a := asked{dragOut: d.DragOut, water: d.Water, ratio: d.Ratio, mixing: d.Mixing, bath: d.Bath, target: d.Target}
	r, err := a.solve(layout{
		forRatio: "R = 1 + q + q² + … + q^n", forWater: "q so that 1 + q + q² + … + q^n = R",
		ratio:  func(q float64) float64 { return powers(q, n) },
		flow:   func(ratio float64) float64 { return perDragOut(ratio, n) },
		stages: []working.Term{d.Stages.As("n", "stages")},
	})
	if err := errors.Join(stages, err); err != nil {
		return CounterflowResult{}, err
	}
	return CounterflowResult{Water: r.water, WaterRoot: d.root(a, r), Ratio: r.ratio, Stages: d.concentrations(r)}, nil
}

// root is the usual rule for the same ratio.
func (d Counterflow) root(a asked, r reached) working.Estimate[quantity.Flow] {
	line, terms := "by the usual rule: Q = D × r^(1/n)", []working.Term{d.DragOut.As("D", "drag-out"), r.ratio.As("r", "ratio"), d.Stages.As("n", "stages")}
	if a.mixing.Known() {
		line, terms = "by the usual rule: Q = D × (r / m)^(1/n)", append(terms, a.mixing.As("m", "mixing"))
	}
	return working.Compute(working.Formula{Line: line, Unit: "L/h"}, func(c working.Case) quantity.Flow {
		ratio := r.ratio.At(c)
		if a.mixing.Known() {
			ratio /= a.mixing.At(c)
		}
		return d.DragOut.At(c) * quantity.Flow(math.Pow(ratio, 1/float64(d.Stages.Is())))
	}, terms...)
}

func (d Counterflow) concentrations(r reached) []working.Estimate[quantity.BathConcentration] {
	if !d.Bath.Known() {
		return nil
	}
	n := d.Stages.Is()
	all := make([]working.Estimate[quantity.BathConcentration], n)
	for k := 1; k <= n; k++ {
		line := fmt.Sprintf("C%d = C0 × S%d / S%d, Sk = 1 + q + … + q^k", k, n-k, n)
		terms := []working.Term{d.Bath.As("C0", "concentration in the bath"), r.q.As("q", "water for each volume of drag-out")}
		if d.Mixing.Known() {
			line, terms = line+", over m and at most C0", append(terms, d.Mixing.As("m", "mixing"))
		}
		all[k-1] = working.Compute(working.Formula{Line: line, Unit: rinseUnit(d.Bath)}, func(c working.Case) quantity.BathConcentration {
			part := powers(r.q.At(c), n-k) / powers(r.q.At(c), n)
			if d.Mixing.Known() {
				part = min(1, part/d.Mixing.At(c))
			}
			return diluted(d.Bath.At(c), part)
		}, terms...)
	}
	return all
}

// powers is 1 + q + q² + … + q^n.
func powers(q float64, n int) float64 {
	sum := 1.0
	for range n {
		sum = sum*q + 1
	}
	return sum
}

// perDragOut is the q at which powers(q, n) is the ratio, 1 or more. Newton's
// method from above: the sum is convex and grows with q, so that each step
// falls and none goes below the root, until rounding stops it.
func perDragOut(ratio float64, n int) float64 {
	excess := ratio - 1
	q := min(excess, math.Pow(ratio, 1/float64(n)))
	for q > 0 {
		// q + q² + … + q^n and its slope, without the 1, so that a ratio near
		// 1 keeps its digits.
		sum, slope := 0.0, 0.0
		for range n {
			slope = slope*q + sum + 1
			sum = (sum + 1) * q
		}
		next := q - (sum-excess)/slope
		if !(next < q) {
			return q
		}
		q = max(next, 0)
	}
	return q
}
