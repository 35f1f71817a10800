package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
)

func explainKinds(cmd *cobra.Command) error {
	t := newTable("KIND", "SORT", "WHAT IT HOLDS")
	for _, k := range chemicals.Kinds() {
		t.row(k.Name, k.Nature.String(), k.Help)
	}
	out := cmd.OutOrStdout()
	if err := t.print(out); err != nil {
		return err
	}
	_, err := fmt.Fprint(out, `
A fact holds from a day until a day; a row with a new first day ends the former.
A list is a fact of several rows: rows with a new first day end all former rows
of their name. An event happens on a day and adds up.
`)
	return err
}

func explainKind(cmd *cobra.Command, kind *chemicals.Kind) error {
	out := cmd.OutOrStdout()
	fmt.Fprintf(out, "%s (%s): %s\n\n", kind.Name, kind.Nature, kind.Help)
	t := newTable("COLUMN", "NEEDED", "WHAT", "TAKES")
	for _, c := range kind.Columns {
		needed := ""
		switch {
		case c.Key:
			needed = "names the row"
		case c.Must:
			needed = "yes"
		}
		t.row(c.Name, needed, c.Help, takes(c))
	}
	return t.print(out)
}

// takes says what a column reads.
func takes(c chemicals.Column) string {
	switch {
	case len(c.Words) > 0:
		return chemicals.Words(c.Words)
	case c.Of != "":
		return "the name of a " + c.Of
	case len(c.Units) > 0 && c.Units[0] != "":
		return c.Example + "; units " + strings.Join(c.Units, ", ")
	}
	return c.Example
}
