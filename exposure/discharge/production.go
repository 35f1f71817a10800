package discharge

import (
	"errors"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Production is a limit for each processed area, and what is processed.
type Production struct {
	LimitPerArea working.Estimate[quantity.MassPerArea]
	AreaRate     working.Estimate[quantity.AreaRate]
	Operations   working.Estimate[int]           // each counts the area once, as in mg/m²-operation; one where not given
	Flow         working.Estimate[quantity.Flow] // for the concentration
}

// ProductionResult is what may be discharged. Concentration is absent without a
// flow.
type ProductionResult struct {
	MassRate      working.Estimate[quantity.MassRate]
	Concentration working.Estimate[quantity.EffluentConcentration]
}

// byProduction weakens what follows from an area.
const byProduction working.Caveat = "the area is that of the standard: for 40 CFR 413 the area of every operation that is followed by a rinse, as a reasonable measure over a long time and not of one day"

// Solve gives the mass that a limit for each area allows, and the concentration
// that this is in a flow.
//
//	m = l × A × n
//	C = m / Q
//
// l limit for each area, A area processed in a time, n operations, m mass in a
// time, Q flow, C concentration.
//
// Source: definition of a production-based limit, as in 40 CFR 413.14(d). Range:
// any area; a flow over zero. Left out: which steps are operations.
func (p Production) Solve() (ProductionResult, error) {
	if err := p.faults(); err != nil {
		return ProductionResult{}, err
	}
	line, terms := "m = l × A", []working.Term{p.LimitPerArea.As("l", "limit for each area"), p.AreaRate.As("A", "area processed")}
	if p.Operations.Known() {
		line, terms = "m = l × A × n", append(terms, p.Operations.As("n", "operations"))
	}
	rate := working.Compute(working.Formula{Line: line, Unit: "kg/day"}, func(c working.Case) quantity.MassRate {
		each := p.LimitPerArea.At(c).MilligramsPerSquareMetre() * p.AreaRate.At(c).SquareMetresPerHour()
		if p.Operations.Known() {
			each *= float64(p.Operations.At(c))
		}
		return quantity.MassRate(each/1000) * quantity.GramPerHour
	}, terms...).WithCaveats(byProduction)
	concentration := working.Compute(working.Formula{Line: "C = m / Q", Unit: "mg/L"},
		func(c working.Case) quantity.EffluentConcentration { return concentrationOf(rate.At(c), p.Flow.At(c)) },
		rate.As("m", "mass in a time"), p.Flow.As("Q", "flow"))
	return ProductionResult{MassRate: rate, Concentration: inMGD(concentration, p.Flow)}, nil
}

func (p Production) faults() error {
	var faults []error
	if p.Flow.Known() && lowest(p.Flow) == 0 {
		faults = append(faults, &working.Fault{Where: "flow", What: "where nothing flows a mass has no concentration", Mend: "give the flow, or leave it out"})
	}
	if p.Operations.Known() && min(p.Operations.At(working.Likely), p.Operations.At(working.Low)) < 1 {
		faults = append(faults, &working.Fault{Where: "operations", What: "no operation counts the area", Mend: "give how many operations are followed by a rinse, or leave it out"})
	}
	return errors.Join(faults...)
}
