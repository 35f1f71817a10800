package inspection

import (
	"cmp"
	"slices"

	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// stock lists the counts by place, so that a reader walks from shelf to shelf.
func (b *builder) stock() {
	w := templates.Inspection
	b.doc.Section(1, w.Stock)
	t := doc.Table{
		Name: "stock", Empty: "Nothing has been counted.",
		Columns: []doc.Column{
			{Name: "place", Head: "Place"}, {Name: "product", Head: "Product"}, {Name: "counted", Head: "Counted"},
			{Name: "containers", Head: "Containers", Numeric: true}, {Name: "size", Head: "Size of one, as recorded"},
			{Name: "each", Head: "One holds", Unit: "kg", Numeric: true},
			{Name: "mass", Head: "Together", Unit: "kg", Numeric: true, Formula: "{containers}*{each}"},
		},
	}
	total := 0.0
	for _, c := range b.byPlace() {
		n := float64(c.count.Is.Containers.Int())
		each, mass := doc.Cell(doc.Blank{Why: "no density"}), doc.Cell(doc.Blank{Why: "no density"})
		if c.count.Each.MassKnown {
			kg := c.count.Each.Mass.Kilograms()
			each = doc.Number{Is: kg, Decimals: max(1, min(doc.Significant(kg, 3), 4))}
			mass = doc.Number{Is: n * kg, Decimals: 1, Live: true}
			total += n * kg
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: c.count.Is.Location.String()}, doc.Text{Is: c.product}, letterhead.Day(c.count.From, "on the first day"),
			doc.Number{Is: n}, doc.Text{Is: c.count.Is.ContainerSize.String()}, each, mass,
		})
	}
	if len(t.Rows) > 0 {
		t.Totals = [][]doc.Cell{{
			doc.Text{Is: "All that is known by mass"}, doc.Blank{}, doc.Blank{}, doc.Blank{}, doc.Blank{}, doc.Blank{},
			doc.Number{Is: total, Decimals: 1, Live: true},
		}}
	}
	b.doc.Add(doc.Paragraph{Text: w.StockNote}, t)
}

type placed struct {
	product string
	count   exposure.Count
}

func (b *builder) byPlace() []placed {
	var all []placed
	for _, h := range b.found.Holdings {
		for _, c := range h.Counts {
			if c.Is.Containers.Int() > 0 {
				all = append(all, placed{h.Product.Is.Name.String(), c})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.count.Is.Location, b.count.Is.Location), cmp.Compare(a.product, b.product))
	})
	return all
}
