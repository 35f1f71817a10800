package quantity

// Density is mass per volume of a liquid or solid. Degrees Baumé are those of
// the United States for liquids heavier than water, °Bé = 145 - 145/d, with d in
// g/mL as the data file of GNU units 2.22 has it. Hydrometers are marked by the
// specific gravity at 60 °F, which is 0.1 % more (from memory).
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

// Viscosity is a dynamic viscosity.
type Viscosity float64

// The units.
const (
	MillipascalSecond Viscosity = 1
)

// MillipascalSeconds reads v in mPa·s, which is cP.
func (v Viscosity) MillipascalSeconds() float64 { return float64(v / MillipascalSecond) }

func (Viscosity) things() []*thing         { return []*thing{&viscosity} }
func (Viscosity) wrap(m measure) Viscosity { return Viscosity(m.base) }
func (v Viscosity) measure() measure       { return measure{thing: &viscosity, base: float64(v)} }

// Conductivity is the electrical conductivity of water.
type Conductivity float64

// MicrosiemensPerCentimetre reads c in µS/cm.
func (c Conductivity) MicrosiemensPerCentimetre() float64 { return float64(c) }

func (Conductivity) things() []*thing            { return []*thing{&conductivity} }
func (Conductivity) wrap(m measure) Conductivity { return Conductivity(m.base) }
func (c Conductivity) measure() measure          { return measure{thing: &conductivity, base: float64(c)} }

var (
	density = thing{
		name: "a density", example: "1.18 g/mL", metric: "g/mL", us: "g/mL", least: 0.02, most: 25, dimension: densityOf, si: 1. / 1000,
		units: []unit{
			{symbol: "g/mL", factor: 1, also: []string{"g/ml", "g/cm³"}},
			{symbol: "kg/L", factor: 1, also: []string{"kg/l"}},
			{symbol: "°Bé", also: []string{"°Be", "Bé", "Be", "deg Bé", "deg Be"}, scale: &baume},
		},
	}
	molarMass = thing{
		name: "a molar mass", example: "58.69 g/mol", metric: "g/mol", us: "g/mol", least: 1, most: 1e7, dimension: molarMassOf, si: 1000,
		units: []unit{{symbol: "g/mol", factor: float64(GramPerMole)}},
	}
	viscosity = thing{
		name: "a viscosity", example: "1.2 mPa·s", metric: "mPa·s", us: "cP", most: 1e6, dimension: viscosityOf, si: 1000,
		units: []unit{
			{symbol: "mPa·s", factor: float64(MillipascalSecond)},
			{symbol: "cP", factor: float64(MillipascalSecond)},
		},
	}
	conductivity = thing{
		name: "a conductivity", example: "350 µS/cm", metric: "µS/cm", us: "µS/cm", most: 1e7, dimension: conductance, si: 1e4,
		units: []unit{{symbol: "µS/cm", factor: 1}},
	}
)

// baume is the scale for liquids heavier than water. At 145 the density would
// be without bounds; 100 °Bé is 3.2 g/mL.
var baume = scale{
	toBase:      func(be float64) float64 { return 145 / (145 - be) },
	fromBase:    func(d float64) float64 { return 145 - 145/d },
	toFormula:   "ρ = 145 / (145 - °Bé) g/mL",
	fromFormula: "°Bé = 145 - 145 / ρ, ρ in g/mL",
	least:       0, most: 100,
	ends: "degrees Baumé for liquids heavier than water run from 0 to 100; write the density in g/mL",
}

// Temperature is a temperature; for a span between two see TemperatureDifference.
type Temperature float64

// The units.
const (
	DegreeCelsius Temperature = 1
)

// Celsius reads t in °C.
func (t Temperature) Celsius() float64 { return float64(t / DegreeCelsius) }

func (Temperature) things() []*thing           { return []*thing{&temperature} }
func (Temperature) wrap(m measure) Temperature { return Temperature(m.base) }
func (t Temperature) measure() measure         { return measure{thing: &temperature, base: float64(t)} }

// TemperatureDifference is a span between two temperatures.
type TemperatureDifference float64

// The units.
const (
	CelsiusDifference    TemperatureDifference = 1
	FahrenheitDifference                       = CelsiusDifference * 5 / 9
)

// CelsiusDegrees reads t in Celsius degrees.
func (t TemperatureDifference) CelsiusDegrees() float64 { return float64(t / CelsiusDifference) }

func (TemperatureDifference) things() []*thing { return []*thing{&temperatureDifference} }
func (TemperatureDifference) wrap(m measure) TemperatureDifference {
	return TemperatureDifference(m.base)
}
func (t TemperatureDifference) measure() measure {
	return measure{thing: &temperatureDifference, base: float64(t)}
}

var (
	temperature = thing{
		name: "a temperature", example: "55 °C", metric: "°C", us: "°F", least: -100, most: 2000, dimension: temperatureOf, si: 1,
		units: []unit{
			{symbol: "°C", factor: 1, also: []string{"℃", "C", "deg C", "degC"}},
			{symbol: "°F", also: []string{"℉", "F", "deg F", "degF"}, scale: &fahrenheit},
		},
	}
	temperatureDifference = thing{
		name: "a temperature difference", example: "10 °C", metric: "°C", us: "°F", least: -2000, most: 2000, dimension: intervalOf, si: 1,
		units: []unit{
			{symbol: "°C", factor: float64(CelsiusDifference), also: []string{"℃", "C", "deg C", "degC", "K"}},
			{symbol: "°F", factor: float64(FahrenheitDifference), also: []string{"℉", "F", "deg F", "degF"}},
		},
	}
)

var fahrenheit = scale{
	toBase:      func(f float64) float64 { return (f - 32) * 5 / 9 },
	fromBase:    func(c float64) float64 { return c*9/5 + 32 },
	toFormula:   "°C = (°F - 32) × 5 / 9",
	fromFormula: "°F = °C × 9 / 5 + 32",
}
