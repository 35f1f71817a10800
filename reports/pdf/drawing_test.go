package pdf

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/reports/doc"
)

func drawDay(t *rapid.T) doc.Date {
	return doc.DayOf(rapid.OneOf(rapid.IntRange(20_000, 20_400), rapid.IntRange(-700_000, 2_900_000)).Draw(t, "day"))
}

func drawFigure(t *rapid.T) doc.Number {
	return doc.Number{Is: rapid.OneOf(rapid.Float64Range(0, 5), rapid.Float64()).Draw(t, "figure"), Decimals: 2, Below: rapid.Bool().Draw(t, "below"), Emphasis: drawEmphasis(t)}
}

func drawSome[T any](t *rapid.T, most int, what string, draw func(*rapid.T) T) []T {
	return rapid.SliceOfN(rapid.Custom(draw), 0, most).Draw(t, what)
}

func drawChart(t *rapid.T) doc.Chart {
	return doc.Chart{
		Title: drawText(t, 8), Axis: drawText(t, 5), Unit: drawText(t, 1), Cites: drawCites(t), Empty: drawText(t, 2),
		Dots: drawSome(t, 3, "dots", func(t *rapid.T) doc.Dots {
			return doc.Dots{Name: drawText(t, 6), Points: drawSome(t, 20, "points", func(t *rapid.T) doc.Point { return doc.Point{Day: drawDay(t), Value: drawFigure(t)} })}
		}),
		Steps: drawSome(t, 3, "steps", func(t *rapid.T) doc.Steps {
			return doc.Steps{Name: drawText(t, 6), Cites: drawCites(t), Levels: drawSome(t, 4, "levels", func(t *rapid.T) doc.Level {
				return doc.Level{From: drawDay(t), Value: drawFigure(t)}
			})}
		}),
		Bands: drawSome(t, 2, "bands", func(t *rapid.T) doc.Band {
			return doc.Band{Name: drawText(t, 6), Spans: drawSome(t, 30, "spans", func(t *rapid.T) doc.Span {
				return doc.Span{From: drawDay(t), To: drawDay(t), Low: drawFigure(t), Likely: drawFigure(t), High: drawFigure(t)}
			})}
		}),
	}
}

func drawFlow(t *rapid.T) doc.Cell {
	return rapid.SampledFrom([]doc.Cell{nil, doc.Blank{}, doc.Blank{Why: "no meter"}, doc.Number{Is: 180, Unit: "L/h"}, doc.Number{Is: 1.25, Decimals: 2, Unit: "gal/min", Cites: []int{3}},
		doc.Number{Is: 1e15, Decimals: 4, Unit: "mL/ft²"}, doc.Text{Is: "by hand, when it looks dirty"}}).Draw(t, "flow")
}

func drawLine(t *rapid.T) doc.Line {
	return doc.Line{Title: drawText(t, 6), Empty: "none", Stations: drawSome(t, 14, "stations", func(t *rapid.T) doc.Station {
		return doc.Station{
			Name: drawText(t, 4), Words: drawText(t, 8), Purpose: drawText(t, 2), Rinse: rapid.Bool().Draw(t, "rinse"), Emphasis: drawEmphasis(t),
			CarryOn: drawFlow(t), DrainsTo: drawText(t, 5), Drain: drawFlow(t),
			Feeds: drawSome(t, 3, "feeds", func(t *rapid.T) doc.Feed {
				return doc.Feed{From: rapid.IntRange(0, 16).Draw(t, "from"), Source: drawText(t, 3), Flow: drawFlow(t)}
			}),
		}
	})}
}

// inked is the area of a word that its letters may cover.
func inked(w word) area {
	size := w.style.millimetres()
	return area{w.x, w.y - 0.73*size, w.x + w.style.width(w.text), w.y + 0.2*size}
}

// requireApart checks that no two words of a drawing meet.
func requireApart(t require.TestingT, strips []strip) {
	for _, s := range strips {
		for _, b := range s.boxes {
			if len(b.inks) == 0 {
				continue
			}
			for i, w := range b.words {
				for _, other := range b.words[:i] {
					require.False(t, inked(w).meets(inked(other)), "%q over %q", w.text, other.text)
				}
			}
		}
	}
}

// requireClear checks that no line and no mark runs through a word.
func requireClear(t require.TestingT, strips []strip) {
	for _, s := range strips {
		for _, b := range s.boxes {
			for _, w := range b.words {
				for _, i := range b.inks {
					ink := area{i.x, i.y, i.x + i.width, i.y + i.height}
					if i.sign != 0 {
						ink = area{i.x - i.width/2, i.y - i.height/2, i.x + i.width/2, i.y + i.height/2}
					}
					require.False(t, i.tone == black && inked(w).meets(ink), "ink %+v through %q", i, w.text)
				}
			}
		}
	}
}

func TestTextsOfDrawingsStandApart(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := &setter{paper: sheetOf(rapid.SampledFrom(sizes).Draw(r, "page"))}
		s.chart(drawChart(r))
		requireApart(r, s.strips)
		s = &setter{paper: s.paper}
		s.line(drawLine(r))
		requireApart(r, s.strips)
		requireClear(r, s.strips)
	})
}

func TestSampleDrawingsAreClear(t *testing.T) {
	for _, page := range sizes {
		s := &setter{paper: sheetOf(page)}
		s.chart(effluent(1, 2))
		s.line(brass())
		requireApart(t, s.strips)
		requireClear(t, s.strips)
	}
}

// placedInks are the inks of a kind, and the plot they are in.
func plotted(c doc.Chart) (*plot, *setter) {
	s := &setter{paper: sheetOf(A4)}
	p := &plot{setter: s, chart: c, axes: c.Axes()}
	p.layOut(p.keys())
	return p, s
}

func TestPointsStandWhereTheirFiguresSay(t *testing.T) {
	c := doc.Chart{First: day(2026, 1, 1), Last: day(2026, 1, 20), Dots: []doc.Dots{{Name: "sample", Points: []doc.Point{
		{Day: day(2026, 1, 1), Value: figure(0)}, {Day: day(2026, 1, 20), Value: figure(10)},
		{Day: day(2026, 1, 10), Value: doc.Number{Is: 5, Below: true}},
	}}}}
	p, _ := plotted(c)
	p.dots()
	var seen []ink
	for _, i := range p.inks {
		if i.tone == black {
			seen = append(seen, i)
		}
	}
	require.Len(t, seen, 3)
	half := (p.right - p.left) / 40 // a day's middle
	assert.InDelta(t, p.left+half, seen[0].x, 1e-9)
	assert.InDelta(t, p.bottom, seen[0].y, 1e-9)
	assert.InDelta(t, p.right-half, seen[1].x, 1e-9)
	assert.InDelta(t, p.top, seen[1].y, 1e-9)
	assert.InDelta(t, (p.top+p.bottom)/2, seen[2].y, 1e-9)
	assert.Equal(t, []rune{'●', '●', '○'}, []rune{seen[0].sign, seen[1].sign, seen[2].sign})
	require.Len(t, p.words, 1)
	assert.Equal(t, "<", p.words[0].text)
}

func TestALimitBreaksOffWhereItDoesNotHold(t *testing.T) {
	c := doc.Chart{First: day(2026, 1, 1), Last: day(2026, 1, 20), Steps: []doc.Steps{{Levels: []doc.Level{
		{To: day(2026, 1, 5), Value: figure(4)}, {From: day(2026, 1, 11), Value: figure(2)}, {From: day(2026, 1, 16), Value: figure(3)},
	}}}}
	p, _ := plotted(c)
	p.steps()
	day := (p.right - p.left) / 20
	var level, upright int
	for _, i := range p.inks {
		if i.width > i.height {
			level++
		} else {
			upright++
			assert.InDelta(t, p.left+15*day, i.x+i.width/2, 1e-9, "the only riser")
		}
	}
	assert.Equal(t, []int{3, 1}, []int{level, upright})
}

func TestDashesGoOnRoundCorners(t *testing.T) {
	var c canvas
	c.path(stroke{thick: 0.5, dash: []float64{3, 1}}, spot{0, 0}, spot{5, 0}, spot{5, 6})
	length := 0.0
	for _, i := range c.inks {
		length += max(i.width, i.height)
	}
	assert.InDelta(t, 9, length, 1e-9, "3 of each 4 along 11, the last piece whole")
	assert.Len(t, c.inks, 4, "the second piece is bent")
}

func TestSignsStandOnTheirMiddle(t *testing.T) {
	for r, g := range signs() {
		assert.True(t, dejavu().has(r), "%q", r)
		i := ink{sign: r, x: 10, y: 20, height: 2}
		x, baseline, points := i.set()
		size := points * 25.4 / 72
		assert.InDelta(t, 10, x+size*(g.left+g.right)/2, 1e-9)
		assert.InDelta(t, 20, baseline-size*(g.top+g.bottom)/2, 1e-9)
		assert.InDelta(t, 2, size*(g.top-g.bottom), 1e-9)
	}
}

func TestRowsBreakWhereNoWaterFlows(t *testing.T) {
	l := doc.Line{Stations: make([]doc.Station, 8)}
	d := &lineSetter{line: l}
	assert.Equal(t, []int{4, 4}, d.breaks(5), "of about the same length")
	l.Stations[3].Feeds = []doc.Feed{{From: 5}}
	assert.Equal(t, []int{5, 3}, d.breaks(5), "stations 4 and 5 stay together")
	d.line.Stations = make([]doc.Station, 300)
	assert.Len(t, d.breaks(6), 50)
}

func TestShortenedNamesStandWholeBelow(t *testing.T) {
	l := brass()
	text := func() string {
		d := blank()
		d.Add(l)
		return squeezed(strings.Join(pageTexts(t, written(t, d, A4)), ""))
	}
	assert.NotContains(t, text(), squeezed("Line 1, brass (in full)"))
	long := "a station whose name is far too long for two lines of a box as narrow as these are"
	l.Stations[2].Name = long
	got := text()
	assert.Contains(t, got, squeezed("Line 1, brass (in full)"))
	assert.Contains(t, got, squeezed(long))
	assert.Contains(t, got, "…")
}

func TestTooManyKeysStandBelowThePlot(t *testing.T) {
	s := &setter{paper: sheetOf(A4)}
	for _, b := range hardDrawings() {
		if c, ok := b.(doc.Chart); ok && c.Title == "Crowd" {
			s.chart(c)
		}
	}
	require.NotEmpty(t, s.strips)
	for _, one := range s.strips {
		assert.Less(t, one.height, s.paper.height/2)
	}
	assert.Greater(t, len(s.strips), 160)
}

func TestDrawingsAreInTheFile(t *testing.T) {
	d := blank()
	d.Add(effluent(1, 2), brass())
	var file bytes.Buffer
	require.NoError(t, Write(&file, d, A4))
	drawn := bytes.Join(pageStreams(t, file.Bytes()), nil)
	for _, sign := range []string{"●", "○", "▶", "◀", "▼"} {
		assert.True(t, bytes.Contains(drawn, utf16Text(sign)), sign)
	}
	assert.NotContains(t, file.String(), "/Subtype /Image", "lines, not a picture")
}

func TestHardDrawingsAreSet(t *testing.T) {
	for _, page := range sizes {
		d := blank()
		d.Add(hardDrawings()...)
		pages := plan(d, sheetOf(page))
		for _, strips := range pages {
			requireApart(t, strips)
			for _, s := range strips {
				requireInside(t, s, sheetOf(page))
			}
		}
		file := written(t, d, page) // which counts the pages
		assert.NotContains(t, strings.ToLower(tool(t, "qpdf", "--check", file)), "warning")
		text := squeezed(strings.Join(pageTexts(t, file), ""))
		for _, want := range []string{"nosamplewastaken", "nothing", "place79"} {
			assert.Contains(t, text, want)
		}
	}
}

func TestNotAFigureIsRefused(t *testing.T) {
	d := blank()
	d.Add(doc.Chart{Dots: []doc.Dots{{Points: []doc.Point{{Day: day(2026, 1, 1), Value: figure(math.NaN())}}}}})
	assert.ErrorContains(t, Write(&bytes.Buffer{}, d, A4), "is not a figure")
}
