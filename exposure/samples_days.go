package exposure

import (
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

// values finds the values of all days, and the totals of metals.
func (m *monitor) values() {
	byDay := map[dayKey][]*Result{}
	for _, r := range m.results {
		if hasDays(r.Pollutant) {
			byDay[keyOf(r)] = append(byDay[keyOf(r)], r)
		}
	}
	for _, of := range byDay {
		m.days = append(m.days, m.day(of))
	}
	slices.SortFunc(m.days, func(a, b *ResultDay) int { return compareDays(a.key(), b.key()) })
	m.totals()
	for _, d := range m.days {
		for _, l := range m.limitsOn(d.Point, d.Day, d.Pollutant, chemicals.DailyMaximum) {
			d.Against = append(d.Against, d.against(l))
		}
	}
}

// wanted is the type of sample that a pollutant asks for; empty where no rule
// that is known here says.
func (m *monitor) wanted(point chemicals.Name, of LimitPollutant, day chemicals.Day) chemicals.SampleType {
	for _, h := range chemicals.Facts[chemicals.Monitoring](m.shop) {
		if h.On(day) && h.Is.Type != "" && h.Is.Point.Meaning() == point.Meaning() && m.pollutant(h.Is.Pollutant) == of {
			return h.Is.Type
		}
	}
	if of == "TTO" || !m.underSewerRules(point, day) { // of toxic organics the volatile ones ask for a grab, the others for a composite
		return ""
	}
	if slices.Contains(publishedLimits().grabs.words(), string(of)) {
		return chemicals.Grab
	}
	return chemicals.Composite
}

func (m *monitor) day(of []*Result) *ResultDay {
	first := of[0]
	d := &ResultDay{Point: first.Is.Point, point: first.point, Pollutant: first.Pollutant, Day: first.Date, Own: first.Own}
	used := of
	if len(of) > 1 {
		used = m.rightType(d, of)
	}
	for _, r := range used {
		d.Entries = append(d.Entries, r.Entry)
		f := figureOf(r.Is)
		if f.less {
			d.NonDetects++
		}
		if f.less && !f.level.Known() {
			d.untold++
		}
	}
	d.Concentration = m.concentration(used)
	if len(used) == 1 {
		d.single = used[0]
	}
	d.Mass = massOfDay(d.Concentration, used)
	return d
}

// rightType leaves samples of the wrong type aside, if any is of the right one.
func (m *monitor) rightType(d *ResultDay, of []*Result) []*Result {
	wanted := m.wanted(d.Point, d.Pollutant, d.Day)
	var right []*Result
	for _, r := range of {
		if r.Is.Type == wanted {
			right = append(right, r)
		}
	}
	if len(right) == 0 || len(right) == len(of) {
		return of
	}
	for _, r := range of {
		if r.Is.Type != wanted {
			d.Aside = append(d.Aside, r.Entry)
		}
	}
	return right
}

// concentration is the mean of the results of a day.
func (m *monitor) concentration(of []*Result) working.Estimate[quantity.EffluentConcentration] {
	if len(of) == 1 {
		return m.counted(of[0])
	}
	mean := discharge.Mean{NonDetects: m.treatment}
	for _, r := range of {
		result, err := discharge.ParseResult(resultText(r.Is))
		if err != nil {
			return working.Absent[quantity.EffluentConcentration](err.Error())
		}
		value := source.Value[discharge.Result]{Is: result, Origin: source.Measured, Ref: source.Entry(r.Entry)}
		mean.Results = append(mean.Results, working.Dated[discharge.Result]{Day: r.Date.Time(), Value: working.Given(value, r.Is.Result.String())})
	}
	solved, err := mean.Solve()
	if err != nil {
		return working.Absent[quantity.EffluentConcentration]("the results of the day are not all concentrations")
	}
	return solved.Mean
}

// resultText is a sample's result with the reporting limit that a bare "ND"
// lacks.
func resultText(s chemicals.Sample) string {
	f := figureOf(s)
	if f.less && f.level.Known() && s.Result.String() == "ND" {
		return "<" + f.level.String()
	}
	return s.Result.String()
}

// counted is a single result as it counts in a mean.
func (m *monitor) counted(r *Result) working.Estimate[quantity.EffluentConcentration] {
	f := figureOf(r.Is)
	release, _ := f.level.Release()
	c, ok := release.Concentration()
	switch {
	case !f.level.Known() && m.treatment != discharge.AtZero:
		return working.Absent[quantity.EffluentConcentration](fmt.Sprintf("the non-detect of entry %d has no reporting limit", r.Entry))
	case f.level.Known() && (!ok || limitBasis(f.level) != chemicals.ByConcentration):
		return working.Absent[quantity.EffluentConcentration](fmt.Sprintf("the result of entry %d is not a concentration", r.Entry))
	}
	value := source.Value[quantity.EffluentConcentration]{Is: c, Origin: source.Measured, Ref: source.Entry(r.Entry)}
	if !f.less {
		return working.Given(value, r.Is.Result.String())
	}
	value.Is = m.treatment.Of(c)
	return working.Given(value, r.Is.Result.String()).Between(0, c, r.Is.Result.String())
}

// massOfDay is the mass of the day, of the flow that its samples bear. Where
// they bear several, the greatest is taken.
func massOfDay(c working.Estimate[quantity.EffluentConcentration], of []*Result) working.Estimate[quantity.MassRate] {
	var flow *Result
	several := false
	for _, r := range of {
		if v, ok := releaseOf(r.Is).MassRate(); ok && len(of) == 1 && !r.Is.Result.Less {
			return working.Given(source.Value[quantity.MassRate]{Is: v, Origin: source.Measured, Ref: source.Entry(r.Entry)}, r.Is.Result.String())
		}
		if !r.Is.Flow.Known() {
			continue
		}
		several = several || flow != nil && r.Is.Flow.Is() != flow.Is.Flow.Is()
		if flow == nil || r.Is.Flow.Is() > flow.Is.Flow.Is() {
			flow = r
		}
	}
	switch {
	case flow == nil:
		return working.Absent[quantity.MassRate]("no flow is recorded with the sample")
	case !c.Known():
		return working.Absent[quantity.MassRate](c.Why())
	}
	solved, err := discharge.Mass{Flow: flowOf(flow.Is, flow.Entry), Concentration: c}.Solve()
	if err != nil {
		return working.Absent[quantity.MassRate](err.Error())
	}
	if several {
		return solved.MassRate.WithCaveats("the samples of the day bear several flows; the greatest was taken")
	}
	return solved.MassRate
}

func releaseOf(s chemicals.Sample) quantity.Release {
	r, _ := s.Result.Release()
	return r
}

// against puts the day's value beside a daily maximum. A single result is
// compared as it was typed.
func (d *ResultDay) against(l LimitInForce) ResultAgainst {
	if d.single != nil {
		return figureOf(d.single.Is).against(l, d.single.Is)
	}
	a := ResultAgainst{Limit: l}
	a.Verdict, a.Why = averageAgainst(l, d.Concentration, d.Mass, d.untold, d.NonDetects == len(d.Entries))
	if a.Why == "" && a.Verdict != ResultNotCompared {
		a.Why = "the day's value is " + d.valueText(l.Basis)
	}
	return a
}

func (d *ResultDay) valueText(b chemicals.Basis) string {
	if b == chemicals.ByDay {
		return d.Mass.Text()
	}
	return d.Concentration.Text()
}

// averageAgainst judges a mean. Non-detects alone never put it over a limit,
// and a mean of nothing but non-detects is not under one that their reporting
// limits are over.
func averageAgainst(l LimitInForce, c working.Estimate[quantity.EffluentConcentration], mass working.Estimate[quantity.MassRate], untold int, allLess bool) (ResultVerdict, string) {
	var at func(working.Case) float64
	var text, why string
	known := false
	switch {
	case l.Apart != "":
		return ResultNotCompared, l.Apart
	case l.Basis == chemicals.ByConcentration:
		known, why, text, at = c.Known(), c.Why(), c.Text(), func(k working.Case) float64 { return c.At(k).MilligramsPerLitre() }
	case l.Basis == chemicals.ByDay:
		known, why, text, at = mass.Known(), mass.Why(), mass.Text(), func(k working.Case) float64 { return mass.At(k).GramsPerHour() }
	default:
		return ResultNotCompared, "the limit is not on a concentration or a mass"
	}
	if !known && untold > 0 {
		return ResultUndetermined, why
	}
	if !known {
		return ResultNotCompared, why
	}
	bound, _ := levelNumber(l.Value)
	over := func(k working.Case) bool { return compareFigures(at(k), bound) > 0 }
	switch {
	case over(working.Low):
		return ResultOver, ""
	case untold > 0:
		return ResultUndetermined, "a non-detect has no reporting limit"
	case !over(working.High):
		return ResultNotOver, ""
	case over(working.Likely) || allLess:
		return ResultUndetermined, "it is " + text + "; over the limit only by what the non-detects are counted at"
	}
	return ResultNotOver, "it is " + text + "; over the limit with non-detects at their reporting limits"
}
