package inventory

import (
	"strings"

	"bathwarden/chemicals"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func (b *builder) products() {
	w := templates.Inventory
	b.doc.Section(1, w.Products)
	b.doc.Section(2, w.Known)
	b.doc.Add(b.bought())
	b.doc.Section(2, w.Contents)
	b.doc.Add(doc.Paragraph{Text: w.ContentsNote}, b.madeOf())
	b.doc.Section(2, w.Classes)
	b.doc.Add(doc.Paragraph{Text: w.ClassNote}, b.declared())
}

func (b *builder) bought() doc.Table {
	t := doc.Table{
		Name: "products", Empty: "No product is recorded.",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "title", Head: "In words"}, {Name: "supplier", Head: "Supplier"},
			{Name: "form", Head: "Form"}, {Name: "density", Head: "Density, as recorded"},
			{Name: "sheet", Head: "Safety data sheet of"}, {Name: "age", Head: "Age", Unit: "years", Numeric: true},
			{Name: "place", Head: "Sheet kept"}, {Name: "use", Head: "Use"},
		},
	}
	for _, h := range b.found.Holdings {
		p := h.Product.Is
		density := doc.Cell(doc.Blank{})
		if p.Form != chemicals.Solid || p.Density.Known() {
			density = letterhead.Written(p.Density, "not recorded")
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: p.Name.String()}, letterhead.Words(p.Title.String()), letterhead.Words(p.Supplier.String()), letterhead.Words(string(p.Form)),
			density, letterhead.Day(p.SheetDate, "no date recorded"), letterhead.SheetAge(b.shop, p.SheetDate),
			letterhead.Words(p.SheetPlace.String()), letterhead.Words(p.Use.String()),
		})
	}
	return t
}

func (b *builder) madeOf() doc.Table {
	t := doc.Table{
		Name: "contents", Empty: "No contents are recorded.",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "substance", Head: "Substance"}, {Name: "cas", Head: "CAS number"},
			{Name: "low", Head: "Low", Unit: "% w/w", Numeric: true}, {Name: "high", Head: "High", Unit: "% w/w", Numeric: true},
			{Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, h := range b.found.Holdings {
		for _, part := range h.Matter.Parts {
			low := doc.Cell(doc.Blank{Why: "not recorded"})
			if part.Is.Low.Known() {
				low = share(part.Is.Low.Is().Percent(), part.Is.Low.String())
			}
			name, cas := part.Is.Substance.String(), doc.Cell(doc.Blank{Why: "not in the tables"})
			if part.Substance != nil { // it may have been typed as a number
				name, cas = part.Substance.Name, doc.Text{Is: part.Substance.CAS}
			}
			t.Rows = append(t.Rows, []doc.Cell{
				doc.Text{Is: h.Product.Is.Name.String()}, doc.Text{Is: name}, cas, low,
				share(part.Is.High.Is().Percent(), part.Is.High.String()), doc.Number{Is: float64(part.Entry)},
			})
		}
	}
	return t
}

// share is a percentage with the decimals that were written.
func share(percent float64, text string) doc.Cell {
	number, _, _ := strings.Cut(text, " ")
	_, decimals, _ := strings.Cut(number, ".")
	return doc.Number{Is: percent, Decimals: min(len(decimals), 6)}
}

func (b *builder) declared() doc.Table {
	t := doc.Table{
		Name: "classes", Empty: "No class is recorded.",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "classes", Head: "Classes declared"}, {Name: "sheet", Head: "Safety data sheet of"},
		},
	}
	declared := exposure.Declared(b.shop)
	for _, h := range b.found.Holdings {
		p := h.Product.Is
		classes := doc.Cell(doc.Blank{Why: "none recorded"})
		if of := declared[p.Name.Meaning()]; len(of) > 0 {
			classes = doc.Text{Is: strings.Join(of, "; ")}
		}
		t.Rows = append(t.Rows, []doc.Cell{doc.Text{Is: p.Name.String()}, classes, letterhead.Day(p.SheetDate, "no date recorded")})
	}
	return t
}
