package discharge

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Level is what a limit sets or a laboratory finds: a concentration, a mass in
// a time or for an area, or a bare pH. It is compared as it was typed, in
// decimals, so that 3.132 mg/L is 1.2 times 2.61 mg/L and not a hair less.
type Level struct {
	number *big.Rat
	unit   string // empty for a pH
	text   string
}

// Strong acid and lye go beyond 0 and 14.
var lowestPH, highestPH = big.NewRat(-2, 1), big.NewRat(16, 1)

var plainDecimal = regexp.MustCompile(`^[+-]?\d{1,3}(\.\d{1,15})?$`)

// ParseLevel reads a level; a bare number is a pH.
func ParseLevel(text string) (Level, error) {
	tidy := strings.Join(strings.Fields(text), " ")
	if plainDecimal.MatchString(tidy) {
		number, ok := new(big.Rat).SetString(tidy)
		if ok && number.Cmp(lowestPH) >= 0 && number.Cmp(highestPH) <= 0 {
			return Level{number: number, text: tidy}, nil
		}
	}
	var s quantity.Stated[quantity.Release]
	if err := s.UnmarshalText([]byte(tidy)); err != nil {
		return Level{}, err
	}
	number, ok := decimalOf(s)
	if !ok {
		return Level{}, &quantity.Refusal{What: strconv.Quote(text) + " is not a level", Mend: `write it as "0.31 mg/L", or a pH as a bare number`}
	}
	return Level{number: number, unit: s.Unit(), text: s.String()}, nil
}

// decimalOf is the number of s as it was typed. A zero is taken as such, lest
// its exponent be written out.
func decimalOf(s quantity.Stated[quantity.Release]) (*big.Rat, bool) {
	if !s.Known() {
		return nil, false
	}
	if v, err := quantity.In(s.Is(), s.Unit()); err == nil && v == 0 {
		return new(big.Rat), true
	}
	return new(big.Rat).SetString(strings.TrimSuffix(strings.TrimSuffix(s.String(), s.Unit()), " "))
}

// Known reports whether there is a level.
func (l Level) Known() bool { return l.number != nil }

func (l Level) String() string { return l.text }

// IsPH reports whether l is a bare number.
func (l Level) IsPH() bool { return l.Known() && l.unit == "" }

// Release is l as a quantity, unless it is a pH.
func (l Level) Release() (quantity.Release, bool) {
	if !l.Known() || l.unit == "" {
		return quantity.Release{}, false
	}
	r, err := quantity.Parse[quantity.Release](l.text)
	return r, err == nil
}

// times is a level so many times as high, in the same unit.
func (l Level) times(factor *big.Rat) Level {
	number := new(big.Rat).Mul(l.number, factor)
	text := number.FloatString(12)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return Level{number: number, unit: l.unit, text: strings.TrimSpace(text + " " + l.unit)}
}

// in is the number of l in the unit of another level; false where the two are
// different things.
func (l Level) in(unit string) (*big.Rat, bool) {
	if l.unit == unit {
		return l.number, true
	}
	if l.unit == "" || unit == "" {
		return nil, false
	}
	factor, ok := factor(l.unit, unit)
	if !ok {
		return nil, false
	}
	return new(big.Rat).Mul(l.number, factor), true
}

// factor is how many of one unit are in another. Where either way is a short
// decimal it is exact; otherwise it has fifteen digits.
func factor(from, to string) (*big.Rat, bool) {
	there, okThere := decimalFactor(from, to)
	back, okBack := decimalFactor(to, from)
	if !okThere || !okBack {
		return nil, false
	}
	if len(back) < len(there) {
		inverse, ok := new(big.Rat).SetString(back)
		return inverse.Inv(inverse), ok
	}
	return new(big.Rat).SetString(there)
}

func decimalFactor(from, to string) (string, bool) {
	one, err := quantity.Parse[quantity.Release]("1 " + from)
	if err != nil {
		return "", false
	}
	v, err := quantity.In(one, to)
	return quantity.Plain(v), err == nil && v > 0
}

// Result is what a laboratory reports: a level, less than a reporting limit, or
// not detected.
type Result struct {
	Less  bool  // than Level, or not detected at all
	Level Level // absent for a non-detect without a reporting limit
}

// ParseResult reads "0.31 mg/L", "<0.05 mg/L" or "ND".
func ParseResult(text string) (Result, error) {
	tidy := strings.Join(strings.Fields(text), " ")
	switch strings.ToLower(tidy) {
	case "nd", "n.d.", "not detected":
		return Result{Less: true}, nil
	}
	if strings.HasPrefix(tidy, ">") {
		return Result{}, &quantity.Refusal{What: strconv.Quote(tidy) + " only says that there is more", Mend: "give the value that was found after dilution, or the upper end of the range"}
	}
	rest, less := strings.CutPrefix(tidy, "<")
	if less && strings.TrimSpace(rest) == "" {
		return Result{}, &quantity.Refusal{What: `"<" says less than nothing`, Mend: `write the reporting limit behind it: "<0.05 mg/L"`}
	}
	level, err := ParseLevel(rest)
	if err != nil {
		return Result{}, err
	}
	if less && level.IsPH() {
		return Result{}, &quantity.Refusal{What: strconv.Quote(tidy) + " has no unit", Mend: `write the reporting limit with its unit: "<0.05 mg/L"; a pH is never "<"`}
	}
	return Result{Less: less, Level: level}, nil
}

func (r Result) String() string {
	switch {
	case r.Less && r.Level.Known():
		return "<" + r.Level.String()
	case r.Less:
		return "ND"
	}
	return r.Level.String()
}

// readLevel and readResult are the forms for working.ByDate and DatedList.
func readLevel(text string) (Level, string, error) {
	l, err := ParseLevel(text)
	return l, l.String(), err
}

func readResult(text string) (Result, string, error) {
	r, err := ParseResult(text)
	return r, r.String(), err
}

// compare is -1, 0 or 1 as r's level is below, at or above a limit; a fault
// where the two are different things.
func (r Result) compare(limit Level) (int, error) {
	found, ok := r.Level.in(limit.unit)
	if !ok {
		return 0, &working.Fault{Where: "results", What: strconv.Quote(r.String()) + " cannot be put beside the limit " + strconv.Quote(limit.String()), Mend: "give results and limit in units of the same kind, such as mg/L"}
	}
	return found.Cmp(limit.number), nil
}
