package exposure

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/dragout"
)

// Film is a drag-out that is taken for work out of a tank, for each area or
// for each load, and the way in which it is known.
type Film struct {
	Tank    chemicals.Name
	Way     FilmWay
	What    string // "measured, by weighing"; "vertical, well drained"
	PerArea working.Estimate[quantity.Film]
	PerLoad working.Estimate[quantity.LoadVolume]
}

// FilmWay is a way to know a drag-out.
type FilmWay int

// The ways, in the order of trust: the first that the book has the facts for is
// taken.
const (
	Measured FilmWay = iota + 1
	ByAdditions
	ByRise
	BySamples // one of the two below, calibrated
	ByWithdrawal
	ByTable
)

func (w FilmWay) String() string {
	return [...]string{
		Measured: "measured", ByAdditions: "from additions", ByRise: "from the rise of a still rinse",
		BySamples: "calibrated by samples", ByWithdrawal: "from the speed of withdrawal", ByTable: "published table",
	}[w]
}

// fits reports whether the film can be used on a piece of work.
func (f *Film) fits(work chemicals.Work) bool {
	return f.byArea(work) || f.PerLoad.Known() && work.Loads.Known()
}

// byArea reports whether the film counts a piece of work by its area.
func (f *Film) byArea(work chemicals.Work) bool { return f.PerArea.Known() && work.Area.Known() }

// litres is what clings to a piece of work that the film fits.
func (f *Film) litres(work chemicals.Work) Spread {
	if f.byArea(work) {
		return spreadOf(f.PerArea, quantity.Film.LitresPerSquareMetre).times(work.Area.Is().SquareMetres())
	}
	return spreadOf(f.PerLoad, quantity.LoadVolume.Litres).times(float64(work.Loads.Int()))
}

type filmKey struct {
	step     *stop
	tank     string
	drainage chemicals.Drainage
}

// films finds the drag-out of work by tank.
type films struct {
	w         *walker
	chosen    map[filmKey][]*Film // in the order of trust
	additions map[string]*Film    // by tank; nil where they tell nothing
	rises     map[string]*Film
	measured  map[int64]*Film
	published map[filmKey]*Film
	withdrawn map[string]*Film
	told      map[string]Calibration // by tank
	scaled    map[*Film]*Film        // films that samples calibrate
}

func newFilms(w *walker) *films {
	return &films{
		w: w, chosen: map[filmKey][]*Film{}, additions: map[string]*Film{}, rises: map[string]*Film{},
		measured: map[int64]*Film{}, published: map[filmKey]*Film{}, withdrawn: map[string]*Film{}, scaled: map[*Film]*Film{},
	}
}

// choose gives the film for a piece of work out of a tank, nil where none is
// known. Of a rinse only a measured one counts.
func (f *films) choose(p *plant, step *stop, work chemicals.Work) *Film {
	key := filmKey{step: step, drainage: work.Drainage}
	all, known := f.chosen[key]
	if !known {
		all = f.ways(p, step, work.Drainage)
		f.chosen[key] = all
	}
	for _, film := range all {
		if film.fits(work) {
			return film
		}
	}
	return nil
}

// volume is what clings to work behind a step, in L; own is false behind a
// rinse of which nothing was measured.
func (f *films) volume(p *plant, step *stop, work chemicals.Happened[chemicals.Work]) (litres Spread, own bool) {
	film := f.choose(p, step, work.Is)
	if film != nil {
		return film.litres(work.Is), true
	}
	if step.rinse {
		return Spread{}, false
	}
	f.w.uncounted(work, step.Is.Tank)
	return Spread{}, true
}

func lacking(work chemicals.Work) string {
	switch {
	case !work.Area.Known() && work.Loads.Known():
		return "no area, and no drag-out of a load is known"
	case !work.Area.Known():
		return "neither area nor loads"
	case work.Drainage == "":
		return "no drainage, and no drag-out was measured"
	}
	return "drainage " + string(work.Drainage) + ", for which nothing is measured or published"
}

// ways are all films that the book and the table have for a tank.
func (f *films) ways(p *plant, step *stop, drainage chemicals.Drainage) []*Film {
	tank := step.tank
	var all []*Film
	add := func(film *Film) {
		if film != nil {
			all = append(all, film)
		}
	}
	for _, row := range p.films[tank] {
		if row.Is.Drainage == drainage {
			add(f.ofMeasured(row))
		}
	}
	if p.isRinse(tank) {
		return all
	}
	add(f.byAdditions(p, tank))
	add(f.byRise(p, tank))
	add(f.calibrated(tank, f.byWithdrawal(p, step)))
	add(f.calibrated(tank, f.byTable(step.Is.Tank, drainage)))
	return all
}

func (f *films) ofMeasured(row chemicals.Held[chemicals.DragOut]) *Film {
	if known, ok := f.measured[row.Entry]; ok {
		return known
	}
	film := &Film{
		Tank: row.Is.Tank, Way: Measured, What: strings.TrimSuffix("measured, "+row.Is.How.String(), ", "),
		PerArea: measuredAt(row.Is.PerArea, row.Entry, "no drag-out for an area was measured"), PerLoad: measuredAt(row.Is.PerLoad, row.Entry, "no drag-out of a load was measured"),
	}
	f.measured[row.Entry] = film
	return film
}

func measuredAt[Q quantity.Quantity[Q]](q quantity.Stated[Q], entry int64, why string) working.Estimate[Q] {
	if !q.Known() {
		return working.Absent[Q](why)
	}
	return working.Given(source.Value[Q]{Is: q.Is(), Origin: source.Measured, Ref: source.Entry(entry)}, q.String())
}

func (f *films) byTable(tank chemicals.Name, drainage chemicals.Drainage) *Film {
	key := filmKey{tank: tank.Meaning(), drainage: drainage}
	if known, ok := f.published[key]; ok {
		return known
	}
	film, err := dragout.Film(string(drainage))
	if err != nil {
		return nil
	}
	f.published[key] = &Film{Tank: tank, Way: ByTable, What: string(drainage), PerArea: film}
	return f.published[key]
}

func (f *films) byWithdrawal(p *plant, step *stop) *Film {
	tank := p.tanks[step.tank]
	if !step.Is.Withdrawal.Known() || !tank.Is.Viscosity.Known() || !tank.Is.Density.Known() {
		return nil
	}
	key := fmt.Sprint(tank.Entry, " ", step.Is.Withdrawal.Meaning())
	if known, ok := f.withdrawn[key]; ok {
		return known
	}
	r, err := dragout.ByWithdrawal{
		Withdrawal: stated(step.Is.Withdrawal, step.Entry, ""), Viscosity: stated(tank.Is.Viscosity, tank.Entry, ""), Density: stated(tank.Is.Density, tank.Entry, ""),
	}.Solve()
	if err != nil {
		return nil
	}
	f.withdrawn[key] = &Film{Tank: step.Is.Tank, Way: ByWithdrawal, What: "withdrawn at " + step.Is.Withdrawal.String(), PerArea: r.Film}
	return f.withdrawn[key]
}

// byAdditions finds the drag-out of a bath from what was added of an ingredient
// that leaves by drag-out only, over the period: that one which was added most
// often.
func (f *films) byAdditions(p *plant, tank string) *Film {
	if known, ok := f.additions[tank]; ok {
		return known
	}
	f.additions[tank] = nil
	held := f.w.contents[tank]
	best := 0
	var area working.Estimate[quantity.Area]
	for _, content := range held.last(min(f.w.shop.Period.Last, f.w.shop.AsOf)).Contents {
		if content.MadeUp == nil || content.MadeUp.Is.Leaves != chemicals.ByDragOutOnly || !content.Concentration.Known() {
			continue
		}
		added, times := f.added(tank, content.Matter)
		if times < planned().leastAdditions || times <= best {
			continue
		}
		if area = f.areaThrough(tank); !area.Known() {
			return nil
		}
		r, err := dragout.ByAdditions{Added: added, Bath: content.Concentration, Area: area}.Solve()
		if err != nil {
			continue
		}
		best = times
		f.additions[tank] = &Film{
			Tank: p.tanks[tank].Is.Name, Way: ByAdditions, What: fmt.Sprintf("from %d additions of %s", times, content.Name), PerArea: r.Film,
		}
	}
	return f.additions[tank]
}

// added sums what was added of an ingredient over the period.
func (f *films) added(tank string, of Matter) (working.Estimate[quantity.Amount], int) {
	var grams float64
	var entries []int64
	for _, a := range chemicals.Events[chemicals.Addition](f.w.shop) {
		if a.Is.Tank.Meaning() != tank || !f.w.shop.Period.Holds(a.Date) {
			continue
		}
		share, ok := f.w.baths.shelf(a.Date).matter(a.Is.Product).holds(of)
		if !ok {
			continue
		}
		product := f.w.baths.shelf(a.Date).products[a.Is.Product.Meaning()]
		mass := amounts(a.Is.Amount.Is(), product.Is.Density)
		if !mass.MassKnown {
			continue
		}
		grams += mass.Mass.Grams() * share
		entries = append(entries, a.Entry)
	}
	if len(entries) == 0 {
		return working.Absent[quantity.Amount]("none was added"), 0
	}
	sum := quantity.OfMass(quantity.Mass(grams) * quantity.Gram)
	text := fmt.Sprintf("%s in %d additions, entries %s", quantity.Print(sum, "kg", 4), len(entries), span(entries))
	return working.Given(source.Value[quantity.Amount]{Is: sum, Origin: source.Recorded, Ref: source.Entry(entries[0])}, text), len(entries)
}

// holds is the part by mass that an ingredient is of m.
func (m Matter) holds(of Matter) (float64, bool) {
	if m.same(of) {
		return 1, true
	}
	for _, part := range m.Parts {
		if of.Substance != nil && part.Substance == of.Substance {
			return part.content().Is(), true
		}
	}
	return 0, false
}

// areaThrough is the area of all work through a tank in the period, absent
// where a piece of it has none.
func (f *films) areaThrough(tank string) working.Estimate[quantity.Area] {
	var area float64
	entries := 0
	for _, work := range chemicals.Events[chemicals.Work](f.w.shop) {
		if !f.w.shop.Period.Holds(work.Date) || !f.w.goesThrough(work, tank) {
			continue
		}
		if !work.Is.Area.Known() {
			return working.Absent[quantity.Area]("work without an area went through it")
		}
		area += work.Is.Area.Is().SquareMetres()
		entries++
	}
	if area == 0 {
		return working.Absent[quantity.Area]("no work went through it")
	}
	value := source.Value[quantity.Area]{Is: quantity.Area(area) * quantity.SquareMetre, Origin: source.Recorded}
	return working.Given(value, fmt.Sprintf("%s m² in %d entries of work", quantity.Significant(area, 4), entries))
}

func (w *walker) goesThrough(work chemicals.Happened[chemicals.Work], tank string) bool {
	return slices.ContainsFunc(w.epochs.on(work.Date).cycles[work.Is.Cycle.Meaning()], func(s *stop) bool {
		return s.tank == tank
	})
}

// span prints the first and last of some entries.
func span(entries []int64) string {
	if len(entries) == 1 {
		return fmt.Sprint(entries[0])
	}
	return fmt.Sprintf("%d to %d", slices.Min(entries), slices.Max(entries))
}
