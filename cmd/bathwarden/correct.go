package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

func newCorrect(s *settings) *cobra.Command {
	var who authorship
	var clear []string
	c := &cobra.Command{
		Use:   "correct ENTRY COLUMN=VALUE ... --why REASON",
		Short: "Replace an entry that was written wrongly",
		Long:  "Replace an entry that was written wrongly. The entry stays in the book and says\nby which one it was replaced, when, by whom and why. A change in the shop is not\na correction: record it with its first day.",
		Args:  atLeastOne("the number of an entry, then COLUMN=VALUE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			number, err := entryNumber(args[0])
			if err != nil {
				return err
			}
			given, err := pairs(args[1:], clear)
			if err != nil {
				return err
			}
			if len(given) == 0 {
				return seeHelp(cmd, "", "no column is given")
			}
			return s.amend(cmd, who, func(book *recordbook.Book, by recordbook.Author) (recordbook.Outcome, error) {
				return book.Correct(number, given, by)
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
			return s.amend(cmd, who, func(book *recordbook.Book, by recordbook.Author) (recordbook.Outcome, error) {
				return book.Withdraw(number, by)
			})
		},
	}
	who.flags(c, "the reason; it is kept beside the entry")
	return c
}

// amend changes one entry of the book and says what became of it.
func (s *settings) amend(cmd *cobra.Command, who authorship, change func(*recordbook.Book, recordbook.Author) (recordbook.Outcome, error)) error {
	by, err := author(who.by, who.why)
	if err != nil {
		return err
	}
	return s.withBook(recordbook.ForWriting, func(book *recordbook.Book) error {
		outcome, err := change(book, by)
		if err != nil {
			return whyFlag(err)
		}
		return s.printOutcome(cmd, outcome, false)
	})
}

func entryNumber(text string) (int64, error) {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 1 {
		return 0, usageError{&chemicals.Problem{What: fmt.Sprintf("%q is not the number of an entry", text), Mend: "bathwarden list KIND and history show the numbers"}}
	}
	return n, nil
}

// pairs reads COLUMN=VALUE words, and the columns to be made empty.
func pairs(words, clear []string) (map[string]string, error) {
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
	for _, column := range clear {
		if text, both := given[column]; both && text != "" {
			return nil, clearedAtOnce(column)
		}
		given[column] = ""
	}
	return given, nil
}
