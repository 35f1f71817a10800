package exposure_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals"
	"bathwarden/exposure"
)

const overLimit = sewerShop + "sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=4.5 mg/L | type=composite | received=2026-03-10 14:30\n"

func clocksOf(t *testing.T, asOf chemicals.Day, rows string) []exposure.ClockRun {
	t.Helper()
	return resultsOf(t, asOf, 0, rows).Clocks
}

// clock finds the one clock of a duty.
func clock(t *testing.T, clocks []exposure.ClockRun, duty exposure.ClockDuty) exposure.ClockRun {
	t.Helper()
	var found []exposure.ClockRun
	for _, c := range clocks {
		if c.Duty == duty {
			found = append(found, c)
		}
	}
	require.Len(t, found, 1, duty.String())
	return found[0]
}

func TestTheNotice(t *testing.T) {
	for name, c := range map[string]struct {
		asOf   chemicals.Day
		rows   string
		state  exposure.ClockState
		says   string
		caveat string
	}{
		"in time":          {"2026-03-31", "notice 2026-03-11 | time=14:30 | to=city | about=S1", exposure.ClockInTime, "closed by entry 5 on 2026-03-11 14:30; due 2026-03-11 14:30", ""},
		"a minute late":    {"2026-03-31", "notice 2026-03-11 | time=14:31 | to=city | about=S1", exposure.ClockClosedLate, "closed by entry 5 on 2026-03-11 14:31, 1 min after it was due on 2026-03-11 14:30", ""},
		"days late":        {"2026-03-31", "notice 2026-03-13 | time=16:00 | to=city | about=s1", exposure.ClockClosedLate, "closed by entry 5 on 2026-03-13 16:00, 2 days 1 h after it was due on 2026-03-11 14:30", ""},
		"by its entry":     {"2026-03-31", "notice 2026-03-10 | time=15:00 | to=city | about=entry 4", exposure.ClockInTime, "closed by entry 5 on 2026-03-10 15:00; due 2026-03-11 14:30", ""},
		"the first of two": {"2026-03-31", "notice 2026-03-12 | time=09:00 | to=city | about=S1\nnotice 2026-03-11 | time=09:00 | to=city | about=S1", exposure.ClockInTime, "closed by entry 6 on 2026-03-11 09:00; due 2026-03-11 14:30", ""},
		"without a time":   {"2026-03-31", "notice 2026-03-11 | to=city | about=S1", exposure.ClockInTime, "closed by entry 5 on 2026-03-11; due 2026-03-11 14:30", "it was in time only if given by 2026-03-11 14:30"},
		"about another":    {"2026-03-31", "notice 2026-03-11 | time=09:00 | to=city | about=S2", exposure.ClockOverdue, "no record found; due on 2026-03-11 14:30", ""},
		"before the sample": {
			"2026-03-31", "notice 2026-03-03 | time=09:00 | to=city | about=S1", exposure.ClockOverdue, "no record found; due on 2026-03-11 14:30", "",
		},
		"before the result": {
			"2026-03-31", "notice 2026-03-09 | time=09:00 | to=city | about=S1", exposure.ClockInTime, "closed by entry 5 on 2026-03-09 09:00; due 2026-03-11 14:30", "before the shop had the result",
		},
		"open on the day before":  {"2026-03-10", "", exposure.ClockOpen, "no record found; open until 2026-03-11 14:30", ""},
		"open on the day it ends": {"2026-03-11", "", exposure.ClockOpen, "no record found; open until 2026-03-11 14:30", ""},
		"overdue the day after":   {"2026-03-12", "", exposure.ClockOverdue, "no record found; due on 2026-03-11 14:30", ""},
	} {
		t.Run(name, func(t *testing.T) {
			got := clock(t, clocksOf(t, c.asOf, overLimit+c.rows), exposure.ClockNotice)
			assert.Equal(t, c.state, got.State)
			assert.Equal(t, c.says, got.Says())
			assert.Equal(t, "Ni at O1 on 2026-03-04, sample S1", got.About)
			assert.Equal(t, "403.12(g)(2)", got.Ref.Place)
			if c.caveat == "" {
				assert.Empty(t, got.Caveats)
			} else {
				assert.Contains(t, fmt.Sprint(got.Caveats), c.caveat)
			}
		})
	}
}

func TestWhenTheShopKnew(t *testing.T) {
	for name, c := range map[string]struct {
		columns, from string
		start, due    chemicals.Moment
		caveat        string
	}{
		"a moment":     {"received=2026-03-10 14:30", "received", chemicals.Moment{Day: "2026-03-10", Clock: "14:30"}, chemicals.Moment{Day: "2026-03-11", Clock: "14:30"}, ""},
		"a day":        {"received=2026-03-10", "received", chemicals.Moment{Day: "2026-03-10", Clock: "00:00"}, chemicals.Moment{Day: "2026-03-11", Clock: "00:00"}, "counted from the start of the day"},
		"analysed":     {"analysed=2026-03-08", "analysed", chemicals.Moment{Day: "2026-03-08", Clock: "00:00"}, chemicals.Moment{Day: "2026-03-09", Clock: "00:00"}, "counted from the start of the day of analysis"},
		"sampled":      {"time=10:15", "sampled", chemicals.Moment{Day: "2026-03-04", Clock: "10:15"}, chemicals.Moment{Day: "2026-03-05", Clock: "10:15"}, "counted from the sampling"},
		"end of month": {"received=2026-04-30 23:30", "received", chemicals.Moment{Day: "2026-04-30", Clock: "23:30"}, chemicals.Moment{Day: "2026-05-01", Clock: "23:30"}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			rows := sewerShop + "sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=4.5 mg/L | type=composite | " + c.columns
			got := clock(t, clocksOf(t, "2026-06-30", rows), exposure.ClockNotice)
			assert.Equal(t, c.from, got.StartFrom)
			assert.Equal(t, c.start, got.Start)
			assert.Equal(t, c.due, got.Due)
			assert.Equal(t, c.caveat == "", len(got.Caveats) == 0)
			assert.Contains(t, fmt.Sprint(got.Caveats), c.caveat)
		})
	}
}

// In the night of 8 March 2026 clocks in Chicago go from 2:00 to 3:00, and 24
// hours end an hour later by the clock.
func TestTheNoticeCountsHoursNotClocks(t *testing.T) {
	rows := strings.Replace(overLimit, "regime=us", "regime=us | time zone=America/Chicago", 1)
	rows = strings.Replace(rows, "received=2026-03-10 14:30", "received=2026-03-07 14:30", 1)
	got := clocksOf(t, "2026-03-31", rows)
	assert.Equal(t, chemicals.Moment{Day: "2026-03-08", Clock: "15:30"}, clock(t, got, exposure.ClockNotice).Due)
	assert.Equal(t, chemicals.Moment{Day: "2026-04-06", Clock: "14:30"}, clock(t, got, exposure.ClockResample).Due)
}

func TestTheRepeatedSampling(t *testing.T) {
	const again = "sample 2026-03-18 | sample=S2 | point=O1 | pollutant=nickel | result=1.0 mg/L | type=composite | "
	for name, c := range map[string]struct {
		asOf  chemicals.Day
		rows  string
		state exposure.ClockState
		says  string
	}{
		"in time":                   {"2026-06-30", again + "received=2026-04-09 14:30", exposure.ClockInTime, "closed by entry 5 on 2026-04-09 14:30; due 2026-04-09 14:30"},
		"late":                      {"2026-06-30", again + "received=2026-04-10 14:30", exposure.ClockClosedLate, "closed by entry 5 on 2026-04-10 14:30, 1 day 0 h after it was due on 2026-04-09 14:30"},
		"another metal":             {"2026-06-30", strings.Replace(again, "nickel", "zinc", 1) + "received=2026-04-09", exposure.ClockOverdue, "no record found; due on 2026-04-09 14:30"},
		"another point":             {"2026-06-30", strings.Replace(again, "O1", "O2", 1) + "received=2026-04-09", exposure.ClockOverdue, "no record found; due on 2026-04-09 14:30"},
		"an earlier one":            {"2026-06-30", strings.Replace(again, "03-18", "03-03", 1) + "received=2026-04-09", exposure.ClockOverdue, "no record found; due on 2026-04-09 14:30"},
		"the same sample":           {"2026-06-30", strings.NewReplacer("03-18", "03-04", "1.0", "3.8").Replace(again) + "received=2026-03-20", exposure.ClockOverdue, "no record found; due on 2026-04-09 14:30"},
		"the authority's later one": {"2026-06-30", again + "by=authority", exposure.ClockOverdue, "no record found; due on 2026-04-09 14:30"},
		"the authority's between": {
			"2026-06-30", strings.Replace(again, "03-18", "03-08", 1) + "by=authority", exposure.ClockExcused,
			"the authority sampled on 2026-03-08, entry 5, between the sampling and the receipt of its results",
		},
		"open": {"2026-04-09", "", exposure.ClockOpen, "no record found; open until 2026-04-09 14:30"},
		"over": {"2026-04-10", "", exposure.ClockOverdue, "no record found; due on 2026-04-09 14:30"},
	} {
		t.Run(name, func(t *testing.T) {
			got := clock(t, clocksOf(t, c.asOf, overLimit+c.rows), exposure.ClockResample)
			assert.Equal(t, c.state, got.State)
			assert.Equal(t, c.says, got.Says())
		})
	}
}

func TestAnAuthorityThatSamplesMonthly(t *testing.T) {
	rows := overLimit
	for _, day := range []string{"2025-10-02", "2025-11-02", "2025-12-02", "2026-01-02", "2026-02-02", "2026-03-02"} {
		rows += "sample " + day + " | sample=C" + day + " | point=O1 | pollutant=Ni | result=1.0 mg/L | type=composite | by=authority\n"
	}
	assert.Equal(t, exposure.ClockExcused, clock(t, clocksOf(t, "2026-06-30", rows), exposure.ClockResample).State)
	missing := strings.Replace(rows, "sample 2025-12-02", "sample 2025-11-30", 1)
	assert.Equal(t, exposure.ClockOverdue, clock(t, clocksOf(t, "2026-06-30", missing), exposure.ClockResample).State)
}

func TestWhatStartsNoClock(t *testing.T) {
	for name, rows := range map[string]string{
		"not over":         strings.Replace(overLimit, "4.5", "2.0", 1),
		"the authority's":  strings.Replace(overLimit, "type=composite", "type=composite | by=authority", 1),
		"undetermined":     strings.Replace(overLimit, "4.5", "<4.5", 1),
		"a stream":         strings.Replace(overLimit, "body=sewer", "body=stream", 1),
		"a European shop":  strings.Replace(overLimit, "regime=us", "regime=eu", 1),
		"before this year": strings.NewReplacer("2026-03-04", "2024-03-04", "2026-03-10", "2024-03-10").Replace(overLimit),
	} {
		assert.Empty(t, clocksOf(t, "2026-06-30", rows), name)
	}
}

func TestOneDayHasOneClockOfEachDuty(t *testing.T) {
	rows := sewerShop + `
limit - | point=O1 | pollutant=Ni | rule=instantaneous maximum | basis=concentration | document=permit | value=4.0 mg/L
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=4.5 mg/L | type=grab | received=2026-03-10 14:30
sample 2026-03-04 | sample=S2 | point=O1 | pollutant=Ni | result=4.4 mg/L | type=grab | received=2026-03-09 10:00
`
	got := clocksOf(t, "2026-06-30", rows)
	require.Len(t, got, 2)
	notice := clock(t, got, exposure.ClockNotice)
	assert.Equal(t, chemicals.Moment{Day: "2026-03-09", Clock: "10:00"}, notice.Start, "the first that the shop had")
	assert.Equal(t, []int64{5, 6}, notice.Entries)
	var rules []chemicals.Rule
	for _, l := range notice.Over {
		rules = append(rules, l.Rule)
	}
	assert.ElementsMatch(t, []chemicals.Rule{chemicals.Instantaneous, chemicals.DailyMaximum, chemicals.MonthlyAverage}, rules)
}

// 3.0 mg/L is under the daily maximum of 3.98 and over the monthly average of
// 2.38.
func TestAnAverageOverItsLimitStartsClocksWhenItsMonthIsOver(t *testing.T) {
	rows := strings.Replace(overLimit, "4.5", "3.0", 1)
	assert.Empty(t, clocksOf(t, "2026-03-30", rows))
	got := clock(t, clocksOf(t, "2026-04-01", rows), exposure.ClockNotice)
	assert.Equal(t, chemicals.Moment{Day: "2026-04-01", Clock: "00:00"}, got.Start)
	assert.Equal(t, chemicals.Moment{Day: "2026-04-02", Clock: "00:00"}, got.Due)
	assert.Equal(t, "Ni at O1 monthly average of 2026-03-01 to 2026-03-31, sample S1", got.About)
}

func TestIncidentsThatWentToADrain(t *testing.T) {
	for name, c := range map[string]struct {
		asOf  chemicals.Day
		rows  string
		state exposure.ClockState // 0: no clock
		late  time.Duration
	}{
		"told":           {"2026-06-30", "incident 2026-03-04 | incident=I1 | time=10:00 | what=spill | where it went=floor drain\nnotice 2026-03-04 | time=10:35 | to=city | about=I1", exposure.ClockClosed, 35 * time.Minute},
		"told next day":  {"2026-06-30", "incident 2026-03-04 | incident=I1 | time=10:00 | what=spill | where it went=to O1\nnotice 2026-03-05 | time=10:00 | to=city | about=entry 4", exposure.ClockClosed, 24 * time.Hour},
		"not told":       {"2026-03-06", "incident 2026-03-04 | incident=I1 | time=12:00 | what=spill | where it went=the sewer", exposure.ClockOverdue, 36 * time.Hour},
		"today":          {"2026-03-04", "incident 2026-03-04 | incident=I1 | time=12:00 | what=spill | where it went=the sewer", exposure.ClockOpen, 0},
		"onto the floor": {"2026-06-30", "incident 2026-03-04 | incident=I1 | what=spill | where it went=floor, taken up", 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			got := clocksOf(t, c.asOf, sewerShop+c.rows)
			if c.state == 0 {
				assert.Empty(t, got)
				return
			}
			slug := clock(t, got, exposure.ClockSlug)
			assert.Equal(t, c.state, slug.State)
			assert.Equal(t, c.late, slug.Late)
			assert.Equal(t, "403.12(f)", slug.Ref.Place)
		})
	}
}

// Whenever a notice is given, the clock is closed in time exactly when it was
// given within 24 hours of receipt, and lateness is the rest.
func TestLatenessIsTheTimeOverDue(t *testing.T) {
	received := time.Date(2026, 3, 10, 14, 30, 0, 0, time.UTC)
	rapid.Check(t, func(r *rapid.T) {
		after := time.Duration(rapid.IntRange(0, 20*24*60).Draw(r, "minutes")) * time.Minute
		at := received.Add(after)
		rows := overLimit + fmt.Sprintf("notice %s | time=%s | to=city | about=S1", at.Format("2006-01-02"), at.Format("15:04"))
		got := clock(t, clocksOf(t, "2026-06-30", rows), exposure.ClockNotice)
		if after <= 24*time.Hour {
			assert.Equal(t, exposure.ClockInTime, got.State)
			assert.Zero(t, got.Late)
			return
		}
		assert.Equal(t, exposure.ClockClosedLate, got.State)
		assert.Equal(t, after-24*time.Hour, got.Late)
	})
}
