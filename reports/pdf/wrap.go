package pdf

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// piece is text in one style. The words of a whole piece are parted only where
// it is wider than its column: a figure and its unit.
type piece struct {
	text  string
	style style
	whole bool
}

// token is what is not parted at the end of a line.
type token struct {
	text  string
	style style
	width float64
	first bool // starts a new line
}

// prose is measured text, ready to be broken into lines.
type prose struct {
	tokens  []token
	natural float64 // width of its widest line when nothing is broken, mm
	longest float64 // width of its widest token, mm
}

// run is text of one style on one line.
type run struct {
	text     string
	style    style
	x, width float64 // from the line's start, mm
}

// line is one line of text.
type line struct {
	runs  []run
	width float64
}

// measure cleans and measures pieces, which are parted by spaces.
func measure(pieces ...piece) prose {
	var p prose
	for _, one := range pieces {
		for i, text := range strings.Split(clean(one.text), "\n") {
			p.take(text, one, i > 0)
		}
	}
	p.natural = p.widest()
	return p
}

func (p *prose) take(text string, from piece, newline bool) {
	words := []string{strings.Trim(text, " ")}
	if !from.whole {
		words = strings.Split(text, " ")
	}
	for _, word := range words {
		if word == "" {
			continue
		}
		t := token{text: word, style: from.style, width: from.style.width(word), first: newline && len(p.tokens) > 0}
		p.tokens = append(p.tokens, t)
		p.longest = max(p.longest, t.width)
		newline = false
	}
}

// with is p with more behind it.
func (p prose) with(more prose) prose {
	if len(more.tokens) == 0 {
		return p
	}
	all := prose{tokens: slices.Concat(p.tokens, more.tokens), longest: max(p.longest, more.longest)}
	all.natural = all.widest()
	return all
}

func (p prose) widest() float64 {
	var widest, at float64
	for i, t := range p.tokens {
		if i > 0 && !t.first {
			at += t.style.width(" ")
		} else {
			at = 0
		}
		at += t.width
		widest = max(widest, at)
	}
	return widest
}

// wrap breaks p into lines no wider than width, mm. A token that is wider by
// itself is split: behind a space, a hyphen or the like where there is one,
// else between any two characters.
func (p prose) wrap(width float64) []line {
	var rows []line
	var at line
	flush := func() {
		if len(at.runs) > 0 {
			rows = append(rows, at)
			at = line{}
		}
	}
	for _, t := range p.tokens {
		if t.first || at.width+t.gap(at)+t.width > width {
			flush()
		}
		for t.width > width {
			var head token
			if head, t = t.split(width); t.text == "" {
				t = head
				break
			}
			at.add(head)
			flush()
		}
		at.add(t)
	}
	flush()
	return rows
}

func (t token) gap(after line) float64 {
	if len(after.runs) == 0 {
		return 0
	}
	return t.style.width(" ")
}

// add sets t behind what l holds; it fits.
func (l *line) add(t token) {
	gap := t.gap(*l)
	if n := len(l.runs); n > 0 && l.runs[n-1].style == t.style {
		last := &l.runs[n-1]
		last.text += " " + t.text
		last.width += gap + t.width
	} else {
		l.runs = append(l.runs, run{text: t.text, style: t.style, x: l.width + gap, width: t.width})
	}
	l.width += gap + t.width
}

// split parts t so that the head is no wider than width, or is one character.
func (t token) split(width float64) (head, rest token) {
	end, soft := 0, 0
	var used float64
	for i, r := range t.text {
		next := i + utf8.RuneLen(r)
		used += t.style.width(t.text[i:next])
		if used > width && i > 0 {
			break
		}
		if end = next; strings.ContainsRune(" -/_,;:)", r) {
			soft = next
		}
	}
	if soft > end/2 && end < len(t.text) {
		end = soft
	}
	part := func(text string) token {
		text = strings.TrimSpace(text)
		return token{text: text, style: t.style, width: t.style.width(text)}
	}
	return part(t.text[:end]), part(t.text[end:])
}
