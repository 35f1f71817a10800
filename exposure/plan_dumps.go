package exposure

import (
	"fmt"
	"math"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

// dumpTo is a tank and the point that its dumps come to, by their meaning.
type dumpTo struct{ tank, point string }

// dumped are the dumps of a tank on a day.
type dumped []struct {
	litres float64
	to     string // a tank or a point
}

func (d dumped) litres() float64 {
	sum := 0.0
	for _, one := range d {
		sum += one.litres
	}
	return sum
}

// moves are the dumps with what was in them: one solution, by their volumes.
func (d dumped) moves(mass masses) []move {
	all := make([]move, len(d))
	for i, one := range d {
		all[i] = move{one.to, inflow{one.litres, mass.times(same(one.litres / d.litres()))}}
	}
	return all
}

// dumpsOf are the dumps of the period that come to a point.
func (b *planner) dumpsOf() map[dumpTo]map[chemicals.Day]dumped {
	all := map[dumpTo]map[chemicals.Day]dumped{}
	for _, d := range chemicals.Events[chemicals.Dump](b.w.shop) {
		to, point := b.w.goesTo(b.w.epochs.on(d.Date), d.Is)
		if !point.Known() || !b.water.Period.Holds(d.Date) {
			continue
		}
		key := dumpTo{d.Is.Tank.Meaning(), point.Meaning()}
		if all[key] == nil {
			all[key] = map[chemicals.Day]dumped{}
		}
		if litres := d.Is.Volume.Is().Litres(); litres > 0 {
			all[key][d.Date] = append(all[key][d.Date], dumped{{litres, to.Meaning()}}...)
		}
	}
	return all
}

// dumpWays are those for tanks whose dumps bring metal to a point.
func (b *planner) dumpWays() []Way {
	var ways []Way
	for _, p := range b.water.Points {
		for _, s := range p.Whole.From {
			c := dumpCase{dumpTo: dumpTo{s.Tank.Meaning(), p.Point.Is.Name.Meaning()}, point: p, sent: s.Grams}
			for _, day := range sortedDays(b.dumps[c.dumpTo]) {
				litres := b.dumps[c.dumpTo][day].litres()
				c.litres, c.most = c.litres+litres, max(c.most, litres)
			}
			if _, stands := b.w.epochs.on(b.water.Period.Last).tanks[c.tank]; !s.Dump || !stands || c.litres == 0 {
				continue
			}
			ways = append(ways, b.asItIs(b.startDump(c, AsItIs), "what is dumped from it goes to "))
			for _, way := range []func(dumpCase) (Way, bool){b.dumpHauled, b.dumpBack, b.dumpTreated, b.letIn} {
				if w, ok := way(c); ok {
					ways = append(ways, b.judged(w))
				}
			}
		}
	}
	return ways
}

// dumpCase is a tank with the dumps of the period that come to one point.
type dumpCase struct {
	dumpTo
	point  PointUse
	sent   []Spread
	litres float64 // in all
	most   float64 // on one day
}

func (b *planner) startDump(c dumpCase, kind WayKind) Way {
	return Way{
		Of: []chemicals.Name{b.w.tank(c.tank).Is.Name}, Point: c.point.Point.Is.Name, Dump: true, Kind: kind,
		Sent: c.sent, Part: make([]Spread, len(c.sent)), change: change{dump: c.dumpTo, flow: -1},
	}
}

// dumpMoves are those of a way for dumps.
func (b *planner) dumpMoves(w Way) map[chemicals.Day][]move {
	all := map[chemicals.Day][]move{}
	key := w.change.dump
	free := 0 // the first day with work on which nothing is let in yet
	for _, day := range sortedDays(b.dumps[key]) {
		out := b.w.points[key.point][day]
		if out == nil || out.from[sender{key.tank, true}] == nil || w.Kind == BatchTreatment && !b.treatsOn(w, day) {
			continue
		}
		dumps := b.dumps[key][day].moves(out.from[sender{key.tank, true}])
		for _, m := range dumps {
			all[day] = append(all[day], m.less())
			if w.Kind == BatchTreatment {
				all[day] = append(all[day], move{w.treat, m.inflow})
			}
		}
		from, _ := slices.BinarySearch(b.water.Days, day)
		free = max(free, from)
		for range w.over {
			if free < len(b.water.Days) { // else it comes behind the period
				for _, m := range dumps {
					all[b.water.Days[free]] = append(all[b.water.Days[free]], m.by(1/float64(w.over)))
				}
			}
			free++
		}
	}
	return all
}

func (b *planner) dumpHauled(c dumpCase) (Way, bool) {
	w := b.startDump(c, HoldAndHaul)
	w.keep(same(1))
	w.Hauled = c.litres * b.perYear
	w.What = fmt.Sprintf("what is dumped from it, %s in the period, is held and hauled", b.litres(c.litres))
	w.Needs = []string{"drums or a hold tank of its own, and a hauler who takes it"}
	return w, true
}

// dumpBack is for still rinses: what they hold is the bath, thinned.
func (b *planner) dumpBack(c dumpCase) (Way, bool) {
	if b.w.pools[c.tank] == nil {
		return Way{}, false
	}
	w := b.startDump(c, BackToBath)
	w.keep(same(1))
	bath := b.bathBefore(c.tank)
	w.What = fmt.Sprintf("what is dumped from it, %s in the period, goes back into %s", b.litres(c.litres), bath.Is.Name)
	w.change.toBath = bath.Is.Name.Meaning()
	loss, known := b.loss[bath.Is.Name.Meaning()]
	takes := 0.0
	if known {
		takes = loss.Day.At(working.Low).Litres() * float64(len(b.water.Days))
	}
	switch {
	case bath.Is.Name == "":
		w.LeftOut = "no one bath before it is known"
	case slices.Contains(b.rules.fouled, bath.Is.Purpose):
		w.LeftOut = "a bath that " + string(bath.Is.Purpose) + "s is fouled by what comes back"
	case !known:
		w.Open = "how much water " + bath.Is.Name.String() + " loses is not known: record its temperature, heated hours, length and width"
	case takes < c.litres:
		w.LeftOut = fmt.Sprintf("%s loses %s of water in the period by the low estimate, less than that", bath.Is.Name, b.litres(takes))
	}
	w.Notes = append(w.Notes, "what fouls the bath comes back too: brightener breakdown, dissolved work, drag-in")
	return w, true
}

// dumpTreated is treatment for dumps that have none on their way.
func (b *planner) dumpTreated(c dumpCase) (Way, bool) {
	for _, day := range b.dumps[c.dumpTo] {
		for _, d := range day {
			if len(b.treatments(d.to)) > 0 {
				return Way{}, false
			}
		}
	}
	bath := c.tank
	if before := b.bathBefore(c.tank); before.Is.Name.Known() {
		bath = before.Is.Name.Meaning()
	}
	w := b.startDump(c, BatchTreatment)
	b.batch(&w, bath, "what is dumped from it", b.litres(c.most)+" at a time")
	return w, true
}

// letIn spreads each dump over days with work, so many that even the one that
// wants the most keeps the point under its limits.
func (b *planner) letIn(c dumpCase) (Way, bool) {
	w := b.startDump(c, LetIn)
	hauled, _ := b.dumpHauled(c)
	at := slices.IndexFunc(b.points, func(p PointUse) bool { return p.Point.Is.Name == c.point.Point.Is.Name })
	without := b.trial(hauled, false)[at]
	flow := b.leastFlow(without)
	most := 0.0 // days that a dump takes
	binding, litres := "", 0.0
	for _, day := range sortedDays(b.dumps[c.dumpTo]) {
		for _, ceiling := range b.ceilings {
			if ceiling.Rule != chemicals.DailyMaximum || ceiling.Unsure {
				continue
			}
			found, binds := b.bleed(c, day, ceiling, without, flow)
			if !binds {
				continue
			}
			dump := b.dumps[c.dumpTo][day].litres()
			if days := dump / letInADay(found); days > most {
				most, binding, litres, w.LetIn = days, ceiling.Metal, dump, found
			}
		}
	}
	if binding == "" {
		return w, false // no limit is on what is in it
	}
	w.What = fmt.Sprintf("what is dumped from it is let in at no more than %s on a day with work, at which %s comes to its limit", b.litres(letInADay(w.LetIn)), binding)
	w.Needs = []string{"a hold tank for " + b.litres(c.most) + ", which the book does not show, with a valve or pump that holds so small a flow"}
	w.Notes = append(w.Notes, "a discharge of a new kind is to be notified to the control authority beforehand, 40 CFR 403.12(j)")
	w.over = int(math.Ceil(most - hair))
	switch {
	case flow.Is() <= 0:
		w.over, w.LeftOut = 0, "on a day with work no other water is known to leave there"
	case math.IsInf(most, 1):
		w.over, w.LeftOut = 0, "the other water alone reaches the limit for "+binding+": there is no room for it"
	case w.over < 2 && !b.onFreeDay(c):
		return w, false // it has room in one day as it is
	case w.over < 2:
		w.What += ", and not on a day without work"
	default:
		w.What += fmt.Sprintf(": %s over %d days", b.litres(litres), w.over)
	}
	return w, true
}

// onFreeDay reports whether a dump was on a day without work.
func (b *planner) onFreeDay(c dumpCase) bool {
	for day := range b.dumps[c.dumpTo] {
		if _, works := slices.BinarySearch(b.water.Days, day); !works {
			return true
		}
	}
	return false
}

// letInADay is the high case of a flow that is let in, in L on a day.
func letInADay(flow working.Estimate[quantity.Flow]) float64 {
	return flow.At(working.High).LitresPerHour() * 24
}

// leastFlow is the least water of a point on a day with work.
func (b *planner) leastFlow(p PointUse) working.Estimate[quantity.Flow] {
	water := map[chemicals.Day]float64{}
	for _, day := range p.Days {
		water[day.Day] = day.Water.Litres()
	}
	least := math.Inf(1)
	for _, day := range b.water.Days {
		least = math.Min(least, water[day])
	}
	return computed(quantity.Flow(least)*quantity.LitrePerDay, quantity.Significant(least, 4)+" L/day, the least of a day with work")
}

// bleed is the flow of a dump at which a metal comes to a daily limit, beside
// what else is in the water by the high estimate of the worst day without it. It
// binds nothing where none of the metal is in the dump, or where treatment
// leaves as little with the dump as without.
func (b *planner) bleed(c dumpCase, day chemicals.Day, ceiling Ceiling, without PointUse, flow working.Estimate[quantity.Flow]) (working.Estimate[quantity.Flow], bool) {
	none := working.Absent[quantity.Flow]("")
	m, out := slices.Index(c.point.Metals, ceiling.Metal), b.w.points[c.dumpTo.point][day]
	if m < 0 || ceiling.Point.Meaning() != c.dumpTo.point || out == nil || out.from[sender{c.tank, true}] == nil {
		return none, false
	}
	at := slices.Index(b.w.metals, ceiling.Metal)
	mass := b.w.masses()
	mass[at] = out.from[sender{c.tank, true}][at]
	grams, litres, past := mass[at][working.High], b.dumps[c.dumpTo][day].litres(), 0.0
	dumps := b.dumps[c.dumpTo][day].moves(mass)
	for i := range dumps {
		dumps[i] = dumps[i].less()
	}
	if end, some := b.ends(day, dumps)[c.dumpTo.point]; some {
		past = -end.mass[at][working.High]
	}
	if grams <= 0 || past <= 0 {
		return none, false
	}
	base := 0.0
	if worst, ok := without.Worst(m, ceiling.Rule, chemicals.ByConcentration); ok {
		mean, _ := worst.MilligramsPerLitre(m)
		base = mean.Highest()
	}
	removal := math.Min(1-past/grams, 1-hair)
	r, err := discharge.Bleed{
		Limit: limited(ceiling), Flow: flow, Removal: computed(removal, quantity.Significant(100*removal, 4)+" % of the dump, through its treatment"),
		Base: computed(quantity.EffluentConcentration(base/(1-removal))*quantity.MilligramPerLitre, quantity.Significant(base/(1-removal), 3)+" mg/L before the same treatment, high estimate of the worst day without it"),
		Bath: computed(quantity.GramsPerLitre(grams/litres), quantity.Significant(grams/litres, 3)+" g/L in the dump"),
	}.Solve()
	return r.Flow, err == nil && r.Flow.Known()
}

func computed[Q any](is Q, text string) working.Estimate[Q] {
	return working.Given(source.Value[Q]{Is: is, Origin: source.Computed}, text)
}

func limited(c Ceiling) working.Estimate[quantity.EffluentConcentration] {
	value := source.Value[quantity.EffluentConcentration]{Is: quantity.EffluentConcentration(c.Limit) * quantity.MilligramPerLitre, Origin: source.Published, Ref: c.Ref}
	if c.Entry != 0 {
		value.Origin, value.Ref = source.Recorded, source.Entry(c.Entry)
	}
	return working.Given(value, quantity.Plain(c.Limit)+" mg/L")
}

func (b *planner) bathBefore(rinse string) chemicals.Held[chemicals.Tank] {
	for _, r := range b.water.Rinses {
		if r.Tanks[0].Meaning() == rinse {
			return b.w.tank(r.After.Meaning())
		}
	}
	return chemicals.Held[chemicals.Tank]{}
}
