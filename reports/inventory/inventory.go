// Package inventory builds the chemical inventory: what the shop holds and
// where, what is in each tank, and what the record does not say.
//
// It arranges findings and computes nothing but ages. It gives no class and no
// verdict; those of the suppliers are repeated.
package inventory

import (
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// Kind is the report's name.
const Kind = "inventory"

// Findings is what the report shows.
type Findings struct {
	Holdings []exposure.Holding
	Tanks    []exposure.Tank
	Gaps     []exposure.Gap
}

// Build makes the paper.
func Build(shop *chemicals.Shop, found Findings, set letterhead.Setting) *doc.Document {
	words := templates.Inventory
	b := builder{shop: shop, found: found, in: unitsOf(set.Units)}
	b.doc = letterhead.New(Kind, words.Title, words.Intro, shop, set)
	b.doc.Add(doc.Contents{})
	b.doc.Section(1, words.Shop)
	b.doc.Add(letterhead.Firm(shop), b.overview())
	b.products()
	b.amounts()
	b.tanks()
	letterhead.Gaps(b.doc, found.Gaps)
	letterhead.SignOff(b.doc)
	b.working()
	return b.doc
}

type builder struct {
	shop  *chemicals.Shop
	found Findings
	doc   *doc.Document
	in    units
}

// units are those of computed figures.
type units struct{ mass, concentration, volume, temperature string }

func unitsOf(system quantity.System) units {
	if system == quantity.US {
		return units{mass: "lb", concentration: "oz/gal", volume: "gal", temperature: "°F"}
	}
	return units{mass: "kg", concentration: "g/L", volume: "L", temperature: "°C"}
}

// figure is q in a unit at three significant digits, or more where it is large.
func figure(q quantity.Any, unit string) doc.Number {
	v, err := quantity.In(q, unit)
	if err != nil {
		panic("inventory: " + err.Error())
	}
	return doc.Number{Is: v, Decimals: min(doc.Significant(v, 3), 4)}
}

// overview says in one table how much there is and how much is not known.
func (b *builder) overview() doc.Table {
	counted, caution := 0, 0
	for _, h := range b.found.Holdings {
		if len(h.Counts) > 0 {
			counted++
		}
	}
	caution = len(b.found.Gaps)
	row := func(what string, n int, emphasis doc.Emphasis) []doc.Cell {
		return []doc.Cell{doc.Text{Is: what}, doc.Number{Is: float64(n), Emphasis: emphasis}}
	}
	emphasis := doc.Normal
	if caution > 0 {
		emphasis = doc.Caution
	}
	return doc.Table{
		Name:    "overview",
		Columns: []doc.Column{{Name: "what", Head: "This paper lists"}, {Name: "number", Head: "Number", Numeric: true}},
		Rows: [][]doc.Cell{
			row("Products", len(b.found.Holdings), doc.Normal),
			row("Products with a count", counted, doc.Normal),
			row("Tanks", len(b.found.Tanks), doc.Normal),
			row("Points missing or stale", caution, emphasis),
		},
	}
}

func joined(parts []string) string { return strings.Join(parts, ", ") }
