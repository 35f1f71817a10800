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

// priced are the items that a way's cost is made of, with the columns whose
// figures they are multiplied by.
var priced = []struct{ item, column, sign string }{{"water", "water", "-"}, {"sewer", "sewer", "-"}, {"haul", "hauled", "+"}}

func (b *builder) plan() {
	w := templates.RinseWater
	b.doc.Section(1, w.Plan)
	if len(b.found.Plan.Ways) == 0 {
		b.doc.Add(doc.Notice{Text: w.NoWays, Emphasis: doc.Caution})
		return
	}
	if !b.found.Plan.YearSaid {
		b.doc.Add(doc.Notice{Text: w.NoYear, Emphasis: doc.Caution})
	}
	ranked := b.ranked()
	if len(ranked) > 0 {
		b.doc.Add(b.firstSays(ranked[0]), b.firstMetals(ranked[0]))
	}
	b.doc.Section(2, w.Ranked)
	b.doc.Add(doc.Paragraph{Text: w.RankedNote}, b.rankedTable(ranked))
	if together := b.together(ranked); together.Text != "" {
		b.doc.Add(together)
	}
	b.doc.Section(2, w.Needs)
	b.doc.Add(b.needs(ranked))
	b.doc.Section(2, w.Near)
	b.doc.Add(doc.Paragraph{Text: w.NearNote}, b.near(ranked))
	b.doc.Section(2, w.Open)
	b.doc.Add(doc.Paragraph{Text: w.OpenNote}, b.open())
	b.doc.Section(2, w.LeftOut)
	b.doc.Add(doc.Paragraph{Text: w.LeftOutNote}, b.leftOut(), doc.Paragraph{Text: w.PlanNote})
}

func (b *builder) ranked() []exposure.Way {
	var all []exposure.Way
	for _, way := range b.found.Plan.Ways {
		if way.Rank > 0 {
			all = append(all, way)
		}
	}
	return all
}

// behind is the bath whose drag-out a way is about, empty where it is a dump.
func (b *builder) behind(way exposure.Way) (exposure.RinseUse, bool) {
	for _, r := range b.found.Water.Rinses {
		if !way.Dump && len(way.Of) > 0 && r.Tanks[0].Meaning() == way.Of[0].Meaning() {
			return r, true
		}
	}
	return exposure.RinseUse{}, false
}

// firstSays is the first way in a paragraph of figures.
func (b *builder) firstSays(way exposure.Way) doc.Paragraph {
	text := "First: " + names(way.Of)
	if r, ok := b.behind(way); ok && r.After != "" {
		text += ", the rinse behind " + r.After.String()
	}
	text += ". " + sentence(way.What) + " "
	text += fmt.Sprintf("In a year of work it keeps %s g of metals that a limit binds from the drain", sewer.Between(way.Sum))
	if metals := b.keptMetals(way); metals != "" {
		text += " (" + metals + ")"
	}
	text += ", and " + b.waterSays(way.Water) + ". " + b.costSays(way)
	if way.Value.Known() && way.Value.Sum > 0 {
		text += fmt.Sprintf(" The metal that goes back into the bath is worth %s %s a year.", whole(way.Value.Sum), way.Value.Currency)
	}
	if near := way.Nearest; near.Known {
		text += fmt.Sprintf(" With it the point comes nearest to the %s of %s mg/L for %s: %s mg/L by the high estimate, %s %% of it.",
			near.Rule, quantity.Plain(near.Limit), near.Metal, sewer.Number(near.High), sewer.Share(near.Share))
	}
	return doc.Paragraph{Text: text}
}

// sentence begins with a capital and ends in a full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + strings.TrimSuffix(text[1:], ".") + "."
}

func whole(v float64) string { return quantity.Fixed(v, 0) }

// keptMetals are the metals that a way keeps, the most first.
func (b *builder) keptMetals(way exposure.Way) string {
	order := make([]int, 0, len(way.Kept))
	for m := range way.Kept {
		if way.Kept[m][working.Likely] > 0 {
			order = append(order, m)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int {
		if way.Kept[x][working.Likely] > way.Kept[y][working.Likely] {
			return -1
		}
		return 1
	})
	var said []string
	for _, m := range order {
		said = append(said, b.found.Plan.Metals[m]+" "+sewer.Number(way.Kept[m][working.Likely]).String()+" g")
	}
	return strings.Join(said, ", ")
}

func (b *builder) waterSays(litres float64) string {
	volume := quantity.Volume(litres) * quantity.Litre
	switch {
	case litres > 0:
		return "saves " + quantity.Print(volume, b.in.Volume, 3) + " of fresh water"
	case litres < 0:
		return "takes " + quantity.Print(-volume, b.in.Volume, 3) + " more fresh water"
	}
	return "leaves the fresh water as it is"
}

func (b *builder) costSays(way exposure.Way) string {
	switch {
	case !way.Cost.Known():
		return "What it costs is not known: " + way.Cost.Why + "."
	case way.Cost.Sum > 0:
		return fmt.Sprintf("Water, sewer and hauling cost %s %s a year more than now.", whole(way.Cost.Sum), way.Cost.Currency)
	case way.Cost.Sum < 0:
		return fmt.Sprintf("Water, sewer and hauling cost %s %s a year less than now.", whole(-way.Cost.Sum), way.Cost.Currency)
	}
	return "Water, sewer and hauling cost the same as now; what has to be built is not priced."
}

// firstMetals is how the metal that the first way keeps comes about.
func (b *builder) firstMetals(way exposure.Way) doc.Table {
	w := templates.RinseWater
	t := doc.Table{
		Name: "first_way", Caption: w.First, Empty: w.NothingThere,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "period", Head: "Sent to the drain in the period", Unit: "g", Numeric: true},
			{Name: "year", Head: "Days of work, year of period", Numeric: true},
			{Name: "through", Head: "Of it through treatment", Unit: "%", Numeric: true}, {Name: "caught", Head: "Of it kept by the way", Unit: "%", Numeric: true},
			{Name: "kept", Head: "Kept in a year", Unit: "g", Numeric: true, Formula: "{period}*{year}*{through}/100*{caught}/100"},
		},
	}
	for m, metal := range b.found.Plan.Metals {
		kept := way.Kept[m][working.Likely]
		sent, through := b.sent(way, m)
		if kept <= 0 || sent*through <= 0 {
			continue
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: metal}, sewer.Number(sent), doc.Number{Is: b.found.Plan.PerYear, Decimals: 3}, sewer.Share(through),
			sewer.Share(kept / (sent * through * b.found.Plan.PerYear)), sewer.Live(sewer.Number(kept)),
		})
	}
	return t
}

// sent is what a way's tank sent to its point over the period, before treatment,
// and the part that left there.
func (b *builder) sent(way exposure.Way, metal int) (grams, through float64) {
	for _, p := range b.found.Water.Points {
		all := 0.0
		for _, from := range p.Whole.From {
			all += from.Grams[metal][working.Likely]
			if from.Tank.Meaning() == way.Of[0].Meaning() {
				grams = from.Grams[metal][working.Likely]
			}
		}
		if grams > 0 && all > 0 {
			return grams, p.Whole.Grams[metal][working.Likely] / all
		}
	}
	return 0, 0
}

// prices adds the recorded prices to the workbook's inputs, and gives the
// formula of a cost and its currency.
func (b *builder) prices() (formula, currency string) {
	for _, p := range priced {
		for _, price := range b.found.Plan.Prices {
			perVolume, ok := price.Is.Amount.Is().PerVolume()
			if !ok || price.Is.Item.Meaning() != p.item {
				continue
			}
			one, err := quantity.Parse[quantity.Volume]("1 " + b.in.Volume)
			if err != nil {
				panic("rinsewater: " + err.Error())
			}
			name := "price_" + p.item
			b.doc.Inputs = append(b.doc.Inputs, doc.Input{
				Name: name, Label: fmt.Sprintf("Price of %s, %s, entry %d", p.item, price.Is.Amount, price.Entry),
				Value: perVolume.PerLitre() * one.Litres(), Unit: perVolume.Currency() + "/" + b.in.Volume,
			})
			formula += p.sign + "{" + p.column + "}*{=" + name + "}"
			currency = perVolume.Currency()
		}
	}
	return strings.TrimPrefix(formula, "+"), currency
}

func (b *builder) rankedTable(ranked []exposure.Way) doc.Table {
	formula, currency := b.prices()
	volume := b.in.Volume
	t := doc.Table{
		Name: "ranked_ways", Empty: templates.RinseWater.NoRanked,
		Columns: []doc.Column{
			{Name: "rank", Head: "No.", Numeric: true}, {Name: "of", Head: "Of"}, {Name: "way", Head: "Way"},
			{Name: "low", Head: "Kept a year: low", Unit: "g", Numeric: true}, {Name: "likely", Head: "likely", Unit: "g", Numeric: true},
			{Name: "high", Head: "high", Unit: "g", Numeric: true},
			{Name: "water", Head: "Fresh water saved", Unit: volume, Numeric: true}, {Name: "sewer", Head: "Less to the sewer", Unit: volume, Numeric: true},
			{Name: "hauled", Head: "Hauled", Unit: volume, Numeric: true},
			{Name: "cost", Head: "Cost a year", Unit: currency, Numeric: true, Formula: formula},
			{Name: "worth", Head: "Kept for each " + or(currency, "unit of money"), Unit: "g", Numeric: true, Formula: "{likely}/{cost}"},
		},
	}
	for _, way := range ranked {
		low, likely, high := sewer.Ordered(way.Sum)
		cost, worth := b.costCells(way, formula)
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Number{Is: float64(way.Rank)}, doc.Text{Is: names(way.Of)}, doc.Text{Is: wayName(way)},
			sewer.Number(low), sewer.Number(likely), sewer.Number(high),
			b.volume(way.Water), b.volume(lessToSewer(way)), b.volume(way.Hauled), cost, worth,
		})
	}
	return t
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

// lessToSewer is the water that no longer goes to the sewer, a year.
func lessToSewer(way exposure.Way) float64 {
	if way.Kind == exposure.HoldAndHaul {
		return way.Hauled
	}
	return way.Water
}

func wayName(way exposure.Way) string {
	if way.Dump {
		return "dumps: " + way.Kind.String()
	}
	return way.Kind.String()
}

func (b *builder) costCells(way exposure.Way, formula string) (cost, worth doc.Cell) {
	switch {
	case !way.Cost.Known():
		return doc.Blank{Why: way.Cost.Why}, doc.Blank{}
	case way.Sum[working.Likely] <= 0:
		worth = doc.Blank{}
	case way.Cost.Sum <= 0:
		worth = doc.Text{Is: "no cost"}
	default:
		worth = sewer.Live(sewer.Number(way.Worth()))
	}
	n := doc.Number{Is: way.Cost.Sum, Live: formula != ""}
	return n, worth
}

// together is the whole shop walked again with the first two ways in it.
func (b *builder) together(ranked []exposure.Way) doc.Paragraph {
	t := b.found.Plan.Together
	if t == nil {
		return doc.Paragraph{}
	}
	var which []string
	for _, rank := range t.Of {
		for _, way := range ranked {
			if way.Rank == rank {
				which = append(which, fmt.Sprintf("number %d (%s, %s)", rank, names(way.Of), wayName(way)))
			}
		}
	}
	return doc.Paragraph{Text: fmt.Sprintf("%s: %s. The whole shop walked again with both keeps %s g of metals that a limit binds in a year, and %s.",
		templates.RinseWater.Together, strings.Join(which, " and "), sewer.Between(t.Kept), b.waterSays(t.Water))}
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
		row := []doc.Cell{doc.Number{Is: float64(way.Rank)}, doc.Text{Is: names(way.Of)}, doc.Text{Is: wayName(way)}}
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
			{Name: "rank", Head: "No.", Numeric: true}, {Name: "of", Head: "Of"}, {Name: "what", Head: "What it is"}, {Name: "needs", Head: "What it needs"},
			{Name: "notes", Head: "Note"},
		},
	}
	for _, way := range ranked {
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Number{Is: float64(way.Rank)}, doc.Text{Is: names(way.Of)}, doc.Text{Is: way.What},
			letterhead.Words(strings.Join(way.Needs, "; ")), letterhead.Words(strings.Join(way.Notes, "; ")),
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
			t.Rows = append(t.Rows, []doc.Cell{doc.Text{Is: names(way.Of)}, doc.Text{Is: wayName(way)}, doc.Text{Is: way.What}, doc.Text{Is: way.Open, Emphasis: doc.Caution}})
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
			doc.Text{Is: names(way.Of)}, doc.Text{Is: wayName(way)}, sewer.Number(way.Sum[working.Likely]), b.volume(way.Water), doc.Text{Is: way.LeftOut},
		})
	}
	return t
}
