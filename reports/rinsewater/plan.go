package rinsewater

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

// plan is the first page: the way that comes first and its figures, and the
// others in their order.
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
	if len(ranked) == 0 {
		b.doc.Add(doc.Notice{Text: w.NoRanked, Emphasis: doc.Caution})
		return
	}
	parts := parted(ranked)
	b.prices()
	formula, currency := b.costs()
	b.doc.Add(b.firstSays(ranked[0]))
	if ranked[0].Over != "" {
		b.doc.Add(doc.Notice{Text: w.AllOver, Emphasis: doc.Caution})
	}
	b.doc.Add(b.firstMetals(ranked[0]))
	if len(parts.keeping) > 0 || len(parts.over) == 0 {
		b.doc.Section(2, w.Ranked)
		b.doc.Add(doc.Paragraph{Text: w.RankedNote}, b.keepingTable("ranked_ways", front(parts.keeping), formula, currency))
	}
	b.more(parts.keeping)
	if together := b.together(ranked); together.Text != "" {
		b.doc.Add(together)
	}
	if len(parts.saving) > 0 {
		b.doc.Section(2, w.Saving)
		b.doc.Add(doc.Paragraph{Text: w.SavingNote}, b.savingTable("saving_ways", parts.saving, formula, currency))
	}
	if len(parts.spreading) > 0 {
		b.doc.Section(2, w.Spreading)
		b.doc.Add(doc.Paragraph{Text: w.SpreadingNote}, b.savingTable("spreading_ways", parts.spreading, formula, currency))
	}
	if len(parts.over) > 0 {
		b.doc.Section(2, w.Over)
		b.doc.Add(doc.Paragraph{Text: w.OverNote}, b.keepingTable("over_ways", front(parts.over), formula, currency))
		b.more(parts.over)
	}
}

// more says how many ways the first page does not show.
func (b *builder) more(ways []exposure.Way) {
	if n := len(ways) - len(front(ways)); n > 0 {
		b.doc.Add(doc.Paragraph{Text: fmt.Sprintf("%d more stand in the plan in full.", n)})
	}
}

// planInFull is what stands behind the plan: what each way needs, how near to a
// limit it comes, and those that are not ranked.
func (b *builder) planInFull() {
	w := templates.RinseWater
	if len(b.found.Plan.Ways) == 0 {
		return
	}
	ranked := b.ranked()
	b.doc.FreshSection(1, w.InFull) // the page before it stands by itself
	b.doc.Add(doc.Paragraph{Text: w.PlanNote})
	if parts := parted(ranked); len(parts.keeping) > len(front(parts.keeping)) || len(parts.over) > len(front(parts.over)) {
		formula, currency := b.costs()
		b.doc.Section(2, w.AllKeeping)
		b.doc.Add(b.keepingTable("all_ways", append(parts.keeping, parts.over...), formula, currency))
	}
	b.doc.Section(2, w.Needs)
	b.doc.Add(b.needs(ranked))
	b.doc.Section(2, w.Near)
	b.doc.Add(doc.Paragraph{Text: w.NearNote}, b.near(ranked))
	b.doc.Section(2, w.Open)
	b.doc.Add(doc.Paragraph{Text: w.OpenNote}, b.open())
	b.doc.Section(2, w.LeftOut)
	b.doc.Add(doc.Paragraph{Text: w.LeftOutNote}, b.leftOut())
}

// front are the ways that the first page shows.
func front(ways []exposure.Way) []exposure.Way {
	const shown = 8
	return ways[:min(shown, len(ways))]
}

// waysParted are the ranked ways by what they do: keep metal which a limit
// binds, only save water, only spread what leaves over days; and apart from all
// those with which a limit is still passed.
type waysParted struct{ keeping, saving, spreading, over []exposure.Way }

func parted(ranked []exposure.Way) waysParted {
	var p waysParted
	for _, way := range ranked {
		into := &p.saving
		switch {
		case way.Over != "":
			into = &p.over
		case way.Kind == exposure.LetIn:
			into = &p.spreading
		case way.Sum[working.Likely] > 0:
			into = &p.keeping
		}
		*into = append(*into, way)
	}
	return p
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

// behind is the rinse that a way is about; there is none where a bath is dumped.
func (b *builder) behind(way exposure.Way) (exposure.RinseUse, bool) {
	for _, r := range b.found.Water.Rinses {
		if len(way.Of) > 0 && r.Tanks[0].Meaning() == way.Of[0].Meaning() {
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
	if way.Sum[working.Likely] > 0 {
		text += fmt.Sprintf("In a year of work it keeps %s g of metals that a limit binds from the drain", sewer.Between(way.Sum))
	} else {
		text += "No way is known that keeps metal from the drain; this one does not either"
	}
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

// firstMetals is how the metal that the first way keeps comes about. What water
// saved behind a treatment keeps is no part of what was sent.
func (b *builder) firstMetals(way exposure.Way) doc.Table {
	w := templates.RinseWater
	t := doc.Table{
		Name: "first_way", Caption: w.First, Empty: w.NothingThere,
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "period", Head: "Sent to the drain in the period", Unit: "g", Numeric: true},
			{Name: "part", Head: "Of it no longer sent", Unit: "%", Numeric: true},
			{Name: "through", Head: "Of that, not held by treatment as it is", Unit: "%", Numeric: true},
			{Name: "year", Head: "Year of work to period", Numeric: true},
			{Name: "kept", Head: "Kept in a year", Unit: "g", Numeric: true, Formula: "{period}*{part}/100*{through}/100*{year}"},
		},
	}
	for m, metal := range b.found.Plan.Metals {
		kept, year := way.Kept[m][working.Likely], b.found.Plan.PerYear
		sent, part := way.Sent[m][working.Likely], way.Part[m][working.Likely]
		switch {
		case kept <= 0:
		case sent*part > 0:
			t.Rows = append(t.Rows, []doc.Cell{
				doc.Text{Is: metal}, sewer.Number(sent), sewer.Share(part), sewer.Share(kept / (sent * part * year)),
				doc.Number{Is: year, Decimals: 3}, sewer.Live(sewer.Number(kept)),
			})
		default:
			why := doc.Blank{Why: w.LessWater}
			t.Rows = append(t.Rows, []doc.Cell{doc.Text{Is: metal}, sewer.Number(sent), why, why, doc.Number{Is: year, Decimals: 3}, sewer.Number(kept)})
		}
	}
	return t
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
				which = append(which, fmt.Sprintf("number %d (%s, %s)", rank, names(way.Of), b.wayName(way)))
			}
		}
	}
	return doc.Paragraph{Text: fmt.Sprintf("%s: %s. The whole shop walked again with both keeps %s g of metals that a limit binds in a year, and %s.",
		templates.RinseWater.Together, strings.Join(which, " and "), sewer.Between(t.Kept), b.waterSays(t.Water))}
}
