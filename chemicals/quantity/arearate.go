package quantity

// AreaRate is surface processed in a time, as production-based limits count it.
type AreaRate float64

// The units. M is a million here, as in MGD.
const (
	SquareMetrePerHour      AreaRate = 1
	SquareMetrePerDay                = SquareMetrePerHour / 24
	SquareFootPerHour                = 0.09290304 * SquareMetrePerHour
	SquareFootPerDay                 = SquareFootPerHour / 24
	MillionSquareFeetPerDay          = 1e6 * SquareFootPerDay
)

// SquareMetresPerHour reads a in m²/h.
func (a AreaRate) SquareMetresPerHour() float64 { return float64(a / SquareMetrePerHour) }

func (AreaRate) things() []*thing        { return []*thing{&rateOfArea} }
func (AreaRate) wrap(m measure) AreaRate { return AreaRate(m.base) }
func (a AreaRate) measure() measure      { return measure{thing: &rateOfArea, base: float64(a)} }

var rateOfArea = thing{
	name: "an area per time", example: "120 m²/day", metric: "m²/day", us: "ft²/day", most: 1e7, dimension: areaRate, si: 3600,
	units: []unit{
		{symbol: "m²/h", factor: float64(SquareMetrePerHour)},
		{symbol: "m²/day", factor: float64(SquareMetrePerDay), also: []string{"m²/d"}},
		{symbol: "ft²/h", factor: float64(SquareFootPerHour), also: []string{"sq ft/h"}},
		{symbol: "ft²/day", factor: float64(SquareFootPerDay), also: []string{"ft²/d", "sq ft/day"}},
		{symbol: "Mft²/day", factor: float64(MillionSquareFeetPerDay), also: []string{"Mft²/d"}},
	},
}
