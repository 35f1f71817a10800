package workbook

import (
	"bytes"
	"fmt"
	"image/png"

	"github.com/xuri/excelize/v2"
)

// Picture is an image that moves with its cell and keeps its size.
type Picture struct {
	Column, Row int
	Left, Top   int // how far from the cell's corner, in pixels of 3/4 point
	Width       int // the height follows
	PNG         []byte
	Alt         string // what it shows, for those who do not see it
}

// Picture puts an image on top of the sheet's cells. One that a workbook shows
// many times is stored once.
func (s *Sheet) Picture(p Picture) error {
	if err := s.features("pictures"); err != nil {
		return err
	}
	size, err := png.DecodeConfig(bytes.NewReader(p.PNG))
	if err != nil {
		return fmt.Errorf("sheet %q, picture at %s: %w", s.name, Ref(p.Column, p.Row), err)
	}
	scale := (float64(p.Width) + 0.5) / float64(size.Width) // the library cuts the product off
	return s.book.file.AddPictureFromBytes(s.name, Ref(p.Column, p.Row), &excelize.Picture{
		Extension: ".png", File: p.PNG,
		Format: &excelize.GraphicOptions{
			AltText: clean(p.Alt), OffsetX: p.Left, OffsetY: p.Top, ScaleX: scale, ScaleY: scale,
			Positioning: "oneCell", LockAspectRatio: true,
		},
	})
}
