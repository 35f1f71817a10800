package pdf

import (
	"fmt"
	"math"
	"sync"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face holds the advance widths of a typeface in thousandths of its size, as
// the PDF library rounds them; -1 where it has no glyph. The library takes
// characters up to U+FFFF only.
type face [1 << 16]int16

type typeface struct{ regular, bold face }

// dejavu reads the widths once; they do not change after.
var dejavu = sync.OnceValue(func() *typeface {
	return &typeface{
		regular: readFace(dejavusanscondensed.TTF),
		bold:    readFace(dejavusanscondensedbold.TTF),
	}
})

func readFace(ttf []byte) face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic(fmt.Sprintf("pdf: embedded font: %v", err))
	}
	var (
		widths face
		buffer sfnt.Buffer
		em     = int(f.UnitsPerEm())
	)
	for r := range widths {
		widths[r] = -1
		glyph, err := f.GlyphIndex(&buffer, rune(r))
		if err != nil || glyph == 0 || r == math.MaxUint16 {
			continue
		}
		// At em pixels per em an advance comes out in units of the font.
		advance, err := f.GlyphAdvance(&buffer, glyph, fixed.I(em), font.HintingNone)
		if err != nil {
			continue
		}
		widths[r] = int16(math.Round(float64(advance) / 64 * 1000 / float64(em)))
	}
	return widths
}

// has says whether both faces can print r.
func (t *typeface) has(r rune) bool {
	return r >= 0 && int(r) < len(t.regular) && t.regular[r] >= 0 && t.bold[r] >= 0
}

// width is how wide clean text runs, in millimetres.
func (s style) width(text string) float64 {
	widths := &dejavu().regular
	if s.bold {
		widths = &dejavu().bold
	}
	sum := 0
	for _, r := range text {
		sum += int(widths[r])
	}
	return float64(sum) / 1000 * s.millimetres()
}
