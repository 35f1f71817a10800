package pdf

import (
	"bytes"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/phpdave11/gofpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestWidths compares every character's width with the PDF library's own.
func TestWidths(t *testing.T) {
	library := gofpdf.New("P", "mm", "A4", "")
	library.AddUTF8FontFromBytes("body", "", bytes.Clone(dejavusanscondensed.TTF))
	library.AddUTF8FontFromBytes("body", "B", bytes.Clone(dejavusanscondensedbold.TTF))
	for _, s := range []style{{size: 8}, {size: 13.5, bold: true}} {
		library.SetFont("body", map[bool]string{true: "B"}[s.bold], s.size)
		compared := 0
		for r := rune(' '); r < 1<<16; r++ {
			if !dejavu().has(r) {
				continue
			}
			compared++
			require.InDelta(t, library.GetStringWidth(string(r)), s.width(string(r)), 1e-9, "%U", r)
		}
		assert.Greater(t, compared, 5000, "characters of the font")
	}
}

func TestClean(t *testing.T) {
	cases := map[string]string{
		"plain ~ text":        "plain ~ text",
		"two\r\nlines\tof x":  "two\nlines of x",
		"🧪 acid":              "� acid",
		"⚗️":                  "⚗",
		"中文":                  "��",
		"a\xff\xfeb":          "a��b",
		"\x00bell\a\u200f":    "bell",
		"1 000 L":             "1 000 L", // narrow no-break space
		"12\u00a0g/L":         "12\u00a0g/L",
		"H₂SO₄ ≤ 5 µg/m³ ▲ —": "H₂SO₄ ≤ 5 µg/m³ ▲ —",
	}
	for text, want := range cases {
		assert.Equal(t, want, clean(text), "%q", text)
	}
}

func FuzzClean(f *testing.F) {
	f.Add("🧪\x00\xff\n\u00a0ﬀ")
	f.Fuzz(func(t *testing.T, text string) {
		got := clean(text)
		require.True(t, utf8.ValidString(got))
		for _, r := range got {
			require.True(t, r == '\n' || dejavu().has(r), "%U", r)
			require.False(t, r != '\n' && unicode.IsControl(r), "%U", r)
		}
		require.Equal(t, got, clean(got))
	})
}

func TestWrap(t *testing.T) {
	in := style{size: 8}
	cases := []struct {
		name  string
		piece piece
		width float64
		want  []string
	}{
		{"at spaces", piece{text: "one two  three", style: in}, in.width("one two") + 0.1, []string{"one two", "three"}},
		{"as narrow as its text", piece{text: "one two", style: in}, in.width("one two"), []string{"one two"}},
		{"at line ends", piece{text: "one\n\ntwo", style: in}, 50, []string{"one", "two"}},
		{"a figure keeps its unit", piece{text: "12.5 mg/L", style: in, whole: true}, in.width("12.5 mg/L"), []string{"12.5 mg/L"}},
		{"unless it is too wide", piece{text: "12.5 mg/L", style: in, whole: true}, in.width("12.5 mg") + 0.1, []string{"12.5", "mg/L"}},
		{"behind hyphens", piece{text: "drag-out-recovery", style: in}, in.width("drag-out-re"), []string{"drag-out-", "recovery"}},
		{"anywhere", piece{text: "wwwwww", style: in}, in.width("www") + 0.1, []string{"www", "www"}},
		{"one character at least", piece{text: "ww", style: in}, 0.1, []string{"w", "w"}},
		{"nothing", piece{text: " \n ", style: in}, 10, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, l := range measure(c.piece).wrap(c.width) {
				require.Len(t, l.runs, 1)
				got = append(got, l.runs[0].text)
			}
			assert.Equal(t, c.want, got)
		})
	}
}

func TestWrapKeepsTheTextAndTheWidth(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var pieces []piece
		want := ""
		for _, s := range []style{bodyStyle, bodyStyle.strong(), smallStyle} {
			p := piece{text: drawText(r, 9), style: s, whole: rapid.Bool().Draw(r, "whole")}
			pieces, want = append(pieces, p), want+squeezed(clean(p.text))
		}
		width, got := rapid.Float64Range(5, 80).Draw(r, "width"), ""
		p := measure(pieces...)
		for _, l := range p.wrap(width) {
			end := 0.0
			for _, run := range l.runs {
				require.GreaterOrEqual(r, run.x, end-1e-9)
				require.InDelta(r, run.style.width(run.text), run.width, 1e-9)
				end = run.x + run.width
				got += run.text
			}
			require.InDelta(r, end, l.width, 1e-9)
			require.LessOrEqual(r, l.width, width+1e-9)
		}
		require.Equal(r, want, squeezed(got))
		if p.natural < width {
			require.Len(r, p.wrap(width), len(p.wrap(1e6)), "broken though it fits")
		}
	})
}

func TestFit(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		columns := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) column {
			least := rapid.Float64Range(0, 25).Draw(t, "least")
			return column{least: least, natural: least + rapid.Float64Range(0, 90).Draw(t, "more"),
				numeric: rapid.Bool().Draw(t, "numeric"), tail: rapid.Float64Range(0, 6).Draw(t, "tail")}
		}), 1, 12).Draw(r, "columns")
		const pad, width = 9, 700
		widths, ok := fit(columns, pad, width)
		least, sum := 0, 0
		for _, c := range columns {
			least += c.floor(pad)
		}
		require.Equal(r, least <= width, ok)
		for i, w := range widths {
			require.GreaterOrEqual(r, w, columns[i].floor(pad), "column %d", i)
			sum += w
		}
		require.LessOrEqual(r, sum, width)
	})
}

func TestFitSharesWithTheLongTexts(t *testing.T) {
	figures, name, text := column{numeric: true, least: 12, natural: 12}, column{least: 15, natural: 30, sum: 200, texts: 8}, column{least: 20, natural: 600, sum: 400, texts: 4}
	widths, ok := fit([]column{name, figures, text}, 8, 700)
	require.True(t, ok)
	assert.Equal(t, figures.floor(8), widths[1], "figures take what they need")
	assert.Greater(t, widths[0], name.floor(8), "a short text gets some of the spare width")
	assert.Greater(t, widths[2], 3*widths[0], "a long one gets most")
	assert.Equal(t, 700, widths[0]+widths[1]+widths[2])
}

func TestCellsStandWhereTheyShould(t *testing.T) {
	s := &setter{paper: sheetOf(A4)}
	s.table(wide(4, 2))
	words := map[string]word{}
	var boxes []box
	for _, one := range s.strips {
		boxes = append(boxes, one.boxes...)
		for _, w := range one.boxes[0].words {
			words[w.text] = w
		}
	}
	end := func(text string) float64 { return words[text].x + words[text].style.width(text) }
	assert.InDelta(t, end("0.01"), end("1000.01"), 1e-9, "figures are set right")
	assert.InDelta(t, end("0.01"), end("Head 1"), 1e-9, "and their head")
	assert.InDelta(t, end("0.03"), end("mg/L"), 1e-9, "and their unit")
	assert.InDelta(t, words["Head 0"].x, words["words r0c0"].x, 1e-9, "words are set left")
	assert.True(t, strings.HasPrefix(boxes[0].words[0].text, "Table of 4"), "the caption comes first")
	assert.Less(t, words["Head 1"].y, words["mg/L"].y, "the unit below the head")
}
