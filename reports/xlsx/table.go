package xlsx

import (
	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
)

// placed is a table in its place.
type placed struct {
	table doc.Table
	page  *page
	head  int // row of its head
	first int // rows of its body; one, empty, where the table has none
	last  int
	runs  []run // by column, in order
}

// live is a figure whose formula is resolved once all tables have their place.
type live struct {
	table  *placed
	column int
	row    int // of the sheet; 0 in a total, which sums the column
	number doc.Number
	style  workbook.Style
}

func (p *paper) table(at *page, t doc.Table) {
	if _, double := p.tables[t.Name]; double || t.Name == "" {
		p.fault("table %q: the name is missing or not the only one", t.Name)
	}
	if t.Caption != "" {
		at.say(t.Caption, workbook.Strong)
	}
	here := &placed{table: t, page: at}
	p.tables[t.Name] = here
	at.tables = append(at.tables, here)
	here.head = here.add(heads(t))
	here.first = here.head + 1
	for i, row := range t.Rows {
		p.row(here, i, row, workbook.Rows, len(at.lines)+1)
	}
	if len(t.Rows) == 0 {
		at.say(t.Empty, workbook.Small)
	}
	here.last = len(at.lines)
	for i, row := range t.Totals {
		p.row(here, i, row, workbook.Total, 0)
	}
}

func heads(t doc.Table) []cell {
	cells := make([]cell, len(t.Columns))
	for i, c := range t.Columns {
		cells[i] = text(head(c), workbook.Head|side(t, i))
	}
	return cells
}

// side is where a column sets its cells.
func side(t doc.Table, column int) workbook.Style {
	switch {
	case t.Columns[column].Numeric:
		return workbook.Right
	case column > 0 && t.Columns[column-1].Numeric:
		return workbook.Clear
	}
	return workbook.Left
}

func head(c doc.Column) string {
	if c.Unit == "" {
		return c.Head
	}
	return c.Head + " [" + c.Unit + "]"
}

// row places a row of the body, or a total when sheetRow is 0.
func (p *paper) row(here *placed, n int, row []doc.Cell, style workbook.Style, sheetRow int) {
	if len(row) != len(here.table.Columns) {
		p.fault("table %q, row %d: %d cells for %d columns", here.table.Name, n+1, len(row), len(here.table.Columns))
		return
	}
	cells := make([]cell, len(row))
	for i, value := range row {
		looks := style | side(here.table, i)
		cells[i] = p.cell(value, where(here.table, n, i))
		cells[i].value = cells[i].value.As(looks)
		if number, ok := value.(doc.Number); ok && number.Live {
			cells[i].live = &live{table: here, column: i, row: sheetRow, number: number, style: looks}
		}
	}
	here.add(cells)
}

// add appends a row or head, and gives its row of the sheet.
func (t *placed) add(cells []cell) int {
	row := t.page.add(lineTall, cells...)
	t.page.lines[row-1].table = t
	return row
}

// resolve writes the formulas of all live figures.
func (p *paper) resolve() {
	for _, page := range p.pages {
		for i := range page.lines {
			for j := range page.lines[i].cells {
				c := &page.lines[i].cells[j]
				if c.live == nil {
					continue
				}
				formula, err := p.formula(c.live)
				if err != nil {
					p.faults = append(p.faults, err)
					continue
				}
				c.value = figure(c.live.number, workbook.Live(formula, c.live.number.Is)).value.As(c.live.style)
			}
		}
	}
}
