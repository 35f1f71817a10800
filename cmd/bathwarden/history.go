package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

func newHistory(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "history [KIND [NAME ...]]",
		Short: "Show entries as they were written, with who, when and why",
		Long:  "Show every entry, those of a kind, or those of one name: as they were written,\nwith who made them, when, why, and what they replace. A name of several columns\nis given column by column: history bath B5 nickel-sulfate.",
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
				if kind == nil {
					entries, err := allEntries(book)
					if err != nil {
						return err
					}
					return s.printEntries(cmd, entries)
				}
				entries, err := book.History(kind, key...)
				if err != nil {
					return err
				}
				return s.printEntries(cmd, entries)
			})
		},
	}
}

// allEntries are those of every kind, with what became of each.
func allEntries(book *recordbook.Book) ([]recordbook.Entry, error) {
	var all []recordbook.Entry
	err := book.Entries(1, func(e recordbook.Entry) error {
		if e.Corrects > 0 {
			all[e.Corrects-1].CorrectedBy = e.Number // entries are numbered from 1 without a gap
		}
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
			text += fmt.Sprintf(" | %s %s", c.Name, oneLine(v))
		}
	}
	parts = append(parts, text)
	if e.Reason != "" {
		parts = append(parts, "because: "+oneLine(e.Reason))
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

func newVerify(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "verify [ENTRY HASH]",
		Short: "Check that no entry was changed or cut off",
		Long:  "Recompute the chain of all entries and name the first that does not fit. With the\nnumber and hash from the foot of a paper, check that the book still holds that\nentry as it was; this is how a cut-off end of the book shows.",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) != 0 && len(args) != 2 {
				return usageError{&chemicals.Problem{What: "verify takes nothing, or an entry's number and its hash", Mend: "both stand at the foot of each paper"}}
			}
			return s.withBook(recordbook.ForReading, func(book *recordbook.Book) error {
				last, err := book.Verify(cmd.Context())
				if err != nil {
					return err
				}
				out := cmd.OutOrStdout()
				fmt.Fprintf(out, "%s: %d entries fit together; the last has the hash %s\n", s.book, last.Entry, last.Hash)
				if len(args) == 0 {
					return nil
				}
				number, err := entryNumber(args[0])
				if err != nil {
					return err
				}
				if err := book.VerifyEntry(cmd.Context(), number, args[1]); err != nil {
					return err
				}
				_, err = fmt.Fprintf(out, "entry %d has the hash that was given\n", number)
				return err
			})
		},
	}
}
