package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/exposure/discharge"
	"bathwarden/exposure/dragout"
	"bathwarden/exposure/fume"
	"bathwarden/exposure/plating"
	"bathwarden/exposure/rinse"
	"bathwarden/exposure/stock"
	"bathwarden/exposure/waste"
)

// published are all published values: the tables of substances and the tables
// that formula packages keep beside themselves.
type published struct {
	*reference.Set
	beside []working.Table
}

func tables() (published, error) {
	set, err := reference.Tables()
	return published{set, slices.Concat(exposure.Published(), hazard.Published(), waste.Published(), []working.Table{
		plating.Published(), stock.Published(), dragout.Published(), rinse.Published(), fume.Published(), discharge.Published(),
	})}, err
}

// hash is the SHA-256 over all tables; it stands in version and at the foot of
// each paper.
func (p published) hash() string {
	sum := sha256.New()
	fmt.Fprintf(sum, "reference %s\n", p.Set.Hash())
	for _, t := range p.beside {
		fmt.Fprintf(sum, "%s %d\n%s", t.Name, len(t.File), t.File)
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// facts are the values of a substance, by its id, or of all tables for "".
func (p published) facts(substance string) ([]reference.Fact, error) {
	facts := p.Set.Facts(substance)
	if substance != "" {
		return facts, nil
	}
	for _, t := range p.beside {
		rows, err := t.Rows()
		if err != nil {
			return nil, err
		}
		for _, row := range rows {
			what := row.Figure
			if row.Of != "" {
				what = row.Of + ": " + what
			}
			facts = append(facts, reference.Fact{What: what, Value: row.Value, Sourced: reference.Sourced{Ref: row.Ref}})
		}
	}
	return facts, nil
}

func newSources(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "sources [SUBSTANCE]",
		Short: "Print the published values, each with its source",
		Long:  "Print every published value that the program uses, with its source and how that\nstands: law, guidance, handbook, or recalled from memory and where to confirm it.\nA substance is found by its id, name, synonym or CAS number.",
		RunE: func(cmd *cobra.Command, args []string) error {
			all, err := tables()
			if err != nil {
				return err
			}
			id := ""
			if len(args) > 0 {
				name := strings.Join(args, " ")
				substance, ok := all.Substance(name)
				if !ok {
					return usageError{unknownSubstance(name, all.Closest(name))}
				}
				id = substance.ID
			}
			facts, err := all.facts(id)
			if err != nil {
				return err
			}
			if s.json {
				return printJSON(cmd.OutOrStdout(), factsJSON(facts))
			}
			return printFacts(cmd, all, facts, id == "")
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

func printFacts(cmd *cobra.Command, p published, facts []reference.Fact, all bool) error {
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
		fmt.Fprintf(out, "\n%d values, %d of them from memory and not read again; tables %s\n", len(facts), memories(facts), p.hash())
	}
	return nil
}

func memories(facts []reference.Fact) int {
	n := 0
	for _, f := range facts {
		if f.Ref.Standing == source.FromMemory {
			n++
		}
	}
	return n
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
