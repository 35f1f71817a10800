package sheet_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals"
	"bathwarden/chemicals/sheet"
	"bathwarden/chemicals/workbook"
)

func kind(t testing.TB, name string) *chemicals.Kind {
	k, err := chemicals.KindOf(name)
	require.NoError(t, err)
	return k
}

func records(k *chemicals.Kind, bodies ...chemicals.Body) sheet.Table {
	table := sheet.Table{Kind: k}
	for i, b := range bodies {
		table.Records = append(table.Records, chemicals.Record{Entry: int64(i + 1), Kind: k, Body: b})
	}
	return table
}

// tanks shows what becomes of units, digits and signs.
func tanks(t testing.TB) sheet.Table {
	return records(kind(t, "tank"),
		chemicals.Body{"tank": "B5", "title": "=bright, \"nickel\"", "working volume": "350.0 gal", "temperature": "130 °F", "pH": "4.20", "cathode efficiency": "95 %", "from": "2026-03-31"},
		chemicals.Body{"tank": "-6", "title": "two\nlines", "working volume": "12 gal", "temperature": "55 °C", "from": "1900-02-28"},
	)
}

func TestWriteFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "book")
	require.NoError(t, sheet.WriteFolder(dir, []sheet.Table{tanks(t), {Kind: kind(t, "person")}}))
	data, err := os.ReadFile(filepath.Join(dir, "tank.csv"))
	require.NoError(t, err)
	assert.Equal(t, "\ufeffentry,tank,title,line,position,purpose,length,width,diameter,working volume [gal],temperature,heated hours,pH,density,viscosity,"+
		"agitation,current,plates,valence,cathode efficiency [%],hood,cover,suppressant,exhaust system,location,drains to,from,until\r\n"+
		"1,B5,\"'=bright, \"\"nickel\"\"\",,,,,,,350.0,130 °F,,4.20,,,,,,,95,,,,,,,2026-03-31,\r\n"+
		"2,'-6,\"two\r\nlines\",,,,,,,12,55 °C,,,,,,,,,,,,,,,,1900-02-28,\r\n", string(data))
	data, err = os.ReadFile(filepath.Join(dir, "person.csv"))
	require.NoError(t, err)
	assert.Equal(t, "\ufeffentry,person,job,role,since,language,from,until\r\n", string(data))
	left, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	assert.Len(t, left, 2, "something else was left behind")
}

func TestWriteFolderSaysWhatIsInTheWay(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	require.NoError(t, os.WriteFile(dir, nil, 0o600))
	assert.Equal(t, []string{"PATH: cannot be made a folder: not a directory | check the path and who may use it"}, saidOf(t, dir, sheet.WriteFolder(dir, nil)))
	require.NoError(t, os.Remove(dir))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "tank.csv", "in the way"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "note.txt"), []byte("kept"), 0o600))
	err := sheet.WriteFolder(dir, []sheet.Table{{Kind: kind(t, "person")}, tanks(t)})
	said := saidOf(t, dir, err)
	require.Len(t, said, 1)
	assert.Regexp(t, regexp.MustCompile(`^PATH/tank\.csv: cannot be written: .+ \| check the folder, its rights and the room on the disk$`), said[0])
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, left, 2, "what was written before stays behind: %v", left)
	assert.Equal(t, "note.txt", left[0].Name())
	assert.Equal(t, "tank.csv", left[1].Name())
}

func TestWriteWorkbook(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, sheet.WriteWorkbook(&out, []sheet.Table{tanks(t), {Kind: kind(t, "product-content")}}, props()))
	f, err := workbook.Read(bytes.NewReader(out.Bytes()), int64(out.Len()))
	require.NoError(t, err)
	require.Len(t, f.Sheets, 2)
	assert.Equal(t, "product content", f.Sheets[1].Name)
	got := map[string]string{}
	for row, err := range f.Sheets[0].Rows() {
		require.NoError(t, err)
		for _, c := range row.Cells {
			got[c.Ref] = c.Kind.String() + " " + c.Text
		}
	}
	want := map[string]string{
		"A1": "text entry", "B1": "text tank", "J1": "text working volume [gal]", "K1": "text temperature", "T1": "text cathode efficiency [%]",
		"A2": "number 1", "B2": "text B5", "C2": `text =bright, "nickel"`, "J2": "number 350", "K2": "text 130 °F", "M2": "number 4.2", "T2": "number 95", "AA2": "date 2026-03-31",
		"A3": "number 2", "B3": "text -6", "C3": "text two\nlines", "J3": "number 12", "K3": "text 55 °C", "AA3": "text 1900-02-28",
	}
	for ref, cell := range want {
		assert.Equal(t, cell, got[ref], ref)
	}
	assert.Len(t, got, 28+len(want)-5, "other cells hold something")
}

func TestNumbersThatCellsWouldChangeStayText(t *testing.T) {
	texts := map[string]string{
		"350.0": "number 350", "-5": "number -5", "0.050": "number 0.05", "123456789012345": "number 123456789012345", "0": "number 0",
		"007": "text 007", "00.5": "text 00.5", "+7": "text +7", "5.": "text 5.", ".5": "text .5", "1e2": "text 1e2", "-0": "text -0",
		"0.1234567890123456": "text 0.1234567890123456",
	}
	for written, want := range texts {
		var out bytes.Buffer
		table := records(kind(t, "tank"), chemicals.Body{"tank": "B5", "temperature": written + " °C"})
		require.NoError(t, sheet.WriteWorkbook(&out, []sheet.Table{table}, props()))
		f, err := workbook.Read(bytes.NewReader(out.Bytes()), int64(out.Len()))
		require.NoError(t, err)
		got := ""
		for row, err := range f.Sheets[0].Rows() {
			require.NoError(t, err)
			got = row.Cell(11).Kind.String() + " " + row.Cell(11).Text
		}
		assert.Equal(t, want, got, written)
	}
}

func TestWriteWorkbookRefusesWhatItCannotHold(t *testing.T) {
	table := records(kind(t, "person"), chemicals.Body{"person": "A\uFFFF"})
	err := sheet.WriteWorkbook(&bytes.Buffer{}, []sheet.Table{table}, props())
	assert.Equal(t, []string{`person, entry 1, person: "A\uffff" holds a character that no workbook can hold | write CSV files instead, or correct the entry`}, said(t, err))
}

func TestBlanksLoadAndHoldNothing(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, sheet.BlankFolder(filepath.Join(dir, "blank")))
	var out bytes.Buffer
	require.NoError(t, sheet.BlankWorkbook(&out, props()))
	path := filepath.Join(dir, "blank.xlsx")
	require.NoError(t, os.WriteFile(path, out.Bytes(), 0o600))
	for _, from := range []string{path, filepath.Join(dir, "blank")} {
		rows, err := sheet.Load(from)
		require.NoError(t, err)
		assert.Empty(t, rows)
	}
	help, err := os.ReadFile(filepath.Join(dir, "blank", "_help.csv"))
	require.NoError(t, err)
	for _, line := range []string{
		"bath,,,\"what a tank is made up with, one row an ingredient\",,",
		"bath,tank,names the row,the tank,the name of a tank,B5",
		"tank,working volume,,of solution at its working level,\"a number with a unit, in the cell or as working volume [L] in the header: L, mL, gal, ft³, m³\",120 L",
		"receipt,containers,yes,how many,a number,4",
		"receipt,cost,,of the whole delivery,\"a number with a unit, in the cell or as cost [USD] in the header: USD\",125.00 USD",
		"location,ventilated,,by a fan or to the outside,\"yes, no\",yes",
		"shop,time zone,,for the day of today,as in the example,America/Chicago",
		"receipt,date,yes,the day it happened,a day: year-month-day,2026-03-31",
	} {
		assert.Contains(t, string(help), "\r\n"+line+"\r\n")
	}
}

// nasty are texts that have broken one sheet or another.
var nasty = []string{
	"=1+1", "'=1+1", "''@x", "+", "-", "-5", "@home", "'", "'tis", "a,b", `"`, `""quoted""`, "a;b", "1,5", "007", "1e5", "12 gal", "2026-03-31", "TRUE",
	"line\none", "line\r\ntwo", "tab\there", "🧪 ⚗️", "مغطس النيكل", "\u202eright to left", "\u200bzero width", "Ångström", "A\u030angstro\u0308m", "\ufeffmark",
	"_x0041_", "<&>", "#DIV/0!", "entry", "_help", strings.Repeat("long ", 200),
}

// text draws a value of a column: mostly one that is read.
func text(t *rapid.T, c chemicals.Column) string {
	if rapid.Bool().Draw(t, "absent") && !c.Must {
		return ""
	}
	number := rapid.StringMatching(`[1-9][0-9]{0,2}(\.[0-9]{1,3})?`)
	switch {
	case len(c.Words) > 0:
		return rapid.SampledFrom(c.Words).Draw(t, c.Name)
	case len(c.Units) > 0:
		unit := rapid.SampledFrom(c.Units).Draw(t, "unit")
		if unit == "N" {
			unit += " (1/2 H2SO4)"
		}
		if unit == "" {
			unit = rapid.SampledFrom([]string{"USD", "EUR"}).Draw(t, "currency")
		}
		written := number
		if rapid.Bool().Draw(t, "odd number") {
			written = rapid.SampledFrom([]string{"-5", "+7", ".5", "5.", "1e1", "0.050", "00.5", "-0.0", "-0", "1.23456789012345678", "\u22123"})
		}
		return written.Draw(t, c.Name) + rapid.SampledFrom([]string{" ", "", "  "}).Draw(t, "gap") + unit
	}
	return rapid.OneOf(rapid.SampledFrom(nasty), rapid.String(), rapid.Just(c.Example), number, rapid.Map(number, func(n string) string { return n + " %" })).Draw(t, c.Name)
}

// body draws a row of a kind that its kind takes.
func body(t *rapid.T, k *chemicals.Kind) chemicals.Body {
	b := chemicals.Body{}
	for _, c := range k.Columns {
		b[c.Name] = text(t, c)
	}
	for {
		tidy, err := k.Check(b)
		if err == nil {
			return tidy
		}
		for _, one := range err.(interface{ Unwrap() []error }).Unwrap() {
			name := one.(*chemicals.Problem).Where
			column, _ := k.Column(name)
			b[name] = ""
			if column.Must {
				b[name] = column.Example
			}
		}
	}
}

// tables draws a few rows of each of some kinds.
func tables(t *rapid.T) []sheet.Table {
	var all []sheet.Table
	entry := int64(0)
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(chemicals.Kinds())-1), 1, 5, rapid.ID).Draw(t, "kinds") {
		table := sheet.Table{Kind: chemicals.Kinds()[i]}
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			entry++
			table.Records = append(table.Records, chemicals.Record{Entry: entry, Kind: table.Kind, Body: body(t, table.Kind)})
		}
		all = append(all, table)
	}
	return all
}

func TestWhatIsWrittenReadsTheSame(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "book.xlsx")
	rapid.Check(t, func(t *rapid.T) {
		tables := tables(t)
		for _, k := range chemicals.Kinds() {
			_ = os.Remove(filepath.Join(dir, k.Name+".csv"))
		}
		require.NoError(t, sheet.WriteFolder(dir, tables))
		rows, err := sheet.Load(dir)
		require.NoError(t, err)
		same(t, tables, rows, true)

		var out bytes.Buffer
		err = sheet.WriteWorkbook(&out, tables, props())
		if err != nil && strings.Contains(err.Error(), "no workbook can hold") {
			return
		}
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(path, out.Bytes(), 0o600))
		rows, err = sheet.Load(path)
		require.NoError(t, err)
		same(t, tables, rows, false)
	})
}

// same compares what rows give with the records they were written from.
func same(t *rapid.T, tables []sheet.Table, rows []chemicals.Row, digits bool) {
	given := map[int64]chemicals.Row{}
	for _, row := range rows {
		given[row.Entry] = row
	}
	for _, table := range tables {
		for _, r := range table.Records {
			row := given[r.Entry]
			require.Same(t, r.Kind, row.Kind)
			require.Len(t, row.Given, len(table.Kind.Columns), "a column is missing")
			got := chemicals.Body{}
			for name, c := range row.Given {
				got[name] = c.Text
			}
			got, err := table.Kind.Check(got)
			require.NoError(t, err)
			require.True(t, table.Kind.Same(r.Body, got), "want %q\ngot %q", r.Body, got)
			for name, text := range r.Body {
				if digits {
					require.Equal(t, strings.ReplaceAll(text, " ", ""), strings.ReplaceAll(got[name], " ", ""), "digits of %s", name)
				}
			}
		}
	}
}
