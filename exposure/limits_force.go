package exposure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
)

// LimitOrigin tells who sets a limit.
type LimitOrigin int

// The origins.
const (
	LimitFederal       LimitOrigin = iota + 1 // 40 CFR 413 or 433
	LimitOfPaper                              // a permit or a local rule, as the book records it
	LimitProhibition                          // 40 CFR 403.5(b)
	LimitForComparison                        // set beside the permit; binds nobody by itself here
)

func (o LimitOrigin) String() string {
	return [...]string{"", "federal", "permit or local", "prohibition", "for comparison"}[o]
}

// LimitInForce is one limit at a point on a day.
type LimitInForce struct {
	Point     chemicals.Name
	Pollutant LimitPollutant
	Rule      chemicals.Rule
	Basis     chemicals.Basis
	Value     chemicals.Level // not known where the figure is of a kind that no result is
	Text      string          // as it is written
	Origin    LimitOrigin
	Sets      []StandardSet  // that bear it, of a published one
	Document  chemicals.Name // the paper that sets it, of one of the book
	Entry     int64          // of the book, 0 for a published one
	Ref       source.Ref
	If        []string // the readings in which it binds; empty where it binds in all
	Strictest bool     // of the limits at the point on its pollutant with this rule and basis that bind in all readings
	AtWorks   bool     // it holds at the treatment works, not at the point
	Apart     string   // why no result at the point can be put beside it; empty where one can
}

// LimitsAt are the limits at the point of a standard on its day, by pollutant,
// rule and basis, the strictest first. Limits are compared on like basis only:
// one by area is a row of its own.
func LimitsAt(shop *chemicals.Shop, tables *reference.Set, standard Standard) []LimitInForce {
	all := standard.limits()
	for _, l := range chemicals.On[chemicals.LimitSet](shop, standard.Day) {
		if l.Is.Point.Meaning() == standard.Point.Is.Name.Meaning() {
			all = append(all, paperLimit(tables, l))
		}
	}
	if standard.Point.Is.Body == chemicals.Sewer && inUnitedStates(shop, standard.Day) {
		all = append(all, prohibitions()...)
	}
	for i := range all {
		all[i].Point = standard.Point.Is.Name
	}
	markStrictest(all)
	slices.SortStableFunc(all, func(a, b LimitInForce) int {
		return cmp.Or(cmp.Compare(a.Pollutant, b.Pollutant), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Basis, b.Basis),
			trueFirst(a.Strictest, b.Strictest), compareLimits(a, b), cmp.Compare(a.Origin, b.Origin))
	})
	return all
}

func trueFirst(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// limits are the published ones of all readings. One that every reading has
// binds in all.
func (s Standard) limits() []LimitInForce {
	var all []LimitInForce
	in := map[string]int{} // readings that have it
	at := map[string]int{} // its place in all
	for _, r := range s.Readings {
		here := map[string]bool{}
		for _, set := range r.Sets {
			for _, f := range LimitFigures(set) {
				key := string(f.Pollutant) + "\t" + string(f.Rule) + "\t" + f.Text
				i, known := at[key]
				if !known {
					i, at[key] = len(all), len(all)
					all = append(all, publishedLimit(f))
				}
				if !slices.Contains(all[i].Sets, set) {
					all[i].Sets = append(all[i].Sets, set)
				}
				if !here[key] {
					here[key], in[key] = true, in[key]+1
					all[i].If = append(all[i].If, strings.Join(r.If, ", "))
				}
			}
		}
	}
	for key, i := range at {
		if in[key] == len(s.Readings) {
			all[i].If = nil
		}
	}
	return all
}

func publishedLimit(f LimitFigure) LimitInForce {
	l := LimitInForce{Pollutant: f.Pollutant, Rule: f.Rule, Basis: f.Basis, Value: f.Value, Text: f.Text, Ref: f.Ref, Origin: LimitFederal}
	if comparesOnly(f.Set) {
		l.Origin = LimitForComparison
	}
	switch {
	case !f.Value.Known():
		l.Apart = "the figure is of a kind that no sample shows"
	case f.Basis == chemicals.ByArea:
		l.Apart = "the limit is by area processed, and a sample shows a concentration"
	}
	return l
}

func prohibitions() []LimitInForce {
	var all []LimitInForce
	for _, f := range LimitFigures("403.5(b)") {
		l := publishedLimit(f)
		l.Origin, l.Sets = LimitProhibition, []StandardSet{f.Set}
		if f.Pollutant == LimitTemperature {
			l.AtWorks, l.Apart = true, "the limit is on the water that comes to the treatment works, not on that of the shop"
		}
		all = append(all, l)
	}
	return all
}

func paperLimit(tables *reference.Set, l chemicals.Held[chemicals.LimitSet]) LimitInForce {
	pollutant, _ := PollutantOf(tables, l.Is.Pollutant)
	limit := LimitInForce{
		Pollutant: pollutant, Rule: l.Is.Rule, Basis: limitBasis(l.Is.Value), Value: l.Is.Value, Text: l.Is.Value.String(), Origin: LimitOfPaper,
		Document: l.Is.Document, Entry: l.Entry, Ref: source.Entry(l.Entry),
	}
	switch {
	case limit.Basis != l.Is.Basis:
		limit.Apart = fmt.Sprintf("entry %d calls its basis %s, and its value is on %s", l.Entry, l.Is.Basis, basisWords(limit.Basis))
	case limit.Basis == chemicals.ByArea:
		limit.Apart = "the limit is by area processed, and a sample shows a concentration"
	}
	return limit
}

func basisWords(b chemicals.Basis) string {
	if b == chemicals.NoBasis {
		return "no basis"
	}
	return string(b)
}

// markStrictest marks, for each pollutant, rule and basis, the limits that no
// other one is stricter than. One that binds in some readings only is not
// marked, nor one for comparison, nor one that holds elsewhere.
func markStrictest(all []LimitInForce) {
	best := map[string]int{}
	key := func(l LimitInForce) string {
		return string(l.Pollutant) + "\t" + string(l.Rule) + "\t" + string(l.Basis)
	}
	for i, l := range all {
		if len(l.If) > 0 || l.Origin == LimitForComparison || l.AtWorks || !l.Value.Known() {
			continue
		}
		if b, ok := best[key(l)]; !ok || compareLimits(l, all[b]) < 0 {
			best[key(l)] = i
		}
	}
	for _, i := range best {
		all[i].Strictest = true
	}
}

// compareLimits puts the stricter of two limits on like basis first; of
// different bases they are alike, and a figure of no known kind stands last.
func compareLimits(a, b LimitInForce) int {
	x, knownX := levelNumber(a.Value)
	y, knownY := levelNumber(b.Value)
	if !knownX || !knownY {
		return trueFirst(knownX, knownY)
	}
	order := compareFigures(x, y)
	if limitRules[a.Rule] {
		order = -order
	}
	return order
}

// levelNumber is a level in mg/L, g/h, mg/m², °C or pH.
func levelNumber(l chemicals.Level) (float64, bool) {
	if v, ok := l.PH(); ok {
		return v, true
	}
	if v, ok := l.Temperature(); ok {
		return v.Celsius(), true
	}
	r, ok := l.Release()
	if !ok {
		return 0, false
	}
	if v, ok := r.Concentration(); ok {
		return v.MilligramsPerLitre(), true
	}
	if v, ok := r.MassRate(); ok {
		return v.GramsPerHour(), true
	}
	v, ok := r.MassPerArea()
	return v.MilligramsPerSquareMetre(), ok
}

// compareFigures compares what laboratories and limits write in decimals: what
// differs only by the conversion of a unit, or by a mean worked out in binary,
// is the same.
func compareFigures(x, y float64) int {
	const rounding = 1e-11
	if d := x - y; d > rounding*max(x, y, -x, -y) {
		return 1
	} else if -d > rounding*max(x, y, -x, -y) {
		return -1
	}
	return 0
}
