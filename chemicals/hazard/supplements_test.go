package hazard_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/hazard"
)

func supplements(r hazard.Result) []string {
	all := []string{}
	for _, s := range r.Supplements {
		all = append(all, s.Code+" "+s.Text)
	}
	return all
}

func TestGas(t *testing.T) {
	bleach := func(percent float64, r hazard.Regime) hazard.Result {
		c := published(t, "sodium-hypochlorite", percent)
		return classify(t, r, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(1 - percent/100)}})
	}
	acid := "EUH031 Contact with acids liberates toxic gas."
	assert.Contains(t, supplements(bleach(5, hazard.EU)), acid)
	assert.NotContains(t, supplements(bleach(4.9, hazard.EU)), acid)
	assert.Contains(t, supplements(bleach(4.9, hazard.US)), " Hazard not otherwise classified: Contact with acids liberates toxic gas.")
	assert.Empty(t, supplements(bleach(5, hazard.UN)))

	t.Run("only on mixtures that are classified for some hazard", func(t *testing.T) {
		c := published(t, "sodium-sulfite", 5)
		r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(0.95)}})
		assert.Empty(t, supplements(r))
		assert.Contains(t, r.String(), "bears EUH031, which stands only on mixtures classified for some hazard")
	})
	t.Run("cyanide has no general limit", func(t *testing.T) {
		c := published(t, "potassium-cyanide", 0.5)
		r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(0.995)}})
		assert.Contains(t, supplements(r), "EUH032 Contact with acids liberates very toxic gas.")
	})
}

func TestAirways(t *testing.T) {
	nitric := func(percent float64) hazard.Result {
		c := published(t, "nitric-acid", percent)
		return classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(1 - percent/100)}})
	}
	airways := "EUH071 Corrosive to the respiratory tract."
	assert.Contains(t, supplements(nitric(20)), airways)
	assert.NotContains(t, supplements(nitric(0.9)), airways)
	t.Run("a corrosive mixture of unknown toxicity by inhalation", func(t *testing.T) {
		r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{part(t, 10, "Skin Corr. 1B"), hazard.Water(0.9)}})
		assert.Contains(t, r.String(), "where it can be breathed in (sparged, sprayed, heated), EUH071 is asked for")
	})
}

func TestSensitisersBelowTheirLimit(t *testing.T) {
	text := func(c hazard.Component) []string {
		c.Name = "nickel salt"
		return supplements(classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(1 - c.High)}}))
	}
	contains := []string{"EUH208 Contains nickel salt. May produce an allergic reaction."}
	for class, from := range map[string]float64{"Skin Sens. 1": 0.1, "Skin Sens. 1B": 0.1, "Skin Sens. 1A": 0.01, "Resp. Sens. 1": 0.1, "Resp. Sens. 1A": 0.01} {
		assert.Equal(t, contains, text(part(t, from, class)), "%s at %g %%", class, from)
		assert.Empty(t, text(part(t, from*0.99, class)), "%s below %g %%", class, from)
	}
	assert.Equal(t, contains, text(limited(t, part(t, 0.001, "Skin Sens. 1"), "Skin Sens. 1: 0.01 %")), "a tenth of the specific limit")
	assert.Empty(t, text(limited(t, part(t, 0.0009, "Skin Sens. 1"), "Skin Sens. 1: 0.01 %")))
	assert.Empty(t, text(part(t, 1, "Skin Sens. 1")), "a mixture with the class itself does not bear it")
}

func TestPhysicalClassesAreTested(t *testing.T) {
	c := published(t, "chromium-trioxide", 30)
	r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(0.7)}})
	_, oxidises := r.Has("Ox. Sol.")
	assert.False(t, oxidises)
	assert.Contains(t, r.String(), "chromium trioxide is Ox. Sol. 1; whether the mixture is must be tested")
	r = classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{published(t, "chromium-trioxide", 100)}})
	_, oxidises = r.Has("Ox. Sol.")
	assert.True(t, oxidises, "the substance itself")
	peroxide := func(percent float64) []string {
		return found(t, hazard.EU, limited(t, part(t, percent, "Ox. Liq. 1"), "Ox. Liq. 1: 70 %", "Ox. Liq. 2: 50 % to 70 %"))
	}
	assert.Empty(t, peroxide(49.9))
	assert.Equal(t, []string{"Ox. Liq. 2"}, peroxide(50))
	assert.Equal(t, []string{"Ox. Liq. 2"}, peroxide(69.9))
	assert.Equal(t, []string{"Ox. Liq. 1"}, peroxide(70))
}
