package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/recordbook"
	"bathwarden/reports/pdf"
	"bathwarden/templates"
)

const demoFolder = "fernhollow"

func newDemo(_ *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "demo [DIR]",
		Short: "Make the example shop's book and papers in a new folder",
		Long:  "Make the book of an invented shop in a new folder (" + demoFolder + " if none is named)\nand write its papers as workbook and PDF, as of the last day of its record.",
		Args:  atMostOne("one folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := demoFolder
			if len(args) > 0 {
				dir = args[0]
			}
			return demo(cmd, dir)
		},
	}
}

// demo makes the folder, or leaves none behind.
func demo(cmd *cobra.Command, dir string) error {
	if err := os.Mkdir(dir, 0o755); err != nil {
		if errors.Is(err, os.ErrExist) {
			return &chemicals.Problem{Where: dir, What: "it is there already", Mend: "name another folder (bathwarden demo DIR), or remove this one"}
		}
		return &chemicals.Problem{Where: dir, What: "the folder cannot be made: " + plainError(err), Mend: "check the path and its rights"}
	}
	var told strings.Builder
	if err := fillDemo(&told, dir); err != nil {
		_ = os.RemoveAll(dir) // the first error tells more
		return err
	}
	_, err := fmt.Fprint(cmd.OutOrStdout(), told.String())
	return err
}

func fillDemo(out io.Writer, dir string) error {
	path := filepath.Join(dir, defaultBook)
	entries, err := exampleBook(path)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s: the book of an invented shop, %d entries\n", path, entries)
	book, err := recordbook.Open(path, recordbook.ForReading)
	if err != nil {
		return err
	}
	asOf := chemicals.Day(templates.ExampleLastDay)
	shop, err := readWater(book, recordbook.Reading{AsOf: asOf, Period: chemicals.YearTo(asOf)})
	if err = errors.Join(err, book.Close()); err != nil {
		return err
	}
	all, err := tables()
	if err != nil {
		return err
	}
	for _, p := range papers() {
		d, gaps := p.make(shop, all, quantity.Metric)
		for _, ending := range []string{xlsxEnding, pdfEnding} {
			file := filepath.Join(dir, p.name+ending)
			written, err := render(d, file, pdf.Letter)
			if err != nil {
				return err
			}
			if err := writeFile(file, written, false); err != nil {
				return err
			}
			fmt.Fprintf(out, "%s: %s as of %s\n", file, d.Head.Title, d.Head.AsOf)
		}
		fmt.Fprintf(out, "the %s names %d points that are missing or stale\n", p.name, len(gaps))
	}
	return nil
}
