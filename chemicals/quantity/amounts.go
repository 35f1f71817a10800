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

// Density is mass per volume of a liquid or solid. Degrees Baumé are those for liquids
// heavier than water, °Bé = 145 - 145/d, with the specific gravity d taken as
// g/mL (from memory; the difference is 0.1 %).
type Density float64

// The units.
const (
	GramPerMillilitre Density = 1
)

// GramsPerMillilitre reads d in g/mL, which is kg/L.
func (d Density) GramsPerMillilitre() float64 { return float64(d / GramPerMillilitre) }

func (Density) things() []*thing       { return []*thing{&density} }
func (Density) wrap(m measure) Density { return Density(m.base) }
func (d Density) measure() measure     { return measure{thing: &density, base: float64(d)} }

// MolarMass is the mass of one mole.
type MolarMass float64

// The units.
const (
	GramPerMole MolarMass = 1
)

// GramsPerMole reads m in g/mol.
func (m MolarMass) GramsPerMole() float64 { return float64(m / GramPerMole) }

func (MolarMass) things() []*thing         { return []*thing{&molarMass} }
func (MolarMass) wrap(m measure) MolarMass { return MolarMass(m.base) }
func (m MolarMass) measure() measure       { return measure{thing: &molarMass, base: float64(m)} }
