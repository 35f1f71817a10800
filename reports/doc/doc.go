// Package doc is the model of a printed paper, free of any format: what stands
// on it, in which order, with which digits and which source numbers. The
// renderers (text, xlsx, pdf) set it and decide nothing about its content, so
// that the terminal, the workbook and the page agree to the digit.
//
// The model holds no fonts, widths, colours or sheet names; emphasis is
// meaning. Every number is rounded here (Format), every section numbered here
// (Section), every source numbered here (Cite).
package doc

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"bathwarden/chemicals/source"
)

// Head is what stands at the top of a paper.
type Head struct {
	Kind     string // the report's name, as `report` takes it: "inventory"
	Title    string // what the paper is, in words
	Shop     string // whose paper it is; empty where the book does not say
	Period   string // the days it covers, in words
	AsOf     string // the day it speaks of, 2026-03-31
	Subtitle string // one line more, or empty
	Example  string // says that the data are invented; empty for a real shop
}

// Foot is what stands at the foot of each page: by it a paper can be printed
// again to the byte.
type Foot struct {
	AsOf    string // as-of day
	Program string // name and version
	Tables  string // hash of the published tables
	Entry   int64  // number of the last entry the report could see, 0 if none
	Hash    string // that entry's hash, whole; renderers may print its first 16 digits
}

// Document is one paper.
type Document struct {
	Head     Head
	Deferral string // never empty; see New
	Foot     Foot
	Content  []Block
	Inputs   []Input
	Sources  []source.Ref // numbered from 1, in the order in which they are first cited

	numbers [3]int
	cited   map[source.Ref]int
}

// New starts a paper. The deferral to local codes and licensed practice is
// asked for here because no paper may go out without it; New panics on an
// empty one.
func New(head Head, foot Foot, deferral string) *Document {
	if deferral == "" {
		panic("doc: a document needs its deferral")
	}
	return &Document{Head: head, Foot: foot, Deferral: deferral, cited: map[source.Ref]int{}}
}

// Add appends blocks.
func (d *Document) Add(blocks ...Block) { d.Content = append(d.Content, blocks...) }

// Section appends the next numbered heading of level 1, 2 or 3.
func (d *Document) Section(level int, text string) {
	if level < 1 || level > len(d.numbers) {
		panic("doc: a heading has level 1, 2 or 3")
	}
	d.numbers[level-1]++
	clear(d.numbers[level:])
	number := strconv.Itoa(d.numbers[0])
	for _, n := range d.numbers[1:level] {
		number += "." + strconv.Itoa(n)
	}
	d.Add(Heading{Level: level, Number: number, Text: text})
}

// FreshSection is Section on a page of its own.
func (d *Document) FreshSection(level int, text string) {
	d.Section(level, text)
	h := d.Content[len(d.Content)-1].(Heading)
	h.Fresh = true
	d.Content[len(d.Content)-1] = h
}

// Cite gives the number of a source, adding it to the list when it is new.
func (d *Document) Cite(ref source.Ref) int {
	if n, ok := d.cited[ref]; ok {
		return n
	}
	d.Sources = append(d.Sources, ref)
	d.cited[ref] = len(d.Sources)
	return len(d.Sources)
}

// Input is a named figure that live columns may use. It stands on the
// workbook's Inputs sheet; the other formats show it in the working.
type Input struct {
	Name  string // as a formula names it: lower-case words joined by _
	Label string
	Value float64
	Unit  string
	Cite  int // number of its source, 0 for none
}

// Emphasis is meaning, not looks.
type Emphasis int

// The emphases.
const (
	Normal  Emphasis = iota
	Caution          // wants the reader's eye: missing, stale, hazardous
	Over             // beyond a limit
)

// Block is one piece of a paper. The set is closed: Heading, Paragraph, List,
// Fields, Table, Working, Notice, Chart, Line, Label, SignOff, Contents.
type Block interface{ block() }

// Heading opens a section; Section numbers it.
type Heading struct {
	Level  int // 1 to 3
	Number string
	Text   string
	Fresh  bool // begins a page where the format has pages: what is handed out by itself
}

// Paragraph is running text.
type Paragraph struct {
	Text     string
	Emphasis Emphasis
	Cites    []int
}

// List is a list of points, each a short sentence.
type List struct {
	Items []Text
}

// Fields are labelled values one below the other, as on a form.
type Fields struct {
	Items []Field
}

// Field is one labelled value.
type Field struct {
	Label string
	Value Cell
}

// Table has a head that is repeated on each page, rows, and totals. Each row
// and each total has as many cells as there are columns.
type Table struct {
	Name    string // lower-case words joined by _, unique in the document; formulas name it
	Caption string // may be empty
	Columns []Column
	Rows    [][]Cell
	Totals  [][]Cell // rows below the rule; Number cells with Live set hold the sum of their column
	Empty   string   // what to print in place of a table without rows; never empty for a table that may have none
}

// Column is one column of a table.
type Column struct {
	Name    string // lower-case words joined by _, unique in the table; formulas name it
	Head    string
	Unit    string // of its Number cells; printed in the head
	Numeric bool   // set right; the head too
	// Formula makes the Number cells that are Live formulas in the workbook. In it
	// {name} is the cell of column name in the same row, {table:name} the whole
	// column of a table (without totals), {=name} an Input; the rest is spreadsheet
	// syntax with commas between arguments: "{count}*{size}",
	// "SUMIFS({stock:mass},{stock:product},{product})".
	Formula string
}

// Working shows how a figure was computed.
type Working struct {
	Title   string // whose figure: "Nickel in tank B5"
	Steps   []Step
	Caveats []string
}

// Step is one formula with the figures that went in and what came out.
type Step struct {
	Formula string
	Inputs  []StepInput
	Result  string
	Cite    int // the formula's source, 0 for none
}

// StepInput is one figure in a formula.
type StepInput struct {
	Symbol string
	Value  string // with its unit, as used
	Origin string // "recorded, entry 12"; "published"
	Cite   int
}

// Notice is set apart from the text: a caution, a gap that matters, what the
// paper does not decide.
type Notice struct {
	Title    string
	Text     string
	Emphasis Emphasis
}

// Label shows label elements. Words carry all of it; the pictograms repeat it
// where the format has pictures.
type Label struct {
	Signal     string      // signal word; empty for none
	Pictograms []Pictogram // may be empty
	Statements []Text
}

// Pictogram is a hazard pictogram of the GHS.
type Pictogram struct {
	Code string // "GHS05"
	Name string // "corrosion"
}

// String is the pictogram in words: code and name.
func (p Pictogram) String() string { return p.Code + " " + p.Name }

// Words are the signal word and the pictograms in words, as every format sets
// them: "Danger" or "none", and "GHS05 corrosion, GHS07 exclamation mark" or
// "none".
func (l Label) Words() (signal, pictograms string) {
	all := make([]string, len(l.Pictograms))
	for i, p := range l.Pictograms {
		all[i] = p.String()
	}
	return cmp.Or(l.Signal, "none"), cmp.Or(strings.Join(all, ", "), "none")
}

// SignOff is where people sign. Statement says to what; each line has a label
// (name, signature, date) for every role.
type SignOff struct {
	Statement string
	Room      int      // empty lines to write on, below the statement
	Roles     []string // one signature line each: "Prepared by", "Checked by"
}

// Contents lists the headings of levels 1 and 2, with their pages where the
// format has pages.
type Contents struct{}

func (Heading) block()   {}
func (Paragraph) block() {}
func (List) block()      {}
func (Fields) block()    {}
func (Table) block()     {}
func (Working) block()   {}
func (Notice) block()    {}
func (Label) block()     {}
func (SignOff) block()   {}
func (Contents) block()  {}

// Cell is one value in a table or a form. The set is closed: Text, Number,
// Date, Blank.
type Cell interface {
	// String is the cell as the terminal and the page print it, without its
	// column's unit and without source numbers.
	String() string
	cell()
}

// Text is words.
type Text struct {
	Is       string
	Emphasis Emphasis
	Cites    []int
}

// Number is a figure with the digits that it is printed with.
type Number struct {
	Is       float64 // unrounded
	Decimals int     // digits after the point, 0 to 12
	Unit     string  // only where the column has none; printed behind the figure
	Live     bool    // computed in the workbook by its column's formula; in Totals, the sum of its column
	Below    bool    // not found: the figure is what it would have been reported from, printed behind <
	Emphasis Emphasis
	Cites    []int
}

// Date is a day, written 2026-03-31.
type Date struct {
	Year, Month, Day int
	Emphasis         Emphasis
}

// Blank is a value that is not known or does not apply, and why. It is never
// shown as zero.
type Blank struct {
	Why string // short: "no density recorded"; empty where nothing is expected
}

func (Text) cell()   {}
func (Number) cell() {}
func (Date) cell()   {}
func (Blank) cell()  {}

func (t Text) String() string { return t.Is }

func (n Number) String() string {
	text := Format(n.Is, n.Decimals)
	if n.Below {
		text = "<" + text
	}
	if n.Unit != "" {
		text += " " + n.Unit
	}
	return text
}

func (d Date) String() string { return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day) }

func (b Blank) String() string {
	if b.Why == "" {
		return ""
	}
	return "not known: " + b.Why
}
