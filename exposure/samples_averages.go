package exposure

import (
	"cmp"
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// totals adds the day's sum of the metals of 40 CFR 413.02(e), where a limit on
// total metals is in force, the laboratory does not state the sum and states
// each of the metals.
func (m *monitor) totals() {
	parts := publishedLimits().totalMetals.words()
	stated := map[dayKey]bool{}
	byDay := map[dayKey]map[LimitPollutant]*ResultDay{}
	for _, d := range m.days {
		key := d.key()
		key.pollutant = LimitTotalMetals
		if d.Pollutant == LimitTotalMetals {
			stated[key] = true
		}
		if slices.Contains(parts, string(d.Pollutant)) {
			if byDay[key] == nil {
				byDay[key] = map[LimitPollutant]*ResultDay{}
			}
			byDay[key][d.Pollutant] = d
		}
	}
	for key, metals := range byDay {
		var of []*ResultDay
		for _, part := range parts {
			if d := metals[LimitPollutant(part)]; d != nil {
				of = append(of, d)
			}
		}
		if stated[key] || len(m.limits(of[0].Point, key.day).of[LimitTotalMetals]) == 0 {
			continue
		}
		if len(of) < len(parts) {
			if key.own {
				m.unsummed[of[0].Point] = append(m.unsummed[of[0].Point], key.day)
			}
			continue
		}
		m.days = append(m.days, totalOfDay(of))
	}
	slices.SortFunc(m.days, func(a, b *ResultDay) int { return compareDays(a.key(), b.key()) })
}

func totalOfDay(of []*ResultDay) *ResultDay {
	d := &ResultDay{Point: of[0].Point, point: of[0].point, Pollutant: LimitTotalMetals, Day: of[0].Day, Own: of[0].Own}
	var concentrations []working.Estimate[quantity.EffluentConcentration]
	var masses []working.Estimate[quantity.MassRate]
	for _, part := range of {
		concentrations, masses = append(concentrations, part.Concentration), append(masses, part.Mass)
		d.Entries = append(d.Entries, part.Entries...)
		d.NonDetects += part.NonDetects
		d.untold += part.untold
	}
	ref := publishedLimits().totalMetals.ref
	d.Concentration = working.Compute(working.Formula{Line: "total metals = Cu + Ni + Cr + Zn", Unit: "mg/L", Ref: ref}, sumOfCases(concentrations), working.AsList(concentrations, "Cu, Ni, Cr, Zn", "values of the day"))
	d.Mass = working.Compute(working.Formula{Line: "total metals = Cu + Ni + Cr + Zn", Unit: "g/day", Ref: ref}, sumOfCases(masses), working.AsList(masses, "Cu, Ni, Cr, Zn", "masses of the day"))
	return d
}

func sumOfCases[Q ~float64](of []working.Estimate[Q]) func(working.Case) Q {
	return func(at working.Case) Q {
		var sum Q
		for _, e := range of {
			sum += e.At(at)
		}
		return sum
	}
}

// averages are those of the four-day sets and calendar months that end within a
// span, or are not over by its end. Sets of four are counted from the first
// monitoring day of the span; what is left is an average of one to three days.
func (m *monitor) averages(span chemicals.Period) []ResultAverage {
	var all []ResultAverage
	for _, series := range m.series() {
		all = append(all, m.fourDays(series, span)...)
	}
	for _, a := range m.monthly {
		if a.Span.Last >= span.First && a.Span.First <= span.Last {
			all = append(all, a)
		}
	}
	slices.SortStableFunc(all, func(a, b ResultAverage) int {
		return cmp.Or(cmp.Compare(a.Point, b.Point), cmp.Compare(a.Pollutant, b.Pollutant), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Span.First, b.Span.First))
	})
	return all
}

// series are the shop's own days of one pollutant at one point, in order.
func (m *monitor) series() [][]*ResultDay {
	var all [][]*ResultDay
	for i, d := range m.days {
		if !d.Own {
			continue
		}
		if i > 0 && len(all) > 0 {
			before := m.days[i-1].key()
			if k := d.key(); before.point == k.point && before.pollutant == k.pollutant && before.own {
				all[len(all)-1] = append(all[len(all)-1], d)
				continue
			}
		}
		all = append(all, []*ResultDay{d})
	}
	return all
}

func (m *monitor) fourDays(series []*ResultDay, span chemicals.Period) []ResultAverage {
	var within []*ResultDay
	for _, d := range series {
		if span.Holds(d.Day) {
			within = append(within, d)
		}
	}
	var all []ResultAverage
	size := publishedLimits().fourDays.is
	for set := range slices.Chunk(within, size) {
		last := set[len(set)-1]
		limits := m.limitsOn(last.Point, last.Day, last.Pollutant, chemicals.FourDayAverage)
		if len(limits) == 0 {
			continue
		}
		a := averageOf(set, limits)
		a.Span, a.Ended = chemicals.Period{First: set[0].Day, Last: last.Day}, len(set) == size
		if len(set) < size {
			a.caveat(working.Caveat(fmt.Sprintf("an average of %d instead of %d monitoring days: the period holds no more", len(set), size)))
		}
		all = append(all, a)
	}
	return all
}

// months are the averages of all calendar months with a limit on them.
func (m *monitor) months(series []*ResultDay) []ResultAverage {
	var all []ResultAverage
	for first := 0; first < len(series); {
		month := monthOf(series[first].Day)
		next := first
		for next < len(series) && month.Holds(series[next].Day) {
			next++
		}
		days, last := series[first:next], series[next-1]
		first = next
		limits := m.limitsOn(last.Point, last.Day, last.Pollutant, chemicals.MonthlyAverage)
		if len(limits) == 0 {
			continue
		}
		a := averageOf(days, limits)
		a.Span, a.Ended = month, month.Last <= m.shop.AsOf
		if !a.Ended {
			a.caveat(working.Caveat("the month is not over on " + m.shop.AsOf.String()))
		}
		all = append(all, a)
	}
	return all
}

// monthOf is the calendar month that a day lies in.
func monthOf(day chemicals.Day) chemicals.Period {
	first := day[:len("2006-01-")] + "01"
	return chemicals.Period{First: first, Last: chemicals.DayOf(first.Time().AddDate(0, 1, -1))}
}

// averageOf is the mean of the values of days. A day without a value, such as a
// non-detect without a reporting limit, leaves none.
func averageOf(days []*ResultDay, limits []LimitInForce) ResultAverage {
	a := ResultAverage{Point: days[0].Point, Pollutant: days[0].Pollutant, Rule: limits[0].Rule}
	var concentrations []working.Estimate[quantity.EffluentConcentration]
	var masses []working.Estimate[quantity.MassRate]
	less, untold, results := 0, 0, 0
	for _, d := range days {
		a.Days, a.Entries = append(a.Days, d.Day), append(a.Entries, d.Entries...)
		concentrations, masses = append(concentrations, d.Concentration), append(masses, d.Mass)
		less, untold, results = less+d.NonDetects, untold+d.untold, results+len(d.Entries)
	}
	a.Concentration = meanOfDays(concentrations, "mg/L")
	a.Mass = meanOfDays(masses, "g/day")
	for _, l := range limits {
		against := ResultAgainst{Limit: l}
		against.Verdict, against.Why = averageAgainst(l, a.Concentration, a.Mass, untold, less == results)
		a.Against = append(a.Against, against)
	}
	return a
}

func meanOfDays[Q ~float64](days []working.Estimate[Q], unit string) working.Estimate[Q] {
	if len(days) == 1 {
		return days[0]
	}
	sum := sumOfCases(days)
	return working.Compute(working.Formula{Line: "average = Σ values of the days / n", Unit: unit},
		func(at working.Case) Q { return sum(at) / Q(len(days)) }, working.AsList(days, "values", "of the days, in order"))
}

func (a *ResultAverage) caveat(c working.Caveat) {
	a.Concentration, a.Mass = a.Concentration.WithCaveats(c), a.Mass.WithCaveats(c)
}
