package workbook

import "github.com/xuri/excelize/v2"

// Style says what a cell is; the looks follow from it. Styles add up:
// Total | Over is a total beyond a limit.
type Style uint32

// The styles by meaning, and the few that place the words in the cell.
const (
	Title   Style = 1 << iota // what the paper or sheet is
	Strong                    // a heading below the title; a result
	Head                      // head of a column
	Caution                   // wants the reader's eye
	Over                      // beyond a limit
	Total                     // below the rule of a table
	Foot                      // what a paper can be printed again by
	Small                     // not known, and why; remarks
	Rows                      // in the body of a table: a hairline below
	Box                       // set apart from the text
	Sign                      // a line to sign on
	Jump                      // leads to another cell
	Wrap                      // long words go on in the next line
	Right                     // set right
	Left                      // set left, figures too
	Clear                     // set left, clear of figures in the column before
	Deep                      // set left, further in
)

// The palette: ink that holds on white and on a black-and-white printer. Over
// is bold and framed and Caution slanted, so that neither rests on colour.
const (
	inkBody    = "000000"
	inkTitle   = "1F3A4D"
	inkSmall   = "5A5A5A"
	inkJump    = "1F4E79"
	inkOver    = "8C1C13"
	inkCaution = "6B4A00"
	fillHead   = "DCE6EC"
	fillOver   = "F9DEDC"
	fillNote   = "FFF3D6"
	fillBox    = "F3F5F6"
	rule       = "8A9BA6"
	hairline   = "D5DBDF"
)

type styleKey struct {
	style  Style
	format string
}

// styleID finds or makes the style; the library itself searches all styles for
// each call.
func (b *Book) styleID(v *Value) (int, error) {
	key := styleKey{v.style, v.format()}
	if key == (styleKey{}) {
		return 0, nil
	}
	if id, ok := b.styles[key]; ok {
		return id, nil
	}
	style := &excelize.Style{
		Font:      key.style.font(),
		Fill:      key.style.fill(),
		Border:    key.style.border(),
		Alignment: key.style.alignment(),
	}
	if key.format != "" {
		style.CustomNumFmt = &key.format
	}
	id, err := b.file.NewStyle(style)
	if err != nil {
		return 0, err
	}
	b.styles[key] = id
	return id, nil
}

func (s Style) has(part Style) bool { return s&part != 0 }

func (s Style) font() *excelize.Font {
	f := &excelize.Font{
		Family: bodyFont, Size: bodySize, Color: inkBody,
		Bold: s.has(Title | Strong | Head | Total | Over), Italic: s.has(Caution | Small),
	}
	switch {
	case s.has(Title):
		f.Size, f.Color = 15, inkTitle
	case s.has(Foot):
		f.Size, f.Color = 8, inkSmall
	case s.has(Small):
		f.Size, f.Color = 9, inkSmall
	case s.has(Strong):
		f.Color = inkTitle
	}
	switch {
	case s.has(Over):
		f.Color = inkOver
	case s.has(Caution):
		f.Color = inkCaution
	case s.has(Jump):
		f.Color, f.Underline = inkJump, "single"
	}
	return f
}

func (s Style) fill() excelize.Fill {
	color := ""
	switch {
	case s.has(Over):
		color = fillOver
	case s.has(Caution):
		color = fillNote
	case s.has(Head):
		color = fillHead
	case s.has(Box):
		color = fillBox
	}
	if color == "" {
		return excelize.Fill{}
	}
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}

const (
	thin   = 1
	medium = 2
)

func (s Style) border() []excelize.Border {
	var sides []excelize.Border
	side := func(name, color string, kind int) {
		sides = append(sides, excelize.Border{Type: name, Color: color, Style: kind})
	}
	switch {
	case s.has(Over):
		for _, name := range []string{"left", "right", "top", "bottom"} {
			side(name, inkOver, thin)
		}
	case s.has(Total):
		side("top", rule, thin)
		side("bottom", rule, thin)
	case s.has(Head):
		side("bottom", rule, medium)
	case s.has(Sign):
		side("bottom", rule, thin)
	case s.has(Rows):
		side("bottom", hairline, thin)
	}
	return sides
}

func (s Style) alignment() *excelize.Alignment {
	a := &excelize.Alignment{Vertical: "top", WrapText: s.has(Wrap)}
	if s.has(Head | Sign) {
		a.Vertical = "bottom"
	}
	switch {
	case s.has(Right):
		a.Horizontal = "right"
	case s.has(Clear):
		a.Horizontal, a.Indent = "left", 1
	case s.has(Deep):
		a.Horizontal, a.Indent = "left", 3
	case s.has(Left):
		a.Horizontal = "left"
	}
	return a
}
