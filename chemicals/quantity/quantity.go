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
//
// Units are the trade's: gallons, ounces and pounds are United States customary
// units with their exact metric definitions (NIST Special Publication 811,
// 2008, appendix B). Degrees Baumé are those for liquids heavier than water.
//
// A number without a unit, a unit of another quantity, a bare "ppm", a decimal
// comma, and values beyond all sense are refused with a hint. Counts, pH and
// ratios are not quantities in this sense and have no type here.
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

// thing is one physical quantity and the units it is written in.
type thing struct {
	name        string // with its article: "a volume"
	example     string
	units       []unit
	metric, us  string  // units for computed figures
	least, most float64 // what is still believed, in base units, both inclusive
	dimension   dimension
	si          float64 // base units in the coherent unit of the dimension
	// note parts from a unit as written what it is of; nil where units stand alone.
	note func(symbol string) (unitSymbol, of string)
}

// unit is one way to write a thing. Most are factors; temperatures and degrees
// Baumé are functions.
type unit struct {
	symbol  string
	factor  float64 // base units in one unit
	also    []string
	toBase  func(float64) float64
	toUnits func(float64) float64
}

func (u unit) base(v float64) float64 {
	if u.toBase != nil {
		return u.toBase(v)
	}
	return v * u.factor
}

func (u unit) of(base float64) float64 {
	if u.toUnits != nil {
		return u.toUnits(base)
	}
	return base / u.factor
}

// dimension groups the things whose units measure the same in the SI, so that a
// conversion may go from one to the other where the types may not.
type dimension string

const (
	volumeOf       dimension = "m³"
	massOf         dimension = "kg"
	lengthOf       dimension = "m"
	areaOf         dimension = "m²"
	timeOf         dimension = "s"
	densityOf      dimension = "kg/m³"
	volumeRate     dimension = "m³/s"
	speedOf        dimension = "m/s"
	massRate       dimension = "kg/s"
	massPerArea    dimension = "kg/m²"
	massShare      dimension = "kg/kg"
	volumeShare    dimension = "m³/m³"
	amountOf       dimension = "mol/m³"
	equivalents    dimension = "eq/m³"
	airShare       dimension = "mol/mol of air"
	currentOf      dimension = "A"
	currentPerArea dimension = "A/m²"
	chargeOf       dimension = "C"
	massPerCharge  dimension = "kg/C"
	temperatureOf  dimension = "K"
	intervalOf     dimension = "K of difference"
	viscosityOf    dimension = "Pa·s"
	conductance    dimension = "S/m"
	molarMassOf    dimension = "kg/mol"
)

func (t *thing) unit(symbol string) (found unit, of string, ok bool) {
	if t.note != nil {
		symbol, of = t.note(symbol)
	}
	want := spelling(symbol)
	for _, u := range t.units {
		if spelling(u.symbol) == want {
			return u, of, true
		}
		for _, also := range u.also {
			if spelling(also) == want {
				return u, of, true
			}
		}
	}
	return unit{}, "", false
}

func (t *thing) symbols() []string {
	all := make([]string, len(t.units))
	for i, u := range t.units {
		all[i] = u.symbol
	}
	return all
}

// In reads q in a unit of its thing. The error, a *Refusal, names the units
// that would do.
func In(q Any, symbol string) (float64, error) {
	m := q.measure()
	u, of, ok := m.thing.unit(symbol)
	if !ok || of != "" && of != m.of {
		return 0, foreignUnit(m.thing, symbol)
	}
	return u.of(m.base), nil
}

// System chooses the units of computed figures.
type System int

// The systems.
const (
	Metric System = iota + 1
	US            // United States customary
)

func (s System) String() string {
	switch s {
	case Metric:
		return "metric"
	case US:
		return "us"
	}
	return "no system of units"
}

// ParseSystem reads "metric" or "us".
func ParseSystem(text string) (System, error) {
	for s := Metric; s <= US; s++ {
		if s.String() == text {
			return s, nil
		}
	}
	return 0, &Refusal{What: quoted(text) + " is not a system of units", Mend: "write metric or us"}
}

// Unit is the unit in which a computed q is printed in system s.
func Unit(q Any, s System) string {
	m := q.measure()
	chosen := m.thing.metric
	if s == US {
		chosen = m.thing.us
	}
	if m.thing == &money || m.thing == &moneyPerVolume || m.thing == &moneyPerMass {
		return m.of + chosen
	}
	return chosen
}

// Print writes q in a unit with the given number of significant digits:
// Print(2*Gallon, "L", 3) is "7.57 L". It panics on a unit of another thing,
// which is a mistake in the program.
func Print(q Any, symbol string, digits int) string {
	v, err := In(q, symbol)
	if err != nil {
		panic("quantity: " + err.Error())
	}
	return Significant(v, digits) + " " + symbol
}

// Finite reports whether q is an ordinary number.
func Finite(q Any) bool {
	b := q.measure().base
	return !math.IsNaN(b) && !math.IsInf(b, 0)
}
