package pdf

import (
	"slices"
	"strconv"

	"bathwarden/reports/doc"
)

// The parts of a line of stations, in millimetres.
const (
	leastBox  = 20.0
	mostBox   = 36.0
	leastGap  = 10.0
	gapPad    = 2.5
	mostGap   = 34.0
	lineEnd   = 4.0 // behind the last box of a row
	boxPad    = 1.5
	mostBoxes = 6   // in a row
	arrowRoom = 4.0 // of an arrow into a box from above, or out of it below
	arrowHead = 1.8
)

// The most lines of text in and around a box; what is longer stands whole in
// the table below.
const (
	mostName  = 2
	mostWords = 4
	mostFlow  = 3
)

var (
	workStroke  = stroke{thick: 0.6, tone: black}
	waterStroke = stroke{thick: 0.2, tone: black}
	lineStyle   = denseStyle
)

// lineSetter draws one line of stations, row by row.
type lineSetter struct {
	setter   *setter
	line     doc.Line
	box, gap float64
	cut      bool // a text has been shortened
}

// tier is one row of boxes being drawn: stations first to last, from 1.
type tier struct {
	canvas
	*lineSetter
	first, last             int
	gaps                    map[int]flow // between neighbours, by the first of the two
	lanes                   []flow
	tracks                  int
	top, bottom, below, end float64 // of the boxes; of the lanes; of all
}

// line sets a drawing of a line of stations in rows.
func (s *setter) line(l doc.Line) {
	if len(l.Stations) == 0 {
		s.emptyTable(doc.Table{Caption: l.Title, Empty: l.Empty})
		return
	}
	d := &lineSetter{setter: s, line: l}
	var strips []strip
	if l.Title != "" {
		strips = s.caption(l.Title)
	}
	last := 0
	for _, n := range d.share() {
		one := d.row(last+1, last+n)
		last += n
		one.keep = last == n && last < len(l.Stations)
		strips = append(strips, one)
	}
	strips[len(strips)-1].keep = true
	s.add(blockGap, append(strips, d.key())...)
	if d.cut {
		whole := l.Figures()
		whole.Caption = captioned(l.Title, "in full")
		s.table(whole)
	}
}

// share chooses how many boxes stand in each row, and their widths. The gaps
// hold the figures of what flows across them, in one line where there is room.
func (d *lineSetter) share() []int {
	box, least, wish := leastBox, leastGap, leastGap
	for _, s := range d.line.Stations {
		words := measure(piece{text: s.Words, style: lineStyle}, piece{text: s.Purpose, style: smallStyle}, piece{text: s.Name, style: lineStyle.strong()})
		box = max(box, min(mostBox, words.longest+2*boxPad))
		for _, c := range append(flows(s.Feeds), s.CarryOn) {
			f := d.figure(c, false)
			least, wish = max(least, min(mostGap, f.longest+gapPad)), max(wish, min(mostGap, f.natural+gapPad))
		}
	}
	width := mm(d.setter.paper.width) - lineEnd
	rows := d.breaks(max(1, min(mostBoxes, int(width/(box+least)))))
	each := width / float64(slices.Max(rows))
	d.gap = max(least, min(wish, each-box))
	d.box = min(mostBox, each-d.gap)
	return rows
}

// breaks deals the stations to rows of at most most: few rows, broken rather
// where no water flows between neighbours, and of about the same length.
func (d *lineSetter) breaks(most int) []int {
	n := len(d.line.Stations)
	cost, last := make([]int, n+1), make([]int, n+1)
	for end := 1; end <= n; end++ {
		for size := 1; size <= min(most, end); size++ {
			c := cost[end-size] + 100 + (most-size)*(most-size)
			c += 40 * d.cutBy(end)
			if size == 1 || c < cost[end] {
				cost[end], last[end] = c, size
			}
		}
	}
	var rows []int
	for end := n; end > 0; end -= last[end] {
		rows = append(rows, last[end])
	}
	slices.Reverse(rows)
	return rows
}

// cutBy counts the flows between stations near one another that the end of a
// row would part.
func (d *lineSetter) cutBy(end int) int {
	const near = 3
	cut := 0
	for to := max(1, end-near+1); to <= min(len(d.line.Stations), end+near); to++ {
		for _, f := range d.line.Stations[to-1].Feeds {
			low, high := min(f.From, to), max(f.From, to)
			if low >= 1 && low <= end && end < high && high-low <= near {
				cut++
			}
		}
	}
	return cut
}

func flows(feeds []doc.Feed) []doc.Cell {
	var all []doc.Cell
	for _, f := range feeds {
		all = append(all, f.Flow)
	}
	return all
}

// figure is what stands at an arrow: with a unit that may stand below it, or
// whole.
func (d *lineSetter) figure(c doc.Cell, whole bool) prose {
	if b, ok := c.(doc.Blank); ok && b.Why != "" {
		return measure(piece{text: "not known", style: smallStyle})
	}
	text, cites := d.setter.cell(c, lineStyle)
	for i := range text {
		text[i].whole = whole
	}
	return measure(text...).with(measure(citations(cites)...))
}

// limited is text in at most n lines; what is cut stands in the table.
func (d *lineSetter) limited(p prose, width float64, n int) []line {
	rows := p.wrap(width)
	if len(rows) <= n {
		return rows
	}
	d.cut = true
	const cut = " …"
	rows = p.wrap(width - lineStyle.strong().width(cut))[:n]
	last := &rows[n-1].runs[len(rows[n-1].runs)-1]
	last.text += cut
	rows[n-1].width += last.style.width(cut)
	return rows
}

// left is where the box of a station starts.
func (r *tier) left(number int) float64 {
	return r.gap + float64(number-r.first)*(r.box+r.gap)
}

func (r *tier) station(number int) doc.Station { return r.line.Stations[number-1] }

// here says that a station stands in this row.
func (r *tier) here(number int) bool { return number >= r.first && number <= r.last }

// row draws the stations from first to last.
func (d *lineSetter) row(first, last int) strip {
	r := &tier{lineSetter: d, first: first, last: last, gaps: map[int]flow{}}
	r.layWater()
	above, inside, across, below := r.measure()
	r.top = topRoom // the figures of the work's way may stand as high as the boxes
	if above > 0 {
		r.top = topRoom + mm(lineStyle.lead()*above) + arrowRoom
	}
	r.bottom = r.top + max(inside+2*boxPad, across)
	r.below = r.bottom + r.laneHigh()*float64(r.tracks)
	r.end = r.below + 1
	if below > 0 {
		r.end = r.below + arrowRoom + mm(lineStyle.lead()*below) + 0.5
	}
	for n := first; n <= last; n++ {
		r.boxOf(n)
		r.feeds(n)
		r.drains(n)
		r.work(n)
	}
	r.water()
	for _, l := range r.lanes {
		r.lane(l)
	}
	drawn := box{width: d.setter.paper.width, inks: r.inks, words: r.words}
	white := blockGap
	if first == 1 {
		white = 2
	}
	return strip{before: white, height: quartersUp(r.end), lines: 2, boxes: []box{drawn}}
}

// measure is how high the parts of a row must be: lines above and below the
// boxes, and the boxes by their own text and by what stands between them.
func (r *tier) measure() (above int, inside, across float64, below int) {
	work, water := 0, 0
	for n := r.first; n <= r.last; n++ {
		above = max(above, len(r.aboveText(n)))
		below = max(below, len(r.belowText(n)))
		inside = max(inside, mm(lineStyle.lead()*len(r.insideText(n))))
		work, water = max(work, r.workLines(n)), max(water, r.waterLines(n))
	}
	across = 2*arrowRoom + mm(lineStyle.lead()*(work+water))
	return above, inside, across, below
}

func (r *tier) workLines(n int) int {
	if n == 1 {
		return 0
	}
	return len(r.across(r.station(n - 1).CarryOn))
}

func (r *tier) waterLines(n int) int {
	f, ok := r.gaps[n-1]
	if !ok {
		return 0
	}
	return len(r.across(f.flow))
}

func (r *tier) across(c doc.Cell) []line { return r.limited(r.figure(c, false), r.gap-1, mostFlow) }

// insideText is what stands in a box.
func (r *tier) insideText(n int) []line {
	s, width := r.station(n), r.box-2*boxPad
	name := piece{text: strconv.Itoa(n) + "  " + s.Name, style: lineStyle.strong()}
	name.text = r.setter.emphasised(name.text, s.Emphasis, lineStyle, false).text
	rows := r.limited(measure(name), width, mostName)
	rows = append(rows, r.limited(measure(piece{text: s.Purpose, style: smallStyle}), width, 1)...)
	return append(rows, r.limited(measure(piece{text: s.Words, style: lineStyle}), width, mostWords)...)
}

func (r *tier) boxOf(n int) {
	in := stroke{thick: 0.7, tone: black}
	if r.station(n).Rinse {
		in.thick = 0.2
	}
	x := r.left(n)
	r.frame(in, area{x, r.top, x + r.box, r.bottom})
	r.text(r.insideText(n), x+boxPad, r.top+boxPad, lineStyle.lead(), fromLeft)
}
