package working

import (
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"

	"bathwarden/chemicals/quantity"
)

// Fault is one fault in what was given: where, what, and how to mend it.
type Fault struct {
	Where string // "efficiency", "case.yaml line 9, samples 2, time"
	What  string
	Mend  string
}

func (f *Fault) Error() string {
	if f.Where == "" {
		return f.What
	}
	return f.Where + ": " + f.What
}

// Unwrap gives the fault as a refusal, so that whoever knows how to place a
// refusal in a file or behind a flag keeps the hint.
func (f *Fault) Unwrap() error { return &quantity.Refusal{What: f.Error(), Mend: f.Mend} }

// faultAt places an error. A fault keeps its own place behind where.
func faultAt(where string, err error) *Fault {
	var fault *Fault
	if errors.As(err, &fault) {
		if fault.Where == "" {
			return &Fault{Where: where, What: fault.What, Mend: fault.Mend}
		}
		return fault
	}
	var refusal *quantity.Refusal
	if errors.As(err, &refusal) {
		return &Fault{Where: where, What: refusal.What, Mend: refusal.Mend}
	}
	return &Fault{Where: where, What: err.Error()}
}

// each calls do for every error that was joined into err.
func each(err error, do func(error)) {
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		for _, one := range several.Unwrap() {
			each(one, do)
		}
		return
	}
	if err != nil {
		do(err)
	}
}

func unknownName(kind, name string, known []string) *Fault {
	mend := "known here: " + strings.Join(known, ", ")
	if near := closest(name, known); near != "" {
		mend = "did you mean " + strconv.Quote(near) + "?"
	}
	return &Fault{What: quoted(name) + " is not " + kind, Mend: mend}
}

// closest is the word that differs least from name, or "" where all differ by
// more than a slip of the pen.
func closest(name string, words []string) string {
	const longest = 40
	if utf8.RuneCountInString(name) > longest {
		return ""
	}
	best, least := "", utf8.RuneCountInString(name)/3+2
	for _, word := range words {
		slips := distance(strings.ToLower(name), strings.ToLower(word))
		if len(name) > 2 && strings.HasPrefix(word, name) {
			slips = min(slips, 1)
		}
		if slips < least {
			best, least = word, slips
		}
	}
	return best
}

// distance counts the letters to change, add or drop between a and b.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		corner := row[0]
		row[0] = i + 1
		for j := range y {
			change := corner
			if x[i] != y[j] {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}

func quoted(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return strconv.Quote(text)
}
