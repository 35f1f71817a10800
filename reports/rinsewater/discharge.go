package rinsewater

import (
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

func (b *builder) discharge() {
	w := templates.RinseWater
	b.doc.Section(1, w.Discharge)
	b.doc.Add(doc.Paragraph{Text: w.DischargeNote})
	if len(b.found.Water.Points) == 0 {
		b.doc.Add(doc.Paragraph{Text: w.NoDischarge})
	}
	for i, p := range b.found.Water.Points {
		b.doc.Section(2, pointName(p.Point.Is))
		b.doc.Add(b.waterLeft(p))
		if len(metalsAt(p)) == 0 {
			b.doc.Add(doc.Paragraph{Text: w.NothingThere})
			continue
		}
		b.doc.Add(b.senders(p, i+1), b.months(p, i+1), b.worst(p, i+1), doc.Paragraph{Text: w.WorstNote})
	}
	b.doc.Section(2, w.Precious)
	b.doc.Add(doc.Paragraph{Text: w.PreciousNote}, b.precious())
}

func pointName(p chemicals.Point) string {
	if p.Title.Known() {
		return p.Name.String() + ": " + p.Title.String()
	}
	return p.Name.String()
}

func (b *builder) waterLeft(p exposure.PointUse) doc.Fields {
	how := doc.Text{Is: "rated by flows and hours"}
	if p.Meter.Known() {
		metered := 0
		for _, d := range p.Days {
			if d.Metered {
				metered++
			}
		}
		how.Is = "by meter " + p.Meter.String() + " on " + doc.Number{Is: float64(metered)}.String() + " of the days, else rated by flows and hours; what a treatment leaves is reckoned by flows and hours"
	}
	water := b.volume(p.Whole.Water.Litres())
	water.Unit = b.in.Volume
	mean := sewer.Estimate(p.FlowPerDay(), 0, b.in.Volume+"/day")
	if n, ok := mean.(doc.Number); ok {
		n.Unit = b.in.Volume + "/day"
		mean = n
	}
	return doc.Fields{Items: []doc.Field{
		{Label: "Water that left in the period", Value: water}, {Label: "Days with water", Value: doc.Number{Is: float64(p.Whole.Days)}},
		{Label: "Mean of a day", Value: mean}, {Label: "Known", Value: how},
	}}
}

// metalsAt are the indexes of the metals that came to a point.
func metalsAt(p exposure.PointUse) []int {
	var all []int
	for m := range p.Metals {
		if p.Whole.Grams[m] != (exposure.Spread{}) {
			all = append(all, m)
		}
	}
	return all
}

func (b *builder) senders(p exposure.PointUse, number int) doc.Table {
	name := sewer.TableName("senders", number)
	t := doc.Table{
		Name: name, Caption: templates.RinseWater.Senders, Empty: templates.RinseWater.NothingThere,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "tank", Head: "From"}, {Name: "low", Head: "Low", Unit: "g", Numeric: true},
			{Name: "likely", Head: "Likely", Unit: "g", Numeric: true}, {Name: "high", Head: "High", Unit: "g", Numeric: true},
			{Name: "share", Head: "Of the metal", Unit: "%", Numeric: true, Formula: "100*{likely}/SUMPRODUCT(--({" + name + ":metal}={metal}),{" + name + ":likely})"},
		},
	}
	for _, m := range metalsAt(p) {
		all := 0.0
		for _, from := range p.Whole.From {
			all += likely(from.Grams[m])
		}
		for _, from := range mostFirst(p.Whole.From, m) {
			share := doc.Cell(doc.Blank{})
			if all > 0 {
				share = sewer.Live(doc.Number{Is: 100 * likely(from.Grams[m]) / all, Decimals: 1})
			}
			t.Rows = append(t.Rows, append(append([]doc.Cell{doc.Text{Is: p.Metals[m]}, doc.Text{Is: senderName(from)}}, sewer.Spread(from.Grams[m])...), share))
		}
	}
	return t
}

func senderName(from exposure.Sender) string {
	if from.Dump {
		return from.Tank.String() + ", dumped"
	}
	return from.Tank.String()
}

// mostFirst are those who send a metal.
func mostFirst(from []exposure.Sender, metal int) []exposure.Sender {
	var all []exposure.Sender
	for _, f := range from {
		if f.Grams[metal] != (exposure.Spread{}) {
			all = append(all, f)
		}
	}
	slices.SortStableFunc(all, func(x, y exposure.Sender) int {
		switch a, b := likely(x.Grams[metal]), likely(y.Grams[metal]); {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	return all
}

func (b *builder) months(p exposure.PointUse, number int) doc.Table {
	perLitre := "*1000/({water}*" + b.in.Litres(b.doc) + ")"
	t := doc.Table{
		Name: sewer.TableName("months", number), Caption: templates.RinseWater.Months, Empty: templates.RinseWater.NothingThere,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "month", Head: "Month"}, {Name: "days", Head: "Days", Numeric: true},
			{Name: "water", Head: "Water", Unit: b.in.Volume, Numeric: true},
			{Name: "low", Head: "Left: low", Unit: "g", Numeric: true}, {Name: "likely", Head: "likely", Unit: "g", Numeric: true}, {Name: "high", Head: "high", Unit: "g", Numeric: true},
			{Name: "least", Head: "Mean: low", Unit: "mg/L", Numeric: true, Formula: "{low}" + perLitre},
			{Name: "mean", Head: "likely", Unit: "mg/L", Numeric: true, Formula: "{likely}" + perLitre},
			{Name: "most", Head: "high", Unit: "mg/L", Numeric: true, Formula: "{high}" + perLitre},
		},
	}
	for _, m := range metalsAt(p) {
		for _, span := range p.Months {
			if span.Grams[m] == (exposure.Spread{}) {
				continue
			}
			row := append([]doc.Cell{
				doc.Text{Is: p.Metals[m]}, doc.Text{Is: span.Period.First.Time().Format("2006-01")}, doc.Number{Is: float64(span.Days)}, b.volume(span.Water.Litres()),
			}, sewer.Spread(span.Grams[m])...)
			mg, ok := span.MilligramsPerLitre(m)
			if !ok {
				t.Rows = append(t.Rows, append(append(row, doc.Blank{Why: "no water"}), sewer.Blanks(2)...))
				continue
			}
			for _, c := range sewer.Spread(mg) {
				row = append(row, sewer.Live(c.(doc.Number)))
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// averaging are the spans that limits are on, in words.
var averaging = []struct {
	words string
	rule  chemicals.Rule
}{{"day", chemicals.DailyMaximum}, {"four days", chemicals.FourDayAverage}, {"month", chemicals.MonthlyAverage}}

// worst is the worst day, set of four days and month of each metal.
func (b *builder) worst(p exposure.PointUse, number int) doc.Table {
	t := doc.Table{
		Name: sewer.TableName("worst", number), Caption: templates.RinseWater.Worst, Empty: templates.RinseWater.NothingThere,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "of", Head: "Mean of a"}, {Name: "first", Head: "First day"}, {Name: "last", Head: "Last day"},
			{Name: "days", Head: "Days with water", Numeric: true}, {Name: "low", Head: "Low", Unit: "mg/L", Numeric: true},
			{Name: "likely", Head: "Likely", Unit: "mg/L", Numeric: true}, {Name: "high", Head: "High", Unit: "mg/L", Numeric: true},
		},
	}
	for _, m := range metalsAt(p) {
		for _, of := range averaging {
			row := []doc.Cell{doc.Text{Is: p.Metals[m]}, doc.Text{Is: of.words}}
			span, ok := p.Worst(m, of.rule, chemicals.ByConcentration)
			if !ok {
				t.Rows = append(t.Rows, append(append(row, doc.Blank{Why: noSpan(p)}), sewer.Blanks(5)...))
				continue
			}
			row = append(row, letterhead.Day(span.Period.First, ""), letterhead.Day(span.Period.Last, ""), doc.Number{Is: float64(span.Days)})
			mean, _ := span.MilligramsPerLitre(m)
			t.Rows = append(t.Rows, append(row, sewer.Spread(mean)...))
		}
	}
	return t
}

// noSpan is why there is no worst span: where water left there is a worst day
// and month.
func noSpan(p exposure.PointUse) string {
	if p.Whole.Water > 0 {
		return "fewer than four days"
	}
	return "no water"
}

// precious is what the metal that left or was hauled is worth.
func (b *builder) precious() doc.Table {
	t := doc.Table{
		Name: "worth", Empty: templates.RinseWater.NoPrecious,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "where", Head: "Where it went"}, {Name: "mass", Head: "Likely", Unit: "g", Numeric: true},
			{Name: "written", Head: "Price, as recorded"}, {Name: "price", Head: "Price of 1 g", Numeric: true},
			{Name: "worth", Head: "Worth", Numeric: true, Formula: "{mass}*{price}"}, {Name: "currency", Head: "Currency"},
		},
	}
	for m, metal := range b.found.Water.Metals {
		price, ok := b.priceOf(metal)
		if !ok {
			continue
		}
		perMass, _ := price.Is().PerMass()
		row := func(where string, grams float64) {
			if grams <= 0 {
				return
			}
			t.Rows = append(t.Rows, []doc.Cell{
				doc.Text{Is: metal}, doc.Text{Is: where}, sewer.Number(grams), doc.Text{Is: price.String()},
				doc.Number{Is: perMass.PerGram(), Decimals: 4}, sewer.Live(doc.Number{Is: grams * perMass.PerGram(), Decimals: 2}), doc.Text{Is: perMass.Currency()},
			})
		}
		for _, p := range b.found.Water.Points {
			if m < len(p.Whole.Grams) {
				row("left at "+p.Point.Is.Name.String(), likely(p.Whole.Grams[m]))
			}
		}
		row("hauled, or on resin", likely(b.found.Water.Hauled[metal]))
	}
	return t
}

// priceOf is the recorded price of a metal by mass.
func (b *builder) priceOf(metal string) (quantity.Stated[quantity.Price], bool) {
	for _, p := range b.found.Plan.Prices {
		if p.Is.Item.Meaning() != chemicals.Fold(metal) {
			continue
		}
		if _, ok := p.Is.Amount.Is().PerMass(); ok {
			return p.Is.Amount, true
		}
	}
	return quantity.Stated[quantity.Price]{}, false
}
