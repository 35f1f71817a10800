package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/reference"
)

func tablesHash() (string, error) {
	tables, err := reference.Tables()
	if err != nil {
		return "", err
	}
	return tables.Hash(), nil
}

func newSources(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "sources [SUBSTANCE]",
		Short: "Print the published values, each with its source",
		Long:  "Print every published value that the program uses, with its source and how that\nstands: law, guidance, handbook, or recalled from memory and where to confirm it.\nA substance is found by its id, name, synonym or CAS number.",
		RunE: func(cmd *cobra.Command, args []string) error {
			tables, err := reference.Tables()
			if err != nil {
				return err
			}
			id := ""
			if len(args) > 0 {
				name := strings.Join(args, " ")
				substance, ok := tables.Substance(name)
				if !ok {
					return usageError{unknownSubstance(name, tables.Closest(name))}
				}
				id = substance.ID
			}
			facts := tables.Facts(id)
			if s.json {
				return printJSON(cmd.OutOrStdout(), factsJSON(facts))
			}
			return printFacts(cmd, tables, facts, id == "")
		},
	}
}

func unknownSubstance(name string, near []string) error {
	p := &chemicals.Problem{What: fmt.Sprintf("the published tables have no substance %q", name), Mend: "bathwarden sources lists them all"}
	if len(near) > 0 {
		p.Mend = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return p
}

func printFacts(cmd *cobra.Command, tables *reference.Set, facts []reference.Fact, all bool) error {
	head := []string{"WHAT", "VALUE", "SOURCE"}
	if all {
		head = append([]string{"SUBSTANCE"}, head...)
	}
	t := newTable(head...)
	for _, f := range facts {
		cells := []string{f.What, f.Value, sourceOf(f)}
		if all {
			cells = append([]string{f.Substance}, cells...)
		}
		t.row(cells...)
	}
	out := cmd.OutOrStdout()
	if err := t.print(out); err != nil {
		return err
	}
	if all {
		fmt.Fprintf(out, "\n%d values, %d of them from memory and not read again; tables %s\n", len(facts), tables.MemoryCount(), tables.Hash())
	}
	return nil
}

// sourceOf says where a value stands, what was noted of it and where it is to
// be confirmed.
func sourceOf(f reference.Fact) string {
	text := f.Ref.String()
	if f.ConfirmIn.Known() {
		text += "; confirm in " + f.ConfirmIn.Document
		if f.ConfirmIn.Place != "" {
			text += ", " + f.ConfirmIn.Place
		}
	}
	if f.Note != "" {
		text += " (" + f.Note + ")"
	}
	return text
}

type factJSON struct {
	Substance string `json:"substance,omitempty"`
	What      string `json:"what"`
	Value     string `json:"value"`
	Document  string `json:"document,omitempty"`
	Place     string `json:"place,omitempty"`
	Year      int    `json:"year,omitempty"`
	Standing  string `json:"standing"`
	ConfirmIn string `json:"confirm_in,omitempty"`
	Note      string `json:"note,omitempty"`
}

func factsJSON(facts []reference.Fact) []factJSON {
	all := []factJSON{}
	for _, f := range facts {
		all = append(all, factJSON{
			Substance: f.Substance, What: f.What, Value: f.Value, Document: f.Ref.Document, Place: f.Ref.Place,
			Year: f.Ref.Year, Standing: f.Ref.Standing.String(), ConfirmIn: f.ConfirmIn.Document, Note: f.Note,
		})
	}
	return all
}
