package rinsewater

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

func (b *builder) balance() {
	w := templates.RinseWater
	b.doc.Section(1, w.Balance)
	b.doc.Add(doc.Paragraph{Text: w.BalanceNote}, b.balanceSums(), b.balanceLines())
}

func (b *builder) balanceLines() doc.Table {
	t := doc.Table{
		Name: "balance", Empty: templates.RinseWater.NoBalance,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "line", Head: "Line"}, {Name: "way", Head: "Came or went"},
			{Name: "low", Head: "Low", Unit: "g", Numeric: true}, {Name: "likely", Head: "Likely", Unit: "g", Numeric: true}, {Name: "high", Head: "High", Unit: "g", Numeric: true},
			{Name: "how", Head: "How it is known"},
		},
	}
	for _, balance := range b.found.Balances {
		for _, l := range balance.Lines {
			if l.Why == "" && l.Grams == (exposure.Spread{}) {
				continue
			}
			row := []doc.Cell{doc.Text{Is: balance.Metal}, doc.Text{Is: l.What}, doc.Text{Is: cameOrWent(l)}}
			if l.Why != "" {
				t.Rows = append(t.Rows, append(row, doc.Blank{}, doc.Blank{Why: l.Why}, doc.Blank{}, letterhead.Words(l.How)))
				continue
			}
			t.Rows = append(t.Rows, append(append(row, sewer.Spread(l.Grams)...), letterhead.Words(l.How)))
		}
	}
	return t
}

const (
	came = "came"
	went = "went"
)

func cameOrWent(l exposure.BalanceLine) string {
	if l.Comes {
		return came
	}
	return went
}

func (b *builder) balanceSums() doc.Table {
	sum := func(way string) string {
		return `SUMPRODUCT(({balance:metal}={metal})*({balance:way}="` + way + `"),{balance:likely})`
	}
	t := doc.Table{
		Name: "balance_sums", Caption: templates.RinseWater.BalanceSums, Empty: templates.RinseWater.NoBalance,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "came", Head: "Came", Unit: "g", Numeric: true, Formula: sum(came)},
			{Name: "went", Head: "Went", Unit: "g", Numeric: true, Formula: sum(went)},
			{Name: "open", Head: "Not explained", Unit: "g", Numeric: true, Formula: "{came}-{went}"},
			{Name: "part", Head: "Of what came", Unit: "%", Numeric: true, Formula: "100*{open}/{came}"},
			{Name: "shipped", Head: "Shipped, by assay", Unit: "g", Numeric: true}, {Name: "note", Head: "Note"},
		},
	}
	for _, balance := range b.found.Balances {
		var in, out float64
		for _, l := range balance.Lines {
			switch {
			case l.Why != "":
			case l.Comes:
				in += likely(l.Grams)
			default:
				out += likely(l.Grams)
			}
		}
		note := balance.ShippedHow
		if balance.Open {
			note = "a line is not known: what is not explained holds it too; " + note
		}
		part := doc.Cell(doc.Blank{})
		if in > 0 {
			part = sewer.Live(doc.Number{Is: 100 * (in - out) / in, Decimals: 1})
		}
		shipped := doc.Cell(doc.Blank{Why: "no assay"})
		if balance.Shipped != (exposure.Spread{}) {
			shipped = sewer.Number(likely(balance.Shipped))
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: balance.Metal}, sewer.Live(sewer.Number(in)), sewer.Live(sewer.Number(out)), sewer.Live(sewer.Number(in - out)), part, shipped, letterhead.Words(note),
		})
	}
	return t
}

func (b *builder) meters() {
	w := templates.RinseWater
	b.doc.Section(1, w.Meters)
	volume := b.in.Volume
	t := doc.Table{
		Name: "meters", Empty: w.NoMeters,
		Columns: []doc.Column{
			{Name: "meter", Head: "Meter"}, {Name: "serves", Head: "Serves"}, {Name: "first", Head: "First reading"}, {Name: "last", Head: "Last reading"},
			{Name: "longest", Head: "Longest between", Unit: "days", Numeric: true}, {Name: "metered", Head: "By the meter", Unit: volume, Numeric: true},
			{Name: "rated", Head: "By flows and hours", Unit: volume, Numeric: true},
			{Name: "share", Head: "Rated of metered", Unit: "%", Numeric: true, Formula: "100*{rated}/{metered}"},
			{Name: "rest", Head: "Metered, not rated", Unit: volume, Numeric: true, Formula: "{metered}-{rated}"}, {Name: "entries", Head: "Entries"},
		},
	}
	for _, m := range b.found.Meters {
		is := m.Meter.Is
		row := []doc.Cell{doc.Text{Is: is.Name.String()}, letterhead.Words(is.Serves.String()), letterhead.Day(m.Period.First, ""), letterhead.Day(m.Period.Last, "")}
		share, rest, entries := doc.Cell(doc.Blank{Why: m.Share.Why()}), doc.Cell(doc.Blank{}), doc.Cell(doc.Blank{})
		if m.Share.Known() {
			share = sewer.Live(doc.Number{Is: 100 * m.Share.Is(), Decimals: 1})
			rest = sewer.Live(b.volume((m.Metered.Is() - m.Rated.Is()).Litres()))
		}
		if m.First != 0 {
			entries = doc.Text{Is: doc.Number{Is: float64(m.First)}.String() + ", " + doc.Number{Is: float64(m.Last)}.String()}
		}
		t.Rows = append(t.Rows, append(row, doc.Number{Is: float64(m.Longest)}, sewer.Estimate(m.Metered, working.Likely, volume),
			sewer.Estimate(m.Rated, working.Likely, volume), share, rest, entries))
	}
	b.doc.Add(doc.Paragraph{Text: w.MetersNote}, t)
}

func (b *builder) evaporation() {
	w := templates.RinseWater
	b.doc.Section(2, w.Evaporation)
	volume := b.in.Volume
	flow, perHour := volume+"/h", "{hours}"
	t := doc.Table{
		Name: "evaporation", Empty: w.NoEvaporation,
		Columns: []doc.Column{
			{Name: "tank", Head: "Tank"}, {Name: "hours", Head: "Heated a day", Unit: "h", Numeric: true},
			{Name: "least", Head: "Loses: low", Unit: flow, Numeric: true}, {Name: "most", Head: "high", Unit: flow, Numeric: true},
			{Name: "low", Head: "In a day: low", Unit: volume, Numeric: true, Formula: "{least}*" + perHour},
			{Name: "high", Head: "high", Unit: volume, Numeric: true, Formula: "{most}*" + perHour},
			{Name: "dragged", Head: "Drag-out a day", Unit: volume, Numeric: true},
			{Name: "times", Head: "Low return for each drag-out", Numeric: true, Formula: "{low}/{dragged}"},
		},
	}
	dragged := map[string]float64{}
	for _, d := range b.found.Water.DragOuts {
		if d.Volume.Known() {
			dragged[d.Tank.Meaning()] += d.Volume.Is().Litres()
		}
	}
	for _, e := range b.found.Evaporations {
		drag, times := doc.Cell(doc.Blank{Why: "none known"}), doc.Cell(doc.Blank{})
		least, most := e.Low.Is().LitresPerHour(), e.High.Is().LitresPerHour()
		hours := e.Hours.Is().Hours()
		if litres := dragged[e.Tank.Meaning()]; litres > 0 {
			day := b.perDay(quantity.Volume(litres) * quantity.Litre).Litres()
			drag, times = b.volume(day), sewer.Live(sewer.Number(least*hours/day))
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: e.Tank.String(), Cites: sewer.Cite(b.doc, e.Low.Ref(), e.High.Ref())}, sewer.Number(hours), b.volume(least), b.volume(most),
			sewer.Live(b.volume(least * hours)), sewer.Live(b.volume(most * hours)), drag, times,
		})
	}
	b.doc.Add(doc.Paragraph{Text: w.EvaporationNote}, t)
}
