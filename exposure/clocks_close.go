package exposure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// awareness is when the shop knew of a result, as far as the book says.
type awareness struct {
	at     time.Time
	from   string // the column it was taken from
	caveat working.Caveat
}

// time is a moment on the shop's clock.
func (r clockRoom) time(m chemicals.Moment) time.Time {
	t := m.Time()
	return time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), 0, 0, r.zone)
}

// moment is a time as the book writes it.
func moment(t time.Time) chemicals.Moment {
	return chemicals.Moment{Day: chemicals.DayOf(t), Clock: chemicals.Clock(t.Format("15:04"))}
}

// aware takes the moment of receipt; for want of it the start of the day of
// analysis, and for want of that the moment of sampling: none of them is later
// than the shop can have known.
func (r clockRoom) aware(s *Result) awareness {
	switch {
	case s.Is.Received.Known() && s.Is.Received.Clock.Known():
		return awareness{at: r.time(s.Is.Received), from: "received"}
	case s.Is.Received.Known():
		return awareness{r.time(s.Is.Received), "received", working.Caveat(fmt.Sprintf("entry %d says on which day the result was received and not when; counted from the start of the day", s.Entry))}
	case s.Is.Analysed.Known():
		return awareness{r.time(chemicals.Moment{Day: s.Is.Analysed}), "analysed", working.Caveat(fmt.Sprintf("entry %d does not say when the result was received; counted from the start of the day of analysis", s.Entry))}
	}
	return awareness{r.time(chemicals.Moment{Day: s.Date, Clock: s.Is.Time}), "sampled", working.Caveat(fmt.Sprintf("entry %d says neither when the result was received nor when it was analysed; counted from the sampling", s.Entry))}
}

func (r clockRoom) first(samples []*Result) awareness {
	first := r.aware(samples[0])
	for _, s := range samples[1:] {
		if a := r.aware(s); a.at.Before(first.at) {
			first = a
		}
	}
	return first
}

func (r clockRoom) latest(samples []*Result) awareness {
	last := r.aware(samples[0])
	for _, s := range samples[1:] {
		if a := r.aware(s); a.at.After(last.at) {
			last = a
		}
	}
	return last
}

// run is a clock that starts with a violation and is not closed.
func (r clockRoom) run(v violation, duty ClockDuty, within working.Estimate[quantity.Duration]) ClockRun {
	c := ClockRun{
		Duty: duty, Point: v.point, Pollutant: v.pollutant, Over: v.over, Start: moment(v.start.at), StartFrom: v.start.from,
		About: fmt.Sprintf("%s at %s %s, %s", v.pollutant, v.point, v.when, sampleNames(v.samples)), Ref: within.Ref(),
	}
	for _, s := range v.samples {
		c.Entries = append(c.Entries, s.Entry)
	}
	if v.start.caveat != "" {
		c.Caveats = append(c.Caveats, v.start.caveat)
	}
	if reading := onlyIf(v.over, r.m.limits(v.point, v.last.Date).standard); reading != "" {
		c.Caveats = append(c.Caveats, working.Caveat("the limit binds only if "+reading))
	}
	c.Due = moment(r.dueAfter(v.start.at, within))
	return c
}

// dueAfter adds hours on the clock, whole days by the calendar.
func (r clockRoom) dueAfter(start time.Time, within working.Estimate[quantity.Duration]) time.Time {
	hours := within.Is().Hours()
	if days := hours / 24; days > 1 && days == float64(int(days)) {
		return start.AddDate(0, 0, int(days))
	}
	return start.Add(time.Duration(hours * float64(time.Hour)))
}

func sampleNames(samples []*Result) string {
	var names []string
	for _, s := range samples {
		if n := s.Is.Name.String(); !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	if len(names) > 1 {
		return "samples " + strings.Join(names, ", ")
	}
	return "sample " + strings.Join(names, ", ")
}

// onlyIf are the readings in which any of the limits binds; empty where in each
// one does.
func onlyIf(over []LimitInForce, standard Standard) string {
	var readings []string
	for _, l := range over {
		if len(l.If) == 0 {
			return ""
		}
		for _, reading := range l.If {
			if !slices.Contains(readings, reading) {
				readings = append(readings, reading)
			}
		}
	}
	if len(readings) == len(standard.Readings) {
		return ""
	}
	return strings.Join(readings, "; or ")
}

// close settles the state of a clock by the moment that closed it, zero for
// none.
func (c *ClockRun) close(r clockRoom, entry int64, at time.Time) {
	due := r.time(c.Due)
	asOf := r.time(chemicals.Moment{Day: r.m.shop.AsOf})
	switch {
	case entry != 0 && !at.After(due):
		c.State = ClockInTime
	case entry != 0:
		c.State, c.Late = ClockClosedLate, at.Sub(due)
	case due.After(asOf):
		c.State = ClockOpen
	default:
		c.State, c.Late = ClockOverdue, asOf.Sub(due)
	}
	c.ClosedBy = entry
	if entry != 0 && c.ClosedAt.Day == "" {
		c.ClosedAt = moment(at)
	}
}

// notice is closed by the first notice about one of the samples, by their
// numbers or entries.
func (r clockRoom) notice(v violation) ClockRun {
	c := r.run(v, ClockNotice, publishedLimits().notice)
	first := slices.MinFunc(v.samples, func(a, b *Result) int { return strings.Compare(string(a.Date), string(b.Date)) })
	told, ok := r.told(first.Date, func(about string) bool {
		return slices.ContainsFunc(v.samples, func(s *Result) bool { return isAbout(about, s.Is.Name, s.Entry) })
	})
	if !ok {
		c.close(r, 0, time.Time{})
		return c
	}
	at := r.time(chemicals.Moment{Day: told.Date, Clock: told.Is.Time})
	c.ClosedAt = chemicals.Moment{Day: told.Date, Clock: told.Is.Time}
	c.close(r, told.Entry, at)
	if end := r.time(chemicals.Moment{Day: told.Date.Add(1)}); !told.Is.Time.Known() && c.State == ClockInTime && end.After(r.time(c.Due)) {
		c.Caveats = append(c.Caveats, working.Caveat(fmt.Sprintf("entry %d does not say at what time notice was given; it was in time only if given by %s", told.Entry, c.Due)))
	}
	if at.Before(r.time(c.Start)) && told.Date < c.Start.Day {
		c.Caveats = append(c.Caveats, working.Caveat(fmt.Sprintf("the notice of entry %d was given before the shop had the result by the book", told.Entry)))
	}
	return c
}

// told is the first notice from a day on.
func (r clockRoom) told(from chemicals.Day, about func(string) bool) (chemicals.Happened[chemicals.Told], bool) {
	var first chemicals.Happened[chemicals.Told]
	found := false
	for _, n := range r.notices {
		if n.Date < from || !about(n.Is.About.Meaning()) {
			continue
		}
		if !found || n.Date == first.Date && n.Is.Time < first.Is.Time {
			first, found = n, true
		}
	}
	return first, found
}

// isAbout reads what a notice is about: a name, or "entry 41".
func isAbout(about string, name chemicals.Name, entry int64) bool {
	number, isEntry := strings.CutPrefix(about, "entry ")
	return about == name.Meaning() || isEntry && strings.TrimSpace(number) == strconv.FormatInt(entry, 10)
}

// resample is closed by the first result of a later sample of the shop's own,
// at the same point and of the same pollutant.
func (r clockRoom) resample(v violation) ClockRun {
	c := r.run(v, ClockResample, publishedLimits().repeated)
	if why, excused := r.excused(v); excused {
		c.State, c.Excuse = ClockExcused, why
		return c
	}
	var by *Result
	var best awareness
	for _, s := range r.m.results {
		if !s.Own || s.point != v.last.point || !repeats(s.Pollutant, v.pollutant) || !isLater(s, v.last) {
			continue
		}
		if a := r.aware(s); by == nil || a.at.Before(best.at) {
			by, best = s, a
		}
	}
	if by == nil {
		c.close(r, 0, time.Time{})
		return c
	}
	c.close(r, by.Entry, best.at)
	if best.caveat != "" {
		c.Caveats = append(c.Caveats, best.caveat)
	}
	if by.Date < c.Start.Day {
		c.Caveats = append(c.Caveats, working.Caveat(fmt.Sprintf("the later sample of entry %d was taken before the shop had the first result by the book", by.Entry)))
	}
	return c
}

// repeats reports whether a sample of one pollutant repeats that of another:
// total metals are repeated by any of their metals being sampled anew, for the
// book sums them.
func repeats(taken, wanted LimitPollutant) bool {
	return taken == wanted || wanted == LimitTotalMetals && slices.Contains(publishedLimits().totalMetals.words(), string(taken))
}

// isLater reports whether a sample was taken after another. Two of one day
// without their times are not told apart.
func isLater(s, than *Result) bool {
	if s.Date != than.Date {
		return s.Date > than.Date
	}
	return s.Is.Time.Known() && than.Is.Time.Known() && s.Is.Time > than.Is.Time
}

// excused reads the two exceptions of 403.12(g)(2): the authority samples at
// least once a month, or it sampled between the first sampling and the receipt
// of its results.
func (r clockRoom) excused(v violation) (string, bool) {
	months := map[string]int64{}
	for _, s := range r.m.results {
		if s.Own || s.point != v.last.point || !repeats(s.Pollutant, v.pollutant) {
			continue
		}
		months[string(s.Date)[:len("2006-01")]] = s.Entry
		between := s.Date > v.last.Date && r.time(chemicals.Moment{Day: s.Date, Clock: s.Is.Time}).Before(v.start.at)
		if between {
			return fmt.Sprintf("the authority sampled on %s, entry %d, between the sampling and the receipt of its results", s.Date, s.Entry), true
		}
	}
	asked := publishedLimits().monthly
	month := monthOf(v.last.Date).First.Time()
	for i := range asked.is {
		if months[month.AddDate(0, -i, 0).Format("2006-01")] == 0 {
			return "", false
		}
	}
	return fmt.Sprintf("the book has a sample of the authority's in each of %d months in a row up to that of the result", asked.is), true
}
