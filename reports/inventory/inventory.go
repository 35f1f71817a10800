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
	"bathwarden/chemicals/source"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
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

// Setting is what the report must be told beside its findings.
type Setting struct {
	Program string // name and version
	Tables  string // hash of the published tables
	Units   quantity.System
	Example bool // the data are invented
}

// Build makes the paper.
func Build(shop *chemicals.Shop, found Findings, set Setting) *doc.Document {
	words := templates.Inventory
	b := builder{shop: shop, found: found, in: unitsOf(set.Units)}
	firm, _ := shop.Firm()
	head := doc.Head{
		Kind: Kind, Title: words.Title, Shop: firm.Is.Name.String(), Subtitle: words.Intro,
		Period: shop.Period.String(), AsOf: shop.AsOf.String(),
	}
	if set.Example {
		head.Example = templates.ExampleNote
	}
	foot := doc.Foot{AsOf: shop.AsOf.String(), Program: set.Program, Tables: set.Tables, Entry: shop.Last.Entry, Hash: shop.Last.Hash}
	b.doc = doc.New(head, foot, templates.Deferral)
	b.doc.Add(doc.Contents{})
	b.firm(firm)
	b.products()
	b.amounts()
	b.tanks()
	b.gaps()
	b.doc.Section(1, words.SignOff)
	b.doc.Add(doc.SignOff{Statement: words.SignOffText, Roles: []string{words.PreparedBy, words.CheckedBy}})
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

// words is text, or an empty cell.
func words(text string) doc.Cell {
	if text == "" {
		return doc.Blank{}
	}
	return doc.Text{Is: text}
}

// asWritten is a recorded quantity in the shop's own words, or its absence.
func asWritten[Q quantity.Quantity[Q]](q quantity.Stated[Q], why string) doc.Cell {
	if !q.Known() {
		return doc.Blank{Why: why}
	}
	return doc.Text{Is: q.String()}
}

func day(d chemicals.Day, why string) doc.Cell {
	if !d.Known() {
		return doc.Blank{Why: why}
	}
	t := d.Time()
	return doc.Date{Year: t.Year(), Month: int(t.Month()), Day: t.Day()}
}

func (b *builder) firm(firm chemicals.Held[chemicals.Firm]) {
	b.doc.Section(1, templates.Inventory.Shop)
	is := firm.Is
	field := func(label string, value string) doc.Field {
		if value == "" {
			return doc.Field{Label: label, Value: doc.Blank{Why: "not recorded"}}
		}
		return doc.Field{Label: label, Value: doc.Text{Is: value}}
	}
	b.doc.Add(doc.Fields{Items: []doc.Field{
		field("Name", is.Name.String()), field("Address", is.Address.String()),
		field("Contact", is.Contact.String()), field("Emergency phone", is.EmergencyPhone.String()),
		field("Control authority", is.ControlAuthority.String()), field("Rules of", regime(is.Regime)),
		field("Hours of work a day", is.HoursPerDay.String()), field("Days of work a year", is.DaysPerYear.String()),
		field("Employees", is.Employees.String()), field("First day of the record", is.FirstDay.String()),
	}})
	b.doc.Add(b.overview())
}

func regime(r chemicals.Regime) string {
	switch r {
	case chemicals.UnitedStates:
		return "the United States"
	case chemicals.Europe:
		return "the European Union"
	}
	return ""
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

func (b *builder) gaps() {
	w := templates.Inventory
	b.doc.Section(1, w.Gaps)
	ages := exposure.StaleAges()
	b.doc.Add(doc.Paragraph{Text: w.GapsIntro, Cites: b.cites(ages.Sheet.Ref, ages.Count.Ref, ages.Analysis.Ref)})
	table := doc.Table{
		Name: "gaps", Empty: w.NoGaps,
		Columns: []doc.Column{
			{Name: "where", Head: "Where"}, {Name: "what", Head: "What is missing or stale"},
			{Name: "mend", Head: "How to mend it"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, g := range b.found.Gaps {
		entry := doc.Cell(doc.Blank{})
		if g.Entry > 0 {
			entry = doc.Number{Is: float64(g.Entry)}
		}
		table.Rows = append(table.Rows, []doc.Cell{doc.Text{Is: g.Where}, doc.Text{Is: g.What}, doc.Text{Is: g.Mend}, entry})
	}
	b.doc.Add(table)
}

// cites numbers sources, each once.
func (b *builder) cites(refs ...source.Ref) []int {
	var numbers []int
	seen := map[int]bool{}
	for _, ref := range refs {
		if n := b.doc.Cite(ref); !seen[n] {
			numbers, seen[n] = append(numbers, n), true
		}
	}
	return numbers
}

func joined(parts []string) string { return strings.Join(parts, ", ") }
