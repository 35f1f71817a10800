package sewer

import (
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// Monitoring appends the self-monitoring of the period as a form: what was due,
// every sample with its results, averages, shares, clocks, and what a signatory
// has to fill in.
func (s *Sections) Monitoring() {
	w := templates.Sewer
	s.doc.Section(1, w.Monitoring)
	s.doc.Add(doc.Paragraph{Text: w.MonitoringNote})
	s.doc.Section(2, w.Due)
	s.doc.Add(doc.Paragraph{Text: w.DueNote}, s.due())
	s.doc.Section(2, w.Taken)
	s.doc.Add(s.taken())
	s.doc.Section(2, w.Results)
	s.doc.Add(doc.Paragraph{Text: w.ResultsNote}, s.results())
	s.doc.Section(2, w.Analyses)
	s.doc.Add(s.analyses())
	s.doc.Section(2, w.Versus)
	s.doc.Add(doc.Paragraph{Text: w.VersusNote})
	for i, p := range s.points() {
		s.doc.Add(s.versusTable(p, i+1))
	}
	s.doc.Section(2, w.Averages)
	s.doc.Add(doc.Paragraph{Text: w.AveragesNote + " " + s.treated() + "."}, s.averages())
	s.doc.Section(2, w.Shares)
	s.doc.Add(doc.Paragraph{Text: w.SharesNote}, s.shares())
	s.doc.Section(2, w.Clocks)
	s.doc.Add(doc.Paragraph{Text: w.ClocksNote}, s.clocks())
}

func (s *Sections) treated() string {
	if s.found.Results.Treatment == 0 {
		return "none declared"
	}
	return s.found.Results.Treatment.String()
}

// dueRow is what was asked for of one pollutant at one point.
type dueRow struct {
	asked  exposure.ResultDue // the latest
	spans  int
	wrong  int
	missed []string
}

func (s *Sections) due() doc.Table {
	t := doc.Table{
		Name: "sampling_due", Empty: templates.Sewer.NoDue,
		Columns: []doc.Column{
			{Name: "point", Head: "Point"}, {Name: "pollutant", Head: "Pollutant"}, {Name: "every", Head: "One in each"},
			{Name: "type", Head: "Type"}, {Name: "document", Head: "Asked by"}, {Name: "spans", Head: "Spans", Numeric: true},
			{Name: "with", Head: "With a sample", Numeric: true, Formula: "{spans}-{missed}"},
			{Name: "missed", Head: "Without", Numeric: true}, {Name: "which", Head: "No sample found for"},
			{Name: "wrong", Head: "Of another type", Numeric: true},
		},
	}
	for _, r := range s.dueRows() {
		is := r.asked.Monitoring.Is
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: is.Point.String()}, doc.Text{Is: string(r.asked.Pollutant)}, doc.Text{Is: string(is.Every)}, letterhead.Words(string(is.Type)),
			letterhead.Words(is.Document.String()), doc.Number{Is: float64(r.spans)}, Live(doc.Number{Is: float64(r.spans - len(r.missed))}),
			doc.Number{Is: float64(len(r.missed)), Emphasis: Caution(len(r.missed) > 0)}, letterhead.Words(strings.Join(r.missed, ", ")),
			doc.Number{Is: float64(r.wrong), Emphasis: Caution(r.wrong > 0)},
		})
	}
	return OnePlace(t, "point")
}

func (s *Sections) dueRows() []*dueRow {
	var rows []*dueRow
	for _, d := range s.found.Results.Due {
		i := slices.IndexFunc(rows, func(r *dueRow) bool { return r.asked.Monitoring.Entry == d.Monitoring.Entry })
		if i < 0 {
			i = len(rows)
			rows = append(rows, &dueRow{})
		}
		r := rows[i]
		r.asked = d
		r.spans++
		if len(d.WrongType) > 0 {
			r.wrong++
		}
		if d.Missed() {
			r.missed = append(r.missed, spanName(d.Span))
		}
	}
	return rows
}

// spanName is a month by its name, any other span by its days.
func spanName(p chemicals.Period) string {
	first := p.First.Time()
	if first.Day() == 1 && p.Last == chemicals.DayOf(first.AddDate(0, 1, -1)) {
		return first.Format("2006-01")
	}
	if p.First == p.Last {
		return p.First.String()
	}
	return p.String()
}

// Certificate appends what a signatory fills in.
func (s *Sections) Certificate() {
	w := templates.Sewer
	s.doc.Section(2, w.Certify)
	s.doc.Add(doc.Paragraph{Text: w.CertifyNote}, doc.Fields{Items: []doc.Field{
		{Label: w.Statement, Value: doc.Blank{Why: w.Look}},
		{Label: "Period", Value: doc.Text{Is: s.shop.Period.String()}},
		{Label: "Mean flow of a day", Value: s.flow()},
		{Label: "Highest flow of a day", Value: s.highestFlow()},
	}}, doc.SignOff{Statement: w.Statement + ":", Room: 4, Roles: []string{w.Signatory}})
}

// flow is the mean of the days with water, over all points.
func (s *Sections) flow() doc.Cell {
	return s.flowOf(func(p exposure.PointUse) quantity.Volume {
		if p.Whole.Days == 0 {
			return 0
		}
		return p.Whole.Water / quantity.Volume(p.Whole.Days)
	})
}

func (s *Sections) highestFlow() doc.Cell {
	return s.flowOf(func(p exposure.PointUse) quantity.Volume {
		var most quantity.Volume
		for _, d := range p.Days {
			most = max(most, d.Water)
		}
		return most
	})
}

func (s *Sections) flowOf(of func(exposure.PointUse) quantity.Volume) doc.Cell {
	var said []string
	if s.found.Water != nil {
		for _, p := range s.found.Water.Points {
			said = append(said, p.Point.Is.Name.String()+": "+quantity.Print(of(p), s.Units.Volume, 4)+", "+measuredHow(p))
		}
	}
	if len(said) == 0 {
		return doc.Blank{Why: "no water is known to leave at any point"}
	}
	return doc.Text{Is: strings.Join(said, "; ")}
}

func measuredHow(p exposure.PointUse) string {
	if p.Meter.Known() {
		return "by meter " + p.Meter.String()
	}
	return "by flows and hours"
}
