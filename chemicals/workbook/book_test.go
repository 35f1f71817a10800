package workbook_test

import (
	"archive/zip"
	"bytes"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"bathwarden/chemicals/workbook"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var march = time.Date(2026, 3, 31, 0, 0, 0, 0, time.UTC)

func props() workbook.Props {
	return workbook.Props{Title: "Stock & store", Creator: "Fernhollow Finishing", Program: "bathwarden test", Day: march}
}

// build writes a workbook with fill and gives its bytes.
func build(t testing.TB, fill func(b *workbook.Book)) []byte {
	t.Helper()
	b, err := workbook.New(props())
	require.NoError(t, err)
	defer b.Close()
	fill(b)
	var out bytes.Buffer
	require.NoError(t, b.Write(&out))
	return out.Bytes()
}

func sheet(t testing.TB, b *workbook.Book, name string) *workbook.Sheet {
	t.Helper()
	s, err := b.Sheet(name)
	require.NoError(t, err)
	return s
}

func read(t testing.TB, data []byte) *workbook.File {
	t.Helper()
	f, err := workbook.Read(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	return f
}

func rows(t testing.TB, w *workbook.Worksheet) []workbook.Row {
	t.Helper()
	var all []workbook.Row
	for row, err := range w.Rows() {
		require.NoError(t, err)
		all = append(all, row)
	}
	return all
}

// parts unpacks a workbook.
func parts(t testing.TB, data []byte) map[string]string {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	all := map[string]string{}
	for _, f := range archive.File {
		in, err := f.Open()
		require.NoError(t, err)
		content, err := io.ReadAll(in)
		require.NoError(t, err)
		all[f.Name] = string(content)
	}
	return all
}

func TestRoundTrip(t *testing.T) {
	written := []struct {
		value workbook.Value
		kind  workbook.Kind
		text  string
	}{
		{workbook.Text("nickel sulfate"), workbook.KindText, "nickel sulfate"},
		{workbook.Text("=1+1"), workbook.KindText, "=1+1"},
		{workbook.Text("007"), workbook.KindText, "007"},
		{workbook.Text(" blanks "), workbook.KindText, " blanks "},
		{workbook.Text("two\nlines\tand a tab"), workbook.KindText, "two\nlines\tand a tab"},
		{workbook.Text("a\r\nb\rc"), workbook.KindText, "a\nb\nc"},
		{workbook.Text("bell\a null\x00 \xff"), workbook.KindText, "bell\uFFFD null\uFFFD \uFFFD"},
		{workbook.Text("<&> _x0041_ _x005F_ ₂ ☐ 🧪"), workbook.KindText, "<&> _x0041_ _x005F_ ₂ ☐ 🧪"},
		{workbook.Text(""), workbook.KindEmpty, ""},
		{workbook.Text(strings.Repeat("ö", workbook.MaxText)), workbook.KindText, strings.Repeat("ö", workbook.MaxText)},
		{workbook.Number(1.1000000000000001), workbook.KindNumber, "1.1"},
		{workbook.Number(0.7999999999999999), workbook.KindNumber, "0.8"},
		{workbook.Number(1e-9), workbook.KindNumber, "0.000000001"},
		{workbook.Number(-6.02e23), workbook.KindNumber, "-602000000000000000000000"},
		{workbook.Number(math.Copysign(0, -1)), workbook.KindNumber, "0"},
		{workbook.Number(9.99999999999999e307), workbook.KindNumber, "999999999999999" + strings.Repeat("0", 293)},
		{workbook.Number(2.675).Decimals(2).Suffix(` "g/L" [3] 5 %`), workbook.KindNumber, "2.675"},
		{workbook.Number(0.05).Decimals(2).Prefix("<").Suffix(" [3]"), workbook.KindNumber, "0.05"},
		{workbook.Number(-0.001).Decimals(2), workbook.KindNumber, "-0.001"},
		{workbook.Date(2026, 3, 31), workbook.KindDate, "2026-03-31"},
		{workbook.Date(1900, 3, 1), workbook.KindDate, "1900-03-01"},
		{workbook.Date(9999, 12, 31), workbook.KindDate, "9999-12-31"},
		{workbook.Bool(true), workbook.KindBool, "TRUE"},
		{workbook.Bool(false), workbook.KindBool, "FALSE"},
		{workbook.Value{}, workbook.KindEmpty, ""},
		{workbook.Value{}.As(workbook.Sign), workbook.KindEmpty, ""},
	}
	data := build(t, func(b *workbook.Book) {
		s := sheet(t, b, "Cells")
		for _, w := range written {
			require.NoError(t, s.Row(workbook.Text("x"), w.value))
		}
	})
	got := rows(t, read(t, data).Sheets[0])
	require.Len(t, got, len(written))
	for i, w := range written {
		cell := got[i].Cell(2)
		assert.Equal(t, w.kind, cell.Kind, "row %d %.40q", i+1, w.text)
		assert.Equal(t, w.text, cell.Text, "row %d", i+1)
		assert.Equal(t, workbook.Ref(2, i+1), cell.Ref)
		assert.Nil(t, cell.Fault)
		assert.Empty(t, cell.Formula)
	}
}

func TestNumbersKeepFifteenDigits(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := rapid.Float64Range(-1e307, 1e307).Draw(rt, "v")
		data := build(t, func(b *workbook.Book) { require.NoError(rt, sheet(t, b, "A").Row(workbook.Number(v))) })
		cell := rows(t, read(t, data).Sheets[0])[0].Cell(1)
		want, got := rounded(v), cell.Text
		if v == 0 {
			want = "0"
		}
		assert.Equal(rt, want, got)
	})
}

func TestLiveCells(t *testing.T) {
	data := build(t, func(b *workbook.Book) {
		s := sheet(t, b, "Stock")
		require.NoError(t, s.Row(workbook.Number(4), workbook.Number(25), workbook.Live("A1*B1", 100).Decimals(1)))
		require.NoError(t, s.Row(workbook.Number(1), workbook.Live(`IF(A1<5,SUM(A1:A2),0)&""`, 0)))
		require.NoError(t, b.Define("containers", workbook.On(s.Name(), "$A$1")))
	})
	cell := rows(t, read(t, data).Sheets[0])[0].Cell(3)
	assert.Equal(t, "=A1*B1", cell.Formula)
	assert.Equal(t, "100", cell.Text)
	assert.Equal(t, workbook.KindNumber, cell.Kind)
	xml := parts(t, data)
	assert.Contains(t, xml["xl/worksheets/sheet1.xml"], "<f>A1*B1</f><v>100</v>")
	assert.Contains(t, xml["xl/workbook.xml"], `<definedName name="containers">&#39;Stock&#39;!$A$1</definedName>`)
}

func TestWhatIsRefused(t *testing.T) {
	for name, tc := range map[string]struct {
		value workbook.Value
		says  string
	}{
		"NaN":              {workbook.Number(math.NaN()), `sheet "A", cell B1: NaN is not a figure`},
		"infinity":         {workbook.Live("1/0", math.Inf(1)), "+Inf is not a figure"},
		"long text":        {workbook.Text(strings.Repeat("x", 32768)), "text of 32768 characters is longer than a cell holds (32767)"},
		"long emoji":       {workbook.Text(strings.Repeat("🧪", 16384)), "text of 32768 characters"},
		"30 February":      {workbook.Date(2026, 2, 30), `"2026-02-30" is not a day`},
		"before the count": {workbook.Date(1900, 2, 28), `"1900-02-28" is not a day`},
		"year 10000":       {workbook.Date(10000, 1, 1), `"10000-01-01" is not a day`},
		"long suffix":      {workbook.Number(1).Suffix(strings.Repeat("y", 250)), "is too long to stand at a figure"},
	} {
		t.Run(name, func(t *testing.T) {
			b, err := workbook.New(props())
			require.NoError(t, err)
			defer b.Close()
			assert.ErrorContains(t, sheet(t, b, "A").Row(workbook.Text("x"), tc.value), tc.says)
		})
	}
	_, err := workbook.New(workbook.Props{})
	assert.ErrorContains(t, err, "day")
}

func TestFeaturesStandInTheFile(t *testing.T) {
	data := build(t, func(b *workbook.Book) {
		sheet(t, b, "Front")
		s := sheet(t, b, "Bob's stock")
		require.NoError(t, s.Widths(12, 30.5))
		require.NoError(t, s.Freeze(2, 1))
		require.NoError(t, s.Repeat(2, 2))
		require.NoError(t, s.Merge(1, 1, 2, 1))
		require.NoError(t, s.Link(1, 1, workbook.On("Front", "A1")))
		require.NoError(t, s.Break(3))
		require.ErrorContains(t, s.Break(1), `sheet "Bob's stock": no page can be broken before row 1; rows 2 to `)
		require.Error(t, s.Break(workbook.MaxRows+1))
		require.NoError(t, s.Extent(2, 3))
		require.NoError(t, s.Setup(workbook.Setup{
			Landscape: true, FitWidth: true, HideGrid: true,
			Header: workbook.Margin{Left: "A & B"},
			Footer: workbook.Margin{Left: "2026-03-31", Right: "entry 9", Pages: true},
		}))
		require.NoError(t, s.Row(workbook.Text("title").As(workbook.Title), workbook.Value{}))
		require.NoError(t, s.Tall(31.5, workbook.Text("a"), workbook.Text("b")))
		require.NoError(t, s.Row())
	})
	all := parts(t, data)
	xml := all["xl/worksheets/sheet2.xml"]
	for _, want := range []string{
		`<dimension ref="A1:B3">`,
		`<cols><col min="1" max="1" width="12" customWidth="1"/><col min="2" max="2" width="30.5" customWidth="1"/></cols>`,
		`state="frozen" topLeftCell="B3" xSplit="1" ySplit="2"`, `<mergeCell ref="A1:B1"/>`,
		`location="&#39;Front&#39;!A1"`, `orientation="landscape"`, `fitToHeight="0"`, `fitToPage="true"`,
		`<rowBreaks count="1" manualBreakCount="1"><brk id="2" max="16383" man="true">`,
		`showGridLines="false"`, `<row r="2" ht="31.5" customHeight="1">`,
		`<oddHeader>&amp;L&amp;8 A &amp;&amp; B</oddHeader>`,
		`<oddFooter>&amp;L&amp;8 2026-03-31&amp;R&amp;8 entry 9  Page &amp;P of &amp;N</oddFooter>`,
	} {
		assert.Contains(t, xml, want)
	}
	assert.Contains(t, all["xl/workbook.xml"], `<definedName localSheetId="1" name="_xlnm.Print_Titles">&#39;Bob&#39;&#39;s stock&#39;!$2:$2</definedName>`)
	assert.NotContains(t, all["xl/worksheets/sheet1.xml"], "<dimension", "no extent was announced")
	assert.Contains(t, all["docProps/core.xml"], "2026-03-31T00:00:00Z")
	assert.Contains(t, all["docProps/core.xml"], "Stock &amp; store")
}

func TestFeaturesAreRefusedAfterRows(t *testing.T) {
	b, err := workbook.New(props())
	require.NoError(t, err)
	defer b.Close()
	s := sheet(t, b, "A")
	require.NoError(t, s.Extent(1, 1))
	require.NoError(t, s.Row(workbook.Text("x")))
	refused := func() map[string]error {
		return map[string]error{
			"column widths": s.Widths(9), "frozen panes": s.Freeze(1, 0), "print titles": s.Repeat(1, 1),
			"page setup": s.Setup(workbook.Setup{}), "merged cells": s.Merge(1, 1, 2, 1), "page breaks": s.Break(2),
			"links": s.Link(1, 1, "'A'!A1"), "the extent": s.Extent(9, 9),
		}
	}
	for what, err := range refused() {
		assert.EqualError(t, err, `sheet "A": `+what+" must be set before the first row")
	}
	assert.ErrorContains(t, s.Row(workbook.Text("y")), "beyond the announced extent")
	require.NoError(t, b.Write(io.Discard))
	for what, err := range refused() {
		assert.Error(t, err, what)
	}
	assert.ErrorContains(t, s.Row(), "after the workbook was written")
}

func TestSheetNames(t *testing.T) {
	b, err := workbook.New(props())
	require.NoError(t, err)
	defer b.Close()
	for _, tc := range []struct{ wanted, got string }{
		{"Stock", "Stock"},
		{"STOCK", "STOCK (2)"},
		{"1/2: [all] * what?", "1-2- -all- - what-"},
		{"'quoted'", "quoted"},
		{"", "Sheet"},
		{"history", "Sheet history"},
		{"3 What the rinse water carries away", "3 What the rinse water carries…"},
		{"3 What the rinse water carries off", "3 What the rinse water car (2)"},
		{strings.Repeat("🧪", 20), strings.Repeat("🧪", 15) + "…"},
		{"tab\tand bell\a", "tab and bell\uFFFD"},
	} {
		assert.Equal(t, tc.got, sheet(t, b, tc.wanted).Name(), "%q", tc.wanted)
	}
	require.NoError(t, b.Write(io.Discard))
}

func TestBytesAreStable(t *testing.T) {
	once := func() []byte {
		return build(t, func(b *workbook.Book) {
			for _, name := range []string{"One", "Two", "Three", "Four", "Five"} {
				s := sheet(t, b, name)
				require.NoError(t, s.Freeze(1, 0))
				require.NoError(t, s.Repeat(1, 1))
				require.NoError(t, s.Link(1, 1, "'One'!A1"))
				for i := range 20 {
					require.NoError(t, s.Row(workbook.Text(name), workbook.Live("1+1", 2).Decimals(i%4), workbook.Date(2026, 1, i+1)))
				}
			}
		})
	}
	first := once()
	for range 30 {
		require.True(t, bytes.Equal(first, once()), "two runs differ")
	}
	archive, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	require.NoError(t, err)
	assert.Equal(t, "[Content_Types].xml", archive.File[0].Name)
}

func TestRef(t *testing.T) {
	for ref, at := range map[string][2]int{"A1": {1, 1}, "B7": {2, 7}, "Z9": {26, 9}, "AA10": {27, 10}, "XFD1000000": {16384, 1000000}} {
		assert.Equal(t, ref, workbook.Ref(at[0], at[1]))
	}
}
