package rinsewater

import (
	"math"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

func (b *builder) rinses() {
	w := templates.RinseWater
	b.doc.Section(1, w.Rinses)
	b.doc.Section(2, w.Now)
	b.doc.Add(b.now())
	b.doc.Section(2, w.Wanted)
	b.doc.Add(doc.Paragraph{Text: w.RinsesNote}, b.flows())
	if l := b.untold(); len(l.Items) > 0 {
		b.doc.Add(l)
	}
	b.doc.Section(2, w.Stages)
	b.doc.Add(doc.Paragraph{Text: w.StagesNote}, b.stages())
	b.doc.Section(2, w.Still)
	b.doc.Add(doc.Paragraph{Text: w.StillNote}, b.stills())
}

// now is how each rinse with running water runs.
func (b *builder) now() doc.Table {
	t := doc.Table{
		Name: "rinses", Empty: templates.RinseWater.NoRinses,
		Columns: []doc.Column{
			{Name: "rinse", Head: "Rinse"}, {Name: "arrangement", Head: "Set up"}, {Name: "after", Head: "Behind"},
			{Name: "low", Head: "Drag-in a day: low", Unit: b.in.Volume, Numeric: true}, {Name: "likely", Head: "likely", Unit: b.in.Volume, Numeric: true},
			{Name: "high", Head: "high", Unit: b.in.Volume, Numeric: true}, {Name: "flow", Head: "Flow", Unit: b.in.Flow, Numeric: true},
			{Name: "hours", Head: "Runs", Unit: "h", Numeric: true}, {Name: "ratio", Head: "Ratio it gives", Numeric: true},
			{Name: "turnover", Head: "A stage turns over in", Unit: "h", Numeric: true},
		},
	}
	for _, r := range b.found.Water.Rinses {
		if r.Still != nil {
			continue
		}
		turnover := sewer.Estimate(r.Turnover, working.Likely, "h")
		if n, ok := turnover.(doc.Number); ok {
			n.Emphasis = sewer.Caution(r.LowerOnly)
			turnover = n
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: sewer.Chain(r.Tanks)}, doc.Text{Is: setUp(r)}, letterhead.Words(r.After.String()),
			sewer.Estimate(r.DragInDay, working.Low, b.in.Volume), sewer.Estimate(r.DragInDay, working.Likely, b.in.Volume), sewer.Estimate(r.DragInDay, working.High, b.in.Volume),
			sewer.Estimate(r.Water, working.Likely, b.in.Flow), b.hours(r), sewer.Ratio(r.Ratio, working.Likely), turnover,
		})
	}
	return t
}

func setUp(r exposure.RinseUse) string {
	if n := len(r.Tanks); n > 1 {
		return "counterflow of " + doc.Number{Is: float64(n)}.String()
	}
	return string(r.Set.Is.Arrangement)
}

// flows is the water that is wanted. The check puts the flow needed back: q is
// water for each volume of drag-in, n the stages.
func (b *builder) flows() doc.Table {
	flow := b.in.Flow
	t := doc.Table{
		Name: "flows_needed", Empty: templates.RinseWater.NoRinses,
		Columns: []doc.Column{
			{Name: "rinse", Head: "Rinse"}, {Name: "metal", Head: "By"}, {Name: "wanted", Head: "Ratio wanted", Numeric: true},
			{Name: "dragged", Head: "Drag-in a day", Unit: b.in.Volume, Numeric: true}, {Name: "hours", Head: "Runs", Unit: "h", Numeric: true},
			{Name: "stages", Head: "Stages", Numeric: true}, {Name: "mixing", Head: "Mixing", Numeric: true},
			{Name: "needed", Head: "Flow needed", Unit: flow, Numeric: true},
			{Name: "check", Head: "Check: ratio", Numeric: true, Formula: "{mixing}*((" + b.perDrag() + ")^({stages}+1)-1)/((" + b.perDrag() + ")-1)"},
			{Name: "most", Head: "needed, high drag-in", Unit: flow, Numeric: true}, {Name: "root", Head: "Usual rule gives", Unit: flow, Numeric: true},
		},
	}
	for _, r := range b.found.Water.Rinses {
		if r.Still == nil {
			t.Rows = append(t.Rows, b.flowRow(r))
		}
	}
	return t
}

// perDrag is water for each volume of drag-in, as a formula.
func (b *builder) perDrag() string {
	return "{needed}*" + quantity.Plain(b.in.Hourly) + "*{hours}/{dragged}"
}

func (b *builder) flowRow(r exposure.RinseUse) []doc.Cell {
	hours := b.hours(r)
	mixing := 1.0
	if r.Feed.Is.Mixing.Known() {
		mixing = r.Feed.Is.Mixing.Fraction()
	}
	row := []doc.Cell{
		doc.Text{Is: sewer.Chain(r.Tanks)}, letterhead.Words(r.Lead), sewer.Ratio(r.Wanted, working.Likely), sewer.Estimate(r.DragInDay, working.Likely, b.in.Volume), hours,
		doc.Number{Is: float64(len(r.Tanks))}, doc.Number{Is: mixing, Decimals: 2},
	}
	if !r.Needed.Known() {
		return append(row, doc.Blank{Why: "see the note"}, doc.Blank{}, doc.Blank{}, doc.Blank{})
	}
	return append(row, sewer.Estimate(r.Needed, working.Likely, b.in.Flow), b.check(r, mixing, hours), high(r.Needed, b.in.Flow),
		short(sewer.Estimate(r.RootRule, working.Likely, b.in.Flow)))
}

// untold says of which rinses the flow needed cannot be told, and why.
func (b *builder) untold() doc.List {
	var l doc.List
	for _, r := range b.found.Water.Rinses {
		if r.Still == nil && !r.Needed.Known() {
			l.Items = append(l.Items, doc.Text{Is: names(r.Tanks) + ": " + r.Needed.Why(), Emphasis: doc.Caution})
		}
	}
	return l
}

// short leaves the reason of an absent figure to the cell before it.
func short(c doc.Cell) doc.Cell {
	if _, ok := c.(doc.Blank); ok {
		return doc.Blank{}
	}
	return c
}

func high[Q quantity.Any](e working.Estimate[Q], unit string) doc.Cell {
	if !e.Known() || !e.Spread() {
		return doc.Blank{}
	}
	return sewer.Number(max(sewer.In(e.At(working.Low), unit), sewer.In(e.At(working.High), unit)))
}

func (b *builder) hours(r exposure.RinseUse) doc.Cell {
	firm, _ := b.shop.Firm()
	hours := r.Feed.Is.Hours
	if !hours.Known() {
		hours = firm.Is.HoursPerDay
	}
	if !hours.Known() {
		return doc.Blank{Why: "not recorded"}
	}
	return sewer.Figure(hours.Is(), "h")
}

// check is the ratio that the flow needed gives, from the figures of its row.
func (b *builder) check(r exposure.RinseUse, mixing float64, hours doc.Cell) doc.Cell {
	h, ok := hours.(doc.Number)
	if !ok || !r.Needed.Known() || !r.DragInDay.Known() || r.DragInDay.Is() <= 0 {
		return doc.Blank{}
	}
	needed, dragged := sewer.In(r.Needed.Is(), b.in.Flow), sewer.In(r.DragInDay.Is(), b.in.Volume)
	q := needed * b.in.Hourly * h.Is / dragged
	if math.Abs(q-1) < 1e-6 { // the closed sum has no meaning there
		return doc.Blank{Why: "as much water as drag-in"}
	}
	return sewer.Live(sewer.Number(mixing * (math.Pow(q, float64(len(r.Tanks)+1)) - 1) / (q - 1)))
}

func (b *builder) stages() doc.Table {
	t := doc.Table{
		Name: "stages", Empty: templates.RinseWater.NoStages,
		Columns: []doc.Column{
			{Name: "rinse", Head: "Rinse"}, {Name: "stage", Head: "Stage"}, {Name: "metal", Head: "Metal"},
			{Name: "incoming", Head: "On the work that comes in", Unit: "g/L", Numeric: true},
			{Name: "steady", Head: "Steady", Unit: "mg/L", Numeric: true}, {Name: "heavy", Head: "After the heaviest day", Unit: "mg/L", Numeric: true},
			{Name: "most", Head: "high", Unit: "mg/L", Numeric: true}, {Name: "day", Head: "Heaviest day"}, {Name: "loads", Head: "Loads", Numeric: true},
			{Name: "dragged", Head: "Drag-in", Unit: b.in.Volume, Numeric: true},
		},
	}
	for _, r := range b.found.Water.Rinses {
		for i, tank := range r.Tanks {
			if r.Still != nil || r.Lead == "" || i >= len(r.Stages) && i >= len(r.Heavy) {
				continue
			}
			t.Rows = append(t.Rows, b.stage(r, i, tank))
		}
	}
	return t
}

func (b *builder) stage(r exposure.RinseUse, i int, tank chemicals.Name) []doc.Cell {
	steady, heavy, most := doc.Cell(doc.Blank{}), doc.Cell(doc.Blank{}), doc.Cell(doc.Blank{})
	if i < len(r.Stages) {
		steady = milligramsOf(r.Stages[i], working.Likely)
	}
	if i < len(r.Heavy) {
		heavy = milligramsOf(r.Heavy[i], working.Likely)
		if r.Heavy[i].Known() && r.Heavy[i].Spread() {
			most = milligramsOf(r.Heavy[i], working.High)
		}
	}
	loads := doc.Cell(doc.Blank{Why: "not said"})
	if r.HeavyLoads > 0 {
		loads = doc.Number{Is: float64(r.HeavyLoads)}
	}
	return []doc.Cell{
		doc.Text{Is: sewer.Chain(r.Tanks)}, doc.Text{Is: tank.String()}, doc.Text{Is: r.Lead}, sewer.Estimate(r.Incoming, working.Likely, "g/L"),
		steady, heavy, most, letterhead.Day(r.HeaviestDay, ""), loads, sewer.Estimate(r.Heaviest, working.Likely, b.in.Volume),
	}
}

// milligramsOf is the concentration of a rinse in mg/L.
func milligramsOf(e working.Estimate[quantity.BathConcentration], at working.Case) doc.Cell {
	if !e.Known() {
		return doc.Blank{Why: e.Why()}
	}
	return sewer.Number(1000 * sewer.In(e.At(at), "g/L"))
}

func (b *builder) stills() doc.Table {
	t := doc.Table{
		Name: "still_rinses", Empty: templates.RinseWater.NoStill,
		Columns: []doc.Column{
			{Name: "rinse", Head: "Rinse"}, {Name: "after", Head: "Behind"}, {Name: "since", Head: "Since"}, {Name: "loads", Head: "Loads", Numeric: true},
			{Name: "pace", Head: "Loads a day", Numeric: true}, {Name: "metal", Head: "Metal"},
			{Name: "holds", Head: "Holds now", Unit: "mg/L", Numeric: true}, {Name: "wanted", Head: "Wanted at most"},
			{Name: "target", Head: "Loads to it, from clean", Numeric: true},
			{Name: "left", Head: "Loads left", Numeric: true, Formula: "{target}-{loads}"}, {Name: "dump", Head: "Next dump"},
		},
	}
	for _, r := range b.found.Water.Rinses {
		if r.Still != nil {
			t.Rows = append(t.Rows, b.stillRow(r, *r.Still))
		}
	}
	return t
}

func (b *builder) stillRow(r exposure.RinseUse, s exposure.StillUse) []doc.Cell {
	holds := doc.Cell(doc.Blank{Why: "nothing by the record"})
	for _, m := range s.Metals {
		if m.Metal == r.Lead {
			holds = sewer.Number(1000 * likely(m.Concentration))
		}
	}
	since := letterhead.Day(s.Since, "not known")
	if !s.Known {
		since = doc.Text{Is: s.Since.String() + ", taken as clean", Emphasis: doc.Caution}
	}
	target, left := sewer.Ratio(s.ToTarget, working.Likely), doc.Cell(doc.Blank{})
	if s.ToTarget.Known() {
		n := sewer.Number(s.ToTarget.Is() - float64(s.Loads))
		n.Emphasis = sewer.Caution(n.Is <= 0)
		left = sewer.Live(n)
	}
	dump := letterhead.Day(s.NextDump, s.Why)
	return []doc.Cell{
		doc.Text{Is: sewer.Chain(r.Tanks)}, letterhead.Words(r.After.String()), since, doc.Number{Is: float64(s.Loads)}, sewer.Number(s.PerDay), letterhead.Words(r.Lead),
		holds, letterhead.Words(r.Set.Is.Wanted.String()), target, left, dump,
	}
}
