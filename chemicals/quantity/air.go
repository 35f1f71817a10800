package quantity

// Airflow is a flow of air.
type Airflow float64

// The units.
const (
	CubicMetrePerSecond  Airflow = 1
	CubicMetrePerMinute          = CubicMetrePerSecond / 60
	AirCubicMetrePerHour         = CubicMetrePerSecond / 3600
	CubicFootPerMinute           = 0.028316846592 * CubicMetrePerSecond / 60
)

// CubicMetresPerSecond reads a in m³/s.
func (a Airflow) CubicMetresPerSecond() float64 { return float64(a / CubicMetrePerSecond) }

func (Airflow) things() []*thing       { return []*thing{&airflow} }
func (Airflow) wrap(m measure) Airflow { return Airflow(m.base) }
func (a Airflow) measure() measure     { return measure{thing: &airflow, base: float64(a)} }

// ExhaustRate is a flow of air per surface of a tank.
type ExhaustRate float64

// The units.
const (
	CubicMetrePerSecondSquareMetre ExhaustRate = 1
	CubicFootPerMinuteSquareFoot               = 0.3048 * CubicMetrePerSecondSquareMetre / 60
)

// CubicMetresPerSecondSquareMetre reads e in m³/s·m².
func (e ExhaustRate) CubicMetresPerSecondSquareMetre() float64 {
	return float64(e / CubicMetrePerSecondSquareMetre)
}

func (ExhaustRate) things() []*thing           { return []*thing{&exhaustRate} }
func (ExhaustRate) wrap(m measure) ExhaustRate { return ExhaustRate(m.base) }
func (e ExhaustRate) measure() measure         { return measure{thing: &exhaustRate, base: float64(e)} }

// GrainLoading is mass of particles per volume of dry air at standard conditions (68 °F,
// 1 atm).
type GrainLoading float64

// The units.
const (
	GrainPerDryStandardCubicFoot GrainLoading = 1
)

// GrainsPerDryStandardCubicFoot reads g in gr/dscf.
func (g GrainLoading) GrainsPerDryStandardCubicFoot() float64 {
	return float64(g / GrainPerDryStandardCubicFoot)
}

func (GrainLoading) things() []*thing            { return []*thing{&grainLoading} }
func (GrainLoading) wrap(m measure) GrainLoading { return GrainLoading(m.base) }
func (g GrainLoading) measure() measure          { return measure{thing: &grainLoading, base: float64(g)} }

// AirConcentration is how much of a substance the air holds, by mass or, for a
// gas or vapour, as parts per million by volume. The two convert only with a
// molar mass and a temperature.
type AirConcentration struct{ m measure }

// MilligramsPerCubicMetre is c in mg/m³ if it was written by mass.
func (c AirConcentration) MilligramsPerCubicMetre() (float64, bool) {
	return c.m.on(&airMass)
}

// PartsPerMillion is c in ppm by volume if it was written so.
func (c AirConcentration) PartsPerMillion() (float64, bool) {
	return c.m.on(&airVolume)
}

func (AirConcentration) things() []*thing                { return []*thing{&airMass, &airVolume} }
func (AirConcentration) wrap(m measure) AirConcentration { return AirConcentration{m} }
func (c AirConcentration) measure() measure              { return orBase(c.m, &airMass) }

var (
	airflow = thing{
		name: "an airflow", example: "2400 m³/h", metric: "m³/h", us: "cfm", most: 1e5, dimension: volumeRate, si: 1,
		units: []unit{
			{symbol: "m³/s", factor: float64(CubicMetrePerSecond)},
			{symbol: "m³/min", factor: float64(CubicMetrePerMinute)},
			{symbol: "m³/h", factor: float64(AirCubicMetrePerHour)},
			{symbol: "cfm", factor: float64(CubicFootPerMinute), also: []string{"ft³/min"}},
		},
	}
	exhaustRate = thing{
		name: "an airflow per area", example: "150 cfm/ft²", metric: "m³/s·m²", us: "cfm/ft²", most: 100, dimension: speedOf, si: 1,
		units: []unit{
			{symbol: "m³/s·m²", factor: float64(CubicMetrePerSecondSquareMetre), also: []string{"m³/s/m²"}},
			{symbol: "cfm/ft²", factor: float64(CubicFootPerMinuteSquareFoot)},
		},
	}
	grainLoading = thing{
		name: "a particle loading", example: "0.004 gr/dscf", metric: "gr/dscf", us: "gr/dscf", most: 1e4,
		dimension: massPerAir, si: 0.028316846592 / 64.79891e-6,
		units: []unit{{symbol: "gr/dscf", factor: float64(GrainPerDryStandardCubicFoot), also: []string{"grains/dscf"}}},
	}
	airMass = thing{
		name: "a concentration in air", example: "0.5 mg/m³", metric: "mg/m³", us: "mg/m³", most: 1e9, dimension: massPerAir, si: 1e6,
		units: []unit{
			{symbol: "mg/m³", factor: 1},
			{symbol: "µg/m³", factor: 0.001},
		},
	}
	airVolume = thing{
		name: "a share of the air", example: "5 ppm", metric: "ppm", us: "ppm", most: 1e6, dimension: airShare, si: 1e6,
		units: []unit{{symbol: "ppm", factor: 1, also: []string{"ppmv", "ppm v/v"}}},
	}
)
