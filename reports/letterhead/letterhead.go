// Package letterhead holds what every paper of the shop has alike: its head and
// foot, the shop's own particulars, the table of what is missing or stale, the
// lines to sign on, and how single values are set in cells.
package letterhead

import (
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/pictogram"
	"bathwarden/templates"
)

// Setting is what a paper must be told beside its findings.
type Setting struct {
	Program string // name and version
	Tables  string // hash of the published tables
	Units   quantity.System
	Example bool // the data are invented
}

// New starts a paper of a kind.
func New(kind, title, intro string, shop *chemicals.Shop, set Setting) *doc.Document {
	firm, _ := shop.Firm()
	head := doc.Head{
		Kind: kind, Title: title, Shop: firm.Is.Name.String(), Subtitle: intro,
		Period: shop.Period.String(), AsOf: shop.AsOf.String(),
	}
	if set.Example {
		head.Example = templates.ExampleNote
	}
	foot := doc.Foot{AsOf: shop.AsOf.String(), Program: set.Program, Tables: set.Tables, Entry: shop.Last.Entry, Hash: shop.Last.Hash}
	return doc.New(head, foot, templates.Deferral)
}

// Firm is the shop's own particulars.
func Firm(shop *chemicals.Shop) doc.Fields {
	firm, _ := shop.Firm()
	is := firm.Is
	field := func(label string, value string) doc.Field {
		if value == "" {
			return doc.Field{Label: label, Value: doc.Blank{Why: "not recorded"}}
		}
		return doc.Field{Label: label, Value: doc.Text{Is: value}}
	}
	return doc.Fields{Items: []doc.Field{
		field("Name", is.Name.String()), field("Address", is.Address.String()),
		field("Contact", is.Contact.String()), field("Emergency phone", is.EmergencyPhone.String()),
		field("Control authority", is.ControlAuthority.String()), field("Rules of", regime(is.Regime)),
		field("Hours of work a day", is.HoursPerDay.String()), field("Days of work a year", is.DaysPerYear.String()),
		field("Employees", is.Employees.String()), field("First day of the record", is.FirstDay.String()),
	}}
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

// Gaps appends the section on what is missing or stale.
func Gaps(d *doc.Document, gaps []exposure.Gap) {
	w := templates.Gaps
	d.Section(1, w.Title)
	ages := exposure.StaleAges()
	d.Add(doc.Paragraph{Text: w.Intro, Cites: Cites(d, ages.Sheet.Ref, ages.Count.Ref, ages.Analysis.Ref)})
	table := doc.Table{
		Name: "gaps", Empty: w.None,
		Columns: []doc.Column{
			{Name: "where", Head: "Where"}, {Name: "what", Head: "What is missing or stale"},
			{Name: "mend", Head: "How to mend it"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, g := range gaps {
		table.Rows = append(table.Rows, []doc.Cell{doc.Text{Is: g.Where}, doc.Text{Is: g.What}, doc.Text{Is: g.Mend}, Entry(g.Entry)})
	}
	d.Add(table)
}

// SignOff appends the section to sign on.
func SignOff(d *doc.Document) {
	w := templates.SignOff
	d.Section(1, w.Title)
	d.Add(doc.SignOff{Statement: w.Statement, Roles: []string{w.PreparedBy, w.CheckedBy}})
}

// Cites numbers sources, each once, in the order given.
func Cites(d *doc.Document, refs ...source.Ref) []int {
	var numbers []int
	seen := map[int]bool{}
	for _, ref := range refs {
		if n := d.Cite(ref); !seen[n] {
			numbers, seen[n] = append(numbers, n), true
		}
	}
	return numbers
}

// Label sets label elements, with what cite gives for the source of each
// statement's words.
func Label(l hazard.Label, cite func(source.Ref) []int) doc.Label {
	set := doc.Label{Signal: l.Signal}
	for _, p := range l.Pictograms {
		set.Pictograms = append(set.Pictograms, doc.Pictogram{Code: p.Code, Name: pictogram.Name(p.Code)})
	}
	for _, s := range l.Statements {
		set.Statements = append(set.Statements, doc.Text{Is: strings.TrimSpace(s.Code + " " + s.Text), Cites: cite(s.Ref)})
	}
	return set
}

// Words is text, or an empty cell.
func Words(text string) doc.Cell {
	if text == "" {
		return doc.Blank{}
	}
	return doc.Text{Is: text}
}

// Written is a recorded quantity in the shop's own words, or its absence.
func Written[Q quantity.Quantity[Q]](q quantity.Stated[Q], why string) doc.Cell {
	if !q.Known() {
		return doc.Blank{Why: why}
	}
	return doc.Text{Is: q.String()}
}

// Day is a day, or its absence.
func Day(d chemicals.Day, why string) doc.Cell {
	if !d.Known() {
		return doc.Blank{Why: why}
	}
	t := d.Time()
	return doc.Date{Year: t.Year(), Month: int(t.Month()), Day: t.Day()}
}

// Entry is the number of an entry, or an empty cell for none.
func Entry(number int64) doc.Cell {
	if number == 0 {
		return doc.Blank{}
	}
	return doc.Number{Is: float64(number)}
}

const daysOfYear = 365.2425 // mean of the Gregorian calendar

// SheetAge is the age of a safety data sheet in years, marked where it is old.
func SheetAge(shop *chemicals.Shop, sheet chemicals.Day) doc.Cell {
	if !sheet.Known() {
		return doc.Blank{}
	}
	n := doc.Number{Is: float64(shop.AsOf.Since(sheet)) / daysOfYear, Decimals: 1}
	if exposure.StaleAges().Sheet.Past(sheet, shop.AsOf) {
		n.Emphasis = doc.Caution
	}
	return n
}
