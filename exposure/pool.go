package exposure

import (
	"fmt"
	"math"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/exposure/rinse"
)

// pool is a still rinse: the water stays and holds what work left in it.
type pool struct {
	volume float64 // L
	mass   masses
	known  bool // an analysis or a dump to empty said where it began
	begun  masses
	loads  int // since the last dump
	since  chemicals.Day
}

// stillRinse takes the loads of a piece of work through standing water.
func (w *walker) stillRinse(d *dayWater, tank string, c carry) carry {
	pool := w.pool(d.plant, tank, d.day)
	if pool == nil || c.volume == (Spread{}) {
		if pool == nil {
			w.drain(d, tank, c.mass)
			c.mass = w.masses()
		}
		return c
	}
	passed, loads := pool.take(c)
	pool.loads += loads
	if r := w.rinses[tank]; r != nil && w.booking {
		r.out.add(passed)
	}
	c.mass = passed
	return c
}

// take takes the loads of a piece of work through standing water and gives what
// they carry on. Without a count of loads the drag-in comes in parts of a
// hundredth of the tank.
func (pool *pool) take(c carry) (passed masses, loads int) {
	loads = loadsOf(c.volume, c.loads, pool.volume)
	passed = make(masses, len(c.mass))
	for m := range c.mass {
		for k := range cases {
			before := pool.mass[m][k]
			after := rinse.StillMass(before, c.mass[m][k], pool.volume, c.volume[k], loads)
			passed[m][k] = before + c.mass[m][k] - after
			pool.mass[m][k] = after
		}
	}
	return passed, loads
}

func (w *walker) pool(p *plant, tank string, day chemicals.Day) *pool {
	if known, ok := w.pools[tank]; ok {
		return known
	}
	t := p.tanks[tank]
	if !t.Is.WorkingVolume.Known() || t.Is.WorkingVolume.Is() <= 0 {
		w.gap(Gap{Where: "tank " + t.Is.Name.String(), What: "it is a still rinse without a working volume; all that comes into it is taken to leave it", Mend: "record its working volume", Entry: t.Entry})
		return nil
	}
	w.pools[tank] = &pool{volume: t.Is.WorkingVolume.Is().Litres(), mass: w.masses(), begun: w.masses(), since: day}
	return w.pools[tank]
}

// setPool puts what an analysis found of a metal into a still rinse.
func (w *walker) setPool(p *plant, a chemicals.Happened[chemicals.Analysis]) {
	tank := a.Is.Tank.Meaning()
	if p.rinses[tank].Is.Arrangement != chemicals.Still {
		return
	}
	m := slices.Index(w.metals, a.Is.Ingredient.String())
	c, ok := a.Is.Concentration.Is().GramsPerLitre()
	if pool := w.pool(p, tank, a.Date); pool != nil && m >= 0 && ok {
		pool.mass[m], pool.known = same(c*pool.volume), true
	}
}

// dump books what is taken from a tank and where it goes.
func (w *walker) dump(d *dayWater, dump chemicals.Happened[chemicals.Dump]) {
	tank := dump.Is.Tank.Meaning()
	litres := dump.Is.Volume.Is().Litres()
	if volume := d.plant.tanks[tank].Is.WorkingVolume; volume.Known() && litres > volume.Is().Litres()*(1+rounding) {
		w.gap(overfull(dump))
	}
	taken := w.masses()
	if pool, ok := w.pools[tank]; ok {
		share := math.Min(1, litres/pool.volume)
		taken = pool.mass.times(same(share))
		pool.mass = pool.mass.minus(taken)
		if share == 1 {
			pool.loads, pool.since, pool.known = 0, d.day, true
		}
	} else if held := w.contents[tank]; held != nil {
		for m, c := range held.on(d.day) {
			taken[m] = c.times(litres)
		}
	}
	if w.booking {
		w.account(tank).dumped.add(taken)
	}
	to, point := w.goesTo(d.plant, dump.Is)
	if c := w.onDump(dumpTo{tank, point.Meaning()}); c != nil {
		to = chemicals.Haul
		if c.toBath != "" {
			to = w.tank(c.toBath).Is.Name
		}
	}
	d.send(tank, to, litres, taken)
}

// rounding is by how much a dump of a whole tank may pass its working volume:
// as written, in gallons and litres.
const rounding = 0.001

// overfull names a dump of more than its tank holds.
func overfull(dump chemicals.Happened[chemicals.Dump]) Gap {
	return Gap{
		Where: "tank " + dump.Is.Tank.String(), What: fmt.Sprintf("%s were dumped from it on %s, more than it holds", dump.Is.Volume, dump.Date),
		Mend: "correct the dump, or the working volume of the tank", Entry: dump.Entry,
	}
}
