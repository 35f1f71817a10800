package quantity

// Current is an electric current.
type Current float64

// The units.
const (
	Ampere Current = 1
)

// Amperes reads c in amperes.
func (c Current) Amperes() float64 { return float64(c / Ampere) }

func (Current) things() []*thing       { return []*thing{&current} }
func (Current) wrap(m measure) Current { return Current(m.base) }
func (c Current) measure() measure     { return measure{thing: &current, base: float64(c)} }

// CurrentDensity is current per surface of the work.
type CurrentDensity float64

// The units.
const (
	AmperePerSquareDecimetre CurrentDensity = 1
	AmperePerSquareFoot                     = AmperePerSquareDecimetre / 9.290304
)

// AmperesPerSquareDecimetre reads c in A/dm².
func (c CurrentDensity) AmperesPerSquareDecimetre() float64 {
	return float64(c / AmperePerSquareDecimetre)
}

func (CurrentDensity) things() []*thing              { return []*thing{&currentDensity} }
func (CurrentDensity) wrap(m measure) CurrentDensity { return CurrentDensity(m.base) }
func (c CurrentDensity) measure() measure            { return measure{thing: &currentDensity, base: float64(c)} }

// Charge is an electric charge.
type Charge float64

// The units.
const (
	AmpereHour   Charge = 1
	AmpereMinute        = AmpereHour / 60
	Coulomb             = AmpereHour / 3600
)

// AmpereHours reads c in A·h.
func (c Charge) AmpereHours() float64 { return float64(c / AmpereHour) }

// Coulombs reads c in coulombs.
func (c Charge) Coulombs() float64 { return float64(c / Coulomb) }

func (Charge) things() []*thing      { return []*thing{&charge} }
func (Charge) wrap(m measure) Charge { return Charge(m.base) }
func (c Charge) measure() measure    { return measure{thing: &charge, base: float64(c)} }

// Equivalent is the mass that one unit of charge deposits: an electrochemical equivalent.
type Equivalent float64

// The units.
const (
	GramPerAmpereHour Equivalent = 1
)

// GramsPerAmpereHour reads e in g/A·h.
func (e Equivalent) GramsPerAmpereHour() float64 { return float64(e / GramPerAmpereHour) }

func (Equivalent) things() []*thing          { return []*thing{&equivalent} }
func (Equivalent) wrap(m measure) Equivalent { return Equivalent(m.base) }
func (e Equivalent) measure() measure        { return measure{thing: &equivalent, base: float64(e)} }

// Conductivity is the electrical conductivity of water.
type Conductivity float64

// MicrosiemensPerCentimetre reads c in µS/cm.
func (c Conductivity) MicrosiemensPerCentimetre() float64 { return float64(c) }

func (Conductivity) things() []*thing            { return []*thing{&conductivity} }
func (Conductivity) wrap(m measure) Conductivity { return Conductivity(m.base) }
func (c Conductivity) measure() measure          { return measure{thing: &conductivity, base: float64(c)} }

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
