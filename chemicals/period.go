package chemicals

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

var (
	monthForm = regexp.MustCompile(`^(\d{4})-(\d{2})$`)
	halfForm  = regexp.MustCompile(`^(\d{4})-H([12])$`)
	yearForm  = regexp.MustCompile(`^(\d{4})$`)
)

// ParsePeriod reads a month (2026-03), a half year (2026-H1), a year (2026) or
// two days (2026-03-01..2026-03-31).
func ParsePeriod(text string) (Period, error) {
	if first, last, ok := strings.Cut(text, ".."); ok {
		return betweenDays(first, last)
	}
	var first, last string
	if m := monthForm.FindStringSubmatch(text); m != nil {
		if m[2] < "01" || m[2] > "12" {
			return Period{}, &Problem{What: fmt.Sprintf("%q names the month %s, which no year has", text, m[2]), Mend: "write a month from 01 to 12, such as 2026-03"}
		}
		first, last = text+"-01", ""
	} else if m := halfForm.FindStringSubmatch(text); m != nil {
		first, last = m[1]+map[string]string{"1": "-01-01", "2": "-07-01"}[m[2]], m[1]+map[string]string{"1": "-06-30", "2": "-12-31"}[m[2]]
	} else if yearForm.MatchString(text) {
		first, last = text+"-01-01", text+"-12-31"
	} else {
		return Period{}, &Problem{What: strconv.Quote(text) + " is not a period", Mend: "write 2026-03, 2026-H1, 2026, or two days as 2026-03-01..2026-03-31"}
	}
	if last == "" {
		day, err := ParseDay(first)
		if err != nil {
			return Period{}, err
		}
		last = string(DayOf(day.Time().AddDate(0, 1, -1)))
	}
	return betweenDays(first, last)
}

func betweenDays(first, last string) (Period, error) {
	a, err := ParseDay(first)
	if err != nil {
		return Period{}, err
	}
	b, err := ParseDay(last)
	if err != nil {
		return Period{}, err
	}
	if a == "" || b == "" || b < a {
		return Period{}, &Problem{What: fmt.Sprintf("the period from %q to %q has no days", first, last), Mend: "write the earlier day first, and both: 2026-03-01..2026-03-31"}
	}
	return Period{First: a, Last: b}, nil
}

// YearTo is the twelve months that end on a day.
func YearTo(last Day) Period {
	return Period{First: DayOf(last.Time().AddDate(0, 0, 1).AddDate(-1, 0, 0)), Last: last}
}
