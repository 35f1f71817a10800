package exposure_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals"
	"bathwarden/exposure"
	"bathwarden/exposure/discharge"
)

func resultsOf(t *testing.T, asOf chemicals.Day, treatment discharge.Treatment, rows string) exposure.ResultSet {
	t.Helper()
	return exposure.ResultsOf(shopOf(t, asOf, rows), tables(t), flowOf(12000), treatment)
}

// verdicts are a figure's, by rule and limit.
func verdicts(against []exposure.ResultAgainst) []string {
	var all []string
	for _, a := range against {
		all = append(all, fmt.Sprintf("%s %s: %s", a.Limit.Rule, a.Limit.Text, a.Verdict))
	}
	return all
}

func TestAResultBesideTheLimitsOfItsDay(t *testing.T) {
	for name, c := range map[string]struct {
		sample string
		want   []string
	}{
		"over":                            {"pollutant=Ni | result=4.1 mg/L | type=composite", []string{"daily maximum 3.98 mg/L: over"}},
		"at the limit":                    {"pollutant=nickel | result=3.98 mg/L | type=composite", []string{"daily maximum 3.98 mg/L: not over"}},
		"at the limit in another unit":    {"pollutant=Cd | result=110 µg/L | type=composite", []string{"daily maximum 0.11 mg/L: not over"}},
		"a hair over in another unit":     {"pollutant=Cd | result=110.1 µg/L | type=composite", []string{"daily maximum 0.11 mg/L: over"}},
		"non-detect, limit over":          {"pollutant=Cd | result=<0.05 mg/L | type=composite", []string{"daily maximum 0.11 mg/L: not over"}},
		"non-detect, limit at":            {"pollutant=Cd | result=<0.11 mg/L | type=composite", []string{"daily maximum 0.11 mg/L: not over"}},
		"non-detect, limit under":         {"pollutant=Cd | result=<0.2 mg/L | type=composite", []string{"daily maximum 0.11 mg/L: undetermined"}},
		"ND with a reporting limit":       {"pollutant=Cd | result=ND | reporting limit=0.02 mg/L | type=composite", []string{"daily maximum 0.11 mg/L: not over"}},
		"ND with a detection limit":       {"pollutant=Cd | result=ND | detection limit=0.2 mg/L | type=composite", []string{"daily maximum 0.11 mg/L: undetermined"}},
		"ND alone":                        {"pollutant=Cd | result=ND | type=composite", []string{"daily maximum 0.11 mg/L: undetermined"}},
		"pH under the minimum":            {"pollutant=pH | result=4.9 | type=grab", []string{"minimum 5.0: over"}},
		"pH at the minimum":               {"pollutant=pH | result=5.0 | type=grab", []string{"minimum 5.0: not over"}},
		"temperature, limit at the works": {"pollutant=temperature | result=45 °C | type=grab", []string{"maximum 40 °C: not compared"}},
		"mass, limit by concentration":    {"pollutant=Cd | result=3 g/day | type=composite", []string{"daily maximum 0.11 mg/L: not compared"}},
		"mass and a flow":                 {"pollutant=Cd | result=3 g/day | flow=10000 L/day | type=composite", []string{"daily maximum 0.11 mg/L: over"}},
		"no limit on it":                  {"pollutant=Au | result=3 mg/L | type=composite", nil},
	} {
		t.Run(name, func(t *testing.T) {
			for _, treatment := range []discharge.Treatment{discharge.AtZero, discharge.AtHalf, discharge.AtReportingLimit} {
				set := resultsOf(t, "2026-06-30", treatment, sewerShop+"sample 2026-03-04 | sample=S1 | point=O1 | "+c.sample)
				require.Len(t, set.Results, 1)
				assert.Equal(t, c.want, verdicts(set.Results[0].Against), "%s", treatment)
			}
		})
	}
}

func TestLimitsOnMassNeedTheFlow(t *testing.T) {
	rows := sewerShop + `
limit - | point=O1 | pollutant=Ni | rule=daily maximum | basis=mass per day | document=permit | value=12 g/day
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=1.1 mg/L | type=composite | flow=12000 L/day
sample 2026-03-05 | sample=S2 | point=O1 | pollutant=Ni | result=1.1 mg/L | type=composite
sample 2026-03-06 | sample=S3 | point=O1 | pollutant=Ni | result=1.0 mg/L | type=composite | flow=12000 L/day
`
	set := resultsOf(t, "2026-06-30", 0, rows)
	require.Len(t, set.Results, 3)
	assert.Equal(t, []string{"daily maximum 3.98 mg/L: not over", "daily maximum 12 g/day: over"}, verdicts(set.Results[0].Against))
	assert.Equal(t, []string{"daily maximum 3.98 mg/L: not over", "daily maximum 12 g/day: not compared"}, verdicts(set.Results[1].Against))
	assert.Contains(t, set.Results[1].Against[1].Why, "no flow is recorded")
	assert.Equal(t, []string{"daily maximum 3.98 mg/L: not over", "daily maximum 12 g/day: not over"}, verdicts(set.Results[2].Against))
	assert.InDelta(t, 13.2/24, set.Days[0].Mass.Is().GramsPerHour(), 1e-9)
}

func TestLimitsAreThoseOfTheDay(t *testing.T) {
	rows := sewerShop + `
limit -..2026-03-31 | point=O1 | pollutant=Cu | rule=instantaneous maximum | basis=concentration | document=permit | value=2 mg/L
limit 2026-04-01 | point=O1 | pollutant=Cu | rule=instantaneous maximum | basis=concentration | document=permit | value=1 mg/L
sample 2026-03-31 | sample=S1 | point=O1 | pollutant=Cu | result=1.5 mg/L | type=grab
sample 2026-04-01 | sample=S2 | point=O1 | pollutant=Cu | result=1.5 mg/L | type=grab
sample 2026-04-02 | sample=S3 | point=O1 | pollutant=Cu | result=0.5 mg/L | type=composite
`
	set := resultsOf(t, "2026-06-30", 0, rows)
	assert.Equal(t, "instantaneous maximum 2 mg/L: not over", verdicts(set.Results[0].Against)[0])
	assert.Equal(t, "instantaneous maximum 1 mg/L: over", verdicts(set.Results[1].Against)[0])
	assert.Equal(t, "instantaneous maximum 1 mg/L: not compared", verdicts(set.Results[2].Against)[0], "a composite does not show the highest hour")
}

func TestTheValueOfADay(t *testing.T) {
	for name, c := range map[string]struct {
		samples string
		want    float64
		entries int
		verdict exposure.ResultVerdict
	}{
		"composite before grabs": {"Ni 3.0 mg/L composite; Ni 9.0 mg/L grab; Ni 5.0 mg/L composite", 4.0, 2, exposure.ResultOver},
		"grabs where they are all": {
			"Ni 3.0 mg/L grab; Ni 4.96 mg/L grab", 3.98, 2, exposure.ResultNotOver,
		},
		"grabs before a composite of cyanide":   {"CN total 0.3 mg/L grab; CN total 9 mg/L composite", 0.3, 1, exposure.ResultNotOver},
		"non-detects at their reporting limits": {"Cd <0.1 mg/L composite; Cd 0.1 mg/L composite", 0.1, 2, exposure.ResultNotOver},
		"over by non-detects alone":             {"Cd <0.3 mg/L composite; Cd 0.02 mg/L composite", 0.16, 2, exposure.ResultUndetermined},
		"over whatever they are":                {"Cd <0.01 mg/L composite; Cd 0.3 mg/L composite", 0.155, 2, exposure.ResultOver},
	} {
		t.Run(name, func(t *testing.T) {
			rows := sewerShop
			for i, s := range strings.Split(c.samples, "; ") {
				words := strings.Fields(s)
				n := len(words)
				rows += fmt.Sprintf("sample 2026-03-04 | sample=S%d | point=O1 | pollutant=%s | result=%s | type=%s\n", i, strings.Join(words[:n-3], " "), strings.Join(words[n-3:n-1], " "), words[n-1])
			}
			set := resultsOf(t, "2026-06-30", 0, rows)
			require.Len(t, set.Days, 1)
			assert.InDelta(t, c.want, set.Days[0].Concentration.Is().MilligramsPerLitre(), 1e-9)
			assert.Len(t, set.Days[0].Entries, c.entries)
			require.Len(t, set.Days[0].Against, 1)
			assert.Equal(t, c.verdict, set.Days[0].Against[0].Verdict, set.Days[0].Against[0].Why)
		})
	}
}

func TestTheDeclaredTreatmentSettlesWhatItCan(t *testing.T) {
	rows := sewerShop + `
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Cd | result=<0.2 mg/L | type=composite
sample 2026-03-18 | sample=S2 | point=O1 | pollutant=Cd | result=0.02 mg/L | type=composite
`
	for treatment, want := range map[discharge.Treatment]struct {
		mean    float64
		verdict exposure.ResultVerdict
	}{
		discharge.AtZero:           {0.01, exposure.ResultNotOver},
		discharge.AtHalf:           {0.06, exposure.ResultNotOver},
		discharge.AtReportingLimit: {0.11, exposure.ResultUndetermined},
	} {
		set := resultsOf(t, "2026-06-30", treatment, rows)
		require.Len(t, set.Averages, 1)
		a := set.Averages[0]
		assert.InDelta(t, want.mean, a.Concentration.Is().MilligramsPerLitre(), 1e-9, "%s", treatment)
		require.Len(t, a.Against, 1)
		assert.Equal(t, want.verdict, a.Against[0].Verdict, "%s", treatment)
		assert.NotEmpty(t, a.Against[0].Why)
	}
}

const smallJobShop = `
shop - | name=Shop | regime=us | construction start=1975-03-01 | job shop=yes
point - | point=O1 | body=sewer
tank - | tank=B1 | purpose=plate | plates=Cd
`

func TestSetsOfFourMonitoringDays(t *testing.T) {
	rows := smallJobShop
	for i, value := range []string{"0.5", "0.7", "0.8", "0.8", "0.9", "0.2", "1.0"} { // the first four come to 0.7
		rows += fmt.Sprintf("sample 2026-0%d-10 | sample=S%d | point=O1 | pollutant=Cd | result=%s mg/L | type=composite\n", i/2+1, i, value)
		if i%2 == 1 {
			rows = strings.Replace(rows, fmt.Sprintf("sample 2026-0%d-10 | sample=S%d ", i/2+1, i), fmt.Sprintf("sample 2026-0%d-20 | sample=S%d ", i/2+1, i), 1)
		}
	}
	set := resultsOf(t, "2026-06-30", 0, rows)
	require.Len(t, set.Averages, 2)
	first, rest := set.Averages[0], set.Averages[1]
	assert.Equal(t, chemicals.Period{First: "2026-01-10", Last: "2026-02-20"}, first.Span)
	assert.InDelta(t, 0.7, first.Concentration.Is().MilligramsPerLitre(), 1e-12)
	assert.Equal(t, []string{"four-day average 0.7 mg/L: not over"}, verdicts(first.Against), "0.7 is not over 0.7, in binary either")
	assert.True(t, first.Ended)
	assert.Len(t, rest.Days, 3, "the remainder is a three-day average")
	assert.False(t, rest.Ended)
	assert.Equal(t, []string{"four-day average 0.7 mg/L: not over"}, verdicts(rest.Against))
	assert.Contains(t, fmt.Sprint(rest.Concentration.Caveats()), "an average of 3 instead of 4 monitoring days")
}

// Whatever the days, each is in one set, no set but the last is of other than
// four, and the sets follow each other.
func TestSetsOfFourDoNotOverlap(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		days := rapid.SliceOfNDistinct(rapid.IntRange(1, 300), 1, 30, rapid.ID[int]).Draw(r, "days")
		rows := smallJobShop
		for i, d := range days {
			rows += fmt.Sprintf("sample %s | sample=S%d | point=O1 | pollutant=Cd | result=0.4 mg/L | type=composite\n", chemicals.Day("2025-07-01").Add(d), i)
		}
		set := resultsOf(t, "2026-06-30", 0, rows)
		seen, last := 0, chemicals.Day("")
		for i, a := range set.Averages {
			if i < len(set.Averages)-1 {
				assert.Len(t, a.Days, 4)
			}
			assert.Less(t, last, a.Span.First)
			seen, last = seen+len(a.Days), a.Span.Last
		}
		assert.Equal(t, len(days), seen)
	})
}

func TestMonthlyAverages(t *testing.T) {
	set := resultsOf(t, "2026-03-20", 0, sewerShop+`
sample 2026-02-27 | sample=S1 | point=O1 | pollutant=Ni | result=3.0 mg/L | type=composite
sample 2026-03-04 | sample=S2 | point=O1 | pollutant=Ni | result=2.0 mg/L | type=composite
sample 2026-03-05 | sample=S3 | point=O1 | pollutant=Ni | result=3.0 mg/L | type=composite | by=authority
`)
	require.Len(t, set.Averages, 2)
	assert.Equal(t, []string{"monthly average 2.38 mg/L: over"}, verdicts(set.Averages[0].Against), "one sample of a month is its average")
	assert.True(t, set.Averages[0].Ended)
	assert.Equal(t, []string{"monthly average 2.38 mg/L: not over"}, verdicts(set.Averages[1].Against), "the authority's sample is not the shop's")
	assert.False(t, set.Averages[1].Ended)
	assert.Contains(t, fmt.Sprint(set.Averages[1].Concentration.Caveats()), "the month is not over on 2026-03-20")
}

func TestTotalMetalsAreSummed(t *testing.T) {
	rows := strings.Replace(smallJobShop, "plates=Cd", "plates=Ni", 1) + `
answer - | question=process water over 38000 L a day | answer=yes
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Cu | result=4.0 mg/L | type=composite
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=4.0 mg/L | type=composite
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Cr | result=<0.5 mg/L | type=composite
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Zn | result=2.2 mg/L | type=composite
sample 2026-03-11 | sample=S2 | point=O1 | pollutant=Zn | result=2.2 mg/L | type=composite
`
	set := resultsOf(t, "2026-06-30", 0, rows)
	for _, d := range set.Days {
		if d.Pollutant == exposure.LimitTotalMetals {
			assert.InDelta(t, 10.7, d.Concentration.Is().MilligramsPerLitre(), 1e-9)
			assert.Equal(t, []string{"daily maximum 10.5 mg/L: undetermined"}, verdicts(d.Against), "10.2 without the non-detect")
		}
	}
	assert.Contains(t, gapTexts(set.Gaps), "point O1: total metals are not known on 1 days, first on 2026-03-11: not each of Cu, Ni, Cr and Zn has a result")
}

func TestRowsOfOneSampleAreNamedOnce(t *testing.T) {
	rows := sewerShop + `
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=1.0 mg/L
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=1.1 mg/L
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Zn | result=1.0 mg/L
sample 2026-03-04 | sample=S2 | point=O1 | pollutant=Zn | result=1.0 mg/L
`
	const untyped = "the book does not say whether it was a grab or a composite"
	var got []exposure.Gap
	for _, g := range resultsOf(t, "2026-06-30", 0, rows).Gaps {
		if strings.HasPrefix(g.Where, "sample ") {
			got = append(got, g)
		}
	}
	assert.Equal(t, []exposure.Gap{
		{Where: "sample S1, Ni", What: "it stands twice, in entry 4 as 1.0 mg/L and in entry 5 as 1.1 mg/L; both count", Mend: "withdraw the wrong one, or give a second sample a number of its own", Entry: 5},
		{Where: "sample S1, Ni, Zn", What: untyped, Mend: "record type", Entry: 4},
		{Where: "sample S2, Zn", What: untyped, Mend: "record type", Entry: 7},
	}, got)
}

// Whatever is wrong with the rows, no text stands twice.
func TestNoGapStandsTwice(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		rows := sewerShop
		for range rapid.IntRange(1, 8).Draw(r, "rows") {
			rows += fmt.Sprintf("sample 2026-03-0%d | sample=S%d | point=%s | pollutant=%s | result=%s%s\n", rapid.IntRange(4, 5).Draw(r, "day"), rapid.IntRange(1, 2).Draw(r, "sample"),
				rapid.SampledFrom([]string{"O1", "O2"}).Draw(r, "point"), rapid.SampledFrom([]string{"Ni", "Zn", "CN"}).Draw(r, "pollutant"),
				rapid.SampledFrom([]string{"1.0 mg/L", "ND", "<9 mg/L"}).Draw(r, "result"), rapid.SampledFrom([]string{"", " | type=grab", " | analysed=2026-03-01"}).Draw(r, "more"))
		}
		seen := map[string]bool{}
		for _, text := range gapTexts(resultsOf(t, "2026-06-30", 0, rows).Gaps) {
			require.False(r, seen[text], text)
			seen[text] = true
		}
	})
}

func gapTexts(gaps []exposure.Gap) []string {
	var all []string
	for _, g := range gaps {
		all = append(all, g.Where+": "+g.What)
	}
	return all
}

func TestSharesOfNoncompliance(t *testing.T) {
	rows := sewerShop + `
sample 2025-12-30 | sample=S0 | point=O1 | pollutant=Ni | result=9.0 mg/L | type=composite
sample 2026-01-15 | sample=S1 | point=O1 | pollutant=Ni | result=5.0 mg/L | type=composite
sample 2026-02-15 | sample=S2 | point=O1 | pollutant=Ni | result=1.0 mg/L | type=composite
sample 2026-03-15 | sample=S3 | point=O1 | pollutant=Ni | result=1.0 mg/L | type=composite | by=authority
`
	set := resultsOf(t, "2026-06-30", 0, rows)
	var daily, monthly exposure.ResultShare
	for _, s := range set.Shares {
		require.NoError(t, s.Fault)
		switch s.Limit.Rule {
		case chemicals.DailyMaximum:
			daily = s
		case chemicals.MonthlyAverage:
			monthly = s
		}
	}
	assert.Equal(t, chemicals.Period{First: "2026-01-01", Last: "2026-06-30"}, daily.Window)
	assert.Equal(t, 3, daily.Results)
	assert.Equal(t, 1, daily.Authority)
	assert.True(t, daily.Shares.Technical.Is(), "one of three reaches 33 %")
	assert.False(t, daily.Shares.Chronic.Is())
	assert.Equal(t, 2, monthly.Results)
	assert.Equal(t, 1, monthly.Shares.Over)
}

func TestTheStricterLimitIsCountedFromItsDay(t *testing.T) {
	rows := sewerShop + `
limit 2026-03-01 | point=O1 | pollutant=Ni | rule=daily maximum | basis=concentration | document=permit | value=1.0 mg/L
sample 2026-02-15 | sample=S1 | point=O1 | pollutant=Ni | result=2.0 mg/L | type=composite
sample 2026-03-15 | sample=S2 | point=O1 | pollutant=Ni | result=2.0 mg/L | type=composite
`
	for _, s := range resultsOf(t, "2026-06-30", 0, rows).Shares {
		if s.Limit.Rule == chemicals.DailyMaximum {
			require.NoError(t, s.Fault)
			assert.Equal(t, "1.0 mg/L", s.Limit.Text)
			assert.Equal(t, 2, s.Shares.Results)
			assert.Equal(t, 1, s.Shares.Over)
		}
	}
}

func TestWhatWasDue(t *testing.T) {
	rows := sewerShop + `
monitoring 2026-02-10 | point=O1 | pollutant=nickel | every=month | sample type=composite
monitoring 2026-01-01..2026-04-15 | point=O1 | pollutant=Zn | every=month | sample type=grab
monitoring 2026-04-16 | point=O1 | pollutant=Zn | every=month | sample type=composite
monitoring 2026-01-01 | point=O1 | pollutant=Cu | every=quarter
sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=1.0 mg/L | type=grab
sample 2026-04-04 | sample=S2 | point=O1 | pollutant=Ni | result=1.0 mg/L | type=composite | by=authority
sample 2026-04-04 | sample=S3 | point=O1 | pollutant=Zn | result=1.0 mg/L | type=grab
sample 2026-05-31 | sample=S4 | point=O1 | pollutant=Cu | result=1.0 mg/L | type=composite
`
	set := resultsOf(t, "2026-06-15", 0, rows)
	var got []string
	for _, d := range set.Due {
		got = append(got, fmt.Sprintf("%s %s: %d, %d of another type, %d of the authority's", d.Pollutant, d.Span, len(d.Samples), len(d.WrongType), len(d.Authority)))
	}
	assert.Equal(t, []string{
		"Cu 2026-01-01 to 2026-03-31: 0, 0 of another type, 0 of the authority's",
		"Ni 2026-03-01 to 2026-03-31: 1, 1 of another type, 0 of the authority's",
		"Ni 2026-04-01 to 2026-04-30: 0, 0 of another type, 1 of the authority's",
		"Ni 2026-05-01 to 2026-05-31: 0, 0 of another type, 0 of the authority's",
		"Zn 2026-01-01 to 2026-01-31: 0, 0 of another type, 0 of the authority's",
		"Zn 2026-02-01 to 2026-02-28: 0, 0 of another type, 0 of the authority's",
		"Zn 2026-03-01 to 2026-03-31: 0, 0 of another type, 0 of the authority's",
		"Zn 2026-04-01 to 2026-04-30: 1, 1 of another type, 0 of the authority's",
		"Zn 2026-05-01 to 2026-05-31: 0, 0 of another type, 0 of the authority's",
	}, got)
	assert.Contains(t, gapTexts(set.Gaps), "monitoring of nickel at O1: no sample found for the month of 2026-04-01 to 2026-04-30; the authority took one, entry 9")
}

func TestDueByWeekAndByDay(t *testing.T) {
	rows := sewerShop + `
monitoring 2026-06-01 | point=O1 | pollutant=Ni | every=week
monitoring 2026-06-01 | point=O1 | pollutant=pH | every=day
work 2026-06-01 | cycle=C
work 2026-06-02 | cycle=C
work 2026-06-02 | cycle=C
sample 2026-06-07 | sample=S1 | point=O1 | pollutant=Ni | result=1.0 mg/L | type=composite
sample 2026-06-02 | sample=S2 | point=O1 | pollutant=pH | result=7.5 | type=grab
`
	var got []string
	for _, d := range resultsOf(t, "2026-06-16", 0, rows).Due {
		got = append(got, fmt.Sprintf("%s %s %t", d.Pollutant, d.Span, d.Missed()))
	}
	assert.Equal(t, []string{
		"Ni 2026-06-01 to 2026-06-07 false", "Ni 2026-06-08 to 2026-06-14 true",
		"pH 2026-06-01 to 2026-06-01 true", "pH 2026-06-02 to 2026-06-02 false",
	}, got)
}

func TestBadSamples(t *testing.T) {
	const good = "sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Ni | result=1.0 mg/L | type=composite\n"
	for name, c := range map[string]struct{ rows, want string }{
		"twice":                 {good + good, "sample S1, Ni: it stands twice, in entry 4 as 1.0 mg/L and in entry 5 as 1.0 mg/L; both count"},
		"one number, two days":  {good + "sample 2026-03-05 | sample=s1 | point=O1 | pollutant=Zn | result=1.0 mg/L | type=composite", "sample s1, Zn: entry 4 has the same sample number for 2026-03-04 at O1"},
		"wrong type":            {strings.Replace(good, "composite", "grab", 1), "sample S1, Ni: a grab was taken, and a composite is asked for"},
		"cyanide by composite":  {strings.Replace(good, "=Ni", "=CN total", 1), "sample S1, CN total: a composite was taken, and a grab is asked for"},
		"no type":               {strings.Replace(good, " | type=composite", "", 1), "sample S1, Ni: the book does not say whether it was a grab or a composite"},
		"plain cyanide":         {strings.Replace(good, "=Ni", "=CN", 1), `sample S1, CN: "CN" does not say whether total, amenable or free cyanide is meant; it is compared with the same words only`},
		"unknown pollutant":     {strings.Replace(good, "=Ni", "=colour", 1), `sample S1, colour: "colour" is no pollutant that the tables know; it is compared with the same words only`},
		"a metal in °C":         {strings.Replace(good, "1.0 mg/L", "7 °C", 1), `sample S1, Ni: "7 °C" is no result on Ni`},
		"a pH of -1":            {"sample 2026-03-04 | sample=S1 | point=O1 | pollutant=pH | result=-1 | type=grab", "sample S1, pH: a pH of -1 is outside 0 to 14"},
		"ND alone":              {strings.Replace(good, "1.0 mg/L", "ND", 1), "sample S1, Ni: not detected, and no reporting limit is recorded"},
		"reporting limit high":  {strings.Replace(good, "1.0 mg/L", "<3 mg/L", 1), "sample S1, Ni: the reporting limit 3 mg/L is over the monthly average of 2.38 mg/L"},
		"detection over report": {strings.TrimSpace(good) + " | reporting limit=0.01 mg/L | detection limit=0.02 mg/L", "sample S1, Ni: the detection limit 0.02 mg/L is over the reporting limit 0.01 mg/L"},
		"analysed before":       {strings.TrimSpace(good) + " | analysed=2026-03-03", "sample S1, Ni: it was analysed on 2026-03-03, before it was taken on 2026-03-04"},
		"received before":       {strings.TrimSpace(good) + " | received=2026-03-03 10:00", "sample S1, Ni: its result was received on 2026-03-03, before it was taken on 2026-03-04"},
		"received before analysed": {
			strings.TrimSpace(good) + " | analysed=2026-03-09 | received=2026-03-08", "sample S1, Ni: its result was received on 2026-03-08, before it was analysed on 2026-03-09",
		},
		"before the point": {"point 2026-03-05 | point=O2 | body=sewer\nsample 2026-03-04 | sample=S1 | point=O2 | pollutant=Ni | result=9 mg/L | type=composite", "sample S1, Ni: point O2 was not there on 2026-03-04 by the book"},
		"limit of another kind": {
			"limit - | point=O1 | pollutant=temperature | rule=maximum | basis=concentration | document=permit | value=6 mg/L", `limit on temperature at O1: "6 mg/L" is no limit on temperature`,
		},
		"limit on the wrong basis": {
			"limit - | point=O1 | pollutant=Ni | rule=daily maximum | basis=mass per day | document=permit | value=6 mg/L", "limit on Ni at O1: entry 4 calls its basis mass per day, and its value is on concentration",
		},
		"limits without samples": {good, "point O1: no result in the period of what has limits there: Ag, CN total, Cd, Cr, Cu, Pb, TTO, Zn"},
		"notice about nothing":   {"notice 2026-03-05 | to=authority | about=S9", `notice of 2026-03-05: it is about "S9", which is no sample, incident or paper of the book`},
		"notice before the sample": {
			good + "notice 2026-03-01 | to=authority | about=S1", "notice of 2026-03-01: sample S1 was taken on 2026-03-04, after it; the notice closes no clock",
		},
		"incident to nowhere": {"incident 2026-03-05 | incident=I1 | what=spill", "incident I1: the book does not say where it went; whether notice was due at once is not known"},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Contains(t, gapTexts(resultsOf(t, "2026-06-30", 0, sewerShop+c.rows).Gaps), c.want)
		})
	}
}

func TestAMissingFactLeavesTheLimitsOfBothReadings(t *testing.T) {
	rows := strings.Replace(sewerShop, " | construction start=1995-03-01 | job shop=yes", " | job shop=no", 1) +
		"sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Cd | result=0.2 mg/L | type=composite | received=2026-03-10 09:00"
	set := resultsOf(t, "2026-06-30", 0, rows)
	assert.Equal(t, []string{"daily maximum 0.11 mg/L: over", "daily maximum 0.69 mg/L: not over"}, verdicts(set.Results[0].Against))
	assert.Equal(t, []string{"construction began after the day that parts new sources"}, set.Results[0].Against[0].Limit.If)
	assert.False(t, set.Results[0].Against[0].Limit.Strictest)
	require.NotEmpty(t, set.Clocks)
	assert.Contains(t, fmt.Sprint(set.Clocks[0].Caveats), "the limit binds only if construction began after the day that parts new sources")
	both := resultsOf(t, "2026-06-30", 0, strings.Replace(rows, "0.2 mg/L", "0.7 mg/L", 1))
	assert.NotContains(t, fmt.Sprint(both.Clocks[0].Caveats), "binds only if", "it is over the limits of either reading")
	assert.Contains(t, gapTexts(set.Gaps), "point O1: which federal limits bind is not settled: the book does not say when construction began")
	assert.Empty(t, set.Shares, "no limit on cadmium binds in both readings")
}

// For every result and limit: a greater result never has a better verdict.
func TestVerdictsRiseWithTheResult(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		low := rapid.IntRange(1, 500).Draw(r, "low")
		high := low + rapid.IntRange(0, 500).Draw(r, "more")
		verdict := func(micrograms int) exposure.ResultVerdict {
			set := resultsOf(t, "2026-06-30", 0, sewerShop+fmt.Sprintf("sample 2026-03-04 | sample=S1 | point=O1 | pollutant=Cd | result=%d µg/L | type=composite", micrograms))
			return set.Results[0].Against[0].Verdict
		}
		if verdict(low) == exposure.ResultOver {
			assert.Equal(t, exposure.ResultOver, verdict(high))
		}
		assert.Equal(t, low > 110, verdict(low) == exposure.ResultOver)
	})
}

// BenchmarkResults is a year of monthly samples of eight pollutants.
func BenchmarkResults(b *testing.B) {
	rows := strings.Builder{}
	rows.WriteString(sewerShop)
	for month := 1; month <= 12; month++ {
		for i, p := range []string{"Cd", "Cr", "Cu", "Pb", "Ni", "Ag", "Zn", "CN total"} {
			fmt.Fprintf(&rows, "sample 2025-%02d-10 | sample=S%d | point=O1 | pollutant=%s | result=0.0%d mg/L | type=composite | received=2025-%02d-20 10:00\n", month, month, p, i+1, month)
		}
	}
	t := &testing.T{}
	shop, set := shopOf(t, "2025-12-31", rows.String()), tables(t)
	b.ReportAllocs()
	for b.Loop() {
		if got := exposure.ResultsOf(shop, set, flowOf(12000), 0); len(got.Results) != 96 {
			b.Fatalf("got %d results, want 96", len(got.Results))
		}
	}
}

// Whatever stands in the rows, each result has a verdict on each limit of its
// day that binds single results or days, and only figures that are over start
// clocks.
func TestAnyRowsAreAnswered(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		rows := rapid.SampledFrom([]string{sewerShop, smallJobShop, strings.Replace(sewerShop, "regime=us", "regime=eu", 1), "point - | point=O1 | body=sewer\n", "point 2026-02-01..2026-03-01 | point=O1 | body=stream\n"}).Draw(r, "shop")
		for i := range rapid.IntRange(0, 12).Draw(r, "samples") {
			pick := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(r, name) }
			pollutant, result := pick("pollutant", "Cd", "Cu", "Ni", "Cr", "Zn", "pH", "CN", "total metals", "temperature"), "7.1"
			if pollutant != "pH" {
				result = pick("result", "0.5 mg/L", "<2 mg/L", "ND", "9 mg/L", "3 g/day", "50 °C", "100000 kg/day")
			}
			rows += fmt.Sprintf("sample 2026-0%d-1%d | sample=S%d | point=O1 | pollutant=%s | result=%s", rapid.IntRange(1, 6).Draw(r, "month"), rapid.IntRange(0, 3).Draw(r, "day"), i/2, pollutant, result)
			rows += pick("type", "", " | type=grab", " | type=composite") + pick("by", "", " | by=authority") + pick("flow", "", " | flow=12000 L/day", " | flow=0 L/day", " | flow=10000000 L/min") + pick("received", "", " | received=2026-05-01", " | analysed=2026-01-01") + "\n"
		}
		treatment := rapid.SampledFrom([]discharge.Treatment{discharge.AtZero, discharge.AtHalf, discharge.AtReportingLimit}).Draw(r, "treatment")
		set := resultsOf(t, "2026-06-30", treatment, rows)
		for _, result := range set.Results {
			for _, a := range result.Against {
				assert.NotZero(t, a.Verdict)
				assert.True(t, a.Verdict == exposure.ResultOver || a.Verdict == exposure.ResultNotOver || a.Why != "", "%v", a)
			}
		}
		for _, c := range set.Clocks {
			assert.NotZero(t, c.State)
			assert.NotEmpty(t, c.Says())
			assert.NotEmpty(t, c.Over)
		}
		for _, s := range set.Shares {
			assert.LessOrEqual(t, s.Authority, s.Results)
		}
	})
}
