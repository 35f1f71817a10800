// Package xlsx sets a paper as a workbook: a front page, one sheet for each
// section of level 1, then the inputs and the sources. Figures are numbers,
// shown with the digits of the model; live columns and totals are formulas
// with our own figure stored beside, so that the workbook can be checked and
// played with, and still reads the same where nothing calculates.
//
// What is not known is text, never a number, and SUM and SUMIFS pass over it.
//
// A chart is drawn by the workbook from the cells of its table. A line of
// stations is a table.
//
// Not covered: the drawing of a line of stations, and page numbers in the contents (a workbook has none
// before it is printed); the contents lead to the sheets instead. A live figure
// that rounds to nothing from below shows as -0.00 where the other papers say
// 0.00: a formula may come out differently, so its sign is left to show.
package xlsx

import (
	"errors"
	"fmt"
	"io"
	"time"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
)

// Write sets d. It fails on a defect of the model, naming table and column:
// a formula that refers to what is not there, a live cell without a formula.
func Write(w io.Writer, d *doc.Document) error {
	day, err := time.Parse(time.DateOnly, d.Foot.AsOf)
	if err != nil {
		return fmt.Errorf("foot: as-of day %q is not a day; write it as 2026-03-31", d.Foot.AsOf)
	}
	book, err := workbook.New(workbook.Props{
		Title: d.Head.Title, Subject: d.Head.Period, Creator: d.Head.Shop, Program: d.Foot.Program, Day: day,
	})
	if err != nil {
		return err
	}
	defer book.Close()
	p := &paper{doc: d, tables: map[string]*placed{}, inputs: map[string]string{}}
	if err := p.layOut(book); err != nil {
		return err
	}
	if err := p.defineInputs(book); err != nil {
		return err
	}
	for _, page := range p.pages {
		if err := p.write(page); err != nil {
			return err
		}
	}
	return book.Write(w)
}

// paper is a document on its way into a workbook. All is placed before
// anything is written, for formulas refer to tables on later sheets.
type paper struct {
	doc    *doc.Document
	pages  []*page
	tables map[string]*placed
	inputs map[string]string // by name in formulas: name in the workbook
	values *page             // where the inputs stand
	faults []error

	marks    []mark
	listings []listing
}

func (p *paper) fault(format string, args ...any) {
	p.faults = append(p.faults, fmt.Errorf(format, args...))
}

func (p *paper) layOut(book *workbook.Book) error {
	p.divide()
	for _, page := range p.pages {
		sheet, err := book.Sheet(page.title)
		if err != nil {
			return err
		}
		page.sheet = sheet
	}
	for _, page := range p.pages {
		page.fit()
	}
	p.resolve()
	return errors.Join(p.faults...)
}

// divide deals the blocks out to pages.
func (p *paper) divide() {
	front := p.page("Front page")
	p.front(front)
	at := front
	for _, block := range p.doc.Content {
		if h, ok := block.(doc.Heading); ok && h.Level == 1 {
			at = p.page(h.Number + " " + h.Text)
		}
		p.block(at, block)
	}
	p.foot(front)
	p.inputsPage()
	p.sourcesPage()
	p.contents()
}

func (p *paper) page(title string) *page {
	added := &page{title: title}
	p.pages = append(p.pages, added)
	return added
}
