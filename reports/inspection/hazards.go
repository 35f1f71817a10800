package inspection

import (
	"strings"

	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/source"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func classNames(h exposure.Hazards) string { return joined(h.Result.Classes()) }

// hazards sets what a tank's contents do to a person, why the program thinks
// so, what to do about it, and what is not certain.
func (b *builder) hazards(t exposure.Tank, h exposure.Hazards) {
	w := templates.Inspection
	if h.Fault != nil {
		b.doc.Add(doc.Notice{Title: w.NotClassified, Text: h.Fault.Error(), Emphasis: doc.Over})
		return
	}
	if len(h.Result.Findings) == 0 {
		b.doc.Add(doc.Notice{Text: w.NoClasses, Emphasis: doc.Caution})
	} else {
		b.doc.Add(letterhead.Label(h.Label, func(ref source.Ref) []int { return letterhead.Cites(b.doc, ref) }), b.reasons(t, h.Result))
	}
	b.unsure(h)
	b.precautions(t, h.Label)
}

// reasons is one row for each rule that gives a class.
func (b *builder) reasons(t exposure.Tank, r hazard.Result) doc.Table {
	table := doc.Table{
		Name: tableName("reasons", t),
		Columns: []doc.Column{
			{Name: "class", Head: "Class"}, {Name: "seen", Head: "Seen"}, {Name: "threshold", Head: "Threshold"}, {Name: "rule", Head: "Rule"},
		},
	}
	for _, f := range r.Findings {
		for _, reason := range f.Reasons {
			table.Rows = append(table.Rows, []doc.Cell{
				doc.Text{Is: f.Class.String()}, doc.Text{Is: reason.Seen, Cites: letterhead.Cites(b.doc, reason.From...)},
				letterhead.Words(strings.TrimSpace(reason.Relation + " " + reason.Threshold)),
				doc.Text{Is: reason.Rule, Cites: letterhead.Cites(b.doc, reason.Ref)},
			})
		}
	}
	return table
}

// unsure lists what weakens the classes.
func (b *builder) unsure(h exposure.Hazards) {
	var list doc.List
	for _, u := range h.Result.Unknown {
		list.Items = append(list.Items, doc.Text{Is: u.String(), Emphasis: doc.Caution})
	}
	for _, c := range h.Caveats {
		list.Items = append(list.Items, doc.Text{Is: string(c)})
	}
	if len(list.Items) > 0 {
		b.doc.Add(doc.Paragraph{Text: templates.Inspection.Unsure}, list)
	}
}

// precautions are the standard's statements, in their groups.
func (b *builder) precautions(t exposure.Tank, l hazard.Label) {
	w := templates.Inspection
	p := l.Precautions()
	table := doc.Table{
		Name:    tableName("precautions", t),
		Columns: []doc.Column{{Name: "when", Head: "When"}, {Name: "code", Head: "Code"}, {Name: "what", Head: "Precautionary statement"}},
	}
	for _, group := range []struct {
		name       string
		statements []hazard.Statement
	}{{w.Prevent, p.Prevention}, {w.Respond, p.Response}, {w.Store, p.Storage}, {w.Dispose, p.Disposal}} {
		for _, s := range group.statements {
			table.Rows = append(table.Rows, []doc.Cell{
				doc.Text{Is: group.name}, doc.Text{Is: s.Code}, doc.Text{Is: s.Text, Cites: letterhead.Cites(b.doc, s.Ref)},
			})
		}
	}
	if len(table.Rows) > 0 {
		b.doc.Add(doc.Paragraph{Text: w.CautionsNote}, table)
	}
}
