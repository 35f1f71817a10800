package main

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

func newVerify(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "verify [ENTRY HASH]",
		Short: "Check that no entry was changed or cut off",
		Long:  "Recompute the chain of all entries and name the first that does not fit. With the\nnumber and hash from the foot of a paper, check that the book still holds that\nentry as it was; this is how a cut-off end of the book shows.",
		RunE: func(cmd *cobra.Command, args []string) error {
			number, hash, err := footOfPaper(args)
			if err != nil {
				return err
			}
			return s.withBook(recordbook.ForReading, func(book *recordbook.Book) error {
				last, err := book.Verify(cmd.Context())
				if err != nil {
					return err
				}
				if hash != "" {
					if err := book.VerifyEntry(cmd.Context(), number, hash); err != nil {
						return err
					}
				}
				out := cmd.OutOrStdout()
				fmt.Fprintf(out, "%s: %d entries fit together; the last has the hash %s\n", s.book, last.Entry, last.Hash)
				if hash != "" {
					fmt.Fprintf(out, "entry %d has the hash that was given\n", number)
				}
				return nil
			})
		},
	}
}

// leastHash is what a paper prints of a hash at least.
var leastHash = regexp.MustCompile(`^[0-9a-fA-F]{12,64}$`)

// footOfPaper is the number and the hash of an entry as a paper gives them at
// its foot; no hash if neither is asked for.
func footOfPaper(args []string) (number int64, hash string, err error) {
	if len(args) == 0 {
		return 0, "", nil
	}
	if len(args) != 2 {
		return 0, "", usageError{&chemicals.Problem{What: "verify takes nothing, or an entry's number and its hash", Mend: "both stand at the foot of each paper"}}
	}
	if number, err = entryNumber(args[0]); err != nil {
		return 0, "", err
	}
	if !leastHash.MatchString(strings.Join(strings.Fields(args[1]), "")) {
		return 0, "", usageError{&chemicals.Problem{What: fmt.Sprintf("%q is not the hash of an entry", args[1]), Mend: "give at least its first twelve digits, 0 to 9 and a to f, as they are printed"}}
	}
	return number, args[1], nil
}
