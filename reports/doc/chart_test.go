package doc_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/reports/doc"
)

func day(year, month, day int) doc.Date { return doc.Date{Year: year, Month: month, Day: day} }

func figure(v float64) doc.Number { return doc.Number{Is: v, Decimals: 2} }

func points(first doc.Date, values ...float64) doc.Chart {
	d := doc.Dots{Name: "sample"}
	for i, v := range values {
		d.Points = append(d.Points, doc.Point{Day: doc.DayOf(first.Count() + 30*i), Value: figure(v)})
	}
	return doc.Chart{Name: "c", Axis: "Nickel", Unit: "mg/L", Dots: []doc.Dots{d}}
}

func labels(ticks []doc.Tick) []string {
	var all []string
	for _, t := range ticks {
		all = append(all, t.Label)
	}
	return all
}

func TestDaysAreCounted(t *testing.T) {
	for count, d := range map[int]doc.Date{0: day(1970, 1, 1), -1: day(1969, 12, 31), 20543: day(2026, 3, 31), 2932896: day(9999, 12, 31)} {
		assert.Equal(t, count, d.Count())
		assert.Equal(t, d, doc.DayOf(count))
	}
	assert.Equal(t, 2932896, day(1<<40, 12, 31).Count(), "beyond the last day there is none")
}

func TestValueScale(t *testing.T) {
	for name, c := range map[string]struct {
		chart doc.Chart
		title string
		want  []string
	}{
		"from zero":              {points(day(2026, 1, 1), 1.2, 3.98), "Nickel [mg/L]", []string{"0", "1", "2", "3", "4"}},
		"small figures":          {points(day(2026, 1, 1), 0.011, 0.02), "Nickel [mg/L]", []string{"0.000", "0.005", "0.010", "0.015", "0.020"}},
		"just two decades":       {points(day(2026, 1, 1), 0.05, 5), "Nickel [mg/L]", []string{"0", "1", "2", "3", "4", "5"}},
		"over two decades":       {points(day(2026, 1, 1), 0.05, 5.1), "Nickel [mg/L], logarithmic scale", []string{"0.01", "0.1", "1", "10"}},
		"over decades with zero": {points(day(2026, 1, 1), 0, 900), "Nickel [mg/L]", []string{"0", "200", "400", "600", "800", "1000"}},
		"below zero":             {points(day(2026, 1, 1), -7, 24), "Nickel [mg/L]", []string{"-10", "0", "10", "20", "30"}},
		"all below zero":         {points(day(2026, 1, 1), -3, -2), "Nickel [mg/L]", []string{"-3.0", "-2.5", "-2.0", "-1.5", "-1.0", "-0.5", "0.0"}},
		"all equal":              {points(day(2026, 1, 1), 7, 7, 7), "Nickel [mg/L]", []string{"0", "2", "4", "6", "8"}},
		"all zero":               {points(day(2026, 1, 1), 0, 0), "Nickel [mg/L]", []string{"0", "1"}},
		"none":                   {points(day(2026, 1, 1)), "Nickel [mg/L]", []string{"0", "1"}},
		"huge":                   {points(day(2026, 1, 1), 3e20), "Nickel [mg/L]", []string{"0", "5e+19", "1e+20", "1.5e+20", "2e+20", "2.5e+20", "3e+20"}},
	} {
		axes := c.chart.Axes()
		assert.Equal(t, c.want, labels(axes.Ticks), name)
		assert.Equal(t, c.title, axes.Title, name)
	}
}

func TestDayScale(t *testing.T) {
	months := points(day(2025, 4, 9), 1, 1)
	months.First, months.Last = day(2025, 4, 1), day(2026, 3, 31)
	assert.Equal(t, []string{"Apr\n2025", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "Jan\n2026", "Feb", "Mar"}, labels(months.Axes().Days))
	years := points(day(2025, 4, 9), 1, 1)
	years.First = day(2003, 7, 1)
	assert.Equal(t, []string{"2004", "2006", "2008", "2010", "2012", "2014", "2016", "2018", "2020", "2022", "2024"}, labels(years.Axes().Days))
	one := points(day(2026, 3, 2), 1).Axes()
	assert.Equal(t, 13, one.Last-one.First, "one point still has a fortnight")
	assert.Equal(t, "24 Feb\n2026", one.Days[0].Label)
}

func TestPeriodIsWidenedForPointsOnly(t *testing.T) {
	c := points(day(2026, 1, 1), 1, 1)
	c.First, c.Last = day(2026, 1, 10), day(2026, 2, 20)
	c.Steps = []doc.Steps{{Name: "limit", Levels: []doc.Level{{From: day(2001, 1, 1), Value: figure(2)}, {From: day(2026, 2, 1), Value: figure(1)}}}}
	axes := c.Axes()
	assert.Equal(t, day(2026, 1, 1), doc.DayOf(axes.First))
	assert.Equal(t, day(2026, 2, 20), doc.DayOf(axes.Last))
	all := c.Steps[0].Stretches(axes.First, axes.Last)
	require.Len(t, all, 2)
	assert.Equal(t, []int{axes.First, day(2026, 1, 31).Count()}, []int{all[0].First, all[0].Last})
	assert.Equal(t, []int{day(2026, 2, 1).Count(), axes.Last}, []int{all[1].First, all[1].Last})
}

// cells are a table's cells as they are printed.
func cells(t doc.Table) [][]string {
	var all [][]string
	for _, row := range t.Rows {
		var line []string
		for _, c := range row {
			line = append(line, c.String())
		}
		all = append(all, line)
	}
	return all
}

func TestFiguresOfAChart(t *testing.T) {
	c := points(day(2026, 1, 5), 0.6)
	c.First, c.Last = day(2026, 1, 1), day(2026, 1, 31)
	c.Dots[0].Points = append(c.Dots[0].Points,
		doc.Point{Day: day(2026, 1, 5), Value: figure(0.8)}, doc.Point{Day: day(2026, 1, 20), Value: doc.Number{Is: 0.05, Decimals: 2, Below: true, Unit: "mg/L"}})
	c.Steps = []doc.Steps{{Name: "limit", Levels: []doc.Level{{Value: figure(3.98)}, {From: day(2026, 1, 20), Value: figure(2.38)}}}}
	c.Bands = []doc.Band{{Name: "estimate", Spans: []doc.Span{{From: day(2026, 1, 3), To: day(2026, 1, 6), Low: figure(0.1), Likely: figure(0.2), High: figure(0.4)}}}}
	assert.Equal(t, [][]string{
		{"2026-01-01", "", "", "3.98", "", "", ""},
		{"2026-01-03", "", "", "3.98", "0.10", "0.20", "0.40"},
		{"2026-01-05", "0.60", "", "3.98", "0.10", "0.20", "0.40"},
		{"2026-01-05", "0.80", "", "3.98", "0.10", "0.20", "0.40"},
		{"2026-01-06", "", "", "3.98", "0.10", "0.20", "0.40"},
		{"2026-01-07", "", "", "3.98", "", "", ""},
		{"2026-01-19", "", "", "3.98", "", "", ""},
		{"2026-01-20", "", "<0.05", "2.38", "", "", ""},
		{"2026-01-31", "", "", "2.38", "", "", ""},
	}, cells(c.Figures()))
	assert.Equal(t, [][]string{
		{"2026-01-05", "0.60", "0.20 (0.10 to 0.40)", "3.98"},
		{"2026-01-05", "0.80", "0.20 (0.10 to 0.40)", "3.98"},
		{"2026-01-20", "<0.05", "", "2.38"},
	}, cells(c.Summary()))
}

func TestSummaryOfAnEstimateAlone(t *testing.T) {
	c := doc.Chart{Bands: []doc.Band{{Name: "estimate"}}}
	for i := range 90 {
		c.Bands[0].Spans = append(c.Bands[0].Spans, doc.Span{From: doc.DayOf(day(2026, 1, 3).Count() + i), Low: figure(1), Likely: figure(2), High: figure(3)})
	}
	var days []string
	for _, row := range cells(c.Summary()) {
		days = append(days, row[0])
	}
	assert.Equal(t, []string{"2026-01-03", "2026-02-01", "2026-03-01", "2026-04-01"}, days)
	assert.Len(t, c.Figures().Rows, 90)
}

func TestFiguresOfALine(t *testing.T) {
	flow := doc.Number{Is: 180, Unit: "L/h"}
	l := doc.Line{Name: "line_1", Stations: []doc.Station{
		{Name: "B5", Words: "nickel", Purpose: "plate", CarryOn: doc.Number{Is: 1.63, Decimals: 2, Unit: "L/h"}},
		{Name: "R6", Purpose: "rinse", Feeds: []doc.Feed{{From: 3, Flow: flow}, {Source: "mains"}}, DrainsTo: "pit W1", Drain: flow},
		{Name: "R7", Purpose: "rinse", Feeds: []doc.Feed{{Source: "mains", Flow: doc.Blank{Why: "no meter"}}, {From: 9, Flow: flow}}},
	}}
	assert.Equal(t, [][]string{
		{"1", "B5", "nickel", "plate", "", "", "", "", ""},
		{"2", "R6", "", "rinse", "1.63 L/h", "3 R7", "180 L/h", "pit W1", "180 L/h"},
		{"2", "R6", "", "", "", "mains", "", "", ""},
		{"3", "R7", "", "rinse", "", "mains", "not known: no meter", "", ""},
		{"3", "R7", "", "", "", "", "180 L/h", "", ""},
	}, cells(l.Figures()))
}

// drawChart draws charts of any figures and days.
func drawChart(t *rapid.T) doc.Chart {
	anyDay := rapid.Custom(func(t *rapid.T) doc.Date {
		return rapid.SampledFrom([]doc.Date{{}, day(2026, 1, 1), day(2026, 1, 2), day(0, 1, 1), day(9999, 12, 31), day(2026, 14, -3),
			doc.DayOf(rapid.IntRange(-800_000, 3_000_000).Draw(t, "day"))}).Draw(t, "date")
	})
	value := rapid.Custom(func(t *rapid.T) doc.Number {
		return doc.Number{Is: rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 10), rapid.Just(0.0)).Draw(t, "value"), Decimals: 2, Below: rapid.Bool().Draw(t, "below")}
	})
	c := doc.Chart{Unit: "mg/L", First: anyDay.Draw(t, "first"), Last: anyDay.Draw(t, "last")}
	for range rapid.IntRange(0, 2).Draw(t, "dots") {
		c.Dots = append(c.Dots, doc.Dots{Points: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) doc.Point {
			return doc.Point{Day: anyDay.Draw(t, "day"), Value: value.Draw(t, "value")}
		}), 0, 5).Draw(t, "points")})
	}
	c.Steps = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) doc.Steps {
		return doc.Steps{Levels: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) doc.Level {
			return doc.Level{From: anyDay.Draw(t, "from"), To: anyDay.Draw(t, "to"), Value: value.Draw(t, "value")}
		}), 0, 4).Draw(t, "levels")}
	}), 0, 2).Draw(t, "steps")
	c.Bands = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) doc.Band {
		return doc.Band{Spans: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) doc.Span {
			return doc.Span{From: anyDay.Draw(t, "from"), To: anyDay.Draw(t, "to"), Low: value.Draw(t, "low"), Likely: value.Draw(t, "likely"), High: value.Draw(t, "high")}
		}), 0, 4).Draw(t, "spans")}
	}), 0, 2).Draw(t, "bands")
	return c
}

func TestAxesHoldWhatIsDrawn(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := drawChart(r)
		a := c.Axes()
		require.Less(r, a.First, a.Last)
		require.Less(r, a.Low, a.High)
		require.False(r, math.IsInf(a.High-a.Low, 0))
		require.LessOrEqual(r, len(a.Ticks), 13)
		require.GreaterOrEqual(r, len(a.Ticks), 2)
		require.LessOrEqual(r, len(a.Days), 14)
		require.Equal(r, a.Log, a.Low > 0, "a linear scale holds zero")
		for _, d := range c.Dots {
			for _, p := range d.Points {
				require.LessOrEqual(r, a.First, p.Day.Count())
				require.GreaterOrEqual(r, a.Last, p.Day.Count())
				if math.Abs(p.Value.Is) < 1e99 {
					slack := 1e-9 * (a.High - a.Low)
					require.GreaterOrEqual(r, p.Value.Is, a.Low-slack)
					require.LessOrEqual(r, p.Value.Is, a.High+slack)
				}
			}
		}
		for i := 1; i < len(a.Ticks); i++ {
			require.Less(r, a.Ticks[i-1].At, a.Ticks[i].At)
		}
		for _, table := range []doc.Table{c.Figures(), c.Summary()} {
			for _, row := range table.Rows {
				require.Len(r, row, len(table.Columns))
			}
		}
	})
}

// A short chart is widened, but not past the days that there are.
func TestAChartAtTheEndOfTheCalendar(t *testing.T) {
	for _, day := range []doc.Date{{Year: 9999, Month: 12, Day: 31}, {Year: 9999, Month: 12, Day: 28}, {Year: 0, Month: 1, Day: 1}} {
		c := doc.Chart{Name: "c", Bands: []doc.Band{{Name: "b", Spans: []doc.Span{{From: day, Low: doc.Number{Is: 1}, Likely: doc.Number{Is: 1}, High: doc.Number{Is: 1}}}}}}
		for _, row := range c.Figures().Rows {
			year := row[0].(doc.Date).Year
			assert.True(t, year == 0 || year == 9999, "%v", row[0])
		}
	}
}
