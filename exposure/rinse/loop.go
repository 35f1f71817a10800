package rinse

import (
	"errors"
	"fmt"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const (
	ownLoop   working.Caveat = "the closed loop is a mass balance of our own: no published formula was found"
	keepsUp   working.Caveat = "the resin is taken to hold back the same share all the time; it falls as the resin fills"
	noPurging working.Caveat = "what the resin does not hold builds up in the loop and is not seen here"
)

// Loop is a counterflow in a closed loop: what leaves its first stage goes
// through a resin and back into its last.
type Loop struct {
	DragOut  working.Estimate[quantity.Flow]
	Water    working.Estimate[quantity.Flow] // that goes round
	Stages   working.Estimate[int]
	Bath     working.Estimate[quantity.BathConcentration] // of what the resin holds back
	Removal  working.Estimate[float64]                    // a fraction that the resin holds back in a pass
	Capacity working.Estimate[quantity.Mass]              // of the resin, for the time to its end
}

// LoopResult is the loop at equilibrium. Stages are the concentrations from the
// first to the last, Returned what comes back from the resin, Caught what the
// resin takes up, Lasts how long its capacity lasts at that, in time of running.
type LoopResult struct {
	Ratio    working.Estimate[float64]
	Stages   []working.Estimate[quantity.BathConcentration]
	Returned working.Estimate[quantity.BathConcentration]
	Caught   working.Estimate[quantity.MassRate]
	Lasts    working.Estimate[quantity.Duration]
}

// Solve gives what the loop comes to hold.
//
//	s = (1 + … + q^(n−1)) / (1 + … + q^n), q = Q / D
//	c1 = s / (1 − (1 − η) × (1 − s)), f = (1 − η) × c1
//	ck = f + (1 − f) × (1 + … + q^(n−k)) / (1 + … + q^n), Ck = ck × C0, r = 1 / cn
//	caught = η × Q × C1 = D × (C0 − Cn)
//
// Q flow round the loop, D drag-out, n stages, η share that the resin holds back,
// f what comes back as a part of the bath, C0 concentration in the bath, Ck in
// stage k, r ratio.
//
// Source: a mass balance computed here, not a published formula: the counterflow
// whose water holds f. Range: 1 to 50 stages, a share over 0 % and up to 100 %, at
// equilibrium. Left out: what the resin does not hold, and its breakthrough.
func (d Loop) Solve() (LoopResult, error) {
	if err := d.faults(); err != nil {
		return LoopResult{}, err
	}
	n := d.Stages.Is()
	q := working.Compute(working.Formula{Line: "q = Q / D"}, func(c working.Case) float64 {
		return float64(d.Water.At(c) / d.DragOut.At(c))
	}, d.Water.As("Q", "water round the loop"), d.DragOut.As("D", "drag-out")).WithCaveats(thisWet, fullyMixed, ownLoop, keepsUp, noPurging)
	first := working.Compute(working.Formula{Line: "c1 = s / (1 − (1 − η) × (1 − s)), s = (1 + … + q^(n−1)) / (1 + … + q^n)"}, func(c working.Case) float64 {
		s := powers(q.At(c), n-1) / powers(q.At(c), n)
		return s / (1 - (1-d.Removal.At(c))*(1-s))
	}, q.As("q", "water for each volume of drag-out"), d.Stages.As("n", "stages"), d.Removal.As("η", "share held back by the resin"))
	back := working.Compute(working.Formula{Line: "f = (1 − η) × c1"}, func(c working.Case) float64 {
		return (1 - d.Removal.At(c)) * first.At(c)
	}, d.Removal.As("η", "share held back by the resin"), first.As("c1", "first stage as a part of the bath"))
	return d.result(q, first, back), nil
}

func (d Loop) result(q, first, back working.Estimate[float64]) LoopResult {
	n := d.Stages.Is()
	part := func(c working.Case, k int) float64 {
		return back.At(c) + (1-back.At(c))*powers(q.At(c), n-k)/powers(q.At(c), n)
	}
	bath := d.Bath.As("C0", "concentration in the bath")
	from := []working.Term{back.As("f", "water from the resin as a part of the bath"), q.As("q", "water for each volume of drag-out")}
	var r LoopResult
	r.Ratio = working.Compute(working.Formula{Line: fmt.Sprintf("r = 1 / (f + (1 − f) / S%d), Sk = 1 + q + … + q^k", n)}, func(c working.Case) float64 { return 1 / part(c, n) }, from...)
	r.Returned = working.Compute(working.Formula{Line: "Cf = f × C0", Unit: rinseUnit(d.Bath)}, func(c working.Case) quantity.BathConcentration {
		return diluted(d.Bath.At(c), back.At(c))
	}, from[0], bath)
	for k := 1; k <= n; k++ {
		line := fmt.Sprintf("C%d = C0 × (f + (1 − f) × S%d / S%d), Sk = 1 + q + … + q^k", k, n-k, n)
		r.Stages = append(r.Stages, working.Compute(working.Formula{Line: line, Unit: rinseUnit(d.Bath)}, func(c working.Case) quantity.BathConcentration {
			return diluted(d.Bath.At(c), part(c, k))
		}, append([]working.Term{bath}, from...)...))
	}
	r.Caught = d.caught(first)
	r.Lasts = d.lasts(r.Caught)
	return r
}

func (d Loop) lasts(caught working.Estimate[quantity.MassRate]) working.Estimate[quantity.Duration] {
	if caught.Known() && lowest(caught) == 0 {
		return working.Absent[quantity.Duration]("the resin takes nothing up")
	}
	return working.Compute(working.Formula{Line: "t = capacity / caught", Unit: "h"}, func(c working.Case) quantity.Duration {
		return quantity.Duration(d.Capacity.At(c).Grams()/caught.At(c).GramsPerHour()) * quantity.Hour
	}, d.Capacity.As("capacity", "of the resin"), caught.As("caught", "by the resin"))
}

func (d Loop) caught(first working.Estimate[float64]) working.Estimate[quantity.MassRate] {
	if d.Bath.Known() {
		if _, byMass := d.Bath.Is().GramsPerLitre(); !byMass {
			return working.Absent[quantity.MassRate]("the bath is not given as a mass in its volume")
		}
	}
	return working.Compute(working.Formula{Line: "caught = η × Q × c1 × C0", Unit: "g/h"}, func(c working.Case) quantity.MassRate {
		grams, _ := d.Bath.At(c).GramsPerLitre()
		return quantity.MassRate(d.Removal.At(c)*d.Water.At(c).LitresPerHour()*first.At(c)*grams) * quantity.GramPerHour
	}, d.Removal.As("η", "share held back by the resin"), d.Water.As("Q", "water round the loop"), first.As("c1", "first stage as a part of the bath"), d.Bath.As("C0", "concentration in the bath"))
}

func (d Loop) faults() error {
	faults := []error{stagesFault(d.Stages, "stages"), dragOutFault(d.DragOut)}
	if d.Removal.Known() && (lowest(d.Removal) <= 0 || highest(d.Removal) > 1) {
		faults = append(faults, &working.Fault{Where: "removal", What: "a resin that holds anything back holds more than 0 % and at most 100 %", Mend: `give the share that it holds back in a pass: removal="99 %"`})
	}
	return errors.Join(faults...)
}
