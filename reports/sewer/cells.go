package sewer

import (
	"slices"
	"strconv"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
)

// Units are those of computed figures on water. Metals are in g, and in g/L or
// mg/L, under either system: so are the limits and the laboratory's results.
type Units struct {
	Volume string
	Flow   string
	Area   string
	Film   string
	Mass   string // of reagents and sludge

	Hourly  float64 // the volume of an hour at one unit of the flow
	PerArea float64 // the area that one unit of the film is for, in the unit of area
}

// UnitsOf are the units of a system.
func UnitsOf(system quantity.System) Units {
	if system == quantity.US {
		return Units{
			Volume: "gal", Flow: "gal/min", Area: "ft²", Film: "gal/1000 ft²", Mass: "lb", Hourly: 60, PerArea: 1000,
		}
	}
	return Units{Volume: "L", Flow: "L/h", Area: "m²", Film: "L/m²", Mass: "kg", Hourly: 1, PerArea: 1}
}

// litresName names the Input that is the litres of the unit of volume.
const litresName = "litres_per_volume"

// Litres adds the litres of one unit of volume to the workbook's inputs and
// gives it as a formula takes it.
func (u Units) Litres(d *doc.Document) string {
	for _, in := range d.Inputs {
		if in.Name == litresName {
			return "{=" + litresName + "}"
		}
	}
	d.Inputs = append(d.Inputs, doc.Input{Name: litresName, Label: "One " + u.Volume, Value: u.InLitres(), Unit: "L"})
	return "{=" + litresName + "}"
}

// InLitres is one unit of volume in litres.
func (u Units) InLitres() float64 {
	one, err := quantity.Parse[quantity.Volume]("1 " + u.Volume)
	if err != nil {
		panic("sewer: " + err.Error())
	}
	return one.Litres()
}

// The digits of computed figures.
const (
	digits       = 3
	mostDecimals = 8
)

// Number is a figure at three significant digits, whole where it is large.
func Number(v float64) doc.Number {
	return doc.Number{Is: v, Decimals: min(doc.Significant(v, digits), mostDecimals)}
}

// Share is a fraction as a percentage, for a column with the unit %.
func Share(fraction float64) doc.Number { return Number(100 * fraction) }

// Live makes a figure one that its column's formula computes.
func Live(n doc.Number) doc.Number {
	n.Live = true
	return n
}

// In is a quantity in a unit.
func In(q quantity.Any, unit string) float64 {
	v, err := quantity.In(q, unit)
	if err != nil {
		panic("sewer: " + err.Error())
	}
	return v
}

// Figure is a quantity in a unit.
func Figure(q quantity.Any, unit string) doc.Number { return Number(In(q, unit)) }

// Estimate is a case of an estimate in a unit, or its absence.
func Estimate[Q quantity.Any](e working.Estimate[Q], at working.Case, unit string) doc.Cell {
	if !e.Known() {
		return doc.Blank{Why: e.Why()}
	}
	return Figure(e.At(at), unit)
}

// Ratio is a bare estimate, or its absence.
func Ratio(e working.Estimate[float64], at working.Case) doc.Cell {
	if !e.Known() {
		return doc.Blank{Why: e.Why()}
	}
	const most = 1e6 // beyond it a ratio says only that ideal mixing is taken at its word
	if e.At(at) > most {
		return doc.Text{Is: "over 1 000 000"}
	}
	return Number(e.At(at))
}

// Ordered are the least, the likely and the greatest figure of a spread: through
// a chain the low case may come to more than the high one.
func Ordered(s exposure.Spread) (low, likely, high float64) {
	return min(s[0], s[1], s[2]), s[working.Likely], max(s[0], s[1], s[2])
}

// Spread sets a spread in three cells.
func Spread(s exposure.Spread) []doc.Cell {
	low, likely, high := Ordered(s)
	return []doc.Cell{Number(low), Number(likely), Number(high)}
}

// Between is a range in words, or one figure where it is none.
func Between(s exposure.Spread) string {
	low, likely, high := Ordered(s)
	if a, b := Number(low).String(), Number(high).String(); a != b {
		return Number(likely).String() + " (" + a + " to " + b + ")"
	}
	return Number(likely).String()
}

// TableName is a table's name made the only one by a number.
func TableName(name string, number int) string { return name + "_" + strconv.Itoa(number) }

// OnePlace takes a column that says the same in every row out of a table and
// says it in the caption.
func OnePlace(t doc.Table, column string) doc.Table {
	n := slices.IndexFunc(t.Columns, func(c doc.Column) bool { return c.Name == column })
	for _, row := range t.Rows {
		if row[n] != nil && row[n].String() != t.Rows[0][n].String() {
			return t
		}
	}
	if len(t.Rows) == 0 {
		return t
	}
	if t.Caption != "" {
		t.Caption += "; "
	}
	t.Caption += t.Rows[0][n].String()
	t.Columns = slices.Delete(slices.Clone(t.Columns), n, n+1)
	for i, row := range t.Rows {
		t.Rows[i] = slices.Delete(row, n, n+1)
	}
	return t
}

// Chain names the tanks of a rinse from the first to the last.
func Chain(tanks []chemicals.Name) string {
	if len(tanks) == 0 {
		return ""
	}
	if first, last := tanks[0].String(), tanks[len(tanks)-1].String(); first != last {
		return first + "–" + last
	}
	return tanks[0].String()
}

// Blanks are n cells in which nothing is expected.
func Blanks(n int) []doc.Cell {
	cells := make([]doc.Cell, n)
	for i := range cells {
		cells[i] = doc.Blank{}
	}
	return cells
}

// Cite numbers published sources; an entry of the book is named in words and has
// no number.
func Cite(d *doc.Document, refs ...source.Ref) []int {
	var published []source.Ref
	for _, ref := range refs {
		if ref.Known() && ref.Standing != source.ShopRecord {
			published = append(published, ref)
		}
	}
	return letterhead.Cites(d, published...)
}

// Caution marks what is wanted to be seen.
func Caution(yes bool) doc.Emphasis {
	if yes {
		return doc.Caution
	}
	return doc.Normal
}

// Over marks what is beyond a limit.
func Over(yes bool) doc.Emphasis {
	if yes {
		return doc.Over
	}
	return doc.Normal
}
