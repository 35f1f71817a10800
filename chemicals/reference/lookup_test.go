package reference

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSubstanceByItsNames(t *testing.T) {
	set := embeddedTables(t)
	for name, want := range map[string]string{
		"nickel-sulfate-hexahydrate":     "nickel-sulfate-hexahydrate",
		"Nickel  Sulfate Hexahydrate":    "nickel-sulfate-hexahydrate",
		"nickel sulphate hexahydrate":    "nickel-sulfate-hexahydrate",
		"nickel(II) sulfate hexahydrate": "nickel-sulfate-hexahydrate",
		"10101-97-0":                     "nickel-sulfate-hexahydrate",
		"blue vitriol":                   "copper-sulfate-pentahydrate",
		"EDTA":                           "edta",
		"chloroauric acid":               "tetrachloroauric-acid",
		"formalin":                       "formaldehyde",
		"formalin (solution)":            "formaldehyde",
		"potassium gold cyanide":         "potassium-dicyanoaurate",
		"Water":                          "water",
		"nickel":                         "nickel",
	} {
		got, ok := set.Substance(name)
		if assert.True(t, ok, name) {
			assert.Equal(t, want, got.ID, name)
		}
	}
	for _, name := range []string{"", "Ni", "CN total", "nickel sulfate", "7786-81-4", "formalin (spent)", "sulfur"} {
		_, ok := set.Substance(name)
		assert.False(t, ok, name)
	}
}

func TestClosest(t *testing.T) {
	set := embeddedTables(t)
	for name, want := range map[string]string{
		"7786-81-4":       "nickel-sulfate-hexahydrate", // another form of it
		"NaCN":            "sodium-cyanide",
		"nickel sulfate":  "nickel-sulfate-hexahydrate",
		"nickle chloride": "nickel-chloride-hexahydrate",
		"sodim cyanide":   "sodium-cyanide",
		"CN":              "CN amenable",
	} {
		got := set.Closest(name)
		require.NotEmpty(t, got, name)
		assert.Equal(t, want, got[0], name)
		assert.LessOrEqual(t, len(got), mostHints)
	}
	assert.Empty(t, set.Closest("borax"))
	assert.Empty(t, set.Closest(""))
}

func TestSpecies(t *testing.T) {
	set := embeddedTables(t)
	nickel, ok := set.Species("Ni")
	require.True(t, ok)
	assert.Equal(t, "nickel", nickel.Element)

	cyanide, ok := set.Species("cn TOTAL")
	require.True(t, ok)
	assert.Equal(t, "CN total", cyanide.Name)
	assert.InDelta(t, 26.018, cyanide.MolarMass.Is.GramsPerMole(), 1e-9)

	for _, name := range []string{"CN", "ni", "CO", "Xx", ""} {
		_, ok := set.Species(name)
		assert.False(t, ok, name)
	}
}

func TestShareThatNoFormulaTells(t *testing.T) {
	set := embeddedTables(t)
	tests := []struct {
		substance, species string
		want               float64 // 0: not known
	}{
		{"chromium trioxide", "Cr(VI)", 0.5200},
		{"chromium trioxide", "Cr(III)", 0},
		{"chromium-sulfate", "Cr(III)", 0.2652},
		{"chromium-sulfate", "Cr(VI)", 0},
		{"sodium cyanide", "CN free", 0},
		{"sodium cyanide", "CN amenable", 0},
		{"nickel sulfate hexahydrate", "Cu", 0},
		{"thiourea", "CN total", 0},
		{"sodium carbonate", "CO3", 0.5662},
		{"water", "Ni", 0},
		{"nickel", "Ni", 1},
	}
	for _, test := range tests {
		s, ok := set.Substance(test.substance)
		require.True(t, ok, test.substance)
		species, ok := set.Species(test.species)
		require.True(t, ok, test.species)
		got, known := s.Share(species)
		assert.Equal(t, test.want != 0, known, "%s in %s", test.species, test.substance)
		assert.InDelta(t, test.want, got, 0.00005, "%s in %s", test.species, test.substance)
	}
}
