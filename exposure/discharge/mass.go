package discharge

import (
	"errors"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Mass is what a flow carries in a time: its concentration is known, or the
// mass that it may carry.
type Mass struct {
	Flow          working.Estimate[quantity.Flow]
	Concentration working.Estimate[quantity.EffluentConcentration] // or MassRate
	MassRate      working.Estimate[quantity.MassRate]
	SafetyFactor  working.Estimate[float64] // of the mass, kept back; a fraction
}

// MassResult is both.
type MassResult struct {
	MassRate      working.Estimate[quantity.MassRate]
	Concentration working.Estimate[quantity.EffluentConcentration]
}

// tradeFactor weakens what is put beside figures of the trade.
const tradeFactor working.Caveat = "units are converted exactly, 8.3454 lb/day for 1 mg/L in 1 MGD; limits and reports that took the customary 8.34 are 0.06 % apart, which may show in the third digit"

// inMGD adds the caveat where a flow was written in MGD, as those do who take
// the customary factor.
func inMGD[Q any](e working.Estimate[Q], flow working.Estimate[quantity.Flow]) working.Estimate[Q] {
	if flow.Known() && strings.HasSuffix(strings.ToUpper(flow.Text()), "MGD") {
		return e.WithCaveats(tradeFactor)
	}
	return e
}

// Solve gives the mass in a time, or the concentration that a mass allows.
//
//	m = C × Q
//	C = m × (1 − s) / Q
//
// m mass in a time, C concentration, Q flow, s safety factor.
//
// Source: definition; a share kept back as in local limits of treatment works.
// Range: any flow over zero for a concentration. Units are converted exactly:
// 1 mg/L × 1 MGD is 8.3454 lb/day, which the trade cuts to 8.34.
func (m Mass) Solve() (MassResult, error) {
	if err := m.faults(); err != nil {
		return MassResult{}, err
	}
	if m.MassRate.Known() {
		return MassResult{MassRate: m.MassRate, Concentration: inMGD(m.allowed(), m.Flow)}, nil
	}
	rate := working.Compute(working.Formula{Line: "m = C × Q", Unit: "kg/day"},
		func(c working.Case) quantity.MassRate { return massRate(m.Concentration.At(c), m.Flow.At(c)) },
		m.Concentration.As("C", "concentration"), m.Flow.As("Q", "flow"))
	return MassResult{Concentration: m.Concentration, MassRate: inMGD(rate, m.Flow)}, nil
}

func (m Mass) allowed() working.Estimate[quantity.EffluentConcentration] {
	if !m.SafetyFactor.Known() {
		return working.Compute(working.Formula{Line: "C = m / Q", Unit: "mg/L"},
			func(c working.Case) quantity.EffluentConcentration {
				return concentrationOf(m.MassRate.At(c), m.Flow.At(c))
			},
			m.MassRate.As("m", "mass in a time"), m.Flow.As("Q", "flow"))
	}
	return working.Compute(working.Formula{Line: "C = m × (1 − s) / Q", Unit: "mg/L"},
		func(c working.Case) quantity.EffluentConcentration {
			return concentrationOf(m.MassRate.At(c)*quantity.MassRate(1-m.SafetyFactor.At(c)), m.Flow.At(c))
		},
		m.MassRate.As("m", "mass in a time"), m.SafetyFactor.As("s", "share kept back"), m.Flow.As("Q", "flow"))
}

// massRate: mg/L × L/h is mg/h.
func massRate(c quantity.EffluentConcentration, q quantity.Flow) quantity.MassRate {
	return quantity.MassRate(c.MilligramsPerLitre()*q.LitresPerHour()/1000) * quantity.GramPerHour
}

func concentrationOf(m quantity.MassRate, q quantity.Flow) quantity.EffluentConcentration {
	return quantity.EffluentConcentration(m.GramsPerHour()*1000/q.LitresPerHour()) * quantity.MilligramPerLitre
}

func (m Mass) faults() error {
	var faults []error
	switch {
	case m.Concentration.Known() && m.MassRate.Known():
		faults = append(faults, &working.Fault{Where: "mass_rate", What: "both a concentration and a mass in a time are given", Mend: "give the concentration to learn the mass, or the mass to learn the concentration"})
	case !m.Concentration.Known() && !m.MassRate.Known():
		faults = append(faults, &working.Fault{Where: "concentration", What: "it is not given", Mend: `give concentration="0.31 mg/L", or mass_rate="0.5 lb/day"`})
	case m.MassRate.Known() && m.Flow.Known() && lowest(m.Flow) == 0:
		faults = append(faults, &working.Fault{Where: "flow", What: "where nothing flows a mass has no concentration", Mend: "give the flow that carries it"})
	}
	if m.SafetyFactor.Known() && (lowest(m.SafetyFactor) < 0 || highest(m.SafetyFactor) > 1) {
		faults = append(faults, &working.Fault{Where: "safety_factor", What: m.SafetyFactor.Text() + " is more than there is", Mend: `give the share that is kept back, from 0 to 100 %: safety_factor="10 %"`})
	}
	if m.SafetyFactor.Known() && !m.MassRate.Known() {
		faults = append(faults, &working.Fault{Where: "safety_factor", What: "it belongs to a mass that may be discharged", Mend: "give mass_rate and flow, or leave it out"})
	}
	return errors.Join(faults...)
}

func highest[Q ~float64](e working.Estimate[Q]) Q {
	return max(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}
