package quantity

// EffluentConcentration is mass per volume of waste water or rinse water.
type EffluentConcentration float64

// The units.
const (
	MilligramPerLitre EffluentConcentration = 1
	MicrogramPerLitre                       = MilligramPerLitre / 1000
)

// MilligramsPerLitre reads e in mg/L.
func (e EffluentConcentration) MilligramsPerLitre() float64 { return float64(e / MilligramPerLitre) }

func (EffluentConcentration) things() []*thing { return []*thing{&effluentConcentration} }
func (EffluentConcentration) wrap(m measure) EffluentConcentration {
	return EffluentConcentration(m.base)
}
func (e EffluentConcentration) measure() measure {
	return measure{thing: &effluentConcentration, base: float64(e)}
}

// SolidsConcentration is mass of a constituent per mass of a solid or sludge.
type SolidsConcentration float64

// The units.
const (
	MilligramPerKilogram SolidsConcentration = 1
)

// MilligramsPerKilogram reads s in mg/kg.
func (s SolidsConcentration) MilligramsPerKilogram() float64 {
	return float64(s / MilligramPerKilogram)
}

func (SolidsConcentration) things() []*thing                   { return []*thing{&solidsConcentration} }
func (SolidsConcentration) wrap(m measure) SolidsConcentration { return SolidsConcentration(m.base) }
func (s SolidsConcentration) measure() measure {
	return measure{thing: &solidsConcentration, base: float64(s)}
}

// Flow is a flow of water.
type Flow float64

// The units.
const (
	LitrePerMinute       Flow = 1
	LitrePerHour              = LitrePerMinute / 60
	LitrePerDay               = LitrePerHour / 24
	GallonPerMinute           = 3.785411784 * LitrePerMinute
	GallonPerHour             = GallonPerMinute / 60
	GallonPerDay              = GallonPerHour / 24
	MillionGallonsPerDay      = 1e6 * GallonPerDay
	CubicMetrePerHour         = 1000 * LitrePerHour
	CubicMetrePerDay          = 1000 * LitrePerDay
)

// LitresPerMinute reads f in L/min.
func (f Flow) LitresPerMinute() float64 { return float64(f / LitrePerMinute) }

// LitresPerHour reads f in L/h.
func (f Flow) LitresPerHour() float64 { return float64(f / LitrePerHour) }

func (Flow) things() []*thing    { return []*thing{&flow} }
func (Flow) wrap(m measure) Flow { return Flow(m.base) }
func (f Flow) measure() measure  { return measure{thing: &flow, base: float64(f)} }

// Film is the volume of solution that leaves a bath on each unit of surface.
type Film float64

// The units.
const (
	LitrePerSquareMetre         Film = 1
	MillilitrePerSquareFoot          = LitrePerSquareMetre / 1000 / 0.09290304
	GallonPerThousandSquareFeet      = 3.785411784 * LitrePerSquareMetre / 92.90304
)

// LitresPerSquareMetre reads f in L/m².
func (f Film) LitresPerSquareMetre() float64 { return float64(f / LitrePerSquareMetre) }

func (Film) things() []*thing    { return []*thing{&film} }
func (Film) wrap(m measure) Film { return Film(m.base) }
func (f Film) measure() measure  { return measure{thing: &film, base: float64(f)} }

// LoadVolume is the volume of solution that leaves a bath with one load.
type LoadVolume float64

// The units.
const (
	LitrePerLoad      LoadVolume = 1
	MillilitrePerLoad            = LitrePerLoad / 1000
)

// Litres reads l in litres a load.
func (l LoadVolume) Litres() float64 { return float64(l / LitrePerLoad) }

func (LoadVolume) things() []*thing          { return []*thing{&loadVolume} }
func (LoadVolume) wrap(m measure) LoadVolume { return LoadVolume(m.base) }
func (l LoadVolume) measure() measure        { return measure{thing: &loadVolume, base: float64(l)} }

// Evaporation is the volume of water that leaves each unit of surface in a unit of time.
type Evaporation float64

// The units.
const (
	LitrePerHourSquareMetre Evaporation = 1
	GallonPerHourSquareFoot             = 3.785411784 * LitrePerHourSquareMetre / 0.09290304
)

// LitresPerHourSquareMetre reads e in L/h·m².
func (e Evaporation) LitresPerHourSquareMetre() float64 { return float64(e / LitrePerHourSquareMetre) }

func (Evaporation) things() []*thing           { return []*thing{&evaporation} }
func (Evaporation) wrap(m measure) Evaporation { return Evaporation(m.base) }
func (e Evaporation) measure() measure         { return measure{thing: &evaporation, base: float64(e)} }

// MassRate is mass per time, of a metal discharged or a vapour given off.
type MassRate float64

// The units.
const (
	GramPerHour        MassRate = 1
	MilligramPerMinute          = 0.06 * GramPerHour
	GramPerMinute               = 60 * GramPerHour
	KilogramPerHour             = 1000 * GramPerHour
	KilogramPerDay              = KilogramPerHour / 24
	GramPerDay                  = GramPerHour / 24
	PoundPerDay                 = 453.59237 * GramPerHour / 24
)

// GramsPerHour reads m in g/h.
func (m MassRate) GramsPerHour() float64 { return float64(m / GramPerHour) }

func (MassRate) things() []*thing        { return []*thing{&rateOfMass} }
func (MassRate) wrap(m measure) MassRate { return MassRate(m.base) }
func (m MassRate) measure() measure      { return measure{thing: &rateOfMass, base: float64(m)} }

// MassPerArea is mass per processed surface, as production-based limits have it.
type MassPerArea float64

// The units.
const (
	MilligramPerSquareMetre   MassPerArea = 1
	PoundPerMillionSquareFeet             = 453592.37 * MilligramPerSquareMetre / 92903.04
)

// MilligramsPerSquareMetre reads m in mg/m².
func (m MassPerArea) MilligramsPerSquareMetre() float64 { return float64(m / MilligramPerSquareMetre) }

func (MassPerArea) things() []*thing           { return []*thing{&arealMass} }
func (MassPerArea) wrap(m measure) MassPerArea { return MassPerArea(m.base) }
func (m MassPerArea) measure() measure         { return measure{thing: &arealMass, base: float64(m)} }

var (
	effluentConcentration = thing{
		name: "a concentration in water", example: "0.31 mg/L", metric: "mg/L", us: "mg/L", most: 1e6, dimension: massPerLiquid, si: 1000,
		units: []unit{
			{symbol: "mg/L", factor: float64(MilligramPerLitre), also: []string{"mg/l"}},
			{symbol: "µg/L", factor: float64(MicrogramPerLitre), also: []string{"µg/l"}},
		},
	}
	solidsConcentration = thing{
		name: "a content of a solid", example: "120 mg/kg", metric: "mg/kg", us: "mg/kg", most: 1e6, dimension: massShare, si: 1e6,
		units: []unit{{symbol: "mg/kg", factor: float64(MilligramPerKilogram)}},
	}
	flow = thing{
		name: "a flow of water", example: "6 L/min", metric: "L/min", us: "gal/min", most: 1e7, dimension: volumeRate, si: 60000,
		units: []unit{
			{symbol: "L/min", factor: float64(LitrePerMinute), also: []string{"l/min"}},
			{symbol: "L/h", factor: float64(LitrePerHour), also: []string{"l/h"}},
			{symbol: "L/day", factor: float64(LitrePerDay), also: []string{"L/d", "l/day"}},
			{symbol: "gal/min", factor: float64(GallonPerMinute), also: []string{"gpm"}},
			{symbol: "gal/h", factor: float64(GallonPerHour), also: []string{"gph"}},
			{symbol: "gal/day", factor: float64(GallonPerDay), also: []string{"gal/d", "gpd"}},
			{symbol: "MGD", factor: float64(MillionGallonsPerDay), also: []string{"mgd"}},
			{symbol: "m³/h", factor: float64(CubicMetrePerHour)},
			{symbol: "m³/day", factor: float64(CubicMetrePerDay), also: []string{"m³/d"}},
		},
	}
	film = thing{
		name: "a drag-out per area", example: "0.08 L/m²", metric: "L/m²", us: "gal/1000 ft²", most: 100, dimension: lengthOf, si: 1000,
		units: []unit{
			{symbol: "L/m²", factor: float64(LitrePerSquareMetre), also: []string{"l/m²"}},
			{symbol: "mL/ft²", factor: float64(MillilitrePerSquareFoot), also: []string{"ml/ft²"}},
			{symbol: "gal/1000 ft²", factor: float64(GallonPerThousandSquareFeet)},
		},
	}
	loadVolume = thing{
		name: "a drag-out per load", example: "250 mL", metric: "L", us: "L", most: 1e4, dimension: volumeOf, si: 1000,
		units: []unit{
			{symbol: "L", factor: float64(LitrePerLoad), also: []string{"l"}},
			{symbol: "mL", factor: float64(MillilitrePerLoad), also: []string{"ml"}},
		},
	}
	evaporation = thing{
		name: "an evaporation", example: "1.5 L/h·m²", metric: "L/h·m²", us: "gal/h·ft²", most: 1000, dimension: speedOf, si: 3.6e6,
		units: []unit{
			{symbol: "L/h·m²", factor: float64(LitrePerHourSquareMetre), also: []string{"L/m²·h", "L/h/m²", "L/m²/h"}},
			{symbol: "gal/h·ft²", factor: float64(GallonPerHourSquareFoot), also: []string{"gal/ft²·h", "gal/h/ft²", "gal/ft²/h"}},
		},
	}
	rateOfMass = thing{
		name: "a mass per time", example: "12 g/h", metric: "g/h", us: "lb/day", most: 1e8, dimension: massRate, si: 3.6e6,
		units: []unit{
			{symbol: "g/h", factor: float64(GramPerHour)},
			{symbol: "mg/min", factor: float64(MilligramPerMinute)},
			{symbol: "g/min", factor: float64(GramPerMinute)},
			{symbol: "kg/h", factor: float64(KilogramPerHour)},
			{symbol: "kg/day", factor: float64(KilogramPerDay), also: []string{"kg/d"}},
			{symbol: "g/day", factor: float64(GramPerDay), also: []string{"g/d"}},
			{symbol: "lb/day", factor: float64(PoundPerDay), also: []string{"lb/d"}},
		},
	}
	arealMass = thing{
		name: "a mass per area", example: "160 mg/m²", metric: "mg/m²", us: "lb/10⁶ ft²", most: 1e9, dimension: massPerArea, si: 1e6,
		units: []unit{
			{symbol: "mg/m²", factor: float64(MilligramPerSquareMetre)},
			{symbol: "lb/10⁶ ft²", factor: float64(PoundPerMillionSquareFeet), also: []string{"lb/Mft²", "lb/1000000 ft²"}},
		},
	}
)
