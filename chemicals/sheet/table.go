package sheet

import (
	"fmt"
	"iter"
	"strconv"
	"strings"

	"bathwarden/chemicals"
)

// firstRows is how far down a header is looked for, to hint at it.
const firstRows = 10

// table is one file or sheet being read.
type table struct {
	kind   *chemicals.Kind
	place  place
	header []field // nil before the header row
	rows   []chemicals.Row
	faults []error

	lost   *chemicals.Problem // the first row is no header
	sought int                // rows looked at since
	last   int                // number of the last row that holds anything
}

func newTable(k *chemicals.Kind, p place) *table { return &table{kind: k, place: p} }

func (t *table) fault(where, what, mend string) {
	t.faults = append(t.faults, &chemicals.Problem{Where: where, What: what, Mend: mend})
}

// read takes all rows; one without a header is a fault.
func (t *table) read(lines iter.Seq[line]) {
	for l := range lines {
		if !t.take(l) {
			break
		}
	}
	if t.header == nil && len(t.faults) == 0 {
		t.fault(t.place.row(1), "there is no header", "write the columns above the rows: "+strings.Join(columnNames(t.kind), ", "))
	}
}

// take reads one row and reports whether more are wanted.
func (t *table) take(l line) bool {
	if t.lost != nil {
		return t.seek(l)
	}
	t.faults = append(t.faults, l.faults...)
	switch {
	case len(l.faults) > 0:
		return t.header != nil // a header that cannot be read says nothing of the rows
	case l.blank():
	case t.header == nil:
		t.head(l)
	default:
		t.last = l.number
		t.row(l)
	}
	return true
}

// seek looks whether the header stands further down.
func (t *table) seek(l line) bool {
	if known, filled := columnsNamed(t.kind, l); known > 1 && known == filled {
		t.lost.Mend = fmt.Sprintf("delete the rows above the header, which seems to be %s", t.place.row(l.number))
		return false
	}
	t.sought++
	return t.sought < firstRows
}

// row reads one row below the header.
func (t *table) row(l line) {
	row := chemicals.Row{Kind: t.kind, Where: t.place.row(l.number), Given: make(map[string]chemicals.Cell, len(t.header))}
	next := 0
	for i := range t.header {
		c := cell{line: l.number, column: i + 1}
		if next < len(l.cells) && l.cells[next].column == i+1 {
			c, next = l.cells[next], next+1
		}
		t.value(&row, &t.header[i], c)
	}
	for _, c := range l.cells[next:] {
		if !c.empty() {
			t.fault(t.place.cell(c, ""), fmt.Sprintf("%s stands beyond the last column of the header", quoted(c.text)), t.beyond())
			break
		}
	}
	t.rows = append(t.rows, row)
}

func (t *table) beyond() string {
	if t.place.sheet {
		return "delete it, or write a header above it"
	}
	return "put a cell that holds the separator into quotes, or delete what is too much"
}

// value reads one cell into its row.
func (t *table) value(row *chemicals.Row, f *field, c cell) {
	var problem *chemicals.Problem
	text := ""
	switch {
	case c.fault != nil:
		t.faults = append(t.faults, c.fault)
		return
	case f.refuse:
		return
	case f.entry:
		row.Entry, problem = entryNumber(c)
	case f.column != nil:
		text, problem = f.text(c, t.place.sheet)
	case !c.empty() && !f.told:
		f.told = true
		problem = &chemicals.Problem{What: fmt.Sprintf("%s stands under no header", quoted(c.text)), Mend: "write a header above it, or delete it"}
	}
	switch {
	case problem != nil:
		problem.Where = t.place.cell(c, f.words())
		t.faults = append(t.faults, problem)
	case f.column != nil:
		row.Given[f.column.Name] = chemicals.Cell{Text: text, Where: t.place.cell(c, f.column.Name)}
	}
}

func entryNumber(c cell) (int64, *chemicals.Problem) {
	if c.empty() {
		return 0, nil
	}
	n, err := strconv.ParseInt(strings.TrimSpace(c.text), 10, 64)
	if err != nil || n < 1 {
		return 0, &chemicals.Problem{What: quoted(c.text) + " is not the number of an entry", Mend: "leave what export wrote, or leave it empty for a new row"}
	}
	return n, nil
}

func quoted(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return strconv.Quote(text)
}
