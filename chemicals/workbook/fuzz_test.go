package workbook_test

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"bathwarden/chemicals/workbook"
)

// FuzzRead feeds damaged files: the reader answers with a Problem or with
// sound cells, and never panics.
func FuzzRead(f *testing.F) {
	good := pack(f, "", `<sheetData><row r="1"><c r="A1" t="s"><v>1</v></c><c r="B1" s="2"><v>46112</v></c></row></sheetData>`)
	f.Add(good)
	f.Add(good[:len(good)-30])
	f.Add([]byte("PK\x03\x04"))
	f.Add([]byte{0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1})
	random := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		damaged := bytes.Clone(good)
		for range 1 + random.IntN(4) {
			damaged[random.IntN(len(damaged))] ^= byte(1 << random.IntN(8))
		}
		f.Add(damaged)
	}
	f.Fuzz(func(t *testing.T, data []byte) { sound(t, data) })
}

// FuzzSheet damages the XML within a sound file.
func FuzzSheet(f *testing.F) {
	good := `<sheetData><row r="1"><c r="A1" t="s"><v>1</v></c><c s="2"><v>46112.5</v></c><c r="D1" t="str"><f>1+1</f><v>x</v></c></row>` +
		`<row><c t="inlineStr"><is><r><t>a</t></r><rPh><t>b</t></rPh></is></c><c t="e"><v>#REF!</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells>`
	f.Add(good)
	for i := 0; i < len(good); i += 7 {
		f.Add(good[:i])
		f.Add(good[:i] + good[min(i+9, len(good)):])
	}
	f.Fuzz(func(t *testing.T, sheet string) { sound(t, pack(t, "", sheet)) })
}

func sound(t *testing.T, data []byte) {
	file, err := workbook.Read(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		isProblem(t, err)
		return
	}
	for _, w := range file.Sheets {
		last := 0
		for row, err := range w.Rows() {
			if err != nil {
				isProblem(t, err)
				break
			}
			if row.Number <= last || len(row.Cells) == 0 {
				t.Fatalf("row %d with %d cells follows row %d", row.Number, len(row.Cells), last)
			}
			last = row.Number
			checkCells(t, row)
		}
	}
}

func isProblem(t *testing.T, err error) {
	t.Helper()
	var p *workbook.Problem
	if !errors.As(err, &p) || p.What == "" || p.Mend == "" {
		t.Fatalf("got %#v, want a problem and how to mend it", err)
	}
}

func checkCells(t *testing.T, row workbook.Row) {
	column := 0
	for _, c := range row.Cells {
		switch {
		case c.Column <= column || c.Ref != workbook.Ref(c.Column, row.Number):
			t.Fatalf("cell %s in row %d behind column %d", c.Ref, row.Number, column)
		case c.Kind == workbook.KindEmpty && (c.Text != "" || c.Fault == nil && c.Formula == ""):
			t.Fatalf("%s: an empty cell with text %q, fault %v", c.Where(), c.Text, c.Fault)
		case c.Kind == workbook.KindNumber:
			if _, err := strconv.ParseFloat(strings.TrimSuffix(c.Text, " %"), 64); err != nil {
				t.Fatalf("%s: number %q: %v", c.Where(), c.Text, err)
			}
		}
		if !utf8.ValidString(c.Text) {
			t.Fatalf("%s: %q is not UTF-8", c.Where(), c.Text)
		}
		column = c.Column
	}
}
