package pdf

import (
	"slices"

	"bathwarden/reports/doc"
)

// key says what a mark or a line is, beside the plot.
type key struct {
	at    float64 // the height at which it would like to stand; a figure, and y once drawn
	words prose
	rows  []line
	draw  func(p *plot, x, y float64) // what it is of, around x and y
}

// keySign is the width of what is drawn in front of a key's words, mm.
const keySign = 7.0

func (k key) height() float64 { return mm(chartStyle.lead()*len(k.rows)) + 1 }

// keys are those of all that is drawn.
func (p *plot) keys() []key {
	var keys []key
	for i, d := range p.chart.Dots {
		keys = append(keys, p.dotKeys(d, dotSigns[i%len(dotSigns)].full, dotSigns[i%len(dotSigns)].hollow)...)
	}
	for i, s := range p.chart.Steps {
		all := s.Stretches(p.axes.First, p.axes.Last)
		if len(all) == 0 {
			continue
		}
		last, in := all[len(all)-1].Likely, stepStrokes[i%len(stepStrokes)]
		last.Unit = p.chart.Unit
		words := append([]piece{{text: s.Name, style: chartStyle}, {text: last.String(), style: chartStyle, whole: true}}, citations(s.Cites)...)
		keys = append(keys, newKey(last.Is, func(p *plot, x, y float64) { p.path(in, spot{x - 2.5, y}, spot{x + 2.5, y}) }, words...))
	}
	for _, b := range p.chart.Bands {
		if all := b.Stretches(p.axes.First, p.axes.Last); len(all) > 0 {
			words := piece{text: b.Name + ": low, likely, high", style: chartStyle}
			keys = append(keys, newKey(all[len(all)-1].Likely.Is, drawBandKey, words))
		}
	}
	return keys
}

func newKey(at float64, draw func(p *plot, x, y float64), words ...piece) key {
	p := measure(words...)
	return key{at: at, words: p, rows: p.wrap(keyRoom - keyGap - keySign), draw: draw}
}

// dotKeys are one for the points and one for those where nothing was found.
func (p *plot) dotKeys(d doc.Dots, full, hollow rune) []key {
	var keys []key
	found := slices.ContainsFunc(d.Points, func(at doc.Point) bool { return !at.Value.Below })
	last := func(below bool) float64 {
		v := 0.0
		for _, at := range d.Points {
			if at.Value.Below == below {
				v = at.Value.Is
			}
		}
		return v
	}
	sign := func(r rune) func(p *plot, x, y float64) {
		return func(p *plot, x, y float64) { p.sign(r, x, y, dotHeight, black) }
	}
	if found {
		keys = append(keys, newKey(last(false), sign(full), piece{text: d.Name, style: chartStyle}))
	}
	if d.AnyBelow() {
		words := piece{text: d.Name + ", not found (<), at its reporting limit", style: chartStyle}
		keys = append(keys, newKey(last(true), sign(hollow), words))
	}
	return keys
}

func drawBandKey(p *plot, x, y float64) {
	p.fill(area{x - 2.5, y - 1.2, x + 2.5, y + 1.2}, light)
	for _, edge := range []float64{-1.2, 1.2} {
		p.path(edgeStroke, spot{x - 2.5, y + edge}, spot{x + 2.5, y + edge})
	}
	p.path(likelyStroke, spot{x - 2.5, y}, spot{x + 2.5, y})
}

// keysBelow are the keys as lines of their own below the plot.
func (s *setter) keysBelow(keys []key) []strip {
	var strips []strip
	for _, k := range keys {
		p := &plot{setter: s}
		k.draw(p, 2.5, topRoom+mm(chartStyle.lead())/2)
		rows := k.words.wrap(mm(s.paper.width) - keySign)
		p.text(rows, keySign, topRoom, chartStyle.lead(), fromLeft)
		strips = append(strips, strip{height: chartStyle.lead()*max(1, len(rows)) + 1, lines: 1, boxes: []box{{width: s.paper.width, inks: p.inks, words: p.words}}})
	}
	return strips
}

// placeKeys writes the keys from the top down, each as near as can be to the
// height of what it is of.
func (p *plot) placeKeys(keys []key) {
	for i := range keys {
		keys[i].at = p.y(keys[i].at) - keys[i].height()/2
	}
	slices.SortStableFunc(keys, func(a, b key) int {
		return int(1000 * ((a.at + a.height()/2) - (b.at + b.height()/2)))
	})
	floor := p.bottom
	for i, k := range slices.Backward(keys) {
		floor -= k.height()
		keys[i].at = min(k.at, floor)
		floor = keys[i].at
	}
	ceiling := p.top
	for _, k := range keys {
		y := max(k.at, ceiling)
		k.draw(p, p.right+keyGap+2.5, y+mm(chartStyle.lead())/2)
		p.text(k.rows, p.right+keyGap+keySign, y, chartStyle.lead(), fromLeft)
		ceiling = y + k.height()
	}
}
