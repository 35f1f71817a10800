package pdf

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// clean makes text that the font can print: one U+FFFD for each character that
// it cannot, and for each broken byte; nothing for control and format
// characters. Line ends stay, other blank characters become spaces.
func clean(text string) string {
	if plain(text) {
		return text
	}
	faces := dejavu()
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\u00a0':
			return r
		case unicode.IsSpace(r):
			return ' '
		case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Variation_Selector):
			return -1
		case !faces.has(r):
			return utf8.RuneError
		}
		return r
	}, strings.ReplaceAll(text, "\r\n", "\n"))
}

func plain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}
