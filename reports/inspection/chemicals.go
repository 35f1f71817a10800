package inspection

import (
	"strings"

	"bathwarden/chemicals"
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
			{Name: "product", Head: "Product"}, {Name: "declared", Head: "Supplier declares"},
			{Name: "place", Head: "Where"}, {Name: "sheet", Head: "Safety data sheet of"},
			{Name: "age", Head: "Age", Unit: "years", Numeric: true}, {Name: "kept", Head: "Sheet kept"},
		},
	}
	declared := declaredClasses(b.shop)
	for _, h := range b.found.Holdings {
		p := h.Product.Is
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: p.Name.String()}, classesOrNone(declared[p.Name.Meaning()]), letterhead.Words(places(h)),
			letterhead.Day(p.SheetDate, "no date recorded"), letterhead.SheetAge(b.shop, p.SheetDate), letterhead.Words(p.SheetPlace.String()),
		})
	}
	b.doc.Add(doc.Paragraph{Text: w.ChemicalsNote}, t)
}

// declaredClasses are the suppliers' classes of each product.
func declaredClasses(shop *chemicals.Shop) map[string][]string {
	declared := map[string][]string{}
	for _, h := range chemicals.On[chemicals.DeclaredHazard](shop, shop.AsOf) {
		key := h.Is.Product.Meaning()
		declared[key] = append(declared[key], strings.TrimSpace(h.Is.Class.String()+" "+h.Is.Category.String()))
	}
	return declared
}

func classesOrNone(classes []string) doc.Cell {
	if len(classes) == 0 {
		return doc.Blank{Why: "none recorded"}
	}
	return doc.Text{Is: strings.Join(classes, "; ")}
}

func places(h exposure.Holding) string {
	var all []string
	seen := map[string]bool{}
	for _, c := range h.Counts {
		if key := c.Is.Location.Meaning(); !seen[key] && c.Is.Containers.Int() > 0 {
			seen[key] = true
			all = append(all, c.Is.Location.String())
		}
	}
	return strings.Join(all, ", ")
}
