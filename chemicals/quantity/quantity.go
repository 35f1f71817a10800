// Package quantity has one type for each physical quantity that a plating shop
// writes down, so that a bath concentration and an effluent concentration, or a
// temperature and a temperature difference, cannot be taken for one another.
//
//	350 g/L, 46.7 oz/gal, 2 N (1/2 H2SO4), 12 % w/w    BathConcentration
//	0.31 mg/L                                          EffluentConcentration
//	120 L, 31.7 gal, 4.2 ft³                           Volume
//
// A unit is a constant (12 * Litre), a reading is a method (v.Litres()), and
// text is read with Parse. Stated keeps a quantity as somebody wrote it.
// Convert goes between units, and with a density or a molar mass between bases.
//
// Units are the trade's. Factors are exact: 1 in = 0.0254 m, 1 gal = 231 in³,
// 1 lb = 453.59237 g, 1 troy oz = 31.1034768 g, 1 gr = 64.79891 mg (NIST
// Special Publication 811, 2008, appendix B); gallons, ounces and pounds are
// United States customary units. Degrees Baumé are those for liquids heavier
// than water. The bounds of what is believed are ours: generous for a job shop,
// tight enough to catch a slip of the unit.
//
// A number without a unit, a unit of another quantity, a bare "ppm", a decimal
// comma, and values beyond all sense are refused with a hint.
//
// Not covered: counts, pH and ratios, which are bare numbers and have no type
// here; imperial gallons; exchange rates between currencies; ranges and "<"
// results, which are read where a column allows them.
package quantity

import "math"

// Any is a quantity of any type; only the types of this package implement it.
type Any interface {
	measure() measure
}

// Quantity is the constraint of the generic functions: Q is one of the types
// of this package.
type Quantity[Q any] interface {
	Any
	things() []*thing
	wrap(measure) Q
}

// measure is a figure in the base unit of a thing.
type measure struct {
	thing *thing
	base  float64
	of    string // what an equivalent is, "1/2 H2SO4"; which currency, "USD"; empty elsewhere
}

// on is the figure if it was written as t; zero where it was not, so that no
// figure is taken for one on another basis.
func (m measure) on(t *thing) (float64, bool) {
	if m.thing != t {
		return 0, false
	}
	return m.base, true
}

func orBase(m measure, t *thing) measure {
	if m.thing == nil {
		m.thing = t
	}
	return m
}

// thing is one physical quantity and the units it is written in.
type thing struct {
	name        string // with its article: "a volume"
	example     string
	units       []unit
	metric, us  string  // units for computed figures
	least, most float64 // what is still believed, in base units, both inclusive
	dimension   dimension
	si          float64 // base units in the coherent unit of the dimension
	note        *note   // nil where units stand alone
}

// note is what a unit carries beside itself: a price its currency, a normality
// its equivalent.
type note struct {
	part    func(symbol string) (unitSymbol, of string, ok bool)
	join    func(unitSymbol, of string) string
	example string
}

// unit is one way to write a thing. Most are factors; temperatures and degrees
// Baumé are functions.
type unit struct {
	symbol string
	factor float64 // base units in one unit
	also   []string
	scale  *scale // nil for a factor
}

// scale is a unit that is not a factor.
type scale struct {
	toBase, fromBase       func(float64) float64
	toFormula, fromFormula string  // the same two, for the working
	least, most            float64 // where the scale is defined, in its own unit
	ends                   string  // how to mend a value beyond it; empty for a scale without ends
}

func (u *unit) base(v float64) float64 {
	if u.scale != nil {
		return u.scale.toBase(v)
	}
	return v * u.factor
}

func (u *unit) of(base float64) float64 {
	if u.scale != nil {
		return u.scale.fromBase(base)
	}
	return base / u.factor
}

// within leaves room for the last bits of a change of units at either bound,
// none below zero. NaN is never within.
func within(v, least, most float64) bool {
	const slack = 1e-12
	return v >= least-slack*math.Abs(least) && v <= most+slack*math.Abs(most)
}

// defined reports whether u can express v.
func (u *unit) defined(v float64) bool {
	return u.scale == nil || u.scale.ends == "" || within(v, u.scale.least, u.scale.most)
}

func (u *unit) offScale(what string) error {
	return &Refusal{What: what + " is off the scale of " + u.symbol, Mend: u.scale.ends}
}

// physical lists the things but for money, in the order in which a unit is
// looked up when the wanted thing does not have it.
var physical = []*thing{
	&volume, &mass, &length, &area, &duration, &density, &molarMass, &speed,
	&bathMass, &bathVolume, &massFraction, &molarity, &normality,
	&effluentConcentration, &solidsConcentration, &airMass, &airVolume,
	&flow, &film, &evaporation, &rateOfMass, &arealMass, &rateOfArea,
	&current, &currentDensity, &charge, &equivalent, &conductivity,
	&temperature, &temperatureDifference, &viscosity,
	&airflow, &exhaustRate, &grainLoading, &loadVolume,
}

var prices = []*thing{&money, &moneyPerVolume, &moneyPerMass}

var every = append(physical[:len(physical):len(physical)], prices...)

// dimension groups the things that measure the same, so that a conversion may
// go from one to the other where the types may not. What is told apart here is
// what a shop must not mix: mass per volume of liquid and of air, and the
// density of a liquid, which is no concentration.
type dimension string

const (
	volumeOf       dimension = "m³"
	massOf         dimension = "kg"
	lengthOf       dimension = "m"
	areaOf         dimension = "m²"
	timeOf         dimension = "s"
	densityOf      dimension = "kg/m³"
	massPerLiquid  dimension = "kg/m³ of liquid"
	massPerAir     dimension = "kg/m³ of air"
	volumeRate     dimension = "m³/s"
	speedOf        dimension = "m/s"
	massRate       dimension = "kg/s"
	massPerArea    dimension = "kg/m²"
	areaRate       dimension = "m²/s"
	massShare      dimension = "kg/kg"
	volumeShare    dimension = "m³/m³"
	amountOf       dimension = "mol/m³"
	equivalents    dimension = "eq/m³"
	airShare       dimension = "mol/mol of air"
	currentOf      dimension = "A"
	currentPerArea dimension = "A/m²"
	chargeOf       dimension = "C"
	massPerCharge  dimension = "kg/C"
	temperatureOf  dimension = "°C"
	intervalOf     dimension = "K of difference"
	viscosityOf    dimension = "Pa·s"
	conductance    dimension = "S/m"
	molarMassOf    dimension = "kg/mol"
	moneyOf        dimension = "money"
	pricePerVolume dimension = "money/m³"
	pricePerMass   dimension = "money/kg"
)
