package reference

import (
	"regexp"
	"strconv"
)

var (
	casPattern   = regexp.MustCompile(`^[1-9]\d{1,6}-\d\d-\d$`)
	ecPattern    = regexp.MustCompile(`^[1-9]\d\d-\d{3}-\d$`)
	indexPattern = regexp.MustCompile(`^\d{3}-\d{3}-\d\d-[\dX]$`)
)

// Check digits find slips of the pen. A valid number may still be the number
// of another substance.

// validCAS: the digits before the last, each times its place from the right,
// add up to a number that ends in the last digit.
func validCAS(text string) bool {
	if !casPattern.MatchString(text) {
		return false
	}
	d := digits(text)
	sum, last := 0, len(d)-1
	for i, digit := range d[:last] {
		sum += (last - i) * digit
	}
	return sum%10 == d[last]
}

// validEC: the first six digits, each times its place from the left, leave the
// last digit when divided by eleven.
func validEC(text string) bool {
	if !ecPattern.MatchString(text) {
		return false
	}
	d := digits(text)
	return weighed(d[:6]) == d[6]
}

// validIndex: as for the EC number, over eight digits; X stands for ten.
func validIndex(text string) bool {
	if !indexPattern.MatchString(text) {
		return false
	}
	want := text[len(text)-1:]
	if want == "X" {
		want = "10"
	}
	return strconv.Itoa(weighed(digits(text)[:8])) == want
}

func weighed(d []int) int {
	sum := 0
	for i, digit := range d {
		sum += (i + 1) * digit
	}
	return sum % 11
}

func digits(text string) []int {
	var d []int
	for _, c := range text {
		if c >= '0' && c <= '9' {
			d = append(d, int(c-'0'))
		}
	}
	return d
}
