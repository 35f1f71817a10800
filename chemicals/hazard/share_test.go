package hazard_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/quantity"
)

func stated[Q quantity.Quantity[Q]](t *testing.T, text string) quantity.Stated[Q] {
	var s quantity.Stated[Q]
	require.NoError(t, s.UnmarshalText([]byte(text)))
	return s
}

func TestSharesOfConcentrations(t *testing.T) {
	basis := hazard.Basis{
		Solution:   stated[quantity.Density](t, "1.25 kg/L"),
		Ingredient: stated[quantity.Density](t, "1.84 g/mL"),
		MolarMass:  stated[quantity.MolarMass](t, "98.08 g/mol"),
	}
	for text, want := range map[string]float64{
		"350 g/L":         350 / 1250.,
		"50 oz/gal":       50 * 28.349523125 / 3.785411784 / 1250,
		"12 % w/w":        0.12,
		"12 %":            0.12,
		"100 mL/L":        184 / 1250.,
		"10 % v/v":        184 / 1250.,
		"2 mol/L":         196.16 / 1250,
		"2 N (1/2 H2SO4)": 98.08 / 1250,
	} {
		got, caveats, err := hazard.ShareOf(text, basis)
		require.NoError(t, err, text)
		assert.InEpsilon(t, want, got, 1e-9, text)
		assert.Empty(t, caveats)
	}
}

func TestWithoutADensity(t *testing.T) {
	got, caveats, err := hazard.ShareOf("350 g/L", hazard.Basis{})
	require.NoError(t, err)
	assert.InEpsilon(t, 0.35, got, 1e-9)
	require.Len(t, caveats, 1)
	assert.Contains(t, caveats[0], "1 kg/L is taken, which overstates the shares where the bath is denser than water and understates them where it is lighter")
	_, caveats, err = hazard.ShareOf("12 %", hazard.Basis{})
	require.NoError(t, err)
	assert.Empty(t, caveats, "a share by mass needs none")
}

func TestSharesThatCannotBe(t *testing.T) {
	for text, want := range map[string]string{
		"12":       `"12" has no unit`,
		"50 mL/L":  "needs a density of the ingredient",
		"2 mol/L":  "needs a molar mass",
		"1500 g/L": `"1500 g/L" comes to 150 % of the whole`,
		"120 %":    `"120 %" comes to 120 % of the whole`,
		"-3 %":     `"-3 %" comes to -3 % of the whole`,
		"lots":     `"lots"`,
	} {
		_, _, err := hazard.ShareOf(text, hazard.Basis{})
		assert.ErrorContains(t, err, want)
	}
}
