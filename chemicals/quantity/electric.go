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

var (
	current = thing{
		name: "a current", example: "80 A", metric: "A", us: "A", most: 1e6, dimension: currentOf, si: 1,
		units: []unit{{symbol: "A", factor: float64(Ampere)}},
	}
	currentDensity = thing{
		name: "a current density", example: "2.5 A/dm²", metric: "A/dm²", us: "A/ft²", most: 1e4, dimension: currentPerArea, si: 0.01,
		units: []unit{
			{symbol: "A/dm²", factor: float64(AmperePerSquareDecimetre), also: []string{"ASD"}},
			{symbol: "A/ft²", factor: float64(AmperePerSquareFoot), also: []string{"ASF"}},
		},
	}
	charge = thing{
		name: "a charge", example: "400 A·h", metric: "A·h", us: "A·h", most: 1e9, dimension: chargeOf, si: 1. / 3600,
		units: []unit{
			{symbol: "A·h", factor: float64(AmpereHour)},
			{symbol: "A·min", factor: float64(AmpereMinute)},
			{symbol: "C", factor: float64(Coulomb), also: []string{"A·s"}},
		},
	}
	equivalent = thing{
		name: "an electrochemical equivalent", example: "1.095 g/A·h", metric: "g/A·h", us: "g/A·h", most: 100, dimension: massPerCharge, si: 3.6e6,
		units: []unit{{symbol: "g/A·h", factor: float64(GramPerAmpereHour)}},
	}
)
