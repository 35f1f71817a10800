package text

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"
)

// cells measures without regard to the locale, which would make the same paper
// come out differently from one terminal to the next.
var cells = &runewidth.Condition{StrictEmojiNeutral: true}

// columns is the width of text on a terminal: two for wide characters, none
// for those that combine with the one before.
func columns(text string) int { return cells.StringWidth(text) }

// visible makes what a terminal would obey, or what turns the direction of
// writing, into something to be seen. Line feeds stay; tabs become blanks.
func visible(text string) string {
	text = strings.ToValidUTF8(text, "\uFFFD")
	if !strings.ContainsFunc(text, hidden) {
		return text
	}
	var out strings.Builder
	for _, r := range text {
		switch {
		case r == '\t':
			out.WriteByte(' ')
		case !hidden(r):
			out.WriteRune(r)
		case r < ' ':
			out.WriteRune(0x2400 + r) // its picture: ␛ for escape
		case r == 0x7F:
			out.WriteRune('\u2421')
		default:
			fmt.Fprintf(&out, "<U+%04X>", r)
		}
	}
	return out.String()
}

// hidden holds for the control characters but the line feed, and for the marks
// of line ends and direction. Joiners between characters stay: scripts and
// composed signs need them.
func hidden(r rune) bool {
	const zeroWidthNonJoiner, zeroWidthJoiner, softHyphen = 0x200C, 0x200D, 0xAD
	switch {
	case r == '\n' || r == zeroWidthNonJoiner || r == zeroWidthJoiner || r == softHyphen:
		return false
	case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp):
		return true
	}
	return false
}

// wrap breaks text into lines of at most width columns, at blanks if that can
// be done, and at its own line feeds. An empty text is one empty line.
func wrap(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	for paragraph := range strings.SplitSeq(visible(text), "\n") {
		line := ""
		for word := range strings.FieldsSeq(paragraph) {
			if line != "" && columns(line)+1+columns(word) <= width {
				line += " " + word
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			for columns(word) > width {
				head := front(word, width)
				lines = append(lines, head)
				word = word[len(head):]
			}
			line = word
		}
		lines = append(lines, line)
	}
	return lines
}

// front is as much of word as fits, at least one character with all that
// combines with it.
func front(word string, width int) string {
	sum := 0
	for i, r := range word {
		w := cells.RuneWidth(r)
		if i > 0 && w > 0 && sum+w > width {
			return word[:i]
		}
		sum += w
	}
	return word
}

// pad fills text with blanks up to width, in front where it is set right.
func pad(text string, width int, right bool) string {
	blanks := strings.Repeat(" ", max(width-columns(text), 0))
	if right {
		return blanks + text
	}
	return text + blanks
}
