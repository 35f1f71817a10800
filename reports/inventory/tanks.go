package inventory

import (
	"fmt"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func (b *builder) tanks() {
	w := templates.Inventory
	b.doc.Section(1, w.Tanks)
	b.doc.Section(2, w.Lines)
	b.doc.Add(b.lines())
	b.doc.Section(2, w.Baths)
	b.doc.Add(doc.Paragraph{Text: w.BathsNote}, b.baths())
	b.doc.Section(2, w.Metals)
	b.doc.Add(doc.Paragraph{Text: w.MetalsNote}, b.metals(), b.metalTotals())
}

func (b *builder) lines() doc.Table {
	t := doc.Table{
		Name: "tanks", Empty: "No tank is recorded.",
		Columns: []doc.Column{
			{Name: "tank", Head: "Tank"}, {Name: "title", Head: "In words"}, {Name: "line", Head: "Line"},
			{Name: "purpose", Head: "Purpose"}, {Name: "recorded", Head: "Volume, as recorded"},
			{Name: "volume", Head: "Volume", Unit: b.in.volume, Numeric: true},
			{Name: "warmth", Head: "Run at, as recorded"}, {Name: "temperature", Head: "Run at", Unit: b.in.temperature, Numeric: true},
			{Name: "ph", Head: "pH"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, tank := range b.found.Tanks {
		is := tank.Is
		temperature, warmth := doc.Cell(doc.Blank{}), doc.Cell(doc.Blank{})
		if is.Temperature.Known() {
			v, err := quantity.In(is.Temperature.Is(), b.in.temperature)
			if err != nil {
				panic("inventory: " + err.Error())
			}
			temperature, warmth = doc.Number{Is: v}, doc.Text{Is: is.Temperature.String()}
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: is.Name.String()}, letterhead.Words(is.Title.String()), letterhead.Words(is.Line.String()), letterhead.Words(string(is.Purpose)),
			letterhead.Written(is.WorkingVolume, "not recorded"), b.volume(is.WorkingVolume), warmth, temperature,
			letterhead.Words(is.PH.String()), doc.Number{Is: float64(tank.Entry)},
		})
	}
	return t
}

func (b *builder) volume(v quantity.Stated[quantity.Volume]) doc.Cell {
	if !v.Known() {
		return doc.Blank{Why: "not recorded"}
	}
	return figure(v.Is(), b.in.volume)
}

// perVolume makes a mass of a concentration and a volume in the units of the
// report: 1 g/L × 1 L is 0.001 kg, 1 oz/gal × 1 gal is 1/16 lb.
func (b *builder) perVolume() string {
	if b.in.mass == "lb" {
		return "/16"
	}
	return "/1000"
}

func (b *builder) baths() doc.Table {
	t := doc.Table{
		Name: "baths", Empty: "No bath is recorded.",
		Columns: []doc.Column{
			{Name: "tank", Head: "Tank"}, {Name: "ingredient", Head: "Ingredient"}, {Name: "made", Head: "Made up with"},
			{Name: "found", Head: "Found"}, {Name: "on", Head: "On"}, {Name: "age", Head: "Age", Unit: "days", Numeric: true},
			{Name: "concentration", Head: "Contents", Unit: b.in.concentration, Numeric: true},
			{Name: "volume", Head: "Volume", Unit: b.in.volume, Numeric: true},
			{Name: "mass", Head: "In the tank", Unit: b.in.mass, Numeric: true, Formula: "{concentration}*{volume}" + b.perVolume()},
		},
	}
	for _, tank := range b.found.Tanks {
		for _, c := range tank.Contents {
			made := doc.Cell(doc.Blank{})
			if c.MadeUp != nil {
				made = doc.Text{Is: c.MadeUp.Is.Concentration.String()}
			}
			found, on, age := b.analysis(c.Found)
			t.Rows = append(t.Rows, []doc.Cell{
				doc.Text{Is: tank.Is.Name.String()}, doc.Text{Is: c.Name.String()}, made, found, on, age,
				b.concentration(c.Concentration), b.volume(tank.Is.WorkingVolume), b.live(c.Mass),
			})
		}
	}
	return t
}

func (b *builder) analysis(a *chemicals.Happened[chemicals.Analysis]) (found, on, age doc.Cell) {
	if a == nil {
		return doc.Blank{}, doc.Blank{}, doc.Blank{}
	}
	days := doc.Number{Is: float64(b.shop.AsOf.Since(a.Date))}
	if exposure.StaleAges().Analysis.Past(a.Date, b.shop.AsOf) {
		days.Emphasis = doc.Caution
	}
	return doc.Text{Is: fmt.Sprintf("%s of %s", a.Is.Concentration, a.Is.Ingredient)}, letterhead.Day(a.Date, ""), days
}

func (b *builder) concentration(c working.Estimate[quantity.BathConcentration]) doc.Cell {
	if !c.Known() {
		return doc.Blank{Why: c.Why()}
	}
	return figure(c.Is(), b.in.concentration)
}

// live is a mass that the workbook computes from the row.
func (b *builder) live(m working.Estimate[quantity.Mass]) doc.Cell {
	if !m.Known() {
		return doc.Blank{Why: m.Why()}
	}
	n := figure(m.Is(), b.in.mass)
	n.Live = true
	return n
}

func (b *builder) metals() doc.Table {
	t := doc.Table{
		Name: "metals", Empty: "No metal is known in any tank.",
		Columns: []doc.Column{
			{Name: "tank", Head: "Tank"}, {Name: "metal", Head: "Metal"}, {Name: "basis", Head: "By"},
			{Name: "low", Head: "Low", Unit: b.in.concentration, Numeric: true},
			{Name: "concentration", Head: "Likely", Unit: b.in.concentration, Numeric: true},
			{Name: "high", Head: "High", Unit: b.in.concentration, Numeric: true},
			{Name: "volume", Head: "Volume", Unit: b.in.volume, Numeric: true},
			{Name: "mass", Head: "In the tank", Unit: b.in.mass, Numeric: true, Formula: "{concentration}*{volume}" + b.perVolume()},
		},
	}
	for _, tank := range b.found.Tanks {
		for _, m := range tank.Metals {
			low, high := doc.Cell(doc.Blank{}), doc.Cell(doc.Blank{})
			if m.Concentration.Spread() {
				low, high = figure(m.Concentration.At(working.Low), b.in.concentration), figure(m.Concentration.At(working.High), b.in.concentration)
			}
			basis := "the make-up"
			if m.Found != nil {
				basis = "analysis of " + m.Found.Date.String()
			}
			t.Rows = append(t.Rows, []doc.Cell{
				doc.Text{Is: tank.Is.Name.String()}, doc.Text{Is: m.Metal.Name}, doc.Text{Is: basis}, low,
				b.concentration(m.Concentration), high, b.volume(tank.Is.WorkingVolume), b.live(m.Mass),
			})
		}
	}
	return t
}

func (b *builder) metalTotals() doc.Table {
	t := doc.Table{
		Name: "metal_totals", Caption: "All tanks together, as far as their volumes are known", Empty: "No metal is known in any tank.",
		Columns: []doc.Column{
			{Name: "metal", Head: "Metal"}, {Name: "tanks", Head: "Tanks"},
			{Name: "mass", Head: "In all tanks", Unit: b.in.mass, Numeric: true, Formula: "SUMPRODUCT(--({metals:metal}={metal}),{metals:mass})"},
		},
	}
	var order []string
	sums, tanks := map[string]quantity.Mass{}, map[string][]string{}
	for _, tank := range b.found.Tanks {
		for _, m := range tank.Metals {
			if !m.Mass.Known() {
				continue
			}
			if _, seen := sums[m.Metal.Name]; !seen {
				order = append(order, m.Metal.Name)
			}
			sums[m.Metal.Name] += m.Mass.Is()
			tanks[m.Metal.Name] = append(tanks[m.Metal.Name], tank.Is.Name.String())
		}
	}
	for _, metal := range order {
		n := figure(sums[metal], b.in.mass)
		n.Live = true
		t.Rows = append(t.Rows, []doc.Cell{doc.Text{Is: metal}, doc.Text{Is: joined(tanks[metal])}, n})
	}
	return t
}
