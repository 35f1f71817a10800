package rinsewater

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

// priced are the items that a way's cost is made of, with what of its row they
// are multiplied by. What is held and hauled goes to the sewer no more; else it
// is the fresh water saved.
var priced = []struct{ item, times string }{
	{"water", "-{water}"}, {"sewer", `-IF(ISNUMBER(SEARCH("hold and haul",{way})),{hauled},{water})`}, {"haul", "+{hauled}"},
}

// prices adds the recorded prices to the workbook's inputs.
func (b *builder) prices() {
	for _, p := range priced {
		for _, price := range b.found.Plan.Prices {
			perVolume, ok := price.Is.Amount.Is().PerVolume()
			if !ok || price.Is.Item.Meaning() != p.item {
				continue
			}
			b.doc.Inputs = append(b.doc.Inputs, doc.Input{
				Name: "price_" + p.item, Label: fmt.Sprintf("Price of %s, %s, entry %d", p.item, price.Is.Amount, price.Entry),
				Value: perVolume.PerLitre() * b.in.InLitres(), Unit: perVolume.Currency() + "/" + b.in.Volume,
			})
		}
	}
}

// costs is the formula of a cost from the inputs of prices, and its currency.
func (b *builder) costs() (formula, currency string) {
	mixed := false
	for _, p := range priced {
		for _, price := range b.found.Plan.Prices {
			perVolume, ok := price.Is.Amount.Is().PerVolume()
			if !ok || price.Is.Item.Meaning() != p.item {
				continue
			}
			formula += p.times + "*{=price_" + p.item + "}"
			if mixed = mixed || currency != "" && currency != perVolume.Currency(); !mixed {
				currency = perVolume.Currency()
			}
		}
	}
	if mixed {
		currency = "" // no cost is known, and none stands in its column
	}
	return strings.TrimPrefix(formula, "+"), currency
}

func (b *builder) keepingTable(name string, ways []exposure.Way, formula, currency string) doc.Table {
	t := doc.Table{
		Name: name, Empty: templates.RinseWater.NoKeeping,
		Columns: []doc.Column{
			{Name: "rank", Head: "No.", Numeric: true}, {Name: "of", Head: "Of"}, {Name: "way", Head: "Way"},
			{Name: "low", Head: "Kept a year: low", Unit: "g", Numeric: true}, {Name: "likely", Head: "likely", Unit: "g", Numeric: true},
			{Name: "high", Head: "high", Unit: "g", Numeric: true}, {Name: "water", Head: "Water saved", Unit: b.in.Volume, Numeric: true},
			{Name: "hauled", Head: "Hauled", Unit: b.in.Volume, Numeric: true}, {Name: "cost", Head: "Cost a year", Unit: currency, Numeric: true, Formula: formula},
			{Name: "worth", Head: "Kept for 1 " + or(currency, "of money"), Unit: "g", Numeric: true, Formula: "{likely}/{cost}"},
			{Name: "near", Head: "Nearest limit, high estimate", Unit: "mg/L"},
		},
	}
	for _, way := range ways {
		low, likely, high := sewer.Ordered(way.Sum)
		worth := doc.Cell(doc.Text{Is: "no cost"})
		switch {
		case !way.Cost.Known():
			worth = doc.Blank{}
		case way.Cost.Sum > 0:
			worth = sewer.Live(sewer.Number(way.Worth()))
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Number{Is: float64(way.Rank)}, doc.Text{Is: sewer.Chain(way.Of)}, doc.Text{Is: b.wayName(way)},
			sewer.Number(low), sewer.Number(likely), sewer.Number(high),
			b.volume(way.Water), b.volume(way.Hauled), costCell(way, formula), worth, nearCell(way),
		})
	}
	return t
}

func (b *builder) savingTable(name string, ways []exposure.Way, formula, currency string) doc.Table {
	t := doc.Table{
		Name: name, Empty: templates.RinseWater.NoSaving,
		Columns: []doc.Column{
			{Name: "rank", Head: "No.", Numeric: true}, {Name: "of", Head: "Of"}, {Name: "way", Head: "Way"},
			{Name: "water", Head: "Water saved", Unit: b.in.Volume, Numeric: true}, {Name: "hauled", Head: "Hauled", Unit: b.in.Volume, Numeric: true},
			{Name: "cost", Head: "Cost a year", Unit: currency, Numeric: true, Formula: formula}, {Name: "near", Head: "Nearest limit, high estimate", Unit: "mg/L"},
		},
	}
	for _, way := range ways {
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Number{Is: float64(way.Rank)}, doc.Text{Is: sewer.Chain(way.Of)}, doc.Text{Is: b.wayName(way)}, b.volume(way.Water), b.volume(way.Hauled),
			costCell(way, formula), nearCell(way),
		})
	}
	return t
}

func costCell(way exposure.Way, formula string) doc.Cell {
	if !way.Cost.Known() {
		return doc.Blank{Why: way.Cost.Why}
	}
	return doc.Number{Is: way.Cost.Sum, Live: formula != ""}
}

// nearCell is the nearest limit in words.
func nearCell(way exposure.Way) doc.Cell {
	n := way.Nearest
	if !n.Known {
		return doc.Blank{Why: "no limit can be compared"}
	}
	return doc.Text{Is: fmt.Sprintf("%s %s of %s", n.Metal, sewer.Number(n.High), quantity.Plain(n.Limit)), Emphasis: sewer.Over(n.Share > 1)}
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

func (b *builder) volume(litres float64) doc.Number {
	return sewer.Figure(quantity.Volume(litres)*quantity.Litre, b.in.Volume)
}

// wayName is a way in a few words; of dumps with the point where there are more.
func (b *builder) wayName(way exposure.Way) string {
	switch {
	case way.Dump && len(b.found.Water.Points) > 1:
		return "dumps to " + way.Point.String() + ": " + way.Kind.String()
	case way.Dump:
		return "dumps: " + way.Kind.String()
	}
	return way.Kind.String()
}

func (b *builder) near(ranked []exposure.Way) doc.Table {
	t := doc.Table{
		Name: "nearest_limits", Empty: templates.RinseWater.NoRanked,
		Columns: []doc.Column{
			{Name: "rank", Head: "No.", Numeric: true}, {Name: "of", Head: "Of"}, {Name: "way", Head: "Way"}, {Name: "metal", Head: "Metal"},
			{Name: "rule", Head: "Rule"}, {Name: "high", Head: "High estimate", Unit: "mg/L", Numeric: true},
			{Name: "limit", Head: "Limit", Unit: "mg/L", Numeric: true},
			{Name: "share", Head: "Of the limit", Unit: "%", Numeric: true, Formula: "100*{high}/{limit}"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, way := range ranked {
		row := []doc.Cell{doc.Number{Is: float64(way.Rank)}, doc.Text{Is: sewer.Chain(way.Of)}, doc.Text{Is: b.wayName(way)}}
		n := way.Nearest
		if !n.Known {
			t.Rows = append(t.Rows, append(append(row, doc.Blank{Why: "no limit can be compared"}), sewer.Blanks(5)...))
			continue
		}
		share := sewer.Live(sewer.Share(n.Share))
		share.Emphasis = sewer.Over(n.Share > 1)
		t.Rows = append(t.Rows, append(row, doc.Text{Is: n.Metal}, doc.Text{Is: string(n.Rule), Cites: sewer.Cite(b.doc, n.Ref)}, sewer.Number(n.High),
			sewer.Number(n.Limit), share, letterhead.Entry(n.Entry)))
	}
	return t
}

func (b *builder) needs(ranked []exposure.Way) doc.Table {
	t := doc.Table{
		Name: "needs", Empty: templates.RinseWater.NoRanked,
		Columns: []doc.Column{
			{Name: "rank", Head: "No.", Numeric: true}, {Name: "of", Head: "Of"}, {Name: "what", Head: "What it is"}, {Name: "needs", Head: "What it needs, and what to know"},
		},
	}
	for _, way := range ranked {
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Number{Is: float64(way.Rank)}, doc.Text{Is: sewer.Chain(way.Of)}, doc.Text{Is: way.What},
			letterhead.Words(strings.Join(append(slices.Clone(way.Needs), way.Notes...), "; ")),
		})
	}
	return t
}

func (b *builder) open() doc.Table {
	t := doc.Table{
		Name: "open_ways", Empty: templates.RinseWater.NoOpen,
		Columns: []doc.Column{{Name: "of", Head: "Of"}, {Name: "way", Head: "Way"}, {Name: "what", Head: "What it is"}, {Name: "fact", Head: "The fact that is missing"}},
	}
	for _, way := range b.found.Plan.Ways {
		if way.Open != "" && way.LeftOut == "" {
			t.Rows = append(t.Rows, []doc.Cell{doc.Text{Is: sewer.Chain(way.Of)}, doc.Text{Is: b.wayName(way)}, doc.Text{Is: way.What}, doc.Text{Is: way.Open, Emphasis: doc.Caution}})
		}
	}
	return t
}

// leftOut leaves out the shop as it stands, which is there for comparison.
func (b *builder) leftOut() doc.Table {
	t := doc.Table{
		Name: "left_out_ways", Empty: templates.RinseWater.NoLeftOut,
		Columns: []doc.Column{
			{Name: "of", Head: "Of"}, {Name: "way", Head: "Way"}, {Name: "kept", Head: "Would keep a year", Unit: "g", Numeric: true},
			{Name: "water", Head: "Would save of water", Unit: b.in.Volume, Numeric: true}, {Name: "why", Head: "Left out because"},
		},
	}
	for _, way := range b.found.Plan.Ways {
		if way.LeftOut == "" || way.Kind == exposure.AsItIs {
			continue
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: sewer.Chain(way.Of)}, doc.Text{Is: b.wayName(way)}, sewer.Number(way.Sum[working.Likely]), b.volume(way.Water), doc.Text{Is: way.LeftOut},
		})
	}
	return t
}
