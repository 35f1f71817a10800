package sheet

import (
	"encoding/csv"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// scanned are the rows of a CSV text that hold anything at all, and whether one
// of them is faulty.
func scanned(text string, comma byte) (rows [][]string, numbers []int, faulty bool) {
	for l := range lines(text, comma, place{name: "x.csv"}) {
		faulty = faulty || len(l.faults) > 0
		var row []string
		for _, c := range l.cells {
			row = append(row, strings.ReplaceAll(c.text, "\r\n", "\n"))
		}
		if len(row) > 1 || row[0] != "" {
			rows, numbers = append(rows, row), append(numbers, l.number)
		}
	}
	return rows, numbers, faulty
}

// standard reads the same with the standard library, cells of blanks emptied.
func standard(text string, comma byte) (rows [][]string, numbers []int, faulty bool) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = rune(comma), -1
	for {
		row, err := r.Read()
		if err == io.EOF {
			return rows, numbers, false
		}
		if err != nil {
			return nil, nil, true
		}
		for i := range row {
			if strings.TrimSpace(row[i]) == "" {
				row[i] = ""
			}
		}
		if len(row) > 1 || row[0] != "" {
			line, _ := r.FieldPos(0)
			rows, numbers = append(rows, row), append(numbers, line)
		}
	}
}

// FuzzScanner compares with the standard library, which knows no lone carriage
// returns.
func FuzzScanner(f *testing.F) {
	for _, text := range []string{
		"", "a", "a,b\n", "a,\"b\"\"c\"\r\n,,\n", "\"a\nb\",c\n\nd", "a\"b,c", "\"a\"b,c\n\"d", "\"a\r\nb\r\n\",\n", ",", "\"\"", "\"\"\"\"", " \"a\",b",
	} {
		f.Add(text, true)
	}
	f.Fuzz(func(t *testing.T, text string, semicolon bool) {
		if strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\r") || !utf8.ValidString(text) {
			t.Skip()
		}
		comma := byte(',')
		if semicolon {
			comma = ';'
		}
		got, gotLines, gotFaulty := scanned(text, comma)
		want, wantLines, wantFaulty := standard(text, comma)
		if slices.ContainsFunc(got, func(row []string) bool { return len(row) >= maxCells }) {
			t.Skip()
		}
		require.Equal(t, wantFaulty, gotFaulty)
		if !wantFaulty {
			assert.Equal(t, want, got)
			assert.Equal(t, wantLines, gotLines)
		}
	})
}
