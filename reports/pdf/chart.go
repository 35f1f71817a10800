package pdf

import (
	"math"

	"bathwarden/reports/doc"
)

// The parts of a chart, in millimetres. What its marks and lines are stands
// beside it, at the height at which they end.
const (
	plotHeight = 60.0
	keyRoom    = 40.0 // at the right of the plot
	keyGap     = 2.5
	tickLength = 1.2
)

var chartStyle = denseStyle

// plot is a chart being drawn.
type plot struct {
	canvas
	setter                   *setter
	chart                    doc.Chart
	axes                     doc.Axes
	left, right, top, bottom float64
}

// chart sets a drawing, on one page with its title.
func (s *setter) chart(c doc.Chart) {
	if !c.Drawn() && c.Empty != "" {
		s.emptyTable(doc.Table{Caption: c.Title, Empty: c.Empty})
		return
	}
	var strips []strip
	if c.Title != "" {
		strips = s.caption(c.Title, citations(c.Cites)...)
	}
	p := &plot{setter: s, chart: c, axes: c.Axes()}
	title := lines(measure(piece{text: p.axes.Title, style: chartStyle}).wrap(mm(s.paper.width)), 0, s.paper.width, chartStyle.lead())
	for i := range title {
		title[i].keep = true
	}
	strips = append(strips, title...)
	keys := p.keys()
	below := p.layOut(keys)
	p.scales()
	p.bands()
	p.steps()
	p.dots()
	if !below {
		p.placeKeys(keys)
	}
	days := 2 * mm(chartStyle.lead())
	drawn := box{width: s.paper.width, inks: p.inks, words: p.words}
	strips = append(strips, strip{height: quartersUp(p.bottom + tickLength + days + 1), lines: 2, boxes: []box{drawn}})
	if below {
		strips[len(strips)-1].keep = true
		strips = append(strips, s.keysBelow(keys)...)
	}
	s.add(blockGap, strips...)
}

// layOut sets the edges of the plot, with the figures of its scale at the left.
// Keys that are higher than the plot may become stand below it.
func (p *plot) layOut(keys []key) (below bool) {
	wide := 0.0
	for _, tick := range p.axes.Ticks {
		wide = max(wide, chartStyle.width(tick.Label))
	}
	p.left = max(wide+tickLength+1, 6) // the first day's year has room too
	p.right = mm(p.setter.paper.width) - keyRoom
	p.top = mm(chartStyle.lead())/2 + topRoom
	high := 0.0
	for _, k := range keys {
		high += k.height()
	}
	p.bottom = p.top + plotHeight
	if high <= plotHeight*1.5 {
		p.bottom = p.top + max(plotHeight, high)
	}
	return high > plotHeight*1.5
}

// x is where a day begins.
func (p *plot) x(day float64) float64 {
	share := (day - float64(p.axes.First)) / float64(p.axes.Last+1-p.axes.First)
	return p.left + (p.right-p.left)*max(0, min(1, share))
}

func (p *plot) y(v float64) float64 {
	low, high := p.axes.Low, p.axes.High
	if p.axes.Log {
		low, high, v = math.Log(low), math.Log(high), math.Log(max(v, low))
	}
	share := (v - low) / (high - low)
	return p.bottom - (p.bottom-p.top)*max(0, min(1, share))
}

// scales draws the axes, their ticks and, behind all, a hairline for each tick
// of the values.
func (p *plot) scales() {
	hair, axis := stroke{thick: 0.1, tone: hairline}, stroke{thick: 0.25, tone: black}
	lead := chartStyle.lead()
	for _, tick := range p.axes.Ticks {
		y := p.y(tick.At)
		p.path(hair, spot{p.left, y}, spot{p.right, y})
		p.path(axis, spot{p.left - tickLength, y}, spot{p.left, y})
		label := measure(piece{text: tick.Label, style: chartStyle, whole: true}).wrap(mm(p.setter.paper.width))
		p.text(label, p.left-tickLength-0.6, y-mm(lead)/2, lead, toRight)
	}
	p.path(axis, spot{p.left, p.top}, spot{p.left, p.bottom})
	p.between()
	zero := p.y(max(p.axes.Low, 0))
	p.path(axis, spot{p.left, zero}, spot{p.right, zero})
	p.take(area{p.left, zero - axis.thick, p.right, zero + axis.thick})
	end := 0.0
	for _, tick := range p.axes.Days {
		x := p.x(tick.At)
		p.path(axis, spot{x, p.bottom}, spot{x, p.bottom + tickLength})
		label := measure(piece{text: tick.Label, style: chartStyle}).wrap(mm(p.setter.paper.width))
		if at := x - widest(label)/2; at >= end && at+widest(label) <= mm(p.setter.paper.width) {
			end = p.text(label, x, p.bottom+tickLength+0.3, lead, centred).right + 0.5
		}
	}
}

// between marks the scale between the ticks of a logarithmic one.
func (p *plot) between() {
	if !p.axes.Log || p.axes.Step > 10 {
		return
	}
	for _, tick := range p.axes.Ticks {
		for n := 2.0; n < 10 && tick.At*n < p.axes.High; n++ {
			y := p.y(tick.At * n)
			p.path(stroke{thick: 0.1, tone: black}, spot{p.left - tickLength/2, y}, spot{p.left, y})
		}
	}
}
