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

// drag is the drag-out of one bath with one film over the whole period.
type drag struct {
	rows   []exposure.DragOut
	area   float64 // m²
	loads  int
	volume exposure.Spread // L
}

func (d drag) film() *exposure.Film { return d.rows[0].Film }

// drags gathers the spans of the findings by bath, drainage and film.
func (b *builder) drags() []*drag {
	type key struct {
		tank, drainage string
		film           *exposure.Film
		byArea         bool
	}
	at := map[key]*drag{}
	var all []*drag
	for _, row := range b.found.Water.DragOuts {
		k := key{row.Tank.Meaning(), string(row.Drainage), row.Film, row.Area.Known()}
		d, ok := at[k]
		if !ok {
			d = &drag{}
			at[k] = d
			all = append(all, d)
		}
		d.rows = append(d.rows, row)
		d.loads += row.Loads
		if row.Area.Known() {
			d.area += row.Area.Is().SquareMetres()
		}
		if row.Volume.Known() {
			add(&d.volume, litresOf(row.Volume))
		}
	}
	return all
}

func add(sum *exposure.Spread, more exposure.Spread) {
	for c := range sum {
		sum[c] += more[c]
	}
}

func litresOf(v working.Estimate[quantity.Volume]) exposure.Spread {
	return exposure.Spread{v.At(working.Likely).Litres(), v.At(working.Low).Litres(), v.At(working.High).Litres()}
}

func gramsOf(m working.Estimate[quantity.Mass]) exposure.Spread {
	return exposure.Spread{m.At(working.Likely).Grams(), m.At(working.Low).Grams(), m.At(working.High).Grams()}
}

func (b *builder) dragOut() {
	w := templates.RinseWater
	b.doc.Section(1, w.DragOut)
	all := b.drags()
	b.doc.Add(doc.Paragraph{Text: w.DragOutNote}, b.films(all))
	b.doc.Section(2, w.Metals)
	b.doc.Add(doc.Paragraph{Text: w.MetalsNote}, b.metals())
}

// films is a row for each bath, drainage and film.
func (b *builder) films(all []*drag) doc.Table {
	volume := b.in.Volume
	t := doc.Table{
		Name: "drag_out", Empty: templates.RinseWater.NoDragOut,
		Columns: []doc.Column{
			{Name: "tank", Head: "Bath"}, {Name: "drainage", Head: "Work drains"}, {Name: "area", Head: "Area", Unit: b.in.Area, Numeric: true},
			{Name: "loads", Head: "Loads", Numeric: true},
			{Name: "film", Head: "Film", Unit: b.in.Film, Numeric: true}, {Name: "load", Head: "or with a load", Unit: volume, Numeric: true},
			{Name: "low", Head: "Drag-out: low", Unit: volume, Numeric: true},
			{Name: "likely", Head: "likely", Unit: volume, Numeric: true, Formula: "IF(ISNUMBER({film}),{area}*{film}/" + quantity.Plain(b.in.PerArea) + ",{loads}*{load})"},
			{Name: "high", Head: "high", Unit: volume, Numeric: true},
			{Name: "way", Head: "Film known"}, {Name: "how", Head: "How"},
		},
	}
	for _, d := range all {
		t.Rows = append(t.Rows, b.filmRow(d))
	}
	return t
}

func (b *builder) filmRow(d *drag) []doc.Cell {
	f := d.film()
	area, film, load := doc.Cell(doc.Blank{}), doc.Cell(doc.Blank{}), doc.Cell(doc.Blank{})
	if d.area > 0 {
		area = sewer.Figure(quantity.Area(d.area)*quantity.SquareMetre, b.in.Area)
	}
	cites := sewer.Cite(b.doc, f.PerArea.Ref(), f.PerLoad.Ref())
	if d.rows[0].Area.Known() {
		film = sewer.Estimate(f.PerArea, working.Likely, b.in.Film)
	} else if f.PerLoad.Known() {
		load = sewer.Number(sewer.In(quantity.Volume(f.PerLoad.Is().Litres())*quantity.Litre, b.in.Volume))
	}
	low, likely, high := sewer.Ordered(d.volume)
	return []doc.Cell{
		doc.Text{Is: d.rows[0].Tank.String()}, letterhead.Words(string(d.rows[0].Drainage)), area, doc.Number{Is: float64(d.loads)}, film, load,
		b.volume(low), sewer.Live(b.volume(likely)), b.volume(high), doc.Text{Is: f.Way.String(), Cites: cites}, letterhead.Words(f.What),
	}
}

// carriedOut is a metal that left a bath with the work over the period.
type carriedOut struct {
	tank, metal  string
	litres, mass exposure.Spread
}

func (b *builder) carriedOut() []*carriedOut {
	type key struct{ tank, metal string }
	at := map[key]*carriedOut{}
	var all []*carriedOut
	for _, row := range b.found.Water.DragOuts {
		for _, m := range row.Metals {
			if !m.Mass.Known() || !row.Volume.Known() {
				continue
			}
			k := key{row.Tank.Meaning(), m.Metal}
			c, ok := at[k]
			if !ok {
				c = &carriedOut{tank: row.Tank.String(), metal: m.Metal}
				at[k] = c
				all = append(all, c)
			}
			add(&c.litres, litresOf(row.Volume))
			add(&c.mass, gramsOf(m.Mass))
		}
	}
	return all
}

func (b *builder) metals() doc.Table {
	formula := "{litres}*" + b.in.Litres(b.doc) + "*{mean}"
	t := doc.Table{
		Name: "metals_dragged_out", Empty: templates.RinseWater.NoMetals,
		Columns: []doc.Column{
			{Name: "tank", Head: "Bath"}, {Name: "metal", Head: "Metal"}, {Name: "litres", Head: "Drag-out", Unit: b.in.Volume, Numeric: true},
			{Name: "mean", Head: "Mean in the bath", Unit: "g/L", Numeric: true},
			{Name: "low", Head: "Metal: low", Unit: "g", Numeric: true}, {Name: "likely", Head: "likely", Unit: "g", Numeric: true, Formula: formula},
			{Name: "high", Head: "high", Unit: "g", Numeric: true},
		},
	}
	for _, c := range b.carriedOut() {
		low, most, high := sewer.Ordered(c.mass)
		litres := likely(c.litres)
		if litres <= 0 {
			continue
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: c.tank}, doc.Text{Is: c.metal}, b.volume(litres), sewer.Number(most / litres), sewer.Number(low), sewer.Live(sewer.Number(most)), sewer.Number(high),
		})
	}
	return t
}
