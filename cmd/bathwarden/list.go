package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
	"bathwarden/chemicals/sheet"
	"bathwarden/chemicals/workbook"
)

func newList(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "list [KIND]",
		Short: "List what stands in the book: the kinds, or the rows of one",
		Long:  "List what stands in the book. For facts, what holds on the as-of day; for events,\nwhat happened in the period, which here is everything up to the as-of day unless\n--period is given.",
		Args:  atMostOne("one kind"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return s.withBook(recordbook.ForReading, func(book *recordbook.Book) error { return s.listKinds(cmd, book) })
			}
			kind, err := chemicals.KindOf(args[0])
			if err != nil {
				return usageError{err}
			}
			return s.withBook(recordbook.ForReading, func(book *recordbook.Book) error { return s.listKind(cmd, book, kind) })
		},
	}
}

// listed are the records of a kind that the flags ask for.
func (s *settings) listed(book *recordbook.Book, kind *chemicals.Kind, reading recordbook.Reading) ([]chemicals.Record, error) {
	records, err := book.Standing(kind, reading.KnownBy)
	if err != nil {
		return nil, err
	}
	var kept []chemicals.Record
	for _, r := range records {
		ended := kind.Nature != chemicals.Event && r.Until != "" && r.Until < reading.AsOf
		outside := kind.Nature == chemicals.Event && s.period != "" && !reading.Period.Holds(r.From)
		if r.From <= reading.AsOf && !ended && !outside {
			kept = append(kept, r)
		}
	}
	return kept, nil
}

func (s *settings) listKinds(cmd *cobra.Command, book *recordbook.Book) error {
	reading, err := s.reading(book)
	if err != nil {
		return err
	}
	counts := map[string]int{}
	t := newTable("KIND", "ROWS", "WHAT IT HOLDS")
	for _, kind := range chemicals.Kinds() {
		records, err := s.listed(book, kind, reading)
		if err != nil {
			return err
		}
		counts[kind.Name] = len(records)
		t.row(kind.Name, strconv.Itoa(len(records)), kind.Help)
	}
	if s.json {
		return printJSON(cmd.OutOrStdout(), counts)
	}
	return t.print(cmd.OutOrStdout())
}

func (s *settings) listKind(cmd *cobra.Command, book *recordbook.Book, kind *chemicals.Kind) error {
	reading, err := s.reading(book)
	if err != nil {
		return err
	}
	records, err := s.listed(book, kind, reading)
	if err != nil {
		return err
	}
	if s.json {
		return printJSON(cmd.OutOrStdout(), recordsJSON(records))
	}
	return printRecords(cmd.OutOrStdout(), kind, records)
}

func recordsJSON(records []chemicals.Record) any {
	all := []map[string]any{}
	for _, r := range records {
		row := map[string]any{chemicals.EntryColumn: r.Entry}
		for column, text := range r.Body {
			row[column] = text
		}
		all = append(all, row)
	}
	return all
}

// printRecords shows the columns that any row fills.
func printRecords(out io.Writer, kind *chemicals.Kind, records []chemicals.Record) error {
	if len(records) == 0 {
		_, err := fmt.Fprintf(out, "no %s stands in the book\n", kind.Name)
		return err
	}
	head := []string{"ENTRY"}
	var columns []string
	for _, c := range kind.Columns {
		for _, r := range records {
			if r.Body[c.Name] != "" {
				columns, head = append(columns, c.Name), append(head, strings.ToUpper(c.Name))
				break
			}
		}
	}
	t := newTable(head...)
	for _, r := range records {
		cells := []string{strconv.FormatInt(r.Entry, 10)}
		for _, c := range columns {
			cells = append(cells, r.Body[c])
		}
		t.row(cells...)
	}
	return t.print(out)
}

func newExport(s *settings) *cobra.Command {
	var force bool
	c := &cobra.Command{
		Use:   "export PATH",
		Short: "Write the book out: a workbook, a folder of CSV files, or the whole journal",
		Long:  "Write the book out. A path that ends in .xlsx becomes a workbook and one without\nan ending a folder of CSV files, both with what stands; .jsonl becomes the\njournal of every entry, from which load rebuilds the same book, hash for hash.\n\nThe first column of a sheet is the entry: a row that is changed and loaded again\ncorrects it.",
		Args:  wantArgs(1, "a path"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.withBook(recordbook.ForReading, func(book *recordbook.Book) error { return s.export(cmd, book, args[0], force) })
		},
	}
	c.Flags().BoolVar(&force, "force", false, "replace the file if it exists")
	return c
}

func (s *settings) export(cmd *cobra.Command, book *recordbook.Book, path string, force bool) error {
	var err error
	switch strings.ToLower(filepath.Ext(path)) {
	case journalEnding:
		err = exportFile(path, force, book.WriteJournal)
	case xlsxEnding:
		err = s.exportWorkbook(book, path, force)
	case "":
		err = s.exportFolder(book, path)
	default:
		return usageError{&chemicals.Problem{Where: path, What: "its ending does not say what to write", Mend: "end it in .xlsx or .jsonl, or give a folder without an ending"}}
	}
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s: written from %s\n", path, s.book)
	return err
}

func (s *settings) exportFolder(book *recordbook.Book, path string) error {
	if entries, err := os.ReadDir(path); err == nil && len(entries) > 0 {
		return &chemicals.Problem{Where: path, What: "the folder is not empty", Mend: "name a new folder"}
	}
	if parent := filepath.Dir(filepath.Clean(path)); !isThere(parent) {
		return &chemicals.Problem{Where: path, What: fmt.Sprintf("there is no folder %q to make it in", parent), Mend: "make that folder first, or name another place"}
	}
	tables, err := exported(book)
	if err != nil {
		return err
	}
	return sheet.WriteFolder(path, tables)
}

func (s *settings) exportWorkbook(book *recordbook.Book, path string, force bool) error {
	tables, err := exported(book)
	if err != nil {
		return err
	}
	day, err := lastDay(book)
	if err != nil {
		return err
	}
	return exportFile(path, force, func(w io.Writer) error {
		return sheet.WriteWorkbook(w, tables, workbook.Props{Title: "Record book", Creator: "bathwarden", Program: program, Day: day})
	})
}

// lastDay is the day on which the last entry was recorded: the day that an
// export bears, so that the same book gives the same file.
func lastDay(book *recordbook.Book) (time.Time, error) {
	var last time.Time
	err := book.Entries(1, func(e recordbook.Entry) error {
		last = e.RecordedAt
		return nil
	})
	return last, err
}

func exported(book *recordbook.Book) ([]sheet.Table, error) {
	var tables []sheet.Table
	for _, kind := range chemicals.Kinds() {
		records, err := book.Standing(kind, recordbook.Known{})
		if err != nil {
			return nil, err
		}
		if len(records) > 0 {
			tables = append(tables, sheet.Table{Kind: kind, Records: records})
		}
	}
	if len(tables) == 0 {
		return nil, &chemicals.Problem{What: "the book is empty", Mend: "record or load something first; explain KIND lists the columns"}
	}
	return tables, nil
}

// exportFile writes a file aside and renames it.
func exportFile(path string, force bool, write func(io.Writer) error) error {
	if err := free(path, force); err != nil {
		return err
	}
	aside, err := os.CreateTemp(filepath.Dir(path), ".bathwarden-*")
	if err != nil {
		return unwritten(path, err)
	}
	err = write(aside)
	if err == nil {
		err = aside.Sync()
	}
	if closing := aside.Close(); err == nil {
		err = closing
	}
	if err == nil {
		err = os.Rename(aside.Name(), path)
	}
	if err != nil {
		_ = os.Remove(aside.Name()) // the first error tells more
		return unwritten(path, err)
	}
	return nil
}
