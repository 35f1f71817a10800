package pdf

import "bathwarden/reports/doc"

// plan sets d on pages of the paper. The strips of a page, head and foot
// included, add up to the paper's height.
func plan(d *doc.Document, paper sheet) [][]strip {
	s := compose(d, paper)
	room := paper.height - height(s.foot)
	bodies := s.bodies()
	pages := make([][]strip, len(bodies))
	for i, body := range bodies {
		var page []strip
		if i > 0 {
			page = append(page, s.head...)
		}
		page = append(page, body...)
		if white := room - height(page); white > 0 {
			page = append(page, strip{height: white})
		}
		pages[i] = append(page, s.numberedFoot(i+1, len(bodies))...)
	}
	return pages
}

// bodies are the pages between head and foot.
func (s *setter) bodies() [][]strip {
	room := s.paper.height - height(s.foot)
	bodies := paginate(s.strips, room, room-height(s.head))
	s.lead(bodies)
	return bodies
}

// keepHeadings keeps a strip of one line below a heading with the next strip,
// so that a heading has two lines below it on its page even where the first is
// a block by itself.
func keepHeadings(strips []strip) {
	for i := range len(strips) - 2 {
		if strips[i].title && !strips[i+1].title && strips[i+1].lines < 2 && !strips[i+2].title {
			strips[i+1].keep = true
		}
	}
}

// paginate deals strips to pages: first is the room on the first page, rest
// that on the others. Strips that are to stay together do so unless they need
// more than a page.
func paginate(strips []strip, first, rest int) [][]strip {
	p := pager{room: first, rest: rest}
	for len(strips) > 0 {
		n := 1
		for n < len(strips) && strips[n-1].keep {
			n++
		}
		chunk := strips[:n]
		if p.begun && (chunk[0].fresh || p.used+chunk[0].before+height(chunk) > p.room) {
			p.turn(chunk[0].again)
		}
		for _, s := range chunk {
			p.place(s)
		}
		strips = strips[n:]
	}
	return append(p.pages, p.page)
}

type pager struct {
	pages      [][]strip
	page       []strip
	used, room int
	rest       int
	begun      bool // the page holds more than what is set again at its top
}

func (p *pager) place(s strip) {
	if p.begun && p.used+s.before+s.height > p.room {
		p.turn(s.again)
	}
	if p.begun && s.before > 0 {
		p.put(strip{height: s.before})
	}
	p.put(s)
	p.begun = true
}

func (p *pager) put(s strip) {
	s.before = 0
	p.page = append(p.page, s)
	p.used += s.height
}

func (p *pager) turn(again []strip) {
	p.pages = append(p.pages, p.page)
	p.page, p.used, p.room, p.begun = nil, 0, p.rest, false
	for _, s := range again {
		p.put(s)
	}
}
