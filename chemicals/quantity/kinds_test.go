package quantity

import (
	"encoding"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// kind is one exported type, reached without its type parameter.
type kind struct {
	name   string
	things []*thing
	parse  func(text string) (Any, error)
	state  func(m measure, symbol string) (statement, error)
	stated func() statement // an absent one, to unmarshal into
}

// statement is a *Stated of any type.
type statement interface {
	fmt.Stringer
	encoding.TextMarshaler
	encoding.TextUnmarshaler
	Known() bool
	Meaning() string
	Example() string
	Units() []string
	Unit() string
}

func kindOf[Q Quantity[Q]]() kind {
	var none Q
	return kind{
		name:   strings.TrimPrefix(fmt.Sprintf("%T", none), "quantity."),
		things: none.things(),
		parse:  func(text string) (Any, error) { return Parse[Q](text) },
		state: func(m measure, symbol string) (statement, error) {
			s, err := State(none.wrap(m), symbol)
			return &s, err
		},
		stated: func() statement { return &Stated[Q]{} },
	}
}

var kinds = []kind{
	kindOf[Volume](), kindOf[Mass](), kindOf[Amount](), kindOf[Length](), kindOf[Area](), kindOf[Duration](),
	kindOf[Density](), kindOf[MolarMass](), kindOf[Speed](), kindOf[BathConcentration](), kindOf[MassShare](),
	kindOf[EffluentConcentration](), kindOf[SolidsConcentration](), kindOf[AirConcentration](),
	kindOf[Flow](), kindOf[Film](), kindOf[LoadVolume](), kindOf[Evaporation](), kindOf[MassRate](), kindOf[MassPerArea](), kindOf[AreaRate](),
	kindOf[Current](), kindOf[CurrentDensity](), kindOf[Charge](), kindOf[Equivalent](), kindOf[Conductivity](),
	kindOf[Temperature](), kindOf[TemperatureDifference](), kindOf[Viscosity](),
	kindOf[Airflow](), kindOf[ExhaustRate](), kindOf[GrainLoading](),
	kindOf[Money](), kindOf[MoneyPerVolume](), kindOf[MoneyPerMass](),
	kindOf[Assay](), kindOf[Release](), kindOf[Price](),
}

func kindNamed(t *testing.T, name string) kind {
	t.Helper()
	for _, k := range kinds {
		if k.name == name {
			return k
		}
	}
	require.FailNow(t, "no such type", name)
	return kind{}
}

func TestEveryThingHasAType(t *testing.T) {
	covered := map[*thing]bool{}
	for _, k := range kinds {
		for _, th := range k.things {
			covered[th] = true
			assert.Contains(t, every, th, "%s is not listed", th.name)
		}
	}
	for _, th := range every {
		assert.True(t, covered[th], "%s belongs to no type listed here", th.name)
	}
}

func TestExamplesAndUnitsParse(t *testing.T) {
	for _, k := range kinds {
		_, err := k.parse(k.stated().Example())
		require.NoError(t, err, "%s: its example", k.name)
		for _, symbol := range k.stated().Units() {
			_, err := k.parse("1 " + symbol)
			require.NoError(t, err, "%s: %s", k.name, symbol)
		}
		for _, th := range k.things {
			_, err := k.parse(th.example)
			require.NoError(t, err, "%s: %s", k.name, th.example)
		}
	}
}

func TestUnitsOfComputedFigures(t *testing.T) {
	for _, k := range kinds {
		q, err := k.parse(k.stated().Example())
		require.NoError(t, err)
		for s := Metric; s <= US; s++ {
			_, err := k.parse(Print(q, Unit(q, s), 6))
			require.NoError(t, err, "%s in the %s unit", k.name, s)
		}
	}
}

func TestSpellingsNameOneUnit(t *testing.T) {
	for _, th := range every {
		taken := map[string]string{}
		for _, u := range th.units {
			for _, name := range u.names() {
				for _, spelled := range []string{name, spelling(name), strings.ReplaceAll(spelling(name), "·", "")} {
					if other, found := taken[spelled]; found {
						require.Equal(t, other, u.symbol, "%s: %q", th.name, spelled)
					}
					taken[spelled] = u.symbol
				}
			}
		}
	}
}

// The units that the trade writes, type by type.
func TestTradeUnits(t *testing.T) {
	for name, units := range map[string]string{
		"Volume":                "L, mL, gal, ft³, m³",
		"Mass":                  "mg, g, kg, t, oz, troy oz, lb",
		"Amount":                "mg, g, kg, t, oz, troy oz, lb, L, mL, gal, ft³, m³",
		"Length":                "µm, mil, µin, mm, cm, m, in, ft",
		"Area":                  "cm², dm², m², ft²",
		"Duration":              "s, min, h, day",
		"BathConcentration":     "g/L, oz/gal, troy oz/gal, mL/L, % w/w, % v/v, mol/L, N (1/2 H2SO4)",
		"MassShare":             "% w/w",
		"Density":               "g/mL, kg/L, °Bé",
		"MolarMass":             "g/mol",
		"EffluentConcentration": "mg/L, µg/L",
		"SolidsConcentration":   "mg/kg",
		"AirConcentration":      "mg/m³, µg/m³, ppm",
		"Flow":                  "L/min, L/h, L/day, gal/min, gal/h, gal/day, MGD, m³/h",
		"Airflow":               "m³/h, m³/min, m³/s, cfm",
		"ExhaustRate":           "cfm/ft²",
		"Speed":                 "ft/min, m/s, cm/s",
		"Film":                  "L/m², mL/ft², gal/1000 ft²",
		"LoadVolume":            "L, mL",
		"Evaporation":           "L/h·m², gal/h·ft²",
		"MassRate":              "g/h, mg/min, kg/h, kg/day, g/day, lb/day",
		"MassPerArea":           "mg/m², lb/10⁶ ft²",
		"AreaRate":              "m²/h, m²/day, ft²/h, ft²/day, Mft²/day",
		"Current":               "A",
		"CurrentDensity":        "A/dm², A/ft²",
		"Charge":                "A·h",
		"Equivalent":            "g/A·h",
		"Temperature":           "°C, °F",
		"TemperatureDifference": "°C, °F",
		"Viscosity":             "cP, mPa·s",
		"Conductivity":          "µS/cm",
		"GrainLoading":          "grains/dscf",
		"Money":                 "USD, EUR",
		"MoneyPerVolume":        "USD/m³, USD/gal, EUR/L",
		"MoneyPerMass":          "USD/kg, USD/lb, EUR/troy oz",
	} {
		for _, symbol := range strings.Split(units, ", ") {
			_, err := kindNamed(t, name).parse("1 " + symbol)
			assert.NoError(t, err, "%s in %s", name, symbol)
		}
	}
}

// Ways to write a unit on a keyboard that has not its signs.
func TestSpellings(t *testing.T) {
	for _, c := range []struct{ kind, written, same string }{
		{"Volume", "5L", "5 L"},
		{"Volume", "+5 L", "5 L"},
		{"Volume", ".5 L", "0.5 L"},
		{"Volume", "5. L", "5 L"},
		{"Volume", "\t5\u00a0L ", "5 L"},
		{"Volume", "1.2e3 L", "1200 L"},
		{"Volume", "12 gal.", "12 gal"},
		{"Volume", "12 U.S. gal", "12 gal"},
		{"Volume", "2 m^3", "2 m³"},
		{"Volume", "2 cu. ft.", "2 ft³"},
		{"Volume", "-0 L", "0 L"},
		{"Mass", "3 troyoz", "3 troy oz"},
		{"Length", "5 um", "5 µm"},
		{"Length", "5 μm", "5 µm"}, // Greek mu
		{"BathConcentration", "12%w/w", "12 % w/w"},
		{"BathConcentration", "12 % (w/w)", "12 % w/w"},
		{"BathConcentration", "12 wt.%", "12 % w/w"},
		{"BathConcentration", "6 troy oz / gal", "6 troy oz/gal"},
		{"BathConcentration", "2 N(1/2 H2SO4)", "2 N (1/2 H2SO4)"},
		{"BathConcentration", "2 N ( 1/2 H₂SO₄ )", "2 N (1/2 H2SO4)"},
		{"BathConcentration", "1.5 M", "1.5 mol/L"},
		{"AirConcentration", "5 ppm (v/v)", "5 ppm"},
		{"Evaporation", "2 L/(h m2)", "2 L/h·m²"},
		{"Evaporation", "2 L/(m2.h)", "2 L/h·m²"},
		{"MassPerArea", "3 lb/10^6 ft^2", "3 lb/10⁶ ft²"},
		{"MassPerArea", "3 lb/10⁶ft²", "3 lb/10⁶ ft²"},
		{"AreaRate", "2 Mft2/d", "2000000 ft²/day"},
		{"Film", "3 gal/(1000 ft2)", "3 gal/1000 ft²"},
		{"Charge", "400 Ah", "400 A·h"},
		{"Charge", "400 A h", "400 A·h"},
		{"Charge", "400 A*h", "400 A·h"},
		{"Equivalent", "1.1 g/(A·h)", "1.1 g/A·h"},
		{"Viscosity", "1 mPa s", "1 mPa·s"},
		{"Temperature", "−5 °C", "-5 °C"},
		{"Temperature", "130 F", "130 °F"},
		{"Temperature", "55 ° C", "55 °C"},
		{"Temperature", "55 ºC", "55 °C"},
		{"Temperature", "55 ℃", "55 °C"},
		{"Density", "35 Be", "35 °Bé"},
		{"MoneyPerVolume", "4.10 USD / m3", "4.10 USD/m³"},
		{"MoneyPerMass", "32.50 USD/ozt", "32.50 USD/troy oz"},
	} {
		a, b := kindNamed(t, c.kind).stated(), kindNamed(t, c.kind).stated()
		require.NoError(t, a.UnmarshalText([]byte(c.written)), c.written)
		require.NoError(t, b.UnmarshalText([]byte(c.same)), c.same)
		assert.Equal(t, b.Meaning(), a.Meaning(), c.written)
	}
}

func TestStatedText(t *testing.T) {
	for written, c := range map[string]struct{ kept, unit string }{
		"5L":              {"5 L", "L"},
		" 5 \t gal ":      {"5 gal", "gal"},
		"5 U.S.\u00a0gal": {"5 U.S. gal", "U.S. gal"},
		"0.50 ft3":        {"0.50 ft3", "ft3"},
		"\u22120 m³":      {"-0 m³", "m³"},
		"1.20e2 cm³":      {"1.20e2 cm³", "cm³"},
	} {
		var s Stated[Volume]
		require.NoError(t, s.UnmarshalText([]byte(written)), written)
		assert.Equal(t, c.kept, s.String())
		assert.Equal(t, c.unit, s.Unit())
	}

	long := Stated[Volume]{}
	require.NoError(t, long.UnmarshalText([]byte(strings.Repeat("0", longest-2)+"5L")))
	require.NoError(t, long.UnmarshalText([]byte(long.String())), "what is kept is not too long to be read again")

	absent := Stated[Volume]{}
	assert.False(t, absent.Known())
	assert.Empty(t, absent.String()+absent.Unit()+absent.Meaning())
	require.NoError(t, absent.UnmarshalText([]byte(" \t ")))
	assert.False(t, absent.Known(), "blanks state nothing, least of all zero")
}
