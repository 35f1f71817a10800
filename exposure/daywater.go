package exposure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bathwarden/chemicals"
)

// dayWater is the water of one day on its way out.
type dayWater struct {
	w        *walker
	plant    *plant
	day      chemicals.Day
	expected map[string]Spread  // L of drag-in to each chain over the day, by its first tank
	litres   map[string]float64 // that leave each tank
	mass     map[string]masses
	sent     map[string]senders // what is in mass, by the rinse or tank it came from
	out      map[string]*dayOut // that leaves at a point
}

func newDayWater(w *walker, p *plant, day chemicals.Day) *dayWater {
	return &dayWater{
		w: w, plant: p, day: day, expected: map[string]Spread{}, litres: map[string]float64{}, mass: map[string]masses{},
		sent: map[string]senders{}, out: map[string]*dayOut{},
	}
}

// expect adds the drag-in of a tour to its rinses, before any of it is walked:
// the steady state of a day is that of all its work.
func (d *dayWater) expect(t tour) {
	for i := 0; i < len(t.steps); i++ {
		tank := t.steps[i].tank
		if !t.steps[i].rinse || i == 0 {
			continue
		}
		sum := d.expected[tank]
		sum.add(t.volumes[i-1])
		d.expected[tank] = sum
		if n := len(t.steps[i].chain.tanks); n > 1 {
			i += n - 1
		}
	}
}

// runWater lets the fresh water of a working day in.
func (d *dayWater) runWater() {
	for tank, r := range d.plant.rinses {
		litres := d.plant.fresh(r.Is)
		if litres == 0 {
			continue
		}
		if c := d.w.onFeed(tank); c != nil {
			litres = c.litres(litres)
			if c.haul {
				continue
			}
		}
		d.litres[tank] += litres
	}
	for _, o := range d.plant.others {
		d.point(o.Is.Point.Meaning()).litres += litresADay(o.Is)
	}
}

// drain books what the water of a rinse takes along.
func (w *walker) drain(d *dayWater, tank string, taken masses) {
	if w.booking {
		w.account(tank).drained.add(taken)
	}
	if c := w.onRinse(tank); c != nil && c.haul {
		if w.booking {
			w.hauled.add(taken)
		}
		return
	}
	d.load(tank, taken, senders{{tank: tank}: taken})
}

// load puts metal into the water that leaves a tank. sent is what its senders
// sent of it, before treatment.
func (d *dayWater) load(tank string, mass masses, sent senders) {
	if d.mass[tank] == nil {
		d.mass[tank], d.sent[tank] = d.w.masses(), senders{}
	}
	d.mass[tank].add(mass)
	d.sent[tank].addAll(sent)
}

func (d *dayWater) point(name string) *dayOut {
	o, ok := d.out[name]
	if !ok {
		o = &dayOut{mass: d.w.masses(), from: senders{}}
		d.out[name] = o
	}
	return o
}

// passes reports whether what is dumped into a tank goes the way of its water; of
// a bath or a still rinse it stays.
func (w *walker) passes(p *plant, tank string) bool {
	purpose := p.tanks[tank].Is.Purpose
	return purpose == chemicals.Treat || purpose == chemicals.Hold || p.isRinse(tank) && w.pools[tank] == nil
}

// dumpEnd is the point that a dump into a tank or a point comes to, false where
// it comes to none.
func (w *walker) dumpEnd(p *plant, to string) (point string, ends bool) {
	if _, isPoint := p.points[to]; isPoint {
		return to, true
	}
	if _, isTank := p.tanks[to]; !isTank || !w.passes(p, to) {
		return "", false
	}
	way := p.wayFrom(to)
	return way.end.Meaning(), way.point && !way.loops
}

// goesTo is the tank, point or other place that a dump goes to, and the point it
// comes to, empty for none.
func (w *walker) goesTo(p *plant, d chemicals.Dump) (to, point chemicals.Name) {
	to = cmp.Or(d.To, p.next(d.Tank.Meaning()))
	if end, ends := w.dumpEnd(p, to.Meaning()); ends {
		point = chemicals.Name(end)
	}
	return to, point
}

// send takes a dump to where it goes: into a bath, on its way out, or away.
func (d *dayWater) send(from string, to chemicals.Name, litres float64, mass masses) {
	key := to.Meaning()
	_, isTank := d.plant.tanks[key]
	_, isPoint := d.plant.points[key]
	switch {
	case isTank && d.w.passes(d.plant, key):
		d.litres[key] += litres
		d.load(key, mass, senders{{tank: from, dump: true}: mass})
	case isTank && d.w.pools[key] != nil:
		d.w.pools[key].mass.add(mass)
	case isTank:
		if d.w.booking {
			d.w.account(key).returned.add(mass)
		}
	case isPoint:
		d.arrive(key, litres, mass, senders{{tank: from, dump: true}: mass})
	default:
		d.away(from, to, mass)
	}
}

// away books what leaves by no point.
func (d *dayWater) away(from string, to chemicals.Name, mass masses) {
	if !d.w.booking || mass.none() {
		return
	}
	if to.Meaning() == chemicals.Haul.Meaning() {
		d.w.hauled.add(mass)
		return
	}
	d.w.lost.add(mass)
	name := d.plant.tanks[from].Is.Name.String()
	if d.onOtherDays("tank "+cmp.Or(name, from), to) {
		return
	}
	d.w.gap(noEnd(cmp.Or(name, from), to))
}

const mendDrain = "record drains to for the tank: a tank, a point, or haul"

// noEnd is the gap that a tank leaves whose water comes to no end.
func noEnd(tank string, to chemicals.Name) Gap {
	what := "the book does not say where its water goes"
	if to.Known() {
		what = fmt.Sprintf("its water goes to %q, which is no tank, no point and not %s", to, chemicals.Haul)
	}
	return Gap{Where: "tank " + tank, What: what, Mend: mendDrain}
}

// onOtherDays names, on the first of such days, that water goes to a point or a
// tank that the book has on other days only. It is false where the book never
// has it.
func (d *dayWater) onOtherDays(where string, to chemicals.Name) bool {
	spans := namedSo(d.w.shop, to)
	if len(spans) == 0 {
		return false
	}
	g := Gap{Where: where}
	if next := slices.IndexFunc(spans, func(s standing) bool { return s.from > d.day }); next >= 0 {
		s := spans[next]
		g.Entry, g.Mend = s.entry, "record the "+s.kind+" from its real first day, or correct its first day"
		g.What = fmt.Sprintf("goes to %s %s, which begins on %s, later than that water", s.kind, to, s.from)
	} else {
		s := spans[len(spans)-1]
		g.Entry, g.Mend = s.entry, "correct its last day, or record where the water goes since then"
		g.What = fmt.Sprintf("goes to %s %s, which ended on %s, earlier than that water", s.kind, to, s.until)
	}
	if !d.w.seen[g] {
		d.w.seen[g] = true
		g.What = "its water of " + d.day.String() + " " + g.What
		d.w.gap(g)
	}
	return true
}

// standing is a span of days on which something stands by the book.
type standing struct {
	kind        string
	from, until chemicals.Day
	entry       int64
}

// namedSo are the days of the points and of the tanks that bear a name.
func namedSo(shop *chemicals.Shop, name chemicals.Name) []standing {
	return append(daysOf(shop, "point", name, func(p chemicals.Point) chemicals.Name { return p.Name }),
		daysOf(shop, "tank", name, func(t chemicals.Tank) chemicals.Name { return t.Name })...)
}

// daysOf are the spans of days of what bears a name, in order.
func daysOf[T any](shop *chemicals.Shop, kind string, name chemicals.Name, of func(T) chemicals.Name) []standing {
	var all []standing
	for _, h := range chemicals.Facts[T](shop) {
		if of(h.Is).Meaning() == name.Meaning() {
			all = append(all, standing{kind, h.From, h.Until, h.Entry})
		}
	}
	slices.SortStableFunc(all, func(a, b standing) int { return cmp.Compare(a.from, b.from) })
	return all
}

// arrive lets water leave at a point.
func (d *dayWater) arrive(point string, litres float64, mass masses, sent senders) {
	o := d.point(point)
	o.litres += litres
	o.mass.add(mass)
	o.from.addAll(sent)
}

// settle follows the water tank by tank to its end: those first from which the
// way is longest, so that all that flows into a treatment is together.
func (d *dayWater) settle() {
	ways := map[string]way{}
	var order []string
	for tank := range d.litres {
		order = append(order, tank)
	}
	for tank := range d.mass {
		order = append(order, tank)
	}
	for _, tank := range order {
		for _, on := range d.plant.wayFrom(tank).tanks {
			if _, ok := ways[on]; !ok {
				ways[on] = d.plant.wayFrom(on)
			}
		}
	}
	order = order[:0]
	for tank := range ways {
		order = append(order, tank)
	}
	slices.SortFunc(order, func(a, b string) int {
		return cmp.Or(cmp.Compare(len(ways[b].tanks), len(ways[a].tanks)), cmp.Compare(a, b))
	})
	for _, tank := range order {
		if ways[tank].loops {
			d.loop(tank)
			continue
		}
		d.pass(tank)
	}
	d.close()
}

func (d *dayWater) loop(tank string) {
	name := d.plant.tanks[tank].Is.Name.String()
	d.w.gap(Gap{Where: "tank " + name, What: "its water runs in a circle and reaches no end", Mend: "correct drains to or fed from of a tank on its way", Entry: d.plant.tanks[tank].Entry})
	if d.mass[tank] != nil && d.w.booking {
		d.w.lost.add(d.mass[tank])
	}
}

// pass sends the water of a tank to the next, through its treatment if it is
// one.
func (d *dayWater) pass(tank string) {
	litres, mass := d.litres[tank], d.mass[tank]
	if litres == 0 && mass == nil {
		return
	}
	if mass == nil {
		mass = d.w.masses()
	}
	if d.w.booking && d.plant.tanks[tank].Is.Purpose == chemicals.Hold {
		if d.w.inflow[tank] == nil {
			d.w.inflow[tank] = map[chemicals.Day]float64{}
		}
		d.w.inflow[tank][d.day] += litres
	}
	if d.plant.tanks[tank].Is.Purpose == chemicals.Treat {
		left := d.treat(tank, inflow{litres, mass})
		if d.w.booking {
			d.w.account(tank).dumped.add(mass.minus(left))
		}
		mass = left
	}
	to := d.plant.next(tank)
	key := to.Meaning()
	if _, ok := d.plant.tanks[key]; ok {
		d.litres[key] += litres
		d.load(key, mass, d.sent[tank])
		return
	}
	if _, ok := d.plant.points[key]; !ok {
		d.away(tank, to, mass)
		return
	}
	d.arrive(key, litres, mass, d.sent[tank])
}

// inflow is the water of a day that comes into a treatment, and what is in it.
type inflow struct {
	litres float64
	mass   masses
}

// treat is what a treatment leaves in the water of a day.
func (d *dayWater) treat(tank string, in inflow) masses {
	if d.w.booking {
		if d.w.treated[tank] == nil {
			d.w.treated[tank] = map[chemicals.Day]inflow{}
		}
		d.w.treated[tank][d.day] = in
	}
	for m, metal := range d.w.metals {
		if _, said := d.plant.removals[treated{tank, d.w.folded[m]}]; !said && in.mass[m] != (Spread{}) {
			d.w.gap(Gap{Where: "tank " + d.plant.tanks[tank].Is.Name.String(), What: metal + " comes into this treatment, but the book does not say what it takes out; taken as nothing", Mend: "record a removal row for " + metal})
		}
	}
	return d.plant.leave(tank, d.w.folded, in)
}

// leave is what a treatment leaves of each metal, by its meaning: all of it
// where the book does not say.
func (p *plant) leave(tank string, metals []string, in inflow) masses {
	left := slices.Clone(in.mass)
	for m, metal := range metals {
		r, said := p.removals[treated{tank, metal}]
		switch {
		case !said:
		case r.Is.Leaves.Known():
			most := r.Is.Leaves.Is().MilligramsPerLitre() * in.litres / 1000
			for c := range left[m] {
				left[m][c] = math.Min(left[m][c], most)
			}
		default:
			left[m] = in.mass[m].times(1 - r.Is.Removal.Fraction())
		}
	}
	return left
}

// treated is a pollutant in a treatment tank, both by their meaning.
type treated struct{ tank, pollutant string }

// close books the day at its points.
func (d *dayWater) close() {
	if !d.w.booking {
		return
	}
	for name, o := range d.out {
		if d.w.points[name] == nil {
			d.w.points[name] = map[chemicals.Day]*dayOut{}
		}
		d.w.points[name][d.day] = o
	}
}
