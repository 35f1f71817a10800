package main

import (
	"errors"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

const defaultBook = "shop.bathwarden"

// newRoot makes the commands for the command line args.
func newRoot(args []string) *cobra.Command {
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
	flags.StringVar(&s.period, "period", "", "the `days` a report covers: 2026-03, 2026-H1 or 2026, each as far as it has passed by the as-of day, or two days as 2026-03-01..2026-03-31 (default: the twelve months to the as-of day)")
	flags.StringVar(&s.knownBy, "known-by", "", "read the book as it stood after this `entry` number, or at the end of this day")
	flags.StringVar(&s.units, "units", "", "us or metric, for computed figures (default metric)")
	flags.BoolVar(&s.json, "json", false, "print results as JSON")
	flags.BoolVar(&s.strict, "strict", false, "end with exit code 3 when gaps were listed")
	root.SetFlagErrorFunc(flagFault)
	root.SetHelpCommand(newHelp(root))
	root.PersistentPreRunE = func(cmd *cobra.Command, args []string) error {
		if onlyNames(cmd) && len(args) > 0 {
			return nil // it will say that it does not know the word
		}
		return errors.Join(emptyFlags(cmd), s.read())
	}
	root.AddCommand(
		newInit(s), newLoad(s), newExport(s), newRecord(s, slices.Contains(args, recordName)), newCorrect(s), newWithdraw(s),
		newList(s), newHistory(s), newVerify(s), newCopy(s), newDemo(s),
		newHazards(s), newRinse(s), newDischarge(s), newReport(s), newCalc(s), newSources(s), newExplain(s), newVersion(),
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

// withBook opens the book, hands it on and closes it.
func (s *settings) withBook(mode recordbook.Mode, use func(*recordbook.Book) error) error {
	book, err := recordbook.Open(s.book, mode)
	if err != nil {
		return err
	}
	return errors.Join(use(book), book.Close())
}

// reader reads the shop with the events that some papers need.
type reader func(*recordbook.Book, recordbook.Reading) (*chemicals.Shop, error)

// withShop reads the shop and the tables, and hands them on.
func (s *settings) withShop(read reader, use func(*chemicals.Shop, published) error) error {
	return s.withBook(recordbook.ForReading, func(book *recordbook.Book) error {
		shop, err := s.shop(book, read)
		if err != nil {
			return err
		}
		from, err := tables()
		if err != nil {
			return err
		}
		return use(shop, from)
	})
}

func (s *settings) shop(book *recordbook.Book, read reader) (*chemicals.Shop, error) {
	reading, err := s.reading(book)
	if err != nil {
		return nil, err
	}
	return read(book, reading)
}

// readFor reads the shop with no more events than its papers need, so that a
// long record costs no more than a short one: those of the period, and those
// since the oldest count that stands in it.
func readFor(book *recordbook.Book, r recordbook.Reading) (*chemicals.Shop, error) {
	from, err := eventsFrom(book, r)
	if err != nil {
		return nil, err
	}
	r.EventsFrom = from
	return book.Read(r)
}

// eventsFrom is the first day of the period, or that of the oldest count that
// stands in it.
func eventsFrom(book *recordbook.Book, r recordbook.Reading) (chemicals.Day, error) {
	kind, err := chemicals.KindOf("stock")
	if err != nil {
		return "", err
	}
	counts, err := book.Standing(kind, r.KnownBy)
	if err != nil {
		return "", err
	}
	from := r.Period.First
	for _, c := range counts {
		if c.From <= r.AsOf && (c.Until == "" || c.Until >= r.Period.First) {
			from = min(from, c.From)
		}
	}
	return from, nil
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
