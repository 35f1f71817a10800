package pdf

import (
	"fmt"
	"math"
	"strings"

	"bathwarden/reports/doc"
)

func day(year, month, day int) doc.Date { return doc.Date{Year: year, Month: month, Day: day} }

func figure(v float64) doc.Number { return doc.Number{Is: v, Decimals: 2} }

// effluent is a year of samples with an estimate for each working day: two not
// found, one beyond the limit, which fell in October.
func effluent(code, book int) doc.Chart {
	c := doc.Chart{
		Name: "nickel", Title: "Samples and estimate", Axis: "Nickel at the outfall, total", Unit: "mg/L",
		Cites: []int{book}, First: day(2025, 4, 1), Last: day(2026, 3, 31),
		Dots: []doc.Dots{{Name: "sample"}},
		Steps: []doc.Steps{
			{Name: "daily maximum", Levels: []doc.Level{{Value: figure(3.98)}, {From: day(2025, 10, 1), Value: figure(2.38)}}, Cites: []int{code}},
			{Name: "monthly average", Levels: []doc.Level{{Value: figure(1.5)}}, Cites: []int{code}},
		},
		Bands: []doc.Band{{Name: "estimate from the work"}},
	}
	for month, v := range []float64{0.61, 1.02, 1.1, 0.05, 0.22, 0.12, 0.46, 2.61, 1.08, 0.31, 0.05, 0.14} {
		value := figure(v)
		if value.Below = v == 0.05; v > 2.38 {
			value.Emphasis = doc.Over
		}
		c.Dots[0].Points = append(c.Dots[0].Points, doc.Point{Day: day(2025, 4+month, 9), Value: value})
	}
	for i := range 365 {
		if v := 0.6 + 0.3*math.Sin(float64(i)/20); i%7 < 5 {
			c.Bands[0].Spans = append(c.Bands[0].Spans, doc.Span{From: doc.DayOf(c.First.Count() + i),
				Low: figure(v * 0.6), Likely: figure(v), High: figure(v * 1.7)})
		}
	}
	return c
}

// brass is a line with a counterflow, a rinse whose water serves another, a
// return to the bath, and what is not known.
func brass() doc.Line {
	n := func(v float64, decimals int) doc.Cell { return doc.Number{Is: v, Decimals: decimals, Unit: "L/h"} }
	mains := func(c doc.Cell) []doc.Feed { return []doc.Feed{{Source: "mains", Flow: c}} }
	from := func(number int, c doc.Cell) []doc.Feed { return []doc.Feed{{From: number, Flow: c}} }
	return doc.Line{Name: "line_1", Title: "Line 1, brass", Stations: []doc.Station{
		{Name: "A1", Words: "hot alkaline soak, 250 gal", Purpose: "clean", CarryOn: n(2.1, 1)},
		{Name: "A2", Words: "electrocleaner, 250 gal", Purpose: "electroclean", CarryOn: n(2.1, 1)},
		{Name: "R1", Words: "running rinse", Purpose: "rinse", Rinse: true, Feeds: from(5, n(240, 0)), CarryOn: n(1.9, 1), DrainsTo: "pit W1", Drain: n(240, 0)},
		{Name: "A3", Words: "sulfuric activator", Purpose: "activate", CarryOn: n(1.9, 1)},
		{Name: "R2", Words: "running rinse", Purpose: "rinse", Rinse: true, Feeds: mains(n(240, 0)), CarryOn: doc.Blank{Why: "no film measured"}},
		{Name: "B5", Words: "bright nickel, 300 gal", Purpose: "plate", Feeds: from(7, n(12, 0)), CarryOn: n(1.63, 2), Emphasis: doc.Caution},
		{Name: "R3", Words: "still rinse", Purpose: "rinse", Rinse: true, CarryOn: n(1.63, 2), Feeds: []doc.Feed{{Source: "deionised water", Flow: n(12, 0)}}},
		{Name: "R4", Words: "counterflow, first", Purpose: "rinse", Rinse: true, Feeds: from(9, n(180, 0)), CarryOn: n(1.6, 1), DrainsTo: "pit W2, the nickel side", Drain: n(180, 0)},
		{Name: "R5", Words: "counterflow, last", Purpose: "rinse", Rinse: true, Feeds: mains(doc.Blank{Why: "no meter"}), CarryOn: n(1.6, 1)},
		{Name: "D1", Words: "warm air", Purpose: "dry"},
	}}
}

// hardDrawings are drawings of what no builder should send.
func hardDrawings() []doc.Block {
	long := strings.Repeat("a name that goes on ", 20)
	one := effluent(1, 2)
	one.Title, one.Axis, one.Unit, one.Steps, one.Bands = long, long, "🧪", nil, nil
	one.Dots = []doc.Dots{{Name: "חומצה גפרתית", Points: []doc.Point{{Day: day(2025, 5, 1), Value: doc.Number{Is: 1e200, Emphasis: doc.Over}}}}}
	crowd := doc.Chart{Title: "Crowd"}
	for i := range 80 {
		crowd.Dots = append(crowd.Dots, doc.Dots{Name: fmt.Sprintf("place %d", i), Points: []doc.Point{
			{Day: day(2026, 1, 1+i), Value: doc.Number{Is: float64(i), Emphasis: doc.Caution}}, {Day: day(2026, 1, 1), Value: doc.Number{Is: 3, Below: true}}}})
		crowd.Steps = append(crowd.Steps, doc.Steps{Name: long, Levels: []doc.Level{{Value: figure(float64(-i))}}})
	}
	line := doc.Line{Title: "Three hundred"}
	for i := range 300 {
		s := doc.Station{Name: strings.Repeat("ריש ", 12), Words: "words that go on for longer than a box has room for, though it has room for four lines", Purpose: "rinse again, and once more", Rinse: i%2 == 0, DrainsTo: "pit 🧪", Drain: figure(1e30),
			CarryOn: doc.Number{Is: 1e40, Decimals: 3, Unit: "gal/min"}}
		for _, away := range []int{-7, -2, -1, 0, 1, 1, 2, 3, 1000}[:1+i%5*2] {
			s.Feeds = append(s.Feeds, doc.Feed{From: i + 1 + away, Source: "mains", Flow: figure(5)})
		}
		line.Stations = append(line.Stations, s)
	}
	return []doc.Block{
		one, crowd, line, doc.Chart{}, doc.Chart{Title: "Without figures", Empty: "no sample was taken"}, doc.Line{Title: "No stations", Empty: "nothing"},
		doc.Chart{Dots: []doc.Dots{{}}, Bands: []doc.Band{{}}, Steps: []doc.Steps{{}}}, doc.Line{Stations: make([]doc.Station, 1)},
		doc.Chart{Title: "Equal", Bands: []doc.Band{{Spans: []doc.Span{{From: day(2026, 3, 1)}}}}},
	}
}
