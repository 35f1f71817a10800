package pdf

import "bathwarden/reports/doc"

// signOff sets a statement and a line to sign on for each role. It stays on
// one page.
func (s *setter) signOff(f doc.SignOff) {
	strips := lines(measure(piece{text: f.Statement, style: bodyStyle}).wrap(mm(s.width)), 0, s.width, bodyStyle.lead()+1)
	for _, role := range f.Roles {
		strips = append(strips, s.signatureLine(role)...)
	}
	s.add(blockGap+smallGap, together(strips, s.paper.height)...)
}

// signatureLine is a role and three rules, named below: the room above a rule
// is what a signature takes.
func (s *setter) signatureLine(role string) []strip {
	const gap = 12
	shares := [...]int{22, 28, 34, 16} // per cent of the width: role, name, signature, date
	x, boxes := 0, []box(nil)
	names := []box(nil)
	for i, label := range []string{"", "Name", "Signature", "Date"} {
		width := s.width*shares[i]/100 - gap
		if i == len(shares)-1 {
			width = s.width - x
		}
		if i > 0 {
			boxes = append(boxes, box{x: x, width: width, frame: frame{sides: bottom, thick: 0.2, tone: black}})
			names = append(names, box{x: x, width: width, words: slot{}.place(nil, measure(piece{text: label, style: smallStyle}).wrap(mm(width))[0], 2, smallStyle.lead())})
		}
		x += width + gap
	}
	rows := measure(piece{text: role, style: bodyStyle.strong()}).wrap(mm(s.width*shares[0]/100 - gap))
	high := max(48, len(rows)*bodyStyle.lead()+4)
	label := box{width: boxes[0].x - gap}
	for i, r := range rows {
		label.words = slot{}.place(label.words, r, high-(len(rows)-i)*bodyStyle.lead()-2, bodyStyle.lead())
	}
	upper := strip{height: high, lines: max(1, len(rows)), keep: true, boxes: append([]box{label}, boxes...)}
	return []strip{upper, {height: smallStyle.lead() + 3, lines: 1, boxes: names}}
}
