package exposure

import (
	"cmp"
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/dragout"
)

// DragOut is what the work carried out of a bath over days on which the bath,
// the drainage and the film were the same.
type DragOut struct {
	Tank        chemicals.Name
	Drainage    chemicals.Drainage
	First, Last chemicals.Day
	Entries     []int64 // of work
	Film        *Film
	Area        working.Estimate[quantity.Area] // absent where the film is for a load
	Loads       int
	Volume      working.Estimate[quantity.Volume]
	Metals      []Carried
}

// Carried is a metal in a volume of solution.
type Carried struct {
	Metal         string
	Concentration working.Estimate[quantity.BathConcentration]
	Mass          working.Estimate[quantity.Mass]
}

// Account is where one metal of one tank went over the period, in g.
type Account struct {
	Tank     chemicals.Name
	Metal    string
	Out      Spread // with the work, out of the tank
	In       Spread // with the work, into it
	Returned Spread // dumped into it
	Dumped   Spread // dumped from it; of a treatment, taken out of the water
	Drained  Spread // with running water
}

// Water is the water side of the shop over a period.
type Water struct {
	Period   chemicals.Period
	Days     []chemicals.Day // with work
	Metals   []string        // that came into the water, by symbol
	DragOuts []DragOut
	Accounts []Account
	Rinses   []RinseUse
	Points   []PointUse
	Hauled   map[string]Spread // g of each metal that went to haul or stays on resin
	Lost     map[string]Spread // g on ways that the book does not tell
	Off      map[string]Spread // g with the work, out of the last tank of its way
	// Calibrations are the drag-outs that samples told, by tank.
	Calibrations []Calibration

	w *walker
}

type dragKey struct {
	tank     string
	film     *Film
	drainage chemicals.Drainage
	span     int
	byLoad   bool // the work was counted by its loads
}

type dragSum struct {
	area, litres Spread
	loads        int
	first, last  chemicals.Day
	entries      []int64
}

// bookDrag adds the work out of a bath to the row of its film and span.
func (w *walker) bookDrag(d *dayWater, t tour, i int, out carry) {
	step := t.steps[i]
	film := w.films.choose(d.plant, step, t.work.Is)
	if film == nil {
		return
	}
	tank := step.tank
	key := dragKey{tank, film, t.work.Is.Drainage, w.contents[tank].span(d.day), !film.byArea(t.work.Is)}
	sum, ok := w.dragged[key]
	if !ok {
		sum = &dragSum{first: d.day}
		w.dragged[key] = sum
		w.order = append(w.order, key)
	}
	if t.work.Is.Area.Known() {
		sum.area.add(same(t.work.Is.Area.Is().SquareMetres() * t.share))
	}
	sum.litres.add(out.volume)
	if t.again {
		return
	}
	sum.loads += t.work.Is.Loads.Int()
	sum.last = d.day
	sum.entries = append(sum.entries, t.work.Entry)
}

// WaterOf walks the work and the water of the shop over its period. Events of
// the weeks before it, if the shop was read with them, fill the still rinses.
// Where samples tell a drag-out that was only estimated, all is walked again
// with it.
func WaterOf(shop *chemicals.Shop, tables *reference.Set) *Water {
	water := walked(newWalker(shop, tables))
	told := water.calibrations()
	if len(told) == 0 {
		return water
	}
	w := newWalker(shop, tables)
	w.films.told = told
	water = walked(w)
	for _, tank := range sortedKeys(told) {
		water.Calibrations = append(water.Calibrations, told[tank])
	}
	return water
}

func walked(w *walker) *Water {
	w.run()
	shop := w.shop
	out := &Water{Period: chemicals.Period{First: shop.Period.First, Last: min(shop.Period.Last, shop.AsOf)}, Days: w.days, w: w, Hauled: map[string]Spread{}, Lost: map[string]Spread{}, Off: map[string]Spread{}}
	for m, metal := range w.metals {
		if w.hauled[m] != (Spread{}) {
			out.Hauled[metal] = w.hauled[m]
		}
		if w.off[m] != (Spread{}) {
			out.Off[metal] = w.off[m]
		}
		if w.lost[m] != (Spread{}) {
			out.Lost[metal] = w.lost[m]
		}
	}
	out.DragOuts = w.dragOuts()
	out.Accounts = w.accounts()
	for _, a := range out.Accounts {
		if !slices.Contains(out.Metals, a.Metal) {
			out.Metals = append(out.Metals, a.Metal)
		}
	}
	slices.Sort(out.Metals)
	out.Rinses = w.rinseUses()
	out.Points = w.pointUses(out.Metals)
	w.booking = true
	w.idleRinses()
	w.bareRecord()
	w.endlessTanks()
	w.bareBaths()
	w.nameUncounted()
	return out
}

func newWalker(shop *chemicals.Shop, tables *reference.Set) *walker {
	first := shop.Period.First
	for _, e := range chemicals.Events[chemicals.Work](shop) {
		first = min(first, e.Date)
	}
	for _, e := range chemicals.Events[chemicals.Dump](shop) {
		first = min(first, e.Date)
	}
	baths := newBaths(shop, tables)
	w := &walker{
		shop: shop, epochs: epochsOf(shop, first), baths: baths, contents: map[string]*contents{}, pools: map[string]*pool{}, from: shop.Period.First,
		dragged: map[dragKey]*dragSum{}, tanks: map[string]*account{}, rinses: map[string]*rinsed{}, points: map[string]map[chemicals.Day]*dayOut{}, inflow: map[string]map[chemicals.Day]float64{}, treated: map[string]map[chemicals.Day]inflow{}, seen: map[Gap]bool{}, missing: map[int64]*uncounted{},
	}
	for _, m := range baths.inUse(first) {
		w.metals, w.folded = append(w.metals, m.Name), append(w.folded, chemicals.Fold(m.Name))
	}
	stands := map[string][]chemicals.Held[chemicals.Tank]{}
	for _, t := range chemicals.Facts[chemicals.Tank](shop) {
		stands[t.Is.Name.Meaning()] = append(stands[t.Is.Name.Meaning()], t)
	}
	for tank, all := range stands {
		w.contents[tank] = newContents(baths, w.metals, all, first)
	}
	w.films = newFilms(w)
	w.hauled, w.lost, w.off = w.masses(), w.masses(), w.masses()
	w.sprayEffect = sprayEffect()
	return w
}

// dragOuts are the rows of drag-out, by line and place of the tank, then day.
func (w *walker) dragOuts() []DragOut {
	var rows []DragOut
	for _, key := range w.order {
		rows = append(rows, w.dragOut(key, w.dragged[key]))
	}
	slices.SortStableFunc(rows, func(a, b DragOut) int {
		return cmp.Or(w.place(a.Tank, b.Tank), cmp.Compare(a.First, b.First), cmp.Compare(a.Drainage, b.Drainage))
	})
	return rows
}

// place compares tanks by line and position.
func (w *walker) place(a, b chemicals.Name) int {
	x, y := w.tank(a.Meaning()).Is, w.tank(b.Meaning()).Is
	return cmp.Or(cmp.Compare(x.Line, y.Line), cmp.Compare(x.Position.Int(), y.Position.Int()), cmp.Compare(x.Name, y.Name))
}

// tank is the latest of what stands under a name.
func (w *walker) tank(key string) chemicals.Held[chemicals.Tank] {
	if c, ok := w.contents[key]; ok {
		return c.stands[len(c.stands)-1]
	}
	return chemicals.Held[chemicals.Tank]{}
}

func (w *walker) dragOut(key dragKey, sum *dragSum) DragOut {
	row := DragOut{
		Tank: w.tank(key.tank).Is.Name, Drainage: key.drainage, First: sum.first, Last: sum.last, Entries: sum.entries, Film: key.film, Loads: sum.loads,
		Area: working.Absent[quantity.Area]("the drag-out is counted by loads"),
	}
	if area := sum.area[working.Likely]; !key.byLoad {
		row.Area = recordedArea(area, sum.entries)
		r, err := dragout.ByArea{Area: row.Area, Film: key.film.PerArea}.Solve()
		if err != nil {
			panic("exposure: " + err.Error()) // area and film are known
		}
		row.Volume = r.Volume
	} else {
		loads := working.Given(source.Value[int]{Is: sum.loads, Origin: source.Recorded}, fmt.Sprintf("%d in entries %s", sum.loads, span(sum.entries)))
		row.Volume = working.Compute(working.Formula{Line: "V = N × d", Unit: "L"}, func(c working.Case) quantity.Volume {
			return quantity.Volume(float64(sum.loads)*key.film.PerLoad.At(c).Litres()) * quantity.Litre
		}, loads.As("N", "loads"), key.film.PerLoad.As("d", "drag-out of a load"))
	}
	for _, m := range w.contents[key.tank].at(key.span).Metals {
		if !m.Concentration.Known() {
			continue
		}
		c := m.Concentration
		row.Metals = append(row.Metals, Carried{Metal: m.Metal.Name, Concentration: c, Mass: working.Compute(working.Formula{Line: "m = V × c", Unit: "g"},
			func(at working.Case) quantity.Mass {
				return quantity.Mass(row.Volume.At(at).Litres()*grams(c, at)) * quantity.Gram
			}, row.Volume.As("V", "drag-out of "+row.Tank.String()), c.As("c", m.Metal.Name+" in the bath"))})
	}
	return row
}

func recordedArea(squareMetres float64, entries []int64) working.Estimate[quantity.Area] {
	value := source.Value[quantity.Area]{Is: quantity.Area(squareMetres) * quantity.SquareMetre, Origin: source.Recorded}
	return working.Given(value, fmt.Sprintf("%s m² in entries %s", quantity.Significant(squareMetres, 4), span(entries)))
}

// accounts are those of every tank and metal that met, by place and symbol.
func (w *walker) accounts() []Account {
	var all []Account
	for key, a := range w.tanks {
		for m, metal := range w.metals {
			one := Account{Tank: w.tank(key).Is.Name, Metal: metal, Out: a.out[m], In: a.in[m], Returned: a.returned[m], Dumped: a.dumped[m], Drained: a.drained[m]}
			if one.Out != (Spread{}) || one.In != (Spread{}) || one.Returned != (Spread{}) || one.Dumped != (Spread{}) || one.Drained != (Spread{}) {
				all = append(all, one)
			}
		}
	}
	slices.SortFunc(all, func(a, b Account) int { return cmp.Or(w.place(a.Tank, b.Tank), cmp.Compare(a.Metal, b.Metal)) })
	return all
}

// AllGaps are those of the walk with those that Meters, Balances and PlanOf
// found since.
func (water *Water) AllGaps() []Gap { return sorted(slices.Clone(water.w.gaps)) }

// bareRecord names what the whole water side stands on and is not recorded.
func (w *walker) bareRecord() {
	if len(w.days) == 0 {
		w.gap(Gap{Where: "work", What: "no work is recorded in the period, so nothing is known of what it carried into the rinses", Mend: "record cycle and work"})
	}
	if len(chemicals.On[chemicals.Point](w.shop, w.shop.AsOf)) == 0 {
		w.gap(Gap{Where: "point", What: "no point is recorded at which waste water leaves", Mend: "record point, with what takes the water"})
	}
}

// endlessTanks names the tanks that stand on the last day and drain to a name
// that the book never has, such as a misspelt one. Those from which metal went
// there are named already.
func (w *walker) endlessTanks() {
	p := w.epochs.on(min(w.shop.Period.Last, w.shop.AsOf))
	for _, tank := range sortedKeys(p.tanks) {
		t := p.tanks[tank]
		to := t.Is.DrainsTo
		if !to.Known() || to.Meaning() == chemicals.Haul.Meaning() || len(namedSo(w.shop, to)) > 0 || w.seen[noEnd(t.Is.Name.String(), to)] {
			continue
		}
		w.gap(Gap{Where: "tank " + t.Is.Name.String(), What: fmt.Sprintf("it drains to %q, which is no tank, no point and not %s", to, chemicals.Haul), Mend: mendDrain, Entry: t.Entry})
	}
}

// bareBaths names the baths that plate a metal of which nothing says how much
// they hold: their drag-out carries none of it by the book.
func (w *walker) bareBaths() {
	p, last := w.epochs.on(w.shop.AsOf), min(w.shop.Period.Last, w.shop.AsOf)
	for _, tank := range sortedKeys(p.tanks) {
		t := p.tanks[tank]
		if t.Is.Plates.Known() && !w.contents[tank].metal(last, t.Is.Plates.String()).Known() {
			w.gap(Gap{Where: "tank " + t.Is.Name.String(), What: fmt.Sprintf("it plates %s, but nothing says how much %s it holds, so none is counted in its drag-out", t.Is.Plates, t.Is.Plates), Mend: "record its bath with what it is made up with, or an analysis of the metal", Entry: t.Entry})
		}
	}
}

// idleRinses names the rinses that no work comes to.
func (w *walker) idleRinses() {
	p := w.epochs.on(w.shop.AsOf)
	met := map[string]bool{}
	for _, steps := range p.cycles {
		for _, s := range steps {
			met[s.tank] = true
		}
	}
	for tank, r := range p.rinses {
		if !met[tank] {
			w.gap(Gap{Where: "rinse " + r.Is.Tank.String(), What: "it stands in no cycle, so no work is known to come to it", Mend: "record the steps of the cycle with it, or end the rinse", Entry: r.Entry})
		}
	}
}
