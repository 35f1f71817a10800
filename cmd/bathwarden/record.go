package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

// authorship are the flags of every command that writes.
type authorship struct{ by, why string }

func (a *authorship) flags(c *cobra.Command, why string) {
	c.Flags().StringVar(&a.by, "by", "", "who makes the entry (default: the system's user)")
	c.Flags().StringVar(&a.why, "why", "", why)
}

func newRecord(s *settings) *cobra.Command {
	c := &cobra.Command{
		Use:   "record KIND --COLUMN VALUE ...",
		Short: "Write one row into the book",
		Long:  "Write one row into the book. The kinds are listed below; record KIND --help\nlists the columns of one. A row for a name that the book holds changes only the\ncolumns that are given, from the day of --from on; without --from it corrects\nthe row that stands.",
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{&chemicals.Problem{What: "record wants a kind", Mend: "see bathwarden record --help"}}
			}
			_, err := chemicals.KindOf(args[0])
			return usageError{err}
		},
	}
	for i := range chemicals.Kinds {
		c.AddCommand(newRecordKind(s, &chemicals.Kinds[i]))
	}
	return c
}

// newRecordKind makes the flags of one kind from its columns when they are
// asked for, so that start-up does not pay for every kind.
func newRecordKind(s *settings, kind *chemicals.Kind) *cobra.Command {
	var who authorship
	var clear []string
	var dry bool
	values := make([]string, len(kind.Columns))
	c := &cobra.Command{Use: kind.Name, Short: kind.Help, Args: cobra.NoArgs}
	who.flags(c, "the reason, if the row corrects one that stands")
	c.Flags().StringSliceVar(&clear, "clear", nil, "make this `column` empty (may be given several times)")
	c.Flags().BoolVar(&dry, "dry-run", false, "show what would change and write nothing")
	for i, column := range kind.Columns {
		c.Flags().StringVar(&values[i], columnFlag(kind, column), "", columnHelp(column))
	}
	c.RunE = func(cmd *cobra.Command, _ []string) error {
		row, err := flagRow(cmd, kind, values, clear)
		if err != nil {
			return err
		}
		outcome, err := s.apply([]chemicals.Row{row}, who, dry)
		if err != nil {
			return err
		}
		outcome.Untouched = nil // one row says nothing of the others
		return s.printOutcome(cmd, outcome, dry)
	}
	return c
}

// ownFlags are the flags of record itself and of every command.
var ownFlags = []string{"by", "why", "clear", "dry-run", "book", "as-of", "period", "known-by", "units", "json", "strict", "help"}

// columnFlag is a column's words as a flag. One that record has already gets
// the kind's name before it: --by is who makes the entry, --check-by who made
// the check.
func columnFlag(kind *chemicals.Kind, c chemicals.Column) string {
	if slices.Contains(ownFlags, c.Flag()) {
		return kind.Name + "-" + c.Flag()
	}
	return c.Flag()
}

// columnHelp is the help of a column's flag.
func columnHelp(c chemicals.Column) string {
	help := c.Help
	if len(c.Words) > 0 {
		return help + ": " + strings.Join(c.Words, ", ")
	}
	return fmt.Sprintf("%s, such as %q", help, c.Example)
}

func flagRow(cmd *cobra.Command, kind *chemicals.Kind, values, clear []string) (chemicals.Row, error) {
	row := chemicals.Row{Kind: kind, Given: map[string]chemicals.Cell{}}
	for i, column := range kind.Columns {
		flag := columnFlag(kind, column)
		if cmd.Flags().Changed(flag) {
			row.Given[column.Name] = chemicals.Cell{Text: values[i], Where: "--" + flag}
		}
	}
	for _, name := range clear {
		column, ok := kind.Column(name)
		if !ok {
			return row, usageError{&chemicals.Problem{Where: "--clear", What: fmt.Sprintf("%s has no column %q", kind.Name, name), Mend: "see bathwarden record " + kind.Name + " --help"}}
		}
		if _, both := row.Given[column.Name]; both {
			return row, usageError{&chemicals.Problem{Where: "--clear", What: "--" + columnFlag(kind, *column) + " is given and cleared at once", Mend: "leave one of the two out"}}
		}
		row.Given[column.Name] = chemicals.Cell{Where: "--clear " + name}
	}
	if len(row.Given) == 0 {
		return row, usageError{&chemicals.Problem{What: "no column is given", Mend: "see bathwarden record " + kind.Name + " --help"}}
	}
	return row, nil
}

// apply writes rows into the book, or for a dry run finds what they would
// change.
func (s *settings) apply(rows []chemicals.Row, who authorship, dry bool) (outcome recordbook.Outcome, err error) {
	by, err := author(who.by, who.why)
	if err != nil {
		return outcome, err
	}
	mode := recordbook.ForWriting
	if dry {
		mode = recordbook.ForReading
	}
	err = s.withBook(mode, func(book *recordbook.Book) (err error) {
		outcome, err = book.Apply(rows, by, dry)
		return err
	})
	return outcome, err
}

func newCorrect(s *settings) *cobra.Command {
	var who authorship
	var clear []string
	c := &cobra.Command{
		Use:   "correct ENTRY COLUMN=VALUE ... --why REASON",
		Short: "Replace an entry that was written wrongly",
		Long:  "Replace an entry that was written wrongly. The entry stays in the book and says\nby which one it was replaced, when, by whom and why. A change in the shop is not\na correction: record it with its first day.",
		Args:  cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			number, err := entryNumber(args[0])
			if err != nil {
				return err
			}
			given, err := pairs(args[1:])
			if err != nil {
				return err
			}
			for _, column := range clear {
				given[column] = ""
			}
			by, err := author(who.by, who.why)
			if err != nil {
				return err
			}
			return s.withBook(recordbook.ForWriting, func(book *recordbook.Book) error {
				outcome, err := book.Correct(number, given, by)
				if err != nil {
					return err
				}
				return s.printOutcome(cmd, outcome, false)
			})
		},
	}
	who.flags(c, "the reason; it is kept beside the entry")
	c.Flags().StringSliceVar(&clear, "clear", nil, "make this `column` empty (may be given several times)")
	return c
}

func newWithdraw(s *settings) *cobra.Command {
	var who authorship
	c := &cobra.Command{
		Use:   "withdraw ENTRY --why REASON",
		Short: "Say that an entry was never true",
		Args:  wantArgs(1, "the number of an entry"),
		RunE: func(cmd *cobra.Command, args []string) error {
			number, err := entryNumber(args[0])
			if err != nil {
				return err
			}
			by, err := author(who.by, who.why)
			if err != nil {
				return err
			}
			return s.withBook(recordbook.ForWriting, func(book *recordbook.Book) error {
				outcome, err := book.Withdraw(number, by)
				if err != nil {
					return err
				}
				return s.printOutcome(cmd, outcome, false)
			})
		},
	}
	who.flags(c, "the reason; it is kept beside the entry")
	return c
}

func entryNumber(text string) (int64, error) {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 1 {
		return 0, usageError{&chemicals.Problem{What: fmt.Sprintf("%q is not the number of an entry", text), Mend: "bathwarden list KIND and history show the numbers"}}
	}
	return n, nil
}

// pairs reads COLUMN=VALUE words.
func pairs(words []string) (map[string]string, error) {
	given := map[string]string{}
	for _, word := range words {
		column, text, ok := strings.Cut(word, "=")
		if !ok {
			return nil, usageError{&chemicals.Problem{What: fmt.Sprintf("%q is not COLUMN=VALUE", word), Mend: `write it as concentration="300 g/L"`}}
		}
		if _, twice := given[column]; twice {
			return nil, usageError{&chemicals.Problem{What: fmt.Sprintf("%q is given twice", column), Mend: "leave one of the two out"}}
		}
		given[column] = text
	}
	return given, nil
}
