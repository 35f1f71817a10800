package discharge

import (
	"math/big"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

func resultsInput() working.Param {
	return working.Param{
		Name: "results", What: "of the laboratory, with their days if the limit changes", Example: "2.5 mg/L; 2026-03-04 3.2 mg/L; <0.05 mg/L",
		Fields: []working.Param{
			{Name: "date", What: "of the sample", Example: "2026-03-04", Optional: true},
			{Name: "result", What: "of the laboratory", Example: "<0.05 mg/L"},
		},
	}
}

func noncomplianceMethod() working.Method {
	return working.Method{
		Name: "discharge.noncompliance",
		Help: "shares of results over a limit in six months",
		Inputs: []working.Param{
			{Name: "pollutant", What: "its name", Example: "Zn"},
			{
				Name: "limit", What: "one, or each with its first day", Example: "2.61 mg/L",
				Fields: []working.Param{
					{Name: "from", What: "first day on which it holds", Example: "2026-01-01", Optional: true},
					{Name: "is", What: "the limit", Example: "2.61 mg/L"},
				},
			},
			resultsInput(),
			{Name: "rule", What: "minimum for the least level that is allowed", Example: "maximum", Optional: true},
		},
		Outputs: []working.Result{
			{Name: "chronic_share", What: "of results over the limit"},
			{Name: "technical_share", What: "of results at or over the technical review level", Optional: true},
			{Name: "chronic", What: "whether the share reaches that of the rule", Optional: true},
			{Name: "technical", What: "whether the share reaches that of the rule", Optional: true},
			{Name: "technical_level", What: "technical review factor times the limit", Optional: true},
			{Name: "undetermined", What: "results that cannot be told, for their reporting limit"},
		},
		Solve: solveNoncompliance,
	}
}

// minimumGuessed says how a bare pH limit was read.
const minimumGuessed working.Caveat = "a limit below pH 7 is taken as the least that is allowed; give rule as maximum if it is the greatest"

func solveNoncompliance(in *working.Inputs) (working.Outputs, error) {
	pollutant := in.Word("pollutant")
	rule := in.Word("rule", "maximum", "daily maximum", "instantaneous maximum", "monthly average", "four-day average", "minimum")
	n := Noncompliance{
		Limit:   working.ByDate(in, "limit", readLevel),
		Results: working.DatedList(in, "results", readResult),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	n.Pollutant = pollutant.Is()
	guessed := !rule.Known() && acidLimit(n.Limit)
	n.Minimum = guessed || rule.Known() && rule.Is() == "minimum"
	r, err := n.Solve()
	if err != nil {
		return nil, err
	}
	if guessed {
		r.ChronicShare, r.Chronic = r.ChronicShare.WithCaveats(minimumGuessed), r.Chronic.WithCaveats(minimumGuessed)
	}
	undetermined := known(max(r.Undetermined, r.UndeterminedTechnical), 0, source.Ref{}, "")
	return working.Outputs{
		{Name: "chronic_share", Value: working.Number(r.ChronicShare, "%")},
		{Name: "technical_share", Value: working.Number(r.TechnicalShare, "%")},
		{Name: "chronic", Value: working.YesNo(r.Chronic)},
		{Name: "technical", Value: working.YesNo(r.Technical)},
		{Name: "technical_level", Value: working.Figure(r.TechnicalLevel, "", "")},
		{Name: "undetermined", Value: working.Count(undetermined)},
	}, nil
}

// acidLimit reports whether the limits are pH values below 7, which discharges
// of a shop are held above.
func acidLimit(limits []working.Dated[Level]) bool {
	neutral := big.NewRat(7, 1)
	for _, l := range limits {
		if is := l.Value.Is(); !is.IsPH() || is.number.Cmp(neutral) >= 0 {
			return false
		}
	}
	return true
}

func meanMethod() working.Method {
	return working.Method{
		Name: "discharge.mean",
		Help: "mean of results, with non-detects counted as declared",
		Inputs: []working.Param{
			resultsInput(),
			{Name: "non_detects", What: "how they count: reporting limit, half or zero", Example: "reporting limit", Optional: true},
		},
		Outputs: []working.Result{
			{Name: "mean", What: "of the results", Optional: true},
			{Name: "non_detects", What: "how many there are"},
		},
		Solve: solveMean,
	}
}

func solveMean(in *working.Inputs) (working.Outputs, error) {
	m := Mean{Results: working.DatedList(in, "results", readResult)}
	if treatment := in.Word("non_detects", treatments[AtReportingLimit:]...); treatment.Known() {
		m.NonDetects, _ = ParseTreatment(treatment.Is()) // it is one of the words
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := m.Solve()
	return working.Outputs{
		{Name: "mean", Value: working.Figure(r.Mean, "mg/L", "mg/L")},
		{Name: "non_detects", Value: working.Count(known(r.NonDetects, 0, source.Ref{}, ""))},
	}, err
}
