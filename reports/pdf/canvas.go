package pdf

import (
	"fmt"
	"math"
	"sync"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// ink is a part of a drawing: a filled rectangle, or a sign of the typeface.
// The library draws no other lines than upright and level ones, so a drawing is
// made of these. Lengths are in millimetres, from the box's left and the
// strip's top.
type ink struct {
	sign          rune    // 0 for a rectangle
	x, y          float64 // a rectangle's upper left corner, a sign's middle
	width, height float64 // of what is seen
	tone          tone
}

// area is a rectangle, its upper left and lower right corners.
type area struct{ left, top, right, bottom float64 }

func (a area) meets(b area) bool {
	return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom
}

// canvas gathers a drawing, and where it is taken.
type canvas struct {
	inks  []ink
	words []word
	taken []area
}

func (c *canvas) fill(a area, t tone) {
	c.inks = append(c.inks, ink{x: a.left, y: a.top, width: a.right - a.left, height: a.bottom - a.top, tone: t})
}

// sign draws a sign of the typeface so that it is height high, its middle at x
// and y.
func (c *canvas) sign(r rune, x, y, height float64, t tone) area {
	g := signs()[r]
	width := height * (g.right - g.left) / (g.top - g.bottom)
	c.inks = append(c.inks, ink{sign: r, x: x, y: y, width: width, height: height, tone: t})
	return area{x - width/2, y - height/2, x + width/2, y + height/2}
}

// stroke is how a line is drawn: pieces and gaps by turns, in millimetres; nil
// for one without gaps.
type stroke struct {
	thick float64
	tone  tone
	dash  []float64
}

type spot struct{ x, y float64 }

// path draws upright and level lines from spot to spot, the dashes going on
// round the corners.
func (c *canvas) path(in stroke, spots ...spot) {
	piece, left := 0, 0.0
	if len(in.dash) > 0 {
		left = in.dash[0]
	}
	for i := 1; i < len(spots); i++ {
		from, to := spots[i-1], spots[i]
		length := math.Abs(to.x-from.x) + math.Abs(to.y-from.y)
		if len(in.dash) == 0 {
			c.fill(in.joined(from, to, i > 1, i < len(spots)-1), in.tone)
			continue
		}
		for at := 0.0; at < length; {
			next := min(at+left, length)
			if piece%2 == 0 {
				c.fill(in.between(from, to, at/length, next/length), in.tone)
			}
			if left -= next - at; left <= 1e-9 {
				piece++
				left = in.dash[piece%len(in.dash)]
			}
			at = next
		}
	}
}

// joined is a whole line, longer by half its thickness where another meets it.
func (in stroke) joined(a, b spot, before, behind bool) area {
	drawn := in.between(a, b, 0, 1)
	grow := func(end, other spot) {
		switch half := in.thick / 2; {
		case end.x < other.x:
			drawn.left -= half
		case end.x > other.x:
			drawn.right += half
		case end.y < other.y:
			drawn.top -= half
		case end.y > other.y:
			drawn.bottom += half
		}
	}
	if before {
		grow(a, b)
	}
	if behind {
		grow(b, a)
	}
	return drawn
}

// frame draws the outline of an area.
func (c *canvas) frame(in stroke, a area) {
	middle := (a.left + a.right) / 2
	c.path(in, spot{middle, a.top}, spot{a.right, a.top}, spot{a.right, a.bottom}, spot{a.left, a.bottom}, spot{a.left, a.top}, spot{middle, a.top})
}

// between is the part of a line from one share of it to another.
func (in stroke) between(a, b spot, from, to float64) area {
	half := in.thick / 2
	x1, x2 := a.x+(b.x-a.x)*from, a.x+(b.x-a.x)*to
	y1, y2 := a.y+(b.y-a.y)*from, a.y+(b.y-a.y)*to
	if a.y == b.y {
		return area{min(x1, x2), y1 - half, max(x1, x2), y1 + half}
	}
	return area{x1 - half, min(y1, y2), x1 + half, max(y1, y2)}
}

// text sets lines below one another from y on: with their left edge at x, or
// their middle, or their right edge.
func (c *canvas) text(rows []line, x, y float64, lead int, align float64) area {
	taken := area{x, y, x, y + mm(lead*len(rows))}
	for i, r := range rows {
		at := x - r.width*align
		taken.left, taken.right = min(taken.left, at), max(taken.right, at+r.width)
		for _, run := range r.runs {
			baseline := y + mm(i*lead) + r.runs[0].style.baseline(lead)
			c.words = append(c.words, word{text: run.text, style: run.style, x: at + run.x, y: baseline})
		}
	}
	return taken
}

// topRoom is kept above text at the top of a drawing, mm: the library sets no
// letters nearer to the top of a strip than their size.
const topRoom = 0.5

// The shares of a text's width that lie left of where it is set.
const (
	fromLeft = 0.0
	centred  = 0.5
	toRight  = 1.0
)

func (c *canvas) take(a area) { c.taken = append(c.taken, a) }

func (c *canvas) free(a area) bool {
	for _, b := range c.taken {
		if a.meets(b) {
			return false
		}
	}
	return true
}

// extent is what a sign covers at a size of 1, from where it is set: upwards
// from the baseline.
type extent struct{ left, bottom, right, top float64 }

// signs are the signs that drawings use.
var signs = sync.OnceValue(func() map[rune]extent {
	f, err := sfnt.Parse(dejavusanscondensed.TTF)
	if err != nil {
		panic(fmt.Sprintf("pdf: embedded font: %v", err))
	}
	all := map[rune]extent{}
	em := float64(f.UnitsPerEm())
	for _, r := range "●○■□◆◇▼▽★☆▶▷◀◁▴" {
		var buffer sfnt.Buffer
		glyph, err := f.GlyphIndex(&buffer, r)
		if err != nil || glyph == 0 {
			panic(fmt.Sprintf("pdf: embedded font: no sign %q", r))
		}
		b, _, err := f.GlyphBounds(&buffer, glyph, fixed.I(int(em)), font.HintingNone)
		if err != nil {
			panic(fmt.Sprintf("pdf: embedded font: %q: %v", r, err))
		}
		to := func(v fixed.Int26_6) float64 { return float64(v) / 64 / em }
		all[r] = extent{left: to(b.Min.X), bottom: -to(b.Max.Y), right: to(b.Max.X), top: -to(b.Min.Y)}
	}
	return all
})

// set is where the sign's text starts, and its size, for its middle to be at
// the ink's x and y.
func (i ink) set() (x, baseline, points float64) {
	g := signs()[i.sign]
	size := i.height / (g.top - g.bottom)
	return i.x - size*(g.left+g.right)/2, i.y + size*(g.top+g.bottom)/2, size * 72 / 25.4
}
