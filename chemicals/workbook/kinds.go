package workbook

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// numberKind is what a number format makes of a number.
type numberKind uint8

const (
	plain numberKind = iota
	calendar
	daytime // hours without a day
	elapsed // hours that run on past 24
	percent
)

// numberKinds reads what each style makes of a number.
func numberKinds(book *excelize.File) ([]numberKind, error) {
	if book.Styles == nil || book.Styles.CellXfs == nil {
		return nil, nil
	}
	kinds := make([]numberKind, len(book.Styles.CellXfs.Xf))
	for i := range kinds {
		style, err := book.GetStyle(i)
		if err != nil {
			return nil, err
		}
		code := ""
		if style.CustomNumFmt != nil {
			code = *style.CustomNumFmt
		}
		kinds[i] = kindOf(style.NumFmt, code)
	}
	return kinds, nil
}

// kindOf decides by the number of a built-in format (ISO/IEC 29500-1, 18.8.30;
// 27 to 36 and 50 to 58 are dates of the East Asian editions) or by the code
// of a custom one.
func kindOf(builtIn int, code string) numberKind {
	if code != "" {
		return kindOfCode(code)
	}
	switch {
	case builtIn == 9 || builtIn == 10:
		return percent
	case builtIn == 46:
		return elapsed
	case 18 <= builtIn && builtIn <= 21, builtIn == 45, builtIn == 47:
		return daytime
	case 14 <= builtIn && builtIn <= 22, 27 <= builtIn && builtIn <= 36, 50 <= builtIn && builtIn <= 58:
		return calendar
	}
	return plain
}

// kindOfCode looks at a format code outside quotes, brackets and escapes.
func kindOfCode(code string) numberKind {
	kind := plain
	for i := 0; i < len(code); i++ {
		switch c := code[i]; c {
		case '"':
			i = closing(code, i, '"')
		case '[':
			end := closing(code, i, ']')
			if running(code[i:min(end, len(code))]) {
				return elapsed
			}
			i = end
		case '\\', '_', '*':
			i++
		case '%':
			kind = percent
		case 'y', 'Y', 'd', 'D':
			return calendar
		case 'h', 'H', 's', 'S':
			kind = daytime
		case 'm', 'M': // months or minutes
			if kind != daytime {
				kind = calendar
			}
		}
	}
	return kind
}

func closing(code string, from int, mark byte) int {
	if n := strings.IndexByte(code[from+1:], mark); n >= 0 {
		return from + 1 + n
	}
	return len(code)
}

// running holds for [h], [mm] and [ss], but not for [Red] or [$-409].
func running(bracket string) bool {
	inside := strings.ToLower(strings.TrimPrefix(bracket, "["))
	return inside != "" && (strings.Trim(inside, "h") == "" || strings.Trim(inside, "m") == "" || strings.Trim(inside, "s") == "")
}

// decimal is the shortest decimal of at most 15 digits for v, without an
// exponent.
func decimal(v float64) string {
	if v == 0 {
		return "0" // not -0
	}
	return strconv.FormatFloat(fifteen(v), 'f', -1, 64)
}

// Days since 1970-01-01, negated, at which the day counts begin, so that day 61
// of the 1900 count is 1900-03-01. That count holds a 29 February 1900, its day
// 60, that never was.
const (
	epoch1900   = -25569
	epoch1904   = -24107
	leapDay1900 = 60
	lastDay     = 2958465 // 9999-12-31, of the 1900 count
)

const secondsPerDay = 86400

// dateText writes a day count as 2026-03-01, 2026-03-01 14:30 or, below one
// day, 14:30; seconds only where there are any. In the 1904 count day 0 is a day,
// unless the format shows none. It fails on days that are none.
func dateText(serial float64, kind numberKind, date1904 bool) (string, error) {
	if serial < 0 || serial >= lastDay+1 {
		return "", fmt.Errorf("%s is not a date", decimal(serial))
	}
	total := int64(math.Round(serial * secondsPerDay))
	days, seconds := total/secondsPerDay, total%secondsPerDay
	if days == 0 && (kind == daytime || !date1904) {
		return clock(seconds), nil
	}
	epoch := int64(epoch1900)
	switch {
	case date1904:
		epoch = epoch1904
	case days == leapDay1900:
		return "", fmt.Errorf("1900-02-29 never was a day")
	case days < leapDay1900:
		epoch++
	}
	at := time.Unix((days+epoch)*secondsPerDay+seconds, 0).UTC()
	if seconds == 0 {
		return at.Format("2006-01-02"), nil
	}
	return at.Format("2006-01-02 ") + clock(seconds), nil
}

// elapsedText writes a span of days as hours and minutes: 26:30.
func elapsedText(days float64) (string, error) {
	if days < 0 || days > lastDay {
		return "", fmt.Errorf("%s is not a time", decimal(days))
	}
	return clock(int64(math.Round(days * secondsPerDay))), nil
}

func clock(seconds int64) string {
	text := fmt.Sprintf("%02d:%02d", seconds/3600, seconds/60%60)
	if seconds%60 != 0 {
		text += fmt.Sprintf(":%02d", seconds%60)
	}
	return text
}
