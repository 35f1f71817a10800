package pdf

import (
	"bathwarden/reports/doc"
)

// The signs of dots, found and not found, by their order in the chart. An eighth
// kind has the signs of the first again.
var dotSigns = [...]struct{ full, hollow rune }{{'●', '○'}, {'■', '□'}, {'◆', '◇'}, {'▼', '▽'}, {'★', '☆'}, {'▶', '▷'}, {'◀', '◁'}}

const (
	dotHeight  = 1.9 // mm
	ringHeight = 3.4 // around dots that are emphasised
)

// The strokes of limits, by their order, and that of what is likely.
var (
	stepStrokes = [...]stroke{
		{thick: 0.45, tone: black},
		{thick: 0.45, tone: black, dash: []float64{2.4, 1.2}},
		{thick: 0.45, tone: black, dash: []float64{0.6, 0.9}},
		{thick: 0.45, tone: black, dash: []float64{3, 0.9, 0.6, 0.9}},
	}
	likelyStroke = stroke{thick: 0.25, tone: dark}
	edgeStroke   = stroke{thick: 0.1, tone: dark}
)

// finest is the least width that spans are drawn in, mm: closer ones are drawn
// as one, from the least to the largest of their figures.
const finest = 0.25

// leastEdge is the least width of a span whose edges are drawn, mm: the edges
// of narrow ones would hide what they bound.
const leastEdge = 1.5

// extentOf is a stretch as drawn.
type extentOf struct{ left, right, low, from, to, high float64 }

// bands fills the range of each estimate and draws its edges and its middle.
func (p *plot) bands() {
	for _, b := range p.chart.Bands {
		drawn := p.merged(b.Stretches(p.axes.First, p.axes.Last))
		for i, e := range drawn {
			right := e.right
			if i+1 < len(drawn) && drawn[i+1].left == right {
				right += 0.05 // or screens show a seam
			}
			p.fill(area{e.left, e.high, right, max(e.low, e.high+0.1)}, light)
		}
		for i, e := range drawn {
			if e.right-e.left > leastEdge {
				p.path(edgeStroke, spot{e.left, e.high}, spot{e.right, e.high})
				p.path(edgeStroke, spot{e.left, e.low}, spot{e.right, e.low})
			}
			p.path(likelyStroke, spot{e.left, e.from}, spot{e.right, e.from})
			p.path(likelyStroke, spot{e.left, e.from}, spot{e.left, e.to})
			p.take(area{e.left, min(e.from, e.to) - 0.2, e.right, max(e.from, e.to) + 0.2})
			if i > 0 && drawn[i-1].right == e.left {
				p.path(likelyStroke, spot{e.left, drawn[i-1].from}, spot{e.left, e.from})
			}
		}
	}
}

func (p *plot) merged(all []doc.Stretch) []extentOf {
	var drawn []extentOf
	for _, s := range all {
		e := extentOf{left: p.x(float64(s.First)), right: p.x(float64(s.Last + 1)),
			low: p.y(s.Low.Is), from: p.y(s.Likely.Is), to: p.y(s.Likely.Is), high: p.y(s.High.Is)}
		if n := len(drawn); n > 0 && e.left-drawn[n-1].left < finest {
			last := &drawn[n-1]
			last.right, last.low, last.high = max(last.right, e.right), max(last.low, e.low), min(last.high, e.high)
			last.from, last.to = max(last.from, e.from), min(last.to, e.to)
			continue
		}
		drawn = append(drawn, e)
	}
	return drawn
}

// steps draws each limit, and writes the heights that its name at the right
// does not tell.
func (p *plot) steps() {
	for i, s := range p.chart.Steps {
		in := stepStrokes[i%len(stepStrokes)]
		all := s.Stretches(p.axes.First, p.axes.Last)
		var spots []spot
		for n, one := range all {
			from, to, y := p.x(float64(one.First)), p.x(float64(one.Last+1)), p.y(one.Likely.Is)
			if n > 0 && all[n-1].Last+1 != one.First {
				p.path(in, spots...)
				spots = nil
			}
			spots = append(spots, spot{from, y}, spot{to, y})
			p.take(area{from, y - 0.3, to, y + 0.3})
		}
		p.path(in, spots...)
	}
}

// dots draws the points, then what belongs beside them where there is room.
func (p *plot) dots() {
	for i, d := range p.chart.Dots {
		signs := dotSigns[i%len(dotSigns)]
		for _, point := range d.Points {
			x, y := p.spot(point)
			sign := signs.full
			if point.Value.Below {
				p.sign(signs.full, x, y, dotHeight, white)
				sign = signs.hollow
			}
			at := p.sign(sign, x, y, dotHeight, black)
			if point.Value.Emphasis != doc.Normal {
				at = p.sign('○', x, y, ringHeight, black)
			}
			p.take(at)
		}
	}
	p.besideDots()
	p.besideSteps()
}

func (p *plot) spot(at doc.Point) (x, y float64) {
	return p.x(float64(at.Day.Count()) + 0.5), p.y(at.Value.Is)
}

// besideDots writes the figures of the points that are emphasised, and < at
// those where nothing was found.
func (p *plot) besideDots() {
	for _, below := range []bool{false, true} {
		for _, d := range p.chart.Dots {
			for _, point := range d.Points {
				v := point.Value
				v.Unit = ""
				text := ""
				switch {
				case v.Emphasis != doc.Normal && !below:
					text = p.setter.mark(v.Emphasis) + " " + v.String()
				case v.Emphasis == doc.Normal && v.Below && below:
					text = "<"
				}
				if text != "" {
					in := chartStyle
					if !below {
						in = in.strong()
					}
					x, y := p.spot(point)
					p.beside(text, in, x, y)
				}
			}
		}
	}
}

// beside writes a figure at the first free place around a point. Where none is
// free its ring, or its being hollow, must tell.
func (p *plot) beside(text string, in style, x, y float64) {
	rows := measure(piece{text: text, style: in, whole: true}).wrap(p.right - p.left)
	width, height := widest(rows), mm(in.lead())
	for _, far := range []float64{ringHeight/2 - 0.2, ringHeight + 1.2} {
		for _, at := range []spot{
			{x + far, y - height/2}, {x - far - width, y - height/2}, {x - width/2, y - far - height},
			{x - width/2, y + far}, {x + far*0.7, y - far*0.7 - height}, {x - far*0.7 - width, y - far*0.7 - height},
		} {
			if at.y = min(at.y, p.floor(in)); p.write(rows, in, at) {
				return
			}
		}
	}
}

// floor is the lowest that a line of text is set: on the lower end of the scale.
func (p *plot) floor(in style) float64 {
	_, bottom := in.letters(0, in.lead())
	return p.bottom - bottom - 0.2
}

// write sets one line of text where there is room for it.
func (p *plot) write(rows []line, in style, at spot) bool {
	top, bottom := in.letters(at.y, in.lead())
	a := area{at.x, top, at.x + widest(rows), bottom}
	if a.left < p.left+0.5 || a.right > p.right || a.top < p.top || a.bottom > p.bottom || !p.free(a) {
		return false
	}
	p.text(rows, at.x, at.y, in.lead(), fromLeft)
	p.take(a)
	return true
}

// besideSteps writes the height of each level but the last, which stands at
// the right with the limit's name.
func (p *plot) besideSteps() {
	for _, s := range p.chart.Steps {
		all := s.Stretches(p.axes.First, p.axes.Last)
		for i := range max(0, len(all)-1) {
			from, to, y := p.x(float64(all[i].First)), p.x(float64(all[i].Last+1)), p.y(all[i].Likely.Is)
			v := all[i].Likely
			v.Unit = ""
			rows := measure(piece{text: v.String(), style: chartStyle, whole: true}).wrap(p.right - p.left)
			p.along(rows, from, to, y)
		}
	}
}

// along writes above or below a level line, wherever on its way there is room.
func (p *plot) along(rows []line, from, to, y float64) {
	const step = 2.0
	for x := from + 1; x+widest(rows) < to; x += step {
		if p.write(rows, chartStyle, spot{x, y - 0.4 - mm(chartStyle.lead())}) || p.write(rows, chartStyle, spot{x, y + 0.4}) {
			return
		}
	}
}
