package pdf

import (
	"fmt"
	"strconv"

	"bathwarden/chemicals/source"
	"bathwarden/reports/doc"
)

// The marks of emphasis; with bold type they show on paper without colour.
const (
	cautionMark = "!"
	overMark    = "▲"
)

// White between blocks, in quarters.
const (
	blockGap = 9
	smallGap = 4
)

// setter turns blocks into strips.
type setter struct {
	paper    sheet
	strips   []strip
	head     []strip // of every page but the first
	foot     []strip // of every page, the page's number apart
	headings []doc.Heading
	found    int  // headings set so far
	marked   bool // a mark of emphasis has been set
}

func compose(d *doc.Document, paper sheet) *setter {
	s := &setter{paper: paper}
	s.document(d)
	keepHeadings(s.strips)
	s.head = s.runningHead(d.Head)
	s.foot = s.pageFoot(d)
	return s
}

func (s *setter) document(d *doc.Document) {
	for _, b := range d.Content {
		if h, ok := b.(doc.Heading); ok {
			s.headings = append(s.headings, h)
		}
	}
	sources := doc.Heading{Level: 1, Text: "Sources"}
	if len(d.Sources) > 0 {
		s.headings = append(s.headings, sources)
	}
	s.titleBlock(d)
	for i, b := range d.Content {
		s.block(b)
		if _, words := b.(doc.Paragraph); words && i+1 < len(d.Content) && isLedTo(d.Content[i+1]) {
			s.strips[len(s.strips)-1].keep = true
		}
	}
	if len(d.Sources) > 0 {
		s.heading(sources)
		s.table(sourceTable(d.Sources))
	}
}

// isLedTo reports whether a paragraph before a block belongs to it, and is not
// left alone at the foot of a page.
func isLedTo(b doc.Block) bool {
	switch b.(type) {
	case doc.Heading, doc.Paragraph, doc.Notice, doc.Contents, doc.SignOff:
		return false
	}
	return true
}

func (s *setter) block(b doc.Block) {
	switch b := b.(type) {
	case doc.Heading:
		s.heading(b)
	case doc.Paragraph:
		s.paragraph(b)
	case doc.List:
		s.list(b)
	case doc.Fields:
		s.fields(b)
	case doc.Table:
		s.table(b)
	case doc.Working:
		s.working(b)
	case doc.Notice:
		s.notice(b)
	case doc.Chart:
		s.chart(b)
	case doc.Line:
		s.line(b)
	case doc.Label:
		s.label(b)
	case doc.SignOff:
		s.signOff(b)
	case doc.Contents:
		s.contents()
	default:
		panic(fmt.Sprintf("a %T is not a block that a page knows", b))
	}
}

// add appends strips below white.
func (s *setter) add(white int, strips ...strip) {
	if n := len(s.strips); n > 0 && s.strips[n-1].title {
		white = min(white, smallGap)
	}
	if len(strips) > 0 {
		strips[0].before += white
		s.strips = append(s.strips, strips...)
	}
}

// half is the most that is kept on one page at any price.
func (s *setter) half() int { return s.paper.height / 2 }

// third is the highest that a row may be without being set line by line.
func (s *setter) third() int { return s.paper.height / 3 }

// mark is the sign in front of what is emphasised.
func (s *setter) mark(e doc.Emphasis) string {
	switch e {
	case doc.Caution:
		s.marked = true
		return cautionMark
	case doc.Over:
		s.marked = true
		return overMark
	}
	return ""
}

// emphasised is text in a style, bold and behind its mark where emphasised.
func (s *setter) emphasised(text string, e doc.Emphasis, in style, whole bool) piece {
	if mark := s.mark(e); mark != "" {
		return piece{text: mark + " " + text, style: in.strong(), whole: whole}
	}
	return piece{text: text, style: in, whole: whole}
}

// cell is a cell's text, and its source numbers.
func (s *setter) cell(c doc.Cell, in style) (text []piece, cites []int) {
	switch c := c.(type) {
	case nil:
		return nil, nil
	case doc.Text:
		return []piece{s.emphasised(c.Is, c.Emphasis, in, false)}, c.Cites
	case doc.Number:
		return []piece{s.emphasised(c.String(), c.Emphasis, in, true)}, c.Cites
	case doc.Date:
		return []piece{s.emphasised(c.String(), c.Emphasis, in, true)}, nil
	case doc.Blank:
		if c.Why == "" {
			return nil, nil
		}
		return []piece{{text: "—", style: in}, {text: c.Why, style: smallStyle}}, nil
	}
	panic(fmt.Sprintf("a %T is not a cell that a page knows", c))
}

// inline is a cell's text with its source numbers behind it.
func (s *setter) inline(c doc.Cell, in style) prose {
	text, cites := s.cell(c, in)
	return measure(text...).with(measure(citations(cites)...))
}

func citations(numbers []int) []piece {
	var pieces []piece
	for _, n := range numbers {
		if n > 0 {
			pieces = append(pieces, piece{text: "[" + strconv.Itoa(n) + "]", style: smallStyle, whole: true})
		}
	}
	return pieces
}

func sourceTable(refs []source.Ref) doc.Table {
	t := doc.Table{Columns: []doc.Column{
		{Head: "No."}, {Head: "Document"}, {Head: "Place"}, {Head: "Year"}, {Head: "Standing"},
	}}
	for i, ref := range refs {
		year := doc.Text{}
		if ref.Year != 0 {
			year.Is = strconv.Itoa(ref.Year)
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: "[" + strconv.Itoa(i+1) + "]"}, doc.Text{Is: ref.Named()},
			doc.Text{Is: ref.Place}, year, doc.Text{Is: ref.Standing.String()},
		})
	}
	return t
}
