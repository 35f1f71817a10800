package exposure

import (
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/plating"
)

// Balance is where one metal came from and went over the period.
type Balance struct {
	Metal       string
	Lines       []BalanceLine
	Shipped     Spread // g in waste that was shipped, by assay; a check on what treatment kept
	ShippedHow  string
	Unexplained Spread // g: what came less what went
	Open        bool   // a line is not known, so what is unexplained holds it too
}

// BalanceLine is one line of a balance.
type BalanceLine struct {
	What  string
	Comes bool   // came; else it went
	Grams Spread // 0 where not known
	Why   string // it is not known; empty where it is
	How   string // it is known
}

// Balances are those of every metal that came into the water or was plated, by
// symbol.
func (water *Water) Balances(holdings []Holding) []Balance {
	w := water.w
	metals := slices.Clone(water.Metals)
	for _, t := range chemicals.On[chemicals.Tank](w.shop, water.Period.Last) {
		if plated := t.Is.Plates.String(); plated != "" && slices.Contains(w.metals, plated) && !slices.Contains(metals, plated) {
			metals = append(metals, plated)
		}
	}
	slices.Sort(metals)
	var all []Balance
	for _, metal := range metals {
		species, ok := w.baths.tables.Species(metal)
		if !ok {
			continue
		}
		b := Balance{Metal: metal}
		b.Lines = append(b.Lines, w.bought(species), w.shelfChange(holdings, species, water.Period), w.bathChange(metal, water.Period), w.stillChange(metal))
		b.Lines = append(b.Lines, w.plated(metal, species)...)
		b.Lines = append(b.Lines, water.leaving(metal)...)
		b.Shipped, b.ShippedHow = w.shipped(metal)
		for _, l := range b.Lines {
			b.Open = b.Open || l.Why != ""
			if l.Comes {
				b.Unexplained.add(l.Grams)
			} else {
				b.Unexplained = b.Unexplained.minus(l.Grams)
			}
		}
		all = append(all, b)
	}
	return all
}

// bought is the metal in the receipts of the period.
func (w *walker) bought(of reference.Species) BalanceLine {
	line := BalanceLine{What: "bought", Comes: true}
	n := 0
	for _, r := range chemicals.Events[chemicals.Receipt](w.shop) {
		if !w.shop.Period.Holds(r.Date) {
			continue
		}
		shelf := w.baths.shelf(r.Date)
		share := shelf.matter(r.Is.Product).Share(of)
		if !share.Known() {
			continue
		}
		each := amounts(r.Is.ContainerSize.Is(), shelf.products[r.Is.Product.Meaning()].Is.Density)
		if !each.MassKnown {
			line.Why = fmt.Sprintf("the density of %s is not recorded", r.Is.Product)
			continue
		}
		mass := each.Mass.Grams() * float64(r.Is.Containers.Int())
		line.Grams.add(spreadOf(share, asIs).times(mass))
		n++
	}
	line.How = fmt.Sprintf("%d receipts", n)
	return line
}

// shelfChange is the metal that the shelves gave up: what stood there on the
// first day less what stands there on the last.
func (w *walker) shelfChange(holdings []Holding, of reference.Species, period chemicals.Period) BalanceLine {
	line := BalanceLine{What: "taken from stock", Comes: true, How: "stock on the first day less stock on the last"}
	for _, h := range holdings {
		share := h.Matter.Share(of)
		if !share.Known() {
			continue
		}
		first, counted := h.on(period.First)
		last, still := h.on(period.Last)
		if !counted || !still || !first.MassKnown || !last.MassKnown {
			line.Why = fmt.Sprintf("the stock of %s on %s is not known", h.Product.Is.Name, period.First)
			continue
		}
		line.Grams.add(spreadOf(share, asIs).times((first.Mass - last.Mass).Grams()))
	}
	return line
}

// bathChange is the metal that the baths gave up over the period.
func (w *walker) bathChange(metal string, period chemicals.Period) BalanceLine {
	line := BalanceLine{What: "taken from baths", Comes: true, How: "in the baths on the first day less on the last"}
	for _, tank := range sortedKeys(w.contents) {
		c := w.contents[tank]
		for _, t := range c.stands {
			if !t.Is.WorkingVolume.Known() || w.epochs.on(period.Last).isRinse(tank) {
				continue
			}
			litres := t.Is.WorkingVolume.Is().Litres()
			m := slices.Index(w.metals, metal)
			if t.On(period.First) {
				line.Grams.add(c.on(period.First)[m].times(litres))
			}
			if t.On(period.Last) {
				line.Grams = line.Grams.minus(c.on(period.Last)[m].times(litres))
			}
		}
	}
	return line
}

// stillChange is what the still rinses hold at the end. They are taken to have
// begun as the walk found them.
func (w *walker) stillChange(metal string) BalanceLine {
	line := BalanceLine{What: "held in still rinses", How: "at the end of the period"}
	m := slices.Index(w.metals, metal)
	for _, tank := range sortedKeys(w.pools) {
		line.Grams.add(w.pools[tank].mass[m].minus(w.pools[tank].begun[m]))
	}
	line.What = "more in still rinses than at the start"
	return line
}

// plated is the metal that each tank deposited: by its ampere-hours, else by
// current, dwell and loads.
func (w *walker) plated(metal string, of reference.Species) []BalanceLine {
	metals := PlatingMetals(w.baths.tables)
	var lines []BalanceLine
	for _, tank := range sortedKeys(w.contents) {
		t := w.tank(tank)
		if t.Is.Plates.String() != metal {
			continue
		}
		line := BalanceLine{What: "plated in " + t.Is.Name.String()}
		charge, how := w.charge(tank, t)
		found, _ := metals(metal)
		d := plating.Deposit{
			Metal: found, Charge: charge,
			Valence:    working.Given(source.Value[int]{Is: t.Is.Valence.Int(), Origin: source.Recorded, Ref: source.Entry(t.Entry)}, t.Is.Valence.String()),
			Efficiency: working.Given(source.Value[float64]{Is: t.Is.CathodeEfficiency.Fraction(), Origin: source.Recorded, Ref: source.Entry(t.Entry)}, t.Is.CathodeEfficiency.String()),
		}
		r, err := d.Solve()
		switch {
		case !charge.Known():
			line.Why = charge.Why()
		case !t.Is.Valence.Known() || !t.Is.CathodeEfficiency.Known():
			line.Why = "valence or cathode efficiency of " + t.Is.Name.String() + " is not recorded"
		case err != nil:
			line.Why = err.Error()
		default:
			line.Grams, line.How = spreadOf(r.Mass, quantity.Mass.Grams), how
		}
		lines = append(lines, line)
	}
	return lines
}

// charge is what passed in a tank over the period.
func (w *walker) charge(tank string, t chemicals.Held[chemicals.Tank]) (working.Estimate[quantity.Charge], string) {
	sum, n := 0.0, 0
	for _, c := range chemicals.Events[chemicals.Charged](w.shop) {
		if c.Is.Tank.Meaning() == tank && w.shop.Period.Holds(c.Date) {
			sum += c.Is.Charge.Is().AmpereHours()
			n++
		}
	}
	if n > 0 {
		how := fmt.Sprintf("%s A·h in %d readings", quantity.Significant(sum, 4), n)
		return working.Given(source.Value[quantity.Charge]{Is: quantity.Charge(sum) * quantity.AmpereHour, Origin: source.Measured}, how), "by ampere-hours: " + how
	}
	if !t.Is.Current.Known() {
		return working.Absent[quantity.Charge]("no ampere-hours and no current of " + t.Is.Name.String() + " are recorded"), ""
	}
	hours, loads, ok := w.dwelt(tank)
	if !ok {
		return working.Absent[quantity.Charge]("no ampere-hours are recorded, and dwell or loads are missing"), ""
	}
	amperes := t.Is.Current.Is().Amperes()
	how := fmt.Sprintf("%s × dwell, %d loads, %s h", t.Is.Current, loads, quantity.Significant(hours, 4))
	return working.Given(source.Value[quantity.Charge]{Is: quantity.Charge(amperes*hours) * quantity.AmpereHour, Origin: source.Computed}, how), "by current × dwell × loads: " + how
}

// dwelt is the time that loads hung in a tank over the period, one after the
// other.
func (w *walker) dwelt(tank string) (hours float64, loads int, ok bool) {
	for _, work := range chemicals.Events[chemicals.Work](w.shop) {
		if !w.shop.Period.Holds(work.Date) {
			continue
		}
		for _, s := range w.epochs.on(work.Date).cycles[work.Is.Cycle.Meaning()] {
			if s.tank != tank {
				continue
			}
			if !s.Is.Dwell.Known() || !work.Is.Loads.Known() {
				return 0, 0, false
			}
			hours += s.Is.Dwell.Is().Hours() * float64(work.Is.Loads.Int())
			loads += work.Is.Loads.Int()
		}
	}
	return hours, loads, loads > 0
}

// leaving are the lines of the water side.
func (water *Water) leaving(metal string) []BalanceLine {
	var lines []BalanceLine
	at := slices.Index(water.Metals, metal)
	for _, p := range water.Points {
		if at >= 0 {
			lines = append(lines, BalanceLine{What: "left at " + p.Point.Is.Name.String(), Grams: p.Whole.Grams[at], How: "drag-out, rinses and dumps after treatment"})
		}
	}
	kept := BalanceLine{What: "kept by treatment", How: "what came in less what it leaves"}
	for _, a := range water.Accounts {
		if a.Metal == metal && water.w.tank(a.Tank.Meaning()).Is.Purpose == chemicals.Treat {
			kept.Grams.add(a.Dumped)
		}
	}
	lines = append(lines, BalanceLine{What: "off with the work", Grams: water.Off[metal], How: "clinging to it behind the last tank"}, kept, BalanceLine{What: "to haul and resin", Grams: water.Hauled[metal], How: "dumps and drains to haul, resin"})
	if lost := water.Lost[metal]; lost != (Spread{}) {
		lines = append(lines, BalanceLine{What: "on ways that the book does not tell", Grams: lost})
	}
	return lines
}

// shipped is the metal in waste that was shipped, by the latest assay up to
// the shipment.
func (w *walker) shipped(metal string) (Spread, string) {
	var sum Spread
	n, unknown := 0, 0
	for _, move := range w.shipments() {
		assay, ok := w.assay(move.Is.Stream, metal, move.Date)
		mass, isMass := move.Is.Amount.Is().Mass()
		volume, isVolume := move.Is.Amount.Is().Volume()
		share, byShare := assay.Is.Content.Is().Share()
		perLitre, byVolume := assay.Is.Content.Is().GramsPerLitre()
		switch {
		case ok && isMass && byShare:
			sum.add(same(mass.Grams() * share))
			n++
		case ok && isVolume && byVolume:
			sum.add(same(volume.Litres() * perLitre))
			n++
		case ok:
			unknown++
		}
	}
	how := fmt.Sprintf("%d shipments with an assay", n)
	if unknown > 0 {
		how += fmt.Sprintf("; %d more whose amount and assay are on different bases", unknown)
	}
	return sum, how
}

// shipments are those of the period, each container once: the same container of
// a stream shipped again without having come back or been filled is named.
func (w *walker) shipments() []chemicals.Happened[chemicals.WasteMove] {
	gone := map[string]chemicals.Happened[chemicals.WasteMove]{}
	var all []chemicals.Happened[chemicals.WasteMove]
	for _, m := range chemicals.Events[chemicals.WasteMove](w.shop) {
		key := m.Is.Stream.Meaning() + "\t" + m.Is.Container.Meaning()
		if m.Is.Event != chemicals.WasteShipped {
			if m.Is.Event == chemicals.WasteReturned || m.Is.Event == chemicals.WasteAdded {
				delete(gone, key)
			}
			continue
		}
		if before, twice := gone[key]; twice && m.Is.Container.Known() {
			w.gap(Gap{
				Where: "waste " + m.Is.Stream.String(), What: fmt.Sprintf("container %s was shipped on %s and again on %s; counted once", m.Is.Container, before.Date, m.Date),
				Mend: "withdraw one of the two, or record that it came back or was filled again", Entry: m.Entry,
			})
			continue
		}
		gone[key] = m
		if w.shop.Period.Holds(m.Date) {
			all = append(all, m)
		}
	}
	return all
}

func (w *walker) assay(stream chemicals.Name, metal string, day chemicals.Day) (chemicals.Happened[chemicals.MetalAssay], bool) {
	var latest chemicals.Happened[chemicals.MetalAssay]
	found := false
	for _, a := range chemicals.Events[chemicals.MetalAssay](w.shop) {
		if a.Is.Stream.Meaning() == stream.Meaning() && a.Is.Metal.String() == metal && a.Date <= day {
			latest, found = a, true
		}
	}
	return latest, found
}
