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
