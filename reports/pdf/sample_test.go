package pdf

import (
	"fmt"
	"strings"

	"bathwarden/chemicals/source"
	"bathwarden/reports/doc"
)

const deferral = "This paper states records and figures with their sources. Whether they meet a duty is decided by the local " +
	"code official, the control authority and the licensed professional who reviews them, not by this paper."

func head() doc.Head {
	return doc.Head{
		Kind: "inventory", Title: "Hazardous materials inventory", Shop: "Fernhollow Finishing",
		Period: "2025-04-01 to 2026-03-31", AsOf: "2026-03-31",
		Subtitle: "What is stored and where, by product and by control area",
		Example:  "Example: shop, people and figures are invented.",
	}
}

func foot() doc.Foot {
	return doc.Foot{AsOf: "2026-03-31", Program: "bathwarden 0.1.0", Tables: strings.Repeat("0f3a9c77b2d4", 5),
		Entry: 1284, Hash: strings.Repeat("c41d88e07a5b9f36", 4)}
}

func blank() *doc.Document { return doc.New(head(), foot(), deferral) }

// sample is an invented paper with every kind of block, rows rows in its
// longest table, and no character that the font lacks.
func sample(rows int) *doc.Document {
	d := blank()
	code := d.Cite(source.Ref{Document: "International Fire Code", Place: "Table 5003.1.1(2)", Year: 2021, Standing: source.LawInForce})
	book := d.Cite(source.Entry(812))
	d.Add(doc.Contents{})
	d.Section(1, "What this paper covers")
	d.Add(
		doc.Paragraph{Text: "Everything in containers and tanks on the last day of the period, counted on the days shown. " +
			"H₂SO₄, Na₂CO₃·10 H₂O and the µg/m³ of the air part are written as on the suppliers' sheets.", Cites: []int{code}},
		doc.Paragraph{Text: "Two counts are older than a year.", Emphasis: doc.Caution, Cites: []int{book}},
		doc.Paragraph{Text: "The oxidiser in area 2 is beyond the amount for one control area.", Emphasis: doc.Over, Cites: []int{code, book}},
		doc.List{Items: []doc.Text{
			{Is: "Concentrations are mass per volume of solution at 20 °C unless a row says otherwise."},
			{Is: "The forgotten drum of cyanide strike salts stands too near the acids; it is listed, and a pick-up has been asked for in writing.", Emphasis: doc.Caution, Cites: []int{book}},
			{Is: "Gallons are US gallons."},
		}},
	)
	d.Section(2, "The shop")
	d.Add(shopFields(code))
	d.Section(1, "Stock by product")
	d.Add(doc.Notice{Title: "Amounts beyond the table", Emphasis: doc.Over,
		Text: "One amount is larger than the table allows for one control area. What follows from that is for the code official to say."})
	d.Add(stock(rows, code, book))
	d.Add(doc.Notice{Title: "Not in the count", Text: "Gas cylinders are kept by the supplier's driver and are not in this count."})
	d.Section(2, "Receipts not yet counted")
	d.Add(doc.Table{Name: "receipts", Caption: "Receipts", Columns: []doc.Column{{Name: "date", Head: "Date"}}, Empty: "No receipts were recorded after the last count."})
	d.Section(1, "How the figures were computed")
	d.Section(2, "Nickel in tank B5")
	d.Add(nickel(code, book))
	d.Section(3, "Points that weaken it")
	d.Add(doc.Notice{Title: "Stale analysis", Emphasis: doc.Caution, Text: "The analysis of 2024-11-02 is 514 days old on the as-of day."})
	d.Add(effluent(code, book), brass())
	d.Section(1, "Signatures")
	d.Add(doc.SignOff{Statement: "I have checked this inventory against the shelves and the record book.", Roles: []string{"Prepared by", "Checked by", "Emergency coordinator"}})
	return d
}

func shopFields(code int) doc.Fields {
	return doc.Fields{Items: []doc.Field{
		{Label: "Address", Value: doc.Text{Is: "14 Millrace Lane, Fernhollow"}},
		{Label: "First day", Value: doc.Date{Year: 2019, Month: 5, Day: 2}},
		{Label: "Room volume", Value: doc.Number{Is: 1240, Unit: "m³", Cites: []int{code}}},
		{Label: "Control authority", Value: doc.Text{Is: "Fernhollow sewer district"}},
		{Label: "Emergency phone", Value: doc.Blank{Why: "not recorded"}},
		{Label: "Sprinklered", Value: doc.Text{Is: "no", Emphasis: doc.Caution}},
		{Label: "Employees", Value: doc.Number{Is: 6}},
	}}
}

func stock(rows, code, book int) doc.Table {
	products := []string{"Nickel sulfate hexahydrate", "Sulfuric acid 96 %", "Sodium hydroxide, pearl", "Hydrochloric acid 31 %",
		"Brightener carrier NB-2 with saccharin and sodium allyl sulfonate", "Boric acid", "Nitric acid 67 %", "Silver methanesulfonate"}
	t := doc.Table{Name: "stock", Caption: "Stock on 2026-03-31", Empty: "Nothing is in stock.", Columns: []doc.Column{
		{Name: "product", Head: "Product"},
		{Name: "location", Head: "Location"},
		{Name: "counted", Head: "Counted"},
		{Name: "count", Head: "Containers", Numeric: true},
		{Name: "size", Head: "Size", Unit: "kg", Numeric: true},
		{Name: "mass", Head: "Mass", Unit: "kg", Numeric: true},
		{Name: "limit", Head: "Amount in the table", Unit: "kg", Numeric: true},
		{Name: "hazards", Head: "Hazards"},
	}}
	sum := 0.0
	for i := range rows {
		count, size := float64(1+i%7), []float64{25, 12.5, 60}[i%3]
		sum += count * size
		mass := doc.Cell(doc.Number{Is: count * size, Decimals: 1, Live: true})
		limit := doc.Cell(doc.Number{Is: 226.8, Decimals: 1, Cites: []int{code}})
		switch {
		case i%11 == 4:
			mass, limit = doc.Blank{Why: "no density recorded"}, doc.Blank{}
		case count*size > 300:
			mass = doc.Number{Is: count * size, Decimals: 1, Live: true, Emphasis: doc.Over, Cites: []int{book}}
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: fmt.Sprintf("%s, lot %04d", products[i%len(products)], i)},
			doc.Text{Is: []string{"Chemical store, rack 2", "Acid cabinet", "Line 1"}[i%3]},
			doc.Date{Year: 2026, Month: 1 + i%3, Day: 1 + i%28},
			doc.Number{Is: count}, doc.Number{Is: size, Decimals: 1}, mass, limit,
			doc.Text{Is: []string{"Acute Tox. 4 (oral); Carc. 1A; Aquatic Chronic 1", "Skin Corr. 1A", "Met. Corr. 1"}[i%3], Cites: []int{code, book}[:1+i%2]},
		})
	}
	t.Totals = [][]doc.Cell{
		{doc.Text{Is: "All products"}, doc.Text{}, doc.Text{}, doc.Text{}, doc.Text{}, doc.Number{Is: sum, Decimals: 1, Live: true}, doc.Text{}, doc.Text{}},
		{doc.Text{Is: "of which without a density"}, doc.Text{}, doc.Text{}, doc.Number{Is: float64(rows / 11)}, doc.Text{}, doc.Blank{Why: "see the rows"}, doc.Text{}, doc.Text{}},
	}
	return t
}

func nickel(code, book int) doc.Working {
	return doc.Working{
		Title: "Nickel in tank B5",
		Steps: []doc.Step{
			{Formula: "c(Ni) = c(salt) · x", Cite: code, Result: "c(Ni) = 67.0 g/L", Inputs: []doc.StepInput{
				{Symbol: "c(salt)", Value: "300 g/L", Origin: "measured 2024-11-02", Cite: book},
				{Symbol: "x", Value: "0.2233", Origin: "published", Cite: code},
			}},
			{Formula: "m = c(Ni) · V", Result: "m = 121 kg", Inputs: []doc.StepInput{
				{Symbol: "c(Ni)", Value: "67.0 g/L", Origin: "computed"},
				{Symbol: "V", Value: "1,800 L", Origin: "recorded, entry 12", Cite: book},
			}},
		},
		Caveats: []string{"The analysis is older than a year.", "Nickel chloride is not counted."},
	}
}

// hard is a paper that no builder should send and that must be set all the
// same: what the font lacks, words wider than a column, rows higher than a
// page, more columns than a page is wide.
func hard() *doc.Document {
	d := blank()
	d.Head.Title = "Title that goes on " + strings.Repeat("and on ", 30)
	d.Head.Example = strings.Repeat("Example data, invented. ", 12)
	d.Add(doc.Contents{})
	d.Section(1, strings.Repeat("A heading of many words ", 12))
	d.Section(2, "עברית 🧪 tab\tand\r\nline")
	d.Add(
		doc.Paragraph{Text: "broken \xff\xfe bytes, \x00 control \u200f marks, 🧪 emoji, חומצה גפרתית, حمض, 中文"},
		doc.Paragraph{Text: strings.Repeat("w", 300), Cites: []int{1, 2, 3}},
		doc.Paragraph{},
		doc.List{},
		doc.List{Items: []doc.Text{{}, {Is: strings.Repeat("long point ", 400)}}},
		doc.Fields{},
		doc.Fields{Items: []doc.Field{{Label: strings.Repeat("Label", 40), Value: doc.Text{Is: strings.Repeat("v", 300)}}, {}}},
		doc.Notice{Text: strings.Repeat("A notice longer than a page. ", 250), Title: "Long", Emphasis: doc.Over},
		doc.Working{},
		doc.Working{Title: "Long", Steps: []doc.Step{{Formula: strings.Repeat("a + ", 200), Inputs: make([]doc.StepInput, 80), Result: "r"}}},
		doc.SignOff{Roles: []string{strings.Repeat("Supervisor", 8), strings.Repeat("Supervisor ", 900), ""}},
		doc.Table{},
	)
	d.Section(1, "Tables")
	for _, columns := range []int{1, 12, 16, 60} {
		d.Add(wide(columns, 9))
	}
	tall := wide(4, 3)
	tall.Rows[1][1] = doc.Text{Is: strings.Repeat("a cell higher than a page ", 200)}
	d.Add(tall, doc.SignOff{Statement: strings.Repeat("I sign this. ", 10), Roles: []string{"Prepared by"}})
	d.Section(1, "")
	return d
}

// wide is a table of words and figures by turns, each cell told by its row and
// column.
func wide(columns, rows int) doc.Table {
	t := doc.Table{Name: "wide", Caption: fmt.Sprintf("Table of %d columns", columns), Empty: "Nothing."}
	for c := range columns {
		t.Columns = append(t.Columns, doc.Column{Head: fmt.Sprintf("Head %d", c), Unit: []string{"", "mg/L"}[c%2], Numeric: c%2 == 1})
	}
	for r := range rows {
		var row []doc.Cell
		for c := range columns {
			cell := doc.Cell(doc.Text{Is: fmt.Sprintf("words r%dc%d", r, c)})
			if c%2 == 1 {
				cell = doc.Number{Is: float64(1000*r) + float64(c)/100, Decimals: 2, Cites: []int{1}}
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
