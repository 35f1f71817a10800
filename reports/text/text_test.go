package text_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"bathwarden/chemicals/source"
	"bathwarden/reports/doc"
	"bathwarden/reports/text"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden files anew")

func empty() *doc.Document {
	return doc.New(doc.Head{Title: "A paper"}, doc.Foot{AsOf: "2026-03-31", Program: "bathwarden test", Tables: "9f2c"}, "Local codes come first.")
}

func sample() *doc.Document {
	d := doc.New(doc.Head{
		Kind: "inventory", Title: "Chemicals on hand", Shop: "Fernhollow Finishing", Period: "2025-04-01 to 2026-03-31",
		AsOf: "2026-03-31", Subtitle: "Both lines", Example: "Invented data: no such shop exists.",
	}, doc.Foot{AsOf: "2026-03-31", Program: "bathwarden 0.1.0", Tables: "9f2c41d0a7b34c55", Entry: 1207, Hash: "4b1d7c0f9e2a8d36"},
		"Local codes and the advice of licensed practitioners come first. This paper states figures, limits and their sources; it does not decide whether a duty is met.")
	handbook := d.Cite(source.Ref{Document: "An invented handbook", Place: "table 4", Year: 1991, Standing: source.Handbook})
	rule := d.Cite(source.Ref{Document: "An invented rule of a length that does not fit into one line of the terminal", Place: "section 2 (b)", Standing: source.LawInForce})
	word := func(is string) doc.Cell { return doc.Text{Is: is} }
	d.Add(doc.Contents{})
	d.Section(1, "Stock")
	d.Add(doc.Paragraph{Text: "A mass is the count times the size times the density that the supplier's sheet gives; where the sheet gives none, the mass is not known.", Cites: []int{handbook, rule}})
	d.Add(doc.Table{
		Name: "stock", Caption: "Containers counted",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "counted", Head: "Counted"}, {Name: "size", Head: "Size", Unit: "L", Numeric: true},
			{Name: "mass", Head: "Mass of all", Unit: "kg", Numeric: true}, {Name: "note", Head: "Note"},
		},
		Rows: [][]doc.Cell{
			{word("Nickel sulfate solution"), doc.Date{Year: 2026, Month: 3, Day: 2}, doc.Number{Is: 25}, doc.Number{Is: 132.5, Decimals: 1, Cites: []int{handbook}}, doc.Blank{}},
			{word("光沢剤 H₂SO₄ 7"), doc.Date{Year: 2026, Month: 3, Day: 2, Emphasis: doc.Caution}, doc.Number{Is: 18.9, Decimals: 1}, doc.Blank{Why: "no density recorded"}, word("a remark that is long enough to go on in a second line")},
			{word("Cafe\u0301 \x1b[31mred\x1b[0m"), doc.Blank{Why: "never counted"}, doc.Number{Is: 2.675, Decimals: 2}, doc.Number{Is: 1042.35, Decimals: 1, Emphasis: doc.Over}, doc.Text{Is: "count again", Emphasis: doc.Caution, Cites: []int{rule}}},
		},
		Totals: [][]doc.Cell{{word("Together"), doc.Blank{}, doc.Blank{}, doc.Number{Is: 1174.85, Decimals: 1, Live: true}, doc.Blank{}}},
	})
	d.Section(2, "What is missing")
	d.Add(doc.List{Items: []doc.Text{{Is: "Product \"Bright 7\": no density.", Emphasis: doc.Caution}, {Is: "Shelf 4 was not counted in the whole of the period, nor was the yard.", Cites: []int{rule}}}})
	d.Add(doc.Table{Name: "none", Caption: "Complaints", Columns: []doc.Column{{Name: "day", Head: "Day"}}, Empty: "no complaint is recorded"})
	d.Section(3, "In one line")
	d.Add(doc.Notice{Title: "Beyond a limit", Text: "Nickel in the final rinse: 2.61 mg/L against a limit of 2.38 mg/L.", Emphasis: doc.Over}, doc.Notice{Text: "Plain notice.\nWith a second line."})
	d.Section(1, "How it came about")
	d.Add(doc.Fields{Items: []doc.Field{
		{Label: "Employees", Value: doc.Number{Is: 6}},
		{Label: "Room volume", Value: doc.Number{Is: 1240.5, Decimals: 1, Unit: "m³", Cites: []int{handbook}}},
		{Label: "Whether the room has sprinklers over the line", Value: doc.Blank{Why: "nobody recorded it"}},
	}})
	d.Add(doc.Working{Title: "Nickel carried out of tank B5", Caveats: []string{"The analysis is 41 days old."}, Steps: []doc.Step{{
		Formula: "m = V × c", Cite: handbook, Result: "98 g per day",
		Inputs: []doc.StepInput{{Symbol: "V", Value: "1.63 L/day", Origin: "computed above"}, {Symbol: "c", Value: "60 g/L", Origin: "measured, entry 1180", Cite: rule}},
	}}})
	d.Add(effluent(rule), rinses())
	d.Add(doc.SignOff{Statement: "I have compared these figures with the shelves.", Roles: []string{"Prepared by", "Checked by"}})
	return d
}

func effluent(rule int) doc.Chart {
	n := func(v float64) doc.Number { return doc.Number{Is: v, Decimals: 2} }
	day := func(month, day int) doc.Date { return doc.Date{Year: 2026, Month: month, Day: day} }
	return doc.Chart{
		Name: "nickel", Title: "Nickel at the outfall", Axis: "Nickel, total", Unit: "mg/L", First: day(1, 1), Last: day(3, 31), Cites: []int{rule},
		Dots: []doc.Dots{{Name: "sample", Points: []doc.Point{
			{Day: day(1, 9), Value: n(0.6)}, {Day: day(2, 9), Value: doc.Number{Is: 0.05, Decimals: 2, Below: true}},
			{Day: day(3, 9), Value: doc.Number{Is: 2.61, Decimals: 2, Emphasis: doc.Over, Cites: []int{rule}}},
		}}},
		Steps: []doc.Steps{{Name: "daily maximum", Levels: []doc.Level{{Value: n(3.98)}, {From: day(3, 1), Value: n(2.38)}}, Cites: []int{rule}}},
		Bands: []doc.Band{{Name: "estimate", Spans: []doc.Span{{From: day(1, 1), To: day(2, 28), Low: n(0.3), Likely: n(0.5), High: n(0.8)}}}},
	}
}

func rinses() doc.Line {
	n := func(v float64, decimals int, unit string) doc.Cell {
		return doc.Number{Is: v, Decimals: decimals, Unit: unit}
	}
	return doc.Line{Name: "line_1", Title: "Line 1, nickel", Stations: []doc.Station{
		{Name: "B5", Words: "bright nickel, 300 gal", Purpose: "plate", CarryOn: n(1.63, 2, "L/h"), Emphasis: doc.Caution},
		{Name: "R6", Words: "first rinse", Purpose: "rinse", Rinse: true, CarryOn: doc.Blank{Why: "no film measured"},
			Feeds: []doc.Feed{{From: 3, Flow: n(180, 0, "L/h")}, {Source: "mains", Flow: doc.Blank{Why: "no meter"}}}, DrainsTo: "pit W1", Drain: n(180, 0, "L/h")},
		{Name: "R7", Words: "last rinse", Purpose: "rinse", Rinse: true, Feeds: []doc.Feed{{Source: "mains", Flow: n(180, 0, "L/h")}}},
	}}
}

func set(t testing.TB, d *doc.Document, width int) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, text.Write(&out, d, width))
	return out.String()
}

func TestGolden(t *testing.T) {
	for name, width := range map[string]int{"wide": 120, "usual": 80, "narrow": 40} {
		t.Run(name, func(t *testing.T) {
			got := set(t, sample(), width)
			path := filepath.Join("testdata", name+".txt")
			if *update {
				require.NoError(t, os.MkdirAll("testdata", 0o755))
				require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
			}
			want, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.Equal(t, string(want), got)
		})
	}
}

func TestControlCharactersAreShown(t *testing.T) {
	for is, want := range map[string]string{
		"\x1b[2Jgone":             "␛[2Jgone",
		"a\x00b\ac\x7f":           "a␀b␇c␡",
		"\u009b31m":               "<U+009B>31m",
		"abc\u202etxt.exe":        "abc<U+202E>txt.exe",
		"zero\u200bwidth \ufeff!": "zero<U+200B>width <U+FEFF>!",
		"bad \xff byte":           "bad \uFFFD byte",
		"tab\there":               "tab here",
		"carriage\rreturn":        "carriage␍return",
	} {
		d := empty()
		d.Head.Title = is
		d.Add(
			doc.Paragraph{Text: is}, doc.Notice{Title: is, Text: is}, doc.Fields{Items: []doc.Field{{Label: is, Value: doc.Text{Is: is}}}},
			doc.Table{Name: "t", Caption: is, Columns: []doc.Column{{Name: "a", Head: is, Unit: is}}, Rows: [][]doc.Cell{{doc.Text{Is: is}}, {doc.Blank{Why: is}}}},
			doc.SignOff{Statement: is, Roles: []string{is}},
			doc.Working{Title: is, Steps: []doc.Step{{Formula: is, Result: is, Inputs: []doc.StepInput{{Symbol: is, Value: is, Origin: is}}}}},
		)
		got := set(t, d, 200)
		assert.Equal(t, 19, strings.Count(got, want), "%q in\n%s", is, got)
	}
}

func TestAnyTextKeepsWithinTheWidth(t *testing.T) {
	measure := &runewidth.Condition{StrictEmojiNeutral: true}
	rapid.Check(t, func(rt *rapid.T) {
		words := rapid.StringN(0, 60, -1)
		width := rapid.IntRange(0, 130).Draw(rt, "width")
		d := empty()
		d.Head.Shop = words.Draw(rt, "shop")
		d.Section(1, words.Draw(rt, "heading"))
		d.Add(doc.Paragraph{Text: words.Draw(rt, "paragraph"), Emphasis: doc.Over, Cites: []int{1, 2}},
			doc.Fields{Items: []doc.Field{{Label: words.Draw(rt, "label"), Value: doc.Text{Is: words.Draw(rt, "value")}}}})
		table := doc.Table{Name: "t", Columns: []doc.Column{{Name: "n", Head: "n", Numeric: true}}}
		row := []doc.Cell{doc.Number{Is: 1234.5, Decimals: 1, Emphasis: doc.Caution}}
		for _, name := range []string{"a", "b", "c", "d"} {
			table.Columns = append(table.Columns, doc.Column{Name: name, Head: words.Draw(rt, name)})
			row = append(row, doc.Text{Is: words.Draw(rt, name+" cell"), Emphasis: doc.Caution})
		}
		table.Rows = [][]doc.Cell{row}
		d.Add(table)
		var out bytes.Buffer
		require.NoError(rt, text.Write(&out, d, width))
		for line := range strings.SplitSeq(out.String(), "\n") {
			assert.LessOrEqual(rt, measure.StringWidth(line), max(width, 40), "%q", line)
			assert.False(rt, strings.ContainsFunc(line, unicode.IsControl), "%q", line)
			assert.Equal(rt, strings.TrimRight(line, " "), line)
		}
		assert.Contains(rt, out.String(), "1234.5 !")
	})
}

func TestFiguresStayInLine(t *testing.T) {
	d := empty()
	column := []doc.Column{{Name: "tank", Head: "Tank"}, {Name: "c", Head: "c", Unit: "g/L", Numeric: true}, {Name: "note", Head: "Note"}}
	row := func(tank string, c doc.Cell) []doc.Cell { return []doc.Cell{doc.Text{Is: tank}, c, doc.Text{Is: "x"}} }
	d.Add(doc.Table{Name: "t", Columns: column, Rows: [][]doc.Cell{
		row("B5", doc.Number{Is: 2.5, Decimals: 1}), row("B6", doc.Number{Is: 112.5, Decimals: 1, Cites: []int{3}, Emphasis: doc.Over}),
		row("B7", doc.Blank{Why: "lost"}), row("漢字", doc.Number{Is: -0.01, Decimals: 1}),
	}})
	assert.Contains(t, set(t, d, 80), `
Tank          c [g/L]  Note
---------------------------
B5         2.5         x
B6       112.5 [3] !!  x
B7    not known: lost  x
漢字       0.0         x
`[1:])
}

func TestRowsMustFitTheirColumns(t *testing.T) {
	d := empty()
	d.Add(doc.Table{Name: "stock", Columns: []doc.Column{{Name: "a", Head: "A"}}, Rows: [][]doc.Cell{{}}})
	assert.EqualError(t, text.Write(&bytes.Buffer{}, d, 80), `table "stock", row 1: 0 cells for 1 columns`)
}
