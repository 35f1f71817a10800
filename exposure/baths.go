package exposure

import (
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/reference"
)

// baths finds what a tank holds on any day that the shop was read for.
type baths struct {
	shop    *chemicals.Shop
	tables  *reference.Set
	metals  []reference.Species
	madeUp  map[string][]chemicals.Held[chemicals.Ingredient]
	found   map[string][]chemicals.Happened[chemicals.Analysis]
	shelves []shelf
	stocked []chemicals.Day // from which each shelf holds
}

func newBaths(shop *chemicals.Shop, tables *reference.Set) *baths {
	b := &baths{
		shop: shop, tables: tables, metals: metalsOf(tables),
		madeUp: map[string][]chemicals.Held[chemicals.Ingredient]{}, found: map[string][]chemicals.Happened[chemicals.Analysis]{},
	}
	for _, i := range chemicals.Facts[chemicals.Ingredient](shop) {
		b.madeUp[i.Is.Tank.Meaning()] = append(b.madeUp[i.Is.Tank.Meaning()], i)
	}
	for _, a := range chemicals.Events[chemicals.Analysis](shop) {
		b.found[a.Is.Tank.Meaning()] = append(b.found[a.Is.Tank.Meaning()], a)
	}
	turns := map[chemicals.Day]bool{"": true}
	turnsOf[chemicals.Product](shop, turns)
	turnsOf[chemicals.Content](shop, turns)
	for day := range turns {
		b.stocked = append(b.stocked, day)
	}
	slices.Sort(b.stocked)
	b.shelves = make([]shelf, len(b.stocked))
	return b
}

// shelf is what names stand for on a day.
func (b *baths) shelf(day chemicals.Day) shelf {
	at, found := slices.BinarySearch(b.stocked, day)
	if !found {
		at--
	}
	if b.shelves[at].tables == nil {
		b.shelves[at] = newShelf(b.shop, b.tables, day)
	}
	return b.shelves[at]
}

// on is what a tank holds on a day.
func (b *baths) on(tank chemicals.Held[chemicals.Tank], day chemicals.Day) Tank {
	shelf := b.shelf(day)
	one := bath{shelf: shelf, tank: tank}
	key := tank.Is.Name.Meaning()
	var rows []chemicals.Held[chemicals.Ingredient]
	for _, row := range b.madeUp[key] {
		if row.On(day) {
			rows = append(rows, row)
		}
	}
	one.makeUp(rows)
	all := b.found[key]
	until, _ := slices.BinarySearchFunc(all, day.Add(1), func(a chemicals.Happened[chemicals.Analysis], d chemicals.Day) int {
		if a.Date < d {
			return -1
		}
		return 1
	})
	one.analyse(latest(shelf, all[:until], one.since))
	return one.tankOf(b.metals)
}

// turns are the days on which the contents of a tank may change, from a day
// up to another, that first day among them.
func (b *baths) turns(tank string, first, last chemicals.Day) []chemicals.Day {
	days := []chemicals.Day{first}
	add := func(day chemicals.Day) {
		if first < day && day <= last {
			days = append(days, day)
		}
	}
	for _, row := range b.madeUp[tank] {
		add(row.From)
		if row.Until.Known() {
			add(row.Until.Add(1))
		}
	}
	for _, a := range b.found[tank] {
		add(a.Date)
	}
	for _, day := range b.stocked {
		add(day)
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// inUse are the metals that an ingredient or an analysis of any tank may hold
// from a day on.
func (b *baths) inUse(first chemicals.Day) []reference.Species {
	names := map[chemicals.Name]chemicals.Day{}
	for _, rows := range b.madeUp {
		for _, row := range rows {
			if !row.Until.Known() || row.Until >= first {
				names[row.Is.Ingredient] = max(row.From, first)
			}
		}
	}
	for _, all := range b.found {
		for _, a := range all {
			names[a.Is.Ingredient] = a.Date
		}
	}
	holds := map[string]bool{}
	for name, day := range names {
		matter := b.shelf(day).matter(name)
		for _, m := range b.metals {
			if !holds[m.Name] && matter.Share(m).Known() {
				holds[m.Name] = true
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(b.metals), func(m reference.Species) bool { return !holds[m.Name] })
}
