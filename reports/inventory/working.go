package inventory

import (
	"slices"
	"strconv"
	"strings"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func (b *builder) working() {
	w := templates.Inventory
	b.doc.Section(1, w.Working)
	b.doc.Add(doc.Paragraph{Text: w.WorkingIntro})
	b.doc.Section(2, "Contents and metals of the tanks")
	steps, weak := b.steps()
	b.doc.Add(steps)
	if len(weak.Items) > 0 {
		b.doc.Add(weak)
	}
	b.doc.Section(2, "Entries behind the amounts")
	b.doc.Add(b.entries())
}

// steps is one row for each formula that was worked out for a tank, and the
// caveats of them all.
func (b *builder) steps() (doc.Table, doc.List) {
	t := doc.Table{
		Name: "steps", Empty: "Nothing was computed.",
		Columns: []doc.Column{
			{Name: "tank", Head: "Tank"}, {Name: "figure", Head: "Figure"}, {Name: "formula", Head: "Formula"},
			{Name: "with", Head: "With"}, {Name: "result", Head: "Result"},
		},
	}
	var weak doc.List
	for _, tank := range b.found.Tanks {
		var seen []string
		add := func(what string, steps []working.Step, caveats []working.Caveat) {
			for _, c := range caveats {
				one := doc.Text{Is: "tank " + tank.Is.Name.String() + ": " + string(c), Emphasis: doc.Caution}
				if !slices.ContainsFunc(weak.Items, func(t doc.Text) bool { return t.Is == one.Is }) {
					weak.Items = append(weak.Items, one)
				}
			}
			for _, s := range steps {
				with, cites := b.inputs(s.Inputs)
				key := s.Formula + with + s.Result
				if slices.Contains(seen, key) {
					continue
				}
				seen = append(seen, key)
				t.Rows = append(t.Rows, []doc.Cell{
					doc.Text{Is: tank.Is.Name.String()}, doc.Text{Is: what}, doc.Text{Is: s.Formula, Cites: b.formulaCite(s.Ref)},
					doc.Text{Is: with, Cites: cites}, doc.Text{Is: s.Result},
				})
			}
		}
		for _, c := range tank.Contents {
			add(c.Name.String(), slices.Concat(c.Concentration.Steps(), c.Mass.Steps()), c.Concentration.Caveats())
		}
		for _, m := range tank.Metals {
			add(m.Metal.Name, slices.Concat(m.Concentration.Steps(), m.Mass.Steps()), m.Concentration.Caveats())
		}
	}
	return t, weak
}

func (b *builder) formulaCite(ref source.Ref) []int {
	if !ref.Known() {
		return nil
	}
	return []int{b.doc.Cite(ref)}
}

// inputs prints what stood for each symbol; what the shop recorded is named by
// its entry, what was published by the number of its source.
func (b *builder) inputs(inputs []working.Input) (text string, cites []int) {
	var parts []string
	for _, in := range inputs {
		part := in.Symbol + " = " + in.Value
		if in.What != "" {
			part += " (" + in.What + ")"
		}
		switch {
		case in.Ref.Standing == source.ShopRecord:
			part += ", " + in.Ref.Place
		case in.Ref.Known():
			cites = append(cites, letterhead.Cites(b.doc, in.Ref)...)
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, "; "), slices.Compact(cites)
}

func (b *builder) entries() doc.Table {
	t := doc.Table{
		Name: "behind", Empty: "No product is recorded.",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "counts", Head: "Counts"},
			{Name: "receipts", Head: "Receipts since"}, {Name: "uses", Head: "Additions since"},
		},
	}
	for _, h := range b.found.Holdings {
		if len(h.Counts) == 0 {
			continue
		}
		var counts, receipts, uses []string
		for _, c := range h.Counts {
			counts = append(counts, strconv.FormatInt(c.Entry, 10))
		}
		for _, m := range h.Moves {
			if m.Used {
				uses = append(uses, strconv.FormatInt(m.Entry, 10))
			} else {
				receipts = append(receipts, strconv.FormatInt(m.Entry, 10))
			}
		}
		t.Rows = append(t.Rows, []doc.Cell{doc.Text{Is: h.Product.Is.Name.String()}, letterhead.Words(joined(counts)), letterhead.Words(joined(receipts)), letterhead.Words(joined(uses))})
	}
	return t
}
