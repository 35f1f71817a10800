package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"
)

// Row writes the next row, from the first column on.
func (s *Sheet) Row(values ...Value) error { return s.Tall(0, values...) }

// Tall writes the next row with a height in points; with 0 the height follows
// from what the cells hold.
func (s *Sheet) Tall(height float64, values ...Value) error {
	if err := s.begin(); err != nil {
		return err
	}
	s.row++
	if err := s.fits(len(values)); err != nil {
		return err
	}
	if len(values) > len(s.stored) {
		s.cells, s.stored = make([]any, len(values)), make([]excelize.Cell, len(values))
	}
	cells := s.cells[:len(values)] // the stream keeps none of them
	clear(cells)
	for i := range values {
		stored := &s.stored[i]
		*stored = excelize.Cell{}
		if err := s.store(&values[i], stored); err != nil {
			return fmt.Errorf("sheet %q, cell %s: %w", s.name, Ref(i+1, s.row), err)
		}
		if *stored != (excelize.Cell{}) {
			cells[i] = stored
		}
	}
	return s.stream.SetRow(Ref(1, s.row), cells, excelize.RowOpts{Height: height})
}

// fits checks the row just begun against what the sheet can hold.
func (s *Sheet) fits(columns int) error {
	switch {
	case s.row > MaxRows || columns > MaxColumns:
		return fmt.Errorf("sheet %q: %d rows of %d columns are more than a sheet holds (%d of %d)",
			s.name, s.row, columns, MaxRows, MaxColumns)
	case s.extent != [2]int{} && (columns > s.extent[0] || s.row > s.extent[1]):
		return fmt.Errorf("sheet %q: row %d with %d columns lies beyond the announced extent of %d columns and %d rows",
			s.name, s.row, columns, s.extent[0], s.extent[1])
	}
	return nil
}

func (s *Sheet) store(v *Value, cell *excelize.Cell) error {
	if what := v.problem(); what != "" {
		return fmt.Errorf("%s", what)
	}
	id, err := s.book.styleID(v)
	if err != nil {
		return err
	}
	cell.StyleID = id
	switch v.content {
	case words:
		if v.text != "" {
			cell.Value = clean(v.text)
		}
	case figure:
		cell.Formula, cell.Value = v.formula, fifteen(v.number)
	case day:
		cell.Value = v.number
	case truth:
		cell.Value = v.number != 0
	}
	return nil
}

// begin opens the stream; from here on features are refused.
func (s *Sheet) begin() error {
	if s.done {
		return fmt.Errorf("sheet %q: rows after the workbook was written", s.name)
	}
	if s.stream != nil {
		return nil
	}
	extent := "" // none rather than the library's A1
	if s.extent != [2]int{} {
		extent = Ref(1, 1) + ":" + Ref(s.extent[0], s.extent[1])
	}
	if err := s.book.file.SetSheetDimension(s.name, extent); err != nil {
		return err
	}
	stream, err := s.book.file.NewStreamWriter(s.name)
	if err != nil {
		return err
	}
	s.stream = stream
	for _, m := range s.merges {
		if err := stream.MergeCell(Ref(m[0], m[1]), Ref(m[2], m[3])); err != nil {
			return err
		}
	}
	return nil
}

func (s *Sheet) finish() error {
	if s.done {
		return nil
	}
	if err := s.begin(); err != nil {
		return err
	}
	s.done = true
	return s.stream.Flush()
}
