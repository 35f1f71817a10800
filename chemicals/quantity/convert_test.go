package quantity_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
)

func stated[Q quantity.Quantity[Q]](t *testing.T, text string) quantity.Stated[Q] {
	t.Helper()
	var s quantity.Stated[Q]
	require.NoError(t, s.UnmarshalText([]byte(text)))
	return s
}

func bridge(t *testing.T, density, molarMass, temperature string) quantity.Bridge {
	t.Helper()
	return quantity.Bridge{
		Density:     stated[quantity.Density](t, density),
		MolarMass:   stated[quantity.MolarMass](t, molarMass),
		Temperature: stated[quantity.Temperature](t, temperature),
	}
}

func TestConvertWithinADimension(t *testing.T) {
	for _, c := range []struct {
		text, to string
		want     float64
		formula  string
	}{
		{"2 gal", "L", 7.570823568, "1 gal = 3.785411784 L"},
		{"1 mL/ft²", "µm", 10.7639104167097, "1 mL/ft² = 10.7639104167097 µm"},
		{"100 cfm/ft²", "ft/min", 100, "1 cfm/ft² = 1 ft/min"},
		{"350 g/L", "mg/L", 350000, "1 g/L = 1000 mg/L"},
		{"12 % w/w", "mg/kg", 120000, "1 % w/w = 10000 mg/kg"},
		{"20 °C", "°F", 68, "°F = °C × 9 / 5 + 32"},
		{"68 °F", "°C", 20, "°C = (°F - 32) × 5 / 9"},
		{"55 C", "F", 131, "°F = °C × 9 / 5 + 32"},
		{"3600 C", "A·h", 1, "1 C = 0.000277777777777778 A·h"},
		{"35 °Bé", "kg/L", 145. / 110, "ρ = 145 / (145 - °Bé) g/mL"},
		{"1.45 g/mL", "°Bé", 45, "°Bé = 145 - 145 / ρ, ρ in g/mL"},
		{"100000 m³/s", "m³/h", 3.6e8, "1 m³/s = 3600 m³/h"}, // too much for water, not for air
		{"4 USD/m³", "USD/L", 0.004, "1 USD/m³ = 0.001 USD/L"},
		{"2 N (1/2 H2SO4)", "N", 2, "1 N (1/2 H2SO4) = 1 N"},
	} {
		got, err := quantity.Convert(c.text, c.to, quantity.Bridge{})
		require.NoError(t, err, "%s to %s", c.text, c.to)
		assert.InEpsilon(t, c.want, got.Value, 1e-14, "%s to %s", c.text, c.to)
		assert.Equal(t, c.to, got.Unit)
		assert.Equal(t, c.formula, got.Formula)
		assert.Empty(t, got.Used)
	}
}

// Particle loadings are of dry air at standard conditions, and say so.
func TestConvertParticleLoading(t *testing.T) {
	got, err := quantity.Convert("1 gr/dscf", "mg/m³", quantity.Bridge{})
	require.NoError(t, err)
	assert.InEpsilon(t, 2288.35191056573, got.Value, 1e-14)
	assert.Equal(t, []string{"dry air at 68 °F and 1 atm"}, got.Used)
}

func TestConvertOverABridge(t *testing.T) {
	acid := bridge(t, "1.18 g/mL", "98.08 g/mol", "")
	const rhoSolution, rhoIngredient, m = "ρ of the solution = 1.18 g/mL", "ρ of the ingredient = 1.18 g/mL", "M = 98.08 g/mol"
	for _, c := range []struct {
		text, to string
		want     float64
		formula  string
		used     []string
	}{
		{"59 kg", "L", 50, "V = m / ρ", []string{"ρ = 1.18 g/mL"}},
		{"50 L", "kg", 59, "m = V × ρ", []string{"ρ = 1.18 g/mL"}},
		{"12 % w/w", "g/L", 141.6, "c = w × ρ", []string{rhoSolution}},
		{"141.6 g/L", "% w/w", 12, "w = c / ρ", []string{rhoSolution}},
		{"50 mL/L", "g/L", 59, "c = φ × ρ", []string{rhoIngredient}},
		{"59 g/L", "% v/v", 5, "φ = c / ρ", []string{rhoIngredient}},
		{"196.16 g/L", "mol/L", 2, "n = c / M", []string{m}},
		{"1.18 % w/w", "mol/L", 0.0118 * 1180 / 98.08, "c = w × ρ; n = c / M", []string{rhoSolution, m}},
		{"49.04 g/L", "N (1/2 H2SO4)", 1, "n = c / M; N = n / (1/2)", []string{m}},
		{"2 N (1/2 H2SO4)", "g/L", 98.08, "n = N × 1/2; c = n × M", []string{m}},
		{"2 N (1/2 H2SO4)", "mol/L", 1, "n = N × 1/2", nil},
		{"1 mol/L", "N (1/2 H2SO4)", 2, "N = n / (1/2)", nil},
		{"2 N (1/2 H2SO4)", "N (1/1 H2SO4)", 1, "n = N × 1/2; N = n / (1/1)", nil},
	} {
		got, err := quantity.Convert(c.text, c.to, acid)
		require.NoError(t, err, "%s to %s", c.text, c.to)
		assert.InEpsilon(t, c.want, got.Value, 1e-12, "%s to %s", c.text, c.to)
		assert.Equal(t, c.formula, got.Formula, "%s to %s", c.text, c.to)
		assert.Equal(t, c.used, got.Used, "%s to %s", c.text, c.to)
	}
}

// Limits of 29 CFR 1910.1000 Table Z-1, where mg/m³ stand beside ppm by way of
// 24.45 L/mol, rounded by the table.
func TestConvertPartsPerMillionOfAir(t *testing.T) {
	for _, c := range []struct {
		name, ppm, molarMass string
		table                float64
	}{
		{"hydrogen chloride", "5 ppm", "36.46 g/mol", 7},
		{"nitric acid", "2 ppm", "63.01 g/mol", 5},
		{"hydrogen cyanide", "10 ppm", "27.03 g/mol", 11},
		{"ammonia", "50 ppm", "17.03 g/mol", 35},
	} {
		got, err := quantity.Convert(c.ppm, "mg/m³", bridge(t, "", c.molarMass, ""))
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.table, got.Value, 0.5, c.name)
		assert.Equal(t, []string{"M = " + c.molarMass, "Vm = 24.45 L/mol at 25 °C, assumed"}, got.Used)

		stated, err := quantity.Convert(c.ppm, "mg/m³", bridge(t, "", c.molarMass, "25 °C"))
		require.NoError(t, err, c.name)
		assert.InEpsilon(t, got.Value, stated.Value, 1e-14, "%s at the temperature assumed", c.name)
		warm, err := quantity.Convert(c.ppm, "mg/m³", bridge(t, "", c.molarMass, "60 °C"))
		require.NoError(t, err, c.name)
		assert.InEpsilon(t, got.Value*298.15/333.15, warm.Value, 1e-14, "%s in warm air", c.name)
	}
}

func TestConvertRefuses(t *testing.T) {
	const (
		ofAir       = "ppm is here of air, by volume: it converts to mg/m³ and µg/m³; in water write mg/L, in a solid mg/kg"
		noRates     = "exchange rates are not known here; keep to one currency"
		noDensity   = "the density of a liquid is no concentration; it converts to g/mL, kg/L and °Bé"
		twoDensity  = "two densities are needed: convert to g/L with that of the ingredient, and from there with that of the bath"
		temperature = "write a temperature in °C or °F; a difference of 1 °C is one of 1.8 °F"
		anyUnit     = "name the unit to convert to, such as g/L or lb/10⁶ ft²"
	)
	full := bridge(t, "1.18 g/mL", "98.08 g/mol", "25 °C")
	for _, c := range []struct {
		text, to   string
		bridge     quantity.Bridge
		what, mend string
	}{
		{"10 °C", "K", full, `"K" is a unit of temperature differences, which are not converted`, temperature},
		{"10 K", "°F", full, `"10 K" is a temperature difference, which is not converted`, temperature},
		{"10 °C", "g/L", full, `"10 °C" does not convert to "g/L"`, "it converts to °C, °F"},
		{"1.18 g/mL", "g/L", full, `"1.18 g/mL" does not convert to "g/L"`, noDensity},
		{"35 °Bé", "mg/m³", full, `"35 °Bé" does not convert to "mg/m³"`, noDensity},
		{"350 g/L", "°Bé", full, `"350 g/L" does not convert to "°Bé"`, noDensity},
		{"0.9 g/mL", "°Bé", full, `"0.9 g/mL" is off the scale of °Bé`, "degrees Baumé for liquids heavier than water run from 0 to 100; write the density in g/mL"},
		{"5 ppm", "mg/L", full, `"5 ppm" does not convert to "mg/L"`, ofAir},
		{"5 mg/L", "ppm", full, `"5 mg/L" does not convert to "ppm"`, ofAir},
		{"5 ppm", "% v/v", full, `"5 ppm" does not convert to "% v/v"`, ofAir},
		{"5 ppm", "gr/dscf", full, `"5 ppm" does not convert to "gr/dscf"`, ofAir},
		{"1 gr/dscf", "ppm", full, `"1 gr/dscf" does not convert to "ppm"`, ofAir},
		{"5 mg/m³", "mg/L", full, `"5 mg/m³" does not convert to "mg/L"`, "it converts to mg/m³, µg/m³, gr/dscf"},
		{"12 % w/w", "mL/L", full, `"12 % w/w" does not convert to "mL/L"`, twoDensity},
		{"5 % v/v", "mg/kg", full, `"5 % v/v" does not convert to "mg/kg"`, twoDensity},
		{"2000 g/L", "% w/w", full, `"2000 g/L" comes to 169.5 % w/w, which is beyond belief for a mass share`, "check the value, and the density or molar mass if one was given"},
		{"1.5 mol/L", "N", full, `"1.5 mol/L" does not convert to "N"`, `name the equivalent: "N (1/2 H2SO4)"`},
		{"2 N (1/2 H2SO4)", "N (1/1 HCl)", full, `"2 N (1/2 H2SO4)" does not convert to "N (1/1 HCl)"`, "name an equivalent of the same formula unit"},
		{"2 N", "g/L", full, `"2 N" does not name its equivalent`, `write which share of which formula unit one equivalent is, as in "2 N (1/2 H2SO4)"`},
		{"120 L", "g/L", full, `"120 L" does not convert to "g/L"`, "it converts to L, mL, gal, ft³, m³"},
		{"58.69 g/mol", "g/L", full, `"58.69 g/mol" does not convert to "g/L"`, "it converts to g/mol"},
		{"125 USD", "EUR", full, `"125 USD" does not convert to "EUR"`, noRates},
		{"4 USD/m³", "EUR/gal", full, `"4 USD/m³" does not convert to "EUR/gal"`, noRates},
		{"125 USD", "USD/gal", full, `"125 USD" does not convert to "USD/gal"`, "it converts to USD"},
		{"25 kg", "L", quantity.Bridge{}, `going from a mass to "L" needs a density`, `give density="1.18 g/mL"`},
		{"5 ppm", "mg/m³", quantity.Bridge{}, `going from a share of the air to "mg/m³" needs a molar mass`, `give molar_mass="58.69 g/mol"`},
		{"12 % w/w", "mol/L", quantity.Bridge{}, `going from a mass share to "mol/L" needs a density of the solution and a molar mass`, `give density="1.18 g/mL" and molar_mass="58.69 g/mol"`},
		{"50 mL/L", "g/L", quantity.Bridge{}, `going from a volume share of a bath to "g/L" needs a density of the ingredient`, `give density="1.18 g/mL"`},
		{"350", "g/L", full, `"350" has no unit`, `write it as "350 g/L"`},
		{"350 foo", "g/L", full, `"350 foo" has the unknown unit "foo"`, "write a unit of the trade, such as g/L, oz/gal, mL/ft², °F"},
		{"350 G/L", "g/L", full, `"350 G/L" has the unknown unit "G/L"`, `did you mean "g/L"?`},
		{"5 %", "g/L", full, `"5 %" does not say percent of what`, "write % v/v or % w/w"},
		{"-5 L", "gal", full, `"-5 L" is negative`, `a volume is never below zero; write it as "120 L"`},
		{"1,5 L", "gal", full, `"1,5 L" has a comma in its number`, `write "1.5", with a point as the decimal mark`},
		{"350 g/L", "foo", full, `"foo" is not a known unit`, anyUnit},
		{"350 g/L", "OZ/GAL", full, `"OZ/GAL" is not a known unit`, `did you mean "oz/gal"?`},
		{"350 g/L", " ", full, "no unit to convert to", "name one, such as g/L or lb/10⁶ ft²"},
	} {
		_, err := quantity.Convert(c.text, c.to, c.bridge)
		var refusal *quantity.Refusal
		if assert.ErrorAs(t, err, &refusal, "%s to %s", c.text, c.to) {
			assert.Equal(t, c.what, refusal.What)
			assert.Equal(t, c.mend, refusal.Mend, "%s to %s", c.text, c.to)
		}
	}
}
