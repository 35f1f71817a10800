package exposure

import (
	"cmp"
	"slices"

	"bathwarden/chemicals"
)

// plant is what stands and how work and water go through it, over a span of
// days in which none of that changes.
type plant struct {
	tanks    map[string]chemicals.Held[chemicals.Tank]
	rinses   map[string]chemicals.Held[chemicals.Rinse]
	cycles   map[string][]*stop                             // in the order of their steps
	films    map[string][]chemicals.Held[chemicals.DragOut] // by tank
	removals map[treated]chemicals.Held[chemicals.Removal]
	points   map[string]chemicals.Held[chemicals.Point]
	others   []chemicals.Held[chemicals.OtherWater]
	feeds    map[string]chemicals.Name // the rinse that a tank's water goes into
	firm     chemicals.Firm
	ways     map[string]way // worked out when first asked
}

// stop is a step of a cycle, with the name of its tank as it is compared.
type stop struct {
	chemicals.Held[chemicals.CycleStep]
	tank  string
	rinse bool
	chain chain // that begins here, of a running rinse
}

// epochs are the plants of a period, each from its day on.
type epochs struct {
	from   []chemicals.Day
	plants []*plant
}

// epochsOf finds the days on which anything of the plant changes, from a day
// up to the as-of day, and the plant from each of them.
func epochsOf(shop *chemicals.Shop, first chemicals.Day) *epochs {
	turns := map[chemicals.Day]bool{first: true}
	turnsOf[chemicals.Tank](shop, turns)
	turnsOf[chemicals.Rinse](shop, turns)
	turnsOf[chemicals.CycleStep](shop, turns)
	turnsOf[chemicals.DragOut](shop, turns)
	turnsOf[chemicals.Removal](shop, turns)
	turnsOf[chemicals.Point](shop, turns)
	turnsOf[chemicals.OtherWater](shop, turns)
	turnsOf[chemicals.Firm](shop, turns)
	e := &epochs{}
	for day := range turns {
		if first <= day && day <= shop.AsOf {
			e.from = append(e.from, day)
		}
	}
	slices.Sort(e.from)
	for _, day := range e.from {
		e.plants = append(e.plants, plantOn(shop, day))
	}
	return e
}

// turnsOf notes the days on which facts of a kind begin, and the days after
// they end.
func turnsOf[T any](shop *chemicals.Shop, turns map[chemicals.Day]bool) {
	for _, h := range chemicals.Facts[T](shop) {
		turns[h.From] = true
		if h.Until.Known() {
			turns[h.Until.Add(1)] = true
		}
	}
}

// on is the plant of a day, which must not lie before the first.
func (e *epochs) on(day chemicals.Day) *plant {
	at, found := slices.BinarySearch(e.from, day)
	if !found {
		at--
	}
	return e.plants[max(at, 0)]
}

func plantOn(shop *chemicals.Shop, day chemicals.Day) *plant {
	p := &plant{
		tanks: map[string]chemicals.Held[chemicals.Tank]{}, rinses: map[string]chemicals.Held[chemicals.Rinse]{},
		cycles: map[string][]*stop{}, ways: map[string]way{}, films: map[string][]chemicals.Held[chemicals.DragOut]{},
		removals: map[treated]chemicals.Held[chemicals.Removal]{}, points: map[string]chemicals.Held[chemicals.Point]{},
		others: chemicals.On[chemicals.OtherWater](shop, day), feeds: map[string]chemicals.Name{},
	}
	for _, t := range chemicals.On[chemicals.Tank](shop, day) {
		p.tanks[t.Is.Name.Meaning()] = t
	}
	for _, r := range chemicals.On[chemicals.Rinse](shop, day) {
		p.rinses[r.Is.Tank.Meaning()] = r
		if r.Is.FedFrom.Known() && r.Is.FedFrom.Meaning() != r.Is.Tank.Meaning() {
			p.feeds[r.Is.FedFrom.Meaning()] = r.Is.Tank
		}
	}
	for _, s := range chemicals.On[chemicals.CycleStep](shop, day) {
		key := s.Is.Cycle.Meaning()
		p.cycles[key] = append(p.cycles[key], &stop{Held: s, tank: s.Is.Tank.Meaning()})
	}
	for _, steps := range p.cycles {
		slices.SortStableFunc(steps, func(a, b *stop) int {
			return cmp.Compare(a.Is.Step.Int(), b.Is.Step.Int())
		})
	}
	for _, f := range chemicals.On[chemicals.DragOut](shop, day) {
		p.films[f.Is.Tank.Meaning()] = append(p.films[f.Is.Tank.Meaning()], f)
	}
	for _, r := range chemicals.On[chemicals.Removal](shop, day) {
		key := treated{r.Is.Tank.Meaning(), r.Is.Pollutant.Meaning()}
		if _, twice := p.removals[key]; !twice && (r.Is.Removal.Known() || r.Is.Leaves.Known()) {
			p.removals[key] = r
		}
	}
	for _, o := range chemicals.On[chemicals.Point](shop, day) {
		p.points[o.Is.Name.Meaning()] = o
	}
	if firms := chemicals.On[chemicals.Firm](shop, day); len(firms) > 0 {
		p.firm = firms[len(firms)-1].Is
	}
	for _, steps := range p.cycles {
		for i, s := range steps {
			s.rinse = p.isRinse(s.tank)
			if p.rinses[s.tank].Is.Arrangement == chemicals.Running {
				s.chain = p.chainAt(steps, i)
			}
		}
	}
	return p
}

// isRinse reports whether work is rinsed in a tank: it has a row of its own,
// or its purpose says so.
func (p *plant) isRinse(tank string) bool {
	_, set := p.rinses[tank]
	return set || p.tanks[tank].Is.Purpose == chemicals.RinseWork
}

// hours are those that the water of a rinse runs on a working day, 0 where
// the book does not say.
func (p *plant) hours(r chemicals.Rinse) float64 {
	if r.Hours.Known() {
		return r.Hours.Is().Hours()
	}
	if p.firm.HoursPerDay.Known() {
		return p.firm.HoursPerDay.Is().Hours()
	}
	return 0
}

// fedBy is the tank whose water a rinse gets, empty for fresh water.
func (p *plant) fedBy(r chemicals.Rinse) chemicals.Name {
	if from, isTank := p.tanks[r.FedFrom.Meaning()]; isTank {
		return from.Is.Name
	}
	return ""
}

// fresh is the fresh water into a rinse on a working day, in L: none into one
// that gets the water of another, stands still, or runs round a resin.
func (p *plant) fresh(r chemicals.Rinse) float64 {
	_, fedByTank := p.tanks[r.FedFrom.Meaning()]
	if fedByTank || !r.Flow.Known() || r.Arrangement == chemicals.ResinLoop || r.Arrangement == chemicals.Still {
		return 0
	}
	return r.Flow.Is().LitresPerHour() * p.hours(r)
}

// litresADay is other water on a working day; without hours its flow is the
// mean of a day.
func litresADay(o chemicals.OtherWater) float64 {
	hours := 24.0
	if o.Hours.Known() {
		hours = o.Hours.Is().Hours()
	}
	return o.Flow.Is().LitresPerHour() * hours
}

// chain is a run of rinses that water goes through against the work: the
// first is the one that work comes to first. A single rinse is a chain of one.
type chain struct {
	tanks []string
	feed  chemicals.Held[chemicals.Rinse] // of the last, where fresh water enters
	flow  float64                         // L on a working day; 0 with known set where nothing runs
	known bool
	more  int // stages beyond its tanks, in a way that is tried out
}

// chainAt is the chain of running rinses that begins with a step of a cycle.
func (p *plant) chainAt(steps []*stop, at int) chain {
	var c chain
	for i := at; i < len(steps); i++ {
		tank := steps[i].tank
		r, ok := p.rinses[tank]
		if !ok || r.Is.Arrangement != chemicals.Running {
			break
		}
		c.tanks, c.feed = append(c.tanks, tank), r
		if i+1 == len(steps) || r.Is.FedFrom.Meaning() != steps[i+1].tank {
			break
		}
	}
	c.flow, c.known = p.dayFlow(c.feed.Is.Tank.Meaning())
	return c
}

// dayFlow is the water into a rinse on a working day, in L: its own flow, or
// that of the tank whose water it gets.
func (p *plant) dayFlow(tank string) (float64, bool) {
	r, ok := p.source(tank)
	hours := p.hours(r.Is)
	return r.Is.Flow.Is().LitresPerHour() * hours, ok && hours > 0
}

// source is the row that says the flow of the water into a rinse: its own, or
// that of the tank whose water it gets.
func (p *plant) source(tank string) (chemicals.Held[chemicals.Rinse], bool) {
	seen := map[string]bool{}
	for !seen[tank] {
		seen[tank] = true
		r := p.rinses[tank]
		if r.Is.Flow.Known() {
			return r, true
		}
		tank = r.Is.FedFrom.Meaning()
	}
	return chemicals.Held[chemicals.Rinse]{}, false
}

// next is where the water of a tank goes: into the rinse that it feeds, else
// where the tank drains to.
func (p *plant) next(tank string) chemicals.Name {
	if fed, ok := p.feeds[tank]; ok {
		return fed
	}
	return p.tanks[tank].Is.DrainsTo
}

// way is where water from a tank goes, tank by tank to its end.
type way struct {
	tanks []string
	end   chemicals.Name // a point, haul, or what stands last; empty where the book does not say
	point bool           // the end is a point
	loops bool           // it comes back to a tank that it went through
}

// wayFrom follows the water of a tank, which is the first of the way.
func (p *plant) wayFrom(tank string) way {
	if known, ok := p.ways[tank]; ok {
		return known
	}
	p.ways[tank] = p.follow(tank)
	return p.ways[tank]
}

func (p *plant) follow(tank string) way {
	var w way
	for {
		if slices.Contains(w.tanks, tank) {
			w.loops = true
			return w
		}
		w.tanks = append(w.tanks, tank)
		w.end = p.next(tank)
		key := w.end.Meaning()
		if _, ok := p.tanks[key]; !ok {
			_, w.point = p.points[key]
			return w
		}
		tank = key
	}
}
