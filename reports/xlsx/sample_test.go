package xlsx_test

import (
	"bathwarden/chemicals/source"
	"bathwarden/reports/doc"
)

const deferral = "Local codes and the advice of licensed practitioners come first. This paper states figures, limits and their sources; it does not decide whether a duty is met."

// sample is a paper with every kind of block and cell, two tables on one
// sheet, and formulas that look at later sheets.
func sample() *doc.Document {
	d := doc.New(doc.Head{
		Kind: "inventory", Title: "Chemicals on hand & what they weigh", Shop: "Fernhollow Finishing",
		Period: "2025-04-01 to 2026-03-31", AsOf: "2026-03-31", Subtitle: "Both lines, store and yard",
		Example: "Invented data: no such shop, person or product exists.",
	}, doc.Foot{
		AsOf: "2026-03-31", Program: "bathwarden 0.1.0", Tables: "9f2c41d0a7b34c55e1f00d2b7a91c3e4",
		Entry: 1207, Hash: "4b1d7c0f9e2a8d36b5c47f1e0a9d8c7b6a5f4e3d2c1b0a998877665544332211",
	}, deferral)
	paper := source.Ref{Document: "An invented handbook of plating", Place: "table 4", Year: 1991, Standing: source.Handbook}
	rule := source.Ref{Document: "An invented rule", Place: "section 2 (b)", Standing: source.LawInForce}
	d.Inputs = []doc.Input{
		{Name: "film", Label: "Drag-out film on racked work", Value: 0.1628, Unit: "L/m²", Cite: d.Cite(paper)},
		{Name: "r2", Label: "A factor with the name of a cell", Value: 1.1, Unit: "", Cite: 0},
	}
	d.Add(doc.Contents{})
	d.Section(1, "Stock")
	d.Add(doc.Paragraph{Text: "What the shelves hold, by product and place. A mass is the count times the size times the density that the supplier's sheet gives; where the sheet gives none, the mass is not known and counts for nothing in the total.", Cites: []int{d.Cite(paper)}})
	d.Add(stock(d, paper, rule), byProduct())
	d.Section(2, "What is missing")
	d.Add(doc.List{Items: []doc.Text{
		{Is: "Product \"Bright 7\": no density recorded.", Emphasis: doc.Caution},
		{Is: "=SUM(A1:A9) is a strange name for a product.", Cites: []int{1, 2}},
	}})
	d.Add(doc.Notice{Title: "Beyond a limit", Text: "Nickel in the final rinse: 2.61 mg/L against a limit of 2.38 mg/L. The control authority decides what follows.", Emphasis: doc.Over})
	d.Section(1, "Work: what was carried out, and over")
	d.Add(work(), doc.Table{
		Name: "complaints", Caption: "Complaints", Empty: "no complaint is recorded",
		Columns: []doc.Column{{Name: "day", Head: "Day"}, {Name: "parts", Head: "Parts", Numeric: true}},
		Totals:  [][]doc.Cell{{doc.Text{Is: "Sum"}, doc.Number{Live: true}}},
	})
	d.Section(1, "How a figure came about")
	d.Add(doc.Fields{Items: []doc.Field{
		{Label: "Contact", Value: doc.Text{Is: "the office"}},
		{Label: "Employees", Value: doc.Number{Is: 6}},
		{Label: "Room volume", Value: doc.Number{Is: 1240.5, Decimals: 1, Unit: "m³", Cites: []int{1}}},
		{Label: "Built", Value: doc.Date{Year: 1898, Month: 5, Day: 1}},
		{Label: "Permit expires", Value: doc.Date{Year: 2026, Month: 2, Day: 28, Emphasis: doc.Over}},
		{Label: "Sprinklers", Value: doc.Blank{Why: "nobody recorded whether there are any"}},
	}})
	d.Add(doc.Working{Title: "Nickel carried out of tank B5", Steps: []doc.Step{{
		Formula: "m = V × c", Cite: 1, Result: "98 g per day",
		Inputs: []doc.StepInput{
			{Symbol: "V", Value: "1.63 L/day", Origin: "computed above"},
			{Symbol: "c", Value: "60 g/L", Origin: "measured, entry 1180 of the record book, by titration after the addition of the same morning", Cite: 2},
		},
	}}, Caveats: []string{"The analysis is 41 days old."}})
	d.Section(2, "Signatures")
	d.Add(doc.SignOff{Statement: "I have compared these figures with the shelves.", Roles: []string{"Prepared by", "Checked by"}})
	d.Section(1, "Over time")
	d.Add(effluent(), rinses(), doc.Label{Signal: "Danger", Pictograms: []doc.Pictogram{{Code: "GHS05", Name: "corrosion"}, {Code: "GHS07", Name: "exclamation mark"}},
		Statements: []doc.Text{{Is: "H314 Causes severe skin burns and eye damage"}}})
	return d
}

// effluent is a year of samples, one below its reporting limit and one beyond
// the limit, which fell in October.
func effluent() doc.Chart {
	n := func(v float64) doc.Number { return doc.Number{Is: v, Decimals: 2} }
	c := doc.Chart{
		Name: "nickel", Title: "Nickel at the outfall", Axis: "Nickel, total", Unit: "mg/L", Cites: []int{2},
		First: doc.Date{Year: 2025, Month: 4, Day: 1}, Last: doc.Date{Year: 2026, Month: 3, Day: 31},
		Dots: []doc.Dots{{Name: "sample"}},
		Steps: []doc.Steps{
			{Name: "daily maximum", Levels: []doc.Level{{Value: n(3.98)}, {From: doc.Date{Year: 2025, Month: 10, Day: 1}, Value: n(2.38)}}, Cites: []int{2}},
			{Name: "monthly average", Levels: []doc.Level{{Value: n(1.5)}}},
		},
		Bands: []doc.Band{{Name: "estimate"}},
	}
	for month, v := range []float64{0.61, 1.02, 1.1, 0.05, 0.22, 0.12, 0.46, 2.61, 1.08, 0.31, 0.05, 0.14} {
		value := n(v)
		value.Below = v == 0.05
		if v > 2.38 {
			value.Emphasis = doc.Over
		}
		c.Dots[0].Points = append(c.Dots[0].Points, doc.Point{Day: doc.Date{Year: 2025, Month: 4 + month, Day: 9}, Value: value})
		if month != 4 { // the line stood still in August
			c.Bands[0].Spans = append(c.Bands[0].Spans, doc.Span{
				From: doc.Date{Year: 2025, Month: 4 + month, Day: 1}, To: doc.Date{Year: 2025, Month: 5 + month},
				Low: n(0.3 + v/9), Likely: n(0.5 + v/6), High: n(0.8 + v/3),
			})
		}
	}
	return c
}

// rinses is a line with a counterflow.
func rinses() doc.Line {
	n := func(v float64, decimals int, unit string) doc.Cell {
		return doc.Number{Is: v, Decimals: decimals, Unit: unit}
	}
	return doc.Line{Name: "line_1", Title: "Line 1, nickel", Stations: []doc.Station{
		{Name: "B5", Words: "bright nickel, 300 gal", Purpose: "plate", CarryOn: n(1.63, 2, "L/h")},
		{Name: "R6", Words: "first rinse, 120 gal", Purpose: "rinse", Rinse: true, CarryOn: doc.Blank{Why: "no film measured"},
			Feeds: []doc.Feed{{From: 3, Flow: n(180, 0, "L/h")}, {Source: "mains", Flow: doc.Blank{Why: "no meter"}}}, DrainsTo: "pit W1", Drain: n(180, 0, "L/h")},
		{Name: "R7", Words: "last rinse, 120 gal", Purpose: "rinse", Rinse: true, Feeds: []doc.Feed{{Source: "deionised water", Flow: n(180, 0, "L/h")}}},
	}}
}

func stock(d *doc.Document, paper, rule source.Ref) doc.Table {
	text := func(is string) doc.Cell { return doc.Text{Is: is} }
	n := func(v float64, decimals int) doc.Cell { return doc.Number{Is: v, Decimals: decimals} }
	live := func(v float64) doc.Cell { return doc.Number{Is: v, Decimals: 1, Live: true} }
	return doc.Table{
		Name: "stock", Caption: "Containers counted",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "place", Head: "Where it stands"},
			{Name: "counted", Head: "Counted on"},
			{Name: "count", Head: "Containers", Numeric: true},
			{Name: "size", Head: "Size", Unit: "L", Numeric: true},
			{Name: "density", Head: "Density", Unit: "kg/L", Numeric: true},
			{Name: "mass", Head: "Mass", Unit: "kg", Numeric: true, Formula: "{count}*{size}*{density}"},
			{Name: "note", Head: "Note"},
		},
		Rows: [][]doc.Cell{
			{text("Nickel sulfate solution"), text("Acid cabinet"), doc.Date{Year: 2026, Month: 3, Day: 2}, n(4, 0), n(25, 0),
				doc.Number{Is: 1.325, Decimals: 2, Cites: []int{d.Cite(paper)}}, live(132.5), doc.Text{Is: "sheet of 2024", Cites: []int{d.Cite(rule)}}},
			{text("Bright 7"), text("Acid cabinet"), doc.Date{Year: 2026, Month: 3, Day: 2}, n(2, 0), n(18.9, 1),
				doc.Blank{Why: "no density recorded"}, doc.Blank{Why: "no density recorded"}, doc.Blank{}},
			{text("007"), text("Shelf by the cyanide drum, which stands too near the acids to be left there"), doc.Date{Year: 2025, Month: 12, Day: 31}, n(-0.2, 0), n(2.675, 2),
				n(1, 3), doc.Number{Is: -0.535, Decimals: 1, Live: true, Emphasis: doc.Over}, doc.Text{Is: "count it again", Emphasis: doc.Caution}},
		},
		Totals: [][]doc.Cell{{text("Together"), doc.Blank{}, doc.Blank{}, n(5.8, 1), doc.Blank{}, doc.Blank{}, live(131.965), text("without the unknown")}},
	}
}

func byProduct() doc.Table {
	return doc.Table{
		Name: "by_product", Caption: "By product, with what the work used",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"},
			{Name: "held", Head: "Held", Unit: "kg", Numeric: true, Formula: "SUMIFS({stock:mass},{stock:product},{product})"},
			{Name: "used", Head: "Used in the period", Unit: "L", Numeric: true, Formula: `IF({product}="{x}",0,SUM({work:volume})/{=r2})`},
		},
		Rows: [][]doc.Cell{{doc.Text{Is: "Nickel sulfate solution"}, doc.Number{Is: 132.5, Decimals: 1, Live: true}, doc.Number{Is: volume / 1.1, Decimals: 3, Live: true}}},
	}
}

var (
	areas  = []float64{12.25, 0, 1.0 / 3, 99.5}
	volume = (12.25 + 1.0/3 + 99.5) * 0.1628
)

func work() doc.Table {
	t := doc.Table{
		Name: "work",
		Columns: []doc.Column{
			{Name: "day", Head: "Day"}, {Name: "area", Head: "Area", Unit: "m²", Numeric: true},
			{Name: "volume", Head: "Drag-out", Unit: "L", Numeric: true, Formula: "{area}*{=film}"},
		},
		Totals: [][]doc.Cell{{doc.Text{Is: "Sum"}, doc.Number{Is: 12.25 + 1.0/3 + 99.5, Decimals: 2, Live: true}, doc.Number{Is: volume, Decimals: 3, Live: true}}},
	}
	for i, area := range areas {
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Date{Year: 2026, Month: 1, Day: 5 + i}, doc.Number{Is: area, Decimals: 2},
			doc.Number{Is: area * 0.1628, Decimals: 3, Live: true},
		})
	}
	return t
}
