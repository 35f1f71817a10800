package xlsx_test

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
	"bathwarden/reports/xlsx"
	"bathwarden/reports/xlsx/recalc"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func set(t testing.TB, d *doc.Document) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, xlsx.Write(&out, d))
	return out.Bytes()
}

// grid is every cell of a workbook, by sheet and reference.
func grid(t testing.TB, data []byte) (cells map[string]workbook.Cell, sheets []string) {
	t.Helper()
	f, err := workbook.Read(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	cells = map[string]workbook.Cell{}
	for _, s := range f.Sheets {
		sheets = append(sheets, s.Name)
		for row, err := range s.Rows() {
			require.NoError(t, err)
			for _, c := range row.Cells {
				cells[c.Where()] = c
			}
		}
	}
	return cells, sheets
}

func part(t testing.TB, data []byte, name string) string {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	in, err := archive.Open(name)
	require.NoError(t, err)
	defer in.Close()
	content, err := io.ReadAll(in)
	require.NoError(t, err)
	return string(content)
}

func TestRecalculationAgrees(t *testing.T) {
	assert.Equal(t, 12, recalc.Check(t, set(t, sample())))
}

func TestSheetsAndCells(t *testing.T) {
	cells, sheets := grid(t, set(t, sample()))
	assert.Equal(t, []string{"Front page", "1 Stock", "2 Work- what was carried out,…", "3 How a figure came about", "4 Over time", "Inputs", "Sources"}, sheets)
	for where, want := range map[string]workbook.Cell{
		"1 Stock!A6":     {Kind: workbook.KindText, Text: "Product"},
		"1 Stock!E6":     {Kind: workbook.KindText, Text: "Size [L]"},
		"1 Stock!C7":     {Kind: workbook.KindDate, Text: "2026-03-02"},
		"1 Stock!D7":     {Kind: workbook.KindNumber, Text: "4"},
		"1 Stock!F7":     {Kind: workbook.KindNumber, Text: "1.325"},
		"1 Stock!G7":     {Kind: workbook.KindNumber, Text: "132.5", Formula: "=D7*E7*F7"},
		"1 Stock!H7":     {Kind: workbook.KindText, Text: "sheet of 2024 [2]"},
		"1 Stock!F8":     {Kind: workbook.KindText, Text: "not known: no density recorded"},
		"1 Stock!G8":     {Kind: workbook.KindText, Text: "not known: no density recorded"},
		"1 Stock!A9":     {Kind: workbook.KindText, Text: "007"},
		"1 Stock!G9":     {Kind: workbook.KindNumber, Text: "-0.535", Formula: "=D9*E9*F9"},
		"1 Stock!G10":    {Kind: workbook.KindNumber, Text: "131.965", Formula: "=SUM($G$7:$G$9)"},
		"1 Stock!D10":    {Kind: workbook.KindNumber, Text: "5.8"},
		"1 Stock!C14":    {Kind: workbook.KindNumber, Text: "132.5", Formula: "=SUMIFS($G$7:$G$9,$A$7:$A$9,A14)"},
		"1 Stock!D14":    {Kind: workbook.KindNumber, Text: "16.5883333333333", Formula: `=IF(A14="{x}",0,SUM('2 Work- what was carried out,…'!$C$4:$C$7)/r2_)`},
		"1 Stock!A18":    {Kind: workbook.KindText, Text: "• =SUM(A1:A9) is a strange name for a product. [1, 2]"},
		"Inputs!A5":      {Kind: workbook.KindText, Text: "film"},
		"Inputs!C5":      {Kind: workbook.KindNumber, Text: "0.1628"},
		"Inputs!E5":      {Kind: workbook.KindText, Text: "[1]"},
		"Sources!D4":     {Kind: workbook.KindNumber, Text: "1991"},
		"Sources!B5":     {Kind: workbook.KindText, Text: "An invented rule"},
		"Front page!D7":  {Kind: workbook.KindText, Text: "2025-04-01 to 2026-03-31"},
		"Front page!A10": {Kind: workbook.KindText, Text: deferral},
	} {
		got := cells[where]
		got.Sheet, got.Ref, got.Column = "", "", 0
		assert.Equal(t, want, got, where)
	}
	for _, empty := range []string{"1 Stock!H8", "1 Stock!B10", "1 Stock!F10"} {
		assert.NotContains(t, cells, empty)
	}
	for _, c := range cells {
		assert.Nil(t, c.Fault, c.Where())
	}
}

func TestFormsAndWorkings(t *testing.T) {
	cells, _ := grid(t, set(t, sample()))
	var said []string
	for row := 1; row <= 25; row++ {
		var line []string
		for column := 1; column <= 12; column++ {
			if c, ok := cells["3 How a figure came about!"+workbook.Ref(column, row)]; ok {
				line = append(line, c.Kind.String()+" "+c.Text)
			}
		}
		if line != nil {
			said = append(said, strings.Join(line, "|"))
		}
	}
	assert.Equal(t, []string{
		"text 3  How a figure came about",
		"text Contact|text the office",
		"text Employees|number 6",
		"text Room volume|number 1240.5",
		"text Built|text 1898-05-01",
		"text Permit expires|date 2026-02-28",
		"text Sprinklers|text not known: nobody recorded whether there are any",
		"text Nickel carried out of tank B5",
		"text m = V × c [1]",
		"text V|text 1.63 L/day|text computed above",
		"text c|text 60 g/L|text measured, entry 1180 of the record book, by titration after the addition of the same morning [2]",
		"text result|text 98 g per day",
		"text caveat: The analysis is 41 days old.",
		"text 3.1  Signatures",
		"text I have compared these figures with the shelves.",
		"text Prepared by|text name|text signature|text date",
		"text Checked by|text name|text signature|text date",
	}, said)
}

func TestFeatures(t *testing.T) {
	data := set(t, sample())
	book := part(t, data, "xl/workbook.xml")
	assert.Contains(t, book, `<definedName name="film">&#39;Inputs&#39;!$C$5</definedName>`)
	assert.Contains(t, book, `<definedName name="r2_">&#39;Inputs&#39;!$C$6</definedName>`)
	assert.NotContains(t, book, "Print_Titles", "no sheet of the sample has a single table")
	front, stock := part(t, data, "xl/worksheets/sheet1.xml"), part(t, data, "xl/worksheets/sheet2.xml")
	assert.Equal(t, 8, strings.Count(front, "<hyperlink "), "six headings, inputs and sources")
	assert.Contains(t, front, `location="&#39;1 Stock&#39;!A16"`)
	assert.Contains(t, front, "as of 2026-03-31  ·  bathwarden 0.1.0  ·  tables 9f2c41d0a7b34c55  ·  entry 1207  ·  4b1d7c0f9e2a8d36&amp;R&amp;8 Page &amp;P of &amp;N")
	assert.Contains(t, front, "4b1d7c0f9e2a8d36b5c47f1e0a9d8c7b6a5f4e3d2c1b0a998877665544332211", "the whole hash")
	assert.Contains(t, stock, `orientation="landscape"`)
	assert.Contains(t, stock, `fitToPage="true"`)
	assert.NotContains(t, front, `orientation="landscape"`)
}

func TestTheOnlyTableOfASheetKeepsItsHead(t *testing.T) {
	d := sample()
	d.Content = nil
	d.Add(doc.Heading{Level: 1, Number: "1", Text: "Work"}, work())
	data := set(t, d)
	assert.Contains(t, part(t, data, "xl/workbook.xml"), `localSheetId="1" name="_xlnm.Print_Titles">&#39;1 Work&#39;!$3:$3<`)
	assert.Contains(t, part(t, data, "xl/worksheets/sheet2.xml"), `state="frozen" topLeftCell="A4" ySplit="3"`)
}

func TestBytesAreStable(t *testing.T) {
	first := set(t, sample())
	for range 10 {
		require.True(t, bytes.Equal(first, set(t, sample())), "two runs differ")
	}
}

func TestDefectsAreNamed(t *testing.T) {
	cell := func(formula string) func(d *doc.Document) {
		return func(d *doc.Document) {
			d.Add(doc.Table{Name: "t", Columns: []doc.Column{{Name: "c", Head: "c", Formula: formula}}, Rows: [][]doc.Cell{{doc.Number{Is: 1, Live: true}}}})
		}
	}
	for says, spoil := range map[string]func(d *doc.Document){
		`table "t", column "c": formula "{mass}*2": table "t" has no column "mass"`:                         cell("{mass}*2"),
		`table "t", column "c": formula "SUM({stok:mass})": there is no table "stok"`:                       cell("SUM({stok:mass})"),
		`table "t", column "c": formula "SUM({stock:mas})": table "stock" has no column "mas"`:              cell("SUM({stock:mas})"),
		`table "t", column "c": formula "2*{=flim}": there is no input "flim"`:                              cell("2*{=flim}"),
		`table "t", column "c": formula "2*{c": a { without its }`:                                          cell("2*{c"),
		`table "t", column "c": formula "2}": a } without its {`:                                            cell("2}"),
		`table "t", column "c": a live cell, but the column has no formula`:                                 cell(""),
		`table "stock": the name is missing or not the only one`:                                            func(d *doc.Document) { d.Add(byProductAs("stock")) },
		`field "Age": a live figure needs the column of a table`:                                            field(doc.Number{Live: true}),
		`field "Age" holds <nil>; an absent value is a Blank`:                                               field(nil),
		`table "short", row 1: 0 cells for 3 columns`:                                                       func(d *doc.Document) { d.Add(short()) },
		`input "film": the name is not the only one`:                                                        func(d *doc.Document) { d.Inputs = append(d.Inputs, d.Inputs[0]) },
		`input "Film": the name is not the only one, or not of lower-case words joined by _`:                func(d *doc.Document) { d.Inputs = append(d.Inputs, doc.Input{Name: "Film"}) },
		`foot: as-of day "today" is not a day`:                                                              func(d *doc.Document) { d.Foot.AsOf = "today" },
		`table "t", column "c": formula "{a}+{=b}": table "t" has no column "a"`:                            cell("{a}+{=b}"),
		"there is no input \"flim\"\ntable \"u\", column \"c\": a live cell, but the column has no formula": both(cell("{=flim}")),
	} {
		d := sample()
		spoil(d)
		assert.ErrorContains(t, xlsx.Write(io.Discard, d), says)
	}
}

func byProductAs(name string) doc.Table { t := byProduct(); t.Name = name; return t }

func short() doc.Table {
	t := byProductAs("short")
	t.Rows = [][]doc.Cell{{}}
	return t
}

func field(c doc.Cell) func(d *doc.Document) {
	return func(d *doc.Document) { d.Add(doc.Fields{Items: []doc.Field{{Label: "Age", Value: c}}}) }
}

func both(first func(d *doc.Document)) func(d *doc.Document) {
	return func(d *doc.Document) {
		first(d)
		d.Add(doc.Table{Name: "u", Columns: []doc.Column{{Name: "c", Head: "c"}}, Rows: [][]doc.Cell{{doc.Number{Live: true}}}})
	}
}
