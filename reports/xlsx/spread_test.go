package xlsx_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
	"bathwarden/reports/xlsx"
	"bathwarden/reports/xlsx/recalc"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const sentence = "one more rinse tank beside it, which the book does not show, with its room in the line, piping against the work, and a valve that holds the flow; at that flow the water of a stage turns over in 44.0 h"

// manyFigures is a table of n columns of figures, which sets the columns of its
// sheet.
func manyFigures(n int) doc.Table {
	t := doc.Table{Name: "figures", Rows: make([][]doc.Cell, 1)}
	for i := range n {
		t.Columns = append(t.Columns, doc.Column{Name: fmt.Sprintf("f%d", i), Head: "Figure", Numeric: true})
		t.Rows[0] = append(t.Rows[0], doc.Number{Is: float64(1000 + i)})
	}
	return t
}

// needs has a live figure before its long text and one behind.
func needs(long string) doc.Table {
	live := func(v float64) doc.Cell { return doc.Number{Is: v, Live: true} }
	return doc.Table{
		Name: "needs",
		Columns: []doc.Column{
			{Name: "rank", Head: "No.", Numeric: true}, {Name: "twice", Head: "Twice", Numeric: true, Formula: "{thrice}-{rank}"},
			{Name: "what", Head: "What it needs, and what to know"},
			{Name: "thrice", Head: "Thrice", Numeric: true, Formula: "3*{rank}*(LEN({what})>0)"},
		},
		Rows:   [][]doc.Cell{{doc.Number{Is: 1}, live(2), doc.Text{Is: long}, live(3)}, {doc.Number{Is: 2}, live(4), doc.Text{Is: "none"}, live(6)}},
		Totals: [][]doc.Cell{{doc.Blank{}, live(6), doc.Blank{}, live(9)}},
	}
}

func onOneSheet(blocks ...doc.Block) *doc.Document {
	d := doc.New(doc.Head{}, doc.Foot{AsOf: "2026-03-31"}, "ask")
	d.Section(1, "Plan")
	d.Add(blocks...)
	return d
}

// looks is what the XML of a sheet says of its form.
type looks struct {
	widths  []float64
	heights map[int]float64
	merges  map[string]int // by the upper left cell: how many columns
	breaks  []int          // rows that begin a page
}

func form(t require.TestingT, xml string) looks {
	l := looks{heights: map[int]float64{}, merges: map[string]int{}}
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		return v
	}
	for _, m := range regexp.MustCompile(`<col [^>]*?width="([\d.]+)"`).FindAllStringSubmatch(xml, -1) {
		l.widths = append(l.widths, number(m[1]))
	}
	for _, m := range regexp.MustCompile(`<row r="(\d+)"(?:[^>]*? ht="([\d.]+)")?`).FindAllStringSubmatch(xml, -1) {
		l.heights[int(number(m[1]))] = 15
		if m[2] != "" {
			l.heights[int(number(m[1]))] = number(m[2])
		}
	}
	for _, m := range regexp.MustCompile(`<mergeCell ref="([A-Z])(\d+):([A-Z])(\d+)"`).FindAllStringSubmatch(xml, -1) {
		require.Equal(t, m[2], m[4], "cells are merged within a row")
		l.merges[m[1]+m[2]] = int(m[3][0]-m[1][0]) + 1
	}
	for _, m := range regexp.MustCompile(`<brk id="(\d+)" max="16383" man="(?:1|true)"`).FindAllStringSubmatch(xml, -1) {
		l.breaks = append(l.breaks, int(number(m[1]))+1)
	}
	return l
}

func (l looks) across(first, columns int) float64 {
	sum := 0.0
	for _, w := range l.widths[first-1 : first-1+columns] {
		sum += w
	}
	return sum
}

func TestALongTextGoesOnOverFreeColumns(t *testing.T) {
	data := set(t, onOneSheet(manyFigures(11), needs(sentence)))
	l := form(t, part(t, data, "xl/worksheets/sheet2.xml"))
	require.Len(t, l.widths, 11)
	cells, _ := grid(t, data)
	for row := 6; row <= 9; row++ {
		assert.Equal(t, 8, l.merges[fmt.Sprintf("C%d", row)], "row %d: C to J, for K holds the last figure", row)
	}
	assert.Equal(t, "What it needs, and what to know", cells["1 Plan!C6"].Text)
	assert.Equal(t, sentence, cells["1 Plan!C7"].Text)
	assert.Equal(t, "=K7-A7", cells["1 Plan!B7"].Formula)
	assert.Equal(t, "=3*A7*(LEN(C7)>0)", cells["1 Plan!K7"].Formula)
	assert.Equal(t, "=SUM($K$7:$K$8)", cells["1 Plan!K9"].Formula)
	assert.Equal(t, 6, recalc.Check(t, data))

	least := math.Ceil(float64(utf8.RuneCountInString(sentence)) / l.across(3, 8))
	assert.GreaterOrEqual(t, l.heights[7], 15*least, "all of the text is seen")
	assert.LessOrEqual(t, l.heights[7], 15*(least+1), "and no room wasted")
	assert.Equal(t, 15.0, l.heights[6], "the head is one line")
	assert.Equal(t, 15.0, l.heights[8])
}

func TestATableStaysPlainWithoutAGain(t *testing.T) {
	data := set(t, onOneSheet(manyFigures(11), needs("a valve")))
	cells, _ := grid(t, data)
	assert.Equal(t, "=3*A7*(LEN(C7)>0)", cells["1 Plan!D7"].Formula)
	assert.Zero(t, form(t, part(t, data, "xl/worksheets/sheet2.xml")).merges["C7"])

	texts := doc.Table{Name: "texts", Rows: make([][]doc.Cell, 1)}
	for range 4 {
		texts.Columns = append(texts.Columns, doc.Column{Name: "text", Head: "Text"})
		texts.Rows[0] = append(texts.Rows[0], doc.Text{Is: sentence})
	}
	data = set(t, onOneSheet(texts))
	l := form(t, part(t, data, "xl/worksheets/sheet2.xml"))
	assert.Len(t, l.widths, 4, "no column is free")
	assert.Equal(t, map[string]int{"A1": 4}, l.merges, "the title alone")
}

// TestOneLongTextAmongManyIsNotWorthMergedCells saves two lines of 43.
func TestOneLongTextAmongManyIsNotWorthMergedCells(t *testing.T) {
	table := needs("a flow restrictor or a valve")
	for range 40 {
		table.Rows = append(table.Rows, []doc.Cell{doc.Number{Is: 1}, doc.Number{Is: 2, Live: true}, doc.Text{Is: "a valve"}, doc.Number{Is: 3, Live: true}})
	}
	table.Columns[2].Head = "Needs"
	l := form(t, part(t, set(t, onOneSheet(manyFigures(16), table)), "xl/worksheets/sheet2.xml"))
	assert.Greater(t, l.heights[7], 15.0, "the long text wraps")
	assert.Zero(t, l.merges["C7"])
}

// TestTheMiddleOfATableSpreads has the long text before a short one, as the
// working of a figure has.
func TestTheMiddleOfATableSpreads(t *testing.T) {
	working := doc.Table{Name: "working", Columns: []doc.Column{{Name: "of", Head: "Of"}, {Name: "with", Head: "With"}, {Name: "result", Head: "Result"}},
		Rows: [][]doc.Cell{{doc.Text{Is: "B5"}, doc.Text{Is: sentence}, doc.Text{Is: "98 g"}}}}
	data := set(t, onOneSheet(manyFigures(9), working))
	l := form(t, part(t, data, "xl/worksheets/sheet2.xml"))
	cells, _ := grid(t, data)
	require.Greater(t, l.merges["B7"], 4)
	assert.Equal(t, "98 g", cells["1 Plan!"+workbook.Ref(2+l.merges["B7"], 7)].Text)
}

// TestAnyTableSpreads checks that nothing is lost below merged cells, and that
// figures, which do not wrap, have room in the columns they come to.
func TestAnyTableSpreads(t *testing.T) {
	words := rapid.SliceOfN(rapid.SampledFrom(strings.Fields(sentence)), 0, 60)
	rapid.Check(t, func(r *rapid.T) {
		table := doc.Table{Name: "t"}
		figures := rapid.SliceOfN(rapid.Bool(), 1, 12).Draw(r, "figures")
		for i, is := range figures {
			table.Columns = append(table.Columns, doc.Column{Name: fmt.Sprintf("c%d", i), Head: "Head", Numeric: is})
		}
		for range rapid.IntRange(0, 4).Draw(r, "rows") {
			var row []doc.Cell
			for _, is := range figures {
				if is {
					row = append(row, doc.Number{Is: math.Pow(10, float64(rapid.IntRange(0, 14).Draw(r, "size")))})
				} else {
					row = append(row, doc.Text{Is: strings.Join(words.Draw(r, "text"), " ")})
				}
			}
			table.Rows = append(table.Rows, row)
		}
		var out bytes.Buffer
		require.NoError(r, xlsx.Write(&out, onOneSheet(manyFigures(rapid.IntRange(1, 12).Draw(r, "wide")), table)))
		cells, _ := grid(t, out.Bytes())
		l := form(r, part(t, out.Bytes(), "xl/worksheets/sheet2.xml"))
		for i, row := range table.Rows {
			at := 0
			for _, want := range row {
				at++
				ref := workbook.Ref(at, 7+i)
				got := cells["1 Plan!"+ref]
				span := max(1, l.merges[ref])
				switch want := want.(type) {
				case doc.Number:
					assert.Equal(r, workbook.KindNumber, got.Kind)
					assert.Equal(r, 1, span)
					assert.Greater(r, l.widths[at-1], float64(len(want.String())), "%s", ref)
				case doc.Text:
					assert.Equal(r, want.Is, got.Text)
				}
				at += span - 1
			}
			assert.LessOrEqual(r, at, len(l.widths))
		}
	})
}
