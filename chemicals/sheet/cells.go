package sheet

import (
	"fmt"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/workbook"
)

// text is what a cell gives its column, in words that the column's form reads
// if anything does.
func (f *field) text(c cell, ofSheet bool) (string, *chemicals.Problem) {
	switch c.is {
	case workbook.KindEmpty:
		return "", nil
	case workbook.KindError:
		return "", &chemicals.Problem{What: "the cell shows the error " + c.text, Mend: "mend its formula, or write the value itself"}
	case workbook.KindBool:
		return f.answer(c)
	case workbook.KindDate:
		return f.date(c)
	case workbook.KindNumber:
		if f.takes == days {
			return "", &chemicals.Problem{What: quoted(c.text) + " is a bare number, not a day", Mend: "format the cell as a date, or write the day as 2026-03-31"}
		}
	}
	switch f.takes {
	case yesNo:
		if strings.EqualFold(strings.TrimSpace(c.text), "true") || strings.EqualFold(strings.TrimSpace(c.text), "false") {
			return f.answer(c)
		}
	case measures:
		return inUnit(c.text, f.unit), nil
	case anyText:
		if !ofSheet {
			return unguarded(c.text), nil
		}
	}
	return c.text, nil
}

func (f *field) answer(c cell) (string, *chemicals.Problem) {
	switch {
	case f.takes != yesNo:
		return "", &chemicals.Problem{What: "the cell holds the truth value " + c.text, Mend: fmt.Sprintf("format the cell as text and write what %q takes, such as %q", f.column.Name, f.column.Example)}
	case strings.EqualFold(strings.TrimSpace(c.text), "true"):
		return string(chemicals.Yes), nil
	}
	return string(chemicals.No), nil
}

// date takes a date cell where its text is read, but not as free text: programs
// make dates of lot numbers and fractions without a word.
func (f *field) date(c cell) (string, *chemicals.Problem) {
	day, clock, timed := strings.Cut(c.text, " ")
	switch {
	case f.takes == otherForm && len(f.column.Words) == 0:
		return c.text, nil
	case f.takes != days:
		return "", &chemicals.Problem{What: fmt.Sprintf("the cell is a date, %s", c.text), Mend: fmt.Sprintf("format the cell as text and write what %q takes, such as %q", f.column.Name, f.column.Example)}
	case strings.Contains(day, ":"):
		return "", &chemicals.Problem{What: fmt.Sprintf("%q is a time of day, not a day", c.text), Mend: "write the day as 2026-03-31"}
	case timed:
		return "", &chemicals.Problem{What: fmt.Sprintf("%q has a time of day, %s", c.text, clock), Mend: fmt.Sprintf("write the day alone: %s", day)}
	}
	return day, nil
}

// leads are the characters that make spreadsheet programs take the text of a
// CSV cell for a formula.
const leads = "=+-@\t\r"

// guarded writes free text for a CSV file; unguarded takes it back.
func guarded(text string) string {
	if inside := strings.TrimLeft(text, "'"); inside != "" && strings.ContainsRune(leads, rune(inside[0])) {
		return "'" + text
	}
	return text
}

func unguarded(text string) string {
	if inside := strings.TrimLeft(text, "'"); inside != text && inside != "" && strings.ContainsRune(leads, rune(inside[0])) {
		return text[1:]
	}
	return text
}
