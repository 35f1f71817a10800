package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

func newHistory(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "history [KIND [NAME ...]]",
		Short: "Show entries as they were written, with who, when and why",
		Long:  "Show every entry, those of a kind, or those of one name: as they were written,\nwith who made them, when, why, and what they replace. A name of several columns\nis given column by column: history bath B5 nickel-sulfate.\n\n--known-by shows the book as it stood then. --as-of leaves out what is dated\nlater, and --period what is dated outside of it: events by their day, facts by\ntheir first.",
		RunE: func(cmd *cobra.Command, args []string) error {
			var kind *chemicals.Kind
			var key []string
			if len(args) > 0 {
				var err error
				if kind, err = chemicals.KindOf(args[0]); err != nil {
					return usageError{err}
				}
				key = args[1:]
			}
			return s.withBook(recordbook.ForReading, func(book *recordbook.Book) error {
				entries, err := s.history(book, kind, key)
				if err != nil {
					return err
				}
				return s.printEntries(cmd, entries)
			})
		},
	}
}

// history is the entries of the book, or of a kind and name, that the flags ask
// for. An entry that withdraws another is dated as that one is.
func (s *settings) history(book *recordbook.Book, kind *chemicals.Kind, key []string) ([]recordbook.Entry, error) {
	zone, err := zoneOf(book)
	if err != nil {
		return nil, err
	}
	reading, err := s.reading(book)
	if err != nil {
		return nil, err
	}
	all, err := allEntries(book)
	if err != nil {
		return nil, err
	}
	last, err := lastKnown(book, all, reading.KnownBy, zone)
	if err != nil {
		return nil, err
	}
	dated := days(all)
	entries := all
	if kind != nil {
		entries, err = book.History(kind, key...)
		if err == nil && len(entries) == 0 && len(key) > 0 {
			err = unknownName(all, kind, key)
		}
		if err != nil {
			return nil, err
		}
	}
	var kept []recordbook.Entry
	for _, e := range entries {
		day := dated[e.Number]
		if e.Number > last || s.asOf != "" && day > reading.AsOf || s.period != "" && !reading.Period.Holds(day) {
			continue
		}
		if e.CorrectedBy > last {
			e.CorrectedBy = 0
		}
		kept = append(kept, e)
	}
	return kept, nil
}

// unknownName says that no entry bears a name, with those that are nearest to
// the first part of it that none has.
func unknownName(all []recordbook.Entry, kind *chemicals.Kind, key []string) error {
	p := &chemicals.Problem{What: fmt.Sprintf("no entry of %s is named %q", kind.Name, strings.Join(key, ", ")), Mend: "bathwarden list " + kind.Name + " shows what stands"}
	for i, column := range kind.Keys()[:len(key)] {
		var names []string
		var same []recordbook.Entry
		for _, e := range all {
			name := e.Body[column.Name]
			if e.Kind.Name == kind.Name && name != "" {
				names = append(names, name)
				if column.Meaning(name) == column.Meaning(key[i]) {
					same = append(same, e)
				}
			}
		}
		if all = same; len(all) > 0 {
			continue
		}
		slices.Sort(names)
		if near := chemicals.Closest(key[i], slices.Compact(names)); len(near) > 0 {
			p.Mend = "did you mean " + strings.Join(near, " or ") + "?"
		}
		break
	}
	return p
}

// lastKnown is the number of the last entry that was in the book then; with a
// clock that went back, entries before it were in the book all the same.
func lastKnown(book *recordbook.Book, all []recordbook.Entry, known recordbook.Known, zone *time.Location) (int64, error) {
	switch {
	case known.Entry != 0:
		_, err := book.Entry(known.Entry)
		return known.Entry, err
	case known.Day == "" && len(all) > 0:
		return all[len(all)-1].Number, nil
	}
	for i := len(all) - 1; i >= 0; i-- {
		if chemicals.DayOf(all[i].RecordedAt.In(zone)) <= known.Day {
			return all[i].Number, nil
		}
	}
	return 0, nil
}

// days are those of all entries, by their numbers: of an event its day, of a
// fact its first, which for one without is the shop's as the book has it now.
func days(all []recordbook.Entry) map[int64]chemicals.Day {
	var first chemicals.Day
	for _, e := range all {
		if e.Kind.Name == "shop" && e.CorrectedBy == 0 && e.Body != nil {
			first = chemicals.Day(e.Body["first day"])
		}
	}
	dated := map[int64]chemicals.Day{}
	for _, e := range all {
		switch day := e.Kind.Day(e.Body); {
		case e.Body == nil:
			dated[e.Number] = dated[e.Corrects]
		case day == "":
			dated[e.Number] = first
		default:
			dated[e.Number] = day
		}
	}
	return dated
}

// allEntries are those of every kind, with what became of each.
func allEntries(book *recordbook.Book) ([]recordbook.Entry, error) {
	var all []recordbook.Entry
	place := map[int64]int{}
	err := book.Entries(1, func(e recordbook.Entry) error {
		if i, there := place[e.Corrects]; there {
			all[i].CorrectedBy = e.Number
		}
		place[e.Number] = len(all)
		all = append(all, e)
		return nil
	})
	return all, err
}

func (s *settings) printEntries(cmd *cobra.Command, entries []recordbook.Entry) error {
	out := cmd.OutOrStdout()
	if s.json {
		all := []entryJSON{}
		for _, e := range entries {
			all = append(all, newEntryJSON(e))
		}
		return printJSON(out, all)
	}
	if len(entries) == 0 {
		_, err := fmt.Fprintln(out, "no such entry")
		return err
	}
	t := newTable("ENTRY", "RECORDED", "BY", "WHAT")
	for _, e := range entries {
		t.row(strconv.FormatInt(e.Number, 10), e.RecordedAt.Format("2006-01-02 15:04"), e.RecordedBy, tell(e))
	}
	return t.print(out)
}

// tell says an entry in one line.
func tell(e recordbook.Entry) string {
	var parts []string
	switch {
	case e.Body == nil:
		parts = append(parts, fmt.Sprintf("withdraws entry %d", e.Corrects))
	case e.Corrects > 0:
		parts = append(parts, fmt.Sprintf("corrects entry %d", e.Corrects))
	}
	text := e.Kind.Name
	for _, c := range e.Kind.Columns {
		if v := e.Body[c.Name]; v != "" {
			text += " | " + c.Name + " " + v
		}
	}
	parts = append(parts, text)
	if e.Reason != "" {
		parts = append(parts, "because: "+e.Reason)
	}
	if e.CorrectedBy > 0 {
		parts = append(parts, fmt.Sprintf("(replaced by entry %d)", e.CorrectedBy))
	}
	return strings.Join(parts, " ")
}

type entryJSON struct {
	Entry       int64             `json:"entry"`
	Kind        string            `json:"kind"`
	Body        map[string]string `json:"body,omitempty"`
	Corrects    int64             `json:"corrects,omitempty"`
	CorrectedBy int64             `json:"corrected_by,omitempty"`
	Reason      string            `json:"reason,omitempty"`
	RecordedAt  string            `json:"recorded_at"`
	RecordedBy  string            `json:"recorded_by"`
	Hash        string            `json:"hash"`
}

func newEntryJSON(e recordbook.Entry) entryJSON {
	return entryJSON{
		Entry: e.Number, Kind: e.Kind.Name, Body: e.Body, Corrects: e.Corrects, CorrectedBy: e.CorrectedBy,
		Reason: e.Reason, RecordedAt: e.RecordedAt.Format("2006-01-02T15:04:05Z"), RecordedBy: e.RecordedBy, Hash: e.Hash,
	}
}
