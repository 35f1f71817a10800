package pictogram_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/reports/pictogram"
)

func decode(t *testing.T, code string) *image.Paletted {
	t.Helper()
	b, ok := pictogram.PNG(code)
	require.True(t, ok, code)
	picture, err := png.Decode(bytes.NewReader(b))
	require.NoError(t, err, code)
	require.IsType(t, &image.Paletted{}, picture, code)
	return picture.(*image.Paletted)
}

func TestNineCodesWithNames(t *testing.T) {
	want := map[string]string{
		"GHS01": "exploding bomb", "GHS02": "flame", "GHS03": "flame over circle",
		"GHS04": "gas cylinder", "GHS05": "corrosion", "GHS06": "skull and crossbones",
		"GHS07": "exclamation mark", "GHS08": "health hazard", "GHS09": "environment",
	}
	got := map[string]string{}
	for _, code := range pictogram.Codes() {
		got[code] = pictogram.Name(code)
	}
	assert.Equal(t, want, got)
	assert.IsIncreasing(t, pictogram.Codes())
}

func TestUnknownCodeHasNoImage(t *testing.T) {
	for _, code := range []string{"", "GHS10", "ghs05", "GHS5", "GHS05.png", "../png/GHS05"} {
		b, ok := pictogram.PNG(code)
		assert.False(t, ok, code)
		assert.Nil(t, b, code)
		assert.Empty(t, pictogram.Name(code), code)
	}
}

func TestCallerCannotSpoilAnImage(t *testing.T) {
	b, _ := pictogram.PNG("GHS05")
	clear(b)
	pictogram.Codes()[0] = ""
	decode(t, "GHS05")
	assert.Equal(t, "GHS01", pictogram.Codes()[0])
}

// At 25 mm, 600 pixels are just over 600 to the inch. Equal widths make the
// order of images in a PDF a matter of chance.
func TestImagesAreSmallSquareAndOfDistinctWidths(t *testing.T) {
	widths, total := map[int]string{}, 0
	for _, code := range pictogram.Codes() {
		picture := decode(t, code)
		size := picture.Rect.Size()
		assert.Equal(t, size.X, size.Y, code)
		assert.True(t, 600 <= size.X && size.X <= 680, "%s is %d pixels wide", code, size.X)
		assert.Empty(t, widths[size.X], "%s has the width of another", code)
		assert.LessOrEqual(t, len(picture.Palette), 16, code)
		widths[size.X] = code
		b, _ := pictogram.PNG(code)
		total += len(b)
	}
	assert.Less(t, total, 64<<10)
}

// across calls f with each pixel, and with how far its middle lies from that
// of the square, counted along the axes, on a grid of 100.
func across(picture *image.Paletted, f func(reach float64, c color.RGBA)) {
	width := picture.Rect.Dx()
	away := func(i int) float64 { return math.Abs((float64(i)+0.5)/float64(width)*100 - 50) }
	for y := range width {
		for x := range width {
			f(away(x)+away(y), color.RGBAModel.Convert(picture.At(x, y)).(color.RGBA))
		}
	}
}

// The standard's words: a square set at a point, black symbol, white ground,
// red frame. The symbol is parted from the frame, so that they do not run
// together where the frame prints grey.
func TestBlackSymbolOnWhiteInRedFrame(t *testing.T) {
	white, red := color.RGBA{0xff, 0xff, 0xff, 0xff}, color.RGBA{0xdc, 0x14, 0x14, 0xff}
	for _, code := range pictogram.Codes() {
		wrong := map[string]int{}
		ink, ground := 0, 0
		across(decode(t, code), func(reach float64, c color.RGBA) {
			switch {
			case reach > 50 && c != white:
				wrong["corner not white"]++
			case 43.4 < reach && reach < 49 && c != red:
				wrong["frame not red"]++
			case reach > 42.6 && c.R != 0xff && c.R == c.G:
				wrong["grey in the frame"]++
			case 40.9 < reach && reach < 42.6 && c != white:
				wrong["symbol near the frame"]++
			case reach <= 40.9 && (c.R != c.G || c.G != c.B):
				wrong["colour within the frame"]++
			case reach <= 40.9 && c == color.RGBA{A: 0xff}:
				ink++
			}
			if reach <= 40.9 {
				ground++
			}
		})
		assert.Empty(t, wrong, code)
		share := float64(ink) / float64(ground)
		assert.True(t, 0.1 < share && share < 0.5, "%s: %.2f of the ground is black", code, share)
	}
}

// Paper is 255 and the symbol 0. A frame in the dark half stands out from the
// paper; well above 0 it still differs from the symbol.
func TestFrameInBlackAndWhite(t *testing.T) {
	for _, code := range pictogram.Codes() {
		picture := decode(t, code)
		frame := picture.At(picture.Rect.Dx()/2, picture.Rect.Dx()*3/100)
		assert.Equal(t, color.Gray{80}, color.GrayModel.Convert(frame), code)
	}
}
