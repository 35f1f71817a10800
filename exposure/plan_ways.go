package exposure

import (
	"fmt"
	"math"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/rinse"
)

// perWorkday is water of a rinse on a working day, in L.
func perWorkday(flow working.Estimate[quantity.Flow], hours float64) (float64, bool) {
	if !flow.Known() || hours <= 0 {
		return 0, false
	}
	return flow.At(working.High).LitresPerHour() * hours, true
}

func (b *planner) rinseWays(r RinseUse) []Way {
	first := r.Tanks[0].Meaning()
	p, ok := b.point(first)
	if !ok || r.Still != nil || r.Set.Is.Arrangement == chemicals.ResinLoop {
		return nil
	}
	plant := b.w.epochs.on(b.water.Period.Last)
	hours := plant.hours(r.Feed.Is)
	now, flows := perWorkday(r.Water, hours)
	base := rinseCase{use: r, point: p, hours: hours, now: now, flows: flows, sent: b.sent(first), feeds: plant.feeds[first], fedBy: plant.fedBy(r.Feed.Is)}
	ways := []Way{b.asItIs(base.start(AsItIs), "its water runs to ")}
	for _, way := range []func(rinseCase) (Way, bool){b.setFlow, b.moreStages, b.stillHauled, b.stillReturned, b.holdAndHaul, b.treated} {
		if w, ok := way(base); ok {
			ways = append(ways, b.judged(base.fed(w)))
		}
	}
	return ways
}

// rinseCase is a rinse as it runs now.
type rinseCase struct {
	use   RinseUse
	point PointUse
	feeds chemicals.Name // the rinse that gets its water
	fedBy chemicals.Name // the rinse whose water it gets
	hours float64
	now   float64 // L of water on a working day
	flows bool    // now is known
	sent  []Spread
}

// fed leaves a way out that changes the water of another rinse too: of the one
// behind it, or of the one whose water it gets.
func (c rinseCase) fed(w Way) Way {
	switch {
	case w.Kind == StillHauled || w.Kind == StillReturned:
	case c.feeds.Known():
		w.LeftOut = "its water feeds " + c.feeds.String() + ", which would get less or none"
	case c.fedBy.Known():
		w.LeftOut = "its water is that of " + c.fedBy.String() + " and carries what " + c.fedBy.String() + " sends; the two can only be changed together"
	}
	return w
}

// keepsLast is the least part that a still rinse ahead keeps on a day.
func (c rinseCase) keepsLast(litres float64, every int) Spread {
	loads := int(math.Round(float64(c.use.Loads) / float64(c.use.Days)))
	dragIn := spreadOf(c.use.DragInDay, quantity.Volume.Litres)
	return keepsLast(dragIn, loadsOf(dragIn, loads, litres), litres, every)
}

// unknown says why the water of the rinse on a working day is not known.
func (c rinseCase) unknown() string {
	if !c.use.Water.Known() {
		return c.use.Water.Why()
	}
	return "the hours that its water runs are not recorded"
}

func (c rinseCase) start(kind WayKind) Way {
	return Way{Of: c.use.Tanks, Point: c.point.Point.Is.Name, Kind: kind, Sent: c.sent, Part: make([]Spread, len(c.sent)), change: change{rinse: c.use.Tanks[0].Meaning(), feed: c.use.Feed.Is.Tank.Meaning(), flow: -1}}
}

// asItIs is the shop as it stands, for comparison.
func (b *planner) asItIs(w Way, what string) Way {
	w.What = what + w.Point.String()
	w = b.judged(w)
	w.Open, w.LeftOut = "", "it is the shop as it stands, for comparison"
	return w
}

func (b *planner) setFlow(c rinseCase) (Way, bool) {
	w := c.start(SetFlow)
	if !c.use.Needed.Known() || !c.flows {
		w.Open = c.use.Needed.Why()
		if !c.flows {
			w.Open = c.unknown()
		}
		w.What = "the flow that is wanted cannot be told"
		return w, c.use.Set.Is.Arrangement == chemicals.Running
	}
	perHour, note := b.stepped(c, len(c.use.Tanks), c.use.Needed.At(working.High).LitresPerHour())
	needed := perHour * c.hours
	if math.Abs(needed-c.now) < b.rules.worth*c.now {
		return w, false
	}
	w.change.flow, w.flow = needed, perHour
	w.Water = b.spared(w)
	direction := "less"
	if needed > c.now {
		direction = "more"
	}
	w.What = fmt.Sprintf("%s water: %s instead of %s, by the high estimate of the drag-in", direction, b.print(quantity.Flow(perHour)*quantity.LitrePerHour), c.use.Water.Text())
	w.Needs = []string{"a flow restrictor or valve that holds the flow"}
	if note != "" {
		w.Notes = append(w.Notes, note)
	}
	return w, true
}

func (b *planner) moreStages(c rinseCase) (Way, bool) {
	w := c.start(OneMoreStage)
	if c.use.Set.Is.Arrangement != chemicals.Running || !c.use.Wanted.Known() || !c.use.DragIn.Known() || !c.flows {
		return w, false
	}
	n := counted(len(c.use.Tanks)+1, "stages")
	flow, ok := neededFlow(c.use, n, mixingOf(c.use.Feed))
	if !ok {
		return w, false
	}
	perHour, note := b.stepped(c, len(c.use.Tanks)+1, flow.At(working.High).LitresPerHour())
	litres := perHour * c.hours
	if litres >= c.now {
		return w, false
	}
	if note != "" {
		w.Notes = append(w.Notes, note)
	}
	w.change.flow, w.change.stages, w.flow = litres, 1, perHour
	w.Water = b.spared(w)
	w.What = fmt.Sprintf("%d stages with %s instead of %s", len(c.use.Tanks)+1, b.print(quantity.Flow(perHour)*quantity.LitrePerHour), c.use.Water.Text())
	w.Needs = []string{fmt.Sprintf("one more rinse tank beside %s, which the book does not show, with its room in the line", c.use.Tanks[0]), "piping against the work, and a valve that holds the flow"}
	return w, true
}

// caught is the part of what comes in that a still rinse of the size of the
// first tank holds when it is emptied after some days, with even work.
func (b *planner) caught(c rinseCase, days int) (working.Estimate[float64], bool) {
	tank := b.w.tank(c.use.Tanks[0].Meaning())
	n := counted(days, "days with work")
	perDay := float64(max(c.use.Loads, c.use.Days)) / float64(c.use.Days)
	loads := counted(max(1, int(math.Round(perDay*float64(days)))), "loads of these days")
	dragIn := working.Compute(working.Formula{Line: "D = d × n", Unit: "L"}, func(k working.Case) quantity.Volume {
		return c.use.DragInDay.At(k) * quantity.Volume(n.At(k))
	}, c.use.DragInDay.As("d", "drag-in of a day"), n.As("n", "days between two emptyings"))
	r, err := rinse.Held{Volume: stated(tank.Is.WorkingVolume, tank.Entry, ""), DragIn: dragIn, Loads: loads}.Solve()
	return r.Share, err == nil && r.Share.Known()
}

func (b *planner) stillHauled(c rinseCase) (Way, bool) {
	w, litres, ok := b.still(c, StillHauled)
	if !ok {
		return w, false
	}
	days := b.rules.hauledEvery
	if w.Caught, ok = b.caught(c, days); !ok {
		return w, false
	}
	w.change.still, w.last = &trial{pool: pool{volume: litres}, every: days}, c.keepsLast(litres, days)
	w.keep(spreadOf(w.Caught, asIs))
	w.Hauled = litres / float64(days) * b.workdays()
	w.What = fmt.Sprintf("a still rinse of %s ahead of %s, hauled every %d days with work", b.litres(litres), c.use.Tanks[0], days)
	w.Needs = append(w.Needs, "drums or a tank for what is hauled, and a hauler who takes it")
	return w, true
}

// still begins a way with a still rinse of the size of the rinse it stands ahead of.
func (b *planner) still(c rinseCase, kind WayKind) (Way, float64, bool) {
	w := c.start(kind)
	tank := b.w.tank(c.use.Tanks[0].Meaning())
	if !tank.Is.WorkingVolume.Known() || c.use.Lead == "" || !c.use.DragInDay.Known() || c.use.Set.Is.Arrangement != chemicals.Running {
		return w, 0, false
	}
	if b.afterStill(c) {
		return w, 0, false
	}
	w.Needs = []string{fmt.Sprintf("a tank of %s ahead of %s, which the book does not show, with its room in the line", tank.Is.WorkingVolume, c.use.Tanks[0])}
	return w, tank.Is.WorkingVolume.Is().Litres(), true
}

// afterStill reports whether a still rinse stands before the rinse already.
func (b *planner) afterStill(c rinseCase) bool {
	plant := b.w.epochs.on(b.water.Period.Last)
	for _, steps := range plant.cycles {
		for i := 1; i < len(steps); i++ {
			if steps[i].tank == c.use.Tanks[0].Meaning() && plant.rinses[steps[i-1].tank].Is.Arrangement == chemicals.Still {
				return true
			}
		}
	}
	return false
}

func (b *planner) stillReturned(c rinseCase) (Way, bool) {
	w, litres, ok := b.still(c, StillReturned)
	bath := b.w.tank(c.use.After.Meaning())
	if !ok || slices.Contains(b.rules.fouled, bath.Is.Purpose) {
		return w, false
	}
	w.What = fmt.Sprintf("a still rinse of %s ahead of %s, back into %s as its water evaporates", b.litres(litres), c.use.Tanks[0], c.use.After)
	loss, known := b.loss[c.use.After.Meaning()]
	if !known || loss.Day.At(working.Low).Litres() <= 0 {
		w.Open = "how much water " + c.use.After.String() + " loses is not known: record its temperature, heated hours, length and width"
		return w, true
	}
	days := max(1, int(math.Ceil(litres/loss.Day.At(working.Low).Litres())))
	if w.Caught, ok = b.caught(c, days); !ok {
		return w, false
	}
	w.change.still, w.last = &trial{pool: pool{volume: litres}, every: days, toBath: true}, c.keepsLast(litres, days)
	w.keep(spreadOf(w.Caught, asIs))
	w.What += fmt.Sprintf(": all of it every %d days with work, by the low estimate of the water lost (%s to %s)", days, b.print(loss.Low.Is()), b.print(loss.High.Is()))
	w.Notes = append(w.Notes, "what fouls the bath comes back too: brightener breakdown, dissolved work, drag-in")
	b.worth(&w, c)
	return w, true
}

// keep books the part of a tank's metal that is sent no longer.
func (w *Way) keep(part Spread) {
	for m := range w.Part {
		w.Part[m] = part
	}
}

// worth is the value of what goes back into the bath: more than what is kept
// from the drain, where treatment would have taken some.
func (b *planner) worth(w *Way, c rinseCase) {
	w.Value = Cost{Why: "no price of a metal that comes back is recorded"}
	for _, m := range c.use.Metals {
		p, ok := b.prices[chemicals.Fold(m.Metal)]
		at := slices.Index(c.point.Metals, m.Metal)
		if !ok || at < 0 || c.sent[at][working.Likely] == 0 {
			continue
		}
		perMass, byMass := p.Is.Amount.Is().PerMass()
		if !byMass {
			continue
		}
		if w.Value.Currency != "" && w.Value.Currency != p.Is.Amount.Is().Currency() {
			w.Value = Cost{Why: "the prices of its metals are in more than one currency"}
			return
		}
		back := m.Kept()[working.Likely] * w.Part[at][working.Likely] * b.perYear
		w.Value = Cost{Sum: w.Value.Sum + back*perMass.PerGram(), Currency: p.Is.Amount.Is().Currency()}
	}
}

func (b *planner) holdAndHaul(c rinseCase) (Way, bool) {
	w := c.start(HoldAndHaul)
	if !c.flows {
		w.Open, w.What = c.unknown(), "its water is held and hauled"
		return w, true
	}
	if c.now <= 0 {
		return w, false
	}
	w.change.haul = true
	w.keep(same(1))
	w.Hauled = b.spared(w)
	w.What = fmt.Sprintf("all its water, %s on a day of work, is held and hauled", b.litres(c.now))
	w.Needs = []string{"a hold tank of its own, which the book does not show, for the days between two pick-ups", "a hauler who takes it"}
	return w, true
}

// treated is treatment for the water of a rinse that has none on its way.
func (b *planner) treated(c rinseCase) (Way, bool) {
	w := c.start(BatchTreatment)
	if len(b.treatments(c.use.Tanks[0].Meaning())) > 0 || c.use.Lead == "" {
		return w, false
	}
	if b.batch(&w, c.use.After.Meaning(), "its water", b.litres(c.now)+" a day"); !c.flows && w.Open == "" {
		w.Open = c.unknown()
	}
	return w, true
}

// treatments are those on the way of the water from a tank.
func (b *planner) treatments(tank string) []string {
	plant := b.w.epochs.on(b.water.Period.Last)
	var all []string
	for _, on := range plant.wayFrom(tank).tanks {
		if plant.tanks[on].Is.Purpose == chemicals.Treat {
			all = append(all, on)
		}
	}
	return all
}

// batch puts what comes from behind a bath through the first treatment tank of
// the shop.
func (b *planner) batch(w *Way, bath, what, room string) {
	plant := b.w.epochs.on(b.water.Period.Last)
	tanks := sortedKeys(plant.tanks)
	first := slices.IndexFunc(tanks, func(tank string) bool { return plant.tanks[tank].Is.Purpose == chemicals.Treat })
	if first < 0 {
		w.What, w.Open = what+" is treated in batches", "the shop has no treatment tank in the book, so what one would take out is not known"
		w.Needs = []string{"a treatment tank, with leave of the authority to run it"}
		return
	}
	w.treat = tanks[first]
	name := plant.tanks[w.treat].Is.Name.String()
	w.What = fmt.Sprintf("%s goes through %s first", what, name)
	w.Needs = []string{fmt.Sprintf("piping to %s, and room in it for %s", name, room)}
	w.keep(same(1))
	if w.LeftOut = b.meets(bath, w.treat); w.LeftOut != "" {
		return
	}
	if way := plant.wayFrom(w.treat); !way.point || way.loops {
		w.Open = "by the book the water of " + name + " comes to no point: record what it drains to"
		if way.end.Meaning() == chemicals.Haul.Meaning() {
			w.Open, w.LeftOut = "", "the water of "+name+" is hauled, so that this is holding and hauling"
		}
		return
	}
	for m, metal := range b.water.Metals {
		if _, said := plant.removals[treated{w.treat, chemicals.Fold(metal)}]; !said && w.Sent[m] != (Spread{}) {
			w.Open = "the book does not say what share of " + metal + " " + name + " takes out"
		}
	}
}

// spared is the fresh water that does not run with a way, or that is hauled, in L
// a year.
func (b *planner) spared(w Way) float64 {
	litres := 0.0
	for _, day := range b.water.Days {
		litres += b.sparedOn(w, day)
	}
	return litres * b.perYear
}

// meets says what must not meet where the water of a bath would join that of
// the others which go through a tank; empty for nothing known.
func (b *planner) meets(bath, tank string) string {
	plant := b.w.epochs.on(b.water.Period.Last)
	mine := b.tanks[bath].groups()
	for _, other := range sortedKeys(plant.tanks) {
		if other == bath || !slices.Contains(plant.wayFrom(other).tanks[1:], tank) && !b.rinsesThrough(other, tank) {
			continue
		}
		theirs := b.tanks[other].groups()
		for _, pair := range keptApart().pairs {
			if slices.Contains(mine, pair.A) && slices.Contains(theirs, pair.B) || slices.Contains(mine, pair.B) && slices.Contains(theirs, pair.A) {
				return fmt.Sprintf("it would bring %s and %s together (%s with %s): %s", b.w.tank(bath).Is.Name, b.w.tank(other).Is.Name, pair.A, pair.B, pair.Danger)
			}
		}
	}
	return ""
}

// rinsesThrough reports whether the rinse behind a bath drains through a tank.
func (b *planner) rinsesThrough(bath, tank string) bool {
	plant := b.w.epochs.on(b.water.Period.Last)
	for _, r := range b.water.Rinses {
		if r.After.Meaning() == bath && slices.Contains(plant.wayFrom(r.Tanks[0].Meaning()).tanks, tank) {
			return true
		}
	}
	return false
}
