package exposure

import (
	"cmp"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

// ResultVerdict is how a figure stands to a limit. None of them says what the
// authority makes of it.
type ResultVerdict int

// The verdicts. Over is the wrong side of the limit: of a minimum, under it.
const (
	ResultOver ResultVerdict = iota + 1
	ResultNotOver
	ResultUndetermined // a non-detect whose reporting limit is over the limit, or is not known
	ResultNotCompared  // the figure and the limit are not of one kind
)

func (v ResultVerdict) String() string {
	return [...]string{"", "over", "not over", "undetermined", "not compared"}[v]
}

// ResultAgainst is one figure beside one limit.
type ResultAgainst struct {
	Limit   LimitInForce
	Verdict ResultVerdict
	Why     string // of a verdict that needs a word; empty for a plain one
}

// Result is one sample's result on one pollutant beside the limits of its day.
// A daily maximum is beside the day's value (ResultDay), averages are beside
// ResultAverage.
type Result struct {
	chemicals.Happened[chemicals.Sample]
	Pollutant LimitPollutant
	Own       bool // the shop's own, not the authority's
	Against   []ResultAgainst

	point string // as names are compared
}

// ResultDay is the value of one day: of the shop's own samples, or of the
// authority's. Where samples of the right type were taken the others are left
// aside, and what is left is averaged; the right type is the one that the
// record of monitoring asks for, else grab for what 40 CFR 403.12(g)(3) names
// and composite for the rest. There is none of pH, temperature and flash point.
type ResultDay struct {
	Point         chemicals.Name
	Pollutant     LimitPollutant
	Day           chemicals.Day
	Own           bool
	Concentration working.Estimate[quantity.EffluentConcentration] // low counts non-detects as nothing, high at their reporting limits
	Mass          working.Estimate[quantity.MassRate]              // absent where the samples bear no flow
	Entries       []int64                                          // of the samples in it
	Aside         []int64                                          // of samples of the other type
	NonDetects    int
	Against       []ResultAgainst // daily maxima

	point  string
	untold int // non-detects without a reporting limit
	single *Result
}

// ResultAverage is an average of the daily values of the shop's own samples, as
// the rule of a limit takes it: of four monitoring days that follow each other,
// or of a calendar month. The limits are those in force on its last day.
type ResultAverage struct {
	Point         chemicals.Name
	Pollutant     LimitPollutant
	Rule          chemicals.Rule
	Span          chemicals.Period // the calendar month, or first to last monitoring day
	Days          []chemicals.Day
	Concentration working.Estimate[quantity.EffluentConcentration]
	Mass          working.Estimate[quantity.MassRate]
	Entries       []int64
	Against       []ResultAgainst
	Ended         bool // no day can be added to it any more
}

// ResultShare is the shares of results over one limit in the months that 40 CFR
// 403.8(f)(2)(viii) looks at, up to the as-of day. The authority's results are
// counted too; averages are those of the shop's own.
type ResultShare struct {
	Limit     LimitInForce // that of the last day; the strictest of its kind
	Window    chemicals.Period
	Results   int
	Authority int // of Results
	Entries   []int64
	Shares    discharge.NoncomplianceResult
	Fault     error // the shares cannot be had; nothing was counted
}

// ResultSet is what monitoring shows of the period.
type ResultSet struct {
	Treatment discharge.Treatment // of non-detects
	Standards []Standard          // on the as-of day
	Limits    []LimitInForce      // on the as-of day, by point
	Results   []Result            // by day, point, sample
	Days      []ResultDay         // by point, pollutant, whose, day
	Averages  []ResultAverage
	Due       []ResultDue
	Shares    []ResultShare
	Clocks    []ClockRun // that run or end within the period
	Gaps      []Gap
}

// ResultsOf puts the samples of the period beside the limits of their days.
// flow is the process water of a day, which the size of part 413 turns on;
// absent where it is not known. A treatment of 0 counts non-detects at their
// reporting limits.
func ResultsOf(shop *chemicals.Shop, tables *reference.Set, flow working.Estimate[quantity.Flow], treatment discharge.Treatment) ResultSet {
	if treatment == 0 {
		treatment = discharge.AtReportingLimit
	}
	m := newMonitor(shop, tables, flow, treatment)
	set := ResultSet{Treatment: treatment, Standards: StandardsOf(shop, flow)}
	for _, s := range set.Standards {
		set.Limits = append(set.Limits, LimitsAt(shop, tables, s)...)
	}
	set.Averages = m.averages(shop.Period)
	set.Due = m.due()
	set.Shares = m.shares()
	set.Clocks = m.clocks(set.Averages)
	for _, r := range m.results {
		if shop.Period.Holds(r.Date) {
			set.Results = append(set.Results, *r)
		}
	}
	for _, d := range m.days {
		if shop.Period.Holds(d.Day) {
			set.Days = append(set.Days, *d)
		}
	}
	set.Gaps = m.gaps(set)
	return set
}

// monitor holds all samples of the book, compared, whatever the period: clocks
// and months reach over its ends.
type monitor struct {
	shop      *chemicals.Shop
	tables    *reference.Set
	flow      working.Estimate[quantity.Flow]
	treatment discharge.Treatment
	turns     []chemicals.Day           // on which facts change that limits turn on
	force     map[forceKey]*pointLimits // by turn and point
	names     map[chemicals.Name]LimitPollutant
	places    map[chemicals.Name]string // as names are compared
	results   []*Result
	days      []*ResultDay // by point, pollutant, whose, day
	monthly   []ResultAverage
	unsummed  map[chemicals.Name][]chemicals.Day
}

type forceKey struct {
	turn  int
	point string
}

// pointLimits are the limits at one point from a turn to the next.
type pointLimits struct {
	standard Standard
	stands   bool // the point is there
	of       map[LimitPollutant][]LimitInForce
}

func newMonitor(shop *chemicals.Shop, tables *reference.Set, flow working.Estimate[quantity.Flow], treatment discharge.Treatment) *monitor {
	m := &monitor{
		shop: shop, tables: tables, flow: flow, treatment: treatment,
		force: map[forceKey]*pointLimits{}, names: map[chemicals.Name]LimitPollutant{}, places: map[chemicals.Name]string{}, unsummed: map[chemicals.Name][]chemicals.Day{},
	}
	turns := map[chemicals.Day]bool{"": true}
	turnsOf[chemicals.Firm](shop, turns)
	turnsOf[chemicals.Tank](shop, turns)
	turnsOf[chemicals.Answer](shop, turns)
	turnsOf[chemicals.Point](shop, turns)
	turnsOf[chemicals.Rinse](shop, turns)
	turnsOf[chemicals.OtherWater](shop, turns)
	turnsOf[chemicals.LimitSet](shop, turns)
	for day := range turns {
		m.turns = append(m.turns, day)
	}
	slices.Sort(m.turns)
	for _, e := range chemicals.Events[chemicals.Sample](shop) {
		m.results = append(m.results, &Result{Happened: e, Pollutant: m.pollutant(e.Is.Pollutant), Own: e.Is.By != chemicals.ByAuthority, point: m.place(e.Is.Point)})
	}
	m.values()
	for _, r := range m.results {
		m.against(r)
	}
	for _, series := range m.series() {
		m.monthly = append(m.monthly, m.months(series)...)
	}
	return m
}

func (m *monitor) pollutant(name chemicals.Name) LimitPollutant {
	if p, ok := m.names[name]; ok {
		return p
	}
	p, _ := PollutantOf(m.tables, name)
	m.names[name] = p
	return p
}

func (m *monitor) place(name chemicals.Name) string {
	p, ok := m.places[name]
	if !ok {
		p = name.Meaning()
		m.places[name] = p
	}
	return p
}

// limits are those at a point on a day. Of a point that the book does not have
// then, the row of another day is taken, so that no result goes uncompared; the
// gaps name it.
func (m *monitor) limits(point chemicals.Name, day chemicals.Day) *pointLimits {
	at, found := slices.BinarySearch(m.turns, day)
	if !found {
		at--
	}
	key := forceKey{at, m.place(point)}
	if known, ok := m.force[key]; ok {
		return known
	}
	p := &pointLimits{of: map[LimitPollutant][]LimitInForce{}}
	m.force[key] = p
	var row *chemicals.Held[chemicals.Point]
	for _, h := range chemicals.Facts[chemicals.Point](m.shop) {
		if h.Is.Name.Meaning() != key.point || p.stands {
			continue
		}
		row, p.stands = &h, h.On(day)
	}
	if row == nil {
		return p
	}
	p.standard = StandardAt(m.shop, *row, day, m.flow)
	for _, l := range LimitsAt(m.shop, m.tables, p.standard) {
		p.of[l.Pollutant] = append(p.of[l.Pollutant], l)
	}
	return p
}

// limitsOn are the limits on a pollutant with one of the rules.
func (m *monitor) limitsOn(point chemicals.Name, day chemicals.Day, of LimitPollutant, rules ...chemicals.Rule) []LimitInForce {
	var found []LimitInForce
	for _, l := range m.limits(point, day).of[of] {
		if slices.Contains(rules, l.Rule) {
			found = append(found, l)
		}
	}
	return found
}

// against puts a result beside the limits of its day that bind single results,
// and beside the daily maxima by its day's value.
func (m *monitor) against(r *Result) {
	figure := figureOf(r.Is)
	for _, l := range m.limits(r.Is.Point, r.Date).of[r.Pollutant] {
		switch l.Rule {
		case chemicals.MonthlyAverage, chemicals.FourDayAverage:
		case chemicals.DailyMaximum:
			if !hasDays(r.Pollutant) {
				r.Against = append(r.Against, figure.against(l, r.Is))
			}
		default:
			r.Against = append(r.Against, figure.against(l, r.Is))
		}
	}
	day := m.dayOf(r)
	if day == nil {
		return
	}
	if slices.Contains(day.Aside, r.Entry) {
		for _, a := range day.Against {
			r.Against = append(r.Against, ResultAgainst{Limit: a.Limit, Verdict: ResultNotCompared, Why: "the day's value is that of the samples of the right type"})
		}
		return
	}
	r.Against = append(r.Against, day.Against...)
}

// hasDays reports whether a pollutant has a value of a day: whether it may be
// averaged.
func hasDays(p LimitPollutant) bool {
	return p != LimitPH && p != LimitTemperature && p != "flash point"
}

func (m *monitor) dayOf(r *Result) *ResultDay {
	key := keyOf(r)
	at, found := slices.BinarySearchFunc(m.days, key, func(d *ResultDay, k dayKey) int { return compareDays(d.key(), k) })
	if !found {
		return nil
	}
	return m.days[at]
}

// dayKey is what samples of one day's value have in common.
type dayKey struct {
	point     string
	pollutant LimitPollutant
	own       bool
	day       chemicals.Day
}

func keyOf(r *Result) dayKey {
	return dayKey{r.point, r.Pollutant, r.Own, r.Date}
}

func (d *ResultDay) key() dayKey {
	return dayKey{d.point, d.Pollutant, d.Own, d.Day}
}

func compareDays(a, b dayKey) int {
	return cmp.Or(cmp.Compare(a.point, b.point), cmp.Compare(a.pollutant, b.pollutant), trueFirst(a.own, b.own), cmp.Compare(a.day, b.day))
}
