package rinse

import (
	"errors"
	"fmt"
	"math"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Separate is rinses in a row, each with fresh water of its own, the same for
// each.
type Separate struct {
	DragOut working.Estimate[quantity.Flow]
	Stages  working.Estimate[int]
	Water   working.Estimate[quantity.Flow]              // of all together, for the ratio
	Ratio   working.Estimate[float64]                    // for the water; or Bath and Target
	Bath    working.Estimate[quantity.BathConcentration] // for the concentrations
	Target  working.Estimate[quantity.BathConcentration] // in the last
	Mixing  working.Estimate[float64]                    // a fraction; full where absent
}

// SeparateResult is the row at equilibrium: Water is that of all rinses
// together, Each that of one. Stages are empty without a bath.
type SeparateResult struct {
	Water  working.Estimate[quantity.Flow]
	Each   working.Estimate[quantity.Flow]
	Ratio  working.Estimate[float64]
	Stages []working.Estimate[quantity.BathConcentration]
}

// Solve gives the ratio that the water reaches, or the water that a ratio takes.
//
//	R = (1 + q/n)^n, q = Q / D
//	Ck = C0 / (1 + q/n)^k / m
//
// Q water of all rinses together, D drag-out, n rinses, R ratio at full mixing,
// m mixing, C0 concentration in the bath, Ck in rinse k.
//
// Source: one running rinse, n times over; an example of three small rinses
// against a large one is printed by BFK Solutions. Range: any ratio from 1, 1 to
// 50 rinses, at equilibrium. Left out: as for Running.
func (d Separate) Solve() (SeparateResult, error) {
	stages := stagesFault(d.Stages, "stages")
	n := 1.0
	if stages == nil {
		n = float64(d.Stages.Is())
	}
	a := asked{dragOut: d.DragOut, water: d.Water, ratio: d.Ratio, mixing: d.Mixing, bath: d.Bath, target: d.Target}
	r, err := a.solve(layout{
		forRatio: "R = (1 + q/n)^n", forWater: "q = n × (R^(1/n) − 1)", ref: massBalance,
		ratio: func(q float64) float64 { return math.Exp(n * math.Log1p(q/n)) },
		// With Log1p and Expm1 a ratio near 1 keeps its digits.
		flow:   func(ratio float64) float64 { return n * math.Expm1(math.Log1p(ratio-1)/n) },
		stages: []working.Term{d.Stages.As("n", "rinses")},
	})
	if err := errors.Join(stages, err); err != nil {
		return SeparateResult{}, err
	}
	each := working.Compute(working.Formula{Line: "Q / n", Unit: "L/h"}, func(c working.Case) quantity.Flow {
		return r.water.At(c) / quantity.Flow(n)
	}, r.water.As("Q", "water of all rinses"), d.Stages.As("n", "rinses"))
	return SeparateResult{Water: r.water, Each: each, Ratio: r.ratio, Stages: d.concentrations(r)}, nil
}

func (d Separate) concentrations(r reached) []working.Estimate[quantity.BathConcentration] {
	if !d.Bath.Known() {
		return nil
	}
	n := d.Stages.Is()
	all := make([]working.Estimate[quantity.BathConcentration], n)
	for k := 1; k <= n; k++ {
		line := fmt.Sprintf("C%d = C0 / (1 + q/n)^%d", k, k)
		terms := []working.Term{d.Bath.As("C0", "concentration in the bath"), r.q.As("q", "water for each volume of drag-out"), d.Stages.As("n", "rinses")}
		if d.Mixing.Known() {
			line, terms = line+", over m and at most C0", append(terms, d.Mixing.As("m", "mixing"))
		}
		all[k-1] = working.Compute(working.Formula{Line: line, Unit: rinseUnit(d.Bath)}, func(c working.Case) quantity.BathConcentration {
			part := math.Exp(-float64(k) * math.Log1p(r.q.At(c)/float64(n)))
			if d.Mixing.Known() {
				part = min(1, part/d.Mixing.At(c))
			}
			return diluted(d.Bath.At(c), part)
		}, terms...)
	}
	return all
}
