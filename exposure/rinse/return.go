package rinse

import (
	"errors"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const bringsBackAll working.Caveat = "what fouls the bath comes back with the drag-out: a bath that has to lose impurities or spent brightener should not take all of it"

// Return is drag-out that is pumped back to the bath as its water evaporates:
// a counterflow whose fresh water is no more than what the bath loses.
type Return struct {
	DragOut     working.Estimate[quantity.Flow]
	Evaporation working.Estimate[quantity.Flow] // of the bath
	Stages      working.Estimate[int]
}

// ReturnResult is the share of the drag-out that gets back to the bath.
type ReturnResult struct {
	Recovered working.Estimate[float64]
}

// Solve gives the share recovered.
//
//	recovered = 1 − 1 / (1 + q + … + q^n), q = E / D
//
// E evaporation of the bath, D drag-out, n stages.
//
// Source: computed here, the counterflow with a flow of E. Range: 1 to 50 stages,
// at equilibrium. Left out: what the work brings into the bath from before it,
// which takes room that evaporation made. No published example found.
func (d Return) Solve() (ReturnResult, error) {
	if err := errors.Join(stagesFault(d.Stages, "stages"), dragOutFault(d.DragOut)); err != nil {
		return ReturnResult{}, err
	}
	q := working.Compute(working.Formula{Line: "q = E / D"}, func(c working.Case) float64 {
		return float64(d.Evaporation.At(c) / d.DragOut.At(c))
	}, d.Evaporation.As("E", "evaporation of the bath"), d.DragOut.As("D", "drag-out"))
	recovered := working.Compute(working.Formula{Line: "recovered = 1 − 1 / (1 + q + … + q^n)", Unit: "%"}, func(c working.Case) float64 {
		// As (q + … + q^n) / (1 + … + q^n), so that a small share keeps its digits.
		sum := powers(q.At(c), d.Stages.Is()-1) * q.At(c)
		return sum / (1 + sum)
	}, q.As("q", "evaporation for each volume of drag-out"), d.Stages.As("n", "stages")).WithCaveats(thisWet, fullyMixed, bringsBackAll)
	return ReturnResult{Recovered: recovered}, nil
}
