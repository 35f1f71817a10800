package xlsx

import (
	"math"

	"bathwarden/chemicals/workbook"
)

// worthwhile is the least share of a table's height that merged cells must
// save: they hinder who wants to sort or filter.
const worthwhile = 0.1

// spread gives the columns of a table the columns of the sheet. A table with
// fewer than the sheet has would leave its long texts as narrow as the figures
// of another: they go on over what is free, in cells that are merged, and the
// columns behind them move on. Figures and days keep to one column.
func (p *page) spread(t *placed) {
	t.runs = make([]run, len(t.table.Columns))
	for i := range t.runs {
		t.runs[i] = run{i + 1, i + 1}
	}
	rows := p.rows(t)
	plain := p.lineCount(rows, t.runs)
	if len(t.runs) >= len(p.widths) || plain == len(rows) {
		return
	}
	if runs := p.lowest(strips(rows)); float64(p.lineCount(rows, runs)) <= (1-worthwhile)*float64(plain) {
		t.runs = runs
		setApart(rows)
	}
}

// setApart keeps texts clear of those before them, which fill their columns.
func setApart(rows [][]cell) {
	for _, cells := range rows {
		for i := 1; i < len(cells); i++ {
			cells[i].value = cells[i].value.As(workbook.Clear) // set right stays so
		}
	}
}

// rows are the head, the body and the totals of a table.
func (p *page) rows(t *placed) [][]cell {
	var rows [][]cell
	for _, l := range p.lines[t.head-1:] {
		if l.table == t {
			rows = append(rows, l.cells)
		}
	}
	return rows
}

// lineCount is how many lines of text the rows are high.
func (p *page) lineCount(rows [][]cell, runs []run) int {
	sum := 0
	for _, cells := range rows {
		lines := 1
		for i := range cells {
			lines = max(lines, cells[i].lines(p.across(runs[i])))
		}
		sum += lines
	}
	return sum
}

// strip is one column of a table: its cells from the head down.
type strip struct {
	cells []*cell
	least float64 // width that holds its figures and words
	solid bool    // it has figures or days
}

func strips(rows [][]cell) []strip {
	all := make([]strip, len(rows[0]))
	for i := range all {
		s, asks := &all[i], need{}
		for _, cells := range rows {
			s.cells = append(s.cells, &cells[i])
			s.solid = s.solid || cells[i].solid
			asks.take(cells[i])
		}
		s.least = min(max(asks.solid, min(asks.word, longWord))+padding, broadest)
	}
	return all
}

// cost is the less the better: a tall cell weighs more than two of half its
// height, for the tallest makes the row.
func (s strip) cost(width float64) float64 {
	if width < s.least {
		return math.Inf(1)
	}
	sum := 0.0
	for _, c := range s.cells {
		lines := float64(c.lines(width))
		sum += lines * lines
	}
	return sum
}

// way is the best way to lay columns of a table up to a column of the sheet.
type way struct {
	cost  float64
	first int // column of the sheet where the last of them begins
}

// lowest finds the runs of least cost, and of the fewest columns among those.
// From left to right, it takes for each column of the table, and each column of
// the sheet that it can end on, the best way to get there.
func (p *page) lowest(strips []strip) []run {
	ends := len(p.widths) + 1
	last := make([]way, ends)
	for end := 1; end < ends; end++ {
		last[end].cost = math.Inf(1)
	}
	steps := [][]way{last}
	for _, s := range strips {
		last = p.step(last, s)
		steps = append(steps, last)
	}
	end := 0
	for e, w := range last {
		if w.cost < last[end].cost {
			end = e
		}
	}
	runs := make([]run, len(strips))
	for i := len(strips) - 1; i >= 0; i-- {
		runs[i] = run{steps[i+1][end].first, end}
		end = runs[i].first - 1
	}
	return runs
}

// step lays one more column of a table behind those laid already.
func (p *page) step(before []way, s strip) []way {
	after := make([]way, len(before))
	for end := range after {
		after[end].cost = math.Inf(1)
		for first := end; first > 0 && (first == end || !s.solid); first-- {
			if math.IsInf(before[first-1].cost, 1) {
				continue
			}
			if cost := before[first-1].cost + s.cost(p.across(run{first, end})); cost < after[end].cost {
				after[end] = way{cost, first}
			}
		}
	}
	return after
}
