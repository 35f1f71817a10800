package exposure

import (
	"iter"
	"slices"

	"bathwarden/chemicals"
)

// FourDays are the successive sets of four days with water, without overlap,
// from the first of them on; what is left at the end is no set. The days of the
// rule of 40 CFR 413 are monitoring days, which the samples define (of samples
// see ResultAverage); the estimate knows every day, and takes those with water.
// The mean concentration of a set is that of its days, as the rule takes it, not
// that of all its water.
func (u PointUse) FourDays() []PointSpan {
	var wet []PointDay
	for _, d := range u.Days {
		if d.Water > 0 {
			wet = append(wet, d)
		}
	}
	size := publishedLimits().fourDays.is
	var all []PointSpan
	for set := range slices.Chunk(wet, size) {
		if len(set) == size {
			all = append(all, setOf(set, len(u.Metals)))
		}
	}
	return all
}

// setOf sums days with water and takes the mean of their concentrations.
func setOf(days []PointDay, metals int) PointSpan {
	s := PointSpan{Period: chemicals.Period{First: days[0].Day, Last: days[len(days)-1].Day}, Grams: make([]Spread, metals), means: make([]Spread, metals)}
	for _, d := range days {
		s.Days++
		s.Water += d.Water
		for m := range s.Grams {
			s.Grams[m].add(d.Grams[m])
			c, _ := d.MilligramsPerLitre(m)
			s.means[m].add(c.times(1 / float64(len(days))))
		}
	}
	return s
}

// monthMeans are the calendar months, each with the mean of its days with water,
// as the rule takes it.
func (u PointUse) monthMeans() iter.Seq[PointSpan] {
	return func(yield func(PointSpan) bool) {
		rest := u.Days
		for _, month := range u.Months {
			var wet []PointDay
			for len(rest) > 0 && rest[0].Day <= month.Period.Last {
				if rest[0].Water > 0 {
					wet = append(wet, rest[0])
				}
				rest = rest[1:]
			}
			if len(wet) == 0 {
				continue
			}
			mean := setOf(wet, len(u.Metals))
			mean.Period = month.Period
			if !yield(mean) {
				return
			}
		}
	}
}

// spans are those that the rule of a limit takes its figure of: the sets of
// four days, the calendar months, or, of every other rule, the days.
func (u PointUse) spans(rule chemicals.Rule) iter.Seq[PointSpan] {
	switch rule {
	case chemicals.FourDayAverage:
		return slices.Values(u.FourDays())
	case chemicals.MonthlyAverage:
		return u.monthMeans()
	}
	return func(yield func(PointSpan) bool) {
		for _, d := range u.Days {
			if !yield(PointSpan{Period: chemicals.Period{First: d.Day, Last: d.Day}, Days: 1, Water: d.Water, Grams: d.Grams}) {
				return
			}
		}
	}
}

// Worst is the day, the set of four days or the month, as the rule of a limit
// takes it, in which most of a metal leaves by its high estimate: by
// concentration, or by mass where the limit is on the mass of a day. It is false
// where there is none, such as a set of four in fewer days.
func (u PointUse) Worst(metal int, rule chemicals.Rule, basis chemicals.Basis) (PointSpan, bool) {
	return worstOf(u.spans(rule), metal, basis)
}

func worstOf(spans iter.Seq[PointSpan], metal int, basis chemicals.Basis) (PointSpan, bool) {
	var worst PointSpan
	most, found := 0.0, false
	for s := range spans {
		is, known := s.On(basis, metal)
		if high := is.Highest(); known && (!found || high > most) {
			worst, most, found = s, high, true
		}
	}
	return worst, found
}

// On is the mean of a metal over the span on the basis of a limit: mg/L, or g
// for a day with water. It is false on any other basis, and where there is none.
func (s PointSpan) On(basis chemicals.Basis, metal int) (Spread, bool) {
	switch basis {
	case chemicals.ByConcentration:
		return s.MilligramsPerLitre(metal)
	case chemicals.ByDay:
		if s.Days > 0 {
			return s.Grams[metal].times(1 / float64(s.Days)), true
		}
	}
	return Spread{}, false
}
