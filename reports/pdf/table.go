package pdf

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/reports/doc"
)

// entry is a measured cell.
type entry struct {
	text, cites prose
	figure      bool // a number or a day: not broken
}

// grid is a measured table, or the part of one that is as wide as the page.
type grid struct {
	caption string
	part    string // which part of a folded table it is
	style   style
	pad     int // white in each column, half of it at each side; quarters
	columns []column
	heads   []prose
	rows    [][]entry
	totals  [][]entry
	widths  []int
}

// The two settings of a table: the dense one is tried where the first is too
// wide.
var settings = [...]struct {
	style style
	pad   int
}{{tableStyle, 10}, {denseStyle, 8}}

func (s *setter) table(t doc.Table) {
	if len(t.Rows) == 0 && t.Empty != "" {
		s.emptyTable(t)
		return
	}
	if len(t.Columns) == 0 {
		return
	}
	var g grid
	for _, setting := range settings {
		g = s.measureTable(t, setting.style, setting.pad)
		if widths, ok := fit(g.columns, g.pad, s.paper.width); ok {
			g.widths = widths
			s.grid(g)
			return
		}
	}
	parts := g.parts(s.paper.width)
	for i, part := range parts {
		if len(parts) > 1 {
			part.part = fmt.Sprintf("part %d of %d", i+1, len(parts))
		}
		s.grid(part)
	}
}

func (s *setter) emptyTable(t doc.Table) {
	var strips []strip
	if t.Caption != "" {
		strips = s.caption(t.Caption)
	}
	text := measure(piece{text: t.Empty, style: bodyStyle}).wrap(mm(s.paper.width))
	s.add(blockGap, append(strips, lines(text, 0, s.paper.width, bodyStyle.lead()+1)...)...)
}

func (s *setter) caption(text string, more ...piece) []strip {
	rows := measure(append([]piece{{text: text, style: tableStyle.strong()}}, more...)...).wrap(mm(s.paper.width))
	b := band{width: s.paper.width, lead: tableStyle.lead(), foot: 3}
	strips := b.set([]slot{{rows: rows}}, s.third()/2)
	for i := range strips {
		strips[i].keep = true
	}
	return strips
}

// captioned is a caption with notes in brackets behind it.
func captioned(caption string, notes ...string) string {
	notes = slices.DeleteFunc(notes, func(n string) bool { return n == "" })
	switch in := strings.Join(notes, ", "); {
	case in == "":
		return caption
	case caption == "":
		return in
	default:
		return caption + " (" + in + ")"
	}
}

// measureTable measures every cell once.
func (s *setter) measureTable(t doc.Table, in style, pad int) grid {
	g := grid{caption: t.Caption, style: in, pad: pad, columns: make([]column, len(t.Columns))}
	for i, c := range t.Columns {
		g.heads = append(g.heads, measure(piece{text: c.Head, style: in.strong()}, piece{text: "\n" + c.Unit, style: in}))
		g.columns[i] = newColumn(c.Numeric, g.heads[i])
	}
	for _, row := range t.Rows {
		g.rows = append(g.rows, s.measureRow(row, in, g.columns))
	}
	for _, row := range t.Totals {
		g.totals = append(g.totals, s.measureRow(row, in.strong(), g.columns))
	}
	for i := range g.columns {
		g.columns[i].limit(mm(s.paper.width) / 3)
	}
	return g
}

func (s *setter) measureRow(cells []doc.Cell, in style, columns []column) []entry {
	row := make([]entry, len(cells))
	for i, c := range cells {
		text, cites := s.cell(c, in)
		e := entry{text: measure(text...), cites: measure(citations(cites)...)}
		switch c.(type) {
		case doc.Number, doc.Date:
			e.figure = true
		}
		columns[i].take(e.text, e.cites, e.figure)
		row[i] = e
	}
	return row
}

// grid sets a table: caption, head, rows, totals. The first rows stay with the
// head, the first total with the last row, and no row stands alone at the end.
func (s *setter) grid(g grid) {
	head := s.headStrips(g)
	var strips []strip
	if caption := captioned(g.caption, g.part); caption != "" {
		strips = s.caption(caption)
	}
	strips = append(strips, head...)
	again := s.again(g, head)
	all := len(g.rows) + len(g.totals)
	for i := range all {
		row := s.row(g, i, i == all-1)
		for j := range row {
			row[j].again = again
		}
		if i == 0 || i == len(g.rows)-2 || i == len(g.rows)-1 || i == all-2 {
			row[len(row)-1].keep = i < all-1
		}
		strips = append(strips, row...)
	}
	s.add(blockGap, strips...)
}

// again is what is set above the rows on each further page of a table. A head
// that would fill the page is set only once.
func (s *setter) again(g grid, head []strip) []strip {
	if height(head) > s.half() {
		return nil
	}
	if g.caption == "" && g.part == "" {
		return head
	}
	return append(s.caption(captioned(g.caption, g.part, "continued")), head...)
}

func (g grid) width() int {
	sum := 0
	for _, w := range g.widths {
		sum += w
	}
	return sum
}

func (s *setter) headStrips(g grid) []strip {
	b := band{width: g.width(), lead: g.style.lead(), over: 3, foot: 2, low: true,
		frame: frame{fill: light, sides: top | bottom, thick: 0.2, tone: black}}
	var slots []slot
	x := 0
	for i, head := range g.heads {
		inner, tail := mm(g.widths[i]-g.pad), g.columns[i].tail
		rows := head.wrap(inner)
		if above := head.wrap(inner - tail); len(above) == len(rows) && head.longest <= inner-tail {
			rows = above // set right with the figures
		} else {
			tail = 0
		}
		slots = append(slots, g.slot(i, x, rows, tail))
		x += g.widths[i]
	}
	strips := b.set(slots, s.third())
	for i := range strips {
		strips[i].keep = true
	}
	return strips
}

// slot sets lines in column i, which starts at x quarters.
func (g grid) slot(i, x int, rows []line, tail float64) slot {
	at := mm(x) + mm(g.pad)/2
	if !g.columns[i].numeric {
		return slot{x: at, rows: rows}
	}
	return slot{x: mm(x+g.widths[i]) - mm(g.pad)/2 - tail, rows: rows, right: true}
}

// row sets row i, the totals counted behind the rows, with the rule below it.
func (s *setter) row(g grid, i int, last bool) []strip {
	b := band{width: g.width(), lead: g.style.lead(), over: 3, foot: 2,
		frame: frame{sides: bottom, thick: 0.1, tone: hairline}}
	if last {
		b.frame = frame{sides: bottom, thick: 0.25, tone: black}
	}
	if i < len(g.rows) {
		return b.set(g.slots(g.rows[i]), s.third())
	}
	total := i - len(g.rows)
	strips := b.set(g.slots(g.totals[total]), s.third())
	if total == 0 {
		rule := strip{height: 2, keep: true, boxes: []box{{width: g.width(), frame: frame{fill: black}}}}
		strips = append([]strip{rule}, strips...)
	}
	return strips
}

// slots breaks the cells of a row into lines; source numbers of figures stand
// behind the figure, in the column's tail.
func (g grid) slots(cells []entry) []slot {
	var slots []slot
	x := 0
	for i, e := range cells {
		inner, tail := mm(g.widths[i]-g.pad), g.columns[i].tail
		switch {
		case len(e.text.tokens)+len(e.cites.tokens) == 0:
		case g.columns[i].numeric && tail > 0:
			slots = append(slots, g.slot(i, x, e.text.wrap(inner-tail), tail))
			cites := slot{x: mm(x+g.widths[i]) - mm(g.pad)/2 - tail + citeGap, rows: e.cites.wrap(tail - citeGap)}
			slots = append(slots, cites)
		default:
			slots = append(slots, g.slot(i, x, e.text.with(e.cites).wrap(inner), 0))
		}
		x += g.widths[i]
	}
	return slots
}

// parts folds a table that is too wide even when dense: each part repeats the
// first column, by which a row is known.
func (g grid) parts(width int) []grid {
	key := 0
	if g.columns[0].floor(g.pad) <= width/3 {
		key = 1
	}
	var parts []grid
	for next := key; next < len(g.columns); {
		chosen := []int{0}[:key]
		used := 0
		for _, i := range chosen {
			used += g.columns[i].floor(g.pad)
		}
		for begun := false; next < len(g.columns); next++ {
			used += g.columns[next].floor(g.pad)
			if begun && used > width {
				break
			}
			chosen, begun = append(chosen, next), true
		}
		parts = append(parts, g.pick(chosen, width))
	}
	return parts
}

// pick is the part of g with the chosen columns.
func (g grid) pick(chosen []int, width int) grid {
	part := grid{caption: g.caption, style: g.style, pad: g.pad,
		columns: picked(g.columns, chosen), heads: picked(g.heads, chosen)}
	for _, row := range g.rows {
		part.rows = append(part.rows, picked(row, chosen))
	}
	for _, row := range g.totals {
		part.totals = append(part.totals, picked(row, chosen))
	}
	widths, ok := fit(part.columns, part.pad, width)
	if !ok {
		panic("two columns of a third of the page each do not fit on it")
	}
	part.widths = widths
	return part
}

func picked[T any](all []T, chosen []int) []T {
	some := make([]T, len(chosen))
	for i, n := range chosen {
		some[i] = all[n]
	}
	return some
}
