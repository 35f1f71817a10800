package exposure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/rinse"
)

// neededFlow is the flow for what is wanted of a rinse with another number of
// stages.
func neededFlow(use RinseUse, stages working.Estimate[int], mixing working.Estimate[float64]) (working.Estimate[quantity.Flow], bool) {
	r, err := rinse.Counterflow{DragOut: use.DragIn, Stages: stages, Ratio: use.Wanted, Mixing: mixing}.Solve()
	return r.Water, err == nil && r.Water.Known()
}

// judged adds what a way keeps and costs, and how near to a limit the points
// come with it.
func (b *planner) judged(w Way) Way {
	then := b.trial(w, false)
	w.Kept = make([]Spread, len(b.water.Metals))
	for i, p := range b.points {
		for m := range p.Metals {
			if w.Kind == LetIn {
				break // all of it leaves in the end
			}
			w.Kept[m].add(differs(p.Whole.Grams[m], then[i].Whole.Grams[m]).times(b.perYear))
		}
	}
	for m, metal := range b.water.Metals {
		if b.bound(w.Point, metal) {
			w.Sum.add(w.Kept[m])
		}
	}
	w.Cost = b.cost(w)
	if w.last != (Spread{}) {
		then = b.trial(w, true)
	}
	b.judge(&w, b.now, b.against(then))
	switch {
	case w.Kind != SetFlow && w.Kind != OneMoreStage:
	case !slices.ContainsFunc(w.Kept, func(kept Spread) bool { return kept != Spread{} }):
		w.Notes = append([]string{"the metal that leaves stays the same: only the water changes"}, w.Notes...)
	default:
		w.Notes = append([]string{"the treatment leaves a concentration, so that less metal leaves it in less water"}, w.Notes...)
	}
	return w
}

// differs is how much more a is than b, and none where only floating point tells
// them apart.
func differs(a, b Spread) Spread {
	d := a.minus(b)
	for c := range d {
		if math.Abs(d[c]) <= a[c]*hair {
			d[c] = 0
		}
	}
	return d
}

// judge says why a way is not among the ranked. now and then are what the points
// come to beside each ceiling, without the way and with it.
func (b *planner) judge(w *Way, now, then []Nearest) {
	for i, n := range then {
		if n.Known && n == now[i] && n.Point.Meaning() != w.Point.Meaning() {
			then[i].Known = false // of a point that the way leaves as it is
		}
	}
	w.Nearest = b.nearest(then, false)
	switch {
	case w.Kind == AsItIs || w.LeftOut != "" || w.Open != "":
	case dries(w, now, then).dry > 0:
		n := dries(w, now, then)
		w.Open = fmt.Sprintf("%s would leave at %s in no water that the book knows of: record the flow and hours of what sends it", n.Metal, n.Point)
	case w.Kind == LetIn && !eases(now, then):
		w.LeftOut = "its dumps are not what brings the point nearest to a limit"
	case w.Kind != LetIn && w.Sum[working.Likely] <= 0 && w.Water <= 0:
		w.LeftOut = "it keeps no metal that a limit binds from the drain, and saves no water"
	case b.worse(w, now, then, false).Known:
		n := b.worse(w, now, then, false)
		w.LeftOut = fmt.Sprintf("by the high estimate %s at %s comes to %s mg/L, over the %s of %s mg/L", n.Metal, n.Point, quantity.Significant(n.High, 3), n.Rule, quantity.Significant(n.Limit, 4))
	case w.Nearest.over():
		n := w.Nearest
		w.Over = fmt.Sprintf("with it %s still comes to %s mg/L by the high estimate, over the %s of %s mg/L, as it does without it", n.Metal, quantity.Significant(n.High, 3), n.Rule, quantity.Significant(n.Limit, 4))
	case b.worse(w, now, then, true).Known:
		n := b.worse(w, now, then, true)
		w.Open = fmt.Sprintf("whether the %s of %s mg/L for %s binds is not told by the book; by the high estimate it would come to %s mg/L", n.Rule, quantity.Significant(n.Limit, 4), n.Metal, quantity.Significant(n.High, 3))
	}
}

// eases reports whether a way takes the point further from the limit that it
// comes nearest to, or from one that it passes.
func eases(now, then []Nearest) bool {
	nearest := -1
	for i, n := range now {
		if n.Known && (nearest < 0 || n.Share > now[nearest].Share) {
			nearest = i
		}
		if n.over() && then[i].Share < n.Share*(1-hair) {
			return true
		}
	}
	return nearest >= 0 && then[nearest].Share < now[nearest].Share*(1-hair)
}

// dries is a limit at a point where metal would leave in no water on more days
// than now, or where on all days it does.
func dries(w *Way, now, then []Nearest) Nearest {
	for i, n := range then {
		if n.dry > now[i].dry || n.dry > 0 && !n.Known && n.Point.Meaning() == w.Point.Meaning() {
			return n
		}
	}
	return Nearest{}
}

// over reports whether the limit is passed.
func (n Nearest) over() bool { return n.Known && n.Share > 1 }

// nearest is the limit that a point comes nearest to: of those that bind, or of
// those that bind only if a missing fact is so.
func (b *planner) nearest(all []Nearest, unsure bool) Nearest {
	var most Nearest
	for i, n := range all {
		if n.Known && b.ceilings[i].Unsure == unsure && (!most.Known || n.Share > most.Share) {
			most = n
		}
	}
	return most
}

// worse is the limit that is passed with a way, and by more than without it. Over
// several days a dump that is let in little by little is the same but for the
// water of its days; a little is not held against it.
func (b *planner) worse(w *Way, now, then []Nearest, unsure bool) Nearest {
	var passed []Nearest
	for i, n := range then {
		more := hair
		if w.Kind == LetIn && n.Rule != chemicals.DailyMaximum {
			more = b.rules.evened
		}
		if n.over() && n.Share <= now[i].Share*(1+more) {
			n.Known = false
		}
		passed = append(passed, n)
	}
	if n := b.nearest(passed, unsure); n.over() {
		return n
	}
	return Nearest{}
}

// bound reports whether a limit is on a metal at a point; an empty one stands for
// any.
func (b *planner) bound(point chemicals.Name, metal string) bool {
	return slices.ContainsFunc(b.ceilings, func(c Ceiling) bool {
		return c.Metal == metal && (point == "" || c.Point.Meaning() == point.Meaning())
	})
}

// currencies counts those of the prices of water, sewer and hauling.
func (b *planner) currencies() int {
	seen := map[string]bool{}
	for _, item := range []string{"water", "sewer", "haul"} {
		if perVolume, byVolume := b.prices[item].Is.Amount.Is().PerVolume(); byVolume {
			seen[perVolume.Currency()] = true
		}
	}
	return len(seen)
}

// cost is that of water, sewer and hauling.
func (b *planner) cost(w Way) Cost {
	var cost Cost
	if b.mixed {
		return Cost{Why: "the prices are in more than one currency"}
	}
	add := func(item string, litres float64) {
		if litres == 0 || !cost.Known() {
			return
		}
		p, ok := b.prices[item]
		perVolume, byVolume := p.Is.Amount.Is().PerVolume()
		if !ok || !byVolume {
			cost.Why = "no price of " + item + " by volume is recorded"
			return
		}
		cost.Currency = perVolume.Currency()
		cost.Sum += litres * perVolume.PerLitre()
	}
	add("water", -w.Water)
	sewer := -w.Water
	if w.Kind == HoldAndHaul {
		sewer = -w.Hauled
	}
	add("sewer", sewer)
	add("haul", w.Hauled)
	if cost.Currency == "" {
		if firm, ok := b.w.shop.Firm(); ok {
			cost.Currency = firm.Is.Currency.String()
		}
	}
	return cost
}

// against puts the worst day, set of four days or month of the high estimate of
// its point beside each ceiling: not known where it has none.
func (b *planner) against(points []PointUse) []Nearest {
	all := make([]Nearest, len(b.ceilings))
	for _, p := range points {
		sets := map[chemicals.Rule][]PointSpan{}
		for i, c := range b.ceilings {
			if c.Point.Meaning() != p.Point.Is.Name.Meaning() || c.Limit <= 0 {
				continue
			}
			if _, made := sets[c.Rule]; !made {
				sets[c.Rule] = slices.Collect(p.spans(c.Rule))
			}
			all[i] = c.beside(p, sets[c.Rule])
		}
	}
	return all
}

// beside is a ceiling with what a point comes to; sets are those of its rule.
func (c Ceiling) beside(p PointUse, sets []PointSpan) Nearest {
	n := Nearest{Point: p.Point.Is.Name, Metal: c.Metal, Rule: c.Rule, Limit: c.Limit, Ref: c.Ref, Entry: c.Entry}
	m := slices.Index(p.Metals, c.Metal)
	if m < 0 {
		return n
	}
	for _, d := range p.Days {
		if d.Water <= 0 && d.Grams[m].Highest() > 0 {
			n.dry++
		}
	}
	if span, ok := worstOf(slices.Values(sets), m, chemicals.ByConcentration); ok {
		mean, _ := span.MilligramsPerLitre(m)
		n.High, n.Share, n.Known = mean.Highest(), mean.Highest()/c.Limit, true
	}
	return n
}

// rank orders the ways: by regulated metal kept for each unit of money and
// year, one that costs nothing first; of those that are alike in it by the metal
// kept, then by water saved. Those with which the
// point is over a limit still, as it is without them, come behind those with
// which it is under; then those that hang on a fact, then those left out.
func rank(ways []Way) {
	class := func(w Way) int {
		switch {
		case w.LeftOut != "":
			return 3
		case w.Open != "":
			return 2
		case w.Over != "":
			return 1
		}
		return 0
	}
	slices.SortStableFunc(ways, func(a, b Way) int {
		return cmp.Or(cmp.Compare(class(a), class(b)), -cmp.Compare(a.Worth(), b.Worth()),
			-cmp.Compare(a.Sum[working.Likely], b.Sum[working.Likely]), -cmp.Compare(a.Water, b.Water),
			cmp.Compare(a.Of[0], b.Of[0]), cmp.Compare(a.Kind, b.Kind))
	})
	n := 0
	for i := range ways {
		if class(ways[i]) < 2 {
			n++
			ways[i].Rank = n
		}
	}
}

// Worth is g of regulated metal kept for each unit of money and year: endless
// where the way keeps some and costs nothing more than now, 0 where it keeps
// none or its cost is not known.
func (w Way) Worth() float64 {
	kept := w.Sum[working.Likely]
	switch {
	case kept <= 0 || !w.Cost.Known():
		return 0
	case w.Cost.Sum <= 0:
		return math.Inf(1)
	}
	return kept / w.Cost.Sum
}

// together walks the whole shop again with the first two ways that go together.
func (b *planner) together(ways []Way) *Trial {
	var first *Way
	for i := range ways {
		w := &ways[i]
		if w.Rank == 0 || w.Kind == BatchTreatment || w.Kind == LetIn {
			continue
		}
		if first == nil {
			first = w
			continue
		}
		if first.Of[0] != w.Of[0] {
			return b.try(first, w)
		}
	}
	return nil
}

func (b *planner) try(ways ...*Way) *Trial {
	t := &Trial{}
	w := newWalker(b.w.shop, b.w.baths.tables)
	w.contents, w.films, w.epochs = b.w.contents, b.w.films, b.w.epochs
	for _, one := range ways {
		t.Of = append(t.Of, one.Rank)
		t.Water += one.Water
		c := one.change
		if c.still != nil {
			c.still = &trial{pool: pool{volume: c.still.pool.volume}, every: c.still.every, toBath: c.still.toBath}
		}
		w.changes = append(w.changes, &c)
	}
	w.run()
	left := w.pointUses(b.water.Metals)
	for _, now := range b.water.Points {
		at := slices.IndexFunc(left, func(p PointUse) bool { return p.Point.Is.Name == now.Point.Is.Name })
		for m, metal := range now.Metals {
			if !b.bound("", metal) {
				continue
			}
			kept := now.Whole.Grams[m]
			if at >= 0 { // else nothing comes to it any more
				kept = kept.minus(left[at].Whole.Grams[m])
			}
			t.Kept.add(kept.times(b.perYear))
		}
	}
	return t
}
