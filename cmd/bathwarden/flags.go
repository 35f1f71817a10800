package main

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/recordbook"
)

// settings are the flags that every command takes: as they were typed, and what
// was read from them.
type settings struct {
	book    string
	asOf    string
	period  string
	knownBy string
	units   string
	json    bool
	strict  bool

	given given
}

// given are the values of the flags; one that was not typed is zero.
type given struct {
	asOf   chemicals.Day
	period chemicals.Period
	known  recordbook.Known
	units  quantity.System
}

// read reads the flags before any command runs, whether it uses them or not: a
// value that is passed over in silence looks as if it had been heeded.
func (s *settings) read() error {
	faults := make([]error, 4)
	s.given.asOf, faults[0] = parseAsOf(s.asOf)
	s.given.period, faults[1] = parsePeriod(s.period)
	s.given.known, faults[2] = parseKnown(s.knownBy)
	s.given.units, faults[3] = parseUnits(s.units)
	for i, flag := range []string{"--as-of", "--period", "--known-by", "--units"} {
		faults[i] = chemicals.At(flag, faults[i])
	}
	if err := errors.Join(faults...); err != nil {
		return usageError{err}
	}
	return nil
}

func parseAsOf(text string) (chemicals.Day, error) {
	day, err := chemicals.ParseDay(text)
	if err == nil && day == "" && text != "" {
		err = &chemicals.Problem{What: fmt.Sprintf("%q is not a day", text), Mend: "write it as year-month-day: 2026-03-31"}
	}
	return day, err
}

var dayForm = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)

func parsePeriod(text string) (chemicals.Period, error) {
	if text == "" {
		return chemicals.Period{}, nil
	}
	return chemicals.ParsePeriod(text)
}

// parseKnown reads how far the reader knows the book: a number is that of an
// entry.
func parseKnown(text string) (recordbook.Known, error) {
	if text == "" {
		return recordbook.Known{}, nil
	}
	number, err := strconv.ParseInt(text, 10, 64)
	switch {
	case dayForm.MatchString(text):
		day, err := chemicals.ParseDay(text)
		return recordbook.Known{Day: day}, err
	case errors.Is(err, strconv.ErrSyntax):
		return recordbook.Known{}, &chemicals.Problem{
			What: fmt.Sprintf("%q is neither the number of an entry nor a day", text),
			Mend: "write the number of an entry, as history shows it, or a day as year-month-day: 2026-03-31",
		}
	case err != nil || number < 1:
		return recordbook.Known{}, &chemicals.Problem{
			What: fmt.Sprintf("%q is not the number of an entry", text),
			Mend: "entries are numbered from 1 on; leave --known-by out to know them all",
		}
	}
	return recordbook.Known{Entry: number}, nil
}

func parseUnits(text string) (quantity.System, error) {
	if text == "" {
		return quantity.Metric, nil
	}
	return quantity.ParseSystem(text)
}

// reading is the flags' wish of how to read the book.
func (s *settings) reading(book *recordbook.Book) (recordbook.Reading, error) {
	zone, err := zoneOf(book)
	if err != nil {
		return recordbook.Reading{}, err
	}
	asOf := s.given.asOf
	if asOf == "" {
		asOf = chemicals.DayOf(time.Now().In(zone))
	}
	period, err := s.periodTo(asOf)
	if err != nil {
		err = usageError{chemicals.At("--period", err)}
	}
	if err := errors.Join(err, holds(book, s.given.known)); err != nil {
		return recordbook.Reading{}, err
	}
	return recordbook.Reading{AsOf: asOf, Period: period, KnownBy: s.given.known}, nil
}

// holds says at its flag that the book does not go as far as the reader's
// knowledge of it.
func holds(book *recordbook.Book, known recordbook.Known) error {
	kind, err := chemicals.KindOf("shop")
	if err != nil {
		return err
	}
	_, err = book.Standing(kind, known)
	return chemicals.At("--known-by", err)
}

// periodTo is the period, which ends on the as-of day at the latest: what comes
// after is not known. A month, half year or year that is not over means what of
// it has passed.
func (s *settings) periodTo(asOf chemicals.Day) (chemicals.Period, error) {
	p := s.given.period
	whole := !strings.Contains(s.period, "..")
	switch {
	case s.period == "":
		return chemicals.YearTo(asOf), nil
	case p.Last <= asOf:
		return p, nil
	case p.First > asOf:
		return p, &chemicals.Problem{
			What: fmt.Sprintf("%q begins after the as-of day, %s", s.period, asOf),
			Mend: "give an earlier period, or a later day with --as-of",
		}
	case whole:
		p.Last = asOf
		return p, nil
	}
	return p, &chemicals.Problem{
		What: fmt.Sprintf("%q ends after the as-of day, %s", s.period, asOf),
		Mend: fmt.Sprintf("write %s..%s, or give a later day with --as-of", p.First, asOf),
	}
}
