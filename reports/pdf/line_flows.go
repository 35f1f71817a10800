package pdf

import (
	"cmp"

	"bathwarden/reports/doc"
)

// flow is water that goes from one station of a row to another.
type flow struct {
	from, to int
	flow     doc.Cell
	track    int // of a lane, from 0
}

// mostTracks is how many lanes run below one another; what finds no room is
// told in words at both of its ends.
const mostTracks = 3

// layWater finds a way for each flow within the row: between neighbours if
// nothing else flows there, else in a lane below the boxes.
func (r *tier) layWater() {
	for n := r.first; n <= r.last; n++ {
		for _, f := range r.station(n).Feeds {
			if !r.here(f.From) || f.From == n || r.drawn(f.From, n) {
				continue
			}
			one := flow{from: f.From, to: n, flow: f.Flow}
			low := min(n, f.From)
			if _, taken := r.gaps[low]; !taken && max(n, f.From) == low+1 {
				r.gaps[low] = one
				continue
			}
			r.layLane(one)
		}
	}
}

// layLane gives a flow the first track on which no lane shares a station with
// it.
func (r *tier) layLane(one flow) {
	for one.track = range mostTracks {
		free := true
		for _, l := range r.lanes {
			apart := max(l.from, l.to) < min(one.from, one.to) || max(one.from, one.to) < min(l.from, l.to)
			free = free && (l.track != one.track || apart)
		}
		if free {
			r.lanes = append(r.lanes, one)
			r.tracks = max(r.tracks, one.track+1)
			return
		}
	}
}

// drawn says that a flow from one station to another has a way in the row.
func (r *tier) drawn(from, to int) bool {
	if f, ok := r.gaps[min(from, to)]; ok && f.from == from && f.to == to {
		return true
	}
	for _, l := range r.lanes {
		if l.from == from && l.to == to {
			return true
		}
	}
	return false
}

// around is the width of the text above or below a box: up to the next box, or
// the edge of the page.
func (r *tier) around(n int) float64 {
	return min(r.box+r.gap-5, mm(r.setter.paper.width)-r.left(n)-4.5)
}

// aboveText is what flows into a box from elsewhere.
func (r *tier) aboveText(n int) []line {
	var rows []line
	for _, f := range r.station(n).Feeds {
		if r.drawn(f.From, n) {
			continue
		}
		from := cmp.Or(r.line.Origin(f), "water")
		if f.From >= 1 && f.From <= len(r.line.Stations) {
			from = "from " + from
		}
		rows = append(rows, r.told(n, from, f.Flow)...)
	}
	return rows
}

// belowText is what flows out of a box to elsewhere.
func (r *tier) belowText(n int) []line {
	var rows []line
	for i, s := range r.line.Stations {
		for _, f := range s.Feeds {
			if f.From == n && !r.drawn(n, i+1) {
				rows = append(rows, r.told(n, "to "+r.line.Label(i+1), f.Flow)...)
			}
		}
	}
	if s := r.station(n); s.DrainsTo != "" {
		rows = append(rows, r.told(n, "to "+s.DrainsTo, s.Drain)...)
	}
	return rows
}

// told is a flow in words, with its figure.
func (r *tier) told(n int, where string, c doc.Cell) []line {
	flow := r.figure(c, true)
	if len(flow.tokens) > 0 {
		where += ","
	}
	return r.limited(measure(piece{text: where, style: lineStyle}).with(flow), r.around(n), mostFlow)
}

// feeds draws the arrow from above.
func (r *tier) feeds(n int) {
	rows := r.aboveText(n)
	if len(rows) == 0 {
		return
	}
	x, lead := r.left(n)+2.5, lineStyle.lead()
	r.text(rows, x+2, r.top-arrowRoom-mm(lead*len(rows)), lead, fromLeft)
	r.arrow(waterStroke, '▼', spot{x, r.top - arrowRoom - mm(lead*len(rows)) + 0.5}, spot{x, r.top})
}

// drains draws the arrow out of the bottom.
func (r *tier) drains(n int) {
	rows := r.belowText(n)
	if len(rows) == 0 {
		return
	}
	x := r.left(n) + 2.5
	r.text(rows, x+2, r.below+arrowRoom, lineStyle.lead(), fromLeft)
	r.arrow(waterStroke, '▼', spot{x, r.bottom}, spot{x, r.below + arrowRoom + mm(lineStyle.lead()) - 0.6})
}

// arrow draws a path that ends in a head.
func (r *tier) arrow(in stroke, head rune, spots ...spot) {
	const long = arrowHead * 0.8
	end := &spots[len(spots)-1]
	tip := *end
	switch head {
	case '▶':
		end.x, tip.x = end.x-long, tip.x-long/2
	case '◀':
		end.x, tip.x = end.x+long, tip.x+long/2
	case '▼':
		end.y, tip.y = end.y-long, tip.y-long/2
	case '▴':
		end.y, tip.y = end.y+long, tip.y+long/2
	}
	r.path(in, spots...)
	r.sign(head, tip.x, tip.y, arrowHead, in.tone)
}

// work draws the way of the work into a box, and out of the last of a row.
func (r *tier) work(n int) {
	x, lead := r.left(n), lineStyle.lead()
	var rows []line
	if n > 1 {
		rows = r.across(r.station(n - 1).CarryOn)
	}
	y := r.top + mm(lead*r.mostWork()) + arrowRoom/2 + 0.5
	r.text(rows, x-r.gap/2, y-1.2-mm(lead*len(rows)), lead, centred)
	r.arrow(workStroke, '▶', spot{x - r.gap, y}, spot{x, y})
	if n == r.last {
		r.arrow(workStroke, '▶', spot{x + r.box, y}, spot{x + r.box + lineEnd, y})
	}
}

func (r *tier) mostWork() int {
	most := 0
	for n := r.first; n <= r.last; n++ {
		most = max(most, r.workLines(n))
	}
	return most
}

// water draws what flows between neighbours, below the work's way.
func (r *tier) water() {
	for low := r.first; low < r.last; low++ {
		f, ok := r.gaps[low]
		if !ok {
			continue
		}
		rows, lead := r.across(f.flow), lineStyle.lead()
		from, to, y := r.left(low)+r.box, r.left(low+1), r.bottom-arrowRoom/2
		r.text(rows, (from+to)/2, y-1.2-mm(lead*len(rows)), lead, centred)
		if f.from == low {
			r.arrow(waterStroke, '▶', spot{from, y}, spot{to, y})
		} else {
			r.arrow(waterStroke, '◀', spot{to, y}, spot{from, y})
		}
	}
}

// laneHigh is the room of a lane with its figure above it.
func (r *tier) laneHigh() float64 {
	most := 0
	for _, l := range r.lanes {
		most = max(most, len(r.across(l.flow)))
	}
	return mm(lineStyle.lead()*most) + 2.5
}

// lane draws water that flows past other boxes. Its figure stands between two
// boxes, where no arrow comes down.
func (r *tier) lane(l flow) {
	y := r.bottom + r.laneHigh()*float64(l.track+1)
	up := func(n int) float64 { return r.left(n) + r.box - 3 - 3*float64(l.track) }
	r.arrow(waterStroke, '▴', spot{up(l.from), r.bottom}, spot{up(l.from), y}, spot{up(l.to), y}, spot{up(l.to), r.bottom})
	rows, lead := r.across(l.flow), lineStyle.lead()
	low := min(l.from, l.to)
	r.text(rows, r.left(low)+r.box+r.gap/2, y-0.6-mm(lead*len(rows)), lead, centred)
}

// key says what the arrows and frames are.
func (d *lineSetter) key() strip {
	r := &tier{lineSetter: d}
	lead, x := lineStyle.lead(), 0.0
	say := func(text string, draw func(x, y float64)) {
		rows := measure(piece{text: text, style: smallStyle}).wrap(mm(d.setter.paper.width))
		draw(x, mm(lead)/2+0.5)
		x = r.text(rows, x+8, 0.5, lead, fromLeft).right + 6
	}
	frame := func(thick float64) func(x, y float64) {
		return func(x, y float64) {
			r.frame(stroke{thick: thick, tone: black}, area{x + 1, y - 1.3, x + 6, y + 1.3})
		}
	}
	say("the work, and what it carries over", func(x, y float64) { r.arrow(workStroke, '▶', spot{x, y}, spot{x + 7, y}) })
	say("water", func(x, y float64) { r.arrow(waterStroke, '◀', spot{x + 7, y}, spot{x, y}) })
	say("bath", frame(0.7))
	say("rinse", frame(0.2))
	return strip{before: smallGap, height: lead + 4, lines: 1, boxes: []box{{width: d.setter.paper.width, inks: r.inks, words: r.words}}}
}
