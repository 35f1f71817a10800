package exposure

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"bathwarden/chemicals"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// ClockDuty is what a clock runs to.
type ClockDuty int

// The duties.
const (
	ClockNotice   ClockDuty = iota + 1 // notice of a result over a limit, 40 CFR 403.12(g)(2)
	ClockResample                      // results of the repeated sampling, 40 CFR 403.12(g)(2)
	ClockSlug                          // notice of what could cause problems, 40 CFR 403.12(f)
)

func (d ClockDuty) String() string {
	return [...]string{"", "notice of the result", "results of the repeated sampling", "notice at once"}[d]
}

// ClockState is how a clock stands on the as-of day.
type ClockState int

// The states.
const (
	ClockInTime     ClockState = iota + 1 // an entry closed it in time
	ClockClosedLate                       // an entry closed it after it was due
	ClockOpen                             // not closed and not yet due
	ClockOverdue                          // not closed, and due before the as-of day
	ClockClosed                           // an entry closed it, and the rule gives no span: Late is how long it took
	ClockExcused                          // the rule does not ask for it; Excuse says why
)

func (s ClockState) String() string {
	return [...]string{"", "closed in time", "closed late", "open", "overdue", "closed", "not asked for"}[s]
}

// ClockRun is one clock: what started it, when it is due and what closed it.
// Moments are of the shop's time zone.
type ClockRun struct {
	Duty      ClockDuty
	About     string // "Ni at O1 on 2026-03-04, sample S-12"; "incident I-3"
	Point     chemicals.Name
	Pollutant LimitPollutant
	Entries   []int64        // of the samples, or of the incident
	Over      []LimitInForce // the limits; none of an incident
	Start     chemicals.Moment
	StartFrom string // "received", "analysed", "sampled", "seen": which of the book's columns
	Due       chemicals.Moment
	State     ClockState
	ClosedBy  int64 // entry; 0 for none
	ClosedAt  chemicals.Moment
	Late      time.Duration // closed late: after due; overdue: from due to the start of the as-of day; of a notice at once from Start
	Excuse    string
	Caveats   []working.Caveat
	Ref       source.Ref
}

// Says is the state in one line.
func (c ClockRun) Says() string {
	switch c.State {
	case ClockInTime:
		return fmt.Sprintf("closed by entry %d on %s; due %s", c.ClosedBy, c.ClosedAt, c.Due)
	case ClockClosedLate:
		return fmt.Sprintf("closed by entry %d on %s, %s after it was due on %s", c.ClosedBy, c.ClosedAt, spanText(c.Late), c.Due)
	case ClockClosed:
		return fmt.Sprintf("closed by entry %d on %s, %s after it was seen", c.ClosedBy, c.ClosedAt, spanText(c.Late))
	case ClockOpen:
		if c.Duty == ClockSlug {
			return "no record found; due at once"
		}
		return "no record found; open until " + c.Due.String()
	case ClockOverdue:
		return fmt.Sprintf("no record found; due on %s", c.Due)
	}
	return c.Excuse
}

// spanText prints a span in days, hours and minutes.
func spanText(d time.Duration) string {
	minutes := int(d.Minutes())
	days, hours, rest := minutes/(24*60), minutes/60%24, minutes%60
	switch {
	case days == 1:
		return fmt.Sprintf("1 day %d h", hours)
	case days > 0:
		return fmt.Sprintf("%d days %d h", days, hours)
	case hours > 0:
		return fmt.Sprintf("%d h %d min", hours, rest)
	}
	return fmt.Sprintf("%d min", rest)
}

// clockRoom is what the clocks of a shop have in common.
type clockRoom struct {
	m       *monitor
	zone    *time.Location
	notices []chemicals.Happened[chemicals.Told]
}

// violation is what starts the two clocks of 403.12(g)(2): the shop's own
// results of one pollutant at one point on one day that are over limits, or an
// average that is over one while none of its days is.
type violation struct {
	point     chemicals.Name
	pollutant LimitPollutant
	when      string // "on 2026-03-04", "monthly average of 2026-03-01 to 2026-03-31"
	last      *Result
	samples   []*Result
	over      []LimitInForce
	start     awareness
}

// clocks are those that are due on or after the first day of the period.
func (m *monitor) clocks(averages []ResultAverage) []ClockRun {
	room := clockRoom{m: m, zone: time.UTC, notices: chemicals.Events[chemicals.Told](m.shop)}
	if firm, ok := m.shop.Firm(); ok {
		room.zone = firm.Is.TimeZone.Location()
	}
	var all []ClockRun
	for _, v := range room.violations(append(m.earlierMonths(), averages...)) {
		all = append(all, room.notice(v), room.resample(v))
	}
	all = append(all, room.incidents()...)
	all = slices.DeleteFunc(all, func(c ClockRun) bool { return c.Due.Day < m.shop.Period.First || c.Start.Day > m.shop.Period.Last })
	slices.SortStableFunc(all, func(a, b ClockRun) int {
		return cmp.Or(cmp.Compare(a.Start.String(), b.Start.String()), cmp.Compare(a.About, b.About), cmp.Compare(a.Duty, b.Duty))
	})
	return all
}

// underSewerRules reports whether 40 CFR 403.12 may ask for something about a
// result: it asks those who discharge to a sewer in the United States.
func (m *monitor) underSewerRules(point chemicals.Name, day chemicals.Day) bool {
	p := m.limits(point, day)
	return p.standard.Point.Is.Body == chemicals.Sewer && inUnitedStates(m.shop, day)
}

// earlierMonths are the averages of the months that end before the period and
// whose clocks may run into it.
func (m *monitor) earlierMonths() []ResultAverage {
	first := m.shop.Period.First
	var all []ResultAverage
	for _, a := range m.monthly {
		if a.Span.Last < first && a.Span.Last >= first.Add(-2*31) {
			all = append(all, a)
		}
	}
	return all
}

// violations gathers results by day, in order, then the averages that stand
// alone.
func (r clockRoom) violations(averages []ResultAverage) []violation {
	var all []violation
	at := map[dayKey]int{}
	for _, result := range r.m.results {
		over := overIn(result.Against)
		if !result.Own || len(over) == 0 || !r.m.underSewerRules(result.Is.Point, result.Date) {
			continue
		}
		key := keyOf(result)
		i, known := at[key]
		if !known {
			i, at[key] = len(all), len(all)
			all = append(all, violation{point: result.Is.Point, pollutant: result.Pollutant, when: "on " + result.Date.String()})
		}
		all[i].add(result, over)
	}
	for i := range all {
		all[i].start = r.first(all[i].samples)
	}
	for _, d := range r.m.days {
		if over := overIn(d.Against); d.Own && d.Pollutant == LimitTotalMetals && len(over) > 0 && d.single == nil && r.m.underSewerRules(d.Point, d.Day) {
			all = append(all, r.ofSum(d, over))
		}
	}
	for _, a := range averages {
		over := overIn(a.Against)
		if len(over) == 0 || !a.Ended && a.Rule == chemicals.MonthlyAverage || !r.m.underSewerRules(a.Point, a.Days[0]) {
			continue
		}
		if i := ownDay(at, r.m.place(a.Point), a); i >= 0 {
			all[i].over = append(all[i].over, over...)
			continue
		}
		all = append(all, r.ofAverage(a, over))
	}
	return all
}

func (v *violation) add(result *Result, over []LimitInForce) {
	v.samples, v.last = append(v.samples, result), result
	for _, l := range over {
		if !slices.ContainsFunc(v.over, func(o LimitInForce) bool {
			return o.Rule == l.Rule && o.Text == l.Text && o.Origin == l.Origin && o.Entry == l.Entry
		}) {
			v.over = append(v.over, l)
		}
	}
}

// overIn are the limits that a figure is over, those for comparison left out.
func overIn(against []ResultAgainst) []LimitInForce {
	var over []LimitInForce
	for _, a := range against {
		if a.Verdict == ResultOver && a.Limit.Origin != LimitForComparison {
			over = append(over, a.Limit)
		}
	}
	return over
}

// ownDay is the last day of an average that has clocks of its own, -1 for none.
func ownDay(at map[dayKey]int, place string, a ResultAverage) int {
	for _, day := range slices.Backward(a.Days) {
		if i, ok := at[dayKey{place, a.Pollutant, true, day}]; ok {
			return i
		}
	}
	return -1
}

func (r clockRoom) ofAverage(a ResultAverage, over []LimitInForce) violation {
	v := violation{point: a.Point, pollutant: a.Pollutant, over: over, when: fmt.Sprintf("%s of %s", a.Rule, a.Span)}
	v.samples = r.byEntry(a.Entries)
	v.last = v.samples[len(v.samples)-1]
	v.start = r.latest(v.samples)
	if a.Rule == chemicals.MonthlyAverage {
		if end := r.time(chemicals.Moment{Day: a.Span.Last.Add(1)}); end.After(v.start.at) {
			v.start = awareness{at: end, from: "the month ended"}
		}
	}
	return v
}

func (r clockRoom) ofSum(d *ResultDay, over []LimitInForce) violation {
	v := violation{point: d.Point, pollutant: d.Pollutant, over: over, when: "on " + d.Day.String(), samples: r.byEntry(d.Entries)}
	v.last = v.samples[len(v.samples)-1]
	v.start = r.latest(v.samples)
	return v
}

func (r clockRoom) byEntry(entries []int64) []*Result {
	var found []*Result
	for _, result := range r.m.results {
		if slices.Contains(entries, result.Entry) {
			found = append(found, result)
		}
	}
	return found
}
