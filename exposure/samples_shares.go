package exposure

import (
	"cmp"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

// shareKey is what is counted together.
type shareKey struct {
	point     string
	pollutant LimitPollutant
	rule      chemicals.Rule
	basis     chemicals.Basis
}

// measurement is one figure that a share counts.
type measurement struct {
	day     chemicals.Day
	text    string // as a laboratory would report it
	entries []int64
	own     bool
	limit   LimitInForce
}

// shares counts the results of the last months against the strictest limits
// that bind in every reading, each rule by itself.
func (m *monitor) shares() []ResultShare {
	back := m.shop.AsOf.Time().AddDate(0, 0, 1).AddDate(0, -publishedLimits().noncompliant.is, 0)
	window := chemicals.Period{First: chemicals.DayOf(back), Last: m.shop.AsOf}
	counted := map[shareKey][]measurement{}
	add := func(found []measurement) {
		for _, f := range found {
			key := shareKey{m.place(f.limit.Point), f.limit.Pollutant, f.limit.Rule, f.limit.Basis}
			counted[key] = append(counted[key], f)
		}
	}
	for _, r := range m.results {
		if window.Holds(r.Date) {
			add(r.measurements())
		}
	}
	for _, d := range m.days {
		if window.Holds(d.Day) {
			add(d.measurements())
		}
	}
	for _, a := range m.averages(window) {
		if window.Holds(a.Span.Last) {
			add(a.measurements())
		}
	}
	var all []ResultShare
	for _, found := range counted {
		slices.SortStableFunc(found, func(a, b measurement) int { return cmp.Compare(a.day, b.day) })
		all = append(all, shareOf(found, window))
	}
	slices.SortFunc(all, func(a, b ResultShare) int {
		return cmp.Or(cmp.Compare(a.Limit.Point, b.Limit.Point), cmp.Compare(a.Limit.Pollutant, b.Limit.Pollutant), cmp.Compare(a.Limit.Rule, b.Limit.Rule), cmp.Compare(a.Limit.Basis, b.Limit.Basis))
	})
	return all
}

// counts reports whether a comparison belongs to the shares.
func (a ResultAgainst) counts() bool {
	return a.Limit.Strictest && a.Verdict != ResultNotCompared && kindOfLevel(a.Limit.Value) != "temperature"
}

// measurements are those of a single result; daily maxima are counted by day.
func (r *Result) measurements() []measurement {
	var all []measurement
	for _, a := range r.Against {
		if a.counts() && (a.Limit.Rule != chemicals.DailyMaximum || !hasDays(r.Pollutant)) {
			text := figureOf(r.Is).text(a.Limit.Basis, r.Is)
			all = append(all, measurement{day: r.Date, text: text, entries: []int64{r.Entry}, own: r.Own, limit: a.Limit})
		}
	}
	return all
}

// text is the figure on a basis, in a form that package discharge reads: as it
// was typed where it is on that basis.
func (f resultFigure) text(basis chemicals.Basis, s chemicals.Sample) string {
	if !f.level.Known() {
		return "ND"
	}
	if has := limitBasis(f.level); has == basis || basis == chemicals.NoBasis || has == chemicals.NoBasis {
		return resultText(s)
	}
	is, _, _ := f.on(basis, s)
	text := quantity.Plain(is) + " mg/L"
	if basis == chemicals.ByDay {
		text = quantity.Plain(is) + " g/h"
	}
	if f.less {
		return "<" + text
	}
	return text
}

func (d *ResultDay) measurements() []measurement {
	var all []measurement
	for _, a := range d.Against {
		if !a.counts() {
			continue
		}
		m := measurement{day: d.Day, entries: d.Entries, own: d.Own, limit: a.Limit}
		if d.single != nil {
			m.text = figureOf(d.single.Is).text(a.Limit.Basis, d.single.Is)
		} else {
			m.text = meanText(a, d.Concentration, d.Mass)
		}
		all = append(all, m)
	}
	return all
}

func (r *ResultAverage) measurements() []measurement {
	var all []measurement
	for _, a := range r.Against {
		if a.counts() {
			all = append(all, measurement{day: r.Span.Last, text: meanText(a, r.Concentration, r.Mass), entries: r.Entries, own: true, limit: a.Limit})
		}
	}
	return all
}

// meanText is a mean as a result; one that hangs on its non-detects is less
// than what it comes to with them at their reporting limits.
func meanText(a ResultAgainst, c working.Estimate[quantity.EffluentConcentration], mass working.Estimate[quantity.MassRate]) string {
	mark, at := "", working.Likely
	if a.Verdict == ResultUndetermined {
		mark, at = "<", working.High
	}
	switch {
	case a.Limit.Basis == chemicals.ByDay && mass.Known():
		return mark + quantity.Plain(mass.At(at).GramsPerHour()) + " g/h"
	case a.Limit.Basis == chemicals.ByConcentration && c.Known():
		return mark + quantity.Plain(c.At(at).MilligramsPerLitre()) + " mg/L"
	}
	return "ND"
}

func shareOf(found []measurement, window chemicals.Period) ResultShare {
	last := found[len(found)-1].limit
	s := ResultShare{Limit: last, Window: window, Results: len(found)}
	n := discharge.Noncompliance{Pollutant: string(last.Pollutant), Minimum: limitRules[last.Rule]}
	for i, f := range found {
		s.Entries = append(s.Entries, f.entries...)
		if !f.own {
			s.Authority++
		}
		if i == 0 || f.limit.Value.Meaning() != found[i-1].limit.Value.Meaning() {
			level, err := discharge.ParseLevel(f.limit.Value.String())
			if err != nil {
				s.Fault = err
				return s
			}
			value := source.Value[discharge.Level]{Is: level, Origin: originOf(f.limit), Ref: f.limit.Ref}
			n.Limit = append(n.Limit, working.Dated[discharge.Level]{Day: f.day.Time(), Value: working.Given(value, f.limit.Text)})
		}
		result, err := discharge.ParseResult(f.text)
		if err != nil {
			s.Fault = err
			return s
		}
		value := source.Value[discharge.Result]{Is: result, Origin: source.Measured, Ref: source.Entry(f.entries[0])}
		n.Results = append(n.Results, working.Dated[discharge.Result]{Day: f.day.Time(), Value: working.Given(value, f.text)})
	}
	s.Shares, s.Fault = n.Solve()
	return s
}

func originOf(l LimitInForce) source.Origin {
	if l.Entry != 0 {
		return source.Recorded
	}
	return source.Published
}
