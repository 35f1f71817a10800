package pdf

import (
	"strconv"

	"bathwarden/reports/doc"
)

// Where the parts of a working stand, in quarters from the left.
const (
	workingText  = 12 // behind the line at its left
	workingInput = 40
)

// working sets how a figure was computed: its title, then for each step the
// formula, the figures that went in, and the result; at the end the caveats.
func (s *setter) working(w doc.Working) {
	title := s.workingLine(workingText, measure(piece{text: w.Title, style: bodyStyle.strong()}), 4, 2)
	title[len(title)-1].keep = true
	s.add(blockGap, title...)
	symbols, values := s.inputWidths(w)
	for i, step := range w.Steps {
		number := ""
		if len(w.Steps) > 1 {
			number = strconv.Itoa(i+1) + "."
		}
		s.add(0, s.step(step, number, symbols, values)...)
	}
	for i, caveat := range w.Caveats {
		strips := s.workingLine(workingText, measure(
			piece{text: s.mark(doc.Caution), style: bodyStyle.strong()},
			piece{text: caveat, style: bodyStyle}), 2, 2)
		s.keepFirst(strips, i, len(w.Caveats))
		s.add(0, strips...)
	}
}

// workingLine sets text behind the line that runs down a working.
func (s *setter) workingLine(x int, text prose, over, foot int) []strip {
	b := s.workingBand(over, foot)
	return b.set([]slot{{x: mm(x), rows: text.wrap(mm(s.paper.width - x))}}, s.third())
}

func (s *setter) workingBand(over, foot int) band {
	return band{width: s.paper.width, lead: bodyStyle.lead(), over: over, foot: foot,
		frame: frame{sides: left, thick: 0.5, tone: hairline}}
}

func (s *setter) step(step doc.Step, number string, symbols, values float64) []strip {
	x := mm(workingText)
	var slots []slot
	if number != "" {
		rows := measure(piece{text: number, style: bodyStyle}).wrap(mm(s.paper.width) / 4)
		slots = append(slots, slot{x: x, rows: rows})
		x += max(5.5, widest(rows)+1.5)
	}
	formula := measure(append([]piece{{text: step.Formula, style: bodyStyle}}, citations([]int{step.Cite})...)...)
	slots = append(slots, slot{x: x, rows: formula.wrap(mm(s.paper.width) - x)})
	strips := s.workingBand(4, 2).set(slots, s.third())
	for _, in := range step.Inputs {
		strips = append(strips, s.input(in, symbols, values)...)
	}
	result := measure(piece{text: step.Result, style: bodyStyle.strong()})
	rows := result.wrap(mm(s.paper.width) - x)
	strips = append(strips, s.workingBand(2, 4).set([]slot{{x: x, rows: rows}}, s.third())...)
	return together(strips, s.half())
}

func (s *setter) input(in doc.StepInput, symbols, values float64) []strip {
	x := mm(workingInput)
	wrap := func(text string, width float64, more ...piece) []line {
		return measure(append([]piece{{text: text, style: tableStyle}}, more...)...).wrap(width)
	}
	b := s.workingBand(1, 2)
	b.lead = tableStyle.lead()
	origin := x + symbols + values
	return b.set([]slot{
		{x: x, rows: wrap(in.Symbol, symbols-2)},
		{x: x + symbols, rows: wrap(in.Value, values-3)},
		{x: origin, rows: wrap(in.Origin, mm(s.paper.width)-origin, citations([]int{in.Cite})...)},
	}, s.third())
}

// inputWidths are the widths of the symbols and of the values, the same for
// all steps of a working.
func (s *setter) inputWidths(w doc.Working) (symbols, values float64) {
	for _, step := range w.Steps {
		for _, in := range step.Inputs {
			symbols = max(symbols, measure(piece{text: in.Symbol, style: tableStyle}).natural)
			values = max(values, measure(piece{text: in.Value, style: tableStyle}).natural)
		}
	}
	room := mm(s.paper.width - workingInput)
	return min(symbols+4, room/3), min(values+6, room/3)
}
