package pdf

import "bathwarden/reports/doc"

// fieldLines are labels and values measured for one form.
type fieldLine struct{ label, value prose }

// fields sets a form: two fields side by side where all are short, else one
// below the other.
func (s *setter) fields(f doc.Fields) {
	var items []fieldLine
	label := 0.0
	for _, item := range f.Items {
		one := fieldLine{measure(piece{text: item.Label, style: bodyStyle.grey()}), s.inline(item.Value, bodyStyle)}
		label = max(label, one.label.natural)
		items = append(items, one)
	}
	const gutter = 24
	half := (s.paper.width - gutter) / 2
	side := 1
	if len(items) >= 4 && pairs(items, label, mm(half)) {
		side = 2
	} else {
		half = s.paper.width
	}
	label = min(label+4, mm(half)*0.45)
	for i := 0; i < len(items); i += side {
		strips := s.fieldRow(items[i:min(i+side, len(items))], half, gutter, label)
		s.keepFirst(strips, i/side, (len(items)+side-1)/side)
		white := 0
		if i == 0 {
			white = blockGap
		}
		s.add(white, strips...)
	}
}

// pairs says whether two fields fit beside each other, each in the width.
func pairs(items []fieldLine, label, width float64) bool {
	for _, item := range items {
		if label+4+item.value.natural > width*1.5 || label > width*0.45 {
			return false
		}
	}
	return true
}

// fieldRow sets one field, or two with a gutter between their rules.
func (s *setter) fieldRow(items []fieldLine, width, gutter int, label float64) []strip {
	b := band{width: s.paper.width, lead: bodyStyle.lead(), over: 4, foot: 2}
	var slots []slot
	for i, item := range items {
		x := mm(i * (width + gutter))
		slots = append(slots,
			slot{x: x, rows: item.label.wrap(label - 2)},
			slot{x: x + label, rows: item.value.wrap(mm(width) - label)})
	}
	strips := b.set(slots, s.third())
	last := &strips[len(strips)-1]
	last.boxes = ruledHalves(last.boxes[0], width, gutter, s.paper.width)
	return strips
}

// ruledHalves draws a hairline below each half of a row of a form.
func ruledHalves(all box, width, gutter, page int) []box {
	rule := frame{sides: bottom, thick: 0.1, tone: hairline}
	if width == page {
		all.frame = rule
		return []box{all}
	}
	one, two := box{width: width, frame: rule}, box{x: width + gutter, width: width, frame: rule}
	for _, w := range all.words {
		if w.x < mm(two.x) {
			one.words = append(one.words, w)
		} else {
			w.x -= mm(two.x)
			two.words = append(two.words, w)
		}
	}
	if len(two.words) == 0 {
		return []box{one}
	}
	return []box{one, two}
}
