package discharge

import (
	"fmt"
	"strconv"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Treatment is how a non-detect counts in a mean. No rule of 40 CFR 403 sets
// one, so it is declared and printed.
type Treatment int

// The treatments. At its reporting limit a non-detect never makes a mean look
// lower than it is; that is the one to take where none is chosen.
const (
	AtReportingLimit Treatment = iota + 1
	AtHalf
	AtZero
)

var treatments = [...]string{AtReportingLimit: "reporting limit", AtHalf: "half", AtZero: "zero"}

func (t Treatment) String() string {
	if t < AtReportingLimit || t > AtZero {
		return "no treatment of non-detects"
	}
	return treatments[t]
}

// ParseTreatment reads the words that String prints.
func ParseTreatment(text string) (Treatment, error) {
	for t := AtReportingLimit; t <= AtZero; t++ {
		if t.String() == text {
			return t, nil
		}
	}
	return 0, &working.Fault{What: strconv.Quote(text) + " is not a treatment of non-detects", Mend: "write reporting limit, half or zero"}
}

// Of is what a non-detect with a reporting limit counts as.
func (t Treatment) Of(limit quantity.EffluentConcentration) quantity.EffluentConcentration {
	switch t {
	case AtZero:
		return 0
	case AtHalf:
		return limit / 2
	}
	return limit
}

// Mean is results of one pollutant at one point, all of them concentrations.
type Mean struct {
	Results    []working.Dated[Result]
	NonDetects Treatment // at the reporting limit where not given
}

// MeanResult is their mean; low counts every non-detect as zero, high at its
// reporting limit.
type MeanResult struct {
	Mean       working.Estimate[quantity.EffluentConcentration]
	NonDetects int
}

// Solve gives the mean of the results.
//
//	C = ΣCi / N
//
// Ci each result, a non-detect as declared; N their count.
//
// Source: definition. Range: at least one result; a non-detect without a
// reporting limit makes the mean unknown, unless it counts as zero. Left out:
// weighting by flow, for which there is Mix.
func (m Mean) Solve() (MeanResult, error) {
	if len(m.Results) == 0 {
		return MeanResult{}, &working.Fault{Where: "results", What: "there is no result", Mend: `give results="0.31 mg/L; <0.05 mg/L"`}
	}
	if m.NonDetects == 0 {
		m.NonDetects = AtReportingLimit
	}
	var r MeanResult
	each := make([]working.Estimate[quantity.EffluentConcentration], len(m.Results))
	for i, one := range m.Results {
		if one.Value.Is().Less {
			r.NonDetects++
		}
		counted, err := m.counted(one.Value)
		if err != nil {
			return MeanResult{}, placedAt(i, err)
		}
		each[i] = counted
	}
	r.Mean = working.Compute(working.Formula{Line: "C = ΣCi / N", Unit: "mg/L"}, func(c working.Case) quantity.EffluentConcentration {
		var sum quantity.EffluentConcentration
		for _, one := range each {
			sum += one.At(c)
		}
		return sum / quantity.EffluentConcentration(len(each))
	}, working.AsList(each, "Ci", "results"))
	if r.NonDetects > 0 {
		r.Mean = r.Mean.WithCaveats(working.Caveat(fmt.Sprintf("%d of %d results are non-detects; counted at: %s", r.NonDetects, len(m.Results), m.NonDetects)))
	}
	return r, nil
}

// counted is what one result counts as.
func (m Mean) counted(e working.Estimate[Result]) (working.Estimate[quantity.EffluentConcentration], error) {
	result := e.Is()
	if result.Less && !result.Level.Known() {
		if m.NonDetects == AtZero {
			return known(quantity.EffluentConcentration(0), e.Origin(), e.Ref(), e.Text()), nil
		}
		return working.Absent[quantity.EffluentConcentration]("a non-detect has no reporting limit"), nil
	}
	release, _ := result.Level.Release()
	c, ok := release.Concentration()
	if !ok || result.Level.IsPH() {
		return working.Estimate[quantity.EffluentConcentration]{}, &working.Fault{Where: "results", What: strconv.Quote(result.String()) + " is not a concentration", Mend: "give all results in mg/L or µg/L"}
	}
	if !result.Less {
		return known(c, e.Origin(), e.Ref(), e.Text()), nil
	}
	return known(m.NonDetects.Of(c), e.Origin(), e.Ref(), "").Between(0, c, e.Text()), nil
}
