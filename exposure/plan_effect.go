package exposure

import (
	"cmp"
	"math"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
)

// with is a point with a way in place: the days of the period worked out again,
// one by one, through the treatments on the way. What a way does to the metal
// that the work carries on into the tanks behind is left to the walk.
func (b *planner) with(p PointUse, w Way) PointUse {
	then := PointUse{Point: p.Point, Metals: p.Metals, Days: make([]PointDay, len(p.Days))}
	if w.less == 0 && w.over == 0 && !slices.ContainsFunc(w.Part, func(part Spread) bool { return part != Spread{} }) {
		return p
	}
	at := make([]int, len(p.Metals))
	for m, metal := range p.Metals {
		at[m] = slices.Index(b.w.metals, metal)
	}
	moved := b.moved(p, w)
	for i, day := range p.Days {
		less := b.lessOn(p, day, w, at)
		if w.over > 0 {
			less = moved[day.Day]
		}
		then.Days[i] = b.dayWith(p, day, less, at)
	}
	then.Whole = then.sum(p.Whole.Period)
	for _, month := range p.Months {
		then.Months = append(then.Months, then.sum(month.Period))
	}
	return then
}

// less is what comes no longer on a day, by way of a tank; below none it is more.
type less struct {
	inflow
	by string
}

// lessOn is what a way takes from a day; at is where the walk keeps each metal of
// the point.
func (b *planner) lessOn(p PointUse, day PointDay, w Way, at []int) less {
	l := less{inflow{litres: b.lessWater(w, day.Day), mass: b.w.masses()}, b.enters(w, day.Day)}
	if sent, some := b.w.points[p.Point.Is.Name.Meaning()][day.Day].from[w.Of[0].Meaning()]; some {
		for m := range at {
			l.mass[at[m]] = sent[at[m]].by(w.Part[m])
		}
	}
	return l
}

// moved are the days of dumps that are let in over several days with work, from
// that of the dump on; what the period has no days for comes behind it.
func (b *planner) moved(p PointUse, w Way) map[chemicals.Day]less {
	days := map[chemicals.Day]less{}
	move := func(day chemicals.Day, by string, litres float64, mass masses, part float64) {
		l, some := days[day]
		if !some {
			l = less{inflow{mass: b.w.masses()}, by}
		}
		l.litres += litres * part
		l.mass.add(mass.times(same(part)))
		days[day] = l
	}
	if w.over == 0 {
		return days
	}
	tank := w.Of[0].Meaning()
	for day, d := range b.dumps[tank] {
		out := b.w.points[p.Point.Is.Name.Meaning()][day]
		from, _ := slices.BinarySearch(b.water.Days, day)
		if out == nil || out.from[tank] == nil || from == len(b.water.Days) {
			continue
		}
		move(day, d.to, d.litres, out.from[tank], 1)
		for _, each := range b.water.Days[from:min(len(b.water.Days), from+w.over)] {
			move(each, d.to, d.litres, out.from[tank], -1/float64(w.over))
		}
	}
	return days
}

// dayWith is a day of with.
func (b *planner) dayWith(p PointUse, day PointDay, l less, at []int) PointDay {
	then := PointDay{Day: day.Day, Water: day.Water, Metered: day.Metered, Grams: slices.Clone(day.Grams)}
	if l.mass == nil {
		return then
	}
	past := b.behindTreatment(l.by, day.Day, l.inflow)
	for m := range at {
		then.Grams[m] = day.Grams[m].minus(past[at[m]]).atLeast(0)
	}
	if out := b.w.points[p.Point.Is.Name.Meaning()][day.Day]; out.litres > 0 {
		then.Water = quantity.Volume(math.Max(0, 1-l.litres/out.litres)) * day.Water
	}
	if then.Water < day.Water*hair {
		then.Water = 0 // all of it, as near as floating point tells
	}
	return then
}

// behindTreatment is how much less leaves of each metal, behind the treatments
// on the way from a tank, where less comes in.
func (b *planner) behindTreatment(tank string, day chemicals.Day, less inflow) masses {
	p := b.w.epochs.on(day)
	if _, stands := p.tanks[tank]; !stands {
		return less.mass
	}
	for _, on := range p.wayFrom(tank).tanks {
		now, treats := b.w.treated[on][day]
		if !treats {
			continue
		}
		then := inflow{litres: math.Max(0, now.litres-less.litres), mass: now.mass.minus(less.mass)}
		less.mass = p.leave(on, b.w.folded, now).minus(p.leave(on, b.w.folded, then))
	}
	return less.mass
}

// lessWater is what does not come to the point on a day, in L.
func (b *planner) lessWater(w Way, day chemicals.Day) float64 {
	if w.Dump && w.less != 0 {
		return b.dumps[w.Of[0].Meaning()][day].litres
	}
	if _, works := slices.BinarySearch(b.water.Days, day); !works {
		return 0
	}
	return w.less
}

// enters is the tank into which the water of a way goes first.
func (b *planner) enters(w Way, day chemicals.Day) string {
	if w.Dump {
		return b.dumps[w.Of[0].Meaning()][day].to
	}
	return w.Of[0].Meaning()
}

// dumped is what was dumped from a tank on a day towards a point.
type dumped struct {
	litres float64
	to     string // a tank or a point; of several dumps that of the last
}

// dumpsOf are the dumps of the period that reach a point, by tank and day.
func (b *planner) dumpsOf() map[string]map[chemicals.Day]dumped {
	all := map[string]map[chemicals.Day]dumped{}
	for _, d := range chemicals.Events[chemicals.Dump](b.w.shop) {
		tank := d.Is.Tank.Meaning()
		plant := b.w.epochs.on(d.Date)
		to := cmp.Or(d.Is.To, plant.next(tank)).Meaning()
		_, point := plant.points[to]
		if _, isTank := plant.tanks[to]; isTank {
			point = plant.wayFrom(to).point
		}
		if !point || !b.water.Period.Holds(d.Date) {
			continue
		}
		if all[tank] == nil {
			all[tank] = map[chemicals.Day]dumped{}
		}
		all[tank][d.Date] = dumped{litres: all[tank][d.Date].litres + d.Is.Volume.Is().Litres(), to: to}
	}
	return all
}

// hair is a part so small that it is floating point's.
const hair = 1e-9
