package pdf

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/reports/doc"
)

// titleBlock is the head of the first page: whose paper, what it is, the days,
// that the data are invented, and the deferral.
func (s *setter) titleBlock(d *doc.Document) {
	h := d.Head
	s.ends(h.Shop, "as of "+h.AsOf, bodyStyle.strong(), bodyStyle, frame{sides: bottom, thick: 0.5, tone: black})
	s.title(h.Title, titleStyle, 14)
	s.title(h.Subtitle, subtitleStyle, 3)
	if h.Period != "" {
		s.title("Period: "+h.Period, bodyStyle, 4)
	}
	if h.Example != "" {
		s.add(8, s.frameText(piece{text: h.Example, style: bodyStyle.strong()}, frame{fill: light})...)
	}
	s.add(8, s.frameText(piece{text: d.Deferral, style: bodyStyle},
		frame{sides: left | top | right | bottom, thick: 0.2, tone: black})...)
}

func (s *setter) title(text string, in style, white int) {
	rows := measure(piece{text: text, style: in}).wrap(mm(s.paper.width))
	s.add(white, lines(rows, 0, s.paper.width, in.lead())...)
}

// frameText sets text in a frame.
func (s *setter) frameText(p piece, f frame) []strip {
	const pad = 10
	rows := measure(p).wrap(mm(s.paper.width - 2*pad))
	b := band{width: s.paper.width, lead: p.style.lead() + 1, over: 6, foot: 4, frame: f}
	return b.set([]slot{{x: mm(pad), rows: rows}}, s.half())
}

// ends sets one text at the left and one at the right of a line.
func (s *setter) ends(one, other string, in, in2 style, f frame) {
	r := measure(piece{text: other, style: in2, whole: true}).wrap(mm(s.paper.width) / 2)
	l := measure(piece{text: one, style: in}).wrap(mm(s.paper.width)*0.98 - widest(r))
	b := band{width: s.paper.width, lead: in.lead(), foot: 4, frame: f}
	s.add(0, b.set([]slot{{rows: l}, {x: mm(s.paper.width), rows: r, right: true}}, s.third())...)
}

func widest(rows []line) float64 {
	var w float64
	for _, r := range rows {
		w = max(w, r.width)
	}
	return w
}

// runningHead stands on every page but the first.
func (s *setter) runningHead(h doc.Head) []strip {
	in := smallStyle
	asOf := measure(piece{text: "as of " + h.AsOf, style: in, whole: true}).wrap(mm(s.paper.width) / 3)
	width := mm(s.paper.width)*0.98 - widest(asOf)
	title := []piece{{text: h.Title, style: in.strong()}}
	if h.Shop != "" {
		title = append(title, piece{text: "· " + h.Shop, style: in})
	}
	text := shorten(title, width)
	b := band{width: s.paper.width, lead: in.lead(), foot: 3, frame: frame{sides: bottom, thick: 0.2, tone: black}}
	head := b.set([]slot{{rows: text}, {x: mm(s.paper.width), rows: asOf, right: true}}, s.third())
	return append(head, strip{height: 14})
}

// shorten is text on one line, cut where it is wider than width; the whole of
// it stands on the first page.
func shorten(pieces []piece, width float64) []line {
	const cut = " …"
	for i := range pieces {
		pieces[i].text = strings.ReplaceAll(pieces[i].text, "\n", " ")
	}
	p := measure(pieces...)
	if p.natural <= width {
		return p.wrap(width)
	}
	rows := p.wrap(width - pieces[0].style.width(cut))
	last := &rows[0].runs[len(rows[0].runs)-1]
	last.text += cut
	return rows[:1]
}

// pageFoot stands on every page: by it the paper can be printed again.
func (s *setter) pageFoot(d *doc.Document) []strip {
	in := footStyle
	strips := []strip{{height: 8}}
	if d.Head.Example != "" {
		b := band{width: s.paper.width, lead: in.lead(), foot: 3}
		strips = append(strips, b.set([]slot{{rows: shorten([]piece{{text: d.Head.Example, style: in.strong()}}, mm(s.paper.width))}}, s.third())...)
	}
	who := joined(d.Head.Kind, "as of "+d.Foot.AsOf, d.Head.Shop) // a long name is cut, not the day
	rule := frame{sides: top, thick: 0.2, tone: black}
	upper := band{width: s.paper.width, lead: in.lead(), over: 3, frame: rule}
	strips = append(strips, upper.set([]slot{{rows: shorten([]piece{{text: who, style: in}}, mm(s.paper.width)-pageOfRoom)}}, s.third())...)
	key := measure(s.key(in)...).wrap(mm(s.paper.width) / 2)
	lower := band{width: s.paper.width, lead: in.lead()}
	traced := shorten([]piece{{text: trace(d.Foot), style: in}}, mm(s.paper.width)*0.98-widest(key))
	return append(strips, lower.set([]slot{{rows: traced}, {x: mm(s.paper.width), rows: key, right: true}}, s.third())...)
}

// key explains the marks of emphasis if there are any.
func (s *setter) key(in style) []piece {
	if !s.marked {
		return nil
	}
	return []piece{
		{text: cautionMark, style: in.strong()}, {text: "missing, stale or hazardous  ", style: in},
		{text: overMark, style: in.strong()}, {text: "beyond a limit", style: in},
	}
}

func trace(f doc.Foot) string {
	entry := "no entry"
	if f.Entry > 0 {
		entry = fmt.Sprintf("entry %d, hash %.16s", f.Entry, f.Hash)
	}
	tables := ""
	if f.Tables != "" {
		tables = fmt.Sprintf("tables %.12s", f.Tables)
	}
	return joined(f.Program, tables, entry)
}

func joined(parts ...string) string {
	var filled []string
	for _, p := range parts {
		if p != "" {
			filled = append(filled, p)
		}
	}
	return strings.Join(filled, " · ")
}

// pageOfRoom is kept free for "Page 1234 of 5678", mm.
const pageOfRoom = 32.0

// numberedFoot is the foot of page n: the number stands on its last line but one.
func (s *setter) numberedFoot(n, of int) []strip {
	in := footStyle.strong()
	page := slices.Clone(s.foot)
	with := &page[len(page)-2]
	text := fmt.Sprintf("Page %d of %d", n, of)
	one := with.boxes[0]
	y := one.words[0].y
	one.words = append(slices.Clone(one.words),
		word{text: text, style: in, x: mm(s.paper.width) - in.width(text), y: y})
	with.boxes = []box{one}
	return page
}
