// Package inspection builds the packet that is handed to an inspector: what is
// asked first at the front, then chemicals, tanks, stock, people, checks and
// papers, and what the record leaves open. For an inspector of the sewer a page
// of limits and results stands before them, and the sections on waste water
// behind.
//
// It arranges findings and passes no verdict: a record is found or not found,
// a day has passed or not.
package inspection

import (
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

// Kind is the report's name.
const Kind = "inspection"

// Findings is what the packet shows.
type Findings struct {
	Holdings  []exposure.Holding
	Tanks     []exposure.Tank
	Meetings  []exposure.Meeting
	Trainings []exposure.Training
	Rounds    []exposure.Round
	Papers    []exposure.Paper
	Gaps      []exposure.Gap
	Sewer     *sewer.Findings // for an inspector of the sewer; nil for none
}

// Build makes the packet.
func Build(shop *chemicals.Shop, found Findings, set letterhead.Setting) *doc.Document {
	w := templates.Inspection
	intro, section := w.Intro, (*doc.Document).Section
	if found.Sewer != nil {
		intro, section = w.ForSewer, (*doc.Document).FreshSection // the page before it stands by itself
	}
	b := builder{shop: shop, found: found, doc: letterhead.New(Kind, w.Title, intro, shop, set)}
	b.first()
	b.doc.Add(doc.Contents{})
	water := b.sewerPage(set)
	section(b.doc, 1, w.Shop)
	b.doc.Add(letterhead.Firm(shop))
	b.chemicals()
	b.tanks()
	b.stock()
	b.people()
	b.checks()
	b.papers()
	if water != nil {
		b.sewerSections(water)
	}
	letterhead.Gaps(b.doc, found.Gaps)
	letterhead.SignOff(b.doc)
	return b.doc
}

type builder struct {
	shop  *chemicals.Shop
	found Findings
	doc   *doc.Document
}

// sewerPage sets what an inspector of the sewer asks first, nil for another
// inspector.
func (b *builder) sewerPage(set letterhead.Setting) *sewer.Sections {
	if b.found.Sewer == nil {
		return nil
	}
	water := sewer.On(b.doc, b.shop, *b.found.Sewer, set)
	water.Page()
	return water
}

// sewerSections are those that an inspector of the sewer asks for in addition.
func (b *builder) sewerSections(water *sewer.Sections) {
	water.Rules()
	water.Monitoring()
	b.doc.Section(1, templates.Sewer.Inspection)
	water.Waters(2)
	water.Treatment(2)
	water.Holds(2)
	water.Shipments(2)
}

// first is what is asked before anything else: whom to call, who answers, what
// is held, what stands wrong.
func (b *builder) first() {
	w := templates.Inspection
	b.doc.Section(1, w.First)
	firm, _ := b.shop.Firm()
	b.doc.Add(doc.Fields{Items: []doc.Field{
		{Label: "Emergency phone", Value: known(firm.Is.EmergencyPhone.String())},
		{Label: "Emergency coordinator", Value: known(b.withRole("emergency coordinator"))},
		{Label: "Who signs", Value: known(b.withRole("signs"))},
		{Label: "Control authority", Value: known(firm.Is.ControlAuthority.String())},
		{Label: "Products held", Value: doc.Number{Is: float64(b.held())}},
		{Label: "Their mass, as far as known", Value: b.mass()},
		{Label: "Tanks", Value: doc.Number{Is: float64(len(b.found.Tanks))}},
		{Label: "Missing or stale", Value: doc.Number{Is: float64(len(b.found.Gaps)), Emphasis: caution(len(b.found.Gaps) > 0)}},
	}})
	b.doc.Add(b.permits())
	b.doc.Section(2, w.Together)
	b.doc.Add(doc.Paragraph{Text: w.TogetherNote}, b.together())
}

func known(text string) doc.Cell {
	if text == "" {
		return doc.Blank{Why: "not recorded"}
	}
	return doc.Text{Is: text}
}

func caution(yes bool) doc.Emphasis {
	if yes {
		return doc.Caution
	}
	return doc.Normal
}

// withRole names the people who have a role.
func (b *builder) withRole(role string) string {
	var names []string
	for _, p := range chemicals.On[chemicals.Person](b.shop, b.shop.AsOf) {
		for _, r := range p.Is.Roles {
			if r.Meaning() == role {
				names = append(names, p.Is.Name.String())
			}
		}
	}
	return strings.Join(names, ", ")
}

// held counts the products of which there is any.
func (b *builder) held() int {
	n := 0
	for _, h := range b.found.Holdings {
		if len(h.Counts) > 0 && (h.Today.Mass > 0 || h.Today.Volume > 0) {
			n++
		}
	}
	return n
}

func (b *builder) mass() doc.Cell {
	var sum quantity.Mass
	for _, h := range b.found.Holdings {
		if len(h.Counts) > 0 && h.Today.MassKnown {
			sum += h.Today.Mass
		}
	}
	return doc.Number{Is: sum.Kilograms(), Unit: "kg"}
}

// permits are the papers that are permits.
func (b *builder) permits() doc.Table {
	t := paperTable("permits")
	t.Empty = "No permit is recorded."
	for _, p := range b.found.Papers {
		if p.Is.Sort == "permit" {
			t.Rows = append(t.Rows, paperRow(p))
		}
	}
	return t
}

func (b *builder) together() doc.Table {
	w := templates.Inspection
	t := doc.Table{
		Name: "together", Empty: w.NothingTogether,
		Columns: []doc.Column{
			{Name: "place", Head: "Place"}, {Name: "one", Head: "Product"}, {Name: "one_is", Head: "Holds"},
			{Name: "other", Head: "And"}, {Name: "other_is", Head: "Holds"}, {Name: "danger", Head: "What comes of it"},
		},
	}
	for _, m := range b.found.Meetings {
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: m.Place}, doc.Text{Is: m.One.Product.Is.Name.String()}, doc.Text{Is: m.Danger.A},
			doc.Text{Is: m.Other.Product.Is.Name.String()}, doc.Text{Is: m.Danger.B},
			doc.Text{Is: m.Danger.Danger, Emphasis: doc.Over, Cites: letterhead.Cites(b.doc, m.Danger.Ref)},
		})
	}
	return t
}
