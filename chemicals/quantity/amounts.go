package quantity

// Volume is a volume of liquid or of a room. Gallons are United States gallons.
type Volume float64

// The units.
const (
	Litre      Volume = 1
	Millilitre        = Litre / 1000
	Gallon            = 3.785411784 * Litre
	CubicFoot         = 28.316846592 * Litre
	CubicMetre        = 1000 * Litre
)

// Litres reads v in litres.
func (v Volume) Litres() float64 { return float64(v / Litre) }

// Gallons reads v in US gallons.
func (v Volume) Gallons() float64 { return float64(v / Gallon) }

// CubicMetres reads v in cubic metres.
func (v Volume) CubicMetres() float64 { return float64(v / CubicMetre) }

func (Volume) things() []*thing      { return []*thing{&volume} }
func (Volume) wrap(m measure) Volume { return Volume(m.base) }
func (v Volume) measure() measure    { return measure{thing: &volume, base: float64(v)} }

// Mass is a mass. Ounces are avoirdupois; precious metals have the troy ounce.
type Mass float64

// The units.
const (
	Gram      Mass = 1
	Milligram      = Gram / 1000
	Kilogram       = 1000 * Gram
	Tonne          = 1000 * Kilogram
	Pound          = 453.59237 * Gram
	Ounce          = Pound / 16
	TroyOunce      = 31.1034768 * Gram
)

// Grams reads m in grams.
func (m Mass) Grams() float64 { return float64(m / Gram) }

// Kilograms reads m in kilograms.
func (m Mass) Kilograms() float64 { return float64(m / Kilogram) }

// Pounds reads m in pounds.
func (m Mass) Pounds() float64 { return float64(m / Pound) }

func (Mass) things() []*thing    { return []*thing{&mass} }
func (Mass) wrap(m measure) Mass { return Mass(m.base) }
func (m Mass) measure() measure  { return measure{thing: &mass, base: float64(m)} }

// Amount is how much of a product there is, by mass or by volume.
type Amount struct{ m measure }

// OfMass makes an amount by mass.
func OfMass(v Mass) Amount { return Amount{v.measure()} }

// OfVolume makes an amount by volume.
func OfVolume(v Volume) Amount { return Amount{v.measure()} }

// Mass is a if it was written by mass.
func (a Amount) Mass() (Mass, bool) {
	v, ok := a.m.on(&mass)
	return Mass(v), ok
}

// Volume is a if it was written by volume.
func (a Amount) Volume() (Volume, bool) {
	v, ok := a.m.on(&volume)
	return Volume(v), ok
}

func (Amount) things() []*thing      { return []*thing{&mass, &volume} }
func (Amount) wrap(m measure) Amount { return Amount{m} }
func (a Amount) measure() measure    { return orBase(a.m, &mass) }

var (
	volume = thing{
		name: "a volume", example: "120 L", metric: "L", us: "gal", most: 1e9, dimension: volumeOf, si: 1000,
		units: []unit{
			{symbol: "L", factor: float64(Litre), also: []string{"l", "litre", "litres", "liter", "liters"}},
			{symbol: "mL", factor: float64(Millilitre), also: []string{"ml", "cm³"}},
			{symbol: "gal", factor: float64(Gallon), also: []string{"gallon", "gallons", "US gal", "U.S. gal"}},
			{symbol: "ft³", factor: float64(CubicFoot), also: []string{"cu ft"}},
			{symbol: "m³", factor: float64(CubicMetre)},
		},
	}
	mass = thing{
		name: "a mass", example: "25 kg", metric: "kg", us: "lb", most: 1e10, dimension: massOf, si: 1000,
		units: []unit{
			{symbol: "g", factor: float64(Gram)},
			{symbol: "mg", factor: float64(Milligram)},
			{symbol: "kg", factor: float64(Kilogram)},
			{symbol: "t", factor: float64(Tonne)},
			{symbol: "oz", factor: float64(Ounce)},
			{symbol: "troy oz", factor: float64(TroyOunce), also: []string{"ozt"}},
			{symbol: "lb", factor: float64(Pound), also: []string{"lbs"}},
		},
	}
)
