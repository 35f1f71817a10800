package inspection

import (
	"strings"

	"bathwarden/chemicals/hazard"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func (b *builder) chemicals() {
	w := templates.Inspection
	b.doc.Section(1, w.Chemicals)
	t := doc.Table{
		Name: "chemicals", Empty: "No product is recorded.",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "signal", Head: "Signal word"},
			{Name: "computed", Head: "By its contents"}, {Name: "declared", Head: "Supplier declares"},
			{Name: "place", Head: "Where"}, {Name: "sheet", Head: "Safety data sheet of"},
			{Name: "age", Head: "Age", Unit: "years", Numeric: true}, {Name: "kept", Head: "Sheet kept"},
		},
	}
	declared := exposure.Declared(b.shop)
	for _, h := range b.found.Holdings {
		p, hazards := h.Product.Is, exposure.ProductHazards(b.shop, h)
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: p.Name.String()}, letterhead.Words(hazards.Label.Signal), computed(h, hazards), classesOrNone(declared[p.Name.Meaning()]), letterhead.Words(strings.Join(h.Places(), ", ")),
			letterhead.Day(p.SheetDate, "no date recorded"), letterhead.SheetAge(b.shop, p.SheetDate), letterhead.Words(p.SheetPlace.String()),
		})
	}
	b.doc.Add(doc.Paragraph{Text: w.ChemicalsNote}, t)
	b.doc.Section(2, w.Differences)
	b.doc.Add(doc.Paragraph{Text: w.DifferencesNote}, b.differences())
}

// differences are the hazards for which supplier and contents say otherwise.
func (b *builder) differences() doc.Table {
	t := doc.Table{
		Name: "differences", Empty: templates.Inspection.NoDifferences,
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "hazard", Head: "Hazard"}, {Name: "declared", Head: "Supplier declares"},
			{Name: "computed", Head: "By its contents"}, {Name: "direction", Head: "So"},
		},
	}
	for _, h := range b.found.Holdings {
		for _, d := range exposure.ProductHazards(b.shop, h).Differences {
			t.Rows = append(t.Rows, []doc.Cell{
				doc.Text{Is: h.Product.Is.Name.String()}, doc.Text{Is: d.Hazard}, letterhead.Words(joined(d.Declared)),
				letterhead.Words(joined(d.Computed)), doc.Text{Is: string(d.Direction)},
			})
		}
	}
	return t
}

func joined(classes []hazard.Class) string {
	var names []string
	for _, c := range classes {
		names = append(names, c.String())
	}
	return strings.Join(names, "; ")
}

// computed are the classes that follow from a product's contents; those that
// the supplier declares otherwise are marked.
func computed(h exposure.Holding, hazards exposure.Hazards) doc.Cell {
	names := classNames(hazards)
	switch {
	case len(h.Matter.Parts) == 0:
		return doc.Blank{Why: "no contents recorded"}
	case hazards.Fault != nil:
		return doc.Blank{Why: hazards.Fault.Error()}
	case names == "":
		return doc.Blank{Why: "no class follows"}
	}
	return doc.Text{Is: names, Emphasis: caution(len(hazards.Differences) > 0)}
}

func classesOrNone(classes []string) doc.Cell {
	if len(classes) == 0 {
		return doc.Blank{Why: "none recorded"}
	}
	return doc.Text{Is: strings.Join(classes, "; ")}
}
