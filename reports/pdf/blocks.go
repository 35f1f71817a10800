package pdf

import (
	"strings"

	"bathwarden/reports/doc"
)

// lines sets each row as a strip of its own from x quarters on.
func lines(rows []line, x, width, lead int) []strip {
	if len(rows) == 0 {
		return nil
	}
	return band{x: x, width: width, lead: lead}.set([]slot{{rows: rows}}, 0)
}

func (s *setter) heading(h doc.Heading) {
	s.found++
	level := min(max(h.Level, 1), len(headingStyles)-1)
	in := headingStyles[level]
	number, indent := measure(piece{text: h.Number, style: in}), 0.0
	if number.natural > 0 {
		indent = number.natural + 0.6*in.millimetres()
	}
	text := measure(piece{text: h.Text, style: in})
	slots := []slot{{rows: number.wrap(mm(s.paper.width) / 3)}, {x: indent, rows: text.wrap(mm(s.paper.width) - indent)}}
	b := band{width: s.paper.width, lead: in.lead(), foot: 2}
	white := []int{1: 26, 2: 20, 3: 14}[level]
	if level == 1 {
		b.frame = frame{sides: bottom, thick: 0.25, tone: black}
	}
	strips := b.set(slots, s.third())
	if level == 1 {
		strips = append(strips, strip{height: smallGap})
	}
	for i := range strips {
		strips[i].keep, strips[i].title = true, true
	}
	strips[0].target, strips[0].fresh = s.found, h.Fresh
	s.add(white, strips...)
}

func (s *setter) paragraph(p doc.Paragraph) {
	pieces := append([]piece{s.emphasised(p.Text, p.Emphasis, bodyStyle, false)}, citations(p.Cites)...)
	rows := measure(pieces...).wrap(mm(s.paper.width))
	strips := lines(rows, 0, s.paper.width, bodyStyle.lead()+1)
	if n := len(strips); n > 0 && strings.HasSuffix(p.Text, ":") {
		strips[n-1].keep = true // it leads to what follows
	}
	s.add(blockGap, strips...)
}

func (s *setter) list(l doc.List) {
	const indent = 18
	dot := measure(piece{text: "•", style: bodyStyle}).wrap(mm(indent))
	for i, item := range l.Items {
		rows := s.inline(item, bodyStyle).wrap(mm(s.paper.width - indent))
		b := band{width: s.paper.width, lead: bodyStyle.lead() + 1}
		strips := b.set([]slot{{x: 1.5, rows: dot}, {x: mm(indent), rows: rows}}, s.third()/4)
		white := 2
		if i == 0 {
			white = blockGap
		}
		s.keepFirst(strips, i, len(l.Items))
		s.add(white, strips...)
	}
}

// keepFirst keeps the first of several items with the second, and the last
// with the one before it, so that none stands alone on a page.
func (s *setter) keepFirst(strips []strip, i, of int) {
	if of > 1 && (i == 0 || i == of-2) {
		strips[len(strips)-1].keep = true
	}
}

func (s *setter) notice(n doc.Notice) {
	const pad = 10
	bar := map[doc.Emphasis]int{doc.Caution: 4, doc.Over: 8}[n.Emphasis]
	f := frame{sides: left | top | right | bottom, thick: 0.2, tone: black}
	width := mm(s.paper.width - bar - 2*pad)
	title, text := s.emphasised(n.Title, n.Emphasis, bodyStyle.strong(), false), piece{text: n.Text, style: bodyStyle}
	if n.Title == "" {
		title, text = piece{}, s.emphasised(n.Text, n.Emphasis, bodyStyle, false)
	}
	rows := append(measure(title).wrap(width), measure(text).wrap(width)...)
	b := band{x: bar, width: s.paper.width - bar, lead: bodyStyle.lead() + 1, over: 6, foot: 4, frame: f}
	strips := b.set([]slot{{x: mm(pad), rows: rows}}, s.half())
	if bar > 0 {
		for i := range strips {
			strips[i].boxes = append([]box{{width: bar, frame: frame{fill: black}}}, strips[i].boxes...)
		}
	}
	s.add(blockGap, strips...)
}
