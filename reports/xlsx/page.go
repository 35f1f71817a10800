package xlsx

import (
	"math"

	"bathwarden/chemicals/workbook"
)

// Widths are counted in digits of the body font, as the format does.
const (
	portrait  = 96.0  // what an upright sheet of Letter or A4 holds at full size
	landscape = 130.0 // and one on its side
	prose     = 90.0  // the least that running text is given
	filler    = 9.0   // a column that no table uses
	fewest    = 4     // columns, for the lines to sign on
	narrowest = 7.0
	broadest  = 250.0 // the format allows 255
	longWord  = 24.0  // longer words are broken
	padding   = 2.5
	blankWide = 18.0            // wider than this no column becomes for what is not known
	rest      = math.MaxFloat64 // as far as the page goes
	lineTall  = 15.0            // points; of one line of the body font
	titleTall = 21.0            // and of one of a title
	footTall  = 12.0
	mostTall  = 409.0 // that a row of the format can be; what is longer is there but not seen whole
	signTall  = 36.0

	// Points between the margins of a printed page, of Letter or A4 whichever
	// has fewer. A page that is fitted to the paper's width holds no less.
	uprightRoom = 684.0 // Letter, 11 in
	onSideRoom  = 487.0 // A4, 210 mm
)

// page is one sheet: its lines, and the widths that its tables need.
type page struct {
	title   string
	sheet   *workbook.Sheet
	lines   []line
	heading int // the last line that is a heading below the title
	tables  []*placed
	widths  []float64
	merges  [][4]int

	charts   []*charted
	pictures []picture
}

// line is one row of the sheet.
type line struct {
	cells  []cell
	table  *placed // that it is a row or the head of; nil for other lines
	tall   float64 // points of one line of text in it
	height float64 // of the whole; 0 leaves it to the spreadsheet program
}

// cell is what stands in a line from one column on, over as many as it wants.
type cell struct {
	value workbook.Value
	shown string // what the reader sees, to measure it
	solid bool   // a figure or day, which does not wrap
	blank bool   // not known, and why
	want  float64
	jump  *spot
	live  *live

	run // the columns it got
}

// run is columns that stand side by side.
type run struct{ first, last int }

// spot is a place in the workbook.
type spot struct {
	page *page
	row  int
}

func text(is string, style workbook.Style) cell {
	return cell{value: workbook.Text(is).As(style | workbook.Wrap), shown: is}
}

func (c cell) over(width float64) cell { c.want = width; return c }

// add appends a line and gives its row.
func (p *page) add(tall float64, cells ...cell) int {
	p.lines = append(p.lines, line{cells: cells, tall: tall})
	return len(p.lines)
}

// say adds running text over the whole width.
func (p *page) say(is string, style workbook.Style) int {
	return p.add(lineTall, text(is, style).over(rest))
}

// gap parts blocks by an empty line, but not a heading from what it heads.
func (p *page) gap() {
	if n := len(p.lines); n > 0 && n != p.heading {
		p.add(lineTall)
	}
}

// fit chooses the widths of the columns, then gives each cell its columns and
// each line that wraps its height: not all spreadsheet programs do so on their
// own, and none does for merged cells.
func (p *page) fit() {
	p.chooseWidths()
	for _, t := range p.tables {
		p.spread(t)
	}
	for row := range p.lines {
		l := &p.lines[row]
		next, lines := 1, 1
		for i := range l.cells {
			c := &l.cells[i]
			width := p.place(l, i, next)
			next = c.last + 1
			if l.tall == titleTall {
				width *= lineTall / titleTall
			}
			lines = max(lines, c.lines(width))
			if c.last > c.first {
				p.merges = append(p.merges, [4]int{c.first, row + 1, c.last, row + 1})
			}
		}
		if lines > 1 || l.tall != lineTall {
			l.height = min(l.tall*float64(lines), mostTall)
		}
	}
}

// place gives the cell its columns, as its table has them or else from next
// on, leaving one for each cell behind it, and says how wide they are.
func (p *page) place(l *line, cell, next int) float64 {
	c := &l.cells[cell]
	if l.table != nil {
		c.run = l.table.runs[cell]
		return p.across(c.run)
	}
	last := len(p.widths) - (len(l.cells) - 1 - cell)
	c.first, c.last = next, next
	for p.across(c.run) < c.want && c.last < last {
		c.last++
	}
	return p.across(c.run)
}

// across is how wide the columns of a run are together.
func (p *page) across(r run) float64 {
	width := 0.0
	for _, w := range p.widths[r.first-1 : r.last] {
		width += w
	}
	return width
}

// lines counts the lines that a cell takes in columns of that width.
func (c *cell) lines(width float64) int {
	if c.solid {
		return 1
	}
	return wrapped(c.shown, width-padding/2)
}
