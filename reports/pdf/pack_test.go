package pdf

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// raw is a file of three objects, the first of which stands last, as the
// library lays files out.
func raw() []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.4\n")
	at := map[int]int{}
	put := func(number int, text string) {
		at[number] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", number, text)
	}
	drawn := strings.Repeat("q 3 0 obj endstream endobj Q\n", 20)
	put(2, fmt.Sprintf("<</Length %d>>\nstream\n%s\nendstream", len(drawn), drawn))
	put(3, "<</Filter /FlateDecode /Length 4>>\nstream\nabcd\nendstream")
	put(1, "<</Type /Pages>>")
	list := b.Len()
	b.WriteString("xref\n0 4\n0000000000 65535 f \n")
	for n := 1; n <= 3; n++ {
		fmt.Fprintf(&b, "%010d 00000 n \n", at[n])
	}
	fmt.Fprintf(&b, "trailer\n<<\n/Size 4\n>>\nstartxref\n%d\n%%%%EOF\n", list)
	return b.Bytes()
}

func TestPackedListsItsObjects(t *testing.T) {
	before, listed, err := objectsOf(raw())
	require.NoError(t, err)
	file, err := packed(raw())
	require.NoError(t, err)
	after, list, err := objectsOf(file)
	require.NoError(t, err)
	require.Len(t, after, len(before))
	assert.NotEqual(t, listed, list)
	for i, o := range after {
		assert.Equal(t, before[i].number, o.number)
		assert.True(t, bytes.HasPrefix(file[o.at:], fmt.Appendf(nil, "%d 0 obj\n", o.number)), "object %d at %d", o.number, o.at)
	}
	assert.Contains(t, string(file), "3 0 obj\n<</Filter /FlateDecode /Length 4>>\nstream\nabcd\nendstream\nendobj\n", "what is compressed stays")
	assert.Less(t, bytes.Count(file, []byte("q 3 0 obj")), 2)
	assert.Less(t, len(file), len(raw())-300)
	assert.Contains(t, string(file), "trailer\n<<\n/Size 4\n>>\nstartxref\n")
}

func TestAFileOfAnotherLayoutIsRefused(t *testing.T) {
	for _, text := range []string{"", "x", "startxref\n", "startxref\n999\n", "startxref\n0\n%%EOF\n", "xref\n0 3\nstartxref\n0\n", "xref\n0 9223372036854775807\nstartxref\n0\n"} {
		_, err := packed([]byte(text))
		assert.ErrorIs(t, err, errLayout, "%q", text)
	}
}

// TestADamagedFileIsNoPanic cuts and changes files. It is no native fuzz test,
// since those of this package run too slowly, for the libraries below it.
func TestADamagedFileIsNoPanic(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		file := raw()
		for range rapid.IntRange(1, 4).Draw(r, "changes") {
			at := rapid.IntRange(0, len(file)-1).Draw(r, "at")
			if rapid.Bool().Draw(r, "cut") {
				file = append(file[:at:at], file[min(len(file), at+rapid.IntRange(1, 40).Draw(r, "length")):]...)
			} else {
				file[at] = rapid.SampledFrom([]byte("0123456789\n xt<")).Draw(r, "byte")
			}
			if len(file) == 0 {
				break
			}
		}
		_, _ = packed(file)
	})
}
