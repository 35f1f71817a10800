// Package discharge works out what a shop's waste water carries and what its
// limits come to.
//
//	Mix            streams that join: mean concentration
//	Mass           concentration and flow to mass in a time, and back
//	Combined       alternative limit of joined streams, 40 CFR 403.6(e)
//	Cyanide        limit in the final effluent, 40 CFR 433.12(c)
//	Bleed          flow at which a spent bath may go to treatment
//	Production     limit for each processed area to mass and concentration
//	Noncompliance  shares of results over a limit, 40 CFR 403.8(f)(2)(viii)
//	Mean           mean of results, with non-detects counted as declared
//
// The figures of the regulation stand in noncompliance.csv. Which limit binds,
// and what a share means, is for the control authority to say.
//
// Not covered: the limits themselves, sampling, local limits from the load that
// a treatment works can take, and the other grounds of significant
// noncompliance (pass-through, danger, late reports and milestones).
package discharge

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Stream is a flow of water and what it carries.
type Stream struct {
	Flow          working.Estimate[quantity.Flow]
	Concentration working.Estimate[quantity.EffluentConcentration]
}

// Mix is streams that join.
type Mix struct {
	Streams []Stream
}

// MixResult is what they are together.
type MixResult struct {
	Concentration working.Estimate[quantity.EffluentConcentration]
	Flow          working.Estimate[quantity.Flow]
}

// Solve gives the flow-weighted mean concentration.
//
//	Q = ΣQi
//	C = Σ(Ci × Qi) / ΣQi
//
// Qi flow and Ci concentration of each stream.
//
// Source: balance of mass. Range: any streams of which one flows. Left out:
// what precipitates or reacts where the streams meet.
func (m Mix) Solve() (MixResult, error) {
	if len(m.Streams) == 0 {
		return MixResult{}, &working.Fault{Where: "streams", What: "no stream is named", Mend: `give streams="[{flow: 10 gal/min, concentration: 0.3 mg/L}]"`}
	}
	flows := make([]working.Estimate[quantity.Flow], len(m.Streams))
	concentrations := make([]working.Estimate[quantity.EffluentConcentration], len(m.Streams))
	for i, s := range m.Streams {
		flows[i], concentrations[i] = s.Flow, s.Concentration
	}
	flow := sumOf(flows, "Q = ΣQi", "Qi", "flow of each stream")
	if flow.Known() && lowest(flow) == 0 {
		return MixResult{}, &working.Fault{Where: "streams", What: "nothing flows", Mend: "give the flow of each stream"}
	}
	return MixResult{
		Flow: flow,
		Concentration: working.Compute(working.Formula{Line: "C = Σ(Ci × Qi) / Q", Unit: "mg/L"},
			func(c working.Case) quantity.EffluentConcentration {
				var carried float64
				for i := range m.Streams {
					carried += concentrations[i].At(c).MilligramsPerLitre() * flows[i].At(c).LitresPerMinute()
				}
				return quantity.EffluentConcentration(carried / flow.At(c).LitresPerMinute())
			}, working.AsList(concentrations, "Ci", "concentration of each stream"), working.AsList(flows, "Qi", "flow of each stream"), flow.As("Q", "flow together")),
	}, nil
}

func sumOf(flows []working.Estimate[quantity.Flow], line, symbol, what string) working.Estimate[quantity.Flow] {
	if len(flows) == 0 {
		return known(quantity.Flow(0), source.Computed, source.Ref{}, "none")
	}
	return working.Compute(working.Formula{Line: line, Unit: "L/min"}, func(c working.Case) quantity.Flow {
		var sum quantity.Flow
		for _, f := range flows {
			sum += f.At(c)
		}
		return sum
	}, working.AsList(flows, symbol, what))
}

// lowest is the least of the three cases.
func lowest[Q ~float64](e working.Estimate[Q]) Q {
	return min(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}

// known is a given figure in another type, with its text and origin.
func known[Q any](v Q, origin source.Origin, ref source.Ref, text string) working.Estimate[Q] {
	return working.Given(source.Value[Q]{Is: v, Origin: origin, Ref: ref}, text)
}
