package discharge

import (
	"errors"
	"strconv"
	"time"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Noncompliance is results of one pollutant at one point over six months, with
// the limit they are held against: a daily maximum, an average or an
// instantaneous limit, each by itself.
type Noncompliance struct {
	Pollutant string
	Limit     []working.Dated[Level] // in order of the days from which they hold
	Minimum   bool                   // the limit is the least that is allowed, as of a pH
	Results   []working.Dated[Result]
}

// NoncomplianceResult is the two tests of the rule. Shares have bounds where
// non-detects cannot be told; an answer is absent where it hangs on them. What
// belongs to technical review is absent for pH.
type NoncomplianceResult struct {
	ChronicShare   working.Estimate[float64]
	TechnicalShare working.Estimate[float64]
	Chronic        working.Estimate[bool]
	Technical      working.Estimate[bool]
	TechnicalLevel working.Estimate[quantity.Release] // the factor times the limit; absent where the limit changes

	Results               int
	Over, Undetermined    int // chronic test
	OverTechnical         int
	UndeterminedTechnical int
}

var (
	chronicRule   = source.Ref{Document: "40 CFR 403.8", Place: "(f)(2)(viii)(A)", Year: 2015, Standing: source.LawInForce}
	technicalRule = source.Ref{Document: "40 CFR 403.8", Place: "(f)(2)(viii)(B)", Year: 2015, Standing: source.LawInForce}
)

// twoGrounds weakens both answers.
const twoGrounds working.Caveat = "40 CFR 403.8(f)(2)(viii) counts every result of six months, the control authority's own among them, and names further grounds that are not looked at here; what is significant noncompliance, the authority decides"

// Solve gives the shares of results over the limit and whether they reach those
// of the rule.
//
//	chronic:   100 × n ≥ 66 × N, n results over the limit
//	technical: 100 × n ≥ 33 × N, n results at or over TRC × limit
//
// N all results; TRC 1.4 for BOD, TSS, oil and grease, 1.2 for the others but
// pH, for which there is none.
//
// Source: 40 CFR 403.8(f)(2)(viii)(A) and (B), law in force. Range: at least
// one result. A non-detect is over nothing, unless its reporting limit is: then
// it is undetermined and the share has bounds. Left out: the grounds (C) to (H).
func (n Noncompliance) Solve() (NoncomplianceResult, error) {
	if err := n.faults(); err != nil {
		return NoncomplianceResult{}, err
	}
	rule, factor := published(), published().factorFor(n.Pollutant)
	if n.Minimum && factor.Known() {
		factor = working.Absent[float64]("40 CFR 403.8(f)(2)(viii)(B) multiplies greatest levels, and this limit is a least one")
	}
	chronic, err := n.tally(nil)
	if err != nil {
		return NoncomplianceResult{}, err
	}
	r := NoncomplianceResult{Results: len(n.Results), Over: chronic.over, Undetermined: chronic.undetermined}
	r.ChronicShare = n.share("chronic", chronic, "n = results "+n.side()+" the limit", chronicRule)
	r.Chronic = n.answer("chronic", r.ChronicShare, chronic, rule.chronic, chronicRule)
	if !factor.Known() {
		r.TechnicalShare, r.Technical = working.Absent[float64](factor.Why()), working.Absent[bool](factor.Why())
		r.TechnicalLevel = working.Absent[quantity.Release](factor.Why())
		return r, nil
	}
	technical, err := n.tally(&factor)
	if err != nil {
		return NoncomplianceResult{}, err
	}
	r.OverTechnical, r.UndeterminedTechnical = technical.over, technical.undetermined
	r.TechnicalShare = n.share("technical", technical, "n = results at or over TRC × limit", technicalRule, factor.As("TRC", "technical review factor"))
	r.Technical = n.answer("technical", r.TechnicalShare, technical, rule.technical, technicalRule)
	r.TechnicalLevel = n.level(factor)
	return r, nil
}

func (n Noncompliance) side() string {
	if n.Minimum {
		return "under"
	}
	return "over"
}

// level is the factor times the limit.
func (n Noncompliance) level(factor working.Estimate[float64]) working.Estimate[quantity.Release] {
	if len(n.Limit) > 1 {
		return working.Absent[quantity.Release]("the limit changes with its day")
	}
	limit := n.Limit[0].Value
	return working.Compute(working.Formula{Line: "TRC × limit", Unit: limit.Is().unit, Ref: technicalRule},
		func(working.Case) quantity.Release {
			is, _ := limit.Is().times(exactly(factor)).Release()
			return is
		}, factor.As("TRC", "technical review factor"), limit.As("limit", ""))
}

func (n Noncompliance) limits() []working.Estimate[Level] {
	all := make([]working.Estimate[Level], len(n.Limit))
	for i, l := range n.Limit {
		all[i] = l.Value
	}
	return all
}

// holding is the limit that holds on a day; false where none does, or where it
// cannot be known for want of a day.
func (n Noncompliance) holding(day time.Time) (Level, bool) {
	if len(n.Limit) == 1 && (day.IsZero() || !day.Before(n.Limit[0].Day)) {
		return n.Limit[0].Value.Is(), true
	}
	if day.IsZero() {
		return Level{}, false
	}
	for i := len(n.Limit) - 1; i >= 0; i-- {
		if !day.Before(n.Limit[i].Day) {
			return n.Limit[i].Value.Is(), true
		}
	}
	return Level{}, false
}

// window says that results reach over more than the six months of the rule.
func (n Noncompliance) window() []working.Caveat {
	var first, last time.Time
	for _, r := range n.Results {
		if r.Day.IsZero() {
			continue
		}
		if first.IsZero() || r.Day.Before(first) {
			first = r.Day
		}
		if r.Day.After(last) {
			last = r.Day
		}
	}
	if first.IsZero() || last.Before(first.AddDate(0, 6, 0)) {
		return nil
	}
	return []working.Caveat{"the results reach over more than six months, and the rule looks at six"}
}

func (n Noncompliance) faults() error {
	var faults []error
	if n.Pollutant == "" {
		faults = append(faults, &working.Fault{Where: "pollutant", What: "it is not given", Mend: `name it: pollutant="Zn"`})
	}
	if len(n.Limit) == 0 {
		faults = append(faults, &working.Fault{Where: "limit", What: "it is not given", Mend: `give limit="2.61 mg/L"`})
	}
	if len(n.Results) == 0 {
		faults = append(faults, &working.Fault{Where: "results", What: "there is no result", Mend: `give results="2.5 mg/L; <0.05 mg/L"`})
	}
	if plainName(n.Pollutant) == "ph" {
		for _, l := range n.Limit {
			if !l.Value.Is().IsPH() {
				faults = append(faults, &working.Fault{Where: "limit", What: strconv.Quote(l.Value.Text()) + " is not a pH", Mend: `write a pH as a bare number: limit="9.0"`})
			}
		}
	} else {
		faults = append(faults, n.bareFaults()...)
	}
	if len(n.Limit) == 0 {
		return errors.Join(faults...)
	}
	for i, r := range n.Results {
		if !r.Value.Known() {
			faults = append(faults, placedAt(i, &working.Fault{Where: "results", What: r.Value.Why(), Mend: "give the result, or leave it out"}))
		} else if _, holds := n.holding(r.Day); !holds {
			what, mend := "no limit holds on "+r.Day.Format(time.DateOnly), "give the limit that held then"
			if r.Day.IsZero() {
				what, mend = "it bears no day, and the limit changes", `write the day before it: "2026-03-04 3.2 mg/L"`
			}
			faults = append(faults, placedAt(i, &working.Fault{Where: "results", What: what, Mend: mend}))
		}
	}
	return errors.Join(faults...)
}

// bareFaults: only a pH stands without a unit.
func (n Noncompliance) bareFaults() []error {
	var faults []error
	for _, l := range n.Limit {
		if l.Value.Is().IsPH() {
			faults = append(faults, &working.Fault{Where: "limit", What: strconv.Quote(l.Value.Text()) + " has no unit", Mend: `write it as "2.61 mg/L"; only a pH stands bare`})
		}
	}
	return faults
}
