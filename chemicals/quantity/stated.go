package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Stated is a quantity as somebody wrote it: the text is kept and printed
// first. The zero value is an absent one, which is not zero of anything.
type Stated[Q Quantity[Q]] struct {
	text string
	is   Q
}

// State is what a program states: q in a unit, with all its digits. A figure
// that differs from zero by rounding only is stated as zero.
func State[Q Quantity[Q]](q Q, symbol string) (Stated[Q], error) {
	if !Finite(q) {
		return Stated[Q]{}, &Refusal{What: "the figure is not a number", Mend: "state a finite value in " + symbol}
	}
	v, err := In(q, symbol)
	if err != nil {
		return Stated[Q]{}, err
	}
	if math.Abs(v) < smallest {
		v = 0
	}
	var s Stated[Q]
	err = s.UnmarshalText([]byte(Plain(v) + " " + q.measure().noted(symbol)))
	return s, err
}

// Known reports whether anything was stated.
func (s Stated[Q]) Known() bool { return s.text != "" }

// Is is the quantity; the zero value of Q where nothing was stated.
func (s Stated[Q]) Is() Q { return s.is }

// String is what was written.
func (s Stated[Q]) String() string { return s.text }

// Meaning is the same text for every way to state the same quantity: to twelve
// digits, whatever the unit. It is empty where nothing was stated.
func (s Stated[Q]) Meaning() string {
	if !s.Known() {
		return ""
	}
	m := s.is.measure()
	return strconv.FormatFloat(m.base, 'g', 12, 64) + " " + m.noted(m.thing.units[0].symbol)
}

// Example is a text that would be read.
func (s Stated[Q]) Example() string { return s.is.things()[0].example }

// Units are the units in which Q may be written.
func (s Stated[Q]) Units() []string { return symbolsOf(s.is.things()) }

// MarshalText gives what was written.
func (s Stated[Q]) MarshalText() ([]byte, error) { return []byte(s.text), nil }

// UnmarshalText reads a quantity; what is kept has one blank between number and
// unit, and a minus that is a "-". An empty text states nothing. Errors are
// *Refusal.
func (s *Stated[Q]) UnmarshalText(text []byte) error {
	tidy := strings.Join(strings.Fields(string(text)), " ")
	if tidy == "" {
		*s = Stated[Q]{}
		return nil
	}
	is, err := Parse[Q](tidy)
	if err != nil {
		return err
	}
	tidy = strings.ReplaceAll(tidy, "\u2212", "-")
	end := numberEnd(tidy)
	*s = Stated[Q]{text: tidy[:end] + " " + strings.TrimSpace(tidy[end:]), is: is}
	return nil
}

// Unit is the unit in which it was written, as it was spelled; empty where
// nothing was stated.
func (s Stated[Q]) Unit() string {
	_, symbol, _ := strings.Cut(s.text, " ")
	return symbol
}
