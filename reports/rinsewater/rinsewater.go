// Package rinsewater builds the paper on the water side of the shop: which
// rinse to change first and why, what leaves at each point beside its limits,
// the rinses and the drag-out behind it, where the metal and the water went, and
// the self-monitoring of the period.
//
// It arranges findings. What follows from figures of the same page in closed
// form is a formula in the workbook; what was found by search stands as a value
// with a check beside it. It passes no verdict: the control authority decides.
package rinsewater

import (
	"bathwarden/chemicals"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

// Kind is the report's name.
const Kind = "rinsewater"

// Findings is what the report shows.
type Findings struct {
	Water        *exposure.Water
	Plan         exposure.Plan
	Results      exposure.ResultSet
	Balances     []exposure.Balance
	Meters       []exposure.MeterUse
	Evaporations []exposure.Evaporation
	Combined     []exposure.CombinedLimit
	Treatments   []exposure.Treatment
	Gaps         []exposure.Gap
}

// Build makes the paper.
func Build(shop *chemicals.Shop, found Findings, set letterhead.Setting) *doc.Document {
	words := templates.RinseWater
	b := builder{shop: shop, found: found, doc: letterhead.New(Kind, words.Title, words.Intro, shop, set)}
	if b.found.Water == nil {
		b.found.Water = &exposure.Water{}
	}
	b.sections = sewer.On(b.doc, shop, sewer.Findings{
		Water: b.found.Water, Results: found.Results, Combined: found.Combined, Treatments: found.Treatments, Holds: found.Plan.Holds,
	}, set)
	b.in = b.sections.Units
	b.plan()
	b.doc.Add(doc.Contents{})
	b.sections.Page()
	b.planInFull()
	b.sections.Rules()
	b.lines()
	b.charts()
	b.rinses()
	b.dragOut()
	b.discharge()
	b.balance()
	b.water()
	b.sections.Monitoring()
	b.sections.Certificate()
	letterhead.Gaps(b.doc, found.Gaps)
	letterhead.SignOff(b.doc)
	b.working()
	return b.doc
}

type builder struct {
	shop     *chemicals.Shop
	found    Findings
	doc      *doc.Document
	in       sewer.Units
	sections *sewer.Sections
}

// water is the water balance, what evaporates, and what becomes of the rest.
func (b *builder) water() {
	b.meters()
	b.evaporation()
	b.sections.Waters(2)
	b.sections.Treatment(2)
	b.sections.Holds(2)
	b.sections.Shipments(2)
}

// names joins names.
func names(of []chemicals.Name) string {
	text := ""
	for i, n := range of {
		if i > 0 {
			text += ", "
		}
		text += n.String()
	}
	return text
}
