package pdf

import "bathwarden/reports/doc"

// signOff sets a statement and a line to sign on for each role. It stays on
// one page.
// writingRoom is the height of an empty line to write on, in quarters.
const writingRoom = 32

func (s *setter) signOff(f doc.SignOff) {
	strips := lines(measure(piece{text: f.Statement, style: bodyStyle}).wrap(mm(s.paper.width)), 0, s.paper.width, bodyStyle.lead()+1)
	for range f.Room {
		strips = append(strips, strip{height: writingRoom, lines: 1, boxes: []box{{width: s.paper.width, frame: frame{sides: bottom, thick: 0.2, tone: hairline}}}})
	}
	for _, role := range f.Roles {
		strips = append(strips, s.signatureLine(role)...)
	}
	s.add(blockGap+smallGap, together(strips, s.paper.height)...)
}

// signatureLine is a role and three rules, named below: the room above a rule
// is what a signature takes. A long role stands above them.
func (s *setter) signatureLine(role string) []strip {
	const (
		gap  = 12
		room = 48
	)
	parts := []struct {
		name  string
		share int // per cent of the width
	}{{"", 22}, {"Name", 28}, {"Signature", 34}, {"Date", 16}}
	var rules, names []box
	x := 0
	for _, part := range parts {
		b := box{x: x, width: (s.paper.width+gap)*part.share/100 - gap}
		x += b.width + gap
		rules = append(rules, b)
		names = append(names, b)
		if part.name != "" {
			last := len(rules) - 1
			rules[last].frame = frame{sides: bottom, thick: 0.2, tone: black}
			name := measure(piece{text: part.name, style: smallStyle}).wrap(mm(b.width))
			names[last].words = slot{}.place(nil, name[0], 2, smallStyle.lead())
		}
	}
	title, lead := measure(piece{text: role, style: bodyStyle.strong()}), bodyStyle.lead()
	var above []strip
	rows := title.wrap(mm(rules[0].width))
	if len(rows)*lead > room-4 {
		above, rows = lines(title.wrap(mm(s.paper.width)), 0, s.paper.width, lead), nil
	}
	for i, r := range rows {
		rules[0].words = slot{}.place(rules[0].words, r, room-(len(rows)-i)*lead-2, lead)
	}
	return append(above, strip{height: room, lines: 1, keep: true, boxes: rules},
		strip{height: smallStyle.lead() + 3, lines: 1, boxes: names})
}
