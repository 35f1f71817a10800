// Package text sets a paper for the terminal, in lines of a given width: plain
// text, aligned tables, no colour. What wants the reader's eye is marked with !
// and what is beyond a limit with !!.
//
// Text that people typed may hold anything: control characters and the marks
// that turn writing around are made visible, so that no record can move the
// cursor or disguise itself.
//
// Not covered: named inputs, which stand in the workings and, as such, on the
// workbook's sheet of their own; page numbers.
package text

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bathwarden/reports/doc"
)

// narrowest is the least width that lines are set in.
const narrowest = 40

// Write sets d in lines of at most width columns, 40 at the least.
func Write(w io.Writer, d *doc.Document, width int) error {
	p := &printer{width: max(width, narrowest)}
	p.head(d)
	for _, block := range d.Content {
		if err := p.block(d, block); err != nil {
			return err
		}
	}
	p.sources(d)
	p.foot(d)
	_, err := w.Write(p.out.Bytes())
	return err
}

type printer struct {
	out    bytes.Buffer
	width  int
	marked [3]bool // the emphases that occurred
}

// line ends the line; it is the only way out.
func (p *printer) line(text string) {
	p.out.WriteString(strings.TrimRight(visible(text), " "))
	p.out.WriteByte('\n')
}

// gap parts blocks by one empty line.
func (p *printer) gap() {
	if p.out.Len() > 0 && !bytes.HasSuffix(p.out.Bytes(), []byte("\n\n")) {
		p.out.WriteByte('\n')
	}
}

// say sets text behind first, and its further lines behind then.
func (p *printer) say(first, then, text string) {
	for i, l := range wrap(text, p.width-max(columns(first), columns(then))) {
		if i > 0 {
			first = then
		}
		p.line(first + l)
	}
}

// under sets text with a rule below it.
func (p *printer) under(text, rule string) {
	longest := 0
	for _, l := range wrap(text, p.width) {
		p.line(l)
		longest = max(longest, columns(l))
	}
	p.line(strings.Repeat(rule, longest))
}

// mark is what stands beside an emphasised text.
func (p *printer) mark(e doc.Emphasis) string {
	if e < 0 || int(e) >= len(p.marked) {
		return ""
	}
	p.marked[e] = true
	return [...]string{"", "!", "!!"}[e]
}

func (p *printer) head(d *doc.Document) {
	h := d.Head
	p.under(h.Title, "=")
	if h.Subtitle != "" {
		p.say("", "", h.Subtitle)
	}
	if h.Example != "" {
		p.gap()
		p.say(p.mark(doc.Caution)+" ", "  ", h.Example)
	}
	p.gap()
	for _, field := range [][2]string{{"Shop", h.Shop}, {"Period", h.Period}, {"As of", h.AsOf}} {
		if field[1] != "" {
			p.say(fmt.Sprintf("%-8s", field[0]), strings.Repeat(" ", 8), field[1])
		}
	}
	p.gap()
	p.say("", "", d.Deferral)
}

func (p *printer) sources(d *doc.Document) {
	if len(d.Sources) == 0 {
		return
	}
	p.gap()
	p.under("Sources", "=")
	indent := len(strconv.Itoa(len(d.Sources))) + 3
	for i, ref := range d.Sources {
		p.say(fmt.Sprintf("%*s ", indent-1, cites([]int{i + 1})), strings.Repeat(" ", indent), ref.String())
	}
}

func (p *printer) foot(d *doc.Document) {
	f := d.Foot
	p.gap()
	p.line(strings.Repeat("-", p.width))
	if p.marked[doc.Caution] || p.marked[doc.Over] {
		p.say("", "", "! wants the reader's eye; !! is beyond a limit")
	}
	parts := []string{"as of " + f.AsOf, f.Program, "tables " + f.Tables, "entry " + strconv.FormatInt(f.Entry, 10)}
	if f.Hash != "" {
		parts = append(parts, "hash "+f.Hash)
	}
	p.say("", "", strings.Join(parts, ", "))
}

// cites is how source numbers follow a text: "[3]", "[3, 4]".
func cites(numbers []int) string {
	if len(numbers) == 0 {
		return ""
	}
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = strconv.Itoa(n)
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// join puts a blank between the parts that are there.
func join(parts ...string) string {
	var there []string
	for _, part := range parts {
		if part != "" {
			there = append(there, part)
		}
	}
	return strings.Join(there, " ")
}
