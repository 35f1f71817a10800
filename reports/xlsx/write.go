package xlsx

import (
	"bathwarden/chemicals/workbook"
)

// deepest is the lowest row for the head of a table that is still kept in
// sight: below it the frozen part would leave no room for rows.
const deepest = 10

// write puts a page into its sheet: features first, then the rows.
func (p *paper) write(at *page) error {
	s := at.sheet
	if err := s.Extent(len(at.widths), len(at.lines)); err != nil {
		return err
	}
	if err := s.Widths(at.widths...); err != nil {
		return err
	}
	header, footer := p.margins()
	if err := s.Setup(workbook.Setup{
		Landscape: at.onSide(), FitWidth: true, HideGrid: true, Header: header, Footer: footer,
	}); err != nil {
		return err
	}
	if err := at.keepHead(); err != nil {
		return err
	}
	for _, m := range at.merges {
		if err := s.Merge(m[0], m[1], m[2], m[3]); err != nil {
			return err
		}
	}
	for _, row := range at.breaks() {
		if err := s.Break(row); err != nil {
			return err
		}
	}
	if err := at.links(); err != nil {
		return err
	}
	if err := at.draw(); err != nil {
		return err
	}
	for _, l := range at.lines {
		if err := s.Tall(l.height, values(l)...); err != nil {
			return err
		}
	}
	return nil
}

// keepHead keeps the head of the page's only table in sight and prints it on
// every page. With a second table it would stand over columns that are not its.
func (p *page) keepHead() error {
	if len(p.tables) != 1 {
		return nil
	}
	head := p.tables[0].head
	if err := p.sheet.Repeat(head, head); err != nil {
		return err
	}
	if head > deepest {
		return nil
	}
	return p.sheet.Freeze(head, 0)
}

// draw puts charts and pictures on top of the cells.
func (p *page) draw() error {
	for _, c := range p.charts {
		if err := c.draw(p.sheet); err != nil {
			return err
		}
	}
	for _, picture := range p.pictures {
		if err := p.sheet.Picture(workbook.Picture{
			Column: 1, Row: picture.row, Left: picture.left, Top: 2, Width: pictureWide, PNG: picture.png, Alt: picture.alt,
		}); err != nil {
			return err
		}
	}
	return nil
}

func (p *page) links() error {
	for row, l := range p.lines {
		for _, c := range l.cells {
			if c.jump == nil {
				continue
			}
			to := workbook.On(c.jump.page.sheet.Name(), workbook.Ref(1, c.jump.row))
			if err := p.sheet.Link(c.first, row+1, to); err != nil {
				return err
			}
		}
	}
	return nil
}

// values are the cells of a line, each followed by as many like it, empty, as
// it spreads over, so that frames and fills go on to its end.
func values(l line) []workbook.Value {
	var all []workbook.Value
	for _, c := range l.cells {
		all = append(all, c.value)
		for range c.last - c.first {
			all = append(all, c.value.Emptied())
		}
	}
	return all
}
