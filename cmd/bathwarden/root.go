package main

import (
	"errors"
	"fmt"
	"os/user"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

const defaultBook = "shop.bathwarden"

// settings are the flags that every command takes.
type settings struct {
	book    string
	asOf    string
	period  string
	knownBy string
	units   string
	json    bool
	strict  bool
}

func newRoot() *cobra.Command {
	s := &settings{}
	root := &cobra.Command{
		Use:           "bathwarden",
		Short:         "Keep a plating shop's records and make its papers from them",
		Long:          "bathwarden keeps the hazard and discharge records of an electroplating shop in one\nrecord book and makes from them the papers that an inspector, a waste hauler or a\nnew colleague is handed. Figures come with their working and their sources; who\ndecides is the local code and the licensed professional.",
		Version:       strings.TrimPrefix(program, "bathwarden "),
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	flags := root.PersistentFlags()
	flags.StringVar(&s.book, "book", defaultBook, "the record book's file")
	flags.StringVar(&s.asOf, "as-of", "", "read the book as of this `day` (default: today in the shop's time zone)")
	flags.StringVar(&s.period, "period", "", "the `days` a report covers: 2026-03, 2026-H1, 2026, or two days as 2026-03-01..2026-03-31 (default: the twelve months to the as-of day)")
	flags.StringVar(&s.knownBy, "known-by", "", "read the book as it stood after this `entry` number, or at the end of this day")
	flags.StringVar(&s.units, "units", "", "us or metric, for computed figures (default metric)")
	flags.BoolVar(&s.json, "json", false, "print results as JSON")
	flags.BoolVar(&s.strict, "strict", false, "end with exit code 3 when gaps were listed")
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(
		newInit(s), newLoad(s), newExport(s), newRecord(s), newCorrect(s), newWithdraw(s),
		newList(s), newHistory(s), newVerify(s), newCopy(s), newDemo(s),
		newHazards(s), newReport(s), newCalc(s), newSources(s), newExplain(s), newVersion(),
	)
	root.Args = cobra.ArbitraryArgs
	root.RunE = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return cmd.Help()
		}
		return usageError{unknownCommand(root, args[0])}
	}
	for _, c := range root.Commands() {
		refuseStrayWords(c)
	}
	return root
}

func unknownCommand(root *cobra.Command, word string) error {
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	p := &chemicals.Problem{What: fmt.Sprintf("there is no command %q", word), Mend: "see bathwarden --help"}
	if near := chemicals.Closest(word, names); len(near) > 0 {
		p.Mend = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return p
}

// refuseStrayWords makes cobra's complaints about arguments usage errors.
func refuseStrayWords(c *cobra.Command) {
	if args := c.Args; args != nil {
		c.Args = func(cmd *cobra.Command, given []string) error {
			if err := args(cmd, given); err != nil {
				return usageError{&chemicals.Problem{What: err.Error(), Mend: "see bathwarden " + cmd.Name() + " --help"}}
			}
			return nil
		}
	}
	for _, sub := range c.Commands() {
		refuseStrayWords(sub)
	}
}

// reading is the flags' wish of how to read the book.
func (s *settings) reading(zone *time.Location) (recordbook.Reading, error) {
	var r recordbook.Reading
	var faults []error
	asOf, err := chemicals.ParseDay(s.asOf)
	faults = append(faults, chemicals.At("--as-of", err))
	if asOf == "" {
		asOf = chemicals.DayOf(time.Now().In(zone))
	}
	r.AsOf, r.Period = asOf, chemicals.YearTo(asOf)
	if s.period != "" {
		r.Period, err = chemicals.ParsePeriod(s.period)
		faults = append(faults, chemicals.At("--period", err))
	}
	if s.knownBy != "" {
		if n, isNumber := strconv.ParseInt(s.knownBy, 10, 64); isNumber == nil && !strings.Contains(s.knownBy, "-") {
			r.KnownBy.Entry = n
		} else {
			r.KnownBy.Day, err = chemicals.ParseDay(s.knownBy)
			faults = append(faults, chemicals.At("--known-by", err))
		}
	}
	if err := errors.Join(faults...); err != nil {
		return r, usageError{err}
	}
	return r, nil
}

// withBook opens the book, hands it on and closes it.
func (s *settings) withBook(mode recordbook.Mode, use func(*recordbook.Book) error) error {
	book, err := recordbook.Open(s.book, mode)
	if err != nil {
		return err
	}
	return errors.Join(use(book), book.Close())
}

func (s *settings) shop(book *recordbook.Book) (*chemicals.Shop, error) {
	zone, err := zoneOf(book)
	if err != nil {
		return nil, err
	}
	reading, err := s.reading(zone)
	if err != nil {
		return nil, err
	}
	return readFor(book, reading)
}

// readFor reads the shop with no more events than its papers need, so that a
// long record costs no more than a short one: those of the period, and those
// since the oldest count that stands in it.
func readFor(book *recordbook.Book, r recordbook.Reading) (*chemicals.Shop, error) {
	kind, err := chemicals.KindOf("stock")
	if err != nil {
		return nil, err
	}
	counts, err := book.Standing(kind, r.KnownBy)
	if err != nil {
		return nil, err
	}
	r.EventsFrom = r.Period.First
	for _, c := range counts {
		if c.From <= r.AsOf && (c.Until == "" || c.Until >= r.Period.First) {
			r.EventsFrom = min(r.EventsFrom, c.From)
		}
	}
	return book.Read(r)
}

// zoneOf is the time zone in which the shop counts its days.
func zoneOf(book *recordbook.Book) (*time.Location, error) {
	kind, err := chemicals.KindOf("shop")
	if err != nil {
		return nil, err
	}
	own, err := book.Standing(kind, recordbook.Known{})
	if err != nil || len(own) == 0 {
		return time.Local, err
	}
	return chemicals.Zone(own[len(own)-1].Body["time zone"]).Location(), nil
}

// author is who writes into the book now.
func author(by, why string) (recordbook.Author, error) {
	if by == "" {
		u, err := user.Current()
		if err != nil {
			return recordbook.Author{}, &chemicals.Problem{Where: "--by", What: "the system does not say who you are", Mend: "name yourself with --by"}
		}
		by = u.Username
	}
	return recordbook.Author{By: by, Why: why, At: time.Now()}, nil
}

func wantArgs(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != n {
			return fmt.Errorf("%s takes %s, and nothing more", cmd.Name(), what)
		}
		return nil
	}
}
