package inspection

import (
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func (b *builder) tanks() {
	w := templates.Inspection
	b.doc.Section(1, w.Tanks)
	b.doc.Add(doc.Paragraph{Text: w.TanksNote})
	for _, t := range b.found.Tanks {
		if len(t.Contents) > 0 {
			b.tank(t)
		}
	}
}

func (b *builder) tank(t exposure.Tank) {
	w := templates.Inspection
	title := "Tank " + t.Is.Name.String()
	if t.Is.Title.Known() {
		title += ": " + t.Is.Title.String()
	}
	b.doc.Section(2, title)
	b.doc.Add(doc.Fields{Items: []doc.Field{
		{Label: "Purpose", Value: letterhead.Words(string(t.Is.Purpose))},
		{Label: "Working volume", Value: letterhead.Written(t.Is.WorkingVolume, "not recorded")},
		{Label: "Run at", Value: letterhead.Written(t.Is.Temperature, "not recorded")},
		{Label: "pH", Value: known(t.Is.PH.String())},
		{Label: "Exhaust hood", Value: known(string(t.Is.Hood))},
		{Label: "Agitation", Value: known(string(t.Is.Agitation))},
	}})
	b.doc.Add(contents(t))
	b.hazards(t, exposure.TankHazards(b.shop, t))
	b.doc.Add(doc.Paragraph{Text: w.Never}, b.never(t))
}

// tableName makes a table's name unique by its tank.
func tableName(name string, t exposure.Tank) string {
	return name + "_" + strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, t.Is.Name.Meaning())
}

func contents(t exposure.Tank) doc.Table {
	table := doc.Table{
		Name: tableName("contents", t),
		Columns: []doc.Column{
			{Name: "ingredient", Head: "Holds"}, {Name: "recorded", Head: "Made up with"}, {Name: "found", Head: "Found"},
			{Name: "concentration", Head: "Contents", Unit: "g/L", Numeric: true},
			{Name: "mass", Head: "In the tank", Unit: "kg", Numeric: true},
		},
	}
	for _, c := range t.Contents {
		made, found := doc.Cell(doc.Blank{}), doc.Cell(doc.Blank{})
		if c.MadeUp != nil {
			made = doc.Text{Is: c.MadeUp.Is.Concentration.String()}
		}
		if c.Found != nil {
			found = doc.Text{Is: c.Found.Is.Concentration.String() + " of " + c.Found.Is.Ingredient.String() + ", " + c.Found.Date.String()}
		}
		table.Rows = append(table.Rows, []doc.Cell{
			doc.Text{Is: c.Name.String()}, made, found, figure(c.Concentration, "g/L"), figure(c.Mass, "kg"),
		})
	}
	return table
}

// figure is an estimate in a unit at three significant digits, or its absence.
func figure[Q quantity.Any](e working.Estimate[Q], unit string) doc.Cell {
	if !e.Known() {
		return doc.Blank{Why: e.Why()}
	}
	v, err := quantity.In(e.Is(), unit)
	if err != nil {
		panic("inspection: " + err.Error())
	}
	return doc.Number{Is: v, Decimals: min(doc.Significant(v, 3), 4)}
}

func (b *builder) never(t exposure.Tank) doc.Table {
	w := templates.Inspection
	table := doc.Table{
		Name: tableName("never", t), Empty: w.NothingNever,
		Columns: []doc.Column{
			{Name: "holds", Head: "It holds"}, {Name: "with", Head: "Never with"}, {Name: "danger", Head: "What comes of it"},
			{Name: "where", Head: "In this shop"},
		},
	}
	for _, n := range exposure.NeverMeets(t, b.found.Holdings, b.found.Tanks) {
		where := doc.Cell(doc.Blank{Why: "none known"})
		if len(n.Where) > 0 {
			where = doc.Text{Is: strings.Join(n.Where, ", ")}
		}
		table.Rows = append(table.Rows, []doc.Cell{
			doc.Text{Is: n.Group}, doc.Text{Is: n.With}, doc.Text{Is: n.Danger, Cites: letterhead.Cites(b.doc, n.Ref)}, where,
		})
	}
	return table
}
