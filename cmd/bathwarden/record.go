package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

// recordName is the command below which every kind has one of its own.
const recordName = "record"

// newRecord has a command for every kind, with a flag for every column. Where
// record is not asked for they are left out, so that start-up does not pay for
// them.
func newRecord(s *settings, asked bool) *cobra.Command {
	c := &cobra.Command{
		Use:   recordName + " KIND --COLUMN VALUE ...",
		Short: "Write one row into the book",
		Long:  "Write one row into the book. The kinds are listed below; record KIND --help\nlists the columns of one. A row for a name that the book holds changes only the\ncolumns that are given, from the day of --from on; without --from it corrects\nthe row that stands.",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return seeHelp(cmd, "", "record wants a kind")
			}
			_, err := chemicals.KindOf(args[0])
			return usageError{err}
		},
		FParseErrWhitelist: cobra.FParseErrWhitelist{UnknownFlags: true}, // of the kind that it does not know
	}
	if asked {
		for _, kind := range chemicals.Kinds() {
			c.AddCommand(newRecordKind(s, kind))
		}
	}
	return c
}

// newRecordKind makes the flags of one kind from its columns.
func newRecordKind(s *settings, kind *chemicals.Kind) *cobra.Command {
	var who authorship
	var clear []string
	var dry bool
	values := make([]string, len(kind.Columns))
	c := &cobra.Command{Use: kind.Name, Short: kind.Help, Args: wantArgs(0, "no words but flags")}
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
			return columnFlags(kind, err)
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
		return help + ": " + chemicals.Words(c.Words)
	}
	return fmt.Sprintf("%s, such as %q", help, c.Example)
}

// columnFlags gives a fault of a column that is not given the flag as its place.
func columnFlags(kind *chemicals.Kind, err error) error {
	return restated(err, func(p chemicals.Problem) chemicals.Problem {
		for _, c := range kind.Columns {
			if p.Where == c.Name {
				p.Where = "--" + columnFlag(kind, c)
			}
		}
		return p
	})
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
			return row, seeHelp(cmd, "--clear", fmt.Sprintf("%s has no column %q", kind.Name, name))
		}
		if _, both := row.Given[column.Name]; both {
			return row, clearedAtOnce("--" + columnFlag(kind, *column))
		}
		row.Given[column.Name] = chemicals.Cell{Where: "--clear " + name}
	}
	if len(row.Given) == 0 {
		return row, seeHelp(cmd, "", "no column is given")
	}
	return row, nil
}

func clearedAtOnce(column string) error {
	return usageError{&chemicals.Problem{Where: "--clear", What: column + " is given and cleared at once", Mend: "leave one of the two out"}}
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
		return whyFlag(err)
	})
	return outcome, err
}
