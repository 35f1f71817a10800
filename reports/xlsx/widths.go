package xlsx

import (
	"strings"
	"unicode/utf8"
)

// chooseWidths narrows the columns of text until the tables fit: an upright
// page if that leaves its texts readable, else a page on its side.
func (p *page) chooseWidths() {
	columns := p.columns()
	for widest := 60.0; widest >= 26; widest-- {
		if p.widths = widths(columns, widest); p.width() <= portrait {
			break
		}
	}
	if p.width() > portrait {
		for widest := 60.0; widest >= 10; widest-- {
			if p.widths = widths(columns, widest); p.width() <= landscape {
				break
			}
		}
	}
	for p.width() < prose || len(p.widths) < fewest {
		p.widths = append(p.widths, filler)
	}
}

// onSide tells whether the page is printed on its side.
func (p *page) onSide() bool { return p.width() > portrait }

func (p *page) width() float64 {
	sum := 0.0
	for _, w := range p.widths {
		sum += w
	}
	return sum
}

// need is what the cells of a column ask for: the longest figure, remark on
// what is not known, text, and word of a text.
type need struct{ solid, blank, text, word float64 }

// columns gathers the needs of all cells that do not spread over columns.
func (p *page) columns() []need {
	var all []need
	for _, l := range p.lines {
		for i, c := range l.cells {
			if c.want > 0 {
				break
			}
			if i == len(all) {
				all = append(all, need{})
			}
			all[i].take(c)
		}
	}
	return all
}

func (n *need) take(c cell) {
	whole := longest(strings.FieldsFunc(c.shown, lineEnd))
	switch {
	case c.solid:
		n.solid = max(n.solid, whole)
	case c.blank:
		n.blank = max(n.blank, whole)
	default:
		n.text = max(n.text, whole)
		n.word = max(n.word, longest(strings.Fields(c.shown)))
	}
}

// widths is what the columns get when texts wrap at widest. Figures and days
// do not wrap, and words are not broken if that can be helped.
func widths(columns []need, widest float64) []float64 {
	var all []float64
	for _, n := range columns {
		width := max(n.solid, min(n.blank, blankWide, widest), min(n.text, widest), min(n.word, longWord))
		all = append(all, min(max(width+padding, narrowest), broadest))
	}
	return all
}

func lineEnd(r rune) bool { return r == '\n' }

func longest(parts []string) float64 {
	most := 0
	for _, part := range parts {
		most = max(most, utf8.RuneCountInString(part))
	}
	return float64(most)
}

// wrapped counts the lines that text takes. Letters are on the whole narrower
// than digits, so it errs towards room to spare.
func wrapped(text string, width float64) int {
	lines := 0
	for part := range strings.SplitSeq(text, "\n") {
		lines++
		at := 0.0
		for word := range strings.FieldsSeq(part) {
			n := float64(utf8.RuneCountInString(word))
			if at > 0 && at+1+n > width {
				lines++
				at = 0
			}
			for n > width {
				lines++
				n -= width
			}
			if at > 0 {
				at++
			}
			at += n
		}
	}
	return lines
}
