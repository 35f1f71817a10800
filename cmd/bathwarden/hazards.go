package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/source"
	"bathwarden/exposure"
	"bathwarden/reports/letterhead"
)

// classified is a tank or product with its hazards.
type classified struct {
	name    string // as the book has it
	what    string // "tank B5", "product Boric acid"
	hazards exposure.Hazards
}

func newHazards(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "hazards [TANK or PRODUCT]",
		Short: "Classify tanks and products from what is in them, with the reasons",
		Long:  "Classify what is in the tanks and what the products are made of, under the rules of\nthe shop's regime. With a name, show every class with its rule, the value seen and\nthe threshold, what the supplier declares otherwise, and what is not certain. The\nsupplier's safety data sheet and the local code prevail.",
		Args:  atMostOne("one tank or product"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.withShop(readFor, func(shop *chemicals.Shop, from published) error {
				all := classifyAll(shop, from)
				if len(args) > 0 {
					return s.hazardsOf(cmd.OutOrStdout(), all, args[0])
				}
				return s.listHazards(cmd.OutOrStdout(), all)
			})
		},
	}
}

// classifyAll classifies every tank with contents and every product.
func classifyAll(shop *chemicals.Shop, from published) []classified {
	var all []classified
	for _, t := range exposure.Tanks(shop, from.Set) {
		if len(t.Contents) > 0 {
			all = append(all, classified{t.Is.Name.String(), "tank " + t.Is.Name.String(), exposure.TankHazards(shop, t)})
		}
	}
	for _, h := range exposure.Holdings(shop, from.Set) {
		name := h.Product.Is.Name.String()
		all = append(all, classified{name, "product " + name, exposure.ProductHazards(shop, h)})
	}
	return all
}

func classNames(h exposure.Hazards) string {
	var names []string
	for _, c := range h.Result.Classes() {
		names = append(names, c.String())
	}
	return strings.Join(names, "; ")
}

func (s *settings) listHazards(out io.Writer, all []classified) error {
	if s.json {
		list := []map[string]any{}
		for _, c := range all {
			list = append(list, hazardsJSON(c))
		}
		return printJSON(out, list)
	}
	t := newTable("WHAT", "SIGNAL WORD", "CLASSES")
	for _, c := range all {
		classes := classNames(c.hazards)
		switch {
		case c.hazards.Fault != nil:
			classes = "not classified: " + c.hazards.Fault.Error()
		case classes == "":
			classes = "none follows from what is recorded"
		}
		t.row(c.what, c.hazards.Label.Signal, classes)
	}
	return t.print(out)
}

// hazardsOf shows the working of a tank or product; where both bear the name,
// of both.
func (s *settings) hazardsOf(out io.Writer, all []classified, name string) error {
	var names []string
	var found []classified
	for _, c := range all {
		names = append(names, c.name)
		if chemicals.Fold(c.name) == chemicals.Fold(name) {
			found = append(found, c)
		}
	}
	if len(found) == 0 {
		p := &chemicals.Problem{What: fmt.Sprintf("no tank with contents and no product is named %q", name), Mend: "bathwarden hazards lists them all"}
		if near := chemicals.Closest(name, names); len(near) > 0 {
			p.Mend = "did you mean " + strings.Join(near, " or ") + "?"
		}
		return p
	}
	for _, c := range found {
		if s.json {
			if err := printJSON(out, hazardsJSON(c)); err != nil {
				return err
			}
			continue
		}
		printHazards(out, c)
	}
	return nil
}

func printHazards(out io.Writer, c classified) {
	fmt.Fprintln(out, c.what)
	if c.hazards.Fault != nil {
		fmt.Fprintf(out, "not classified: %s\n", c.hazards.Fault)
	}
	for _, f := range c.hazards.Result.Findings {
		fmt.Fprintf(out, "\n%s, %s\n", f.Class, f.Code)
		for _, r := range f.Reasons {
			fmt.Fprintf(out, "  because %s\n", r)
		}
	}
	label := letterhead.Label(c.hazards.Label, func(source.Ref) []int { return nil })
	signal, pictograms := label.Words()
	fmt.Fprintf(out, "\nsignal word: %s\npictograms: %s\n", signal, pictograms)
	for _, st := range label.Statements {
		fmt.Fprintf(out, "  %s\n", st.Is)
	}
	for _, u := range c.hazards.Result.Unknown {
		fmt.Fprintf(out, "%s\n", u)
	}
	for _, d := range c.hazards.Differences {
		fmt.Fprintf(out, "differs: %s\n", d)
	}
	for _, caveat := range c.hazards.Caveats {
		fmt.Fprintf(out, "caveat: %s\n", caveat)
	}
}

func hazardsJSON(c classified) map[string]any {
	classes := []map[string]any{}
	for _, f := range c.hazards.Result.Findings {
		var reasons []string
		for _, r := range f.Reasons {
			reasons = append(reasons, r.String())
		}
		classes = append(classes, map[string]any{"class": f.Class.String(), "statement": f.Code, "reasons": reasons})
	}
	pictograms := []string{}
	for _, p := range c.hazards.Label.Pictograms {
		pictograms = append(pictograms, p.Code)
	}
	m := map[string]any{"what": c.what, "classes": classes, "signal": c.hazards.Label.Signal, "pictograms": pictograms, "caveats": c.hazards.Caveats}
	if c.hazards.Fault != nil {
		m["fault"] = c.hazards.Fault.Error()
	}
	return m
}
