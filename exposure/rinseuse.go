package exposure

import (
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/rinse"
)

// RinseUse is a rinse over the period: one tank, or a counterflow of several.
type RinseUse struct {
	Tanks       []chemicals.Name // as the work comes to them
	Set         chemicals.Held[chemicals.Rinse]
	Feed        chemicals.Held[chemicals.Rinse] // where the fresh water enters
	After       chemicals.Name                  // the bath that most of the drag-in comes from
	Lead        string                          // the metal by which the rinse is judged; empty where the bath holds none
	Days        int                             // with work
	Loads       int                             // of the period, 0 where not every entry says
	DragInDay   working.Estimate[quantity.Volume]
	DragIn      working.Estimate[quantity.Flow] // over the hours that the water runs
	HeaviestDay chemicals.Day
	Heaviest    working.Estimate[quantity.Volume]
	HeavyLoads  int // of that day, 0 where not said

	Water     working.Estimate[quantity.Flow]              // now
	Bath      working.Estimate[quantity.BathConcentration] // of the lead metal, in the bath on the last day
	Incoming  working.Estimate[quantity.BathConcentration] // of the lead metal, in what the work brings, the mean of the period
	Ratio     working.Estimate[float64]                    // at equilibrium
	Stages    []working.Estimate[quantity.BathConcentration]
	Wanted    working.Estimate[float64]       // ratio
	Needed    working.Estimate[quantity.Flow] // for the wanted ratio
	RootRule  working.Estimate[quantity.Flow] // what r^(1/n) gives for it
	Turnover  working.Estimate[quantity.Duration]
	Heavy     []working.Estimate[quantity.BathConcentration] // after the heaviest day, from rest
	LowerOnly bool                                           // the water turns over slower than a working day: the steady figures are a lower bound

	Still  *StillUse // of a still rinse
	Metals []RinseMetal
}

// StillUse is a still rinse as it stands on the last day of the walk.
type StillUse struct {
	Loads    int // since it was emptied or the walk began
	Since    chemicals.Day
	Dip      bool    // work goes through it before and after the bath
	Known    bool    // an emptying or an analysis said where it began
	Litres   float64 // it holds
	Metals   []Standing
	PerDay   float64                   // loads of a day with work, the mean
	ToTarget working.Estimate[float64] // loads from clean until it holds what is wanted
	NextDump chemicals.Day             // at the mean pace; empty where it cannot be told
	Why      string                    // it cannot be told
}

// Standing is a metal in a still rinse, in g/L.
type Standing struct {
	Metal         string
	Concentration Spread
}

// RinseMetal is a metal through a rinse over the period, in g.
type RinseMetal struct {
	Metal string
	In    Spread // with the work
	On    Spread // with the work, to the next tank
}

// Kept is what stayed in the rinse or left with its water.
func (m RinseMetal) Kept() Spread { return m.In.minus(m.On) }

// sprayEffect is how far each drop of a spray displaces what clings to the
// work, from the table: the middle of its two ends as likely.
func sprayEffect() Spread {
	least, most := rinse.SprayEffect()
	return Spread{(least.Is() + most.Is()) / 2, least.Is(), most.Is()}
}

func (w *walker) rinseUses() []RinseUse {
	var uses []RinseUse
	for _, first := range sortedKeys(w.rinses) {
		r := w.rinses[first]
		if r.days == 0 {
			continue
		}
		uses = append(uses, w.rinseUse(first, r))
	}
	slices.SortStableFunc(uses, func(a, b RinseUse) int { return w.place(a.Tanks[0], b.Tanks[0]) })
	return uses
}

func (w *walker) rinseUse(first string, r *rinsed) RinseUse {
	use := RinseUse{Set: r.set, Feed: r.chain.feed, Days: r.days, HeaviestDay: r.heavyOn, HeavyLoads: r.heavyN}
	for _, tank := range r.chain.tanks {
		use.Tanks = append(use.Tanks, w.tank(tank).Is.Name)
	}
	if !r.unsaid {
		use.Loads = r.loads
	}
	bath := after(r)
	use.After = w.tank(bath).Is.Name
	for m, metal := range w.metals {
		if r.in[m] != (Spread{}) {
			use.Metals = append(use.Metals, RinseMetal{Metal: metal, In: r.in[m], On: r.out[m]})
		}
	}
	use.Lead, use.Bath = w.lead(use.wish(), bath, r.in)
	use.Incoming = w.incoming(use.Lead, r)
	use.DragInDay = perDay(r, use)
	use.Heaviest = computedSpread(r.heavySpread(), "drag-in on "+r.heavyOn.String())
	use.Wanted = w.wanted(use)
	switch r.set.Is.Arrangement {
	case chemicals.Still:
		use.Still = w.still(first, r, use)
	default:
		w.flowing(&use, r)
	}
	return use
}

// wish is what is wanted of a rinse: by the row of its first tank, else by that
// of the tank where its water enters.
func (use RinseUse) wish() chemicals.Wanted {
	if use.Set.Is.Wanted.Known() {
		return use.Set.Is.Wanted
	}
	return use.Feed.Is.Wanted
}

// after is the bath that most of the drag-in comes from; of equal ones the
// first by name.
func after(r *rinsed) string {
	best := ""
	for _, bath := range sortedKeys(r.source) {
		if best == "" || r.source[bath] > r.source[best] {
			best = bath
		}
	}
	return best
}

// heavySpread is the drag-in of the heaviest day with the spread of the whole
// period.
func (r *rinsed) heavySpread() Spread {
	if r.volume[working.Likely] == 0 {
		return Spread{}
	}
	return r.volume.times(r.heavy / r.volume[working.Likely])
}

// lead is the metal by which a rinse is judged: the one that is wanted of it,
// else the one that most comes in of; with its concentration in the bath.
func (w *walker) lead(wish chemicals.Wanted, bath string, in masses) (string, working.Estimate[quantity.BathConcentration]) {
	metal := wish.Metal.String()
	if metal == "" {
		most := 0.0
		for m := range in {
			if in[m][working.Likely] > most {
				metal, most = w.metals[m], in[m][working.Likely]
			}
		}
	}
	held, ok := w.contents[bath]
	switch {
	case metal == "":
		return "", working.Absent[quantity.BathConcentration]("no metal is known to come into it")
	case !ok:
		return metal, working.Absent[quantity.BathConcentration]("no bath before it is known")
	}
	return metal, held.metal(min(w.shop.Period.Last, w.shop.AsOf), metal)
}

func perDay(r *rinsed, use RinseUse) working.Estimate[quantity.Volume] {
	sum := computedSpread(r.volume, "drag-in over the period")
	days := counted(r.days, "days with work")
	return working.Compute(working.Formula{Line: "D = V / N", Unit: "L"}, func(c working.Case) quantity.Volume {
		return quantity.Volume(sum.At(c).Litres()/float64(days.At(c))) * quantity.Litre
	}, sum.As("V", "drag-in over the period"), days.As("N", "days with work"))
}

// computedSpread is a volume that the walk added up, in L.
func computedSpread(s Spread, how string) working.Estimate[quantity.Volume] {
	text := quantity.Print(quantity.Volume(s[working.Likely])*quantity.Litre, "L", 4) + ", " + how
	e := working.Given(source.Value[quantity.Volume]{Is: quantity.Volume(s[working.Likely]) * quantity.Litre, Origin: source.Computed}, text)
	if s[working.Low] == s[working.Likely] && s[working.High] == s[working.Likely] {
		return e
	}
	return e.Between(quantity.Volume(s[working.Low])*quantity.Litre, quantity.Volume(s[working.High])*quantity.Litre,
		fmt.Sprintf("%s (low %s, high %s)", text, quantity.Significant(s[working.Low], 3), quantity.Significant(s[working.High], 3)))
}

// incoming is the mean strength of what the work brings. Behind a still rinse it
// is weaker than the bath.
func (w *walker) incoming(metal string, r *rinsed) working.Estimate[quantity.BathConcentration] {
	m := slices.Index(w.metals, metal)
	if m < 0 || r.volume[working.Likely] == 0 {
		return working.Absent[quantity.BathConcentration]("no metal is known to come into it")
	}
	in := r.in[m]
	mass := computedMass(in, metal+" that came in over the period")
	volume := computedSpread(r.volume, "drag-in over the period")
	return working.Compute(working.Formula{Line: "C = m / V", Unit: "g/L"}, func(c working.Case) quantity.BathConcentration {
		return quantity.GramsPerLitre(mass.At(c).Grams() / volume.At(c).Litres())
	}, mass.As("m", metal+" that came in"), volume.As("V", "drag-in over the period"))
}

// computedMass is a mass that the walk added up, in g.
func computedMass(s Spread, how string) working.Estimate[quantity.Mass] {
	gram := func(v float64) quantity.Mass { return quantity.Mass(v) * quantity.Gram }
	text := quantity.Print(gram(s[working.Likely]), "g", 4) + ", " + how
	e := working.Given(source.Value[quantity.Mass]{Is: gram(s[working.Likely]), Origin: source.Computed}, text)
	if s[working.Low] == s[working.Likely] && s[working.High] == s[working.Likely] {
		return e
	}
	return e.Between(gram(s[working.Low]), gram(s[working.High]), fmt.Sprintf("%s (low %s, high %s)", text, quantity.Significant(s[working.Low], 3), quantity.Significant(s[working.High], 3)))
}

// anyRinse is the row of the criteria that is taken where the book does not
// say what is wanted of a rinse.
const anyRinse = "any rinse"

// wanted is the ratio that a rinse is to reach on what comes into it: of a
// wanted ratio to the bath, the part that the rinses before it leave.
func (w *walker) wanted(use RinseUse) working.Estimate[float64] {
	set, entry := use.Set.Is.Wanted, use.Set.Entry
	if !set.Known() {
		set, entry = use.Feed.Is.Wanted, use.Feed.Entry
	}
	if most, ok := set.MilligramsPerLitre(); ok {
		value := source.Value[quantity.BathConcentration]{Is: quantity.GramsPerLitre(most / 1000), Origin: source.Recorded, Ref: source.Entry(entry)}
		target := working.Given(value, set.String())
		return atLeastOne(working.Compute(working.Formula{Line: "r = C / C₁, at least 1"}, func(c working.Case) float64 { return max(1, grams(use.Incoming, c)/grams(target, c)) },
			use.Incoming.As("C", use.Lead+" in what comes in"), target.As("C₁", "wanted in the last rinse")))
	}
	ratio := w.wantedOfBath(set, entry)
	if !use.Bath.Known() || !use.Incoming.Known() || !ratio.Known() || grams(use.Bath, working.Likely) == 0 {
		return ratio
	}
	return atLeastOne(working.Compute(working.Formula{Line: "r = r₀ × C / C₀, at least 1"}, func(c working.Case) float64 {
		return max(1, ratio.At(c)*min(1, grams(use.Incoming, c)/grams(use.Bath, c)))
	}, ratio.As("r₀", "wanted of the bath"), use.Incoming.As("C", use.Lead+" in what comes in"), use.Bath.As("C₀", use.Lead+" in "+use.After.String())))
}

// atLeastOne says where nothing is left to rinse.
func atLeastOne(ratio working.Estimate[float64]) working.Estimate[float64] {
	if ratio.Known() && ratio.Is() == 1 {
		return ratio.WithCaveats("what comes in is already as weak as what is wanted of this rinse")
	}
	return ratio
}

func (w *walker) wantedOfBath(set chemicals.Wanted, entry int64) working.Estimate[float64] {
	if ratio, ok := set.Ratio(); ok {
		return working.Given(source.Value[float64]{Is: ratio, Origin: source.Recorded, Ref: source.Entry(entry)}, set.String())
	}
	for _, c := range rinse.Criteria() {
		if c.Rinse == anyRinse && c.Least.Known() {
			return c.Least.WithCaveats("the book does not say what is wanted of this rinse; a published start for any rinse is taken")
		}
	}
	return working.Absent[float64]("the book does not say what is wanted of it")
}

// flowing works out a rinse with running water.
func (w *walker) flowing(use *RinseUse, r *rinsed) {
	p := w.epochs.on(min(w.shop.Period.Last, w.shop.AsOf))
	use.Water = w.waterNow(p, r.chain)
	hours := w.hoursOf(p, r.chain)
	use.DragIn = working.Compute(working.Formula{Line: "D = V / h", Unit: "L/h"}, func(c working.Case) quantity.Flow {
		return quantity.Flow(use.DragInDay.At(c).Litres()/hours.At(c).Hours()) * quantity.LitrePerHour
	}, use.DragInDay.As("V", "drag-in of a day"), hours.As("h", "hours that the water runs"))
	stages := counted(len(r.chain.tanks), "stages")
	mixing := mixingOf(r.chain.feed)
	switch r.set.Is.Arrangement {
	case chemicals.Spray:
		w.sprayed(use)
	default:
		w.counterflow(use, stages, mixing)
	}
	w.heavyDay(use, p, r, hours, stages)
}

func mixingOf(feed chemicals.Held[chemicals.Rinse]) working.Estimate[float64] {
	if !feed.Is.Mixing.Known() {
		return working.Estimate[float64]{}
	}
	return working.Given(source.Value[float64]{Is: feed.Is.Mixing.Fraction(), Origin: source.Recorded, Ref: source.Entry(feed.Entry)}, feed.Is.Mixing.String())
}

// waterNow is the flow into a chain while it runs.
func (w *walker) waterNow(p *plant, ch chain) working.Estimate[quantity.Flow] {
	r, _ := p.source(ch.feed.Is.Tank.Meaning())
	return stated(r.Is.Flow, r.Entry, "no flow of water into "+ch.feed.Is.Tank.String()+" is recorded")
}

func (w *walker) hoursOf(p *plant, ch chain) working.Estimate[quantity.Duration] {
	if ch.feed.Is.Hours.Known() {
		return stated(ch.feed.Is.Hours, ch.feed.Entry, "")
	}
	firm, _ := w.shop.Firm()
	return stated(p.firm.HoursPerDay, firm.Entry, "the book says neither the hours of the rinse nor those of the shop")
}

func (w *walker) counterflow(use *RinseUse, stages working.Estimate[int], mixing working.Estimate[float64]) {
	now, err := rinse.Counterflow{DragOut: use.DragIn, Stages: stages, Water: use.Water, Bath: use.Incoming, Mixing: mixing}.Solve()
	if use.Water.Known() && use.DragIn.Known() && err == nil {
		use.Ratio, use.Stages = now.Ratio, now.Stages
	} else {
		use.Ratio = working.Absent[float64](absence(use.Water.Why(), use.DragIn.Why(), err))
	}
	needed, err := rinse.Counterflow{DragOut: use.DragIn, Stages: stages, Ratio: use.Wanted, Mixing: mixing}.Solve()
	if use.Wanted.Known() && use.DragIn.Known() && err == nil {
		use.Needed, use.RootRule = needed.Water, needed.WaterRoot
		return
	}
	use.Needed = working.Absent[quantity.Flow](absence(use.Wanted.Why(), use.DragIn.Why(), err))
	use.RootRule = use.Needed
}

func absence(first, second string, err error) string {
	switch {
	case first != "":
		return first
	case second != "":
		return second
	case err != nil:
		return err.Error()
	}
	return "it cannot be worked out"
}

func (w *walker) sprayed(use *RinseUse) {
	least, most := rinse.SprayEffect()
	effect := least.Between(least.Is(), most.Is(), least.Text()+" to "+most.Text())
	now, err := rinse.Spray{DragOut: use.DragIn, Water: use.Water, Effect: effect}.Solve()
	use.Ratio = working.Absent[float64](absence(use.Water.Why(), use.DragIn.Why(), err))
	if use.Water.Known() && use.DragIn.Known() && err == nil {
		use.Ratio = now.Ratio
	}
	use.Needed = working.Absent[quantity.Flow]("the effect of a spray on this work is not known closely enough to turn a ratio into a flow")
	use.RootRule = use.Needed
}

// heavyDay follows the heaviest recorded day from rest.
func (w *walker) heavyDay(use *RinseUse, p *plant, r *rinsed, hours working.Estimate[quantity.Duration], stages working.Estimate[int]) {
	tank := p.tanks[r.chain.tanks[0]]
	volume := stated(tank.Is.WorkingVolume, tank.Entry, "no working volume of "+tank.Is.Name.String()+" is recorded")
	loads, text := use.HeavyLoads, fmt.Sprintf("%d loads on %s", use.HeavyLoads, use.HeaviestDay)
	origin := source.Recorded
	var caveats []working.Caveat
	if loads == 0 {
		const assumed = 100
		origin, loads, text = source.Assumed, assumed, fmt.Sprintf("%d parts, as the loads of %s are not recorded", assumed, use.HeaviestDay)
		caveats = append(caveats, "the loads of the heaviest day are not recorded: its drag-in is taken in a hundred equal parts")
	}
	n := working.Given(source.Value[int]{Is: loads, Origin: origin}, text).WithCaveats(caveats...)
	each := working.Compute(working.Formula{Line: "d = V / N", Unit: "L"}, func(c working.Case) quantity.LoadVolume {
		return quantity.LoadVolume(use.Heaviest.At(c).Litres()/float64(n.At(c))) * quantity.LitrePerLoad
	}, use.Heaviest.As("V", "drag-in of the heaviest day"), n.As("N", "loads"))
	day, err := rinse.Day{Volume: volume, Stages: stages, DragIn: each, Loads: n, Flow: use.Water, Hours: hours, Bath: use.Incoming}.Solve()
	if err != nil || !volume.Known() || !use.Water.Known() || !hours.Known() {
		use.Turnover = working.Absent[quantity.Duration](absence(volume.Why(), absence(use.Water.Why(), hours.Why(), err), err))
		return
	}
	use.Turnover = day.Turnover
	if use.Incoming.Known() {
		use.Heavy = day.Concentrations
	}
	use.LowerOnly = day.Turnover.Known() && day.Turnover.Is() > hours.Is()
}

// still says how a still rinse stands and when it is due.
func (w *walker) still(first string, r *rinsed, use RinseUse) *StillUse {
	s := &StillUse{ToTarget: working.Absent[float64]("it has no working volume")}
	pool, ok := w.pools[first]
	if !ok {
		s.Why = "it has no working volume"
		return s
	}
	s.Loads, s.Since, s.Known, s.Litres = pool.loads, pool.since, pool.known, pool.volume
	for m, metal := range w.metals {
		if pool.mass[m] != (Spread{}) {
			s.Metals = append(s.Metals, Standing{Metal: metal, Concentration: pool.mass[m].times(1 / pool.volume)})
		}
	}
	if use.Loads == 0 {
		s.Why = "not every entry of work says its loads"
		s.ToTarget = working.Absent[float64](s.Why)
		return s
	}
	s.PerDay = float64(use.Loads) / float64(use.Days)
	if s.Dip = w.dips(first); s.Dip {
		s.Why = "work goes through it before and after the bath: it nears half of the bath's strength, and half of the drag-out goes back"
		s.ToTarget = working.Absent[float64](s.Why)
		return s
	}
	s.target(w, use)
	return s
}

// dips reports whether a cycle goes through a rinse, one bath, and the same
// rinse again.
func (w *walker) dips(tank string) bool {
	for _, steps := range w.epochs.on(min(w.shop.Period.Last, w.shop.AsOf)).cycles {
		if at := dipAt(steps); slices.ContainsFunc(at, func(i int) bool { return steps[i].tank == tank }) {
			return true
		}
	}
	return false
}

// target is after how many loads, and when, a still rinse that was clean holds
// what is wanted at most.
func (s *StillUse) target(w *walker, use RinseUse) {
	set := use.Set.Is.Wanted
	if !set.Known() {
		s.Why = "the book does not say up to which strength it is to be used"
		s.ToTarget = working.Absent[float64](s.Why)
		return
	}
	share := working.Compute(working.Formula{Line: "x = 1 / r", Unit: "%"}, func(c working.Case) float64 { return 1 / use.Wanted.At(c) }, use.Wanted.As("r", "wanted ratio"))
	tank := w.tank(use.Tanks[0].Meaning())
	volume := stated(tank.Is.WorkingVolume, tank.Entry, "no working volume is recorded")
	loads := counted(use.Loads, "loads of the period")
	each := working.Compute(working.Formula{Line: "d = V / N", Unit: "L"}, func(c working.Case) quantity.LoadVolume {
		return quantity.LoadVolume(use.DragInDay.At(c).Litres()*float64(use.Days)/float64(loads.At(c))) * quantity.LitrePerLoad
	}, use.DragInDay.As("V", "drag-in of a day, times the days"), loads.As("N", "loads"))
	r, err := rinse.Still{Volume: volume, DragIn: each, Loads: loads, Tanks: counted(1, "rinse"), Bath: use.Incoming, Share: share}.Solve()
	if err != nil || !use.Wanted.Known() {
		s.Why = absence(use.Wanted.Why(), "", err)
		s.ToTarget = working.Absent[float64](s.Why)
		return
	}
	s.ToTarget = r.LoadsToTarget
	if !s.ToTarget.Known() {
		s.Why = s.ToTarget.Why()
		return
	}
	last := min(w.shop.Period.Last, w.shop.AsOf)
	perCalendarDay := float64(use.Loads) / float64(last.Since(w.shop.Period.First)+1)
	left := s.ToTarget.Is() - float64(s.Loads)
	s.NextDump = last.Add(max(0, int(left/perCalendarDay)))
}
