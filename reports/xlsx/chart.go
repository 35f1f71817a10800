package xlsx

import (
	"fmt"
	"strings"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
)

// The room of a chart: lines kept free above its table, and its width in pixels
// of 3/4 point.
const (
	chartLines = 20
	chartTall  = 16.0
	chartWide  = 620
)

// charted is a chart in its place: its upper left cell is the first of row.
type charted struct {
	chart   doc.Chart
	opening int // row where what belongs to it begins
	title   int // row of its title
	row     int
	table   *placed
}

// chart keeps room for the drawing and sets the table that it is drawn from.
func (p *paper) chart(at *page, c doc.Chart) {
	figures := c.Figures()
	if !c.Drawn() && c.Empty != "" {
		figures.Rows = nil
		p.table(at, figures)
		return
	}
	title := at.say(c.Title+cites(c.Cites), workbook.Strong)
	row := len(at.lines) + 1
	for range chartLines {
		at.add(chartTall)
	}
	at.gap()
	figures.Caption = "Figures of the chart"
	p.table(at, figures)
	at.charts = append(at.charts, &charted{chart: c, opening: at.opening(title), title: title, row: row, table: p.tables[figures.Name]})
}

// opening is the heading above a row if nothing but running text stands
// between them; else the row itself.
func (p *page) opening(row int) int {
	for above := row - 1; above > p.heading; above-- {
		if len(p.lines[above-1].cells) > 1 {
			return row
		}
	}
	return max(p.heading, 1)
}

// breaks are the rows that begin a printed page so that no chart is cut: each
// chart that might not end on the page of the one before, with its heading.
// Where pages break on their own is not known, for the paper is the printer's.
func (p *page) breaks() []int {
	room := uprightRoom
	if p.onSide() {
		room = onSideRoom
	}
	var rows []int
	begins := 1
	for _, c := range p.charts {
		end := c.row + chartLines
		if p.height(begins, end) <= room {
			continue
		}
		begins = c.opening
		if begins == 1 || p.height(begins, end) > room {
			begins = c.title
		}
		rows = append(rows, begins)
	}
	return rows
}

// height is that of the rows from first up to end, without it.
func (p *page) height(first, end int) float64 {
	sum := 0.0
	for _, l := range p.lines[first-1 : end-1] {
		sum += max(l.height, l.tall)
	}
	return sum
}

// draw puts a chart onto its sheet.
func (c charted) draw(sheet *workbook.Sheet) error {
	axes := c.chart.Axes()
	first, last := doc.DayOf(axes.First), doc.DayOf(axes.Last+1)
	days := workbook.Axis{Step: dayStep(axes),
		Low: workbook.DayNumber(first.Year, first.Month, first.Day), High: workbook.DayNumber(last.Year, last.Month, last.Day)}
	values := workbook.Axis{Title: axes.Title, Low: axes.Low, High: axes.High, Step: axes.Step, Log: axes.Log, Decimals: c.decimals(axes)}
	return sheet.Chart(workbook.Chart{
		Column: 1, Row: c.row, Rows: chartLines, Width: chartWide, Title: c.chart.Title, Alt: c.alt(),
		Days: days, Values: values, Series: c.series(),
	})
}

// decimals are those of the axis' labels; those of a logarithmic scale differ
// from label to label.
func (c charted) decimals(a doc.Axes) int {
	if a.Log {
		return 0
	}
	return doc.Significant(a.Step, 1)
}

// dayStep is the distance of the ticks of the page; twice it where the longer
// labels of a workbook would not have room.
func dayStep(a doc.Axes) float64 {
	if len(a.Days) < 2 {
		return float64(a.Last + 1 - a.First)
	}
	step := a.Days[1].At - a.Days[0].At
	if step > 27 { // months, of which none is as long as the next
		step = float64(a.Last+1-a.First) / float64(len(a.Days))
	}
	if len(a.Days) > 7 {
		step *= 2
	}
	return step
}

// alt says what the drawing shows; its figures stand in the table.
func (c charted) alt() string {
	var names []string
	for _, d := range c.chart.Dots {
		names = append(names, d.Name)
	}
	for _, s := range c.chart.Steps {
		names = append(names, s.Name)
	}
	for _, b := range c.chart.Bands {
		names = append(names, b.Name)
	}
	return fmt.Sprintf("%s over time: %s. The figures stand in the table below.", c.chart.Axis, strings.Join(names, ", "))
}

// series are drawn in this order, so that points stand on the lines.
func (c charted) series() []workbook.Series {
	var all []workbook.Series
	add := func(name, column string, s workbook.Series) {
		s.Name, s.Days, s.Values = name, c.column("day"), c.column(column)
		all = append(all, s)
	}
	for i, b := range c.chart.Bands {
		for _, part := range []string{"low", "likely", "high"} {
			line := workbook.Edge
			if part == "likely" {
				line = workbook.Thin
			}
			add(b.Name+", "+part, fmt.Sprintf("%s%d", part, i+1), workbook.Series{Line: line})
		}
	}
	lines := []workbook.Line{workbook.Solid, workbook.Dashed, workbook.Dotted, workbook.DashDotted}
	for i, s := range c.chart.Steps {
		add(s.Name, fmt.Sprintf("steps%d", i+1), workbook.Series{Line: lines[i%len(lines)]})
	}
	marks := []workbook.Mark{workbook.Circle, workbook.Square, workbook.Diamond, workbook.Triangle, workbook.Star, workbook.Cross}
	for i, d := range c.chart.Dots {
		add(d.Name, fmt.Sprintf("dots%d", i+1), workbook.Series{Mark: marks[i%len(marks)]})
		if d.AnyBelow() {
			add(d.Name+", not found (<), at its reporting limit", fmt.Sprintf("below%d", i+1),
				workbook.Series{Mark: marks[i%len(marks)], Hollow: true})
		}
	}
	return all
}

// column is a column of the chart's table, as a reference.
func (c charted) column(name string) string {
	n, err := column(c.table.table, name)
	if err != nil {
		panic("xlsx: " + err.Error()) // the model names the columns of a chart's table
	}
	return c.table.whole(n, nil)
}
