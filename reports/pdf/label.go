package pdf

import (
	"bathwarden/reports/doc"
	"bathwarden/reports/pictogram"
)

// pictureSide is that of a pictogram on its point, 16 mm: its square has sides
// of 11 mm, above the least of 1 cm² (Regulation (EC) No 1272/2008, Annex I,
// 1.2.1; from memory).
const pictureSide = 64

// label sets the pictograms side by side, signal word and names in words beside
// them, and the statements below.
func (s *setter) label(l doc.Label) {
	const gap = 6
	var boxes []box
	at := 0
	for _, p := range l.Pictograms {
		if png, ok := pictogram.PNG(p.Code); ok {
			boxes = append(boxes, box{x: at, width: pictureSide, picture: png})
			at += pictureSide + gap
		}
	}
	signal, names := l.Words()
	width := s.paper.width - at
	rows := append(measure(piece{text: "Signal word: " + signal, style: headingStyles[2]}).wrap(mm(width)),
		measure(piece{text: "Pictograms: " + names, style: bodyStyle}).wrap(mm(width))...)
	lead := headingStyles[2].lead() + 1
	words := band{x: at, width: width, lead: lead, over: 4, foot: 4}.strip([]slot{{rows: rows}}, 0, len(rows), len(rows))
	one := strip{height: words.height, lines: len(rows), keep: len(l.Statements) > 0, boxes: append(boxes, words.boxes...)}
	if len(boxes) > 0 {
		one.height = max(one.height, pictureSide)
	}
	s.add(blockGap, one)
	if len(l.Statements) > 0 {
		s.list(doc.List{Items: l.Statements})
	}
}
