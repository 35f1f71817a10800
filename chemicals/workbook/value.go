package workbook

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf16"
	"unicode/utf8"
)

// MaxText is the most UTF-16 code units that a spreadsheet cell holds.
const MaxText = 32767

// maxFormat is the most characters that a number format may have.
const maxFormat = 255

type content uint8

const (
	empty content = iota
	words
	figure
	day
	truth
)

// Value is what is written into one cell. The zero Value leaves the cell empty.
type Value struct {
	content  content
	style    Style
	decimals int // digits after the point and one more; 0 for as many as the figure has
	number   float64
	text     string
	formula  string
	prefix   string
	suffix   string
}

// Text stays text, whatever it looks like: "=1+1" and "007" are words. Line
// ends become line feeds; characters that XML does not allow become U+FFFD.
// Text longer than MaxText is refused when it is written.
func Text(text string) Value { return Value{content: words, text: text} }

// Number shows all its digits, 15 at the most, unless Decimals says otherwise.
// NaN and infinities are refused when it is written.
func Number(v float64) Value { return Value{content: figure, number: v} }

// Live is a formula (without its leading =) and the value we computed for it,
// which is what shows until something recalculates the workbook.
func Live(formula string, v float64) Value {
	return Value{content: figure, number: v, formula: formula}
}

// Date is a day, shown as 2026-03-31. Days before 1900-03-01 are refused when
// it is written: spreadsheet programs do not agree on them.
func Date(year, month, dayOfMonth int) Value {
	v := Value{content: day}
	at := time.Date(year, time.Month(month), dayOfMonth, 0, 0, 0, 0, time.UTC)
	if at.Year() == year && int(at.Month()) == month && at.Day() == dayOfMonth {
		v.number = float64(at.Unix()/secondsPerDay - epoch1900)
	}
	v.text = fmt.Sprintf("%04d-%02d-%02d", year, month, dayOfMonth)
	return v
}

// Bool is TRUE or FALSE.
func Bool(is bool) Value {
	v := Value{content: truth}
	if is {
		v.number = 1
	}
	return v
}

// Decimals fixes the digits after the point. The cell keeps the whole figure;
// spreadsheet programs round halves away from zero when they show it.
func (v Value) Decimals(n int) Value { v.decimals = n + 1; return v }

// Suffix shows literal text behind a figure that stays a figure: " g/L".
func (v Value) Suffix(text string) Value { v.suffix = text; return v }

// Prefix shows literal text before a figure that stays a figure: "<".
func (v Value) Prefix(text string) Value { v.prefix = text; return v }

// As adds to the cell's style.
func (v Value) As(s Style) Value { v.style |= s; return v }

// Emptied is an empty cell that looks like v.
func (v Value) Emptied() Value { return Value{style: v.style} }

// problem says why v cannot be written, or nothing.
func (v Value) problem() string {
	switch {
	case v.content == figure && (math.IsNaN(v.number) || math.IsInf(v.number, 0)):
		return fmt.Sprintf("%v is not a figure", v.number)
	case v.content == words && len(v.text) > MaxText && units(v.text) > MaxText:
		return fmt.Sprintf("text of %d characters is longer than a cell holds (%d)", units(v.text), MaxText)
	case v.content == day && (v.number <= leapDay1900 || v.number > lastDay):
		return fmt.Sprintf("%q is not a day that a workbook can hold as a date (1900-03-01 to 9999-12-31)", v.text)
	case len(v.prefix)+len(v.suffix) > 0 && len(v.format()) > maxFormat:
		return fmt.Sprintf("%q is too long to stand at a figure", v.prefix+v.suffix)
	}
	return ""
}

// format is the number format code of v; empty for the general one.
func (v Value) format() string {
	switch v.content {
	case day:
		return "yyyy\\-mm\\-dd"
	case figure:
		return v.figureFormat()
	}
	return ""
}

func (v Value) figureFormat() string {
	if v.decimals == 0 && v.prefix == "" && v.suffix == "" {
		return ""
	}
	code := "General"
	if v.decimals > 0 {
		code = "0"
	}
	if v.decimals > 1 {
		code += "." + strings.Repeat("0", v.decimals-1)
	}
	code = literal(v.prefix) + code + literal(v.suffix)
	if v.formula == "" && v.number < 0 && v.decimals > 0 && v.showsZero() {
		code += ";" + code // or spreadsheet programs would show -0.00
	}
	return code
}

func (v Value) showsZero() bool {
	return math.Abs(fifteen(v.number*math.Pow10(v.decimals-1))) < 0.5
}

// literal quotes text for a number format.
func literal(text string) string {
	if text == "" {
		return ""
	}
	return `"` + strings.ReplaceAll(clean(text), `"`, `"\""`) + `"`
}

// fifteen is the figure with at most 15 significant digits that is nearest to
// v. Spreadsheet programs keep no more, and the library cuts the rest off
// instead of rounding it: 0.7999999999999999 would become 0.799999999999999.
func fifteen(v float64) float64 {
	near, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		return v // rounded beyond the largest float64
	}
	return near
}

// units counts UTF-16 code units, as spreadsheet programs do.
func units(text string) int {
	n := 0
	for _, r := range text {
		n += max(utf16.RuneLen(r), 1)
	}
	return n
}

// clean makes text fit for XML.
func clean(text string) string {
	if !strings.ContainsFunc(text, unfit) && utf8.ValidString(text) {
		return text
	}
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	return strings.Map(func(r rune) rune {
		if unfit(r) {
			return utf8.RuneError
		}
		return r
	}, text)
}

// unfit holds for what XML 1.0 does not allow, and for the carriage return,
// which its readers drop.
func unfit(r rune) bool {
	return r < ' ' && r != '\t' && r != '\n' || r == 0xFFFE || r == 0xFFFF
}
