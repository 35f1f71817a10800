package chemicals

import "unicode"

// The marks that join letters or keep them apart without showing themselves.
const (
	zeroWidthNonJoiner = '\u200c'
	zeroWidthJoiner    = '\u200d'
)

// hidden finds the first mark of a name that does not show, and gives its place
// among the characters, counted from 1. A joiner between letters of a script
// that it shapes, and what an emoji is put together with, are not hidden: they
// change what is seen.
func hidden(name string) (mark rune, at int, found bool) {
	runes := []rune(name)
	for i, r := range runes {
		if !ignorable(r) {
			continue
		}
		var before, after rune // 0, which no name holds, at its ends
		if i > 0 {
			before = runes[i-1]
		}
		if i < len(runes)-1 {
			after = runes[i+1]
		}
		if !shapes(r, before, after) {
			return r, i + 1, true
		}
	}
	return 0, 0, false
}

// ignorable holds for what a page leaves out: The Unicode Standard calls it
// format characters, variation selectors and other default ignorable code
// points. Format characters that show, such as the Arabic number sign, are not
// among them.
func ignorable(r rune) bool {
	if unicode.Is(unicode.Prepended_Concatenation_Mark, r) {
		return false
	}
	return unicode.In(r, unicode.Cf, unicode.Variation_Selector, unicode.Other_Default_Ignorable_Code_Point)
}

// shapes reports whether an ignorable mark changes how its neighbours look.
func shapes(mark, before, after rune) bool {
	switch {
	case mark == zeroWidthJoiner && emoji(before) && unicode.Is(unicode.So, after):
		return true
	case mark == zeroWidthJoiner, mark == zeroWidthNonJoiner:
		return joining(before) && joining(after)
	case unicode.Is(unicode.Mongolian, mark):
		return unicode.Is(unicode.Mongolian, before)
	case unicode.Is(unicode.Variation_Selector, mark):
		const keycap = '\u20e3'
		return after == keycap || unicode.In(before, unicode.So, unicode.Han, unicode.Mongolian) || before > unicode.MaxASCII && unicode.Is(unicode.Sm, before)
	}
	return false
}

// emoji holds for what may stand before the joiner in an emoji: a symbol, its
// colour of skin or the mark that asks for its coloured form.
func emoji(r rune) bool {
	const coloured, lightest, darkest = '\ufe0f', '\U0001f3fb', '\U0001f3ff'
	return unicode.Is(unicode.So, r) || r == coloured || lightest <= r && r <= darkest
}

// joining holds for letters and vowel signs of the scripts that the joiners
// shape: those written joined up, and those of India and its neighbours.
func joining(r rune) bool {
	return unicode.In(r, unicode.L, unicode.M) && unicode.In(r,
		unicode.Arabic, unicode.Syriac, unicode.Mandaic, unicode.Nko, unicode.Adlam, unicode.Hanifi_Rohingya, unicode.Mongolian,
		unicode.Devanagari, unicode.Bengali, unicode.Gurmukhi, unicode.Gujarati, unicode.Oriya, unicode.Tamil, unicode.Telugu,
		unicode.Kannada, unicode.Malayalam, unicode.Sinhala, unicode.Myanmar, unicode.Khmer)
}

// turning finds the first mark of a text that turns the direction of writing:
// an embedding, an override or an isolate, or the end of one. What stands on the
// page is then not what the book holds. The marks that only lend a direction to
// the signs beside them (U+200E, U+200F, U+061C) are left alone.
func turning(text string) (mark rune, at int, found bool) {
	for _, r := range text {
		at++
		if '\u202a' <= r && r <= '\u202e' || '\u2066' <= r && r <= '\u2069' {
			return r, at, true
		}
	}
	return 0, 0, false
}
