package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ink is a printing colour of the standard's pictograms.
type ink int

const (
	black ink = iota + 1
	white
	red
)

type point struct{ x, y float64 }

// step is a straight line to its one point, or a cubic curve to the last of
// its three.
type step []point

// outline is closed: its end is joined to its start.
type outline struct {
	start point
	steps []step
}

// shape is painted over what was painted before it.
type shape struct {
	ink ink
	outline
}

// command is what may stand in a symbol file.
type command struct {
	numbers int
	inside  bool // stands between M and Z
	repeats bool // its numbers may stand more than once
	paints  bool // needs an ink
}

var commands = map[string]command{
	"black": {}, "white": {}, "red": {},
	"turn": {numbers: 3},
	"M":    {numbers: 2, paints: true},
	"L":    {numbers: 2, inside: true, repeats: true},
	"C":    {numbers: 6, inside: true, repeats: true},
	"Z":    {inside: true},
	"O":    {numbers: 3, paints: true},
	"B":    {numbers: 6, paints: true},
}

// reader gathers the shapes of one symbol file.
type reader struct {
	shapes []shape
	ink    ink
	turn   func(point) point
	open   *outline
}

// parse reads a symbol. Coordinates run from 0 to 100, to the right and
// downwards. A file is made of these, in order of painting:
//
//	# a remark, to the end of the line
//	black, white, red        ink of what follows
//	turn DEGREES X Y         what follows is turned clockwise about a point
//	M X Y                    start an outline
//	L X Y …                  straight to
//	C X1 Y1 X2 Y2 X Y …      cubic curve to the third point
//	Z                        close the outline and paint it
//	O X Y R                  circle
//	B X1 Y1 R1 X2 Y2 R2      bar between two circles, its ends round
//
// A hole is painted white over its shape; outlines do not cut one another.
func parse(name, text string) ([]shape, error) {
	r := &reader{turn: func(p point) point { return p }}
	for i, line := range strings.Split(text, "\n") {
		line, _, _ = strings.Cut(line, "#")
		if err := r.line(strings.Fields(line)); err != nil {
			return nil, fmt.Errorf("%s line %d: %w", name, i+1, err)
		}
	}
	if r.open != nil {
		return nil, fmt.Errorf("%s: the last outline is open; end it with Z", name)
	}
	return r.shapes, nil
}

func (r *reader) line(words []string) error {
	for len(words) > 0 {
		verb := words[0]
		c, known := commands[verb]
		if !known {
			return fmt.Errorf("%q is no command; write one of black, white, red, turn, M, L, C, Z, O, B", verb)
		}
		if err := r.fits(verb, c); err != nil {
			return err
		}
		words = words[1:]
		for again := true; again; again = c.repeats && len(words) > 0 && isNumber(words[0]) {
			n, err := numbers(verb, words, c.numbers)
			if err != nil {
				return err
			}
			r.do(verb, n)
			words = words[c.numbers:]
		}
	}
	return nil
}

// fits says whether a command may stand where the reader is.
func (r *reader) fits(verb string, c command) error {
	switch {
	case c.inside && r.open == nil:
		return fmt.Errorf("%q stands outside an outline; start one with M", verb)
	case !c.inside && r.open != nil:
		return fmt.Errorf("%q stands inside an outline; end it with Z", verb)
	case c.paints && r.ink == 0:
		return fmt.Errorf("%q has no ink; write black, white or red before it", verb)
	}
	return nil
}

func isNumber(word string) bool {
	_, err := strconv.ParseFloat(word, 64)
	return err == nil
}

func numbers(verb string, words []string, count int) ([]float64, error) {
	if len(words) < count {
		return nil, fmt.Errorf("%q has %d numbers; give it %d on one line", verb, len(words), count)
	}
	n := make([]float64, count)
	for i := range n {
		v, err := strconv.ParseFloat(words[i], 64)
		// No angle or place on the grid is larger; NaN fails the comparison.
		if err != nil || !(math.Abs(v) <= 360) {
			return nil, fmt.Errorf("%q has %q for a number; write one between -360 and 360", verb, words[i])
		}
		n[i] = v
	}
	return n, nil
}

func (r *reader) do(verb string, n []float64) {
	switch verb {
	case "black":
		r.ink = black
	case "white":
		r.ink = white
	case "red":
		r.ink = red
	case "turn":
		r.turn = turned(n[0], point{n[1], n[2]})
	case "M":
		r.open = &outline{start: r.turn(point{n[0], n[1]})}
	case "L", "C":
		r.open.steps = append(r.open.steps, r.step(n))
	case "Z":
		r.paint(*r.open)
		r.open = nil
	case "O":
		r.paint(r.circle(point{n[0], n[1]}, n[2]))
	case "B":
		r.bar(point{n[0], n[1]}, n[2], point{n[3], n[4]}, n[5])
	}
}

func (r *reader) paint(o outline) {
	r.shapes = append(r.shapes, shape{r.ink, o})
}

func (r *reader) step(n []float64) step {
	s := make(step, 0, 3)
	for i := 0; i < len(n); i += 2 {
		s = append(s, r.turn(point{n[i], n[i+1]}))
	}
	return s
}

func turned(degrees float64, about point) func(point) point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return func(p point) point {
		x, y := p.x-about.x, p.y-about.y
		return point{about.x + x*cos - y*sin, about.y + x*sin + y*cos}
	}
}
