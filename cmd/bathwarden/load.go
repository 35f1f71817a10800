package main

import (
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
	"bathwarden/chemicals/sheet"
)

const journalEnding = ".jsonl"

func newLoad(s *settings) *cobra.Command {
	var who authorship
	var dry bool
	c := &cobra.Command{
		Use:   "load PATH",
		Short: "Take rows from a folder of CSV files, a workbook, or a journal into the book",
		Long:  "Take rows into the book: from a folder of CSV files or an .xlsx workbook with one\nfile or sheet for each kind of record, or from a journal (.jsonl) that export\nwrote. Everything is taken or, with one fault, nothing. A second load of the same\nfile adds nothing.",
		Args:  wantArgs(1, "a folder, an .xlsx workbook or a .jsonl journal"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if strings.EqualFold(filepath.Ext(args[0]), journalEnding) {
				return s.loadJournal(cmd, args[0], dry)
			}
			rows, err := sheet.Load(args[0])
			if err != nil {
				return err
			}
			if who.why == "" {
				who.why = "loaded from " + filepath.Base(args[0])
			}
			outcome, err := s.apply(rows, who, dry)
			if err != nil {
				return err
			}
			return s.printOutcome(cmd, outcome, dry)
		},
	}
	who.flags(c, "the reason for corrections (default: the file's name)")
	c.Flags().BoolVar(&dry, "dry-run", false, "show what would change and write nothing")
	return c
}

func (s *settings) loadJournal(cmd *cobra.Command, path string, dry bool) error {
	if dry {
		return usageError{&chemicals.Problem{Where: "--dry-run", What: "a journal is taken whole or not at all", Mend: "leave --dry-run out; every line is checked before anything is written"}}
	}
	file, err := openFile(path)
	if err != nil {
		return err
	}
	defer file.Close()
	return s.withBook(recordbook.ForWriting, func(book *recordbook.Book) error {
		n, err := book.LoadJournal(file)
		if err != nil {
			return err
		}
		fmt.Fprintf(cmd.OutOrStdout(), "%d entries taken over from %s\n", n, path)
		return nil
	})
}

// printOutcome says what a load changed: all of it for a dry run and for few
// rows, sums otherwise.
func (s *settings) printOutcome(cmd *cobra.Command, o recordbook.Outcome, dry bool) error {
	out := cmd.OutOrStdout()
	if s.json {
		return printJSON(out, outcomeJSON(o, dry))
	}
	const few = 12
	changed := len(o.Changes) - o.Count(recordbook.Unchanged)
	for _, c := range o.Changes {
		if c.Deed == recordbook.Unchanged || !dry && changed > few {
			continue
		}
		printChange(out, c)
	}
	verb := ""
	if dry {
		verb = "would be "
	}
	var sums []string
	for _, deed := range []recordbook.Deed{recordbook.Added, recordbook.Changed, recordbook.Corrected, recordbook.Withdrawn, recordbook.Ended} {
		if n := o.Count(deed); n > 0 {
			sums = append(sums, fmt.Sprintf("%d %s%s", n, verb, deed))
		}
	}
	if len(sums) == 0 {
		sums = []string{"nothing " + verb + "changed"}
	}
	if n := o.Count(recordbook.Unchanged); n > 0 {
		sums = append(sums, fmt.Sprintf("%d stand in the book already", n))
	}
	fmt.Fprintln(out, strings.Join(sums, ", "))
	for _, u := range o.Untouched {
		fmt.Fprintf(out, "%d rows of %s in the book were not given and are left as they are\n", u.Rows, u.Kind.Name)
	}
	return nil
}

func printChange(out io.Writer, c recordbook.Change) {
	line := fmt.Sprintf("%s: %s %s", c.Deed, c.Kind.Name, oneLine(c.Name))
	if c.Day != "" {
		line += " " + dayWord(c) + " " + c.Day.String()
	}
	if c.Entry > 0 {
		line += fmt.Sprintf(", entry %d", c.Entry)
	}
	if c.Replaces > 0 {
		line += fmt.Sprintf(", in place of entry %d", c.Replaces)
	}
	fmt.Fprintln(out, line)
	if c.Replaces == 0 {
		return
	}
	for _, d := range c.Columns {
		switch {
		case d.New == "":
			fmt.Fprintf(out, "    %s: cleared (was %q)\n", d.Column, d.Old)
		case d.Old == "":
			fmt.Fprintf(out, "    %s: %q\n", d.Column, d.New)
		default:
			fmt.Fprintf(out, "    %s: %q (was %q)\n", d.Column, d.New, d.Old)
		}
	}
}

// dayWord says what the day of a change is.
func dayWord(c recordbook.Change) string {
	switch {
	case c.Deed == recordbook.Ended:
		return "until"
	case c.Kind.Nature == chemicals.Event:
		return "on"
	}
	return "from"
}

type changeJSON struct {
	Deed     string                       `json:"deed"`
	Kind     string                       `json:"kind"`
	Name     string                       `json:"name"`
	Day      string                       `json:"day,omitempty"`
	Entry    int64                        `json:"entry,omitempty"`
	Replaces int64                        `json:"replaces,omitempty"`
	Columns  map[string]map[string]string `json:"columns,omitempty"`
}

func outcomeJSON(o recordbook.Outcome, dry bool) any {
	changes := []changeJSON{}
	for _, c := range o.Changes {
		if c.Deed == recordbook.Unchanged {
			continue
		}
		j := changeJSON{Deed: string(c.Deed), Kind: c.Kind.Name, Name: c.Name, Day: c.Day.String(), Entry: c.Entry, Replaces: c.Replaces, Columns: map[string]map[string]string{}}
		for _, d := range c.Columns {
			j.Columns[d.Column] = map[string]string{"old": d.Old, "new": d.New}
		}
		changes = append(changes, j)
	}
	untouched := map[string]int{}
	for _, u := range o.Untouched {
		untouched[u.Kind.Name] = u.Rows
	}
	return map[string]any{"dry_run": dry, "changes": changes, "unchanged": o.Count(recordbook.Unchanged), "untouched": untouched}
}

func printJSON(out io.Writer, v any) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
