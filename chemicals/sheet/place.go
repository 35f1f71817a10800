package sheet

import (
	"strconv"
	"strings"

	"bathwarden/chemicals/workbook"
)

// place is the file or sheet that is being read, and names what stands in it.
type place struct {
	name  string
	sheet bool // of a workbook
}

// row names a row: "bath.csv line 14", "bath!A14".
func (p place) row(number int) string {
	if p.sheet {
		return p.name + "!" + workbook.Ref(1, number)
	}
	return p.name + " line " + strconv.Itoa(number)
}

// cell names a cell: "bath.csv line 14, concentration", "bath!D14". The words
// of its column are empty where it has none.
func (p place) cell(c cell, words string) string {
	switch {
	case p.sheet:
		return p.name + "!" + workbook.Ref(c.column, c.line)
	case words == "":
		words = p.column(c.column)
	}
	return p.row(c.line) + ", " + words
}

// column names a column by its place.
func (p place) column(number int) string {
	if p.sheet {
		return "column " + workbook.Letters(number)
	}
	return "column " + strconv.Itoa(number)
}

// cell is one cell as it stands in a file or sheet.
type cell struct {
	text   string
	is     workbook.Kind // in CSV a text or nothing
	line   int           // where it begins
	column int           // from 1
	fault  error         // why it cannot be used
}

// settled counts blanks as nothing.
func (c cell) settled() cell {
	if c.is == workbook.KindText && strings.TrimSpace(c.text) == "" {
		c.is, c.text = workbook.KindEmpty, ""
	}
	return c
}

func (c cell) empty() bool { return c.is == workbook.KindEmpty && c.fault == nil }

// line is one row of cells, in the order of their columns; empty ones may be
// left out.
type line struct {
	number int
	cells  []cell
	faults []error // why it cannot be read
}

func (l line) blank() bool {
	for _, c := range l.cells {
		if !c.empty() {
			return false
		}
	}
	return true
}
