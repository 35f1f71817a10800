package pdf

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/reports/doc"
)

// drawText draws words, among them some that are hard to set.
func drawText(t *rapid.T, most int) string {
	words := rapid.SliceOfN(rapid.SampledFrom([]string{
		"nickel", "a", "H₂SO₄", "rinse-water", "of", "the", "chromium(VI)", "🧪", "חומצה", "\n", "≤", "drag-out",
		strings.Repeat("w", 300), "1,2-dichloroethylene/trichloroethylene", "\xff", "for", "tank", "and", "litres",
	}), 0, most).Draw(t, "words")
	return strings.Join(words, " ")
}

func drawEmphasis(t *rapid.T) doc.Emphasis {
	return rapid.SampledFrom([]doc.Emphasis{doc.Normal, doc.Normal, doc.Caution, doc.Over}).Draw(t, "emphasis")
}

func drawCites(t *rapid.T) []int {
	return rapid.SliceOfN(rapid.IntRange(1, 120), 0, 3).Draw(t, "cites")
}

func drawCell(t *rapid.T) doc.Cell {
	switch rapid.IntRange(0, 5).Draw(t, "cell") {
	case 0:
		return doc.Blank{Why: drawText(t, 4)}
	case 1:
		return doc.Date{Year: 2026, Month: 3, Day: 31, Emphasis: drawEmphasis(t)}
	case 2:
		return doc.Text{Is: drawText(t, 12), Emphasis: drawEmphasis(t), Cites: drawCites(t)}
	case 3:
		return doc.Text{}
	}
	return doc.Number{Is: rapid.Float64Range(-1e6, 1e9).Draw(t, "figure"), Decimals: rapid.IntRange(0, 4).Draw(t, "decimals"),
		Unit: rapid.SampledFrom([]string{"", "mg/L"}).Draw(t, "unit"), Emphasis: drawEmphasis(t), Cites: drawCites(t)}
}

func drawTable(t *rapid.T) doc.Table {
	table := doc.Table{Caption: drawText(t, 5), Empty: "none"}
	columns := rapid.IntRange(1, 12).Draw(t, "columns")
	for range columns {
		table.Columns = append(table.Columns, doc.Column{Head: drawText(t, 4), Numeric: rapid.Bool().Draw(t, "numeric"),
			Unit: rapid.SampledFrom([]string{"", "mg/L"}).Draw(t, "unit")})
	}
	drawRows := func(n int) (rows [][]doc.Cell) {
		for range n {
			var row []doc.Cell
			for range columns {
				row = append(row, drawCell(t))
			}
			rows = append(rows, row)
		}
		return rows
	}
	table.Rows = drawRows(rapid.IntRange(0, 30).Draw(t, "rows"))
	table.Totals = drawRows(rapid.IntRange(0, 2).Draw(t, "totals"))
	return table
}

func drawWorking(t *rapid.T) doc.Working {
	w := doc.Working{Title: drawText(t, 4)}
	for range rapid.IntRange(0, 4).Draw(t, "steps") {
		step := doc.Step{Formula: drawText(t, 8), Result: drawText(t, 5), Cite: rapid.IntRange(0, 3).Draw(t, "cite")}
		for range rapid.IntRange(0, 9).Draw(t, "inputs") {
			step.Inputs = append(step.Inputs, doc.StepInput{Symbol: drawText(t, 2), Value: drawText(t, 3), Origin: drawText(t, 5)})
		}
		w.Steps = append(w.Steps, step)
	}
	w.Caveats = rapid.SliceOfN(rapid.Just("the analysis is old"), 0, 3).Draw(t, "caveats")
	return w
}

func drawBlock(t *rapid.T, d *doc.Document) {
	switch rapid.IntRange(0, 12).Draw(t, "block") {
	case 0, 1, 2:
		d.Section(rapid.IntRange(1, 3).Draw(t, "level"), drawText(t, 8))
	case 3:
		d.Add(doc.Paragraph{Text: drawText(t, 120), Emphasis: drawEmphasis(t), Cites: drawCites(t)})
	case 4:
		d.Add(doc.List{Items: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) doc.Text {
			return doc.Text{Is: drawText(t, 30), Cites: drawCites(t)}
		}), 0, 8).Draw(t, "items")})
	case 5:
		d.Add(doc.Fields{Items: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) doc.Field {
			return doc.Field{Label: drawText(t, 3), Value: drawCell(t)}
		}), 0, 9).Draw(t, "fields")})
	case 6, 7:
		d.Add(drawTable(t))
	case 8:
		d.Add(drawWorking(t))
	case 9:
		d.Add(doc.Notice{Title: drawText(t, 5), Text: drawText(t, 60), Emphasis: drawEmphasis(t)})
	case 11:
		d.Add(drawChart(t))
	case 12:
		d.Add(drawLine(t))
	case 10:
		d.Add(doc.SignOff{Statement: drawText(t, 30), Roles: []string{"Prepared by", drawText(t, 3)}})
	}
}

func drawDocument(t *rapid.T) *doc.Document {
	d := blank()
	d.Head.Title = drawText(t, 30)
	d.Add(doc.Contents{})
	for range rapid.IntRange(6, 24).Draw(t, "blocks") {
		drawBlock(t, d)
	}
	return d
}

// TestPlannedPagesAreThePages reads each page's number from the page it is on:
// a page that the library breaks by itself would shift them.
func TestPlannedPagesAreThePages(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		d, page := drawDocument(r), rapid.SampledFrom(sizes).Draw(r, "page")
		planned := len(plan(d, sheetOf(page)))
		var file bytes.Buffer
		require.NoError(r, Write(&file, d, page))
		pages := pageStreams(t, file.Bytes())
		require.Len(r, pages, planned)
		for i, drawn := range pages {
			require.True(r, bytes.Contains(drawn, utf16Text(fmt.Sprintf("Page %d of %d", i+1, planned))), "number on page %d of %d", i+1, planned)
		}
	})
}

func TestPagesAreFull(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		paper := sheetOf(rapid.SampledFrom(sizes).Draw(r, "page"))
		for i, page := range plan(drawDocument(r), paper) {
			require.Equal(r, paper.height, height(page), "height of page %d", i+1)
			requireApart(r, page)
			for _, s := range page {
				requireInside(r, s, paper)
			}
		}
	})
}

// requireInside checks that boxes lie side by side on the page, that words lie
// in their boxes, that runs on a line do not overlap, and the least type.
func requireInside(t require.TestingT, s strip, paper sheet) {
	require.Positive(t, s.height)
	x := 0
	for _, b := range s.boxes {
		require.GreaterOrEqual(t, b.x, x, "box over the one before")
		x = b.x + b.width
		require.LessOrEqual(t, x, paper.width)
		for _, i := range b.inks {
			at := area{i.x, i.y, i.x + i.width, i.y + i.height}
			if i.sign != 0 {
				at = area{i.x - i.width/2, i.y - i.height/2, i.x + i.width/2, i.y + i.height/2}
			}
			require.True(t, at.left >= -0.5 && at.top >= -0.5 && at.right <= mm(b.width)+0.5 && at.bottom <= mm(s.height)+0.5, "ink %+v", i)
		}
		ends := map[string]float64{}
		for _, w := range b.words {
			least := footStyle.size
			require.GreaterOrEqual(t, w.style.size, least)
			require.GreaterOrEqual(t, w.x, -1e-9, w.text)
			end := w.x + w.style.width(w.text)
			require.LessOrEqual(t, end, mm(b.width)+1e-9, w.text)
			require.GreaterOrEqual(t, w.y, w.style.millimetres()-1e-9, w.text)
			require.LessOrEqual(t, w.y, mm(s.height)+1e-9, w.text)
			at := fmt.Sprintf("%.3f", w.y)
			if len(b.inks) == 0 { // those of a drawing come in any order; requireApart sees to them
				require.GreaterOrEqual(t, w.x, ends[at]-1e-9, "%q over the words before it", w.text)
			}
			ends[at] = end
		}
	}
}

func TestHeadingsStayWithTheirText(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := compose(drawDocument(r), sheetOf(A4))
		below := linesOfSections(s.strips)
		found := 0
		for n, page := range s.bodies() {
			for i, one := range page {
				if one.target == 0 {
					continue
				}
				found = one.target
				got := linesOfSections(page[i:])[found]
				require.GreaterOrEqual(r, got, min(2, below[found]), "lines below heading %d on page %d", found, n+1)
			}
		}
		require.Equal(r, s.found, found)
	})
}

// linesOfSections counts the lines between each heading and the next, those of
// a heading that follows at once being lines below it.
func linesOfSections(strips []strip) map[int]int {
	counts, at, text := map[int]int{}, 0, false
	for _, s := range strips {
		if s.target > 0 {
			if !text && at > 0 {
				counts[at] += 2
			}
			at, text = s.target, false
		} else if !s.title && len(s.boxes) > 0 {
			counts[at] += s.lines
			text = true
		}
	}
	return counts
}

func TestTablesRepeatTheirHeads(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := compose(drawDocument(r), sheetOf(Letter))
		for i, page := range s.bodies() {
			require.Empty(r, page[0].again, "page %d starts with a row, without its table's head", i+1)
		}
	})
}

// TestStaysOnOnePage moves blocks down the page line by line, over its end.
func TestStaysOnOnePage(t *testing.T) {
	totals := wide(2, 12)
	totals.Totals = [][]doc.Cell{{doc.Text{Is: "all rows"}, doc.Number{Is: 1}}, {doc.Text{Is: "of which some"}, doc.Number{Is: 1}}}
	cases := map[string]struct {
		block       doc.Block
		first, last string
	}{
		"a sign-off":                 {doc.SignOff{Statement: "I have checked it.", Roles: []string{"Prepared by", "Checked by"}}, "I have checked it.", "Signature"},
		"a step":                     {nickel(1, 2), "c(Ni) = c(salt) · x", "c(Ni) = 67.0 g/L"},
		"a short notice":             {doc.Notice{Title: "Title", Text: "one\ntwo\nthree"}, "Title", "three"},
		"the total and the last row": {totals, "words r11c0", "all rows"},
		"a table's head and rows":    {totals, "Head 0", "words r1c0"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			moved := false
			for lines := range 60 {
				d := blank()
				d.Add(doc.Paragraph{Text: strings.Repeat("line\n", lines)}, c.block)
				at := pagesOf(plan(d, sheetOf(A4)))
				require.NotEmpty(t, at[c.first])
				require.NotEmpty(t, at[c.last])
				first, last := at[c.first][0], at[c.last][len(at[c.last])-1]
				require.Equal(t, first, last, "after %d lines", lines)
				moved = moved || first > 0
			}
			assert.True(t, moved, "it never came to the end of a page")
		})
	}
}

// pagesOf gives the pages on which each text stands.
func pagesOf(pages [][]strip) map[string][]int {
	at := map[string][]int{}
	for i, page := range pages {
		for _, s := range page {
			for _, b := range s.boxes {
				for _, w := range b.words {
					at[w.text] = append(at[w.text], i)
				}
			}
		}
	}
	return at
}

func TestHandOverCountsThePages(t *testing.T) {
	paper := sheetOf(A4)
	half := strip{height: paper.height * 2 / 3}
	_, err := handOver(paper, [][]strip{{half, half}}, titles{title: "x"})
	assert.EqualError(t, err, "1 pages were planned and 2 written; print it as text or as a workbook")
}

func TestShownWithoutColour(t *testing.T) {
	s := &setter{paper: sheetOf(A4)}
	for e, mark := range map[doc.Emphasis]string{doc.Caution: "!", doc.Over: "▲"} {
		for _, c := range []doc.Cell{doc.Text{Is: "x", Emphasis: e}, doc.Number{Emphasis: e}, doc.Date{Emphasis: e}} {
			text, _ := s.cell(c, tableStyle)
			require.Len(t, text, 1)
			assert.Equal(t, mark+" "+c.String(), text[0].text)
			assert.True(t, text[0].style.bold)
		}
	}
	assert.True(t, dejavu().has('▲'))
}
