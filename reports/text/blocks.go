package text

import (
	"fmt"
	"strings"

	"bathwarden/reports/doc"
)

func (p *printer) block(d *doc.Document, block doc.Block) error {
	p.gap()
	switch b := block.(type) {
	case doc.Heading:
		p.heading(b)
	case doc.Paragraph:
		p.emphasised("", join(b.Text, cites(b.Cites)), b.Emphasis)
	case doc.List:
		for _, item := range b.Items {
			p.emphasised("- ", join(item.Is, cites(item.Cites)), item.Emphasis)
		}
	case doc.Fields:
		p.fields(b)
	case doc.Table:
		return p.table(b)
	case doc.Working:
		p.working(b)
	case doc.Notice:
		p.notice(b)
	case doc.Chart:
		t := b.Summary()
		t.Caption = join(t.Caption, cites(b.Cites))
		return p.table(t)
	case doc.Line:
		return p.table(b.Figures())
	case doc.Label:
		p.label(b)
	case doc.SignOff:
		p.signOff(b)
	case doc.Contents:
		p.contents(d)
	default:
		return fmt.Errorf("the terminal has no form for a %T", block)
	}
	return nil
}

func (p *printer) heading(h doc.Heading) {
	text := h.Number + " " + h.Text
	switch h.Level {
	case 1:
		p.under(text, "=")
	case 2:
		p.under(text, "-")
	default:
		p.say("", "", text)
	}
}

// emphasised sets text behind a bullet and its mark.
func (p *printer) emphasised(bullet, text string, e doc.Emphasis) {
	first := bullet
	if mark := p.mark(e); mark != "" {
		first += mark + " "
	}
	p.say(first, strings.Repeat(" ", len(first)), text)
}

func (p *printer) fields(f doc.Fields) {
	wide := 0
	for _, item := range f.Items {
		wide = max(wide, columns(visible(item.Label)))
	}
	wide = min(wide, p.width/3)
	for _, item := range f.Items {
		labels := wrap(item.Label, wide)
		values := wrap(p.set(item.Value).whole(), p.width-wide-2)
		for i := range max(len(labels), len(values)) {
			p.line(pad(at(labels, i), wide, false) + "  " + at(values, i))
		}
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func (p *printer) working(w doc.Working) {
	p.say("", "", w.Title)
	for _, step := range w.Steps {
		p.say("  ", "    ", join(step.Formula, cite(step.Cite)))
		for _, in := range step.Inputs {
			p.say("    ", "      ", fmt.Sprintf("%s = %s (%s)", in.Symbol, in.Value, join(in.Origin, cite(in.Cite))))
		}
		p.say("  = ", "    ", step.Result)
	}
	for _, caveat := range w.Caveats {
		p.say("  "+p.mark(doc.Caution)+" ", "    ", caveat)
	}
}

func cite(number int) string {
	if number == 0 {
		return ""
	}
	return cites([]int{number})
}

// notice is set apart by a bar at its left.
func (p *printer) notice(n doc.Notice) {
	title := join(p.mark(n.Emphasis), n.Title)
	if title != "" {
		p.say("| ", "| ", title)
	}
	p.say("| ", "| ", n.Text)
}

func (p *printer) label(l doc.Label) {
	signal, pictograms := l.Words()
	p.say("Signal word: ", "  ", signal)
	p.say("Pictograms: ", "  ", pictograms)
	for _, s := range l.Statements {
		p.emphasised("- ", join(s.Is, cites(s.Cites)), s.Emphasis)
	}
}

func (p *printer) signOff(s doc.SignOff) {
	p.say("", "", s.Statement)
	for range s.Room {
		p.gap()
		p.line(strings.Repeat("_", p.width))
	}
	for _, role := range s.Roles {
		p.gap()
		p.say("", "", role+":")
		for _, what := range []string{"name", "signature", "date"} {
			p.line(fmt.Sprintf("  %-10s", what) + strings.Repeat("_", min(p.width-12, 40)))
		}
	}
}

func (p *printer) contents(d *doc.Document) {
	for _, block := range d.Content {
		if h, ok := block.(doc.Heading); ok && h.Level <= 2 {
			indent := strings.Repeat("  ", h.Level)
			p.say(indent, indent+"  ", h.Number+" "+h.Text)
		}
	}
}
