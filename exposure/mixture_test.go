package exposure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/exposure"
)

const goods = `
product - | product=Muriatic | form=liquid | density=1.18 g/mL
product-content - | product=Muriatic | substance=hydrochloric acid | low=30 % w/w | high=32 % w/w
product-content - | product=Muriatic | substance=water | low=68 % w/w | high=70 % w/w
product-hazard - | product=Muriatic | class=Skin Corr. | category=1B
product-hazard - | product=Muriatic | class=Acute Tox. (oral) | category=4
product-hazard - | product=Muriatic | class=smells awful
product - | product=Brightener | form=liquid | density=1.05 g/mL
product-content - | product=Brightener | substance=nickel sulfate hexahydrate | low=1 % w/w | high=2 % w/w
product - | product=Mystery | form=liquid | density=1.05 g/mL
tank - | tank=N | purpose=plate | working volume=100 L | density=1.2 g/mL
`

func classes(h exposure.Hazards) string {
	var all []string
	for _, c := range h.Result.Classes() {
		all = append(all, c.String())
	}
	return strings.Join(all, "; ")
}

func caveats(h exposure.Hazards) string {
	var all []string
	for _, c := range h.Caveats {
		all = append(all, string(c))
	}
	return strings.Join(all, "\n")
}

func tankHazards(t *testing.T, rows string) exposure.Hazards {
	t.Helper()
	shop := shopOf(t, "2026-06-30", "shop - | name=Shop | regime=us"+goods+rows)
	tanks := exposure.Tanks(shop, tables(t))
	require.Len(t, tanks, 1)
	h := exposure.TankHazards(shop, tanks[0])
	require.NoError(t, h.Fault)
	return h
}

func productHazards(t *testing.T, name string) exposure.Hazards {
	t.Helper()
	shop := shopOf(t, "2026-06-30", "shop - | name=Shop | regime=us"+goods)
	for _, h := range exposure.Holdings(shop, tables(t)) {
		if h.Product.Is.Name.String() == name {
			return exposure.ProductHazards(shop, h)
		}
	}
	require.Fail(t, "no product "+name)
	return exposure.Hazards{}
}

func TestAProductOfUnknownContentsIsNotHarmless(t *testing.T) {
	h := productHazards(t, "Mystery")
	assert.Empty(t, classes(h))
	assert.Contains(t, caveats(h), "no contents of Mystery are recorded; nothing was classified")
}

func TestTheRestOfAProductIsNotWater(t *testing.T) {
	assert.NotEmpty(t, productHazards(t, "Brightener").Result.Unknown, "98 % of it is not listed")
	for _, u := range productHazards(t, "Muriatic").Result.Unknown {
		assert.Less(t, u.Share, 0.5, "its water is listed")
	}
	in := tankHazards(t, "\nbath - | tank=N | ingredient=Brightener | concentration=100 mL/L")
	assert.Contains(t, caveats(in), "ingredients not stated of Brightener", "the unknown rest follows the product into the bath")
}

func TestSuppliersClassesAreKeptBesideOurs(t *testing.T) {
	h := productHazards(t, "Muriatic")
	assert.Contains(t, classes(h), "Skin Corr. 1B")
	var all []string
	for _, d := range h.Differences {
		all = append(all, d.String())
	}
	assert.Contains(t, all, "acute toxicity, oral: declared Acute Tox. 4 (oral), computed nothing: declared, not computed")
	for _, d := range all {
		assert.NotContains(t, d, "skin:", "both say Skin Corr. 1B")
	}
}

func TestTheBathsDensityMakesShares(t *testing.T) {
	const bath = "\nbath - | tank=N | ingredient=sodium hydroxide | concentration=56 g/L"
	h := tankHazards(t, bath)
	assert.Contains(t, h.Result.String(), "sodium hydroxide 4.667 % w/w", "56 g/L in 1.2 kg/L")
	assert.NotContains(t, caveats(h), "no density of the solution")
	shop := shopOf(t, "2026-06-30", "shop - | name=Shop | regime=us\ntank - | tank=N | purpose=clean | working volume=100 L"+bath)
	bare := exposure.TankHazards(shop, exposure.Tanks(shop, tables(t))[0])
	assert.Contains(t, bare.Result.String(), "sodium hydroxide 5.6 % w/w")
	assert.Contains(t, caveats(bare), "no density of the solution is recorded; 1.00 g/mL was taken")
}

func TestOneSubstanceByTwoWaysIsOneIngredient(t *testing.T) {
	h := tankHazards(t, `
bath - | tank=N | ingredient=Brightener | concentration=10 % w/w
bath - | tank=N | ingredient=nickel sulfate hexahydrate | concentration=240 g/L`)
	assert.Contains(t, h.Result.String(), "nickel sulfate hexahydrate 20.2 % w/w")
	assert.Contains(t, classes(h), "Carc. 1A")
}

func TestAnIngredientOfUnknownConcentrationIsACaveat(t *testing.T) {
	h := tankHazards(t, "\nbath - | tank=N | ingredient=hydrochloric acid | concentration=10 mL/L")
	assert.Contains(t, caveats(h), "hydrochloric acid is not counted: a volume of hydrochloric acid says nothing of its strength")
}

func TestContentsBeyondTheWholeAreAFault(t *testing.T) {
	shop := shopOf(t, "2026-06-30", "tank - | tank=N | purpose=clean | working volume=100 L\nbath - | tank=N | ingredient=sodium hydroxide | concentration=1400 g/L")
	h := exposure.TankHazards(shop, exposure.Tanks(shop, tables(t))[0])
	assert.ErrorContains(t, h.Fault, "more than the whole")
	assert.Empty(t, h.Label.Signal)
}
