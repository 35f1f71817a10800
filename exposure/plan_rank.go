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

// judged adds what a way costs and how near to a limit its point comes.
func (b *planner) judged(w Way, p PointUse) Way {
	for m, metal := range p.Metals {
		if b.bound(p, metal) {
			w.Sum.add(w.Kept[m])
		}
	}
	w.Cost = b.cost(w)
	now, then := b.nearest(p, Way{Kept: make([]Spread, len(p.Metals))}), b.nearest(p, w)
	w.Nearest = then.sure
	switch {
	case w.LeftOut != "" || w.Open != "":
	case w.Sum[working.Likely] <= 0 && w.Water <= 0 && w.Kind != AsItIs:
		w.LeftOut = "it keeps no metal that a limit binds from the drain, and saves no water"
	case then.sure.Known && then.sure.Share > 1 && then.sure.Share >= now.sure.Share*(1-1e-9) && w.Kind != AsItIs:
		if w.Sum[working.Likely] == 0 && w.Water <= 0 || then.sure.Share > now.sure.Share*(1+1e-9) {
			w.LeftOut = fmt.Sprintf("by the high estimate %s at %s comes to %s mg/L, over the %s of %s mg/L", then.sure.Metal, p.Point.Is.Name, quantity.Significant(then.sure.High, 3), then.sure.Rule, quantity.Significant(then.sure.Limit, 4))
		}
	case then.unsure.Known && then.unsure.Share > 1 && then.unsure.Share > now.unsure.Share*(1+1e-9):
		w.Open = fmt.Sprintf("whether the %s of %s mg/L for %s binds is not told by the book; by the high estimate it would come to %s mg/L", then.unsure.Rule, quantity.Significant(then.unsure.Limit, 4), then.unsure.Metal, quantity.Significant(then.unsure.High, 3))
	}
	if then.sure.Known && then.sure.Share > 1 && w.LeftOut == "" {
		w.Notes = append(w.Notes, fmt.Sprintf("with it %s is still over its %s by the high estimate, as it is without it", then.sure.Metal, then.sure.Rule))
	}
	return w
}

func (b *planner) bound(p PointUse, metal string) bool {
	return slices.ContainsFunc(b.ceilings, func(c Ceiling) bool {
		return c.Metal == metal && c.Point.Meaning() == p.Point.Is.Name.Meaning()
	})
}

// cost is that of water, sewer and hauling.
func (b *planner) cost(w Way) Cost {
	var cost Cost
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
		if cost.Currency != "" && cost.Currency != perVolume.Currency() {
			cost.Why = "the prices are in more than one currency"
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

// nearness is the limit that a point comes nearest to: of those that bind, and
// of those that bind only if a missing fact is so.
type nearness struct{ sure, unsure Nearest }

// nearest puts the worst day and the worst month of the high estimate, less
// what a way keeps and with the water it saves, beside the limits.
func (b *planner) nearest(p PointUse, w Way) nearness {
	var n nearness
	for _, c := range b.ceilings {
		m := slices.Index(p.Metals, c.Metal)
		if c.Point.Meaning() != p.Point.Is.Name.Meaning() || m < 0 || c.Limit <= 0 {
			continue
		}
		high, ok := worst(p, m, c.Rule)
		if !ok {
			continue
		}
		by, ok := b.factor(p, m, w)
		if !ok {
			continue
		}
		high *= by
		one := Nearest{Metal: c.Metal, Rule: c.Rule, High: high, Limit: c.Limit, Share: high / c.Limit, Ref: c.Ref, Entry: c.Entry, Known: true}
		into := &n.sure
		if c.Unsure {
			into = &n.unsure
		}
		if !into.Known || one.Share > into.Share {
			*into = one
		}
	}
	return n
}

// factor is by how much a way changes the concentration of a metal at a point:
// the metal that is left over the water that is left. It is false where no
// water is left.
func (b *planner) factor(p PointUse, metal int, w Way) (float64, bool) {
	grams, litres := p.Whole.Grams[metal][working.High], p.Whole.Water.Litres()
	if grams <= 0 || litres <= 0 {
		return 1, true
	}
	less := w.Water
	if w.Kind == HoldAndHaul && !w.Dump {
		less = w.Hauled
	}
	left := litres - less/b.perYear
	if left <= litres*1e-9 {
		return 0, false
	}
	return math.Max(0, grams-w.Kept[metal][working.High]/b.perYear) / grams * litres / left, true
}

// worst is the high estimate of the worst day, or for an average of the worst
// month.
func worst(p PointUse, metal int, rule chemicals.Rule) (float64, bool) {
	most, found := 0.0, false
	if rule == chemicals.MonthlyAverage {
		for _, s := range p.Months {
			if c, ok := s.MilligramsPerLitre(metal); ok {
				most, found = max(most, c[working.High]), true
			}
		}
		return most, found
	}
	days := 1
	if rule == chemicals.FourDayAverage {
		days = 4 // of the rule's name: successive sets, without overlap
	}
	for i := 0; i+days <= len(p.Days); i += days {
		sum, n := 0.0, 0
		for _, d := range p.Days[i : i+days] {
			if c, ok := d.MilligramsPerLitre(metal); ok {
				sum, n = sum+c[working.High], n+1
			}
		}
		if n > 0 {
			most, found = max(most, sum/float64(n)), true
		}
	}
	return most, found
}

// rank orders the ways: by regulated metal kept for each unit of money and
// year, one that costs nothing first, then by water saved; behind them those
// that hang on a fact, then those left out.
func rank(ways []Way) {
	class := func(w Way) int {
		switch {
		case w.LeftOut != "":
			return 2
		case w.Open != "":
			return 1
		}
		return 0
	}
	slices.SortStableFunc(ways, func(a, b Way) int {
		return cmp.Or(cmp.Compare(class(a), class(b)), -cmp.Compare(a.Worth(), b.Worth()), -cmp.Compare(a.Water, b.Water),
			cmp.Compare(a.Of[0], b.Of[0]), cmp.Compare(a.Kind, b.Kind))
	})
	n := 0
	for i := range ways {
		if class(ways[i]) == 0 {
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
		if w.Rank == 0 || w.Kind == BatchTreatment {
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
	for _, then := range w.pointUses(b.water.Metals) {
		for _, now := range b.water.Points {
			if now.Point.Is.Name != then.Point.Is.Name {
				continue
			}
			for m, metal := range now.Metals {
				if b.bound(now, metal) {
					t.Kept.add(now.Whole.Grams[m].minus(then.Whole.Grams[m]).times(b.perYear))
				}
			}
		}
	}
	return t
}
