package exposure

import (
	"errors"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

// CyanideLimits are the limits of 40 CFR 433 on cyanide, for a sample of the
// whole effluent.
type CyanideLimits struct {
	Limits []CyanideLimit
	None   bool // such limits bind, but no bath of the book holds cyanide
}

// Caveats are those of the flows that bear cyanide, each once.
func (c CyanideLimits) Caveats() []working.Caveat {
	var all []working.Caveat
	for _, l := range c.Limits {
		for _, caveat := range l.Bearing.Caveats() {
			if !slices.Contains(all, caveat) {
				all = append(all, caveat)
			}
		}
	}
	return all
}

// CyanideLimit is a limit on cyanide where other water dilutes what bears it.
type CyanideLimit struct {
	Limit    LimitInForce
	Baths    []chemicals.Name // that hold cyanide and are rinsed after
	Rinses   []chemicals.Name // behind them, whose water comes to the point
	Bearing  working.Estimate[quantity.Flow]
	Effluent working.Estimate[quantity.Flow]
	Result   working.Estimate[quantity.EffluentConcentration]
}

// CyanideLimits adjusts the limits of 40 CFR 433 on cyanide as 433.12(c) has it
// for a sample of the final effluent. The water that bears cyanide is the fresh
// water of the rinses that stand in a cycle behind a bath that holds cyanide and
// before the next bath, the mean of the days with work; the effluent is the mean
// of the days with work on which water left.
//
// Left out: cyanide from still rinses and dumps, and what drag-in carries past
// the next bath. Limits of part 413 are left as they are: its section on
// monitoring, 413.03, speaks of toxic organics alone, and no other section of it
// was read for the like.
func (water *Water) CyanideLimits(limits []LimitInForce) CyanideLimits {
	var all CyanideLimits
	for _, p := range water.Points {
		var on []LimitInForce
		for _, l := range federalAt(p, limits) {
			if l.onCyanide() && slices.ContainsFunc(l.Sets, StandardSet.inPart433) {
				on = append(on, l)
			}
		}
		if len(on) == 0 {
			continue
		}
		if !water.holdsCyanide() {
			return CyanideLimits{None: true}
		}
		c := water.bearsCyanide(p)
		for _, l := range on {
			all.Limits = append(all.Limits, c.adjust(l))
		}
	}
	return all
}

func (l LimitInForce) onCyanide() bool {
	return l.Pollutant == "CN total" || l.Pollutant == "CN amenable"
}

func (s StandardSet) inPart433() bool { return strings.HasPrefix(string(s), "433 ") }

// adjust is a limit for the effluent with the flows of c.
func (c CyanideLimit) adjust(l LimitInForce) CyanideLimit {
	c.Limit = l
	r, err := discharge.Cyanide{Limit: l.concentration(), CyanideFlow: c.Bearing, Flow: c.Effluent}.Solve()
	c.Result = r.Limit
	if fault := (*working.Fault)(nil); errors.As(err, &fault) {
		c.Result = working.Absent[quantity.EffluentConcentration](fault.What)
	}
	return c
}

// holdsCyanide reports whether any tank did on a day with work, or does on the
// last day.
func (water *Water) holdsCyanide() bool {
	for _, day := range append(slices.Clone(water.Days), water.Period.Last) {
		for tank := range water.w.epochs.on(day).tanks {
			if water.w.cyanideIn(tank, day) {
				return true
			}
		}
	}
	return false
}

// cyanideIn reports whether a tank held cyanide on a day: a substance of that
// group, or cyanide that was made up or found as such.
func (w *walker) cyanideIn(tank string, day chemicals.Day) bool {
	const group, ion = "cyanide", "CN "
	held := w.contents[tank].last(day)
	return slices.Contains(held.groups(), group) || slices.ContainsFunc(held.Contents, func(c Content) bool {
		none := c.Concentration.Known() && grams(c.Concentration, working.High) == 0
		return c.Species != nil && strings.HasPrefix(c.Species.Name, ion) && !none
	})
}

// bearsCyanide is what a limit on cyanide at a point is adjusted by.
func (water *Water) bearsCyanide(p PointUse) CyanideLimit {
	b := bearing{baths: map[string]bool{}, rinses: map[string]bool{}}
	for _, day := range water.Days {
		b.add(water.w, day, p.Point.Is.Name)
	}
	c := CyanideLimit{Baths: water.w.names(b.baths), Rinses: water.w.names(b.rinses), Effluent: p.flowOfWorkday(water.Days)}
	switch {
	case len(water.Days) == 0:
		b.why = "no work is recorded in the period"
	case len(b.rinses) == 0:
		b.why = "no running rinse behind a bath that holds cyanide sends its water to " + p.Point.Is.Name.String()
	case b.litres == 0 && b.why == "":
		b.why = "by the book no water runs into the rinses behind the baths that hold cyanide"
	}
	if b.why != "" {
		c.Bearing = working.Absent[quantity.Flow](b.why)
		return c
	}
	c.Bearing = water.perWorkday(b.litres, "fresh water into the rinses behind baths with cyanide, flows × hours", "water of the period that bears cyanide")
	if p.Meter.Known() {
		c.Bearing = c.Bearing.WithCaveats("the effluent is taken by a meter, the water that bears cyanide by flows and hours: where the two do not agree, the adjusted limit is off by as much")
	}
	return c
}

// bearing is water that bears cyanide, summed over days.
type bearing struct {
	baths, rinses map[string]bool
	litres        float64
	why           string // a flow is not known
}

// add adds the water of a day that comes to a point.
func (b *bearing) add(w *walker, day chemicals.Day, point chemicals.Name) {
	p := w.epochs.on(day)
	enters := map[string]bool{}
	for rinse, after := range w.behindCyanide(p, day) {
		if way := p.wayFrom(rinse); !way.point || way.end.Meaning() != point.Meaning() {
			continue
		}
		b.rinses[rinse], enters[p.entry(rinse)] = true, true
		for _, bath := range after {
			b.baths[bath] = true
		}
	}
	for _, entry := range sortedKeys(enters) {
		if _, known := p.dayFlow(entry); !known && b.why == "" {
			b.why = "the flow of the water into " + p.tanks[entry].Is.Name.String() + " or its hours are not recorded on " + day.String()
		}
		b.litres += p.fresh(p.rinses[entry].Is)
	}
}

// behindCyanide are the rinses with running water that stand in a cycle behind
// baths with cyanide, each with these baths.
func (w *walker) behindCyanide(p *plant, day chemicals.Day) map[string][]string {
	behind := map[string][]string{}
	for _, steps := range p.cycles {
		bath := ""
		for _, s := range steps {
			arrangement := p.rinses[s.tank].Is.Arrangement
			switch {
			case !s.rinse && w.contents[s.tank] != nil && w.cyanideIn(s.tank, day):
				bath = s.tank
			case !s.rinse:
				bath = ""
			case bath != "" && (arrangement == chemicals.Running || arrangement == chemicals.Spray):
				behind[s.tank] = append(behind[s.tank], bath)
			}
		}
	}
	return behind
}

// entry is the rinse at which the fresh water of a rinse comes in.
func (p *plant) entry(rinse string) string {
	for range p.rinses {
		from := p.rinses[rinse].Is.FedFrom.Meaning()
		if _, isTank := p.tanks[from]; !isTank {
			break
		}
		rinse = from
	}
	return rinse
}

// names are tanks in words, by line and place.
func (w *walker) names(tanks map[string]bool) []chemicals.Name {
	var all []chemicals.Name
	for _, tank := range sortedKeys(tanks) {
		all = append(all, w.tank(tank).Is.Name)
	}
	slices.SortStableFunc(all, w.place)
	return all
}
