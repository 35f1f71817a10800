package xlsx

import (
	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
	"bathwarden/reports/pictogram"
)

// The size of a pictogram, in pixels of 3/4 point: 16 mm, as on the page. The
// line that holds it is a little higher.
const (
	pictureWide = 60
	pictureGap  = 6
	pictureTall = (pictureWide + 4) * 0.75
)

// picture stands at the first cell of a row, left of it.
type picture struct {
	row, left int
	png       []byte
	alt       string
}

// label sets the pictograms, then all of it in words.
func label(at *page, l doc.Label) {
	left := 0
	for _, p := range l.Pictograms {
		png, ok := pictogram.PNG(p.Code)
		if !ok {
			continue
		}
		if left == 0 {
			at.add(pictureTall)
		}
		at.pictures = append(at.pictures, picture{row: len(at.lines), left: left, png: png, alt: p.String()})
		left += pictureWide + pictureGap
	}
	signal, pictograms := l.Words()
	at.add(lineTall, text("signal word", workbook.Small).over(labelWidth), text(signal, workbook.Strong).over(rest))
	at.add(lineTall, text("pictograms", workbook.Small).over(labelWidth), text(pictograms, 0).over(rest))
	for _, s := range l.Statements {
		at.say("• "+s.Is+cites(s.Cites), emphasis(s.Emphasis))
	}
}
