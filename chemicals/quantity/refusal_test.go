package quantity

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	volumesKnown = "L, mL, gal, ft³, m³"
	bathKnown    = "g/L, oz/gal, troy oz/gal, mg/L, µg/L, mL/L, % v/v, % w/w, mol/L, N (1/2 H2SO4)"
	plainNumber  = "write one plain decimal number, such as 1200 or 0.5, with nothing between its digits"
	partsOf      = "write what was measured: mg/L in water, mg/kg in a solid, ppm only for air; here as in "
	equivalentIs = `write which share of which formula unit one equivalent is, as in "2 N (1/2 H2SO4)"`
	baumeEnds    = "degrees Baumé for liquids heavier than water run from 0 to 100; write the density in g/mL"
)

// Each refusal is what a plater reads: what is wrong, and what to type.
func TestRefusals(t *testing.T) {
	for _, c := range []struct{ kind, text, what, mend string }{
		// no unit, or none known
		{"BathConcentration", "350", `"350" has no unit`, `write it as "350 g/L"`},
		{"AirConcentration", "5", `"5" has no unit`, `write it as "0.5 mg/m³"`},
		{"Volume", "", "the value is empty", `write it as "120 L"`},
		{"Volume", " \t ", "the value is empty", `write it as "120 L"`},
		{"Volume", "5 parsecs", `"5 parsecs" has the unknown unit "parsecs"`, "known here: " + volumesKnown},
		{"Volume", "5 imp gal", `"5 imp gal" has the unknown unit "imp gal"`, "known here: " + volumesKnown},
		{"Volume", "5 fl oz", `"5 fl oz" has the unknown unit "fl oz"`, "known here: " + volumesKnown},
		{"Volume", "5 L (about)", `"5 L (about)" has the unknown unit "L (about)"`, "known here: " + volumesKnown},
		{"Volume", "5 GAL", `"5 GAL" has the unknown unit "GAL"`, `did you mean "gal"?`},
		{"Volume", "5-gal", `"5-gal" has the unknown unit "-gal"`, `did you mean "gal"?`},
		{"Volume", "5 ,L", `"5 ,L" has the unknown unit ",L"`, `did you mean "L"?`},
		{"Duration", "5 m in", `"5 m in" has the unknown unit "m in"`, `did you mean "min"?`},
		{"Mass", "5 Mg", `"5 Mg" has the unknown unit "Mg"`, `did you mean "mg"?`},
		{"Area", "5 m²(", `"5 m²(" has the unknown unit "m²("`, `did you mean "m²"?`},
		{"Area", "5 (m²)", `"5 (m²)" has the unknown unit "(m²)"`, `did you mean "m²"?`},
		{"Current", "5 ·A", `"5 ·A" has the unknown unit "·A"`, `did you mean "A"?`},
		{"Current", "5 A·", `"5 A·" has the unknown unit "A·"`, `did you mean "A"?`},
		{"Volume", "5 LBS", `"5 LBS" has the unknown unit "LBS"`, "known here: " + volumesKnown},
		{"Volume", "5e L", `"5e L" has the unknown unit "e L"`, "known here: " + volumesKnown},

		// a unit of another thing
		{"Mass", "5 L", `"5 L" is a volume; wanted is a mass`, `write it as "25 kg"`},
		{"Duration", "5 m", `"5 m" is a length; wanted is a time`, `write it as "8 h"`},
		{"Amount", "5 A", `"5 A" is a current; wanted is a mass or a volume`, `write it as "25 kg"`},
		{"EffluentConcentration", "350 oz/gal", `"350 oz/gal" is a concentration in a bath; wanted is a concentration in water`, `write it as "0.31 mg/L"`},
		{"EffluentConcentration", "5 mg/m³", `"5 mg/m³" is a concentration in air; wanted is a concentration in water`, `write it as "0.31 mg/L"`},
		{"Temperature", "10 K", `"10 K" is a temperature difference; wanted is a temperature`, `write it as "55 °C"`},
		{"Film", "0.08 L", `"0.08 L" is a volume; wanted is a drag-out per area`, `write it as "0.08 L/m²"`},
		{"Volume", "5 USD", `"5 USD" has the unknown unit "USD"`, "known here: " + volumesKnown},

		// parts of what
		{"EffluentConcentration", "5 ppm", `"5 ppm" does not say parts of what`, partsOf + `"0.31 mg/L"`},
		{"BathConcentration", "5 PPM", `"5 PPM" does not say parts of what`, partsOf + `"350 g/L"`},
		{"SolidsConcentration", "5 ppb", `"5 ppb" does not say parts of what`, partsOf + `"120 mg/kg"`},
		{"AirConcentration", "5 PPM", `"5 PPM" has the unknown unit "PPM"`, `did you mean "ppm"?`},
		{"AirConcentration", "5 ppb", `"5 ppb" has the unknown unit "ppb"`, "known here: mg/m³, µg/m³, ppm"},
		{"BathConcentration", "5 %", `"5 %" does not say percent of what`, "write % v/v or % w/w"},
		{"MassShare", "5 %", `"5 %" does not say percent of what`, "write % w/w"},
		{"Volume", "5 percent", `"5 percent" does not say percent of what`, `no percentage is taken here; write it as "120 L"`},

		// beyond sense
		{"Volume", "-5 L", `"-5 L" is negative`, `a volume is never below zero; write it as "120 L"`},
		{"Volume", "−5 L", `"−5 L" is negative`, `a volume is never below zero; write it as "120 L"`},
		{"Volume", "-1e-14 L", `"-1e-14 L" is negative`, `a volume is never below zero; write it as "120 L"`},
		{"Volume", "1e12 L", `"1e12 L" is beyond belief for a volume`, "check number and unit; what is believed lies between 0 and 1000000000 L"},
		{"Volume", "1e12 gal", `"1e12 gal" is beyond belief for a volume`, "check number and unit; what is believed lies between 0 and 264172052 gal"},
		{"Volume", "1e400 L", `"1e400 L" is beyond any figure`, "check the exponent of the number"},
		{"Volume", "1e-400 L", `"1e-400 L" is all but zero`, "check the exponent of the number"},
		{"Volume", "1e-30 L", `"1e-30 L" is all but zero`, "check the exponent of the number"},
		{"MassShare", "110 % w/w", `"110 % w/w" is beyond belief for a mass share`, "check number and unit; what is believed lies between 0 and 100 % w/w"},
		{"BathConcentration", "101 % v/v", `"101 % v/v" is beyond belief for a volume share of a bath`, "check number and unit; what is believed lies between 0 and 100 % v/v"},
		{"BathConcentration", "201 N (1/2 H2SO4)", `"201 N (1/2 H2SO4)" is beyond belief for a normality`, "check number and unit; what is believed lies between 0 and 200 N (1/2 H2SO4)"},
		{"AirConcentration", "1e7 ppm", `"1e7 ppm" is beyond belief for a share of the air`, "check number and unit; what is believed lies between 0 and 1000000 ppm"},
		{"Temperature", "-300 °C", `"-300 °C" is beyond belief for a temperature`, "check number and unit; what is believed lies between -100 and 2000 °C"},
		{"Temperature", "-500 °F", `"-500 °F" is beyond belief for a temperature`, "check number and unit; what is believed lies between -148 and 3632 °F"},
		{"Density", "0 g/mL", `"0 g/mL" is beyond belief for a density`, "check number and unit; what is believed lies between 0.02 and 25 g/mL"},
		{"Density", "145 °Bé", `"145 °Bé" is off the scale of °Bé`, baumeEnds},
		{"Density", "150 °Bé", `"150 °Bé" is off the scale of °Bé`, baumeEnds},
		{"Density", "-10 Be", `"-10 Be" is off the scale of °Bé`, baumeEnds},

		// no plain decimal number
		{"Volume", "NaN L", `"NaN L" does not start with a number`, `write it as "120 L"`},
		{"Volume", "Infinity L", `"Infinity L" does not start with a number`, `write it as "120 L"`},
		{"Volume", "-Inf L", `"-Inf L" does not start with a number`, `write it as "120 L"`},
		{"Volume", ".", `"." does not start with a number`, `write it as "120 L"`},
		{"Volume", "--5 L", `"--5 L" does not start with a number`, `write it as "120 L"`},
		{"Volume", "–5 L", `"–5 L" starts with a dash`, `type a minus as "-"`},
		{"Volume", "about 5 L", `"about 5 L" does not start with a number`, `write it as "120 L"`},
		{"EffluentConcentration", "ND", `"ND" does not start with a number`, `write it as "0.31 mg/L"`},
		{"Volume", "0x10 L", `"0x10 L" has a number in pieces`, plainNumber},
		{"Volume", "1_000 L", `"1_000 L" has a number in pieces`, plainNumber},
		{"Volume", "1 000 L", `"1 000 L" has a number in pieces`, plainNumber},
		{"Volume", "1\u202f000 L", `"1\u202f000 L" has a number in pieces`, plainNumber},
		{"Volume", "1'000 L", `"1'000 L" has a number in pieces`, plainNumber},
		{"Volume", "1.2.3 L", `"1.2.3 L" has a number in pieces`, plainNumber},
		{"Volume", "10^6 L", `"10^6 L" has a number in pieces`, plainNumber},
		{"Volume", "10⁶ L", `"10⁶ L" has a number in pieces`, plainNumber},
		{"Volume", "5 x 10^3 L", `"5 x 10^3 L" has a number in pieces`, plainNumber},
		{"Volume", "1·5 L", `"1·5 L" has a number in pieces`, plainNumber},
		{"Volume", "5٥ L", `"5٥ L" has a number in pieces`, plainNumber},
		{"Volume", "５ L", `"５ L" has digits that are not 0 to 9`, `type the number with the digits 0 to 9, as "120 L"`},
		{"Volume", "٥ L", `"٥ L" has digits that are not 0 to 9`, `type the number with the digits 0 to 9, as "120 L"`},
		{"Volume", "1/2 gal", `"1/2 gal" has a fraction`, "write it as a decimal, such as 0.5 for a half"},
		{"Volume", "½ gal", `"½ gal" has a fraction`, "write it as a decimal, such as 0.5 for a half"},
		{"Volume", "3½ gal", `"3½ gal" has a fraction`, "write it as a decimal, such as 0.5 for a half"},

		// commas
		{"Volume", "1,5 L", `"1,5 L" has a comma in its number`, `write "1.5", with a point as the decimal mark`},
		{"Volume", "1，5 L", `"1，5 L" has a comma in its number`, `write "1.5", with a point as the decimal mark`},
		{"Volume", "0,500 L", `"0,500 L" has a comma in its number`, `write "0.500", with a point as the decimal mark`},
		{"Volume", "1,500 L", `"1,500 L" has a comma in its number`, `write "1.500" if the comma is the decimal mark, "1500" if it parts thousands`},
		{"Volume", "1,234,567 L", `"1,234,567 L" has a comma in its number`, `write "1234567", with nothing between thousands`},
		{"Volume", "12,345.6 L", `"12,345.6 L" has a comma in its number`, `write "12345.6", with nothing between thousands`},
		{"Volume", "1.234,5 L", `"1.234,5 L" has a comma in its number`, `write "1234.5", with a point as the decimal mark`},
		{"Volume", "1.5,5 L", `"1.5,5 L" has a comma in its number`, plainNumber},
		{"Volume", ",5 L", `",5 L" has a comma in its number`, "write the decimal mark as a point, with a digit before it, such as 0.5"},

		// not one value
		{"Volume", "5-6 L", `"5-6 L" is a range`, "write one value, or use the columns for low and high"},
		{"Volume", "5 – 6 L", `"5 – 6 L" is a range`, "write one value, or use the columns for low and high"},
		{"Volume", "5 to 6 L", `"5 to 6 L" is a range`, "write one value, or use the columns for low and high"},
		{"Volume", "5 L - 6 L", `"5 L - 6 L" holds more than one number`, `write one value, as "120 L"`},
		{"Length", "2 ft 3 in", `"2 ft 3 in" holds more than one number`, `write one value, as "1.2 m"`},
		{"EffluentConcentration", "<0.05 mg/L", `"<0.05 mg/L" is a bound, not a value`, `write one value, as "0.31 mg/L"; only the result of a sample may be given as a bound`},
		{"Volume", "5 ± 0.1 L", `"5 ± 0.1 L" has a tolerance`, "write the value alone"},
		{"Volume", "5 +/- 0.1 L", `"5 +/- 0.1 L" has a tolerance`, "write the value alone"},

		// what cannot be seen or read
		{"Volume", "5 🧪", `"5 🧪" has the unknown unit "🧪"`, "known here: " + volumesKnown},
		{"Volume", "🧪", `"🧪" does not start with a number`, `write it as "120 L"`},
		{"Volume", "5 L\x00", `"5 L\x00" holds a character that does not print`, "type the value again by hand"},
		{"Volume", "\ufeff5 L", `"\ufeff5 L" holds a character that does not print`, "type the value again by hand"},
		{"Volume", "5 L\u200b", `"5 L\u200b" holds a character that does not print`, "type the value again by hand"},
		{"Conductivity", "5 \xb5S/cm", `"5 \xb5S/cm" is not UTF-8 text`, "save the file as UTF-8, or write units in plain letters: m2, um, C"},
		{"Length", "5 \u0441m", "\"5 \u0441m\" has the unknown unit \"\u0441m\"", "type the unit in Latin letters; letters of another alphabet may look the same"},
		{"Volume", strings.Repeat("9", 300) + " L", `"` + strings.Repeat("9", 60) + `…" is too long for a quantity`, `write it as "120 L"`},

		// equivalents and currencies
		{"BathConcentration", "2 N", `"2 N" does not name its equivalent`, equivalentIs},
		{"BathConcentration", "2 N (0/2 H2SO4)", `"2 N (0/2 H2SO4)" does not name its equivalent`, equivalentIs},
		{"BathConcentration", "2 N (1/0 H2SO4)", `"2 N (1/0 H2SO4)" does not name its equivalent`, equivalentIs},
		{"BathConcentration", "2 N (H2SO4)", `"2 N (H2SO4)" does not name its equivalent`, equivalentIs},
		{"BathConcentration", "2 N ()", `"2 N ()" does not name its equivalent`, equivalentIs},
		{"BathConcentration", "2 N acid", `"2 N acid" has the unknown unit "N acid"`, "known here: " + bathKnown},
		{"Money", "125", `"125" has no currency`, `write it as "125.00 USD"`},
		{"Money", "125 usd", `"125 usd" has the unknown unit "usd"`, `did you mean "USD"?`},
		{"Money", "$125", `"$125" does not start with a number`, `write it as "125.00 USD"`},
		{"Money", "125 $", `"125 $" has the unknown unit "$"`, "write the currency as three capital letters, as in USD"},
		{"Money", "125 GAL", `"125 GAL" has the unit "GAL" where a currency belongs`, `write it as "125.00 USD"`},
		{"Money", "125 gal", `"125 gal" is a volume; wanted is a sum of money`, `write it as "125.00 USD"`},
		{"MoneyPerVolume", "4", `"4" has no unit`, `write it as "4.10 USD/m³"`},
		{"MoneyPerVolume", "4 eur / M3", `"4 eur / M3" has the unknown unit "eur / M3"`, `did you mean "EUR/m³"?`},
		{"MoneyPerVolume", "4 €/m³", `"4 €/m³" has the unknown unit "€/m³"`, "write the currency as three capital letters, as in USD/L, USD/m³, USD/gal, USD/ft³"},
		{"MoneyPerVolume", "4 USD", `"4 USD" is a sum of money; wanted is a price per volume`, `write it as "4.10 USD/m³"`},
	} {
		_, err := kindNamed(t, c.kind).parse(c.text)
		var refusal *Refusal
		if assert.ErrorAs(t, err, &refusal, "%s %q", c.kind, c.text) {
			assert.Equal(t, c.what, refusal.What)
			assert.Equal(t, c.mend, refusal.Mend, c.text)
		}
	}
}

// Whatever the mend proposes between quotation marks as the way to write the
// value is read where it was refused.
func TestProposedExamplesAreRead(t *testing.T) {
	for _, k := range kinds {
		for _, text := range []string{"", "x", "5 nonsense", "-1", "<3"} {
			_, err := k.parse(text)
			var refusal *Refusal
			require.ErrorAs(t, err, &refusal, "%s %q", k.name, text)
			if _, after, found := strings.Cut(refusal.Mend, `"`); found {
				proposed, _, _ := strings.Cut(after, `"`)
				_, err := k.parse(proposed)
				assert.NoError(t, err, "%s: %s", k.name, refusal.Mend)
			}
		}
	}
}

func TestReadingInAnotherUnitIsRefused(t *testing.T) {
	for _, c := range []struct{ kind, text, unit, what, mend string }{
		{"Volume", "5 L", "kg", `"kg" is not a unit of a volume`, "write one of: " + volumesKnown},
		{"Volume", "5 L", "GAL", `"GAL" is not a unit of a volume`, `did you mean "gal"?`},
		{"BathConcentration", "350 g/L", "mol/L", `"mol/L" is not a unit of a concentration in a bath`, "write one of: g/L, oz/gal, troy oz/gal, mg/L, µg/L"},
		{"BathConcentration", "2 N (1/2 H2SO4)", "N (1/1 HCl)", `"N (1/1 HCl)" does not fit what was stated in N (1/2 H2SO4)`, "name the same equivalent, or convert by way of mol/L"},
		{"Money", "5 USD", "EUR", `"EUR" does not fit what was stated in USD`, "exchange rates are not known here; keep to one currency"},
		{"MoneyPerMass", "5 USD/kg", "EUR/lb", `"EUR/lb" does not fit what was stated in USD/g`, "exchange rates are not known here; keep to one currency"},
		{"MoneyPerMass", "5 USD/kg", "/lb", `"/lb" is not a unit of a price per mass`, "write one of: USD/g, USD/kg, USD/lb, USD/oz, USD/troy oz, USD/t"},
		{"Density", "0.9 g/mL", "°Bé", "0.9 g/mL is off the scale of °Bé", baumeEnds},
	} {
		q, err := kindNamed(t, c.kind).parse(c.text)
		require.NoError(t, err, c.text)
		_, err = In(q, c.unit)
		var refusal *Refusal
		if assert.ErrorAs(t, err, &refusal, "%s in %s", c.text, c.unit) {
			assert.Equal(t, c.what, refusal.What)
			assert.Equal(t, c.mend, refusal.Mend)
		}
		assert.Panics(t, func() { Print(q, c.unit, 3) })
	}
}

func TestSystems(t *testing.T) {
	for _, s := range []System{Metric, US} {
		got, err := ParseSystem(s.String())
		require.NoError(t, err)
		assert.Equal(t, s, got)
	}
	_, err := ParseSystem("imperial")
	assert.EqualError(t, err, `"imperial" is not a system of units`)
}
