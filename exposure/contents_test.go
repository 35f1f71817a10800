package exposure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

const nickelTank = `
tank - | tank=N | purpose=plate | working volume=100 L | density=1.2 g/mL
product - | product=Muriatic | form=liquid | density=1.18 g/mL
product-content - | product=Muriatic | substance=hydrochloric acid | low=30 % w/w | high=32 % w/w
product - | product=Mix | form=solid
product-content - | product=Mix | substance=NiSO4 thing | low=40 % w/w | high=60 % w/w
product-content - | product=Mix | substance=nickel sulfate hexahydrate | low=40 % w/w | high=60 % w/w
`

func tank(t *testing.T, rows string) exposure.Tank {
	t.Helper()
	return tankOn(t, "2026-06-30", rows)
}

func tankOn(t *testing.T, asOf chemicals.Day, rows string) exposure.Tank {
	t.Helper()
	tanks := exposure.Tanks(shopOf(t, asOf, nickelTank+rows), tables(t))
	require.Len(t, tanks, 1)
	return tanks[0]
}

func gramsPerLitre(t *testing.T, c working.Estimate[quantity.BathConcentration]) float64 {
	t.Helper()
	require.True(t, c.Known(), c.Why())
	v, err := quantity.In(c.Is(), "g/L")
	require.NoError(t, err)
	return v
}

func TestConcentrationOnEveryBasis(t *testing.T) {
	for _, c := range []struct {
		ingredient, stated string
		want               float64
		formula            string
	}{
		{"boric acid", "45 g/L", 45, ""},
		{"boric acid", "6 oz/gal", 6 * 28.349523125 / 3.785411784, ""},
		{"Muriatic", "125 mL/L", 147.5, "c = v × ρ"},
		{"Muriatic", "12.5 % v/v", 147.5, "c = v × ρ"},
		{"boric acid", "5 % w/w", 60, "c = w × ρ"},
		{"sulfuric acid", "0.5 mol/L", 49.04, "c = n × M"},
		{"sulfuric acid", "1 N (1/2 H2SO4)", 49.04, "c = n × M"},
		{"Ni", "1 mol/L", 58.693, "c = n × M"},
	} {
		got := tank(t, "bath - | tank=N | ingredient="+c.ingredient+" | concentration="+c.stated)
		require.Len(t, got.Contents, 1)
		assert.InEpsilon(t, c.want, gramsPerLitre(t, got.Contents[0].Concentration), 1e-3, c.stated)
		assert.InEpsilon(t, c.want/10, got.Contents[0].Mass.Is().Kilograms(), 1e-3, "in 100 L")
		if steps := got.Contents[0].Concentration.Steps(); c.formula != "" {
			require.Len(t, steps, 1)
			assert.Equal(t, c.formula, steps[0].Formula)
		}
	}
}

func TestConcentrationThatCannotBeKnownSaysWhy(t *testing.T) {
	for _, c := range []struct{ ingredient, stated, why string }{
		{"hydrochloric acid", "100 mL/L", "a volume of hydrochloric acid says nothing of its strength: record the product that was used, with its density and contents"},
		{"Mix", "10 mL/L", "no density of Mix is recorded"},
		{"Mix", "1 mol/L", "Mix has no molar mass: write its concentration by mass or by volume"},
		{"sulfuric acid", "1 N (1/1 HCl)", "the equivalents are of HCl, but sulfuric acid is H2SO4"},
		{"Unobtainium", "10 mL/L", "Unobtainium is neither a product of the book nor a published substance"},
	} {
		got := tank(t, "bath - | tank=N | ingredient="+c.ingredient+" | concentration="+c.stated).Contents[0]
		assert.False(t, got.Concentration.Known())
		assert.Equal(t, c.why, got.Concentration.Why())
		assert.False(t, got.Mass.Known(), "an unknown concentration must not become a mass")
	}
}

func metal(t *testing.T, of exposure.Tank, symbol string) exposure.MetalContent {
	t.Helper()
	for _, m := range of.Metals {
		if m.Metal.Name == symbol {
			return m
		}
	}
	require.Fail(t, "no "+symbol)
	return exposure.MetalContent{}
}

const nickelInSulfate = 0.22330 // 58.693 / 262.84, from the formula NiSO4.6H2O

func TestMetalsComeFromFormulas(t *testing.T) {
	got := metal(t, tank(t, `bath - | tank=N | ingredient=nickel sulfate hexahydrate | concentration=300 g/L`), "Ni")
	assert.InEpsilon(t, 300*nickelInSulfate, gramsPerLitre(t, got.Concentration), 1e-4)
	assert.False(t, got.Concentration.Spread())

	mixed := metal(t, tank(t, `bath - | tank=N | ingredient=Mix | concentration=300 g/L`), "Ni")
	assert.InEpsilon(t, 300*0.5*nickelInSulfate, gramsPerLitre(t, mixed.Concentration), 1e-4)
	low, _ := mixed.Concentration.At(working.Low).GramsPerLitre()
	high, _ := mixed.Concentration.At(working.High).GramsPerLitre()
	assert.InEpsilon(t, 300*0.4*nickelInSulfate, low, 1e-4)
	assert.InEpsilon(t, 300*0.6*nickelInSulfate, high, 1e-4)
}

func TestAnalysisReplacesTheMakeUp(t *testing.T) {
	const bath = `
bath - | tank=N | ingredient=nickel sulfate hexahydrate | concentration=300 g/L
bath - | tank=N | ingredient=boric acid | concentration=45 g/L
analysis 2026-05-01 | tank=N | ingredient=Ni | concentration=60 g/L
analysis 2026-05-02 | tank=N | ingredient=H3BO3 of the lab | concentration=1 g/L
analysis 2026-05-03 | tank=N | ingredient=boric acid | concentration=40 g/L
analysis 2026-05-04 | tank=N | ingredient=Cu | concentration=15 mg/L
`
	got := tank(t, bath)
	require.Len(t, got.Contents, 4)
	assert.InEpsilon(t, 60/nickelInSulfate, gramsPerLitre(t, got.Contents[0].Concentration), 1e-4, "scaled to what was found")
	assert.InEpsilon(t, 40, gramsPerLitre(t, got.Contents[1].Concentration), 1e-9)
	assert.InEpsilon(t, 60, gramsPerLitre(t, metal(t, got, "Ni").Concentration), 1e-9)
	assert.EqualValues(t, "2026-05-01", metal(t, got, "Ni").Found.Date)
	assert.InEpsilon(t, 0.015, gramsPerLitre(t, metal(t, got, "Cu").Concentration), 1e-9)

	before := tankOn(t, "2026-04-30", bath)
	assert.InEpsilon(t, 300, gramsPerLitre(t, before.Contents[0].Concentration), 1e-9)
}

func TestALaterAnalysisOfTheSaltOutdatesThatOfTheMetal(t *testing.T) {
	got := tank(t, `
bath - | tank=N | ingredient=nickel sulfate hexahydrate | concentration=300 g/L
analysis 2026-05-01 | tank=N | ingredient=Ni | concentration=60 g/L
analysis 2026-05-09 | tank=N | ingredient=nickel sulfate hexahydrate | concentration=280 g/L`)
	assert.InEpsilon(t, 280*nickelInSulfate, gramsPerLitre(t, metal(t, got, "Ni").Concentration), 1e-4)
	assert.Nil(t, metal(t, got, "Ni").Found)
}

func TestANewMakeUpEndsOldAnalyses(t *testing.T) {
	got := tank(t, `
bath 2026-05-10 | tank=N | ingredient=nickel sulfate hexahydrate | concentration=200 g/L
analysis 2026-05-01 | tank=N | ingredient=Ni | concentration=60 g/L`)
	assert.InEpsilon(t, 200, gramsPerLitre(t, got.Contents[0].Concentration), 1e-9)
	assert.InEpsilon(t, 200*nickelInSulfate, gramsPerLitre(t, metal(t, got, "Ni").Concentration), 1e-4)
}

func TestAMetalSumSaysWhatItLeavesOut(t *testing.T) {
	got := metal(t, tank(t, `
bath - | tank=N | ingredient=nickel sulfate hexahydrate | concentration=300 g/L
bath - | tank=N | ingredient=Mix | concentration=10 mL/L`), "Ni")
	assert.Equal(t, []working.Caveat{"Ni in Mix is not counted: no density of Mix is recorded"}, got.Concentration.Caveats())
}

func TestGapsOfTanks(t *testing.T) {
	shop := shopOf(t, "2026-06-30", `
tank - | tank=A | purpose=plate
tank - | tank=B | purpose=rinse | working volume=100 L
tank - | tank=C | purpose=strike | working volume=10 L
bath - | tank=C | ingredient=Unobtainium | concentration=1 g/L
analysis 2026-05-01 | tank=B | ingredient=Ni | concentration=4 mg/L`)
	found := exposure.Tanks(shop, tables(t))
	gaps := exposure.Gaps(shop, nil, found)
	var of []string
	for _, g := range gaps {
		of = append(of, g.Where+": "+g.What)
	}
	assert.Equal(t, []string{
		"shop: nothing is recorded of the shop itself",
		"tank A: no make-up is recorded",
		"tank A: no working volume is recorded; its contents in kilograms are not known",
		"tank B: the last analysis of Ni is of 2026-05-01",
		`tank C: "Unobtainium" is neither a product of the book nor a published substance, element or ion`,
	}, of)
}
