package chemicals

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestNamesHoldNoHiddenMarks(t *testing.T) {
	for _, c := range []struct {
		name string
		mark rune
		at   int
	}{
		{"N\u200b1", 0x200B, 2}, {"\u200bN1", 0x200B, 1}, {"N1\u200b", 0x200B, 3},
		{"so\u00adlution", 0xAD, 3}, {"N\u034f1", 0x34F, 2}, {"N\u061c1", 0x61C, 2}, {"N\u115f1", 0x115F, 2}, {"N\u180e1", 0x180E, 2},
		{"N\u200e1", 0x200E, 2}, {"N\u200f1", 0x200F, 2}, {"N\u202a1", 0x202A, 2}, {"N\u202e1\u202c", 0x202E, 2}, {"N\u2060 1", 0x2060, 2}, {"N\u20641", 0x2064, 2},
		{"\u2066N1\u2069", 0x2066, 1}, {"N\u20691", 0x2069, 2}, {"N\u206f1", 0x206F, 2}, {"N\u31641", 0x3164, 2}, {"N\ufeff1", 0xFEFF, 2}, {"N\ufff91", 0xFFF9, 2}, {"N\U000e00411", 0xE0041, 2},
		{"N\ufe0f1", 0xFE0F, 2}, {"N-\ufe0f1", 0xFE0F, 3}, {"N\U000e01001", 0xE0100, 2},
		{"N\u200c1", 0x200C, 2}, {"Auf\u200clage", 0x200C, 4}, {"N\u200d1", 0x200D, 2}, {"\u200dN1", 0x200D, 1}, {"نیکل\u200c", 0x200C, 5}, {"می\u200c\u200cشود", 0x200C, 3},
		{"🧪\u200dN", 0x200D, 2}, {"e\u0301\u200d\u0301", 0x200D, 3}, {"ванна\u200cникеля", 0x200C, 6},
	} {
		var n Name
		err := n.UnmarshalText([]byte(c.name))
		require.Error(t, err, "%+q", c.name)
		problem := err.(*Problem)
		assert.Equal(t, fmt.Sprintf("%q holds U+%04X, which does not show, as its character %d", c.name, c.mark, c.at), problem.What)
		assert.NotEmpty(t, problem.Mend)
		assert.False(t, strings.ContainsFunc(problem.Error(), func(r rune) bool { return unicode.Is(unicode.Cf, r) }), "the message shows what it speaks of: %+q", problem.Error())
		assert.Empty(t, n)
	}
}

func TestNamesOfEveryScriptStand(t *testing.T) {
	for _, name := range []string{
		"B5", "Ünïcödé ÅÄÖ ß ﬁ", "decompose\u0301", "鍍金槽 ニッケル 도금", "حوض النيكل", "אמבט ניקל", "می\u200cشود", "क्\u200dष", "क्\u200cष", "ශ්\u200dරී", "葛\U000e0100",
		"👩\u200d🔬", "👩🏽\u200d🔬", "❤\ufe0f\u200d🔥", "⚗\ufe0f 2", "1\ufe0f\u20e3", "↔\ufe0f", "🇩🇪", "\u0600١٢",
	} {
		var n Name
		require.NoError(t, n.UnmarshalText([]byte(name)), "%+q", name)
		assert.Equal(t, name, n.String())
	}
}

// TestNoNameLooksLikeAnother: a plain name into which a mark is put that does
// not show is refused wherever it stands, or read as the name without it.
func TestNoNameLooksLikeAnother(t *testing.T) {
	var marks []rune
	for _, table := range []*unicode.RangeTable{unicode.Cf, unicode.Variation_Selector, unicode.Other_Default_Ignorable_Code_Point} {
		for _, r := range table.R16 {
			for c := rune(r.Lo); c <= rune(r.Hi); c += rune(r.Stride) {
				marks = append(marks, c)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		name := []rune(rapid.StringMatching(`[A-Za-zÀ-ž0-9Α-ωА-я-]{1,12}`).Draw(t, "name"))
		mark := rapid.SampledFrom(marks).Draw(t, "mark")
		at := rapid.IntRange(0, len(name)).Draw(t, "at")
		var n Name
		err := n.UnmarshalText([]byte(string(name[:at]) + string(mark) + string(name[at:])))
		if unicode.Is(unicode.Prepended_Concatenation_Mark, mark) {
			require.NoError(t, err, "%U shows", mark)
			return
		}
		require.Error(t, err, "%U", mark)
	})
}

func TestTextsThatTurnTheWritingAreRefused(t *testing.T) {
	for _, mark := range "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069" {
		var text Text
		err := text.UnmarshalText([]byte("Öl\n" + string(mark) + "x"))
		require.Error(t, err, "%U", mark)
		assert.Equal(t, fmt.Sprintf("the text holds %U, which turns the direction of writing, as its character 4", mark), err.Error())
		assert.Empty(t, text)
	}
	for _, kept := range []string{"left\u200eright\u200f", "zero\u200bwidth", "soft\u00adhyphen", "אמבט\u200f 3", "می\u200cشود", "👩\u200d🔬"} {
		var text Text
		require.NoError(t, text.UnmarshalText([]byte(kept)), "%+q", kept)
		assert.Equal(t, kept, text.String())
	}
}
