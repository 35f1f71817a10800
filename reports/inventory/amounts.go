package inventory

import (
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func (b *builder) amounts() {
	w := templates.Inventory
	b.doc.Section(1, w.Amounts)
	b.doc.Section(2, w.Places)
	b.doc.Add(doc.Paragraph{Text: w.PlacesNote}, b.places())
	b.doc.Section(2, w.Moves)
	b.doc.Add(doc.Paragraph{Text: w.PeaksNote}, b.today())
}

func (b *builder) places() doc.Table {
	t := doc.Table{
		Name: "places", Empty: "Nothing has been counted.",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "place", Head: "Place"}, {Name: "counted", Head: "Counted"},
			{Name: "containers", Head: "Containers", Numeric: true}, {Name: "size", Head: "Size of one", Numeric: true},
			{Name: "sum", Head: "Together, as counted", Numeric: true, Formula: "{containers}*{size}"},
			{Name: "each", Head: "One holds", Unit: b.in.mass, Numeric: true},
			{Name: "mass", Head: "Together", Unit: b.in.mass, Numeric: true, Formula: "{containers}*{each}"},
			{Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	total, whole := 0.0, true
	for _, h := range b.found.Holdings {
		for _, c := range h.Counts {
			row, mass := b.place(h, c)
			t.Rows = append(t.Rows, row)
			total += mass
			whole = whole && c.Each.MassKnown
		}
	}
	if len(t.Rows) > 0 {
		label := "All that is known by mass"
		if whole {
			label = "All"
		}
		t.Totals = [][]doc.Cell{{
			doc.Text{Is: label}, doc.Blank{}, doc.Blank{}, doc.Blank{}, doc.Blank{}, doc.Blank{}, doc.Blank{},
			doc.Number{Is: total, Decimals: 1, Live: true}, doc.Blank{},
		}}
	}
	return t
}

func (b *builder) place(h exposure.Holding, c exposure.Count) (cells []doc.Cell, mass float64) {
	unit := c.Is.ContainerSize.Unit()
	size, err := quantity.In(c.Is.ContainerSize.Is(), unit)
	if err != nil {
		panic("inventory: " + err.Error())
	}
	n := float64(c.Is.Containers.Int())
	each, together := doc.Cell(doc.Blank{Why: "no density"}), doc.Cell(doc.Blank{Why: "no density"})
	if c.Each.MassKnown {
		one := figure(c.Each.Mass, b.in.mass)
		mass = n * one.Is
		each, together = one, doc.Number{Is: mass, Decimals: 1, Live: true}
	}
	return []doc.Cell{
		doc.Text{Is: h.Product.Is.Name.String()}, doc.Text{Is: c.Is.Location.String()}, letterhead.Day(c.From, "on the first day"),
		doc.Number{Is: n}, doc.Number{Is: size, Decimals: decimalsOf(size), Unit: unit},
		doc.Number{Is: n * size, Decimals: decimalsOf(n * size), Unit: unit, Live: true},
		each, together, doc.Number{Is: float64(c.Entry)},
	}, mass
}

// decimalsOf are enough to show a size as it was written, up to three.
func decimalsOf(v float64) int {
	_, decimals, _ := strings.Cut(quantity.Plain(v), ".")
	return min(len(decimals), 3)
}

func (b *builder) today() doc.Table {
	t := doc.Table{
		Name: "amounts", Empty: "No product is recorded.",
		Columns: []doc.Column{
			{Name: "product", Head: "Product"}, {Name: "places", Head: "Where"},
			{Name: "counted", Head: "Counted", Unit: b.in.mass, Numeric: true, Formula: "SUMPRODUCT(--({places:product}={product}),{places:mass})"},
			{Name: "received", Head: "Received since", Unit: b.in.mass, Numeric: true},
			{Name: "used", Head: "Used since", Unit: b.in.mass, Numeric: true},
			{Name: "today", Head: "Today", Unit: b.in.mass, Numeric: true, Formula: "{counted}+{received}-{used}"},
			{Name: "own", Head: "Today, as counted", Numeric: true},
			{Name: "highest", Head: "Highest", Unit: b.in.mass, Numeric: true},
			{Name: "day", Head: "On"},
		},
	}
	sum := 0.0
	for _, h := range b.found.Holdings {
		row, mass := b.holding(h)
		t.Rows = append(t.Rows, row)
		sum += mass
	}
	if len(t.Rows) > 0 {
		t.Totals = [][]doc.Cell{{
			doc.Text{Is: "All that is known by mass"}, doc.Blank{}, doc.Blank{}, doc.Blank{}, doc.Blank{},
			doc.Number{Is: sum, Decimals: 1, Live: true}, doc.Blank{}, doc.Blank{}, doc.Blank{},
		}}
	}
	return t
}

func (b *builder) holding(h exposure.Holding) (cells []doc.Cell, mass float64) {
	cells = []doc.Cell{doc.Text{Is: h.Product.Is.Name.String()}, letterhead.Words(joined(h.Places()))}
	if len(h.Counts) == 0 {
		why := doc.Blank{Why: "never counted"}
		return append(cells, why, doc.Blank{}, doc.Blank{}, why, why, why, doc.Blank{}), 0
	}
	if !h.Today.MassKnown {
		why := doc.Blank{Why: "no density"}
		cells = append(cells, why, why, why, why)
	} else {
		var counted, received, used quantity.Mass
		for _, c := range h.Counts {
			counted += c.Total.Mass
		}
		for _, m := range h.Moves {
			if m.Used {
				used -= m.Amount.Mass
			} else {
				received += m.Amount.Mass
			}
		}
		today := b.mass(h.Today.Mass)
		today.Live = true
		if h.Today.Negative() {
			today.Emphasis = doc.Over
		}
		mass = today.Is
		first := b.mass(counted)
		first.Live = true
		cells = append(cells, first, b.mass(received), b.mass(used), today)
	}
	cells = append(cells, own(h.Today, h.Unit))
	if h.Peak.MassKnown && h.PeakDay != "" {
		return append(cells, b.mass(h.Peak.Mass), letterhead.Day(h.PeakDay, "")), mass
	}
	return append(cells, own(h.Peak, h.Unit), letterhead.Day(h.PeakDay, "not in the period")), mass
}

func (b *builder) mass(m quantity.Mass) doc.Number {
	v, err := quantity.In(m, b.in.mass)
	if err != nil {
		panic("inventory: " + err.Error())
	}
	return doc.Number{Is: v, Decimals: max(1, min(doc.Significant(v, 3), 4))}
}

// own is an amount in the unit that the shop counts in.
func own(a exposure.Amounts, unit string) doc.Cell {
	for _, q := range []struct {
		is    quantity.Any
		known bool
	}{{a.Mass, a.MassKnown}, {a.Volume, a.VolumeKnown}} {
		if v, err := quantity.In(q.is, unit); q.known && err == nil {
			return doc.Number{Is: v, Decimals: 1, Unit: unit}
		}
	}
	return doc.Blank{Why: "no density"}
}
