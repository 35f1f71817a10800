package exposure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/exposure"
)

const store = `
location - | location=acid store
location - | location=shelf
product - | product=Old salts | form=solid
product-content - | product=Old salts | substance=sodium cyanide | low=30 % w/w | high=40 % w/w
product - | product=Muriatic | form=liquid
product-content - | product=Muriatic | substance=hydrochloric acid | low=30 % w/w | high=32 % w/w
product - | product=Ferric | form=liquid
product-content - | product=Ferric | substance=hydrochloric acid | low=0.1 % w/w | high=0.5 % w/w
product - | product=Mystery | form=liquid
`

func meetings(t *testing.T, rows string) []string {
	t.Helper()
	var all []string
	for _, m := range exposure.Meetings(exposure.Holdings(shopOf(t, "2026-06-30", store+rows), tables(t))) {
		all = append(all, m.Place+": "+m.One.Product.Is.Name.String()+" and "+m.Other.Product.Is.Name.String()+": "+m.Danger.Danger)
	}
	return all
}

func TestCyanideBesideAcidIsNamed(t *testing.T) {
	assert.Equal(t, []string{
		"acid store: Muriatic and Old salts: hydrogen cyanide, a gas that kills",
		"acid store: Muriatic and Old salts: violent heat, spattering", // sodium cyanide is a base too
	}, meetings(t, `
stock - | product=Old salts | location=acid store | container size=50 kg | containers=1
stock - | product=Muriatic | location=acid store | container size=15 gal | containers=2`))
}

func TestApartMeansAnotherPlaceAnEmptyCountOrATrace(t *testing.T) {
	assert.Empty(t, meetings(t, `
stock - | product=Old salts | location=shelf | container size=50 kg | containers=1
stock - | product=Muriatic | location=acid store | container size=15 gal | containers=2`))
	assert.Empty(t, meetings(t, `
stock - | product=Old salts | location=acid store | container size=50 kg | containers=0
stock - | product=Muriatic | location=acid store | container size=15 gal | containers=2`))
	assert.Empty(t, meetings(t, `
stock - | product=Old salts | location=shelf | container size=50 kg | containers=1
stock - | product=Ferric | location=shelf | container size=15 gal | containers=2
stock - | product=Mystery | location=shelf | container size=15 gal | containers=2`), "half a percent of acid does not count, and unknown contents are a gap, not a meeting")
}

func TestWhatATankMustNeverMeet(t *testing.T) {
	shop := shopOf(t, "2026-06-30", store+`
tank - | tank=A | purpose=activate | working volume=100 L
bath - | tank=A | ingredient=Muriatic | concentration=100 g/L
tank - | tank=B | purpose=clean | working volume=100 L
bath - | tank=B | ingredient=sodium hydroxide | concentration=50 g/L
stock - | product=Old salts | location=shelf | container size=50 kg | containers=1`)
	holdings, tanks := exposure.Holdings(shop, tables(t)), exposure.Tanks(shop, tables(t))
	require.Len(t, tanks, 2)
	never := exposure.NeverMeets(tanks[0], holdings, tanks)
	require.NotEmpty(t, never)
	assert.Equal(t, "cyanide", never[0].With)
	assert.Equal(t, []string{"Old salts"}, never[0].Where)
	for _, n := range never {
		if n.With == "base" {
			assert.Equal(t, []string{"Old salts", "tank B"}, n.Where)
		}
	}
}
