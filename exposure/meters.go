package exposure

import (
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// MeterUse is the water of one meter between its first and last reading of the
// period, against what the flows and hours of what it serves come to.
type MeterUse struct {
	Meter   chemicals.Held[chemicals.Meter]
	Period  chemicals.Period // from the first reading to the last
	First   int64            // entries of the two readings
	Last    int64
	Metered working.Estimate[quantity.Volume]
	Rated   working.Estimate[quantity.Volume]
	Share   working.Estimate[float64] // rated of metered
	Longest int                       // days between two readings, the longest
}

// interval is the water between two readings of a meter that follow each other.
type interval struct {
	from, to chemicals.Day // after from, up to to
	litres   float64
}

// readings gives the readings of a meter that rise, and names those that do
// not.
func (w *walker) readings(m chemicals.Held[chemicals.Meter]) []chemicals.Happened[chemicals.MeterRead] {
	var all []chemicals.Happened[chemicals.MeterRead]
	for _, r := range chemicals.Events[chemicals.MeterRead](w.shop) {
		if r.Is.Meter.Meaning() != m.Is.Name.Meaning() {
			continue
		}
		if n := len(all); n > 0 && r.Is.Reading.Is() < all[n-1].Is.Reading.Is() {
			w.gap(Gap{
				Where: "meter " + m.Is.Name.String(), What: fmt.Sprintf("it runs backwards: %s on %s after %s on %s", r.Is.Reading, r.Date, all[n-1].Is.Reading, all[n-1].Date),
				Mend: "correct the reading; where the meter was changed, record the new one under its own name", Entry: r.Entry,
			})
			continue
		}
		all = append(all, r)
	}
	return all
}

func (w *walker) intervals(m chemicals.Held[chemicals.Meter]) []interval {
	var all []interval
	reads := w.readings(m)
	for i := 1; i < len(reads); i++ {
		counts := reads[i].Is.Reading.Is() - reads[i-1].Is.Reading.Is()
		all = append(all, interval{reads[i-1].Date, reads[i].Date, counts * m.Is.Unit.Is().Litres()})
	}
	return all
}

// meterOf finds the meter of a point and by how much the metered water of each
// day differs from the rated: the same for all working days between two
// readings, be they in the period or not.
func (w *walker) meterOf(point chemicals.Name, days map[chemicals.Day]*dayOut) (chemicals.Name, map[chemicals.Day]float64) {
	var name chemicals.Name
	factors := map[chemicals.Day]float64{}
	for _, m := range chemicals.On[chemicals.Meter](w.shop, w.shop.AsOf) {
		if m.Is.Serves.Meaning() != point.Meaning() {
			continue
		}
		name = m.Is.Name
		for _, in := range w.intervals(m) {
			rated := w.ratedOutside(point, in)
			for _, day := range sortedDays(days) {
				if in.from < day && day <= in.to {
					rated += days[day].litres
				}
			}
			for day := range days {
				if in.from < day && day <= in.to && rated > 0 && in.litres > 0 {
					factors[day] = in.litres / rated
				}
			}
		}
	}
	return name, factors
}

// ratedOutside is the rated water of a point on the days of an interval that lie
// outside the period, in L.
func (w *walker) ratedOutside(point chemicals.Name, in interval) float64 {
	first, last := w.shop.Period.First, min(w.shop.Period.Last, w.shop.AsOf)
	if in.from.Add(1) >= first && in.to <= last {
		return 0
	}
	outside := func(day chemicals.Day) bool { return in.from < day && day <= in.to && (day < first || day > last) }
	litres := 0.0
	works := map[chemicals.Day]bool{}
	for _, e := range chemicals.Events[chemicals.Work](w.shop) {
		works[e.Date] = outside(e.Date)
	}
	for _, day := range sortedDays(works) {
		if works[day] {
			litres += w.fresh(w.epochs.on(day), point)
		}
	}
	for _, d := range chemicals.Events[chemicals.Dump](w.shop) {
		if _, end := w.goesTo(w.epochs.on(d.Date), d.Is); outside(d.Date) && end.Known() && end.Meaning() == point.Meaning() {
			litres += d.Is.Volume.Is().Litres()
		}
	}
	return litres
}

func sortedDays[T any](of map[chemicals.Day]T) []chemicals.Day {
	var days []chemicals.Day
	for day := range of {
		days = append(days, day)
	}
	slices.Sort(days)
	return days
}

// Meters compares each meter with what it serves. Water is taken to run on
// days with work.
func (water *Water) Meters() []MeterUse {
	w := water.w
	var uses []MeterUse
	for _, m := range chemicals.On[chemicals.Meter](w.shop, w.shop.AsOf) {
		use := MeterUse{Meter: m}
		reads := slices.DeleteFunc(w.readings(m), func(r chemicals.Happened[chemicals.MeterRead]) bool { return !water.Period.Holds(r.Date) })
		if len(reads) < 2 {
			why := "fewer than two readings of " + m.Is.Name.String() + " lie in the period"
			use.Metered, use.Rated, use.Share = working.Absent[quantity.Volume](why), working.Absent[quantity.Volume](why), working.Absent[float64](why)
			uses = append(uses, use)
			continue
		}
		first, last := reads[0], reads[len(reads)-1]
		use.Period, use.First, use.Last = chemicals.Period{First: first.Date, Last: last.Date}, first.Entry, last.Entry
		for i := 1; i < len(reads); i++ {
			use.Longest = max(use.Longest, reads[i].Date.Since(reads[i-1].Date))
		}
		use.Metered = meteredVolume(m, first, last)
		use.Rated = w.rated(m.Is.Serves, use.Period)
		use.Share = working.Compute(working.Formula{Line: "s = rated / metered", Unit: "%"}, func(c working.Case) float64 {
			return use.Rated.At(c).Litres() / use.Metered.At(c).Litres()
		}, use.Rated.As("rated", "by flows and hours"), use.Metered.As("metered", "by the meter"))
		if use.Metered.Known() && use.Metered.Is() == 0 {
			use.Share = working.Absent[float64]("the meter did not move")
		}
		uses = append(uses, use)
	}
	return uses
}

func meteredVolume(m chemicals.Held[chemicals.Meter], first, last chemicals.Happened[chemicals.MeterRead]) working.Estimate[quantity.Volume] {
	read := func(r chemicals.Happened[chemicals.MeterRead]) working.Estimate[float64] {
		return working.Given(source.Value[float64]{Is: r.Is.Reading.Is(), Origin: source.Measured, Ref: source.Entry(r.Entry)}, r.Is.Reading.String()+" on "+r.Date.String())
	}
	from, to, unit := read(first), read(last), stated(m.Is.Unit, m.Entry, "no unit is recorded")
	return working.Compute(working.Formula{Line: "V = (R₂ − R₁) × u", Unit: "m³"}, func(c working.Case) quantity.Volume {
		return quantity.Volume((to.At(c)-from.At(c))*unit.At(c).Litres()) * quantity.Litre
	}, to.As("R₂", "last reading"), from.As("R₁", "first reading"), unit.As("u", "one count"))
}

// rated is the water that flows and hours give for what a meter serves, over
// the working days after the first reading up to the last.
func (w *walker) rated(serves chemicals.Name, period chemicals.Period) working.Estimate[quantity.Volume] {
	litres, days := 0.0, 0
	for _, day := range w.days {
		if day <= period.First || day > period.Last {
			continue
		}
		days++
		litres += w.fresh(w.epochs.on(day), serves)
	}
	if litres == 0 {
		return working.Absent[quantity.Volume](fmt.Sprintf("nothing that %q serves has a flow and hours", serves))
	}
	return computedVolume(quantity.Volume(litres)*quantity.Litre, fmt.Sprintf("flows × hours over %d days with work", days))
}

// fresh is the fresh water of a working day into what a meter serves, in L.
func (w *walker) fresh(p *plant, serves chemicals.Name) float64 {
	key := serves.Meaning()
	litres := 0.0
	for _, tank := range sortedKeys(p.rinses) {
		r := p.rinses[tank]
		end := p.wayFrom(tank).end
		if key == "shop" || key == tank || key == p.tanks[tank].Is.Line.Meaning() || key == end.Meaning() || key == r.Is.FedFrom.Meaning() {
			litres += p.fresh(r.Is)
		}
	}
	for _, o := range p.others {
		if key == "shop" || key == o.Is.Point.Meaning() || key == o.Is.Name.Meaning() {
			litres += litresADay(o.Is)
		}
	}
	return litres
}

func sortedKeys[V any](of map[string]V) []string {
	var keys []string
	for k := range of {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// computedVolume is a sum that this package made by adding up the days.
func computedVolume(v quantity.Volume, how string) working.Estimate[quantity.Volume] {
	return working.Given(source.Value[quantity.Volume]{Is: v, Origin: source.Computed}, quantity.Print(v, "L", 4)+", "+how)
}

func counted(n int, what string) working.Estimate[int] {
	return working.Given(source.Value[int]{Is: n, Origin: source.Computed}, fmt.Sprintf("%d %s", n, what))
}
