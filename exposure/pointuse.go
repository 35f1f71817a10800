package exposure

import (
	"cmp"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// PointUse is what left at a point over the period.
type PointUse struct {
	Point  chemicals.Held[chemicals.Point]
	Metals []string   // of Water, by which the figures are ordered
	Days   []PointDay // with water, in order
	Months []PointSpan
	Whole  PointSpan
	Meter  chemicals.Name // that the water is taken from; empty where it is rated by flows and hours
}

// PointDay is one day at a point.
type PointDay struct {
	Day     chemicals.Day
	Water   quantity.Volume
	Metered bool
	Grams   []Spread // of each metal
}

// MilligramsPerLitre is the mean concentration of a metal on the day, false
// where no water left.
func (d PointDay) MilligramsPerLitre(metal int) (Spread, bool) {
	return perLitre(d.Grams[metal], d.Water)
}

// PointSpan is a sum over days at a point.
type PointSpan struct {
	Period chemicals.Period
	Days   int
	Water  quantity.Volume
	Grams  []Spread // of each metal, after treatment
	From   []Sender // who sent it, before treatment; of a day or a set of four not said

	means []Spread // mg/L of each metal, where the mean is that of the days
}

// MilligramsPerLitre is the mean concentration of a metal over the span, false
// where no water left: all of the metal in all of the water, and of a set of
// four days the mean of its days.
func (s PointSpan) MilligramsPerLitre(metal int) (Spread, bool) {
	if s.means != nil {
		return s.means[metal], true
	}
	return perLitre(s.Grams[metal], s.Water)
}

func perLitre(grams Spread, water quantity.Volume) (Spread, bool) {
	if water <= 0 {
		return Spread{}, false
	}
	return grams.times(1000 / water.Litres()), true
}

// Sender is a tank whose water carries metal to a point, or that is dumped to it.
type Sender struct {
	Tank  chemicals.Name
	Dump  bool
	Grams []Spread
}

// flowOfWorkday is the mean water at the point of those days on which the shop
// worked.
func (u PointUse) flowOfWorkday(works []chemicals.Day) working.Estimate[quantity.Flow] {
	of := PointUse{Point: u.Point, Metals: u.Metals}
	for _, d := range u.Days {
		if _, works := slices.BinarySearch(works, d.Day); works {
			of.Days = append(of.Days, d)
		}
	}
	of.Whole = of.sum(u.Whole.Period)
	return of.FlowPerDay()
}

// FlowPerDay is the mean water of a day with water at the point.
func (u PointUse) FlowPerDay() working.Estimate[quantity.Flow] {
	if len(u.Days) == 0 {
		return working.Absent[quantity.Flow]("no water is known to leave at " + u.Point.Is.Name.String())
	}
	water := computedVolume(u.Whole.Water, "sum of the days")
	days := counted(len(u.Days), "days with water")
	return working.Compute(working.Formula{Line: "Q = V / N", Unit: "L/day"}, func(c working.Case) quantity.Flow {
		return quantity.Flow(water.At(c).Litres()/float64(days.At(c))) * quantity.LitrePerDay
	}, water.As("V", "water over the period"), days.As("N", "days with water"))
}

// pointUses sums the days of each point.
func (w *walker) pointUses(metals []string) []PointUse {
	at := make([]int, len(metals))
	for i, m := range metals {
		at[i] = slices.Index(w.metals, m)
	}
	pick := func(m masses) []Spread {
		out := make([]Spread, len(at))
		for i, from := range at {
			out[i] = m[from]
		}
		return out
	}
	var uses []PointUse
	for name, days := range w.points {
		use := PointUse{Metals: metals, Point: w.pointNamed(name)}
		meter, factors := w.meterOf(use.Point.Is.Name, days)
		use.Meter = meter
		for day, o := range days {
			one := PointDay{Day: day, Water: quantity.Volume(o.litres) * quantity.Litre, Grams: pick(o.mass)}
			if f, ok := factors[day]; ok {
				one.Water, one.Metered = quantity.Volume(f)*one.Water, true
			}
			use.Days = append(use.Days, one)
		}
		slices.SortFunc(use.Days, func(a, b PointDay) int { return cmp.Compare(a.Day, b.Day) })
		use.Whole = use.sum(chemicals.Period{First: w.shop.Period.First, Last: min(w.shop.Period.Last, w.shop.AsOf)})
		use.Whole.From = w.senders(days, use.Whole.Period, pick)
		for _, month := range months(use.Whole.Period) {
			span := use.sum(month)
			span.From = w.senders(days, month, pick)
			use.Months = append(use.Months, span)
		}
		uses = append(uses, use)
	}
	slices.SortFunc(uses, func(a, b PointUse) int { return cmp.Compare(a.Point.Is.Name, b.Point.Is.Name) })
	return uses
}

func (w *walker) pointNamed(key string) chemicals.Held[chemicals.Point] {
	var found chemicals.Held[chemicals.Point]
	for _, p := range chemicals.Facts[chemicals.Point](w.shop) {
		if p.Is.Name.Meaning() == key {
			found = p
		}
	}
	return found
}

func (u PointUse) sum(period chemicals.Period) PointSpan {
	s := PointSpan{Period: period, Grams: make([]Spread, len(u.Metals))}
	for _, d := range u.Days {
		if !period.Holds(d.Day) {
			continue
		}
		s.Days++
		s.Water += d.Water
		for m := range d.Grams {
			s.Grams[m].add(d.Grams[m])
		}
	}
	return s
}

// senders sums who sent metal to a point.
func (w *walker) senders(days map[chemicals.Day]*dayOut, period chemicals.Period, pick func(masses) []Spread) []Sender {
	sums := senders{}
	for _, day := range sortedDays(days) {
		if period.Holds(day) {
			sums.addAll(days[day].from)
		}
	}
	var all []Sender
	for from, mass := range sums {
		all = append(all, Sender{Tank: w.tank(from.tank).Is.Name, Dump: from.dump, Grams: pick(mass)})
	}
	slices.SortFunc(all, func(a, b Sender) int {
		if at := w.place(a.Tank, b.Tank); at != 0 || !a.Dump {
			return at
		}
		return 1 // a dump behind the water of the same tank
	})
	return all
}

// months are the calendar months of a period, cut at its ends.
func months(p chemicals.Period) []chemicals.Period {
	var all []chemicals.Period
	for first := p.First; first <= p.Last; {
		next := chemicals.DayOf(first.Time().AddDate(0, 1, 1-first.Time().Day()))
		all = append(all, chemicals.Period{First: first, Last: min(next.Add(-1), p.Last)})
		first = next
	}
	return all
}
