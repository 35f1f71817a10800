package workbook

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"iter"
	"regexp"
	"strconv"
)

// Worksheet is one sheet of a File.
type Worksheet struct {
	Name   string
	Hidden bool
	Merged []string // ranges of merged cells, as A1:B2; only the first cell of each holds anything

	file *File
	data []byte
}

// Row is one row that holds anything.
type Row struct {
	Sheet  string
	Number int    // from 1
	Cells  []Cell // those that are not empty, or have a formula, from left to right
}

// Cell is the cell in a column, counted from 1; an empty one where there is none.
func (r Row) Cell(column int) Cell {
	for _, c := range r.Cells {
		if c.Column == column {
			return c
		}
	}
	return Cell{Sheet: r.Sheet, Ref: Ref(column, r.Number), Column: column}
}

var (
	mergeRef = regexp.MustCompile(`<(?:\w+:)?mergeCell [^>]*?\bref="([A-Z0-9:]+)"`)
	rowStart = regexp.MustCompile(`^<row [^>]*?\br="(\d{1,10})"`)
)

func newWorksheet(f *File, name, state string, data []byte) *Worksheet {
	w := &Worksheet{Name: name, Hidden: state == "hidden" || state == "veryHidden", file: f, data: data}
	tail := data[max(bytes.LastIndex(data, []byte("sheetData")), 0):]
	for _, m := range mergeRef.FindAllSubmatch(tail, -1) {
		w.Merged = append(w.Merged, string(m[1]))
	}
	return w
}

// Rows runs over the rows that hold anything. It ends with the first *Problem:
// a damaged sheet, or more than MaxRows rows, which is told before any row.
func (w *Worksheet) Rows() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		if w.lastRow() > MaxRows {
			yield(Row{}, w.tooLong())
			return
		}
		scan := &scanner{sheet: w, in: xml.NewDecoder(bytes.NewReader(w.data)), row: Row{Sheet: w.Name}}
		for {
			row, err := scan.next()
			if errors.Is(err, io.EOF) {
				return
			}
			if err != nil {
				yield(Row{}, err)
				return
			}
			if len(row.Cells) > 0 && !yield(row, nil) {
				return
			}
		}
	}
}

// lastRow looks up the number of the last row without reading the others; 0
// where it is not written.
func (w *Worksheet) lastRow() int {
	at := bytes.LastIndex(w.data, []byte("<row "))
	if at < 0 {
		return 0
	}
	m := rowStart.FindSubmatch(w.data[at:min(at+1000, len(w.data))])
	if m == nil {
		return 0
	}
	n, _ := strconv.Atoi(string(m[1]))
	return n
}

func (w *Worksheet) tooLong() *Problem {
	return &Problem{
		Where: w.where(), What: fmt.Sprintf("has more than %d rows", MaxRows),
		Mend: "split it, or delete the empty rows below the last one",
	}
}

func (w *Worksheet) damaged(detail string) *Problem {
	p := damaged(detail)
	p.Where = w.where()
	return p
}

func (w *Worksheet) where() string { return fmt.Sprintf("sheet %q", w.Name) }

// scanner reads a sheet's XML row by row.
type scanner struct {
	sheet  *Worksheet
	in     *xml.Decoder
	row    Row
	column int  // of the last cell, empty ones too
	within bool // a row; the decoder does not pair raw tokens
}

// next reads up to the end of a row; io.EOF after the last.
func (s *scanner) next() (Row, error) {
	for {
		token, err := s.in.RawToken()
		if err != nil {
			return Row{}, s.broken(err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			if err := s.start(t); err != nil {
				return Row{}, err
			}
		case xml.EndElement:
			if name := t.Name.Local; name == "row" || name == "sheetData" || name == "worksheet" {
				return s.end(name)
			}
		}
	}
}

func (s *scanner) end(name string) (Row, error) {
	switch {
	case s.within != (name == "row"):
		return Row{}, s.sheet.damaged(fmt.Sprintf("%q ends where nothing such began", name))
	case s.within:
		s.within = false
		return s.row, nil
	}
	return Row{}, io.EOF
}

func (s *scanner) broken(err error) error {
	if errors.Is(err, io.EOF) {
		return s.sheet.damaged("it ends in the middle")
	}
	return s.sheet.damaged(err.Error())
}

func (s *scanner) start(t xml.StartElement) error {
	switch name := t.Name.Local; {
	case name == "row" && !s.within:
		return s.startRow(t)
	case name == "c" && s.within:
		return s.cell(t)
	case name == "row", name == "c":
		return s.sheet.damaged(fmt.Sprintf("%q stands in the wrong place behind row %d", name, s.row.Number))
	}
	return nil
}

func (s *scanner) startRow(t xml.StartElement) error {
	number := s.row.Number + 1
	if text := attribute(t, "r"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < number {
			return s.sheet.damaged(fmt.Sprintf("row %q follows row %d", text, s.row.Number))
		}
		number = n
	}
	if number > MaxRows {
		return s.sheet.tooLong()
	}
	s.row, s.column, s.within = Row{Sheet: s.sheet.Name, Number: number}, 0, true
	return nil
}

func attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// cell reads one cell and keeps it unless it is empty.
func (s *scanner) cell(t xml.StartElement) error {
	column := s.column + 1
	r := raw{}
	for _, a := range t.Attr {
		switch a.Name.Local {
		case "r":
			c, row, ok := position(a.Value)
			if !ok || row != s.row.Number || c < column {
				return s.sheet.damaged(fmt.Sprintf("cell %q stands in row %d behind column %s", a.Value, s.row.Number, Letters(column-1)))
			}
			column = c
		case "s":
			r.style, _ = strconv.Atoi(a.Value)
		case "t":
			r.kind = a.Value
		}
	}
	if err := s.content(&r); err != nil {
		return err
	}
	s.column = column
	c := Cell{Sheet: s.sheet.Name, Ref: Ref(column, s.row.Number), Column: column}
	s.sheet.file.settle(&c, &r)
	if c.Kind != KindEmpty || c.Formula != "" || c.Fault != nil {
		s.row.Cells = append(s.row.Cells, c)
	}
	return nil
}

// content reads what stands between a cell's tags.
func (s *scanner) content(r *raw) error {
	into := (*string)(nil)
	for {
		token, err := s.in.RawToken()
		if err != nil {
			return s.broken(err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			switch t.Name.Local {
			case "v":
				into, r.hasValue = &r.value, true
			case "f":
				into, r.hasFormula = &r.formula, true
			case "is":
				if r.value, err = richText(s.in, "is"); err != nil {
					return s.broken(err)
				}
			}
		case xml.CharData:
			if into != nil {
				*into += string(t)
			}
		case xml.EndElement:
			into = nil
			if t.Name.Local == "c" {
				return nil
			}
		}
	}
}
