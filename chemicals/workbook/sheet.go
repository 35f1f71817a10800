package workbook

import (
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// Sheet is one sheet of a Book: first its features, then its rows.
type Sheet struct {
	book   *Book
	name   string
	stream *excelize.StreamWriter // nil before the first row
	row    int                    // the last row written
	merges [][4]int
	extent [2]int // columns and rows as announced; 0 where they were not
	done   bool
	cells  []any           // of the row being written
	stored []excelize.Cell // what they point to
}

// Setup is how a sheet is seen and printed.
type Setup struct {
	Landscape bool
	FitWidth  bool   // on one page, as many pages long as it takes
	HideGrid  bool   // no grid lines on the screen
	Header    Margin // 255 characters in all, with Footer apart
	Footer    Margin
}

// Margin is the text in a page's head or foot. "Page 2 of 5" stands at the
// right when Pages is set.
type Margin struct {
	Left  string
	Right string
	Pages bool
}

// Name is the name the sheet bears, made legal.
func (s *Sheet) Name() string { return s.name }

// features refuses once rows are there: what is set then is lost.
func (s *Sheet) features(what string) error {
	if s.stream == nil && !s.done {
		return nil
	}
	return fmt.Errorf("sheet %q: %s must be set before the first row", s.name, what)
}

// Widths sets the widths of the columns from the first on, in digits.
func (s *Sheet) Widths(widths ...float64) error {
	if err := s.features("column widths"); err != nil {
		return err
	}
	for i, w := range slices.Backward(widths) { // the library puts each before the last; the format wants them ascending
		column := Letters(i + 1)
		if err := s.book.file.SetColWidth(s.name, column, column, w); err != nil {
			return fmt.Errorf("sheet %q, column %s: %w", s.name, column, err)
		}
	}
	return nil
}

// Freeze keeps the first rows and columns in sight.
func (s *Sheet) Freeze(rows, columns int) error {
	if err := s.features("frozen panes"); err != nil {
		return err
	}
	pane := "bottomRight"
	switch {
	case columns == 0:
		pane = "bottomLeft"
	case rows == 0:
		pane = "topRight"
	}
	corner := Ref(columns+1, rows+1)
	return s.book.file.SetPanes(s.name, &excelize.Panes{
		Freeze: true, XSplit: columns, YSplit: rows, TopLeftCell: corner, ActivePane: pane,
		Selection: []excelize.Selection{{SQRef: corner, ActiveCell: corner, Pane: pane}},
	})
}

// Repeat prints the rows from first to last at the top of every page.
func (s *Sheet) Repeat(first, last int) error {
	if err := s.features("print titles"); err != nil {
		return err
	}
	return s.book.file.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", Scope: s.name,
		RefersTo: On(s.name, fmt.Sprintf("$%d:$%d", first, last)),
	})
}

// Setup sets how the sheet is seen and printed. The paper is the printer's own.
func (s *Sheet) Setup(p Setup) error {
	if err := s.features("page setup"); err != nil {
		return err
	}
	f := s.book.file
	layout := excelize.PageLayoutOptions{}
	if p.Landscape {
		layout.Orientation = new("landscape")
	}
	if p.FitWidth {
		layout.FitToWidth, layout.FitToHeight = new(1), new(0)
		if err := f.SetSheetProps(s.name, &excelize.SheetPropsOptions{FitToPage: new(true)}); err != nil {
			return err
		}
	}
	if err := f.SetPageLayout(s.name, &layout); err != nil {
		return err
	}
	if err := f.SetPageMargins(s.name, &margins); err != nil {
		return err
	}
	if p.HideGrid {
		if err := f.SetSheetView(s.name, 0, &excelize.ViewOptions{ShowGridLines: new(false)}); err != nil {
			return err
		}
	}
	return f.SetHeaderFooter(s.name, &excelize.HeaderFooterOptions{OddHeader: p.Header.code(), OddFooter: p.Footer.code()})
}

// margins are in inches: room for a punched left edge.
var margins = excelize.PageLayoutMarginsOptions{
	Left: new(0.75), Right: new(0.5), Top: new(0.75), Bottom: new(0.75), Header: new(0.35), Footer: new(0.35),
}

// code is the margin in the format's own notation, at 8 points. A blank parts
// the size from text that may begin with a digit.
func (m Margin) code() string {
	var code strings.Builder
	part := func(side, text string) {
		if text != "" {
			code.WriteString(side + "&8 " + text)
		}
	}
	part("&L", escapeMargin(m.Left))
	right := escapeMargin(m.Right)
	if m.Pages {
		right = strings.TrimSpace(right + "  Page &P of &N")
	}
	part("&R", right)
	return code.String()
}

func escapeMargin(text string) string { return strings.ReplaceAll(clean(text), "&", "&&") }

// Merge joins the cells from one corner to the other into one.
func (s *Sheet) Merge(firstColumn, firstRow, lastColumn, lastRow int) error {
	if err := s.features("merged cells"); err != nil {
		return err
	}
	s.merges = append(s.merges, [4]int{firstColumn, firstRow, lastColumn, lastRow})
	return nil
}

// Break begins a printed page with a row, which is not the first.
func (s *Sheet) Break(row int) error {
	if err := s.features("page breaks"); err != nil {
		return err
	}
	if row < 2 || row > MaxRows {
		return fmt.Errorf("sheet %q: no page can be broken before row %d; rows 2 to %d can begin one", s.name, row, MaxRows)
	}
	return s.book.file.InsertPageBreak(s.name, Ref(1, row))
}

// Link makes a cell lead to another, as On writes it.
func (s *Sheet) Link(column, row int, target string) error {
	if err := s.features("links"); err != nil {
		return err
	}
	return s.book.file.SetCellHyperLink(s.name, Ref(column, row), target, "Location")
}

// Extent announces the last column and row. Some readers believe it, so a
// sheet that turns out to be larger is refused at the end; without it the
// sheet names no extent.
func (s *Sheet) Extent(columns, rows int) error {
	if err := s.features("the extent"); err != nil {
		return err
	}
	s.extent = [2]int{columns, rows}
	return nil
}
