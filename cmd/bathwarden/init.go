package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
	"bathwarden/chemicals/sheet"
	"bathwarden/templates"
)

func newInit(s *settings) *cobra.Command {
	var example bool
	c := &cobra.Command{
		Use:   "init",
		Short: "Make an empty record book, or the example shop's",
		Args:  wantArgs(0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if example {
				n, err := exampleBook(s.book)
				if err != nil {
					return err
				}
				fmt.Fprintf(cmd.OutOrStdout(), "%s: the book of the example shop, %d entries; all of it is made up\n", s.book, n)
				return nil
			}
			book, err := recordbook.Create(s.book)
			if err != nil {
				return err
			}
			if err := book.Close(); err != nil {
				removeBook(s.book)
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s: an empty record book\n", s.book)
			return err
		},
	}
	c.Flags().BoolVar(&example, "example", false, "fill it with the invented example shop")
	return c
}

// exampleBook makes the example shop's book, every entry recorded on its own
// day, so that it is the same to the byte of every hash whenever it is made.
func exampleBook(path string) (entries int, err error) {
	rows, err := sheet.LoadFS(templates.Example())
	if err != nil {
		return 0, err
	}
	book, err := recordbook.Create(path)
	if err != nil {
		return 0, err
	}
	outcome, err := book.Apply(rows, recordbook.Author{By: "example", OwnDays: true}, false)
	if err = errors.Join(err, book.Close()); err != nil {
		removeBook(path)
		return 0, err
	}
	return outcome.Count(recordbook.Added) + outcome.Count(recordbook.Changed), nil
}

func newVersion() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the program's version and the hash of the published tables",
		Args:  wantArgs(0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			all, err := tables()
			if err != nil {
				return err
			}
			fmt.Fprintf(cmd.OutOrStdout(), "%s\ntables %s\nbook format %d\n", program, all.hash(), recordbook.Format)
			return nil
		},
	}
}

func newCopy(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "copy FILE",
		Short: "Write a whole, checked copy of the book",
		Args:  wantArgs(1, "the name of the new file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.withBook(recordbook.ForReading, func(book *recordbook.Book) error {
				last, err := book.Copy(cmd.Context(), args[0])
				if err != nil {
					return err
				}
				fmt.Fprintf(cmd.OutOrStdout(), "%s: a copy of %s; its %d entries fit together\n", args[0], s.book, last.Entry)
				return nil
			})
		},
	}
}

func newExplain(_ *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "explain [KIND]",
		Short: "Say what the book records: the kinds, or the columns of one",
		Args:  atMostOne("one kind"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return explainKinds(cmd)
			}
			kind, err := chemicals.KindOf(args[0])
			if err != nil {
				return usageError{err}
			}
			return explainKind(cmd, kind)
		},
	}
}
