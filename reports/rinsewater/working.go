package rinsewater

import (
	"slices"
	"strings"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

// working shows how the figures came about: of the bath behind the first way, of
// each rinse, and of the metals of each bath.
func (b *builder) working() {
	w := templates.RinseWater
	b.doc.Section(1, w.Working)
	b.doc.Add(doc.Paragraph{Text: w.WorkingNote})
	b.workingFirst()
	b.workingLetIn()
	b.doc.Section(2, w.WorkingRinses)
	rinses := steps("rinse_steps")
	for _, r := range b.found.Water.Rinses {
		b.rinseSteps(&rinses, r)
	}
	b.doc.Add(rinses.table)
	b.caveats(rinses)
	b.doc.Section(2, w.WorkingBaths)
	baths := steps("bath_steps")
	b.bathSteps(&baths)
	b.doc.Add(baths.table)
	b.caveats(baths)
}

// caveats lists what weakens the figures, each with all that it is about.
func (b *builder) caveats(l stepList) {
	var list doc.List
	for _, c := range l.weak {
		list.Items = append(list.Items, doc.Text{Is: strings.Join(l.of[c], ", ") + ": " + string(c)})
	}
	if len(list.Items) > 0 {
		b.doc.Add(doc.Paragraph{Text: templates.RinseWater.Weak}, list)
	}
}

// stepList is one row for each formula that was worked out, each once for its
// thing, and the caveats of them all.
type stepList struct {
	table doc.Table
	weak  []working.Caveat
	of    map[working.Caveat][]string
	seen  map[string]bool
}

func steps(name string) stepList {
	return stepList{seen: map[string]bool{}, of: map[working.Caveat][]string{}, table: doc.Table{
		Name: name, Empty: templates.RinseWater.NothingWorked,
		Columns: []doc.Column{
			{Name: "of", Head: "Of"}, {Name: "figure", Head: "Figure"}, {Name: "formula", Head: "Formula"}, {Name: "with", Head: "With"}, {Name: "result", Head: "Result"},
		},
	}}
}

func addSteps[Q any](b *builder, l *stepList, of, figure string, e working.Estimate[Q]) {
	if !e.Known() {
		return
	}
	for _, c := range e.Caveats() {
		if l.of[c] == nil {
			l.weak = append(l.weak, c)
		}
		if !slices.Contains(l.of[c], of) {
			l.of[c] = append(l.of[c], of)
		}
	}
	for _, s := range e.Steps() {
		with, cites := b.inputs(s.Inputs)
		key := of + "\t" + s.Formula + "\t" + with + "\t" + s.Result
		if l.seen[key] {
			continue
		}
		l.seen[key] = true
		l.table.Rows = append(l.table.Rows, []doc.Cell{
			doc.Text{Is: of}, doc.Text{Is: figure}, doc.Text{Is: s.Formula, Cites: sewer.Cite(b.doc, s.Ref)}, doc.Text{Is: with, Cites: cites}, doc.Text{Is: s.Result},
		})
	}
}

// inputs prints what stood for each symbol; what the shop recorded is named by
// its entry, what was published by the number of its source.
func (b *builder) inputs(inputs []working.Input) (text string, cites []int) {
	var parts []string
	for _, in := range inputs {
		part := in.Symbol + " = " + in.Value
		if in.What != "" {
			part += " (" + in.What + ")"
		}
		if in.Ref.Standing == source.ShopRecord {
			part += ", " + in.Ref.Place
		}
		cites = append(cites, sewer.Cite(b.doc, in.Ref)...)
		parts = append(parts, part)
	}
	return strings.Join(parts, "; "), slices.Compact(cites)
}

func (b *builder) rinseSteps(l *stepList, r exposure.RinseUse) {
	of := sewer.Chain(r.Tanks)
	addSteps(b, l, of, "what comes in", r.Incoming)
	addSteps(b, l, of, "drag-in", r.DragIn)
	addSteps(b, l, of, "ratio now", r.Ratio)
	addSteps(b, l, of, "ratio wanted", r.Wanted)
	addSteps(b, l, of, "flow needed", r.Needed)
	addSteps(b, l, of, "the usual rule", r.RootRule)
	addSteps(b, l, of, "turnover", r.Turnover)
	if r.Still != nil {
		addSteps(b, l, of, "loads to what is wanted", r.Still.ToTarget)
	}
}

// bathSteps are those of the metals of each bath in the last span with work.
func (b *builder) bathSteps(l *stepList) {
	last := map[string]exposure.DragOut{}
	var order []string
	for _, d := range b.found.Water.DragOuts {
		key := d.Tank.Meaning()
		if _, known := last[key]; !known {
			order = append(order, key)
		}
		if d.Last >= last[key].Last {
			last[key] = d
		}
	}
	for _, key := range order {
		d := last[key]
		for _, m := range d.Metals {
			figure := m.Metal + ", " + d.First.String() + " to " + d.Last.String()
			if len(m.Concentration.Steps()) == 0 {
				l.table.Rows = append(l.table.Rows, []doc.Cell{
					doc.Text{Is: d.Tank.String()}, doc.Text{Is: figure}, doc.Text{Is: "taken as it stands"},
					doc.Text{Is: strings.TrimSuffix(m.Concentration.Origin().String()+", "+m.Concentration.Ref().Place, ", ")}, doc.Text{Is: m.Concentration.Text()},
				})
				continue
			}
			addSteps(b, l, d.Tank.String(), figure, m.Concentration)
		}
	}
}

// workingFirst shows the drag-out of the bath behind the first way, span by
// span, and what the bath loses.
func (b *builder) workingFirst() {
	ranked := b.ranked()
	if len(ranked) == 0 {
		return
	}
	r, ok := b.behind(ranked[0])
	if !ok || r.After == "" {
		return
	}
	w := templates.RinseWater
	b.doc.Section(2, w.WorkingFirst)
	l := steps("first_steps")
	for _, d := range b.drags() {
		f := d.film()
		if d.rows[0].Tank.Meaning() != r.After.Meaning() {
			continue
		}
		addSteps(b, &l, r.After.String(), "film: "+f.Way.String(), f.PerArea)
		addSteps(b, &l, r.After.String(), "film: "+f.Way.String(), f.PerLoad)
	}
	addSteps(b, &l, sewer.Chain(r.Tanks), "kept by the way", ranked[0].Caught)
	for _, e := range b.found.Evaporations {
		if e.Tank.Meaning() == r.After.Meaning() {
			addSteps(b, &l, r.After.String(), "water lost", e.Day)
		}
	}
	b.doc.Add(l.table)
	b.caveats(l)
	b.doc.Section(3, w.Spans)
	b.doc.Add(doc.Paragraph{Text: w.SpansNote}, b.spans(r))
}

// workingLetIn shows how slowly a dump is to be let in.
func (b *builder) workingLetIn() {
	l := steps("let_in_steps")
	for _, way := range b.ranked() {
		addSteps(b, &l, sewer.Chain(way.Of), "let in at most", way.LetIn)
	}
	if len(l.table.Rows) == 0 {
		return
	}
	b.doc.Section(2, templates.RinseWater.WorkingLetIn)
	b.doc.Add(l.table)
	b.caveats(l)
}

func (b *builder) spans(r exposure.RinseUse) doc.Table {
	t := doc.Table{
		Name: "spans", Empty: templates.RinseWater.NoDragOut,
		Columns: []doc.Column{
			{Name: "first", Head: "First"}, {Name: "last", Head: "Last"}, {Name: "drainage", Head: "Work drains"}, {Name: "entries", Head: "Entries of work", Numeric: true},
			{Name: "volume", Head: "Drag-out", Unit: b.in.Volume, Numeric: true}, {Name: "metal", Head: "Metal"},
			{Name: "bath", Head: "In the bath", Unit: "g/L", Numeric: true},
			{Name: "mass", Head: "Dragged out", Unit: "g", Numeric: true, Formula: "{volume}*" + b.in.Litres(b.doc) + "*{bath}"},
		},
	}
	for _, d := range b.found.Water.DragOuts {
		if d.Tank.Meaning() != r.After.Meaning() || !d.Volume.Known() {
			continue
		}
		for _, m := range d.Metals {
			if m.Metal != r.Lead || !m.Mass.Known() {
				continue
			}
			t.Rows = append(t.Rows, []doc.Cell{
				letterhead.Day(d.First, ""), letterhead.Day(d.Last, ""), letterhead.Words(string(d.Drainage)), doc.Number{Is: float64(len(d.Entries))},
				sewer.Estimate(d.Volume, working.Likely, b.in.Volume), doc.Text{Is: m.Metal}, sewer.Estimate(m.Concentration, working.Likely, "g/L"),
				sewer.Live(sewer.Number(m.Mass.Is().Grams())),
			})
		}
	}
	return t
}
