// Package pdf sets a paper on pages: a doc.Document in, a PDF file out.
//
// It decides where lines and pages end, never what they say. Lines are broken
// and pages filled here (compose, paginate) and the finished pages are handed
// to the PDF library (handover.go), because that library neither repeats a
// table's head nor keeps a heading with its text, and its page numbers drift
// when it breaks pages itself.
//
// Layout is measured in quarters of a millimetre. They are exact in binary, so
// heights add up without rounding and a page ends where it was planned to end.
//
// Drawings (charts, lines of stations) are made of level and upright lines and
// of signs of the typeface (canvas.go): the library draws nothing else but
// pictures, and a picture would be coarser and larger. They hold in black and
// white: greys are fillings only, and marks and lines differ in form.
//
// The same document gives the same bytes: dates in the file are the as-of day.
//
// Not covered: tagged PDF, outline and PDF/A (the library has none of them);
// right-to-left and complex scripts, which are printed in the order in which
// they are stored and unjoined; characters beyond the font, which are printed
// as U+FFFD.
package pdf

import (
	"fmt"
	"io"
	"strings"
	"time"

	"bathwarden/reports/doc"
)

// Page is a size of paper.
type Page int

// The sizes.
const (
	A4 Page = iota + 1
	Letter
)

func (p Page) String() string {
	switch p {
	case A4:
		return "a4"
	case Letter:
		return "letter"
	}
	return "no page size"
}

// ParsePage reads the words that String prints, in either case.
func ParsePage(text string) (Page, error) {
	for _, p := range []Page{A4, Letter} {
		if strings.EqualFold(strings.TrimSpace(text), p.String()) {
			return p, nil
		}
	}
	return 0, fmt.Errorf("page size %q is not one of: %v, %v", text, A4, Letter)
}

// Write sets d and writes the file to w. It writes nothing unless the whole
// document could be set and the file has the pages that were planned.
func Write(w io.Writer, d *doc.Document, page Page) error {
	data, err := render(d, page)
	if err != nil {
		return fmt.Errorf("pdf of %q: %w", d.Head.Kind, err)
	}
	_, err = w.Write(data)
	return err
}

// render turns a panic of the PDF library or of a malformed document into an
// error, so that one bad cell cannot end the program.
func render(d *doc.Document, page Page) (data []byte, err error) {
	defer func() {
		if r := recover(); r != nil {
			data, err = nil, fmt.Errorf("cannot set the document: %v; print it as text or as a workbook", r)
		}
	}()
	day, err := time.Parse(time.DateOnly, d.Foot.AsOf)
	if err != nil {
		return nil, fmt.Errorf("as-of day %q is not a day; write it as 2026-03-31", d.Foot.AsOf)
	}
	if page != A4 && page != Letter {
		return nil, fmt.Errorf("page size %d is not known; use %v or %v", int(page), A4, Letter)
	}
	paper := sheetOf(page)
	return handOver(paper, plan(d, paper), titlesOf(d, day))
}
