package pdf

// edge is a side of a box.
type edge int

const (
	left edge = 1 << iota
	top
	right
	bottom
)

// frame is how a box is drawn: filled, and ruled on some sides.
type frame struct {
	fill  tone
	sides edge
	thick float64 // of the rules, mm
	tone  tone    // of the rules
}

// word is a run in its place.
type word struct {
	text  string
	style style
	x, y  float64 // from the box's left and the strip's top to the baseline, mm
}

// box is a part of a strip. Its words lie within it from side to side.
type box struct {
	x, width int // quarters
	frame    frame
	inks     []ink // below the words
	words    []word
	picture  []byte // PNG, as wide as the box and square; nil for none
}

// strip is the least part of a page, as wide as the page, never split. The
// boxes run from left to right and do not overlap.
type strip struct {
	before int  // white above it, unless it is the first of its page; quarters
	height int  // quarters
	lines  int  // of text; an empty row counts as one
	keep   bool // stays on one page with the strip that follows
	title  bool // belongs to a heading
	fresh  bool // begins a page
	boxes  []box
	again  []strip // what is set above it where it is the first of a page: a table's head
	target int     // which heading this is, from 1
	leads  int     // which heading this line of the contents leads to, from 1
}

func height(strips []strip) int {
	sum := 0
	for i, s := range strips {
		sum += s.height
		if i > 0 {
			sum += s.before
		}
	}
	return sum
}

// together keeps strips on one page if they are no higher than limit;
// otherwise the first two and the last two.
func together(strips []strip, limit int) []strip {
	whole := height(strips) <= limit
	for i := range len(strips) - 1 {
		strips[i].keep = strips[i].keep || whole || i == 0 || i == len(strips)-2
	}
	return strips
}

// slot is text in its place in a band.
type slot struct {
	x     float64 // of the left edge, or of the right edge when set right; mm from the band's left
	rows  []line
	right bool
}

// band is a box with slots side by side, such as a row of a table.
type band struct {
	x, width   int // quarters
	over, foot int // white above and below the text, quarters
	lead       int
	frame      frame
	low        bool // slots stand at the foot, not at the top
}

// set makes one strip of the slots; a strip for each line, the first two and
// the last two kept together, if it would be higher than limit.
func (b band) set(slots []slot, limit int) []strip {
	lines := 0
	for _, s := range slots {
		lines = max(lines, len(s.rows))
	}
	if whole := b.over + lines*b.lead + b.foot; whole <= limit || lines < 2 {
		return []strip{b.strip(slots, 0, lines, lines)}
	}
	var strips []strip
	for i := range lines {
		strips = append(strips, b.strip(slots, i, i+1, lines))
	}
	return together(strips, 0)
}

// strip sets the lines from..to of all.
func (b band) strip(slots []slot, from, to, all int) strip {
	y, frame := 0, b.frame
	if from == 0 {
		y = b.over
	} else {
		frame.sides &^= top
	}
	height := y + (to-from)*b.lead
	if to == all {
		height += b.foot
	} else {
		frame.sides &^= bottom
	}
	one := box{x: b.x, width: b.width, frame: frame}
	for _, s := range slots {
		shift := 0
		if b.low {
			shift = all - len(s.rows)
		}
		for i, r := range s.rows {
			if at := i + shift; at >= from && at < to {
				one.words = s.place(one.words, r, y+(at-from)*b.lead, b.lead)
			}
		}
	}
	return strip{height: height, lines: max(1, to-from), boxes: []box{one}}
}

// place puts the runs of r with the line's upper edge at y quarters.
func (s slot) place(words []word, r line, y, lead int) []word {
	x := s.x
	if s.right {
		x -= r.width
	}
	for _, run := range r.runs {
		// Runs of one line stand on one baseline: that of the first.
		baseline := mm(y) + r.runs[0].style.baseline(lead)
		words = append(words, word{text: run.text, style: run.style, x: x + run.x, y: max(baseline, run.style.millimetres())})
	}
	return words
}
