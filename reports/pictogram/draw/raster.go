package main

import (
	"image"
	"image/color"
	"image/draw"

	"golang.org/x/image/vector"
)

// colours of the inks. The standard asks for red and names no shade; this one
// prints in black and white as a dark grey.
var colours = map[ink]color.RGBA{
	black: {A: 0xff},
	white: {R: 0xff, G: 0xff, B: 0xff, A: 0xff},
	red:   {R: 0xdc, G: 0x14, B: 0x14, A: 0xff},
}

const (
	greys = 8 // steps from black to white
	pinks = 7 // steps from white to red
)

// inks is the palette: black by greys to white, on by pinks to red. Sixteen
// colours make half a byte to the pixel.
func inks() color.Palette {
	p := color.Palette{colours[black]}
	for i := 1; i <= greys; i++ {
		p = append(p, between(colours[black], colours[white], i, greys))
	}
	for i := 1; i <= pinks; i++ {
		p = append(p, between(colours[white], colours[red], i, pinks))
	}
	return p
}

func between(a, b color.RGBA, i, n int) color.RGBA {
	mix := func(x, y uint8) uint8 { return uint8((int(x)*(n-i) + int(y)*i + n/2) / n) }
	return color.RGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xff}
}

// raster paints shapes on white, width pixels wide and high.
func raster(shapes []shape, width int) *image.Paletted {
	full := image.NewRGBA(image.Rect(0, 0, width, width))
	draw.Draw(full, full.Rect, image.NewUniform(colours[white]), image.Point{}, draw.Src)
	scale := float64(width) / 100
	for _, s := range shapes {
		z := vector.NewRasterizer(width, width)
		trace(z, s.outline, scale)
		z.Draw(full, full.Rect, image.NewUniform(colours[s.ink]), image.Point{})
	}
	flat := image.NewPaletted(full.Rect, inks())
	draw.Draw(flat, flat.Rect, full, image.Point{}, draw.Src)
	return flat
}

func trace(z *vector.Rasterizer, o outline, scale float64) {
	at := func(p point) (x, y float32) { return float32(p.x * scale), float32(p.y * scale) }
	z.MoveTo(at(o.start))
	for _, s := range o.steps {
		if len(s) == 1 {
			z.LineTo(at(s[0]))
			continue
		}
		bx, by := at(s[0])
		cx, cy := at(s[1])
		dx, dy := at(s[2])
		z.CubeTo(bx, by, cx, cy, dx, dy)
	}
	z.ClosePath()
}
