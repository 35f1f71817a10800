package exposure

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed plan.csv
var planFile string

func planTable() working.Table { return working.Table{Name: "plan.csv", File: planFile} }

// planRules are what walk and plan take for want of anything better.
type planRules struct {
	hauledEvery    int     // days with work between two emptyings of a still rinse that is hauled
	evened         float64 // difference of an average that is not held against a dump let in slowly, a fraction
	worth          float64 // difference from the wanted flow that is worth a change, a fraction
	filling        int     // days with work over which the filling of a hold tank is averaged
	warmUp         int     // days before the period with which the walk begins
	leastSamples   int     // days with a result that tell a drag-out
	leastAdditions int     // that tell a drag-out: one alone says only how long nobody had looked
	fouled         []chemicals.Purpose
}

// planned reads the table. It panics on a damaged one, which is a fault of the
// program.
var planned = sync.OnceValue(func() planRules {
	r, err := readPlan(planTable())
	if err != nil {
		panic("exposure: " + err.Error())
	}
	return r
})

func readPlan(table working.Table) (planRules, error) {
	rows, err := table.Rows()
	var r planRules
	for _, row := range rows {
		if err == nil {
			err = r.read(row)
		}
	}
	return r, err
}

func (r *planRules) read(row working.Row) (err error) {
	whole := func(unit string) int {
		var e working.Estimate[float64]
		if e, err = working.PublishedNumber(row, unit); err != nil {
			return 0
		}
		return int(e.Is())
	}
	switch row.Of {
	case "still rinse ahead":
		r.hauledEvery = whole("day")
	case "hold tank":
		r.filling = whole("day")
	case "walk of the work":
		r.warmUp = whole("day")
	case "drag-out by samples":
		r.leastSamples = whole("days")
	case "drag-out by additions":
		r.leastAdditions = whole("additions")
	case "flow":
		r.worth, err = tableShare(row)
	case "dump, let in little by little":
		r.evened, err = tableShare(row)
	case "return of drag-out, not for baths that":
		for _, word := range strings.Split(row.Value, "; ") {
			r.fouled = append(r.fouled, chemicals.Purpose(word))
		}
	default:
		err = fmt.Errorf("%s: %q is read by nothing", row.Where, row.Of)
	}
	return err
}

func tableShare(row working.Row) (float64, error) {
	share, err := working.PublishedShare(row)
	if err != nil {
		return 0, err
	}
	return share.Is(), nil
}

// WalkFrom is the day from which events are wanted for the walk of a period:
// still rinses hold at its start what work left in them.
func WalkFrom(first chemicals.Day) chemicals.Day { return first.Add(-planned().warmUp) }

// WayKind is one way to handle a rinse or a dump.
type WayKind int

// The ways.
const (
	AsItIs        WayKind = iota + 1 // to the sewer as now
	SetFlow                          // the flow that is wanted, more or less
	OneMoreStage                     // of counterflow
	StillHauled                      // a still rinse ahead, hauled
	StillReturned                    // a still rinse ahead, back to the bath
	HoldAndHaul
	BatchTreatment
	BackToBath // a dump that goes back into the bath
	LetIn      // a dump, little by little
)

func (k WayKind) String() string {
	return [...]string{
		AsItIs: "as it is now", SetFlow: "set the flow to what is wanted", OneMoreStage: "one more stage of counterflow",
		StillHauled: "still rinse ahead, hauled", StillReturned: "still rinse ahead, back to the bath", HoldAndHaul: "hold and haul",
		BatchTreatment: "batch treatment", BackToBath: "back to the bath", LetIn: "let in little by little",
	}[k]
}

// Way is one way to handle the water of a rinse, or what is dumped from a
// tank, with what it does in a year of work. Figures for a year are those of
// the period times days of work in a year over days with work in the period.
type Way struct {
	Of      []chemicals.Name // the tanks of the rinse, or the tank that is dumped
	Point   chemicals.Name   // that its water comes to
	Dump    bool             // it is about a dump
	Kind    WayKind
	What    string // in words, with its figures
	Needs   []string
	Sent    []Spread                        // g of each metal of Water that the tank sent in the period, before treatment
	Part    []Spread                        // of it that is sent no longer
	Kept    []Spread                        // g of each metal kept from the drain, a year
	Sum     Spread                          // g of those that a limit binds
	LetIn   working.Estimate[quantity.Flow] // at most, of a dump that is let in little by little; absent of other ways
	Caught  working.Estimate[float64]       // the part of what comes in that a still rinse ahead holds when it is emptied; absent of other ways
	Water   float64                         // L of fresh water saved, a year; below zero: more
	Hauled  float64                         // L hauled more, a year
	Cost    Cost                            // a year, more than now; below zero: less
	Value   Cost                            // of metal that goes back into a bath, a year
	Nearest Nearest                         // to a limit, with the high estimate
	LeftOut string                          // why it is not among the ranked
	Open    string                          // the missing fact that its verdict hangs on
	Over    string                          // the limit that the point is over with it, as it is without it
	Rank    int                             // 1 for the first, 0 for none
	Notes   []string

	change change
	flow   float64 // L/h of fresh water instead of now, of a rinse whose flow is changed
	last   Spread  // the part that a still rinse ahead keeps on the last day before it is emptied
	treat  string  // the tank that its water goes to first, of batch treatment
	over   int     // days with work over which a dump is let in
}

// Cost is a sum of money, or why it is not known.
type Cost struct {
	Sum      float64
	Currency string
	Why      string // it is not known
}

// Known reports whether there is a sum.
func (c Cost) Known() bool { return c.Why == "" }

// Nearest is the limit that a point comes nearest to.
type Nearest struct {
	Point chemicals.Name
	Metal string
	Rule  chemicals.Rule
	High  float64 // mg/L of the high estimate, of the worst day or month
	Limit float64 // mg/L
	Share float64 // high of limit
	Ref   source.Ref
	Entry int64
	Known bool

	dry int // days on which metal would leave in no water
}

// Plan is the ways for the water, ranked.
type Plan struct {
	Metals   []string
	PerYear  float64 // days of work in a year over days with work in the period
	YearSaid bool    // the shop says its days of work in a year
	Ways     []Way   // ranked ones first, by rank; then those that hang on a fact; then those left out
	Together *Trial  // the first two ways together
	Holds    []HoldUse
	Prices   []chemicals.Held[chemicals.PriceOf]
}

// Trial is the whole shop walked again with ways in it.
type Trial struct {
	Of    []int // ranks of the ways
	Kept  Spread
	Water float64 // L saved, a year
}

// Ceiling is a limit that the plan keeps under: by concentration, of one metal
// at one point.
type Ceiling struct {
	Point  chemicals.Name
	Metal  string
	Rule   chemicals.Rule
	Limit  float64 // mg/L
	Ref    source.Ref
	Entry  int64
	Unsure bool // it binds only if a missing fact is so
}

// PlanOf works out the ways for every rinse and dump, each alone on the whole
// shop, and the first two together. tanks are the shop's with their contents;
// ceilings the limits.
func (water *Water) PlanOf(units quantity.System, tanks []Tank, ceilings []Ceiling) Plan {
	b := planner{units: units, water: water, w: water.w, rules: planned(), tanks: map[string]Tank{}, ceilings: ceilings, prices: map[string]chemicals.Held[chemicals.PriceOf]{}, loss: map[string]Evaporation{}}
	for _, t := range tanks {
		b.tanks[t.Is.Name.Meaning()] = t
	}
	for _, e := range water.Evaporations() {
		b.loss[e.Tank.Meaning()] = e
	}
	plan := Plan{Metals: water.Metals}
	for _, p := range chemicals.On[chemicals.PriceOf](b.w.shop, water.Period.Last) {
		b.prices[p.Is.Item.Meaning()] = p
		plan.Prices = append(plan.Prices, p)
	}
	b.mixed = b.currencies() > 1
	b.perYear, plan.YearSaid = b.yearly()
	b.dumps = b.dumpsOf()
	b.points = b.allPoints()
	b.now = b.against(b.points)
	plan.PerYear = b.perYear
	if len(water.Days) > 0 {
		for _, r := range water.Rinses {
			plan.Ways = append(plan.Ways, b.rinseWays(r)...)
		}
		plan.Ways = append(plan.Ways, b.dumpWays()...)
	}
	rank(plan.Ways)
	plan.Together = b.together(plan.Ways)
	plan.Holds = b.holds()
	return plan
}

type planner struct {
	units    quantity.System // of figures in words
	water    *Water
	w        *walker
	rules    planRules
	tanks    map[string]Tank
	ceilings []Ceiling
	prices   map[string]chemicals.Held[chemicals.PriceOf]
	loss     map[string]Evaporation
	perYear  float64
	dumps    map[dumpTo]map[chemicals.Day]dumped
	points   []PointUse // of Water, and those that nothing comes to
	now      []Nearest  // beside each ceiling
	mixed    bool       // the prices of water, sewer and haul are in more than one currency
}

// yearly is what turns the period into a year of work.
func (b *planner) yearly() (float64, bool) {
	firm, ok := b.w.shop.Firm()
	days := len(b.water.Days)
	if ok && firm.Is.DaysPerYear.Known() && days > 0 {
		return float64(firm.Is.DaysPerYear.Int()) / float64(days), true
	}
	return 1, false
}

// point is where the water of a tank leaves, false where at none.
func (b *planner) point(tank string) (PointUse, bool) {
	w := b.w.epochs.on(b.water.Period.Last).wayFrom(tank)
	for _, p := range b.water.Points {
		if w.point && p.Point.Is.Name.Meaning() == w.end.Meaning() {
			return p, true
		}
	}
	return PointUse{}, false
}

// allPoints are those of Water, and behind them those that nothing comes to.
func (b *planner) allPoints() []PointUse {
	all := slices.Clone(b.water.Points)
	for _, p := range chemicals.On[chemicals.Point](b.w.shop, b.water.Period.Last) {
		if !slices.ContainsFunc(all, func(u PointUse) bool { return u.Point.Is.Name.Meaning() == p.Is.Name.Meaning() }) {
			use := PointUse{Point: p, Metals: b.water.Metals}
			use.Whole = use.sum(b.water.Period)
			all = append(all, use)
		}
	}
	return all
}

// sent is what a tank sends to the points in the period with its water, before
// treatment.
func (b *planner) sent(tank string) []Spread {
	all := make([]Spread, len(b.water.Metals))
	for _, p := range b.water.Points {
		for _, s := range p.Whole.From {
			if s.Tank.Meaning() == tank && !s.Dump {
				for m := range all {
					all[m].add(s.Grams[m])
				}
			}
		}
	}
	return all
}

func (b *planner) print(f quantity.Flow) string {
	if b.units == quantity.US {
		return quantity.Print(f, "gal/min", 3)
	}
	return quantity.Print(f, "L/h", 3)
}

func (b *planner) litres(v float64) string {
	if b.units == quantity.US {
		return quantity.Print(quantity.Volume(v)*quantity.Litre, "gal", 3)
	}
	return quantity.Print(quantity.Volume(v)*quantity.Litre, "L", 3)
}

// workdays are the days of work in a year.
func (b *planner) workdays() float64 { return b.perYear * float64(len(b.water.Days)) }
