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
	d.load(tank, taken, senders{tank: taken})
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

// send takes a dump to where it goes: into a bath, on its way out, or away.
func (d *dayWater) send(from string, to chemicals.Name, litres float64, mass masses) {
	key := to.Meaning()
	tank, isTank := d.plant.tanks[key]
	_, isPoint := d.plant.points[key]
	switch {
	case isTank && (tank.Is.Purpose == chemicals.Treat || tank.Is.Purpose == chemicals.Hold || d.plant.isRinse(key) && d.w.pools[key] == nil):
		d.litres[key] += litres
		d.load(key, mass, senders{from: mass})
	case isTank && d.w.pools[key] != nil:
		d.w.pools[key].mass.add(mass)
	case isTank:
		if d.w.booking {
			d.w.account(key).returned.add(mass)
		}
	case isPoint:
		d.arrive(key, litres, mass, senders{from: mass})
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
	what := "the book does not say where its water goes"
	if to.Known() {
		what = fmt.Sprintf("its water goes to %q, which is no tank, no point and not %s", to, chemicals.Haul)
	}
	d.w.gap(Gap{Where: "tank " + cmp.Or(name, from), What: what, Mend: "record drains to for the tank: a tank, a point, or haul"})
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
		left := d.treat(tank, litres, mass)
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

// treat is what a treatment leaves in the water of a day.
func (d *dayWater) treat(tank string, litres float64, mass masses) masses {
	left := d.w.masses()
	copy(left, mass)
	for m, metal := range d.w.metals {
		if mass[m] == (Spread{}) {
			continue
		}
		r, ok := d.plant.removal(tank, metal)
		switch {
		case ok && r.Is.Leaves.Known():
			most := r.Is.Leaves.Is().MilligramsPerLitre() * litres / 1000
			for c := range left[m] {
				left[m][c] = math.Min(left[m][c], most)
			}
		case ok && r.Is.Removal.Known():
			left[m] = mass[m].times(1 - r.Is.Removal.Fraction())
		default:
			d.w.gap(Gap{Where: "tank " + d.plant.tanks[tank].Is.Name.String(), What: metal + " comes into this treatment, but the book does not say what it takes out; taken as nothing", Mend: "record a removal row for " + metal})
		}
	}
	return left
}

// removal is what the book says of a treatment and a metal.
func (p *plant) removal(tank, metal string) (chemicals.Held[chemicals.Removal], bool) {
	for _, r := range p.removals[tank] {
		if r.Is.Pollutant.Meaning() == chemicals.Fold(metal) {
			return r, true
		}
	}
	return chemicals.Held[chemicals.Removal]{}, false
}

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
