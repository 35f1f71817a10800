package pdf

import (
	"strconv"
	"strings"

	"bathwarden/reports/doc"
)

// pageNumberRoom is kept free at the right of a line of the contents, mm.
const pageNumberRoom = 14.0

// contents sets a line for each heading of levels 1 and 2. The pages are not
// known yet; lead writes them when they are.
func (s *setter) contents() {
	in := headingStyles[2]
	title := lines(measure(piece{text: "Contents", style: in}).wrap(mm(s.paper.width)), 0, s.paper.width, in.lead())
	title[0].keep = true
	s.add(2*blockGap, title...)
	var strips []strip
	for i, h := range s.headings {
		if h.Level <= 2 {
			strips = append(strips, s.entry(h, i+1)...)
		}
	}
	s.add(smallGap, together(strips, s.half())...)
}

func (s *setter) entry(h doc.Heading, number int) []strip {
	in, x, hang := denseStyle, 32, 11.0
	b := band{lead: in.lead()}
	if h.Level == 1 {
		in, x, hang = bodyStyle.strong(), 0, 8.0
		b.over = 3
	}
	label := measure(piece{text: h.Number, style: in, whole: true})
	if hang = max(hang, label.natural+2); h.Number == "" {
		hang = 0
	}
	b.x, b.width = x, s.paper.width-x
	text := measure(piece{text: h.Text, style: in}).wrap(mm(b.width) - hang - pageNumberRoom)
	strips := b.set([]slot{{rows: label.wrap(hang)}, {x: hang, rows: text}}, s.third())
	last := &strips[len(strips)-1]
	last.leads = number
	return strips
}

// lead writes the page of each heading into the contents.
func (s *setter) lead(pages [][]strip) {
	at := make([]int, s.found+1)
	for i, page := range pages {
		for _, one := range page {
			at[one.target] = i + 1
		}
	}
	for _, page := range pages {
		for _, one := range page {
			if one.leads > 0 {
				one.boxes[0].lead(at[one.leads])
			}
		}
	}
}

// lead writes a page number at the right of the last line, dots before it.
func (b *box) lead(page int) {
	if len(b.words) == 0 {
		return // a heading without text
	}
	last := b.words[len(b.words)-1]
	in := last.style
	number := strconv.Itoa(page)
	x := mm(b.width) - in.width(number)
	dots := style{size: in.size}.grey()
	const step = 1.8
	from := last.x + in.width(last.text) + 2*step
	to := mm(b.width) - bodyStyle.strong().width("000") - step
	if n := int((to - from) / dots.width(" .")); n > 1 {
		text := strings.Repeat(" .", n)[1:]
		b.words = append(b.words, word{text: text, style: dots, x: to - dots.width(text), y: last.y})
	}
	b.words = append(b.words, word{text: number, style: in, x: x, y: last.y})
}
