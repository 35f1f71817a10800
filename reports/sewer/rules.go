package sewer

import (
	"slices"
	"strings"

	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// Rules appends which federal rule applies to each point and why, every limit in
// force, and the federal limits with the shop's other waters.
func (s *Sections) Rules() {
	w := templates.Sewer
	s.doc.Section(1, w.Standard)
	s.doc.Add(doc.Paragraph{Text: w.StandardNote})
	if len(s.found.Results.Standards) == 0 {
		s.doc.Add(doc.Paragraph{Text: w.NoPoints})
	}
	var told []exposure.Standard
	for i, standard := range s.found.Results.Standards {
		if slices.ContainsFunc(told, func(t exposure.Standard) bool { return sameReadings(t, standard) }) {
			s.doc.Add(doc.Paragraph{Text: w.SameHolds + " " + standard.Point.Is.Name.String() + "."})
			continue
		}
		told = append(told, standard)
		s.standard(standard, i+1)
	}
	s.choices(told)
	s.doc.Section(2, w.Limits)
	s.doc.Add(doc.Paragraph{Text: w.LimitsNote}, s.limits())
	s.withWaters()
	s.cyanide()
}

func sameReadings(a, b exposure.Standard) bool {
	return a.Point.Is.Body == b.Point.Is.Body && slices.EqualFunc(a.Readings, b.Readings, func(x, y exposure.StandardReading) bool {
		return x.Says == y.Says && slices.Equal(x.If, y.If)
	})
}

func (s *Sections) standard(standard exposure.Standard, number int) {
	if !standard.Decided() {
		s.doc.Add(doc.Notice{Title: standard.Point.Is.Name.String(), Text: templates.Sewer.Unsettled, Emphasis: doc.Caution})
	}
	for i, r := range standard.Readings {
		says := standard.Point.Is.Name.String() + ": " + r.Says + "."
		if len(r.If) > 0 {
			says = standard.Point.Is.Name.String() + ", if " + strings.Join(r.If, ", and ") + ": " + r.Says + "."
		}
		t := doc.Table{
			Name: TableName(TableName("reasons", number), i+1), Caption: says, Empty: "No reason is recorded.",
			Columns: []doc.Column{{Name: "step", Head: "Step", Numeric: true}, {Name: "reason", Head: "Reason"}, {Name: "fact", Head: "Fact of the book"}, {Name: "entry", Head: "Entry", Numeric: true}},
		}
		for n, reason := range r.Reasons {
			t.Rows = append(t.Rows, []doc.Cell{
				doc.Number{Is: float64(n + 1)}, doc.Text{Is: reason.Says, Cites: Cite(s.doc, reason.Ref)}, letterhead.Words(reason.Fact), letterhead.Entry(reason.Entry),
			})
		}
		s.doc.Add(t)
	}
	var weak doc.List
	for _, m := range standard.Missing {
		weak.Items = append(weak.Items, doc.Text{Is: m.What + ": " + m.Mend, Emphasis: doc.Caution})
	}
	for _, c := range standard.Caveats {
		weak.Items = append(weak.Items, doc.Text{Is: string(c)})
	}
	if len(weak.Items) > 0 {
		s.doc.Add(weak)
	}
}

// choices are the limits that may stand in for others, those of several sets
// together.
func (s *Sections) choices(standards []exposure.Standard) {
	t := doc.Table{
		Name: "choices",
		Columns: []doc.Column{
			{Name: "what", Head: "Limits"}, {Name: "of", Head: "Of"}, {Name: "condition", Head: "On condition"}, {Name: "open", Head: "What the book leaves open"},
		},
	}
	for _, standard := range standards {
		for _, c := range standard.Choices {
			var of []string
			for _, f := range c.Figures {
				if !slices.Contains(of, string(f.Set)) {
					of = append(of, string(f.Set))
				}
			}
			t.Rows = append(t.Rows, []doc.Cell{
				doc.Text{Is: c.Title, Cites: Cite(s.doc, c.Ref)}, letterhead.Words(strings.Join(of, ", ")), letterhead.Words(c.Condition),
				letterhead.Words(strings.Join(c.Open, "; ")),
			})
		}
	}
	if len(t.Rows) > 0 {
		s.doc.Section(2, templates.Sewer.Choices)
		s.doc.Add(doc.Paragraph{Text: templates.Sewer.ChoicesNote}, t)
	}
}

func (s *Sections) limits() doc.Table {
	t := doc.Table{
		Name: "limits_in_force", Empty: templates.Sewer.NoLimits,
		Columns: []doc.Column{
			{Name: "point", Head: "Point"}, {Name: "pollutant", Head: "Pollutant"}, {Name: "rule", Head: "Rule"},
			{Name: "limit", Head: "Limit", Numeric: true}, {Name: "mark", Head: "Strictest"}, {Name: "by", Head: "Set by"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, l := range s.found.Results.Limits {
		mark := doc.Cell(doc.Blank{})
		if l.Strictest {
			mark = doc.Text{Is: "*"}
		}
		by := origin(l)
		if note := limitNote(l); note != "" {
			by += "; " + note
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: l.Point.String()}, doc.Text{Is: string(l.Pollutant)}, doc.Text{Is: string(l.Rule)}, doc.Text{Is: l.Text}, mark,
			doc.Text{Is: by, Cites: Cite(s.doc, l.Ref)}, letterhead.Entry(l.Entry),
		})
	}
	return OnePlace(t, "point")
}

// origin says who sets a limit, and by which sets of the published ones.
func origin(l exposure.LimitInForce) string {
	if l.Entry != 0 {
		return l.Document.String()
	}
	var sets []string
	for _, set := range l.Sets {
		sets = append(sets, string(set))
	}
	return l.Origin.String() + ": " + strings.Join(sets, ", ")
}

func limitNote(l exposure.LimitInForce) string {
	var notes []string
	if len(l.If) > 0 {
		notes = append(notes, "binds only if "+strings.Join(l.If, "; or "))
	}
	if l.Apart != "" {
		notes = append(notes, l.Apart)
	}
	return strings.Join(notes, "; ")
}
