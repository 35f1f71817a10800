package exposure

import (
	"cmp"
	"math"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/rinse"
)

// hair is a part so small that it is floating point's.
const hair = 1e-9

// move is water, and metal in it, that a way lets into a tank or a point, or,
// below none, takes from what comes to it.
type move struct {
	to string
	inflow
}

func (m move) less() move { return m.by(-1) }

func (m move) by(part float64) move {
	return move{m.to, inflow{m.litres * part, m.mass.times(same(part))}}
}

// trial is the points of the shop with a way in place: the days of the period
// worked out again, one by one, through the treatments on the way. What a way
// does to the metal that the work carries on into the tanks behind is left to
// the walk. worst takes of a still rinse what it keeps on its last day, else what
// it keeps of all.
func (b *planner) trial(w Way, worst bool) []PointUse {
	moves := b.moves(w, worst)
	if len(moves) == 0 {
		return slices.Clone(b.points)
	}
	then := make([]PointUse, len(b.points))
	for i, p := range b.points {
		then[i] = PointUse{Point: p.Point, Metals: p.Metals, Days: slices.Clone(p.Days)}
	}
	for _, day := range sortedDays(moves) {
		for point, more := range b.ends(day, moves[day]) {
			b.change(then, point, day, more)
		}
	}
	for i, p := range b.points {
		then[i].Whole = then[i].sum(p.Whole.Period)
		for _, month := range months(p.Whole.Period) {
			then[i].Months = append(then[i].Months, PointSpan{Period: month}) // its days tell the mean
		}
	}
	return then
}

// ends is what the moves of a day come to at the points, behind the treatments
// on their ways.
func (b *planner) ends(day chemicals.Day, moves []move) map[string]inflow {
	p := b.w.epochs.on(day)
	treats := map[string]inflow{}
	at := map[string]inflow{}
	for _, m := range moves {
		end := m.to
		if _, isTank := p.tanks[m.to]; isTank {
			way := p.wayFrom(m.to)
			if way.loops || !way.point {
				continue
			}
			end = way.end.Meaning()
			for _, on := range way.tanks {
				if p.tanks[on].Is.Purpose == chemicals.Treat {
					m.mass = b.behind(p, day, on, m.inflow, treats)
				}
			}
		}
		sum := at[end]
		if sum.mass == nil {
			sum.mass = b.w.masses()
		}
		sum.litres += m.litres
		sum.mass.add(m.mass)
		at[end] = sum
	}
	return at
}

// behind is what more comes in at a treatment makes of what it leaves. treats
// are the treatments of the day with the moves before.
func (b *planner) behind(p *plant, day chemicals.Day, tank string, more inflow, treats map[string]inflow) masses {
	now, changed := treats[tank]
	if !changed {
		now = b.w.treated[tank][day]
	}
	if now.mass == nil {
		now.mass = b.w.masses()
	}
	then := inflow{math.Max(0, now.litres+more.litres), now.mass.plus(more.mass)}
	treats[tank] = then
	return p.leave(tank, b.w.folded, then).minus(p.leave(tank, b.w.folded, now))
}

// change lets more into a point on a day.
func (b *planner) change(points []PointUse, point string, day chemicals.Day, more inflow) {
	i := slices.IndexFunc(points, func(p PointUse) bool { return p.Point.Is.Name.Meaning() == point })
	if i < 0 {
		return
	}
	at, found := slices.BinarySearchFunc(points[i].Days, day, func(d PointDay, day chemicals.Day) int {
		return cmp.Compare(d.Day, day)
	})
	if !found {
		points[i].Days = slices.Insert(points[i].Days, at, PointDay{Day: day, Grams: make([]Spread, len(points[i].Metals))})
	}
	d := &points[i].Days[at]
	d.Grams = slices.Clone(d.Grams)
	for m, metal := range points[i].Metals {
		d.Grams[m] = d.Grams[m].plus(more.mass[slices.Index(b.w.metals, metal)])
	}
	metered := 1.0
	if out := b.w.points[point][day]; out != nil && out.litres > 0 {
		metered = d.Water.Litres() / out.litres
	}
	was := d.Water
	d.Water += quantity.Volume(more.litres*metered) * quantity.Litre
	if d.Water < was*hair {
		d.Water = 0 // all of it, as near as floating point tells
	}
}

// moves are those of a way, by day.
func (b *planner) moves(w Way, worst bool) map[chemicals.Day][]move {
	if w.Kind == AsItIs {
		return nil
	}
	if w.Dump {
		return b.dumpMoves(w)
	}
	all := map[chemicals.Day][]move{}
	for _, day := range b.water.Days {
		from := b.rinseOn(w, day)
		if from.mass == nil {
			continue
		}
		switch w.Kind {
		case BatchTreatment:
			if b.treatsOn(w, day) {
				all[day] = []move{from.less(), {w.treat, from.inflow}}
			}
		case HoldAndHaul:
			all[day] = []move{from.less()}
		case SetFlow, OneMoreStage:
			all[day] = []move{{from.to, inflow{-b.sparedOn(w, day), b.w.masses()}}}
		case StillHauled, StillReturned:
			keeps := w.Part[0]
			if worst {
				keeps = w.last
			}
			all[day] = []move{{from.to, inflow{0, from.mass.times(keeps.times(-1))}}}
		}
	}
	return all
}

// rinseOn is what a rinse sends off on a day with work; its mass is nil where the
// rinse does not stand or does not drain to a point.
func (b *planner) rinseOn(w Way, day chemicals.Day) move {
	p := b.w.epochs.on(day)
	tank := w.Of[0].Meaning()
	way := p.wayFrom(tank)
	set, runs := p.rinses[w.change.feed]
	if _, stands := p.tanks[tank]; !stands || !runs || !way.point || way.loops {
		return move{}
	}
	m := move{tank, inflow{litres: p.fresh(set.Is), mass: b.w.masses()}}
	if out := b.w.points[way.end.Meaning()][day]; out != nil {
		if mass, some := out.from[sender{tank: tank}]; some {
			m.mass = mass
		}
	}
	return m
}

// treatsOn reports whether the tank of a batch treatment stands on a day, and its
// water comes to a point.
func (b *planner) treatsOn(w Way, day chemicals.Day) bool {
	p := b.w.epochs.on(day)
	_, stands := p.tanks[w.treat]
	way := p.wayFrom(w.treat)
	return stands && way.point && !way.loops
}

// sparedOn is the fresh water that does not run, or that is hauled, with a way on
// a day with work, in L.
func (b *planner) sparedOn(w Way, day chemicals.Day) float64 {
	p := b.w.epochs.on(day)
	set, runs := p.rinses[w.change.feed]
	if _, stands := p.tanks[w.Of[0].Meaning()]; !stands || !runs {
		return 0
	}
	now := p.fresh(set.Is)
	if w.Kind == HoldAndHaul {
		return now
	}
	return now - w.flow*p.hours(set.Is)
}

// keepsLast is the part that a still rinse ahead keeps of what comes to it on the
// last day before it is emptied, load by load, with even work: the least.
func keepsLast(dragIn Spread, loads int, litres float64, every int) Spread {
	var part, held Spread
	for range every {
		for _, k := range cases {
			if dragIn[k] == 0 {
				continue
			}
			after := rinse.StillMass(held[k], dragIn[k], litres, dragIn[k], loads)
			part[k], held[k] = (after-held[k])/dragIn[k], after
		}
	}
	return part
}

// loadsOf are the loads of a drag-in into standing water; where they are not
// said it comes in parts of a hundredth of the tank.
func loadsOf(volume Spread, said int, tank float64) int {
	if said > 0 {
		return said
	}
	return max(1, int(math.Ceil(volume[working.Likely]/tank*100)))
}
