package exposure

import (
	"math"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/rinse"
)

// walker takes the work of each day through its cycles and the water of each
// day to its end, and books what goes where.
type walker struct {
	shop     *chemicals.Shop
	epochs   *epochs
	baths    *baths
	films    *films
	contents map[string]*contents
	metals   []string
	folded   []string // their meanings
	pools    map[string]*pool
	from     chemicals.Day // books from here on; before it the walk only fills the still rinses
	booking  bool

	dragged map[dragKey]*dragSum
	order   []dragKey
	tanks   map[string]*account
	rinses  map[string]*rinsed
	points  map[string]map[chemicals.Day]*dayOut
	hauled  masses
	treated map[string]map[chemicals.Day]inflow  // what came into each treatment
	lost    masses                               // on ways that the book does not tell
	off     masses                               // with the work, out of the last tank of its way
	inflow  map[string]map[chemicals.Day]float64 // L into each hold tank
	days    []chemicals.Day
	gaps    []Gap
	seen    map[Gap]bool
	missing map[int64]*uncounted // work whose drag-out is not known, by its entry

	sprayEffect Spread
	changes     []*change // of ways that are tried out
}

// account is what came into a tank and left it over the period, in g.
type account struct {
	out      masses // clinging to the work
	in       masses // with work from the tank before
	returned masses // dumped back into it
	dumped   masses
	drained  masses // with running water
}

// rinsed is what a rinse met over the period. A counterflow is booked under
// its first tank.
type rinsed struct {
	chain   chain
	set     chemicals.Held[chemicals.Rinse]
	days    int
	volume  Spread        // of drag-in over the period, in L
	loads   int           // 0 where a work entry does not say
	unsaid  bool          // a work entry without loads
	heavy   float64       // L of drag-in on the heaviest day, likely
	heavyOn chemicals.Day // that day
	heavyN  int           // its loads, 0 where not said
	source  map[string]float64
	in, out masses
	today   Spread
	todayN  int
}

// dayOut is what left at a point on a day.
type dayOut struct {
	litres float64 // rated
	mass   masses
	from   senders // before treatment
}

// carry is what clings to the work.
type carry struct {
	volume Spread // L
	mass   masses
	loads  int
	bath   string // the last bath it came from
}

func (w *walker) gap(g Gap) {
	if w.booking && !w.seen[g] {
		w.seen[g] = true
		w.gaps = append(w.gaps, g)
	}
}

func (w *walker) masses() masses { return make(masses, len(w.metals)) }

func (w *walker) account(tank string) *account {
	a, ok := w.tanks[tank]
	if !ok {
		a = &account{out: w.masses(), in: w.masses(), returned: w.masses(), dumped: w.masses(), drained: w.masses()}
		w.tanks[tank] = a
	}
	return a
}

// run walks every day with an event of the water side.
func (w *walker) run() {
	works := byDay(chemicals.Events[chemicals.Work](w.shop))
	dumps := byDay(chemicals.Events[chemicals.Dump](w.shop))
	found := byDay(chemicals.Events[chemicals.Analysis](w.shop))
	var days []chemicals.Day
	for day := range works {
		days = append(days, day)
	}
	for day := range dumps {
		days = append(days, day)
	}
	for day := range found {
		days = append(days, day)
	}
	slices.Sort(days)
	last := min(w.shop.Period.Last, w.shop.AsOf)
	for _, day := range slices.Compact(days) {
		if day > last {
			break
		}
		if !w.booking && day >= w.from {
			w.booking = true
			for _, pool := range w.pools {
				copy(pool.begun, pool.mass)
			}
		}
		w.day(day, works[day], dumps[day], found[day])
	}
}

func byDay[T any](events []chemicals.Happened[T]) map[chemicals.Day][]chemicals.Happened[T] {
	days := map[chemicals.Day][]chemicals.Happened[T]{}
	for _, e := range events {
		days[e.Date] = append(days[e.Date], e)
	}
	return days
}

// day is one day: analyses of still rinses hold from its start, then comes the
// work, then what is dumped.
func (w *walker) day(day chemicals.Day, works []chemicals.Happened[chemicals.Work], dumps []chemicals.Happened[chemicals.Dump], found []chemicals.Happened[chemicals.Analysis]) {
	p := w.epochs.on(day)
	for _, a := range found {
		w.setPool(p, a)
	}
	d := newDayWater(w, p, day)
	var tours []tour
	for _, work := range works {
		if t, ok := w.tour(p, day, work); ok {
			tours = append(tours, t)
			d.expect(t)
		}
	}
	if len(works) > 0 {
		if w.booking {
			w.days = append(w.days, day)
		}
		d.runWater()
	}
	for _, t := range tours {
		for _, part := range t.parts() {
			w.walk(d, part)
		}
	}
	if len(tours) > 0 {
		w.turnTrials()
	}
	for _, dump := range dumps {
		w.dump(d, dump)
	}
	d.settle()
	w.closeDay(day)
}

// closeDay notes the heaviest day of each rinse.
func (w *walker) closeDay(day chemicals.Day) {
	for _, r := range w.rinses {
		if r.today == (Spread{}) {
			continue
		}
		if w.booking {
			r.days++
			if r.today[working.Likely] > r.heavy {
				r.heavy, r.heavyOn, r.heavyN = r.today[working.Likely], day, r.todayN
			}
		}
		r.today, r.todayN = Spread{}, 0
	}
}

// walk takes a piece of work through its tanks.
func (w *walker) walk(d *dayWater, t tour) {
	c := carry{mass: w.masses(), loads: t.work.Is.Loads.Int()}
	if t.share < 1 {
		c.loads = 1
	}
	for i := 0; i < len(t.steps); i++ {
		tank := t.steps[i].tank
		if !t.steps[i].rinse {
			c = w.bathe(d, t, i, c)
			continue
		}
		set := d.plant.rinses[tank]
		switch set.Is.Arrangement {
		case chemicals.Running:
			ch := t.steps[i].chain
			c = w.ahead(ch.tanks[0], c)
			w.meet(ch, set, t, c)
			c = w.runningRinse(d, w.changed(ch), c)
			i += len(ch.tanks) - 1
		case chemicals.Spray, chemicals.ResinLoop:
			ch := chain{tanks: []string{tank}, feed: set}
			ch.flow, ch.known = d.plant.dayFlow(tank)
			c = w.ahead(tank, c)
			w.meet(ch, set, t, c)
			c = w.openRinse(d, ch, c)
		case chemicals.Still:
			if c.volume == (Spread{}) {
				c.volume = t.volumes[i] // wet with water before the first bath
			}
			w.meet(chain{tanks: []string{tank}, feed: set}, set, t, c)
			c = w.stillRinse(d, tank, c)
		default:
			w.gap(Gap{Where: "tank " + t.steps[i].Is.Tank.String(), What: "work is rinsed in it, but the book does not say how the rinse is set up; all that comes into it is taken to leave with its water", Mend: "record a rinse row for it"})
			w.drain(d, tank, c.mass)
			c.mass = w.masses()
		}
		c.volume = t.volumes[i]
	}
	if w.booking {
		w.off.add(c.mass)
	}
}

// bathe takes work through a bath: what clung to it stays there, and the bath
// clings to it.
func (w *walker) bathe(d *dayWater, t tour, i int, c carry) carry {
	tank := t.steps[i].tank
	concentration := w.contents[tank].on(d.day)
	out := carry{volume: t.volumes[i], mass: w.masses(), loads: c.loads, bath: tank}
	for m := range out.mass {
		out.mass[m] = concentration[m].by(out.volume)
	}
	if w.booking {
		a := w.account(tank)
		a.in.add(c.mass)
		a.out.add(out.mass)
		w.bookDrag(d, t, i, out)
	}
	return out
}

// meet notes what comes into a rinse.
func (w *walker) meet(ch chain, set chemicals.Held[chemicals.Rinse], t tour, c carry) {
	if c.volume == (Spread{}) {
		return
	}
	r, ok := w.rinses[ch.tanks[0]]
	if !ok {
		r = &rinsed{in: w.masses(), out: w.masses(), source: map[string]float64{}}
		w.rinses[ch.tanks[0]] = r
	}
	r.chain, r.set = ch, set
	r.today.add(c.volume)
	n := t.work.Is.Loads
	if t.again {
		n = chemicals.Count{}
	}
	r.todayN += n.Int()
	if !w.booking {
		return
	}
	r.source[c.bath] += c.weight()
	r.volume.add(c.volume)
	r.loads += n.Int()
	r.unsaid = r.unsaid || !t.work.Is.Loads.Known()
	r.in.add(c.mass)
}

// weight is how much of what a rinse gets a piece of work brings: by its metal,
// and where it holds none by its volume, which counts for next to nothing beside.
func (c carry) weight() float64 {
	const besideMetal = 1e-9
	sum := c.volume[working.Likely] * besideMetal
	for _, m := range c.mass {
		sum += m[working.Likely]
	}
	return sum
}

// part books what a rinse keeps and what goes on with the work.
func (w *walker) part(first string, c carry, on Spread) (kept, passed masses) {
	passed = c.mass.times(on)
	if r := w.rinses[first]; r != nil && w.booking {
		r.out.add(passed)
	}
	return c.mass.minus(passed), passed
}

// runningRinse parts what comes in between the water and the work by the
// steady state of the day.
func (w *walker) runningRinse(d *dayWater, ch chain, c carry) carry {
	first := ch.tanks[0]
	name := d.plant.tanks[first].Is.Name.String()
	on := Spread{}
	switch {
	case !ch.known:
		w.gap(Gap{Where: "rinse " + name, What: "no flow of its water is recorded; all that comes into it is taken to leave with the water", Mend: "record its flow and hours", Entry: ch.feed.Entry})
	case ch.flow <= 0:
		w.gap(Gap{Where: "rinse " + name, What: "work drags solution into it, but its flow is zero; all that comes into it is taken to leave by its drain", Mend: "record its flow, or set it up as a still rinse", Entry: ch.feed.Entry})
	default:
		on = shareCarried(ch, d.expected[first])
	}
	kept, passed := w.part(first, c, on)
	w.drain(d, first, kept)
	c.mass = passed
	return c
}

// shareCarried is the part of what comes in that the work carries on, after
// exact counterflow with the mixing stated. D is the drag-in of the day.
func shareCarried(ch chain, dragIn Spread) Spread {
	mixing := 1.0
	if ch.feed.Is.Mixing.Known() && ch.feed.Is.Mixing.Fraction() > 0 {
		mixing = ch.feed.Is.Mixing.Fraction()
	}
	var on Spread
	for c := range on {
		if dragIn[c] > 0 {
			on[c] = math.Min(1, 1/(mixing*rinse.Ratio(ch.flow/dragIn[c], len(ch.tanks)+ch.more)))
		}
	}
	return on
}

// openRinse is a spray, whose water runs off, or a resin loop, whose water
// comes back without the metal.
func (w *walker) openRinse(d *dayWater, ch chain, c carry) carry {
	first := ch.tanks[0]
	on := Spread{}
	if ch.known && ch.flow > 0 {
		on = shareCarried(ch, d.expected[first])
		if ch.feed.Is.Arrangement == chemicals.Spray {
			for k := range on {
				if v := d.expected[first][k]; v > 0 {
					on[k] = 1 / rinse.Sprayed(w.sprayEffect[k], ch.flow/v)
				}
			}
		}
	} else {
		w.gap(Gap{Where: "rinse " + d.plant.tanks[first].Is.Name.String(), What: "no flow of its water is recorded; all that comes into it is taken to stay or leave with the water", Mend: "record its flow and hours", Entry: ch.feed.Entry})
	}
	kept, passed := w.part(first, c, on)
	if ch.feed.Is.Arrangement == chemicals.ResinLoop {
		if w.booking {
			w.hauled.add(kept)
		}
	} else {
		w.drain(d, first, kept)
	}
	c.mass = passed
	return c
}
