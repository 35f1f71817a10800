package exposure

import (
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
)

// Amounts is how much of a product there is, in the measure of mass and in the
// measure of volume, each as far as it is known.
type Amounts struct {
	Mass        quantity.Mass
	MassKnown   bool
	Volume      quantity.Volume
	VolumeKnown bool
}

// amounts reads a stated amount both ways; density turns one into the other.
func amounts(a quantity.Amount, density quantity.Stated[quantity.Density]) Amounts {
	var both Amounts
	both.Mass, both.MassKnown = a.Mass()
	both.Volume, both.VolumeKnown = a.Volume()
	if !density.Known() {
		return both
	}
	perLitre := density.Is().GramsPerMillilitre() * float64(quantity.Kilogram) // kg/L is g/mL
	if both.MassKnown {
		both.Volume, both.VolumeKnown = quantity.Litre*quantity.Volume(float64(both.Mass)/perLitre), true
	} else if both.VolumeKnown {
		both.Mass, both.MassKnown = quantity.Mass(both.Volume.Litres()*perLitre), true
	}
	return both
}

// none is the sum of no amounts, known either way.
var none = Amounts{MassKnown: true, VolumeKnown: true}

// plus adds n times b.
func (a Amounts) plus(b Amounts, n float64) Amounts {
	return Amounts{
		Mass: a.Mass + quantity.Mass(n)*b.Mass, MassKnown: a.MassKnown && b.MassKnown,
		Volume: a.Volume + quantity.Volume(n)*b.Volume, VolumeKnown: a.VolumeKnown && b.VolumeKnown,
	}
}

// more reports whether a is a larger amount than b, by whichever measure both
// are known in.
func (a Amounts) more(b Amounts) bool {
	if a.MassKnown && b.MassKnown {
		return a.Mass > b.Mass
	}
	return a.VolumeKnown && b.VolumeKnown && a.Volume > b.Volume
}

// Negative reports whether a is below zero by more than the rounding of its
// terms.
func (a Amounts) Negative() bool {
	return a.MassKnown && a.Mass < -quantity.Gram || !a.MassKnown && a.VolumeKnown && a.Volume < -quantity.Millilitre
}

// Count is one count of containers.
type Count struct {
	chemicals.Held[chemicals.Stock]
	Each  Amounts // one full container
	Total Amounts
}

// Movement is a receipt, or with a negative amount an addition to a tank.
type Movement struct {
	Entry  int64
	Date   chemicals.Day
	Amount Amounts
	What   string // "received", "added to B5"
	Used   bool   // taken from the shelf
}

// Holding is what there is of a product.
type Holding struct {
	Product chemicals.Held[chemicals.Product]
	Matter  Matter        // what it is made of
	Counts  []Count       // that stand on the as-of day
	Counted chemicals.Day // the latest of them; empty for none
	Moves   []Movement    // after the count, up to the as-of day
	Today   Amounts       // counts and movements
	Peak    Amounts       // largest on any day of the period that the record covers
	PeakDay chemicals.Day // the first such day
	Covered chemicals.Day // first day of the period that the record covers
	Unit    string        // that the shop counts in, "gal"
	Below   []Movement    // the movements up to the first day below zero

	ledger ledger
}

// on is the amount at the end of a day, false where no count stands by then.
func (h Holding) on(day chemicals.Day) (Amounts, bool) {
	total, _, standing, _ := h.ledger.on(day)
	return total, len(standing) > 0
}

// Holdings finds the amounts of every product that the book knows on the as-of
// day, by name.
func Holdings(shop *chemicals.Shop, tables *reference.Set) []Holding {
	shelf := newShelf(shop, tables, shop.AsOf)
	counts := byProduct(chemicals.Facts[chemicals.Stock](shop), func(h chemicals.Held[chemicals.Stock]) chemicals.Name { return h.Is.Product })
	receipts := byProduct(chemicals.Events[chemicals.Receipt](shop), func(e chemicals.Happened[chemicals.Receipt]) chemicals.Name { return e.Is.Product })
	additions := byProduct(chemicals.Events[chemicals.Addition](shop), func(e chemicals.Happened[chemicals.Addition]) chemicals.Name { return e.Is.Product })
	var holdings []Holding
	for _, p := range chemicals.On[chemicals.Product](shop, shop.AsOf) {
		key := p.Is.Name.Meaning()
		l := ledger{product: p, counts: counts[key], moves: movements(p, receipts[key], additions[key])}
		h := l.holding(shop)
		h.Matter = shelf.matter(p.Is.Name)
		holdings = append(holdings, h)
	}
	return holdings
}

// Places are the names of the places where containers were counted.
func (h Holding) Places() []string {
	var places []string
	seen := map[string]bool{}
	for _, c := range h.Counts {
		if key := c.Is.Location.Meaning(); !seen[key] && c.Is.Containers.Int() > 0 {
			seen[key] = true
			places = append(places, c.Is.Location.String())
		}
	}
	return places
}

func byProduct[T any](rows []T, product func(T) chemicals.Name) map[string][]T {
	of := map[string][]T{}
	for _, r := range rows {
		key := product(r).Meaning()
		of[key] = append(of[key], r)
	}
	return of
}

func movements(p chemicals.Held[chemicals.Product], receipts []chemicals.Happened[chemicals.Receipt], additions []chemicals.Happened[chemicals.Addition]) []Movement {
	var moves []Movement
	for _, r := range receipts {
		each := amounts(r.Is.ContainerSize.Is(), p.Is.Density)
		moves = append(moves, Movement{Entry: r.Entry, Date: r.Date, Amount: none.plus(each, float64(r.Is.Containers.Int())), What: "received"})
	}
	for _, a := range additions {
		moves = append(moves, Movement{Entry: a.Entry, Date: a.Date, Amount: none.plus(amounts(a.Is.Amount.Is(), p.Is.Density), -1), What: "added to " + a.Is.Tank.String(), Used: true})
	}
	slices.SortStableFunc(moves, func(a, b Movement) int { return cmpDays(a.Date, b.Date) })
	return moves
}

func cmpDays(a, b chemicals.Day) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// ledger is everything that the book says of one product's amounts.
type ledger struct {
	product chemicals.Held[chemicals.Product]
	counts  []chemicals.Held[chemicals.Stock]
	moves   []Movement
}

// on gives the amount at the end of a day: the counts that stand, and what
// moved after the latest of them. A count is taken as made at the end of its
// day. It is not known before the first count.
func (l ledger) on(day chemicals.Day) (total Amounts, counted chemicals.Day, standing []Count, since []Movement) {
	total = none
	for _, c := range l.counts {
		if !c.On(day) {
			continue
		}
		each := amounts(c.Is.ContainerSize.Is(), l.product.Is.Density)
		one := Count{Held: c, Each: each, Total: none.plus(each, float64(c.Is.Containers.Int()))}
		standing = append(standing, one)
		total = total.plus(one.Total, 1)
		counted = max(counted, c.From)
	}
	if len(standing) == 0 {
		return total, counted, nil, nil
	}
	first, _ := slices.BinarySearchFunc(l.moves, counted.Add(1), func(m Movement, d chemicals.Day) int { return cmpDays(m.Date, d) })
	for _, m := range l.moves[first:] {
		if m.Date > day {
			break
		}
		since = append(since, m)
		total = total.plus(m.Amount, 1)
	}
	return total, counted, standing, since
}

func (l ledger) holding(shop *chemicals.Shop) Holding {
	h := Holding{Product: l.product, ledger: l}
	h.Today, h.Counted, h.Counts, h.Moves = l.on(shop.AsOf)
	for _, c := range l.counts {
		if h.Unit == "" || c.On(shop.AsOf) {
			h.Unit = c.Is.ContainerSize.Unit()
		}
	}
	for _, day := range l.turns(shop) {
		total, _, standing, since := l.on(day)
		if len(standing) == 0 {
			continue
		}
		if h.Covered == "" {
			h.Covered = day
		}
		if high := beforeUse(total, since, day); h.PeakDay == "" || high.more(h.Peak) {
			h.Peak, h.PeakDay = high, day
		}
		if h.Below == nil && total.Negative() {
			h.Below = since
		}
	}
	return h
}

// beforeUse is the amount on a day before anything was taken from it: what
// came on that day may have stood beside what was used.
func beforeUse(total Amounts, since []Movement, day chemicals.Day) Amounts {
	for _, m := range since {
		if m.Date == day && m.Used {
			total = total.plus(m.Amount, -1)
		}
	}
	return total
}

// turns are the days of the period on which the amount may change: its first,
// each count and each movement.
func (l ledger) turns(shop *chemicals.Shop) []chemicals.Day {
	last := min(shop.Period.Last, shop.AsOf)
	period := chemicals.Period{First: shop.Period.First, Last: last}
	days := []chemicals.Day{period.First}
	for _, c := range l.counts {
		if period.Holds(c.From) {
			days = append(days, c.From)
		}
	}
	for _, m := range l.moves {
		if period.Holds(m.Date) {
			days = append(days, m.Date)
		}
	}
	slices.Sort(days)
	return slices.Compact(days)
}
