package hazard

import (
	"regexp"
	"strconv"
	"strings"
	"sync"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Limit is a specific concentration limit of an ingredient: it gives the class
// from Low up and, where Below is not zero, another one from there. Shares are
// fractions by mass.
type Limit struct {
	Class      Class
	Supplement string // "EUH031" in the place of a class
	Low, Below float64
	Text       string // as written, without the class
	Ref        source.Ref
}

var (
	limitNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(decimal) })
	limitWords  = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)^(?:[\s,%<>=≤≥–-]|w/w|from|to|below|under|up|and|up|above|c)*$`)
	})
)

// ParseLimit reads a specific concentration limit: "STOT RE 2: 0.1 % to 7 %",
// "Skin Corr. 1A: C >= 70", "Skin Irrit. 2; H315: 35 % ≤ C < 50 %", "EUH031:
// from 5 %". Figures are in % w/w, as Annex VI prints them. Errors are
// *working.Fault.
func ParseLimit(text string) ([]Limit, error) {
	of, bounds, found := strings.Cut(strings.ReplaceAll(text, "：", ":"), ":")
	bad := func(what string) ([]Limit, error) {
		return nil, &working.Fault{What: strconv.Quote(text) + " " + what, Mend: `write the class and from which content it holds, as in "STOT RE 2: 0.1 % to 7 %"`}
	}
	if !found {
		return bad("is not a class and its limit parted by a colon")
	}
	numbers := limitNumber().FindAllString(bounds, -1)
	rest := strings.TrimSpace(limitNumber().ReplaceAllString(bounds, " "))
	if len(numbers) == 0 || len(numbers) > 2 || !limitWords().MatchString(rest) {
		return bad("does not say from which content")
	}
	l := Limit{Text: strings.TrimSpace(bounds)}
	var err error
	if l.Low, err = percent(numbers[0]); err != nil {
		return bad("has " + err.Error())
	}
	if len(numbers) == 1 && upperOnly(rest) {
		return bad("says only up to which content")
	}
	if len(numbers) == 2 {
		if l.Below, err = percent(numbers[1]); err != nil || l.Below <= l.Low {
			return bad("does not go from a lower to a higher content")
		}
	}
	return l.of(of)
}

// upperOnly: of "< 10 %" and "up to 10 %" the figure is where a class ends.
func upperOnly(rest string) bool {
	for _, word := range []string{"<", "≤", "below", "under", "up to"} {
		if strings.HasPrefix(strings.TrimLeft(rest, "Cc "), word) {
			return true
		}
	}
	return false
}

// of is the limit for each class that a text names.
func (l Limit) of(text string) ([]Limit, error) {
	if code, ok := supplementOf(text); ok {
		l.Supplement = code
		return []Limit{l}, nil
	}
	classes, err := ParseClass(text)
	if err != nil {
		return nil, err
	}
	all := make([]Limit, len(classes))
	for i, c := range classes {
		all[i] = l
		all[i].Class = c
	}
	return all, nil
}

func percent(digits string) (float64, error) {
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil || v > 100 {
		return 0, &working.Fault{What: digits + " %, more than the whole"}
	}
	return v / 100, nil
}

// shown is a share in % with at most four digits.
func shown(share float64) string {
	return figure(share*100) + " %"
}

// figure is a number with at most four digits and no needless zeros.
func figure(v float64) string {
	const digits = 4
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		panic("hazard: " + err.Error()) // it was printed just now
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
