package quantity_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
)

func parsed[Q quantity.Quantity[Q]](t *testing.T, text string) Q {
	t.Helper()
	q, err := quantity.Parse[Q](text)
	require.NoError(t, err)
	return q
}

// A reading by method is the reading in the unit of its name.
func TestReadings(t *testing.T) {
	volume, mass, length, area := parsed[quantity.Volume](t, "7 ft³"), parsed[quantity.Mass](t, "7 oz"), parsed[quantity.Length](t, "7 mil"), parsed[quantity.Area](t, "7 dm²")
	duration, charge, flow := parsed[quantity.Duration](t, "7 day"), parsed[quantity.Charge](t, "7 A·min"), parsed[quantity.Flow](t, "7 gal/min")
	density, molar, speed := parsed[quantity.Density](t, "7 °Bé"), parsed[quantity.MolarMass](t, "7 g/mol"), parsed[quantity.Speed](t, "7 ft/min")
	viscosity, conductivity := parsed[quantity.Viscosity](t, "7 cP"), parsed[quantity.Conductivity](t, "7 µS/cm")
	warmth, difference := parsed[quantity.Temperature](t, "7 °F"), parsed[quantity.TemperatureDifference](t, "7 °F")
	effluent, solids, share := parsed[quantity.EffluentConcentration](t, "7 µg/L"), parsed[quantity.SolidsConcentration](t, "7 mg/kg"), parsed[quantity.MassShare](t, "7 % w/w")
	film, load, loss := parsed[quantity.Film](t, "7 mL/ft²"), parsed[quantity.LoadVolume](t, "7 mL"), parsed[quantity.Evaporation](t, "7 gal/h·ft²")
	rate, areal := parsed[quantity.MassRate](t, "7 lb/day"), parsed[quantity.MassPerArea](t, "7 lb/10⁶ ft²")
	current, currentDensity, equivalent := parsed[quantity.Current](t, "7 A"), parsed[quantity.CurrentDensity](t, "7 A/ft²"), parsed[quantity.Equivalent](t, "7 g/A·h")
	airflow, exhaust, loading := parsed[quantity.Airflow](t, "7 cfm"), parsed[quantity.ExhaustRate](t, "7 cfm/ft²"), parsed[quantity.GrainLoading](t, "7 gr/dscf")
	sum, perVolume, perMass := parsed[quantity.Money](t, "7 USD"), parsed[quantity.MoneyPerVolume](t, "7 USD/gal"), parsed[quantity.MoneyPerMass](t, "7 USD/troy oz")
	for _, c := range []struct {
		q    quantity.Any
		unit string
		got  float64
	}{
		{volume, "L", volume.Litres()}, {volume, "gal", volume.Gallons()}, {volume, "m³", volume.CubicMetres()},
		{mass, "g", mass.Grams()}, {mass, "kg", mass.Kilograms()}, {mass, "lb", mass.Pounds()},
		{length, "m", length.Metres()}, {length, "µm", length.Micrometres()}, {area, "m²", area.SquareMetres()}, {area, "ft²", area.SquareFeet()},
		{duration, "h", duration.Hours()}, {duration, "min", duration.Minutes()}, {duration, "s", duration.Seconds()},
		{charge, "A·h", charge.AmpereHours()}, {charge, "C", charge.Coulombs()},
		{flow, "L/min", flow.LitresPerMinute()}, {flow, "L/h", flow.LitresPerHour()},
		{density, "g/mL", density.GramsPerMillilitre()}, {molar, "g/mol", molar.GramsPerMole()}, {speed, "m/s", speed.MetresPerSecond()},
		{viscosity, "mPa·s", viscosity.MillipascalSeconds()}, {conductivity, "µS/cm", conductivity.MicrosiemensPerCentimetre()},
		{warmth, "°C", warmth.Celsius()}, {difference, "°C", difference.CelsiusDegrees()},
		{effluent, "mg/L", effluent.MilligramsPerLitre()}, {solids, "mg/kg", solids.MilligramsPerKilogram()}, {share, "% w/w", share.Percent()},
		{film, "L/m²", film.LitresPerSquareMetre()}, {load, "L", load.Litres()}, {loss, "L/h·m²", loss.LitresPerHourSquareMetre()},
		{rate, "g/h", rate.GramsPerHour()}, {areal, "mg/m²", areal.MilligramsPerSquareMetre()},
		{current, "A", current.Amperes()}, {currentDensity, "A/dm²", currentDensity.AmperesPerSquareDecimetre()}, {equivalent, "g/A·h", equivalent.GramsPerAmpereHour()},
		{airflow, "m³/s", airflow.CubicMetresPerSecond()}, {exhaust, "m³/s·m²", exhaust.CubicMetresPerSecondSquareMetre()}, {loading, "gr/dscf", loading.GrainsPerDryStandardCubicFoot()},
		{sum, "USD", sum.Sum()}, {perVolume, "USD/L", perVolume.PerLitre()}, {perMass, "USD/g", perMass.PerGram()},
	} {
		want, err := quantity.In(c.q, c.unit)
		require.NoError(t, err, c.unit)
		assert.Equal(t, want, c.got, "%T in %s", c.q, c.unit)
	}
	assert.Equal(t, []string{"USD", "USD", "USD"}, []string{sum.Currency(), perVolume.Currency(), perMass.Currency()})
}

// A concentration is read on the basis on which it was written and on no other.
func TestBathConcentrationKeepsItsBasis(t *testing.T) {
	for text, want := range map[string][4]float64{ // g/L, mL/L, % w/w, mol/L
		"7 troy oz/gal":     {7 * 31.1034768 / 3.785411784, -1, -1, -1},
		"7 % v/v":           {-1, 70, -1, -1},
		"7 % w/w":           {-1, -1, 7, -1},
		"7 mol/L":           {-1, -1, -1, 7},
		"6 N (1/3 H3PO4)":   {-1, -1, -1, 2},
		"6 N (1/2 Ni(CN)2)": {-1, -1, -1, 3},
	} {
		c := parsed[quantity.BathConcentration](t, text)
		for i, read := range []func() (float64, bool){c.GramsPerLitre, c.MillilitresPerLitre, c.PercentByMass, c.MolesPerLitre} {
			got, ok := read()
			assert.Equal(t, want[i] >= 0, ok, "%s, basis %d", text, i)
			if ok {
				assert.InEpsilon(t, want[i], got, 1e-14, text)
			} else {
				assert.Zero(t, got, text)
			}
		}
	}
	formula, ok := parsed[quantity.BathConcentration](t, "6 N (1/2 Ni(CN)2)").EquivalentFormula()
	assert.True(t, ok)
	assert.Equal(t, "Ni(CN)2", formula)
	_, ok = quantity.GramsPerLitre(5).EquivalentFormula()
	assert.False(t, ok)
}

func TestAmountsAndAirKeepTheirBasis(t *testing.T) {
	byMass, byVolume := parsed[quantity.Amount](t, "2 lb"), parsed[quantity.Amount](t, "2 gal")
	m, ok := byMass.Mass()
	assert.True(t, ok)
	assert.Equal(t, quantity.OfMass(2*quantity.Pound), quantity.OfMass(m))
	none, ok := byMass.Volume()
	assert.False(t, ok)
	assert.Zero(t, none)
	v, ok := byVolume.Volume()
	assert.True(t, ok)
	assert.Equal(t, quantity.OfVolume(2*quantity.Gallon), quantity.OfVolume(v))
	_, ok = byVolume.Mass()
	assert.False(t, ok)

	dust, vapour := parsed[quantity.AirConcentration](t, "500 µg/m³"), parsed[quantity.AirConcentration](t, "5 ppm")
	got, ok := dust.MilligramsPerCubicMetre()
	assert.True(t, ok)
	assert.Equal(t, 0.5, got)
	_, ok = dust.PartsPerMillion()
	assert.False(t, ok)
	got, ok = vapour.PartsPerMillion()
	assert.True(t, ok)
	assert.Equal(t, 5., got)
	_, ok = vapour.MilligramsPerCubicMetre()
	assert.False(t, ok)
}
