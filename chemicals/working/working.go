// Package working carries a calculation with its working: the figure, the
// formula and inputs it came from, where each input is known from, and what
// weakens the result.
//
//	Estimate   a figure, or low, likely and high, or the reason why there is none
//	Compute    a figure from others, with its step
//	Method     a formula that can be run by name on inputs given as text
//	Example    a worked example in YAML with its published answer
//	ReadTable  the published values that a formula package keeps beside itself
//
// It covers no formula of the trade but the conversion of units. Whether a
// figure meets a limit is for the reader and the authority named on the page.
package working

import (
	"slices"

	"bathwarden/chemicals/source"
)

// Case is one reading of figures that are known only between bounds. Through a
// chain low goes with low and high with high, so the low case of a result may
// be the greater figure.
type Case int

// The cases. A figure known to the point is the same in all three.
const (
	Likely Case = iota
	Low
	High
)

// Caveat is one sentence on what weakens a figure.
type Caveat string

// Input is one symbol of a formula with what stood for it.
type Input struct {
	Symbol string // "Q"
	What   string // "charge"
	Value  string // as written, or as printed in an earlier step
	Origin source.Origin
	Ref    source.Ref
}

// Known says how the input came to be known. One that bears no origin was
// given for this calculation.
func (i Input) Known() string {
	if i.Origin == 0 {
		return "given"
	}
	if !i.Ref.Known() {
		return i.Origin.String()
	}
	return i.Origin.String() + ": " + i.Ref.String()
}

// Step is one formula worked out.
type Step struct {
	Formula string // "m = Q × η × M / (z × F)"
	Inputs  []Input
	Result  string // "21.86 g"
	Ref     source.Ref
}

func (s Step) equal(t Step) bool {
	return s.Formula == t.Formula && s.Result == t.Result && s.Ref == t.Ref && slices.Equal(s.Inputs, t.Inputs)
}

// Estimate is a figure and how it is known: given, taken from a table, or
// computed in steps. The zero value is an absent one. An absent figure has a
// reason and no value; reading it panics, because unknown is not zero.
type Estimate[Q any] struct {
	is      [3]Q // by Case
	known   bool
	spread  bool
	text    string
	why     string
	origin  source.Origin
	ref     source.Ref
	steps   []Step
	caveats []Caveat
}

// Given is a figure that was not computed, with the text that states it.
func Given[Q any](v source.Value[Q], text string) Estimate[Q] {
	return Estimate[Q]{is: [3]Q{v.Is, v.Is, v.Is}, known: true, text: text, origin: v.Origin, ref: v.Ref}
}

// Between is e with bounds; text states all three figures.
func (e Estimate[Q]) Between(low, high Q, text string) Estimate[Q] {
	e.is[Low], e.is[High], e.spread, e.text = low, high, true, text
	return e
}

// Absent is a figure that is not known, and why.
func Absent[Q any](why string) Estimate[Q] { return Estimate[Q]{why: why} }

// Known reports whether there is a figure.
func (e Estimate[Q]) Known() bool { return e.known }

// Why says why there is no figure; empty where there is one.
func (e Estimate[Q]) Why() string {
	if !e.known && e.why == "" {
		return "it was not given"
	}
	return e.why
}

// Is is the likely figure.
func (e Estimate[Q]) Is() Q { return e.At(Likely) }

// At is the figure in a case.
func (e Estimate[Q]) At(c Case) Q {
	if !e.known {
		panic("working: an absent figure was read: " + e.Why())
	}
	return e.is[c]
}

// Spread reports whether low and high differ from likely.
func (e Estimate[Q]) Spread() bool { return e.spread }

// Text states the figure: as written where it was given, as printed in its
// last step where it was computed.
func (e Estimate[Q]) Text() string { return e.text }

// Origin and Ref say how the figure is known; Ref of a computed one is that of
// the formula.
func (e Estimate[Q]) Origin() source.Origin { return e.origin }

// Ref is the source of the figure or of its formula.
func (e Estimate[Q]) Ref() source.Ref { return e.ref }

// Steps is the whole working, earlier steps first.
func (e Estimate[Q]) Steps() []Step { return slices.Clone(e.steps) }

// Caveats are those of the figure and of all it was computed from.
func (e Estimate[Q]) Caveats() []Caveat { return slices.Clone(e.caveats) }

// WithCaveats adds caveats to a figure; an absent one stays without.
func (e Estimate[Q]) WithCaveats(more ...Caveat) Estimate[Q] {
	if e.known {
		e.caveats = joined(e.caveats, more)
	}
	return e
}

func joined(caveats, more []Caveat) []Caveat {
	all := slices.Clone(caveats)
	for _, c := range more {
		if !slices.Contains(all, c) {
			all = append(all, c)
		}
	}
	return all
}

func joinedSteps(steps, more []Step) []Step {
	all := slices.Clone(steps)
	for _, s := range more {
		if !slices.ContainsFunc(all, s.equal) {
			all = append(all, s)
		}
	}
	return all
}
