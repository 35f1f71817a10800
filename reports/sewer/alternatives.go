package sewer

import (
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// withWaters appends the federal limits with the shop's other waters, and names
// those that raise none.
func (s *Sections) withWaters() {
	w := templates.Sewer
	var behind doc.List
	if s.found.Water != nil {
		for _, b := range s.found.Water.BehindTreatment(s.found.Results.Limits) {
			behind.Items = append(behind.Items, doc.Text{Is: b.Point.String() + ": " + w.Behind + " " + strings.Join(b.Waters, "; ") + "."})
		}
	}
	if len(s.found.Combined)+len(behind.Items) == 0 {
		return
	}
	s.doc.Section(2, w.Combined)
	if len(s.found.Combined) > 0 {
		s.doc.Add(doc.Paragraph{Text: w.CombinedNote}, s.combined())
	}
	if len(behind.Items) > 0 {
		s.doc.Add(behind)
	}
}

func (s *Sections) combined() doc.Table {
	t := doc.Table{
		Name: "combined_limits",
		Columns: []doc.Column{
			{Name: "point", Head: "Point"}, {Name: "pollutant", Head: "Pollutant"}, {Name: "rule", Head: "Rule"}, {Name: "limit", Head: "Limit", Numeric: true},
			{Name: "with", Head: "With the other waters", Unit: "mg/L", Numeric: true}, {Name: "waters", Head: "Other waters"},
		},
	}
	for _, c := range s.found.Combined {
		with := Estimate(c.Result, working.Likely, "mg/L")
		if n, ok := with.(doc.Number); ok {
			n.Cites = Cite(s.doc, c.Result.Ref())
			with = n
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: c.Limit.Point.String()}, doc.Text{Is: string(c.Limit.Pollutant)}, doc.Text{Is: string(c.Limit.Rule)}, doc.Text{Is: c.Limit.Text}, with,
			doc.Text{Is: strings.Join(c.Waters, "; ")},
		})
	}
	return OnePlace(OnePlace(t, "waters"), "point")
}

// cyanide appends the limits on cyanide for a sample of the whole effluent.
func (s *Sections) cyanide() {
	if s.found.Water == nil {
		return
	}
	w := templates.Sewer
	adjusted := s.found.Water.CyanideLimits(s.found.Results.Limits)
	if adjusted.None {
		s.doc.Add(doc.Paragraph{Text: w.NoCyanide})
	}
	if len(adjusted.Limits) == 0 {
		return
	}
	s.doc.Section(2, w.Cyanide)
	s.doc.Add(doc.Paragraph{Text: w.CyanideNote}, s.adjusted(adjusted.Limits))
	for _, c := range adjusted.Caveats() {
		s.doc.Add(doc.Paragraph{Text: string(c) + "."})
	}
}

func (s *Sections) adjusted(limits []exposure.CyanideLimit) doc.Table {
	flow := s.Units.Volume + "/day"
	t := doc.Table{
		Name: "cyanide_limits",
		Columns: []doc.Column{
			{Name: "point", Head: "Point"}, {Name: "pollutant", Head: "Pollutant"}, {Name: "rule", Head: "Rule"}, {Name: "limit", Head: "Limit", Numeric: true},
			{Name: "bears", Head: "Bears cyanide", Unit: flow, Numeric: true}, {Name: "effluent", Head: "Effluent", Unit: flow, Numeric: true},
			{Name: "adjusted", Head: "Adjusted", Unit: "mg/L", Numeric: true}, {Name: "rinses", Head: "Rinses"}, {Name: "baths", Head: "Behind"},
		},
	}
	for _, c := range limits {
		rule := string(c.Limit.Rule)
		if note := limitNote(c.Limit); note != "" {
			rule += "; " + note
		}
		limit := Estimate(c.Result, working.Likely, "mg/L")
		if n, ok := limit.(doc.Number); ok {
			n.Cites = Cite(s.doc, c.Result.Ref())
			limit = n
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: c.Limit.Point.String()}, doc.Text{Is: string(c.Limit.Pollutant)}, doc.Text{Is: rule}, doc.Text{Is: c.Limit.Text},
			Estimate(c.Bearing, working.Likely, flow), Estimate(c.Effluent, working.Likely, flow), limit, letterhead.Words(names(c.Rinses)), letterhead.Words(names(c.Baths)),
		})
	}
	return OnePlace(t, "point")
}

func names(of []chemicals.Name) string {
	var all []string
	for _, n := range of {
		all = append(all, n.String())
	}
	return strings.Join(all, ", ")
}
