package discharge

import (
	"errors"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Cyanide is a limit on cyanide in a final effluent that other water dilutes.
type Cyanide struct {
	Limit       working.Estimate[quantity.EffluentConcentration]
	CyanideFlow working.Estimate[quantity.Flow] // of the stream that bears cyanide
	Flow        working.Estimate[quantity.Flow] // of the final effluent
}

// CyanideResult is the limit where the effluent is sampled.
type CyanideResult struct {
	Limit working.Estimate[quantity.EffluentConcentration]
}

var cyanideRule = source.Ref{Document: "40 CFR 433.12", Place: "(c)", Year: 2015, Standing: source.LawInForce}

// sampleBefore is the rule; the computed limit is the way out.
const sampleBefore working.Caveat = "40 CFR 433.12(c): cyanide is to be sampled after its treatment and before other water dilutes it; this limit is for a plant that samples the final effluent"

// Solve gives the limit in the final effluent.
//
//	L = Lc × Qc / Q
//
// Lc limit on cyanide, Qc flow of the stream that bears it, Q flow of the final
// effluent.
//
// Source: 40 CFR 433.12(c), law in force. Range: a cyanide flow no greater than
// the effluent. Left out: cyanide that other streams bring.
func (y Cyanide) Solve() (CyanideResult, error) {
	if y.CyanideFlow.Known() && y.Flow.Known() {
		switch {
		case lowest(y.Flow) == 0:
			return CyanideResult{}, &working.Fault{Where: "flow", What: "where no effluent flows there is nothing to limit", Mend: "give the flow of the final effluent"}
		case y.CyanideFlow.Is() > y.Flow.Is()*(1+1e-12):
			return CyanideResult{}, &working.Fault{Where: "cyanide_flow", What: y.CyanideFlow.Text() + " is more than the whole effluent, " + y.Flow.Text(), Mend: "give the flow that bears cyanide, and as flow the effluent that holds it"}
		}
	}
	return CyanideResult{Limit: working.Compute(working.Formula{Line: "L = Lc × Qc / Q", Unit: "mg/L", Ref: cyanideRule},
		func(c working.Case) quantity.EffluentConcentration {
			return y.Limit.At(c) * quantity.EffluentConcentration(y.CyanideFlow.At(c)/y.Flow.At(c))
		},
		y.Limit.As("Lc", "limit on cyanide"), y.CyanideFlow.As("Qc", "flow that bears cyanide"), y.Flow.As("Q", "final effluent")).WithCaveats(sampleBefore)}, nil
}

// Bleed is a spent bath that goes to treatment little by little, with the rest
// of the water.
type Bleed struct {
	Limit    working.Estimate[quantity.EffluentConcentration] // after treatment
	Flow     working.Estimate[quantity.Flow]                  // through treatment
	BaseFlow working.Estimate[quantity.Flow]                  // of the other water, if it is less than Flow
	Removal  working.Estimate[float64]                        // of the treatment, a fraction
	Base     working.Estimate[quantity.EffluentConcentration] // of the other water, before treatment
	Bath     working.Estimate[quantity.BathConcentration]     // by mass
}

// BleedResult is the greatest flow of the bath.
type BleedResult struct {
	Flow working.Estimate[quantity.Flow]
}

// bleedRules weakens every flow.
const bleedRules working.Caveat = "the removal must hold with the bath in the water: chelators and acid change it; a discharge of a new kind is to be notified beforehand (40 CFR 403.12(j)), and a bath with cyanide never joins acid"

// Solve gives the flow of the bath at which the effluent reaches the limit.
//
//	Qb = (L × Q / (1 − R) − C × Qo) / B
//
// L limit, Q flow through treatment, R removal, C and Qo concentration and flow
// of the other water, B concentration of the bath.
//
// Source: balance of mass. Range: a removal below 100 %; zero where the other
// water alone reaches the limit. Without its own flow the other water is taken
// as all of Q, which asks for less bleed by the share C/B. Left out: what the
// bath does to the treatment.
func (b Bleed) Solve() (BleedResult, error) {
	if err := b.faults(); err != nil {
		return BleedResult{}, err
	}
	base, what := b.BaseFlow, "flow of the other water"
	if !base.Known() {
		base, what = b.Flow, "flow of the other water, taken as all of it"
	}
	flow := working.Compute(working.Formula{Line: "Qb = max(0, (L × Q / (1 − R) − C × Qo) / B)", Unit: "L/h"},
		func(c working.Case) quantity.Flow {
			bath, _ := b.Bath.At(c).GramsPerLitre()
			room := b.Limit.At(c).MilligramsPerLitre()*b.Flow.At(c).LitresPerHour()/(1-b.Removal.At(c)) - b.Base.At(c).MilligramsPerLitre()*base.At(c).LitresPerHour()
			return quantity.Flow(max(0, room/(bath*1000))) * quantity.LitrePerHour
		},
		b.Limit.As("L", "limit after treatment"), b.Flow.As("Q", "flow through treatment"), b.Removal.As("R", "removal of the treatment"),
		b.Base.As("C", "concentration of the other water"), base.As("Qo", what), b.Bath.As("B", "concentration of the bath"))
	if flow.Known() && flow.Is() == 0 {
		flow = flow.WithCaveats("the other water alone reaches the limit: there is no room for the bath")
	}
	return BleedResult{Flow: flow.WithCaveats(bleedRules)}, nil
}

func (b Bleed) faults() error {
	var faults []error
	if b.Removal.Known() && (lowest(b.Removal) < 0 || highest(b.Removal) >= 1) {
		faults = append(faults, &working.Fault{Where: "removal", What: "a removal of " + b.Removal.Text() + " leaves no limit on the bleed", Mend: `give what the treatment removes, from 0 % to below 100 %: removal="95 %"`})
	}
	if b.Bath.Known() {
		for c := working.Likely; c <= working.High; c++ {
			if v, byMass := b.Bath.At(c).GramsPerLitre(); !byMass || v <= 0 {
				faults = append(faults, &working.Fault{Where: "bath", What: b.Bath.Text() + " is not a mass of the pollutant per volume", Mend: `give what the bath holds of it by mass: bath="50 g/L"`})
				break
			}
		}
	}
	if b.BaseFlow.Known() && b.Flow.Known() && b.BaseFlow.Is() > b.Flow.Is()*(1+1e-12) {
		faults = append(faults, &working.Fault{Where: "base_flow", What: b.BaseFlow.Text() + " is more than the whole flow, " + b.Flow.Text(), Mend: "give the flow of the other water, or leave it out"})
	}
	return errors.Join(faults...)
}
