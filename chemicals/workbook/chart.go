package workbook

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// Chart is a drawing of cells over days: its ranges are references, so that it
// follows what is written into them. Marks and lines are black and grey, and
// told apart by form.
type Chart struct {
	Column, Row int // of its upper left cell
	Rows        int // that it covers, whatever their height
	Width       int // in pixels of 3/4 point
	Title, Alt  string
	Days        Axis // days as cells count them; see DayNumber
	Values      Axis
	Series      []Series
}

// usualRow is the height of a row in points that the library is told, and
// libraryRow the pixels that it makes of it. It cannot know better: rows are
// written after what stands on them.
const (
	usualRow   = 15.0
	libraryRow = 18
)

// Axis is a scale of a chart.
type Axis struct {
	Title     string
	Low, High float64
	Step      float64 // between ticks; a factor where Log
	Log       bool
	Decimals  int // of the labels
}

// Series are the points of a chart. Blank cells are gaps in its line.
type Series struct {
	Name         string
	Days, Values string // ranges, as On writes them
	Mark         Mark   // 0 for none
	Hollow       bool
	Line         Line // 0 for none
}

// Mark is the sign of a point.
type Mark int

// The marks.
const (
	Circle Mark = iota + 1
	Square
	Diamond
	Triangle
	Star
	Cross
)

// Line is how points are joined.
type Line int

// The lines.
const (
	Solid Line = iota + 1
	Dashed
	Dotted
	DashDotted
	Thin // of what is likely
	Edge // of a range
)

// inkHollow fills marks that are hollow: not white, for there are programs that
// draw no outline.
const inkHollow = "BFBFBF"

// DayNumber is a day as cells count it.
func DayNumber(year, month, dayOfMonth int) float64 { return Date(year, month, dayOfMonth).number }

// Chart draws on top of the sheet's cells. The library's own chart of points
// knows neither the distance between days nor dashes and hollow marks in the
// form that the format asks for: it makes the frame, and what is in it is
// written here.
func (s *Sheet) Chart(c Chart) error {
	if err := s.features("charts"); err != nil {
		return err
	}
	if err := s.book.file.SetSheetProps(s.name, &excelize.SheetPropsOptions{DefaultRowHeight: new(usualRow)}); err != nil {
		return err
	}
	frame := &excelize.Chart{
		Type: excelize.Scatter, Series: []excelize.ChartSeries{{}},
		Dimension: excelize.ChartDimension{Width: uint(c.Width), Height: uint(c.Rows * libraryRow)},
		Format:    excelize.GraphicOptions{AltText: clean(c.Alt)},
	}
	if err := s.book.file.AddChart(s.name, Ref(c.Column, c.Row), frame); err != nil {
		return fmt.Errorf("sheet %q, chart at %s: %w", s.name, Ref(c.Column, c.Row), err)
	}
	s.book.charts++
	s.book.file.Pkg.Store(fmt.Sprintf("xl/charts/chart%d.xml", s.book.charts), []byte(c.xml()))
	return nil
}

const chartHead = xml.Header + `<c:chartSpace xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/chart" ` +
	`xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" ` +
	`xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">` +
	`<c:date1904 val="0"/><c:roundedCorners val="0"/><c:chart>`

// xml is the chart as ISO/IEC 29500-1, 21.2, has it.
func (c Chart) xml() string {
	var b strings.Builder
	b.WriteString(chartHead + title(c.Title, `sz="1100" b="1"`) + `<c:autoTitleDeleted val="0"/><c:plotArea><c:layout/>` +
		`<c:scatterChart><c:scatterStyle val="lineMarker"/><c:varyColors val="0"/>`)
	for i, s := range c.Series {
		b.WriteString(s.xml(i))
	}
	b.WriteString(`<c:axId val="1"/><c:axId val="2"/></c:scatterChart>`)
	b.WriteString(c.Days.xml(1, 2, "b", `yyyy\-mm\-dd`))
	b.WriteString(c.Values.xml(2, 1, "l", c.Values.format()))
	b.WriteString(`</c:plotArea><c:legend><c:legendPos val="b"/><c:overlay val="0"/></c:legend>` +
		`<c:plotVisOnly val="1"/><c:dispBlanksAs val="gap"/></c:chart>` +
		`<c:spPr><a:solidFill><a:srgbClr val="FFFFFF"/></a:solidFill>` + outline(rule, 9525, "") + `</c:spPr>` +
		`<c:txPr><a:bodyPr/><a:p><a:pPr><a:defRPr sz="900"/></a:pPr><a:endParaRPr lang="en-US"/></a:p></c:txPr></c:chartSpace>`)
	return b.String()
}

// format is the number format of an axis' labels.
func (a Axis) format() string {
	if a.Decimals > 0 {
		return "0." + strings.Repeat("0", a.Decimals)
	}
	return "General"
}

func (a Axis) xml(id, across int, side, format string) string {
	log, grid := "", ""
	if a.Log {
		log = `<c:logBase val="10"/>`
	}
	if side == "l" {
		grid = `<c:majorGridlines><c:spPr>` + outline(hairline, 6350, "") + `</c:spPr></c:majorGridlines>`
	}
	return fmt.Sprintf(`<c:valAx><c:axId val="%d"/><c:scaling>%s<c:orientation val="minMax"/><c:max val="%s"/><c:min val="%s"/></c:scaling>`+
		`<c:delete val="0"/><c:axPos val="%s"/>%s%s<c:numFmt formatCode="%s" sourceLinked="0"/>`+
		`<c:majorTickMark val="out"/><c:minorTickMark val="none"/><c:tickLblPos val="low"/><c:spPr>%s</c:spPr>`+
		`<c:crossAx val="%d"/><c:crosses val="min"/><c:crossBetween val="midCat"/><c:majorUnit val="%s"/></c:valAx>`,
		id, log, figureText(a.High), figureText(a.Low), side, grid, title(a.Title, `sz="900" b="0"`), format,
		outline(inkBody, 9525, ""), across, figureText(a.Step))
}

func figureText(v float64) string { return strconv.FormatFloat(v, 'g', 15, 64) }

func (s Series) xml(number int) string {
	return fmt.Sprintf(`<c:ser><c:idx val="%[1]d"/><c:order val="%[1]d"/><c:tx><c:v>%[2]s</c:v></c:tx><c:spPr>%[3]s</c:spPr>%[4]s`+
		`<c:xVal><c:numRef><c:f>%[5]s</c:f></c:numRef></c:xVal><c:yVal><c:numRef><c:f>%[6]s</c:f></c:numRef></c:yVal><c:smooth val="0"/></c:ser>`,
		number, escape(s.Name), s.Line.xml(), s.mark(), escape(s.Days), escape(s.Values))
}

func (l Line) xml() string {
	switch l {
	case Solid:
		return outline(inkBody, 22225, "")
	case Dashed:
		return outline(inkBody, 22225, "dash")
	case Dotted:
		return outline(inkBody, 22225, "sysDot")
	case DashDotted:
		return outline(inkBody, 22225, "dashDot")
	case Thin:
		return outline(inkSmall, 15875, "")
	case Edge:
		return outline(rule, 9525, "")
	}
	return `<a:ln><a:noFill/></a:ln>`
}

// outline is a line in EMU, 12,700 to the point.
func outline(color string, width int, dash string) string {
	if dash != "" {
		dash = `<a:prstDash val="` + dash + `"/>`
	}
	return fmt.Sprintf(`<a:ln w="%d"><a:solidFill><a:srgbClr val="%s"/></a:solidFill>%s</a:ln>`, width, color, dash)
}

func (s Series) mark() string {
	symbols := [...]string{"none", "circle", "square", "diamond", "triangle", "star", "x"}
	symbol := symbols[max(0, min(int(s.Mark), len(symbols)-1))]
	if symbol == "none" {
		return `<c:marker><c:symbol val="none"/></c:marker>`
	}
	fill := inkBody
	if s.Hollow {
		fill = inkHollow
	}
	return fmt.Sprintf(`<c:marker><c:symbol val="%s"/><c:size val="7"/><c:spPr><a:solidFill><a:srgbClr val="%s"/></a:solidFill>%s</c:spPr></c:marker>`,
		symbol, fill, outline(inkBody, 9525, ""))
}

// title is a heading in the chart; nothing where there is no text.
func title(text, looks string) string {
	if text == "" {
		return ""
	}
	return `<c:title><c:tx><c:rich><a:bodyPr/><a:p><a:pPr><a:defRPr ` + looks + `/></a:pPr><a:r><a:rPr lang="en-US" ` + looks + `/><a:t>` +
		escape(text) + `</a:t></a:r></a:p></c:rich></c:tx><c:overlay val="0"/></c:title>`
}

func escape(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(clean(text))) // a strings.Builder takes all
	return b.String()
}
