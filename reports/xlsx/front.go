package xlsx

import (
	"fmt"
	"strconv"
	"strings"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
)

// mark is a heading in its place; listing is where a contents block stands.
type mark struct {
	heading doc.Heading
	spot    spot
}

type listing struct {
	page *page
	line int // the first of its lines
}

// front places the head of the paper.
func (p *paper) front(at *page) {
	h := p.doc.Head
	at.add(titleTall, text(h.Title, workbook.Title).over(rest))
	if h.Subtitle != "" {
		at.say(h.Subtitle, 0)
	}
	if h.Example != "" {
		at.gap()
		at.say(h.Example, workbook.Box|workbook.Caution)
	}
	at.gap()
	for _, field := range [][2]string{{"Shop", h.Shop}, {"Period", h.Period}, {"As of", h.AsOf}} {
		if field[1] != "" {
			at.add(lineTall, text(field[0], workbook.Small).over(labelWidth), text(field[1], workbook.Strong).over(rest))
		}
	}
	at.gap()
	at.say(p.doc.Deferral, workbook.Box)
}

// foot places, on the front page and in full, what the paper can be printed
// again by.
func (p *paper) foot(at *page) {
	f := p.doc.Foot
	at.gap()
	for _, field := range [][2]string{
		{"as of", f.AsOf}, {"program", f.Program}, {"published tables", f.Tables},
		{"last entry", strconv.FormatInt(f.Entry, 10)}, {"its hash", f.Hash},
	} {
		if field[1] != "" {
			at.add(footTall, text(field[0], workbook.Foot).over(labelWidth), text(field[1], workbook.Foot).over(rest))
		}
	}
}

// margins are the head and foot of every printed page.
func (p *paper) margins() (header, footer workbook.Margin) {
	h, f := p.doc.Head, p.doc.Foot
	header = workbook.Margin{Left: short(strings.TrimSpace(h.Shop+"  "+h.Example), 90), Right: short(h.Title, 90)}
	line := []string{"as of " + f.AsOf, f.Program, "tables " + short(f.Tables, 16), "entry " + strconv.FormatInt(f.Entry, 10)}
	if f.Hash != "" {
		line = append(line, short(f.Hash, 16))
	}
	return header, workbook.Margin{Left: short(strings.Join(line, "  ·  "), 160), Pages: true}
}

// short keeps the first characters of text.
func short(text string, n int) string {
	if runes := []rune(text); len(runes) > n {
		return string(runes[:n])
	}
	return text
}

// inputsPage lists the figures that formulas use, each under its name.
func (p *paper) inputsPage() {
	p.nameInputs()
	if len(p.doc.Inputs) == 0 {
		return
	}
	at := p.page("Inputs")
	p.values = at
	p.marks = append(p.marks, mark{doc.Heading{Level: 1, Text: at.title}, spot{at, 1}})
	at.add(titleTall, text("Inputs", workbook.Title).over(rest))
	at.say("Figures that the live columns use, by the name under which formulas know them.", 0)
	at.gap()
	at.add(lineTall, text("Name", workbook.Head), text("What it is", workbook.Head),
		text("Value", workbook.Head|workbook.Right), text("Unit", workbook.Head|workbook.Clear), text("Source", workbook.Head))
	for _, in := range p.doc.Inputs {
		value := cell{value: workbook.Number(in.Value).As(workbook.Rows | workbook.Right), shown: strconv.FormatFloat(in.Value, 'g', 15, 64), solid: true}
		at.add(lineTall, text(p.inputs[in.Name], workbook.Rows), text(in.Label, workbook.Rows), value,
			text(in.Unit, workbook.Rows|workbook.Clear), text(strings.TrimSpace(cite(in.Cite)), workbook.Rows))
	}
}

// defineInputs names the cells of the inputs.
func (p *paper) defineInputs(book *workbook.Book) error {
	if p.values == nil {
		return nil
	}
	first := len(p.values.lines) - len(p.doc.Inputs) + 1
	for i, in := range p.doc.Inputs {
		cell := fmt.Sprintf("$C$%d", first+i)
		if err := book.Define(p.inputs[in.Name], workbook.On(p.values.sheet.Name(), cell)); err != nil {
			return fmt.Errorf("input %q: %w", in.Name, err)
		}
	}
	return nil
}

func (p *paper) sourcesPage() {
	if len(p.doc.Sources) == 0 {
		return
	}
	at := p.page("Sources")
	p.marks = append(p.marks, mark{doc.Heading{Level: 1, Text: at.title}, spot{at, 1}})
	at.add(titleTall, text("Sources", workbook.Title).over(rest))
	at.gap()
	at.add(lineTall, text("No.", workbook.Head|workbook.Right), text("Document", workbook.Head|workbook.Clear),
		text("Place", workbook.Head), text("Year", workbook.Head|workbook.Right), text("Standing", workbook.Head|workbook.Clear))
	for i, ref := range p.doc.Sources {
		year := cell{}
		if ref.Year != 0 {
			year = cell{value: workbook.Number(float64(ref.Year)).Decimals(0), shown: strconv.Itoa(ref.Year), solid: true}
		}
		year.value = year.value.As(workbook.Rows | workbook.Right)
		number := cell{value: workbook.Number(float64(i + 1)).Decimals(0).As(workbook.Rows | workbook.Right), shown: strconv.Itoa(i + 1), solid: true}
		at.add(lineTall, number, text(ref.Named(), workbook.Rows|workbook.Clear), text(ref.Place, workbook.Rows), year,
			text(ref.Standing.String(), workbook.Rows|workbook.Clear))
	}
}

// listed counts the lines of a contents block: the headings of levels 1 and 2,
// and the sheets behind the last section.
func (p *paper) listed() int {
	n := 0
	for _, block := range p.doc.Content {
		if h, ok := block.(doc.Heading); ok && h.Level <= 2 {
			n++
		}
	}
	if len(p.doc.Inputs) > 0 {
		n++
	}
	if len(p.doc.Sources) > 0 {
		n++
	}
	return n
}

// contents fills the contents blocks, now that every heading has its place.
func (p *paper) contents() {
	for _, list := range p.listings {
		for i, m := range p.marks {
			style := workbook.Jump
			if m.heading.Level > 1 {
				style |= workbook.Deep
			}
			c := text(strings.TrimSpace(m.heading.Number+"  "+m.heading.Text), style).over(rest)
			c.jump = &m.spot
			list.page.lines[list.line+i].cells = []cell{c}
		}
	}
}
