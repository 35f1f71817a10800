package pdf

import "math"

// quarter is the unit of the layout, in millimetres.
const quarter = 0.25

// mm turns quarters into millimetres.
func mm(quarters int) float64 { return float64(quarters) * quarter }

// quartersUp is the least number of quarters that holds a length in millimetres.
func quartersUp(length float64) int { return int(math.Ceil(length/quarter - 1e-9)) }

// sheet is a page and the part of it that is printed on. The left margin is
// the wider one: papers are filed.
type sheet struct {
	page                     Page
	left, right, top, bottom float64 // margins in millimetres
	width, height            int     // between the margins, in quarters
}

func sheetOf(p Page) sheet {
	if p == Letter {
		// 215.9 x 279.4 mm: 180 mm wide; 257.4 mm high, less what keeps it off the break.
		return sheet{page: p, left: 20, right: 15.9, top: 12, bottom: 10, width: 720, height: 1028}
	}
	// 210 x 297 mm: 175 mm wide; 275 mm high, less a quarter.
	return sheet{page: p, left: 20, right: 15, top: 12, bottom: 10, width: 700, height: 1099}
}

// tone is a shade of grey. The zero tone draws nothing as a fill and black as
// a text or a rule.
type tone int

const (
	none tone = iota
	black
	dark // small text, still well readable in a copy
	hairline
	light // table heads; the range of an estimate
	white
)

// style is how text is set.
type style struct {
	size float64 // points
	bold bool
	tone tone
}

// The styles. 8 points is the least, and 7.5 for the foot alone.
var (
	titleStyle    = style{size: 18, bold: true}
	subtitleStyle = style{size: 11, tone: dark}
	bodyStyle     = style{size: 9.5}
	tableStyle    = style{size: 8.5}
	denseStyle    = style{size: 8}
	smallStyle    = style{size: 8, tone: dark}
	footStyle     = style{size: 7.5, tone: dark}
	headingStyles = [...]style{1: {size: 13.5, bold: true}, 2: {size: 11, bold: true}, 3: {size: 9.5, bold: true}}
)

func (s style) strong() style {
	s.bold, s.tone = true, none
	return s
}

func (s style) grey() style {
	s.tone = dark
	return s
}

// millimetres is the height of the type.
func (s style) millimetres() float64 { return s.size * 25.4 / 72 }

// lead is the distance from line to line, in quarters.
func (s style) lead() int { return int(math.Round(s.millimetres() * 1.27 / quarter)) }

// letters are the upper and the lower edge of what the letters of a line cover,
// its own upper edge at y.
func (s style) letters(y float64, lead int) (top, bottom float64) {
	baseline := y + s.baseline(lead)
	return baseline - 0.76*s.millimetres(), baseline + 0.24*s.millimetres()
}

// baseline is how far below the upper edge of a line of height lead the
// letters stand: capitals and descenders (0.73 and 0.24 of the size in this
// typeface) are centred in it.
func (s style) baseline(lead int) float64 { return mm(lead)/2 + 0.245*s.millimetres() }
