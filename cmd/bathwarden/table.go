package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/mattn/go-runewidth"
	"golang.org/x/term"
)

// table is rows of text in columns for the terminal; its last column wraps.
type table struct {
	head []string
	rows [][]string
}

func newTable(head ...string) *table { return &table{head: head} }

// row adds a row, whatever its cells quote.
func (t *table) row(cells ...string) {
	clean := make([]string, len(cells))
	for i, cell := range cells {
		clean[i] = oneLine(cell)
	}
	t.rows = append(t.rows, clean)
}

const columnGap = 2

// print sets the columns side by side. Where they do not fit the width, each
// row is set as lines of its own.
func (t *table) print(w io.Writer) error {
	widths := make([]int, len(t.head))
	for _, row := range append([][]string{t.head}, t.rows...) {
		for i, cell := range row {
			widths[i] = max(widths[i], runewidth.StringWidth(cell))
		}
	}
	last := len(widths) - 1
	before := 0
	for _, width := range widths[:last] {
		before += width + columnGap
	}
	room := screenWidth(w) - before
	if least := min(widths[last], 24); room < least {
		return t.cards(w)
	}
	for _, row := range append([][]string{t.head}, t.rows...) {
		if err := printRow(w, row, widths, before, room); err != nil {
			return err
		}
	}
	return nil
}

func printRow(w io.Writer, row []string, widths []int, before, room int) error {
	var line strings.Builder
	last := len(row) - 1
	for i, cell := range row[:last] {
		line.WriteString(runewidth.FillRight(cell, widths[i]+columnGap))
	}
	for i, part := range wrap(row[last], room) {
		if i > 0 {
			line.WriteString("\n" + strings.Repeat(" ", before))
		}
		line.WriteString(part)
	}
	_, err := fmt.Fprintln(w, strings.TrimRight(line.String(), " "))
	return err
}

// cards prints each row as lines of "COLUMN  value", leaving out empty ones.
func (t *table) cards(w io.Writer) error {
	label := 0
	for _, h := range t.head {
		label = max(label, runewidth.StringWidth(h))
	}
	for n, row := range t.rows {
		if n > 0 {
			fmt.Fprintln(w)
		}
		for i, cell := range row {
			if cell == "" {
				continue
			}
			parts := wrap(cell, max(screenWidth(w)-label-columnGap, 24))
			text := strings.Join(parts, "\n"+strings.Repeat(" ", label+columnGap))
			if _, err := fmt.Fprintln(w, runewidth.FillRight(t.head[i], label+columnGap)+text); err != nil {
				return err
			}
		}
	}
	return nil
}

// wrap breaks text at blanks into lines of at most width; a longer word stands
// alone on its line.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case runewidth.StringWidth(line)+1+runewidth.StringWidth(word) <= width:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	return append(lines, line)
}

// printSentence breaks a sentence, whatever it quotes, into lines of the screen's
// width; those after the first are set in by two more columns.
func printSentence(w io.Writer, indent, format string, args ...any) {
	const hang = "  "
	lines := wrap(oneLine(fmt.Sprintf(format, args...)), max(screenWidth(w)-len(indent+hang), 24))
	fmt.Fprintln(w, indent+strings.Join(lines, "\n"+indent+hang))
}

// screenWidth is the terminal's, or a page's where w is none.
func screenWidth(w io.Writer) int {
	const page = 100
	if f, ok := w.(*os.File); ok {
		if width, _, err := term.GetSize(int(f.Fd())); err == nil && width > 0 {
			return width
		}
	}
	return page
}
