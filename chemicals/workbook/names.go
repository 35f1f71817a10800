package workbook

import (
	"fmt"
	"strconv"
	"strings"
)

// MaxColumns is the width of a sheet, MaxRows the most rows that this package
// writes or reads on one (the format itself allows 48,576 more).
const (
	MaxColumns = 16384
	MaxRows    = 1_000_000
)

// maxSheetName is the most UTF-16 code units in the name of a sheet.
const maxSheetName = 31

// Ref names a cell by its column and row, both from 1: Ref(2, 7) is "B7".
func Ref(column, row int) string { return Letters(column) + strconv.Itoa(row) }

// Letters names a column, counted from 1: 28 is "AB".
func Letters(column int) string {
	var letters []byte
	for ; column > 0; column = (column - 1) / 26 {
		letters = append([]byte{byte('A' + (column-1)%26)}, letters...)
	}
	return string(letters)
}

// position reads a reference such as B7; ok is false for anything else.
func position(ref string) (column, row int, ok bool) {
	i := 0
	for ; i < len(ref) && i < 4 && letter(ref[i]); i++ {
		column = column*26 + int(ref[i]&^0x20-'A') + 1
	}
	digits := ref[i:]
	if i == 0 || column > MaxColumns || digits == "" || len(digits) > 7 || digits[0] == '0' {
		return 0, 0, false
	}
	for _, d := range []byte(digits) {
		if d < '0' || d > '9' {
			return 0, 0, false
		}
		row = row*10 + int(d-'0')
	}
	return column, row, true
}

func letter(c byte) bool { return 'A' <= c&^0x20 && c&^0x20 <= 'Z' }

// On puts a reference onto a sheet: On("Stock list", "B7") is 'Stock list'!B7.
func On(sheet, ref string) string {
	return "'" + strings.ReplaceAll(sheet, "'", "''") + "'!" + ref
}

// sheetName makes a legal name of a sheet that none in taken (lower case)
// bears: at most 31 characters, none of :\/?*[], no quote at either end, and
// not History, which spreadsheet programs keep for themselves.
func sheetName(wanted string, taken map[string]bool) string {
	base := strings.Map(func(r rune) rune {
		switch {
		case r < ' ':
			return ' '
		case strings.ContainsRune(`:\/?*[]`, r):
			return '-'
		}
		return r
	}, clean(wanted))
	base = strings.Trim(base, " '")
	if base == "" || strings.EqualFold(base, "History") {
		base = strings.TrimSpace("Sheet " + base)
	}
	name := cut(base, maxSheetName)
	for n := 2; taken[strings.ToLower(name)]; n++ {
		tail := fmt.Sprintf(" (%d)", n)
		name = strings.TrimSuffix(cut(base, maxSheetName-len(tail)), "…") + tail
	}
	taken[strings.ToLower(name)] = true
	return name
}

// cut shortens text to at most limit UTF-16 code units.
func cut(text string, limit int) string {
	if units(text) <= limit {
		return text
	}
	n := 0
	for i, r := range text {
		if n += units(string(r)); n > limit-1 {
			return strings.TrimRight(text[:i], " '") + "…"
		}
	}
	return text
}
