package workbook

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// Kind is what a cell holds.
type Kind uint8

// The kinds.
const (
	KindEmpty Kind = iota
	KindText
	KindNumber
	KindDate
	KindBool
	KindError // of a formula: #DIV/0!
)

func (k Kind) String() string {
	return [...]string{"empty", "text", "number", "date", "bool", "error"}[k]
}

// Cell is one cell as it was filled in. Text is
//   - of a text, the text, blanks and all; "007" stays so;
//   - of a number, its shortest decimal of at most 15 digits: 1.1, not
//     1.1000000000000001. Where the number format shows a share, the cell reads
//     as its owner sees it: 0.05 with a percent format is "5 %";
//   - of a date, 2026-03-01, or 2026-03-01 14:30, or 14:30 where it is a time of
//     day only; seconds follow where there are any;
//   - of a truth value, TRUE or FALSE;
//   - of an error, the error: #DIV/0!.
//
// A formula counts for the value stored with it.
type Cell struct {
	Sheet   string
	Ref     string // B7
	Column  int    // from 1
	Kind    Kind
	Text    string
	Formula string   // with its =, which stands alone where the formula is shared with another cell; empty where there is none
	Fault   *Problem // why the cell cannot be used; nil for a sound one
}

// Where names the cell in messages: Stock!B7.
func (c Cell) Where() string { return c.Sheet + "!" + c.Ref }

// raw is a cell as it stands in the XML.
type raw struct {
	kind       string // attribute t
	style      int
	value      string
	hasValue   bool
	formula    string
	hasFormula bool
}

// settle makes of r what c holds.
func (f *File) settle(c *Cell, r *raw) {
	if r.hasFormula {
		c.Formula = "=" + r.formula
		if !r.hasValue || r.value == "" && r.kind != "str" {
			c.fault("the formula has no value stored with it", "open the workbook in a spreadsheet program and save it, or write the figure itself")
			return
		}
	}
	switch r.kind {
	case "s":
		n, err := strconv.Atoi(strings.TrimSpace(r.value))
		if r.value != "" && (err != nil || n < 0 || n >= len(f.shared)) {
			c.fault(fmt.Sprintf("points to text %q, which the workbook does not hold", r.value), "write the cell again")
			return
		}
		if r.value != "" {
			c.words(f.shared[n])
		}
	case "inlineStr":
		c.words(r.value)
	case "str":
		c.words(unescape(r.value))
	case "b":
		c.truth(r.value)
	case "e":
		c.Kind, c.Text = KindError, r.value
	case "d":
		c.isoDate(r.value)
	default:
		if r.value != "" {
			c.number(r.value, f.kind(r.style), f.date1904)
		}
	}
}

func (f *File) kind(style int) numberKind {
	if style < 0 || style >= len(f.kinds) {
		return plain
	}
	return f.kinds[style]
}

func (c *Cell) fault(what, mend string) {
	c.Fault = &Problem{Where: c.Where(), What: what, Mend: mend}
}

func (c *Cell) words(text string) {
	if text != "" {
		c.Kind, c.Text = KindText, text
	}
}

func (c *Cell) truth(value string) {
	switch strings.TrimSpace(value) {
	case "1", "true":
		c.Kind, c.Text = KindBool, "TRUE"
	case "0", "false":
		c.Kind, c.Text = KindBool, "FALSE"
	default:
		c.fault(fmt.Sprintf("%q is neither true nor false", value), "write the cell again")
	}
}

func (c *Cell) number(value string, kind numberKind, date1904 bool) {
	v, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(value, "xX_") {
		c.fault(fmt.Sprintf("is stored as a number but reads %q", value), "write the cell again")
		return
	}
	c.Kind, c.Text = KindNumber, decimal(v)
	switch kind {
	case percent:
		c.Text = decimal(v*100) + " %"
	case calendar, daytime, elapsed:
		c.Kind = KindDate
		if kind == elapsed {
			c.Text, err = elapsedText(v)
		} else {
			c.Text, err = dateText(v, kind, date1904)
		}
		if err != nil {
			c.Text = decimal(v)
			c.fault("shown as a date, but "+err.Error(), "write the date as 2026-03-31, or give the cell a number format")
		}
	}
}

// isoDate reads the form that strict workbooks may hold.
func (c *Cell) isoDate(value string) {
	for _, layout := range []string{"2006-01-02", "2006-01-02T15:04", "2006-01-02T15:04:05", "2006-01-02T15:04:05.999", time.RFC3339, "15:04:05"} {
		at, err := time.Parse(layout, strings.TrimSpace(value))
		if err != nil {
			continue
		}
		seconds := int64(at.Hour()*3600 + at.Minute()*60 + at.Second())
		c.Kind, c.Text = KindDate, at.Format("2006-01-02")
		switch {
		case layout == "15:04:05":
			c.Text = clock(seconds)
		case seconds != 0:
			c.Text += " " + clock(seconds)
		}
		return
	}
	c.fault(fmt.Sprintf("%q is not a date", value), "write it as 2026-03-31")
}
