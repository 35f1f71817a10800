package sheet

import (
	"errors"
	"fmt"
	"iter"
	"regexp"
	"strconv"

	"bathwarden/chemicals"
	"bathwarden/chemicals/workbook"
)

// workbook reads the sheets of a workbook.
func (l *load) workbook(path string) {
	file, err := workbook.Open(path)
	if err != nil {
		l.faults = append(l.faults, mended(path, err))
		return
	}
	found := false
	for _, w := range file.Sheets {
		if leftAlone(w.Name) {
			continue
		}
		if _, known := kindNamed(w.Name); !known && bare(w) {
			continue // programs put empty sheets into new workbooks
		}
		found = true
		if k := l.kind(fmt.Sprintf("sheet %q", w.Name), w.Name, ""); k != nil {
			l.sheet(k, w)
		}
	}
	if !found {
		l.fault(path, "holds no sheet of any kind", unknownKind("", ""))
	}
}

func bare(w *workbook.Worksheet) bool {
	for range w.Rows() {
		return false
	}
	return true
}

func (l *load) sheet(k *chemicals.Kind, w *workbook.Worksheet) {
	t := newTable(k, place{name: w.Name, sheet: true})
	t.read(sheetLines(w))
	t.merged(w)
	l.add(t)
}

// sheetLines runs over the rows of a sheet. The cells of a row hold until the
// next.
func sheetLines(w *workbook.Worksheet) iter.Seq[line] {
	return func(yield func(line) bool) {
		var cells []cell
		for row, err := range w.Rows() {
			if err != nil {
				yield(line{number: row.Number, faults: []error{mended(w.Name, err)}})
				return
			}
			cells = cells[:0]
			for _, c := range row.Cells {
				one := cell{text: c.Text, is: c.Kind, line: row.Number, column: c.Column}
				if c.Fault != nil {
					one.fault = mended(c.Where(), c.Fault)
				}
				cells = append(cells, one.settled())
			}
			if !yield(line{number: row.Number, cells: cells}) {
				return
			}
		}
	}
}

// mended makes a fault of the workbook one of ours.
func mended(where string, err error) error {
	var fault *workbook.Problem
	if !errors.As(err, &fault) {
		return unreadable(where, err)
	}
	p := &chemicals.Problem{Where: fault.Where, What: fault.What, Mend: fault.Mend}
	if p.Where == "" {
		p.Where = where
	}
	if p.Mend == "" {
		p.Mend = "open it in a spreadsheet program, mend it there and save it"
	}
	return p
}

var mergedFrom = regexp.MustCompile(`^([A-Z]+)(\d+):`)

// merged refuses merged cells in the rows that were read: only the first of
// them holds anything, and what the others mean is anybody's guess.
func (t *table) merged(w *workbook.Worksheet) {
	for _, cells := range w.Merged {
		from := mergedFrom.FindStringSubmatch(cells)
		if from == nil {
			continue
		}
		column := 0
		for _, letter := range from[1] {
			column = column*26 + int(letter-'A') + 1
		}
		if row, err := strconv.Atoi(from[2]); err != nil || row > t.last || column > len(t.header) {
			continue
		}
		t.fault(fmt.Sprintf("%s!%s", w.Name, cells), "the cells are merged", "part them, and fill each")
	}
}
