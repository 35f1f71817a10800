package pdf

import "slices"

// column is what the cells of one column ask for, in millimetres.
type column struct {
	numeric bool
	least   float64 // in less, a word or a figure would be split
	natural float64 // in this, nothing is broken but long heads of figures
	tail    float64 // kept free behind figures for source numbers
	sum     float64 // of the unbroken widths of the texts that are not empty
	texts   int
}

// reasonWidth is how wide words in a column of figures may make it, mm.
const reasonWidth = 17.0

func newColumn(numeric bool, head prose) column {
	c := column{numeric: numeric, least: head.longest, natural: head.natural}
	if numeric {
		c.natural = max(head.longest, head.natural*0.6) // two lines
	}
	return c
}

// take widens c for a cell. In a column of figures words are broken early, so
// that a reason does not take the room of the columns of words.
func (c *column) take(text, cites prose, figure bool) {
	switch {
	case !c.numeric:
		c.least = max(c.least, text.longest, cites.longest)
		if whole := text.with(cites).natural; whole > 0 {
			c.natural = max(c.natural, whole)
			c.sum += whole
			c.texts++
		}
	case figure:
		c.least = max(c.least, text.natural)
	default:
		c.least = max(c.least, text.longest, min(text.natural, reasonWidth))
	}
	if c.numeric && len(cites.tokens) > 0 {
		c.tail = max(c.tail, min(cites.natural, 2*cites.longest+1)+citeGap)
	}
}

// citeGap is the white between a figure and its source numbers, mm.
const citeGap = 1.0

// usual is the unbroken width of the usual text; of the head where there is
// no text but figures.
func (c column) usual() float64 {
	if c.texts == 0 {
		return c.natural
	}
	return c.sum / float64(c.texts)
}

// limit splits words rather than give one column more than width.
func (c *column) limit(width float64) {
	c.least = min(c.least, width)
}

// floor is the narrowest that c is set, in quarters, with pad in it.
func (c column) floor(pad int) int { return quartersUp(c.least+c.tail) + pad }

// wish is the width at which c breaks nothing, in quarters.
func (c column) wish(pad int) int { return quartersUp(max(c.least, c.natural)+c.tail) + pad }

// fit shares width, in quarters, among columns with pad in each. It says no
// where words or figures would have to be split.
func fit(columns []column, pad, width int) ([]int, bool) {
	widths := make([]int, len(columns))
	least, natural := 0, 0
	for i, c := range columns {
		widths[i] = c.floor(pad)
		least += widths[i]
		natural += c.wish(pad)
	}
	switch {
	case least > width:
		return nil, false
	case natural > width:
		tighten(widths, columns, pad, width)
		fill(widths, columns, width)
		return widths, true
	}
	for i, c := range columns {
		widths[i] = c.wish(pad)
	}
	if natural >= width/2 {
		loosen(widths, columns, width-natural)
		fill(widths, columns, width)
		return widths, true
	}
	const little = 20 // a small table stays small
	for i := range widths {
		widths[i] += min(little, (width-natural)/len(widths))
	}
	return widths, true
}

// fill gives what rounding left over to the last column of words.
func fill(widths []int, columns []column, width int) {
	for i, c := range slices.Backward(columns) {
		if !c.numeric {
			for _, w := range widths {
				width -= w
			}
			widths[i] += width
			return
		}
	}
}

// tighten gives each column a width in proportion to its usual text,
// so that the cells of a usual row have equally many lines; never less than its
// longest word, nor more than it wants.
func tighten(widths []int, columns []column, pad, width int) {
	at := func(scale float64) (sum int) {
		for i, c := range columns {
			widths[i] = max(c.floor(pad), min(c.wish(pad), int(scale*c.usual()/quarter)+pad))
			sum += widths[i]
		}
		return sum
	}
	low, high := 0.0, 1.0
	for at(high) <= width { // ends: the wishes are wider than the page
		high *= 2
	}
	for range 20 {
		if middle := (low + high) / 2; at(middle) > width {
			high = middle
		} else {
			low = middle
		}
	}
	at(low)
}

// loosen gives the spare width to the columns of words, by their width, or to
// all where there are none.
func loosen(widths []int, columns []column, spare int) {
	words := 0
	for i, c := range columns {
		if !c.numeric {
			words += widths[i]
		}
	}
	for i, c := range columns {
		switch {
		case words == 0:
			widths[i] += spare / len(widths)
		case !c.numeric:
			widths[i] += spare * widths[i] / words
		}
	}
}
