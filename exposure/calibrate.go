package exposure

import (
	"cmp"
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

// Calibration is what samples at a point tell of the drag-out of a tank that
// alone sends a metal there, without treatment, and whose film was only
// estimated.
type Calibration struct {
	Tank    chemicals.Name
	Point   chemicals.Name
	Metal   string
	Days    []chemicals.Day // of the samples
	Entries []int64         // of the samples
	// Ratio is the sum of what was sampled over the sum of what was estimated; low
	// and high are those of single days.
	Ratio working.Estimate[float64]
}

// calibrations are those of the period, by tank: of several for one tank that
// with the most days.
func (water *Water) calibrations() map[string]Calibration {
	told := map[string]Calibration{}
	if len(chemicals.Events[chemicals.Sample](water.w.shop)) == 0 {
		return told
	}
	days := newMonitor(water.w.shop, water.w.baths.tables, water.ProcessFlow(), discharge.AtReportingLimit).days
	for _, p := range water.Points {
		for m := range p.Metals {
			c := water.calibration(p, m, days)
			if len(c.Days) >= planned().leastSamples && len(c.Days) > len(told[c.Tank.Meaning()].Days) && water.onlyEstimated(c.Tank) {
				told[c.Tank.Meaning()] = c
			}
		}
	}
	return told
}

// onlyEstimated reports whether no drag-out of a tank in the period is better
// known than by an estimate that holds for any shop.
func (water *Water) onlyEstimated(tank chemicals.Name) bool {
	found := false
	for _, d := range water.DragOuts {
		if d.Tank.Meaning() == tank.Meaning() {
			if d.Film.Way < ByWithdrawal {
				return false
			}
			found = true
		}
	}
	return found
}

// calibration puts the samples of a metal beside the estimates of their days.
// Days on which nothing was found, on which the metal went through a treatment
// or came from more than one bath, or on which a tank was dumped to the point,
// tell nothing of a drag-out.
func (water *Water) calibration(p PointUse, metal int, days []*ResultDay) Calibration {
	c := Calibration{Point: p.Point.Is.Name, Metal: p.Metals[metal]}
	var sampled, estimated float64
	ratio := Spread{}
	for _, d := range days {
		if d.Point.Meaning() != c.Point.Meaning() || string(d.Pollutant) != c.Metal || !water.Period.Holds(d.Day) || !d.Concentration.Known() {
			continue
		}
		r := water.ratio(p, metal, *d)
		if r.Why != "" || r.Less || r.Sampled <= 0 || !r.Calibrates.Known() || water.dumpedTo(p, d.Day) {
			continue
		}
		if c.Tank.Known() && c.Tank.Meaning() != r.Calibrates.Meaning() {
			return Calibration{} // of one bath on one day, of another on the next
		}
		c.Tank = r.Calibrates
		one := r.Sampled / r.Estimate[working.Likely]
		if len(c.Days) == 0 || one < ratio[working.Low] {
			ratio[working.Low] = one
		}
		ratio[working.High] = max(ratio[working.High], one)
		sampled, estimated = sampled+r.Sampled, estimated+r.Estimate[working.Likely]
		c.Days, c.Entries = append(c.Days, d.Day), append(c.Entries, d.Entries...)
	}
	if len(c.Days) == 0 {
		return c
	}
	ratio[working.Likely] = sampled / estimated
	slices.Sort(c.Days)
	said := func(at working.Case) string { return quantity.Significant(ratio[at], 3) }
	value := source.Value[float64]{Is: ratio[working.Likely], Origin: source.Measured, Ref: source.Entry(c.Entries[0])}
	c.Ratio = working.Given(value, said(working.Likely)).Between(ratio[working.Low], ratio[working.High],
		fmt.Sprintf("%s (single days %s to %s; entries %s)", said(working.Likely), said(working.Low), said(working.High), span(c.Entries)))
	return c
}

// dumpedTo reports whether a tank was dumped to a point on a day.
func (water *Water) dumpedTo(p PointUse, day chemicals.Day) bool {
	plant := water.w.epochs.on(day)
	return slices.ContainsFunc(chemicals.Events[chemicals.Dump](water.w.shop), func(d chemicals.Happened[chemicals.Dump]) bool {
		_, point := water.w.goesTo(plant, d.Is)
		return d.Date == day && point.Known() && point.Meaning() == p.Point.Is.Name.Meaning()
	})
}

// calibrated is a film times what samples told of its tank; the film itself
// where they told nothing.
func (f *films) calibrated(tank string, film *Film) *Film {
	c, told := f.told[tank]
	if film == nil || !told || !film.PerArea.Known() {
		return film
	}
	if known, ok := f.scaled[film]; ok {
		return known
	}
	f.scaled[film] = &Film{
		Tank: film.Tank, Way: BySamples,
		What: fmt.Sprintf("%s, %s, × %s by the %s of %d days at %s", film.Way, cmp.Or(film.What, string(film.Tank)), quantity.Significant(c.Ratio.Is(), 3), c.Metal, len(c.Days), c.Point),
		PerArea: working.Compute(working.Formula{Line: "f = f₀ × r", Unit: "L/m²"}, func(at working.Case) quantity.Film {
			return quantity.Film(c.Ratio.At(at)) * film.PerArea.Is()
		}, film.PerArea.As("f₀", film.Way.String()), c.Ratio.As("r", "sampled over estimated at "+c.Point.String())),
	}
	return f.scaled[film]
}
