package text

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/reports/doc"
)

// between parts the columns of a table.
const between = "  "

// longWord is the most that an unbroken word may ask of a column.
const longWord = 24

// set is a cell made ready: its tail, source numbers and mark, stands behind
// the figure so that the digits of a column stay in line.
type set struct {
	text   string
	tail   string
	figure bool // must not be broken
}

func (s set) whole() string { return join(s.text, s.tail) }

func (p *printer) set(c doc.Cell) set {
	switch c := c.(type) {
	case doc.Text:
		return set{text: visible(join(c.Is, cites(c.Cites))), tail: p.mark(c.Emphasis)}
	case doc.Number:
		return set{text: visible(c.String()), tail: join(cites(c.Cites), p.mark(c.Emphasis)), figure: true}
	case doc.Date:
		return set{text: c.String(), tail: p.mark(c.Emphasis), figure: true}
	case doc.Blank:
		return set{text: visible(c.String())}
	}
	return set{}
}

// grid is a table made ready.
type grid struct {
	heads  []string
	right  []bool
	rows   [][]set
	body   int   // rows above the rule of the totals
	tails  []int // width of the tails of each column of figures
	widths []int
}

func (p *printer) table(t doc.Table) error {
	if t.Caption != "" {
		p.say("", "", t.Caption)
	}
	if len(t.Rows) == 0 && len(t.Totals) == 0 {
		p.say("  ", "  ", t.Empty)
		return nil
	}
	g, err := p.grid(t)
	if err != nil {
		return err
	}
	if !g.fit(p.width) {
		p.records(g, t.Empty)
		return nil
	}
	p.cells(g.headLines())
	p.rule(g)
	if len(t.Rows) == 0 {
		p.say("  ", "  ", t.Empty)
	}
	for i, row := range g.rows {
		if i == g.body {
			p.rule(g)
		}
		p.cells(g.lines(row))
	}
	return nil
}

func (p *printer) cells(lines []string) {
	for _, l := range lines {
		p.line(l)
	}
}

func (p *printer) rule(g *grid) {
	total := (len(g.widths) - 1) * len(between)
	for _, w := range g.widths {
		total += w
	}
	p.line(strings.Repeat("-", total))
}

func (p *printer) grid(t doc.Table) (*grid, error) {
	g := &grid{body: len(t.Rows), tails: make([]int, len(t.Columns))}
	for _, c := range t.Columns {
		head := c.Head
		if c.Unit != "" {
			head += " [" + c.Unit + "]"
		}
		g.heads = append(g.heads, visible(head))
		g.right = append(g.right, c.Numeric)
	}
	for i, row := range slices.Concat(t.Rows, t.Totals) {
		if len(row) != len(t.Columns) {
			return nil, fmt.Errorf("table %q, row %d: %d cells for %d columns", t.Name, i+1, len(row), len(t.Columns))
		}
		cells := make([]set, len(row))
		for j, c := range row {
			cells[j] = p.set(c)
			if s := cells[j]; s.figure && s.tail != "" {
				g.tails[j] = max(g.tails[j], 1+columns(s.tail))
			}
		}
		g.rows = append(g.rows, cells)
	}
	return g, nil
}

// fit gives each column its width. It takes from the widest column of text
// until the table fits, and fails when that would break words or figures.
func (g *grid) fit(width int) bool {
	least := make([]int, len(g.heads))
	g.widths = make([]int, len(g.heads))
	total := (len(g.heads) - 1) * len(between)
	for j, head := range g.heads {
		g.widths[j], least[j] = columns(head), longest(head)
		for _, row := range g.rows {
			whole, must := row[j].needs(g.tails[j])
			g.widths[j], least[j] = max(g.widths[j], whole), max(least[j], must)
		}
		total += g.widths[j]
	}
	for ; total > width; total-- {
		widest := -1
		for j, w := range g.widths {
			if w > least[j] && (widest < 0 || w > g.widths[widest]) {
				widest = j
			}
		}
		if widest < 0 {
			return false
		}
		g.widths[widest]--
	}
	return true
}

// needs is the width of a cell in one line, and the least it can do with.
func (s set) needs(tail int) (whole, least int) {
	if s.figure {
		n := columns(s.text) + tail
		return n, n
	}
	for line := range strings.SplitSeq(s.whole(), "\n") {
		whole = max(whole, columns(line))
	}
	return whole, min(longest(s.whole()), longWord)
}

func longest(text string) int {
	most := 0
	for word := range strings.FieldsSeq(text) {
		most = max(most, columns(word))
	}
	return most
}

func (g *grid) headLines() []string {
	heads := make([]set, len(g.heads))
	for j, h := range g.heads {
		heads[j] = set{text: h}
	}
	return g.lines(heads)
}

// lines sets one row of cells side by side.
func (g *grid) lines(row []set) []string {
	cells, tall := make([][]string, len(row)), 1
	for j, s := range row {
		if s.figure {
			cells[j] = []string{s.text + pad(prefixed(s.tail), g.tails[j], false)}
		} else {
			cells[j] = wrap(s.whole(), g.widths[j])
		}
		tall = max(tall, len(cells[j]))
	}
	lines := make([]string, tall)
	for i := range lines {
		parts := make([]string, len(row))
		for j := range row {
			parts[j] = pad(at(cells[j], i), g.widths[j], g.right[j])
		}
		lines[i] = strings.Join(parts, between)
	}
	return lines
}

func prefixed(tail string) string {
	if tail == "" {
		return ""
	}
	return " " + tail
}

// records sets a table that is too wide row by row, each cell behind its head.
func (p *printer) records(g *grid, whenEmpty string) {
	if g.body == 0 {
		p.say("  ", "  ", whenEmpty)
	}
	for i, row := range g.rows {
		switch {
		case i == g.body:
			p.line(strings.Repeat("-", p.width/2))
		case i > 0:
			p.gap()
		}
		for j, s := range row {
			if whole := s.whole(); whole != "" {
				p.say("  ", "    ", g.heads[j]+": "+whole)
			}
		}
	}
}
