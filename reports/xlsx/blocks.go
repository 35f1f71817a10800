package xlsx

import (
	"fmt"
	"strconv"
	"strings"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
)

// The widths of the columns of forms and workings.
const (
	labelWidth  = 24
	symbolWidth = 16
	valueWidth  = 26
	signWidth   = 22
)

// block places one block at the end of a page.
func (p *paper) block(at *page, block doc.Block) {
	at.gap()
	switch b := block.(type) {
	case doc.Heading:
		p.heading(at, b)
	case doc.Paragraph:
		at.say(b.Text+cites(b.Cites), emphasis(b.Emphasis))
	case doc.List:
		for _, item := range b.Items {
			at.say("• "+item.Is+cites(item.Cites), emphasis(item.Emphasis))
		}
	case doc.Fields:
		p.fields(at, b)
	case doc.Table:
		p.table(at, b)
	case doc.Working:
		working(at, b)
	case doc.Notice:
		notice(at, b)
	case doc.Chart:
		p.chart(at, b)
	case doc.Line:
		p.table(at, b.Figures())
	case doc.Label:
		label(at, b)
	case doc.SignOff:
		signOff(at, b)
	case doc.Contents:
		p.listings = append(p.listings, listing{at, len(at.lines)})
		for range p.listed() {
			at.say(" ", 0)
		}
	default:
		p.fault("a workbook has no form for a %T", block)
	}
}

// cites is how source numbers follow a text: " [3]", " [3, 4]".
func cites(numbers []int) string {
	if len(numbers) == 0 {
		return ""
	}
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = strconv.Itoa(n)
	}
	return " [" + strings.Join(words, ", ") + "]"
}

func cite(number int) string {
	if number == 0 {
		return ""
	}
	return cites([]int{number})
}

func emphasis(e doc.Emphasis) workbook.Style {
	switch e {
	case doc.Caution:
		return workbook.Caution
	case doc.Over:
		return workbook.Over
	}
	return 0
}

func (p *paper) heading(at *page, h doc.Heading) {
	style, tall := workbook.Strong, lineTall
	if h.Level == 1 {
		style, tall = workbook.Title, titleTall
	}
	row := at.add(tall, text(h.Number+"  "+h.Text, style).over(rest))
	if h.Level > 1 {
		at.heading = row
	}
	if h.Level <= 2 {
		p.marks = append(p.marks, mark{h, spot{at, row}})
	}
}

func (p *paper) fields(at *page, f doc.Fields) {
	for _, item := range f.Items {
		c := p.cell(item.Value, "field "+strconv.Quote(item.Label))
		if n, ok := item.Value.(doc.Number); ok && n.Live {
			p.fault("field %q: a live figure needs the column of a table", item.Label)
		}
		c.value = c.value.As(workbook.Left | workbook.Wrap)
		at.add(lineTall, text(item.Label, workbook.Small).over(labelWidth), c.over(rest))
	}
}

func notice(at *page, n doc.Notice) {
	style := workbook.Box | emphasis(n.Emphasis)
	if n.Title != "" {
		at.say(n.Title, style|workbook.Strong)
	}
	at.say(n.Text, style)
}

func working(at *page, w doc.Working) {
	at.say(w.Title, workbook.Strong)
	for _, step := range w.Steps {
		at.say(step.Formula+cite(step.Cite), workbook.Box)
		for _, in := range step.Inputs {
			at.add(lineTall,
				text(in.Symbol, 0).over(symbolWidth), text(in.Value, workbook.Left).over(valueWidth),
				text(in.Origin+cite(in.Cite), workbook.Small).over(rest))
		}
		at.add(lineTall, text("result", workbook.Small).over(symbolWidth), text(step.Result, workbook.Strong).over(rest))
	}
	for _, caveat := range w.Caveats {
		at.say("caveat: "+caveat, workbook.Caution)
	}
}

func signOff(at *page, s doc.SignOff) {
	at.say(s.Statement, 0)
	for range s.Room {
		at.add(signTall, cell{value: workbook.Value{}.As(workbook.Sign)}.over(rest))
	}
	for _, role := range s.Roles {
		line := cell{value: workbook.Value{}.As(workbook.Sign)}
		at.add(signTall, cell{}.over(labelWidth), line.over(signWidth), line.over(signWidth), line.over(rest))
		at.add(lineTall, text(role, workbook.Strong).over(labelWidth), text("name", workbook.Small).over(signWidth),
			text("signature", workbook.Small).over(signWidth), text("date", workbook.Small).over(rest))
	}
}

// cell sets one value of the model.
func (p *paper) cell(c doc.Cell, where string) cell {
	switch c := c.(type) {
	case doc.Text:
		return text(c.Is+cites(c.Cites), emphasis(c.Emphasis))
	case doc.Number:
		return figure(c, workbook.Number(c.Is))
	case doc.Date:
		return date(c)
	case doc.Blank:
		if c.Why == "" {
			return cell{}
		}
		unknown := text(c.String(), workbook.Small)
		unknown.blank = true
		return unknown
	}
	p.fault("%s holds %v; an absent value is a Blank", where, c)
	return cell{}
}

// figure shows unit and source numbers by the number format, so that the cell
// stays a number.
func figure(n doc.Number, v workbook.Value) cell {
	behind := cites(n.Cites)
	if n.Unit != "" {
		behind = " " + n.Unit + behind
	}
	before := ""
	if n.Below {
		before = "<"
	}
	return cell{
		value: v.Decimals(n.Decimals).Prefix(before).Suffix(behind).As(emphasis(n.Emphasis)),
		shown: n.String() + cites(n.Cites), solid: true,
	}
}

// date falls back to words for days that spreadsheets do not count.
func date(d doc.Date) cell {
	c := cell{value: workbook.Date(d.Year, d.Month, d.Day), shown: d.String(), solid: true}
	if d.Year <= 1900 {
		c.value = workbook.Text(d.String())
	}
	c.value = c.value.As(workbook.Left | emphasis(d.Emphasis))
	return c
}

func where(t doc.Table, row, column int) string {
	return fmt.Sprintf("table %q, row %d, column %q", t.Name, row+1, t.Columns[column].Name)
}
