package quantity

import (
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// gnu has every unit as an expression of GNU units. Prices are there without
// their currency. ppm and shares are pure numbers; an equivalent counts as a
// mole of its own. °F and °Bé are not factors and have a test of their own.
var gnu = map[string]string{
	"L": "liter", "mL": "milliliter", "gal": "usgallon", "ft³": "ft^3", "m³": "m^3",
	"g": "gram", "mg": "milligram", "kg": "kilogram", "t": "tonne", "oz": "ounce", "troy oz": "troyounce", "lb": "pound",
	"m": "meter", "µm": "micrometer", "mil": "mil", "µin": "microinch", "mm": "millimeter", "cm": "centimeter", "in": "inch", "ft": "foot",
	"m²": "m^2", "cm²": "cm^2", "dm²": "dm^2", "ft²": "ft^2",
	"h": "hour", "s": "second", "min": "minute", "day": "day",
	"g/mL": "g/ml", "kg/L": "kg/liter", "g/mol": "g/mol",
	"m/s": "m/s", "ft/min": "ft/min", "cm/s": "cm/s",
	"g/L": "g/liter", "oz/gal": "ounce/usgallon", "troy oz/gal": "troyounce/usgallon", "mg/L": "mg/liter", "µg/L": "microgram/liter",
	"mL/L": "ml/liter", "% v/v": "percent", "% w/w": "percent", "mg/kg": "mg/kg", "ppm": "ppm",
	"mol/L": "mol/liter", "N": "mol/liter",
	"mg/m³": "mg/m^3", "µg/m³": "microgram/m^3", "gr/dscf": "grain/ft^3",
	"L/min": "liter/min", "L/h": "liter/hour", "L/day": "liter/day", "gal/min": "usgpm", "gal/h": "usgallon/hour", "gal/day": "usgallon/day",
	"MGD": "usmgd", "m³/h": "m^3/hour", "m³/day": "m^3/day", "m³/min": "m^3/min", "m³/s": "m^3/s", "cfm": "cfm",
	"L/m²": "liter/m^2", "mL/ft²": "ml/ft^2", "gal/1000 ft²": "usgallon/(1000 ft^2)",
	"L/h·m²": "liter/(hour m^2)", "gal/h·ft²": "usgallon/(hour ft^2)", "m³/s·m²": "m^3/(s m^2)", "cfm/ft²": "cfm/ft^2",
	"g/h": "g/hour", "mg/min": "mg/min", "g/min": "g/min", "kg/h": "kg/hour", "kg/day": "kg/day", "g/day": "g/day", "lb/day": "lb/day",
	"mg/m²": "mg/m^2", "lb/10⁶ ft²": "lb/(10^6 ft^2)",
	"m²/h": "m^2/hour", "m²/day": "m^2/day", "ft²/h": "ft^2/hour", "ft²/day": "ft^2/day", "Mft²/day": "10^6 ft^2/day",
	"A": "ampere", "A/dm²": "A/dm^2", "A/ft²": "A/ft^2",
	"A·h": "ampere hour", "A·min": "ampere minute", "C": "coulomb", "g/A·h": "g/(ampere hour)",
	"µS/cm": "microsiemens/cm", "mPa·s": "millipascal second", "cP": "centipoise",
	"°C": "degC", "°F": "degF",
	"": "1", "/L": "1/liter", "/m³": "1/m^3", "/gal": "1/usgallon", "/ft³": "1/ft^3",
	"/g": "1/gram", "/kg": "1/kg", "/lb": "1/pound", "/oz": "1/ounce", "/troy oz": "1/troyounce", "/t": "1/tonne",
}

// gnuCoherent has the coherent unit of every dimension.
var gnuCoherent = map[dimension]string{
	volumeOf: "m^3", massOf: "kg", lengthOf: "m", areaOf: "m^2", timeOf: "s", densityOf: "kg/m^3", massPerLiquid: "kg/m^3",
	massPerAir: "kg/m^3", volumeRate: "m^3/s", speedOf: "m/s", massRate: "kg/s", massPerArea: "kg/m^2", areaRate: "m^2/s", massShare: "1",
	volumeShare: "1", amountOf: "mol/m^3", equivalents: "mol/m^3", airShare: "1", currentOf: "A", currentPerArea: "A/m^2",
	chargeOf: "C", massPerCharge: "kg/C", temperatureOf: "degC", intervalOf: "degC", viscosityOf: "Pa s", conductance: "S/m",
	molarMassOf: "kg/mol", moneyOf: "1", pricePerVolume: "1/m^3", pricePerMass: "1/kg",
}

// askGNU converts each pair of expressions in one run of GNU units.
func askGNU(t *testing.T, pairs [][2]string) []float64 {
	t.Helper()
	program, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("GNU units is not installed")
		}
		t.Skip("GNU units is not installed")
	}
	var in strings.Builder
	for _, p := range pairs {
		in.WriteString(p[0] + "\n" + p[1] + "\n")
	}
	cmd := exec.Command(program, "--terse", "--quiet", "--digits", "15")
	cmd.Env = append(os.Environ(), "UNITS_ENGLISH=US", "LC_ALL=C", "MYUNITSFILE=", "UNITSFILE=")
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	// An expression that is not understood is answered before its partner is
	// read, so that all later answers would be off by one line.
	require.Len(t, lines, len(pairs), "answers of GNU units:\n%s", out)
	values := make([]float64, len(lines))
	for i, line := range lines {
		values[i], err = strconv.ParseFloat(line, 64)
		require.NoError(t, err, "GNU units on %q to %q", pairs[i][0], pairs[i][1])
	}
	return values
}

func TestFactorsAgreeWithGNUUnits(t *testing.T) {
	type claim struct {
		text string
		want float64
	}
	var pairs [][2]string
	var claims []claim
	for _, th := range every {
		require.Equal(t, 1., th.units[0].factor, "the first unit of %s is its base", th.name)
		base, coherent := gnu[th.units[0].symbol], gnuCoherent[th.dimension]
		require.NotEmpty(t, coherent, "no GNU unit for dimension %q", th.dimension)
		pairs = append(pairs, [2]string{coherent, base})
		claims = append(claims, claim{th.name + ": base units in one " + string(th.dimension), th.si})
		for i := range th.units {
			u := &th.units[i]
			if u.scale != nil {
				require.Contains(t, []*scale{&fahrenheit, &baume}, u.scale, "%s has no GNU function here", u.symbol)
				continue
			}
			expression := gnu[u.symbol]
			require.NotEmpty(t, expression, "%s, %q has no GNU unit", th.name, u.symbol)
			pairs = append(pairs, [2]string{expression, base})
			claims = append(claims, claim{th.name + ": " + u.symbol, u.factor})
		}
	}
	for i, got := range askGNU(t, pairs) {
		assert.InEpsilon(t, got, claims[i].want, 1e-13, claims[i].text)
	}
}

func TestScalesAgreeWithGNUUnits(t *testing.T) {
	var pairs [][2]string
	var got []float64
	for _, v := range []float64{-40, 0, 32, 68, 98.6, 140, 212, 3000} {
		figure := Plain(v)
		pairs = append(pairs, [2]string{"tempF(" + figure + ")", "tempC"}, [2]string{"tempC(" + figure + ")", "tempF"})
		got = append(got, fahrenheit.toBase(v), fahrenheit.fromBase(v))
	}
	for _, v := range []float64{0, 0.5, 20, 35.2, 66, 100} {
		pairs = append(pairs, [2]string{"baume(" + Plain(v) + ")", "g/ml"})
		got = append(got, baume.toBase(v))
	}
	for _, v := range []float64{1, 1.18, 1.3, 1.8354, 3} {
		pairs = append(pairs, [2]string{Plain(v) + " g/ml", "baume"})
		got = append(got, baume.fromBase(v))
	}
	for i, want := range askGNU(t, pairs) {
		assert.InDelta(t, want, got[i], 1e-11, "%v", pairs[i])
	}
}

// The molar volume is the rounded one of the regulation; that of an ideal gas
// at 25 °C and 760 torr is 24.465 L/mol.
func TestMolarVolumeIsNearTheIdealGas(t *testing.T) {
	got := askGNU(t, [][2]string{{"R 298.15 K / atm", "liter/mol"}})
	assert.InEpsilon(t, got[0], molarVolumeAt25*1000, 0.001)
}
