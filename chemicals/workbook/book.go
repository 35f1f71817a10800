// Package workbook is the only door to the spreadsheet library. It writes
// workbooks as a stream, row by row, and reads the typed cells of a workbook
// that somebody filled in.
//
// Writing: the same calls make the same bytes, whenever and wherever they are
// made. A sheet's features (widths, panes, print titles, links) are set before
// its first row and refused afterwards, since the library would drop them
// without a word. Formulas go in with the value that we computed for them, so
// that a reader that does not calculate shows a figure too.
//
// Reading: every cell tells what it is; a date is a date by its number format,
// a formula is the value stored with it. See File.
//
// By: ISO/IEC 29500-1, SpreadsheetML and DrawingML.
//
// Not covered: charts of other than figures over days, drop-down lists, passwords, macros, and
// changing a workbook in place (what the library does not know would be lost).
package workbook

import (
	"fmt"
	"io"
	"time"

	"github.com/xuri/excelize/v2"
)

// The font of all cells, the library's own; a column's width counts its digits.
const (
	bodyFont = "Calibri"
	bodySize = 11
)

// Props are a workbook's properties.
type Props struct {
	Title   string
	Subject string
	Creator string    // the shop or program whose paper it is
	Program string    // name and version
	Day     time.Time // the day it bears as created and modified; never the clock's
}

// Book is a workbook being written.
type Book struct {
	file   *excelize.File
	sheets []*Sheet
	taken  map[string]bool
	charts int
	styles map[styleKey]int
}

// New starts a workbook. Close it in any case: large sheets wait on disk.
func New(p Props) (*Book, error) {
	if p.Day.IsZero() {
		return nil, fmt.Errorf("a workbook needs the day it bears")
	}
	b := &Book{file: excelize.NewFile(), taken: map[string]bool{}, styles: map[styleKey]int{}}
	stamp := p.Day.UTC().Format(time.RFC3339)
	if err := b.file.SetDocProps(&excelize.DocProperties{
		Title: clean(p.Title), Subject: clean(p.Subject),
		Creator: clean(p.Creator), LastModifiedBy: clean(p.Program),
		Created: stamp, Modified: stamp,
	}); err != nil {
		return nil, err
	}
	if err := b.file.SetAppProps(&excelize.AppProperties{Application: clean(p.Program)}); err != nil {
		return nil, err
	}
	return b, nil
}

// Sheet adds a sheet behind those that are there. Its name is made legal and
// unlike the others; see Sheet.Name.
func (b *Book) Sheet(name string) (*Sheet, error) {
	name = sheetName(name, b.taken)
	if len(b.sheets) == 0 {
		if err := b.file.SetSheetName(b.file.GetSheetName(0), name); err != nil {
			return nil, err
		}
	} else if _, err := b.file.NewSheet(name); err != nil {
		return nil, err
	}
	s := &Sheet{book: b, name: name}
	b.sheets = append(b.sheets, s)
	return s, nil
}

// Define gives a name to a cell or range, as On writes it. The library refuses
// names that look like a reference.
func (b *Book) Define(name, refersTo string) error {
	if err := b.file.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: refersTo}); err != nil {
		return fmt.Errorf("name %q: %w", name, err)
	}
	return nil
}

// Write finishes all sheets and writes the workbook.
func (b *Book) Write(w io.Writer) error {
	if len(b.sheets) == 0 {
		return fmt.Errorf("a workbook needs a sheet")
	}
	for _, s := range b.sheets {
		if err := s.finish(); err != nil {
			return err
		}
	}
	b.file.SetZipWriter(newStableZip)
	return b.file.Write(w)
}

// Close removes what waits on disk.
func (b *Book) Close() error { return b.file.Close() }
