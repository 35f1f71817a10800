package sewer

import (
	"cmp"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
)

// result is one figure beside a limit.
type result struct {
	day      chemicals.Day
	is       float64
	decimals int
	less     bool
	over     bool
}

func (r result) number() doc.Number {
	return doc.Number{Is: r.is, Decimals: r.decimals, Below: r.less, Emphasis: Over(r.over)}
}

func furthest(found []result, lowest bool) result {
	best := found[0]
	for _, r := range found[1:] {
		if best.less && !r.less || best.less == r.less && (lowest && r.is < best.is || !lowest && r.is > best.is) {
			best = r
		}
	}
	return best
}

// measured are the figures of the period that a limit is put beside, by day.
func (s *Sections) measured(l exposure.LimitInForce, unit string) []result {
	var all []result
	switch {
	case l.Rule == chemicals.MonthlyAverage || l.Rule == chemicals.FourDayAverage:
		all = s.ofAverages(l, unit)
	case l.Rule == chemicals.DailyMaximum:
		all = s.ofDays(l, unit)
	}
	if len(all) == 0 && l.Rule != chemicals.MonthlyAverage && l.Rule != chemicals.FourDayAverage {
		all = s.ofSamples(l, unit)
	}
	slices.SortStableFunc(all, func(a, b result) int { return cmp.Compare(a.day, b.day) })
	return all
}

// isOver reports whether a figure was over a limit of a kind that was in force
// on its day.
func isOver(against []exposure.ResultAgainst, l exposure.LimitInForce) bool {
	return slices.ContainsFunc(against, func(a exposure.ResultAgainst) bool {
		return a.Verdict == exposure.ResultOver && a.Limit.Rule == l.Rule && a.Limit.Basis == l.Basis && a.Limit.Origin != exposure.LimitForComparison
	})
}

func (s *Sections) ofAverages(l exposure.LimitInForce, unit string) []result {
	var all []result
	for _, a := range s.found.Results.Averages {
		if a.Point.Meaning() != l.Point.Meaning() || a.Pollutant != l.Pollutant || a.Rule != l.Rule {
			continue
		}
		if v, ok := meanIn(l.Basis, a.Concentration, a.Mass, unit); ok {
			r := result{day: a.Span.Last, is: v, decimals: Number(v).Decimals, less: s.noneFound(a.Entries), over: isOver(a.Against, l)}
			if r.less && l.Basis == chemicals.ByConcentration {
				r.decimals = s.decimals(a.Entries[0], r.decimals)
			}
			all = append(all, r)
		}
	}
	return all
}

func (s *Sections) ofDays(l exposure.LimitInForce, unit string) []result {
	var all []result
	for _, d := range s.found.Results.Days {
		if d.Point.Meaning() != l.Point.Meaning() || d.Pollutant != l.Pollutant {
			continue
		}
		if v, ok := meanIn(l.Basis, d.Concentration, d.Mass, unit); ok {
			r := result{day: d.Day, is: v, decimals: Number(v).Decimals, less: s.noneFound(d.Entries), over: isOver(d.Against, l)}
			if len(d.Entries) == 1 && l.Basis == chemicals.ByConcentration {
				r.decimals = s.decimals(d.Entries[0], r.decimals)
			}
			all = append(all, r)
		}
	}
	return all
}

func meanIn(basis chemicals.Basis, c working.Estimate[quantity.EffluentConcentration], m working.Estimate[quantity.MassRate], unit string) (float64, bool) {
	switch {
	case basis == chemicals.ByConcentration && c.Known():
		v, err := quantity.In(c.Is(), unit)
		return v, err == nil
	case basis == chemicals.ByDay && m.Known():
		v, err := quantity.In(m.Is(), unit)
		return v, err == nil
	}
	return 0, false
}

func (s *Sections) ofSamples(l exposure.LimitInForce, unit string) []result {
	var all []result
	for _, r := range s.found.Results.Results {
		if r.Is.Point.Meaning() != l.Point.Meaning() || r.Pollutant != l.Pollutant {
			continue
		}
		if v, ok := inUnit(r.Is.Result.Level, unit); ok {
			number, _, _ := strings.Cut(r.Is.Result.Level.String(), " ")
			all = append(all, result{day: r.Date, is: v, decimals: decimalsOf(number), less: r.Is.Result.Less, over: isOver(r.Against, l)})
		}
	}
	return all
}

// decimals are those of a result as the laboratory wrote it.
func (s *Sections) decimals(entry int64, otherwise int) int {
	r, ok := s.byEntry[entry]
	if !ok {
		return otherwise
	}
	text := r.Is.Result.Level.String()
	if r.Is.Result.Less && r.Is.ReportingLimit.Known() {
		text = r.Is.ReportingLimit.String()
	}
	if number, unit, ok := strings.Cut(text, " "); ok && unit == "mg/L" {
		return decimalsOf(number)
	}
	return otherwise
}

// noneFound reports whether all of some results are non-detects.
func (s *Sections) noneFound(entries []int64) bool {
	for _, entry := range entries {
		if r, ok := s.byEntry[entry]; !ok || !r.Is.Result.Less {
			return false
		}
	}
	return len(entries) > 0
}
