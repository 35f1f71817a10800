package exposure

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// gaps are what the samples of the period leave open or contradict.
func (m *monitor) gaps(set ResultSet) []Gap {
	gaps := m.standardGaps(set.Standards)
	gaps = append(gaps, m.limitGaps()...)
	gaps = append(gaps, m.gapsOfSamples()...)
	gaps = append(gaps, dueGaps(set.Due)...)
	gaps = append(gaps, m.unsampled(set)...)
	gaps = append(gaps, m.noticeGaps()...)
	for point, days := range m.unsummed {
		days = slices.DeleteFunc(slices.Clone(days), func(d chemicals.Day) bool { return !m.shop.Period.Holds(d) })
		if len(days) > 0 {
			gaps = append(gaps, Gap{Where: "point " + point.String(), What: fmt.Sprintf("total metals are not known on %d days, first on %s: not each of Cu, Ni, Cr and Zn has a result", len(days), slices.Min(days)), Mend: "have all four analysed, or record the laboratory's sum as total metals"})
		}
	}
	return sorted(gaps)
}

// gapsOfSamples are those of single results. What is said in the same words of
// several rows of one sample stands once, with all their pollutants.
func (m *monitor) gapsOfSamples() []Gap {
	type words struct{ sample, what string }
	var gaps []Gap
	at, pollutants := map[words]int{}, map[words][]string{}
	seen := map[string]*Result{}
	for _, r := range m.results {
		var own []Gap
		if m.shop.Period.Holds(r.Date) {
			own = m.sampleGaps(r)
		}
		for _, g := range append(own, m.numberGaps(r, seen)...) {
			key := words{r.Is.Name.Meaning(), g.What}
			if _, known := at[key]; !known {
				at[key] = len(gaps)
				gaps = append(gaps, g)
			}
			if of := r.Is.Pollutant.String(); !slices.Contains(pollutants[key], of) {
				pollutants[key] = append(pollutants[key], of)
			}
			gaps[at[key]].Where = "sample " + r.Is.Name.String() + ", " + strings.Join(pollutants[key], ", ")
		}
	}
	return gaps
}

func (m *monitor) standardGaps(standards []Standard) []Gap {
	var gaps []Gap
	for _, s := range standards {
		for _, missing := range s.Missing {
			gaps = append(gaps, Gap{Where: "point " + s.Point.Is.Name.String(), What: "which federal limits bind is not settled: " + missing.What, Mend: missing.Mend, Entry: s.Point.Entry})
		}
	}
	return gaps
}

// limitGaps are those of the book's own limits.
func (m *monitor) limitGaps() []Gap {
	var gaps []Gap
	for _, l := range chemicals.On[chemicals.LimitSet](m.shop, m.shop.AsOf) {
		where := fmt.Sprintf("limit on %s at %s", l.Is.Pollutant, l.Is.Point)
		if gap, ok := m.nameGap(where, l.Is.Pollutant, l.Entry); ok {
			gaps = append(gaps, gap)
		}
		p := paperLimit(m.tables, l)
		kind := kindOfLevel(l.Is.Value)
		switch {
		case p.Basis != l.Is.Basis:
			gaps = append(gaps, Gap{Where: where, What: p.Apart, Mend: "correct the basis or the value", Entry: l.Entry})
		case wrongKind(p.Pollutant, kind):
			gaps = append(gaps, Gap{Where: where, What: fmt.Sprintf("%q is no limit on %s", l.Is.Value, p.Pollutant), Mend: "correct the value or the pollutant", Entry: l.Entry})
		}
	}
	return gaps
}

// wrongKind reports whether a level cannot be one of a pollutant.
func wrongKind(p LimitPollutant, kind string) bool {
	switch {
	case p == LimitPH:
		return kind != "pH"
	case p == LimitTemperature || p == "flash point":
		return kind != "temperature"
	}
	return kind == "pH" || kind == "temperature"
}

func (m *monitor) nameGap(where string, name chemicals.Name, entry int64) (Gap, bool) {
	if _, known := PollutantOf(m.tables, name); known {
		return Gap{}, false
	}
	if isCyanideWithoutKind(name) {
		return Gap{Where: where, What: fmt.Sprintf("%q does not say whether total, amenable or free cyanide is meant; it is compared with the same words only", name), Mend: `write "CN total", "CN amenable" or "CN free"`, Entry: entry}, true
	}
	return Gap{Where: where, What: fmt.Sprintf("%q is no pollutant that the tables know; it is compared with the same words only", name), Mend: "write the symbol of an element, or a name such as CN total, TTO, TSS, pH", Entry: entry}, true
}

// sampleGaps and numberGaps leave it to gapsOfSamples to say where.
func (m *monitor) sampleGaps(r *Result) []Gap {
	var gaps []Gap
	add := func(what, mend string) {
		gaps = append(gaps, Gap{What: what, Mend: mend, Entry: r.Entry})
	}
	if gap, ok := m.nameGap("", r.Is.Pollutant, r.Entry); ok {
		gaps = append(gaps, gap)
	}
	if !m.limits(r.Is.Point, r.Date).stands {
		add(fmt.Sprintf("point %s was not there on %s by the book", r.Is.Point, r.Date), "correct the day or the point, or the day from which the point is recorded")
	}
	m.typeGap(r, add)
	figure := figureOf(r.Is)
	if figure.level.Known() && wrongKind(r.Pollutant, kindOfLevel(figure.level)) {
		add(fmt.Sprintf("%q is no result on %s", r.Is.Result, r.Pollutant), "correct the result or the pollutant")
	}
	if ph, ok := figure.level.PH(); ok && (ph < 0 || ph > 14) {
		add(fmt.Sprintf("a pH of %s is outside 0 to 14", r.Is.Result), "look at the laboratory's sheet; such a pH is that of a strong acid or lye, not of waste water")
	}
	if figure.less && !figure.level.Known() {
		add("not detected, and no reporting limit is recorded", "record the reporting limit of the laboratory")
	}
	m.limitTooHigh(r, add)
	orderGaps(r, add)
	return gaps
}

func (m *monitor) typeGap(r *Result, add func(what, mend string)) {
	if r.Pollutant == LimitTemperature || r.Pollutant == "flash point" {
		return
	}
	wanted := m.wanted(r.Is.Point, r.Pollutant, r.Date)
	switch {
	case r.Is.Type == wanted:
	case r.Is.Type == "":
		add("the book does not say whether it was a grab or a composite", "record type")
	case wanted != "":
		add(fmt.Sprintf("a %s was taken, and a %s is asked for", r.Is.Type, wanted), "take the next one by the type asked for, or record what the control authority allows as monitoring")
	}
}

// limitTooHigh names reporting and detection limits over the strictest limits.
func (m *monitor) limitTooHigh(r *Result, add func(what, mend string)) {
	if r.Is.ReportingLimit.Known() && r.Is.DetectionLimit.Known() && compareFigures(r.Is.DetectionLimit.Is().MilligramsPerLitre(), r.Is.ReportingLimit.Is().MilligramsPerLitre()) > 0 {
		add(fmt.Sprintf("the detection limit %s is over the reporting limit %s", r.Is.DetectionLimit, r.Is.ReportingLimit), "look at the laboratory's sheet; one of them is wrong")
	}
	name, limit := "reporting limit", r.Is.ReportingLimit
	text, less := strings.CutPrefix(r.Is.Result.String(), "<")
	switch {
	case less:
		_ = limit.UnmarshalText([]byte(text)) // a mass in a time is no concentration; the row's own limit stays
	case !limit.Known():
		name, limit = "detection limit", r.Is.DetectionLimit
	}
	if !limit.Known() {
		return
	}
	for _, l := range m.limits(r.Is.Point, r.Date).of[r.Pollutant] {
		bound, _ := levelNumber(l.Value)
		if l.Strictest && l.Basis == chemicals.ByConcentration && compareFigures(limit.Is().MilligramsPerLitre(), bound) > 0 {
			add(fmt.Sprintf("the %s %s is over the %s of %s", name, limit, l.Rule, l.Text), "ask the laboratory for a method that reports lower")
		}
	}
}

func orderGaps(r *Result, add func(what, mend string)) {
	const mend = "look at the laboratory's sheet and correct the wrong day"
	received := r.Is.Received.Day
	if r.Is.Analysed.Known() && r.Is.Analysed < r.Date {
		add(fmt.Sprintf("it was analysed on %s, before it was taken on %s", r.Is.Analysed, r.Date), mend)
	}
	if received.Known() && received < r.Date {
		add(fmt.Sprintf("its result was received on %s, before it was taken on %s", received, r.Date), mend)
	}
	if received.Known() && r.Is.Analysed.Known() && received < r.Is.Analysed {
		add(fmt.Sprintf("its result was received on %s, before it was analysed on %s", received, r.Is.Analysed), mend)
	}
}

// numberGaps name a sample's number that stands for two samples, and a
// pollutant that stands twice for one. Both results count.
func (m *monitor) numberGaps(r *Result, seen map[string]*Result) []Gap {
	number := r.Is.Name.Meaning()
	twin, same := seen[number+"\t"+string(r.Pollutant)], seen[number]
	seen[number+"\t"+string(r.Pollutant)], seen[number] = r, r
	switch {
	case !m.shop.Period.Holds(r.Date):
	case twin != nil:
		return []Gap{{What: fmt.Sprintf("it stands twice, in entry %d as %s and in entry %d as %s; both count", twin.Entry, twin.Is.Result, r.Entry, r.Is.Result), Mend: "withdraw the wrong one, or give a second sample a number of its own", Entry: r.Entry}}
	case same != nil && (same.Date != r.Date || same.point != r.point):
		return []Gap{{What: fmt.Sprintf("entry %d has the same sample number for %s at %s", same.Entry, same.Date, same.Is.Point), Mend: "give each sample a number of its own", Entry: r.Entry}}
	}
	return nil
}

func dueGaps(due []ResultDue) []Gap {
	var gaps []Gap
	for _, d := range due {
		if !d.Missed() {
			continue
		}
		what := fmt.Sprintf("no sample found for the %s of %s", d.Monitoring.Is.Every, d.Span)
		if d.Span.First == d.Span.Last {
			what = "no sample found for " + d.Span.First.String()
		}
		if len(d.Authority) > 0 {
			what += fmt.Sprintf("; the authority took one, entry %d", d.Authority[0])
		}
		gaps = append(gaps, Gap{Where: fmt.Sprintf("monitoring of %s at %s", d.Monitoring.Is.Pollutant, d.Monitoring.Is.Point), What: what, Mend: "record the sample if it was taken; tell the control authority if it was not", Entry: d.Monitoring.Entry})
	}
	return gaps
}

// unsampled names, for each point, pollutants with a limit that binds and
// without a result in the period.
func (m *monitor) unsampled(set ResultSet) []Gap {
	taken := map[dueKey]bool{}
	for _, r := range set.Results {
		taken[dueKey{r.point, r.Pollutant}] = true
	}
	for _, d := range set.Days {
		taken[dueKey{d.point, d.Pollutant}] = true
	}
	var gaps []Gap
	for _, s := range set.Standards {
		var without []string
		for _, l := range set.Limits {
			bound := l.Origin == LimitFederal || l.Origin == LimitOfPaper
			if !bound || l.Point != s.Point.Is.Name || taken[dueKey{m.place(l.Point), l.Pollutant}] || slices.Contains(without, string(l.Pollutant)) {
				continue
			}
			without = append(without, string(l.Pollutant))
		}
		if len(without) > 0 {
			gaps = append(gaps, Gap{Where: "point " + s.Point.Is.Name.String(), What: "no result in the period of what has limits there: " + strings.Join(without, ", "), Mend: "have them sampled, or ask the control authority whether they are to be; of TTO a certification may stand in", Entry: s.Point.Entry})
		}
	}
	return gaps
}

// noticeGaps name notices about nothing that the book has, and incidents that
// do not say where it went.
func (m *monitor) noticeGaps() []Gap {
	known, taken := map[string]bool{}, map[string]chemicals.Day{}
	for _, r := range m.results {
		known[r.Is.Name.Meaning()], taken[r.Is.Name.Meaning()] = true, r.Date
	}
	for _, p := range chemicals.Facts[chemicals.Paper](m.shop) {
		known[p.Is.Name.Meaning()] = true
	}
	var gaps []Gap
	for _, i := range chemicals.Events[chemicals.Incident](m.shop) {
		known[i.Is.Name.Meaning()] = true
		if !i.Is.Went.Known() && m.shop.Period.Holds(i.Date) {
			gaps = append(gaps, Gap{Where: "incident " + i.Is.Name.String(), What: "the book does not say where it went; whether notice was due at once is not known", Mend: "record where it went", Entry: i.Entry})
		}
	}
	for _, n := range chemicals.Events[chemicals.Told](m.shop) {
		about, where := n.Is.About.Meaning(), "notice of "+n.Date.String()
		switch {
		case !m.shop.Period.Holds(n.Date) || strings.HasPrefix(about, "entry "):
		case !known[about]:
			gaps = append(gaps, Gap{Where: where, What: fmt.Sprintf("it is about %q, which is no sample, incident or paper of the book", n.Is.About), Mend: `write the sample's or incident's number, or "entry 41"`, Entry: n.Entry})
		case n.Date < taken[about]:
			gaps = append(gaps, Gap{Where: where, What: fmt.Sprintf("sample %s was taken on %s, after it; the notice closes no clock", n.Is.About, taken[about]), Mend: "correct the day or the sample's number", Entry: n.Entry})
		}
	}
	return gaps
}
