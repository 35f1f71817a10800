// Package chemicals says what is in the shop, as plain types: the kinds of
// record that the book holds (Kinds), and Shop, what holds over a period as of
// a day.
//
// Each kind is one struct whose fields are the kind's columns. Commands,
// sheets, exports and printed help all follow from it; there is no second list
// of columns.
package chemicals

import (
	"errors"
	"slices"
	"strings"

	"bathwarden/chemicals/quantity"
)

// Problem is a fault in what the user gave: where it stands, what it is, and
// how to mend it. Where may be empty until a caller knows it.
type Problem struct {
	Where string // "bath.csv line 14", "Tanks!C7", "--volume"
	What  string
	Mend  string
}

func (p *Problem) Error() string {
	if p.Where == "" {
		return p.What
	}
	return p.Where + ": " + p.What
}

// At gives err a place. A refusal of a quantity becomes a Problem, a Problem
// without a place gets it; joined errors get it one by one.
func At(where string, err error) error {
	var refusal *quantity.Refusal
	switch e := err.(type) {
	case nil:
		return nil
	case *Problem:
		if e.Where == "" {
			return &Problem{Where: where, What: e.What, Mend: e.Mend}
		}
		return e
	case interface{ Unwrap() []error }:
		var placed []error
		for _, one := range e.Unwrap() {
			placed = append(placed, At(where, one))
		}
		return errors.Join(placed...)
	}
	if errors.As(err, &refusal) {
		return &Problem{Where: where, What: refusal.What, Mend: refusal.Mend}
	}
	return &Problem{Where: where, What: err.Error()}
}

// Closest gives up to three of the words that differ from word by a slip of
// the pen, for a hint, the nearest first.
func Closest(word string, words []string) []string {
	type near struct {
		word  string
		slips int
	}
	var all []near
	folded := Fold(word)
	for _, w := range words {
		other := Fold(w)
		slips := Slips(folded, other)
		begun := len(folded) > 2 && strings.HasPrefix(other, folded)
		if slips <= 1+len([]rune(other))/4 || begun {
			all = append(all, near{w, slips})
		}
	}
	slices.SortStableFunc(all, func(a, b near) int { return a.slips - b.slips })
	var nearest []string
	for _, n := range all[:min(len(all), 3)] {
		nearest = append(nearest, n.word)
	}
	return nearest
}

// Slips counts the letters to change, add, drop or swap with their neighbour
// between a and b.
func Slips(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, above := make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range above {
		above[j] = j
	}
	for i := range x {
		row := make([]int, len(y)+1)
		row[0] = i + 1
		for j := range y {
			change := above[j]
			if x[i] != y[j] {
				change++
			}
			row[j+1] = min(change, row[j]+1, above[j+1]+1)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, above = above, row
	}
	return above[len(y)]
}
