package sewer

import (
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// Waters appends the shop's other waters.
func (s *Sections) Waters(level int) {
	w := templates.Sewer
	s.doc.Section(level, w.Waters)
	t := doc.Table{
		Name: "other_waters", Empty: w.NoWaters,
		Columns: []doc.Column{
			{Name: "name", Head: "Water"}, {Name: "title", Head: "In words"}, {Name: "point", Head: "Leaves at"}, {Name: "kind", Head: "Sorted as"},
			{Name: "joins", Head: "Joins"},
			{Name: "flow", Head: "Flow while it runs", Numeric: true}, {Name: "hours", Head: "On a working day", Numeric: true}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, o := range chemicals.Facts[chemicals.OtherWater](s.shop) {
		if o.From > min(s.shop.Period.Last, s.shop.AsOf) || o.Until.Known() && o.Until < s.shop.Period.First {
			continue
		}
		name := o.Is.Name.String()
		if o.Until.Known() && o.Until < s.shop.AsOf {
			name += ", until " + o.Until.String()
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: name}, letterhead.Words(o.Is.Title.String()), doc.Text{Is: o.Is.Point.String()}, doc.Text{Is: string(o.Is.Kind)}, joins(o.Is),
			letterhead.Written(o.Is.Flow, ""), letterhead.Written(o.Is.Hours, "a day's mean"), letterhead.Entry(o.Entry),
		})
	}
	s.doc.Add(doc.Paragraph{Text: w.WatersNote}, t)
}

// joins says where other water meets that of the rinses.
func joins(o chemicals.OtherWater) doc.Cell {
	if o.Joins == "" {
		return doc.Blank{Why: "not recorded"}
	}
	return doc.Text{Is: string(o.Joins)}
}

// Treatment appends what the shop's own treatment took out, with reagents and
// sludge.
func (s *Sections) Treatment(level int) {
	w := templates.Sewer
	s.doc.Section(level, w.Treatment)
	s.doc.Add(doc.Paragraph{Text: w.TreatmentNote})
	if len(s.found.Treatments) == 0 {
		s.doc.Add(doc.Paragraph{Text: w.NoTreatment})
	}
	for i, t := range s.found.Treatments {
		s.doc.Add(s.takenOut(t, i+1), s.reagents(t, i+1))
		if len(t.Left) > 0 {
			s.doc.Add(doc.Paragraph{Text: "Not in these figures: " + strings.Join(t.Left, ", ") + "."})
		}
		for _, note := range t.Notes {
			s.doc.Add(doc.Paragraph{Text: note + "."})
		}
	}
}

func (s *Sections) takenOut(of exposure.Treatment, number int) doc.Table {
	t := doc.Table{
		Name: TableName("taken_out", number), Caption: of.Tank.String() + ": metal taken out", Empty: templates.Sewer.NoTreatment,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "low", Head: "Low", Unit: "g", Numeric: true}, {Name: "likely", Head: "Likely", Unit: "g", Numeric: true},
			{Name: "high", Head: "High", Unit: "g", Numeric: true},
		},
	}
	sum := [3]float64{}
	for _, m := range of.Metals {
		var spread exposure.Spread
		for c := range spread {
			spread[c] = m.Mass.At(working.Case(c)).Grams()
		}
		low, likely, high := Ordered(spread)
		sum[0], sum[1], sum[2] = sum[0]+low, sum[1]+likely, sum[2]+high
		t.Rows = append(t.Rows, append([]doc.Cell{doc.Text{Is: m.Metal}}, Number(low), Number(likely), Number(high)))
	}
	t.Totals = [][]doc.Cell{{doc.Text{Is: "All"}, Live(Number(sum[0])), Live(Number(sum[1])), Live(Number(sum[2]))}}
	return t
}

func (s *Sections) reagents(of exposure.Treatment, number int) doc.Table {
	unit := s.Units.Mass
	t := doc.Table{
		Name: TableName("reagents_and_sludge", number), Caption: templates.Sewer.Reagents + " and " + strings.ToLower(templates.Sewer.Sludge), Empty: templates.Sewer.NoSludge,
		Columns: []doc.Column{
			{Name: "what", Head: "What"}, {Name: "low", Head: "Low", Unit: unit, Numeric: true}, {Name: "likely", Head: "Likely", Unit: unit, Numeric: true},
			{Name: "high", Head: "High", Unit: unit, Numeric: true},
		},
	}
	for _, r := range of.Reagents {
		t.Rows = append(t.Rows, massRow(s.doc, "pure "+r.Name+", to precipitate all of it", r.Mass, unit))
	}
	if of.Dry.Known() {
		t.Rows = append(t.Rows, massRow(s.doc, "dry solids of the sludge", of.Dry, unit))
	}
	if of.Cake.Known() {
		t.Rows = append(t.Rows, massRow(s.doc, "filter cake with solids of "+input(of.Cake, "s"), of.Cake, unit))
	}
	return t
}

// massRow is a mass with its range, and the sources of its working.
func massRow(d *doc.Document, what string, m working.Estimate[quantity.Mass], unit string) []doc.Cell {
	var refs []source.Ref
	for _, step := range m.Steps() {
		refs = append(refs, step.Ref)
	}
	row := []doc.Cell{doc.Text{Is: what, Cites: Cite(d, refs...)}}
	for _, c := range []working.Case{working.Low, working.Likely, working.High} {
		row = append(row, Figure(m.At(c), unit))
	}
	return row
}

// input is what stood for a symbol in the last step of an estimate.
func input[Q any](e working.Estimate[Q], symbol string) string {
	steps := e.Steps()
	if len(steps) == 0 {
		return "a share not told"
	}
	for _, in := range steps[len(steps)-1].Inputs {
		if in.Symbol == symbol {
			return in.Value
		}
	}
	return "a share not told"
}

// Holds appends the hold tanks and the days on which they are full.
func (s *Sections) Holds(level int) {
	w := templates.Sewer
	s.doc.Section(level, w.Holds)
	unit := s.Units.Volume
	t := doc.Table{
		Name: "hold_tanks", Empty: w.NoHolds,
		Columns: []doc.Column{
			{Name: "tank", Head: "Tank"}, {Name: "title", Head: "In words"}, {Name: "holds", Head: "Holds", Unit: unit, Numeric: true},
			{Name: "level", Head: "Last level", Unit: unit, Numeric: true}, {Name: "on", Head: "Read"},
			{Name: "filling", Head: "Filling on a day with work", Unit: unit, Numeric: true}, {Name: "days", Head: "Mean of days", Numeric: true},
			{Name: "full", Head: "Full on"},
		},
	}
	for _, h := range s.found.Holds {
		is := h.Tank.Is
		holds, level, on := doc.Cell(doc.Blank{Why: "not recorded"}), doc.Cell(doc.Blank{Why: "not read"}), doc.Cell(doc.Blank{})
		if is.WorkingVolume.Known() {
			holds = Figure(is.WorkingVolume.Is(), unit)
		}
		if h.Level != nil {
			level, on = Figure(h.Level.Is.Volume.Is(), unit), letterhead.Day(h.Level.Date, "")
		}
		full := letterhead.Day(h.Full, h.Why)
		if d, ok := full.(doc.Date); ok {
			d.Emphasis = Caution(h.Full.Since(s.shop.AsOf) <= daysAhead)
			full = d
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: is.Name.String()}, letterhead.Words(is.Title.String()), holds, level, on, Estimate(h.Filling, working.Likely, unit),
			doc.Number{Is: float64(h.Days)}, full,
		})
	}
	s.doc.Add(doc.Paragraph{Text: w.HoldsNote}, t)
}

// daysAhead is how long before a tank is full the day is marked, so that a
// pick-up can be ordered.
const daysAhead = 30

// Shipments appends the waste that was shipped or came back in the period.
func (s *Sections) Shipments(level int) {
	w := templates.Sewer
	s.doc.Section(level, w.Shipments)
	streams := map[string]chemicals.WasteStream{}
	for _, f := range chemicals.Facts[chemicals.WasteStream](s.shop) {
		streams[f.Is.Name.Meaning()] = f.Is
	}
	t := doc.Table{
		Name: "shipments", Empty: w.NoShipments,
		Columns: []doc.Column{
			{Name: "date", Head: "Date"}, {Name: "stream", Head: "Waste"}, {Name: "codes", Head: "Codes"}, {Name: "event", Head: "Event"},
			{Name: "amount", Head: "Amount", Numeric: true}, {Name: "container", Head: "Container"}, {Name: "manifest", Head: "Manifest"},
			{Name: "receiver", Head: "Receiver"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, e := range chemicals.Events[chemicals.WasteMove](s.shop) {
		if !s.shop.Period.Holds(e.Date) || e.Is.Event != chemicals.WasteShipped && e.Is.Event != chemicals.WasteReturned {
			continue
		}
		stream := streams[e.Is.Stream.Meaning()]
		var codes []string
		for _, c := range stream.Codes {
			codes = append(codes, c.String())
		}
		name := e.Is.Stream.String()
		if stream.Title.Known() {
			name = stream.Title.String()
		}
		t.Rows = append(t.Rows, []doc.Cell{
			letterhead.Day(e.Date, ""), doc.Text{Is: name}, letterhead.Words(strings.Join(codes, ", ")), doc.Text{Is: string(e.Is.Event)},
			letterhead.Written(e.Is.Amount, "not recorded"), letterhead.Words(e.Is.Container.String()), manifest(e.Is),
			letterhead.Words(e.Is.Receiver.String()), letterhead.Entry(e.Entry),
		})
	}
	s.doc.Add(doc.Paragraph{Text: w.ShipmentsNote}, t)
}

func manifest(m chemicals.WasteMove) doc.Cell {
	if !m.Manifest.Known() {
		return doc.Blank{Why: "not recorded"}
	}
	return doc.Text{Is: m.Manifest.String()}
}
