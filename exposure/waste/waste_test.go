package waste_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/waste"
)

func run(t require.TestingT, name string, arguments ...string) (working.Outputs, error) {
	return workingtest.Run(t, waste.Methods(), name, arguments...)
}

func kilograms(v float64) working.Estimate[quantity.Mass] {
	return workingtest.Given(quantity.Mass(v) * quantity.Kilogram)
}

// amount is what a reagent comes to.
func amount(t require.TestingT, r waste.Reagents, name string) working.Estimate[quantity.Mass] {
	result, err := r.Solve()
	require.NoError(t, err)
	for _, a := range result.Amounts {
		if a.Name == name {
			return a.Mass
		}
	}
	require.FailNow(t, "no such amount", "%s among %d", name, len(result.Amounts))
	return working.Estimate[quantity.Mass]{}
}

// Factors worked out from atomic weights with another program, in kg for each
// kg of metal, chromium or cyanide.
func TestFactors(t *testing.T) {
	for reagent, metals := range map[string]map[string]float64{
		"sodium hydroxide": {"Cr3": 2.308, "Cu": 1.259, "Ni": 1.363, "Zn": 1.224, "Cd": 0.712, "Pb": 0.386, "Fe3": 2.149, "Fe2": 1.432, "Al": 4.447, "Sn2": 0.674},
		"lime":             {"Cr3": 2.137, "Cu": 1.166, "Ni": 1.262, "Zn": 1.133, "Cd": 0.659, "Pb": 0.358, "Fe3": 1.990, "Fe2": 1.327, "Al": 4.119, "Sn2": 0.624},
	} {
		for metal, want := range metals {
			got := amount(t, waste.Reagents{Metals: []waste.Metal{{Name: metal, Mass: kilograms(1)}}, With: []string{reagent}}, reagent)
			assert.InDelta(t, want, got.Is().Kilograms(), 0.00055, "%s for %s", reagent, metal)
		}
	}
	for metal, want := range map[string]float64{
		"Cr3": 1.981, "Cu": 1.535, "Ni": 1.580, "Zn": 1.520, "Cd": 1.303, "Pb": 1.164, "Fe3": 1.914, "Fe2": 1.609, "Al": 2.891, "Sn2": 1.287, "Ag_as_AgCl": 1.329,
	} {
		r, err := waste.Sludge{Metals: []waste.Metal{{Name: metal, Mass: kilograms(1)}}}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, want, r.Dry.Is().Kilograms(), 0.00055, metal)
	}
	for reagent, want := range map[string]float64{"Na2S2O5": 2.742, "NaHSO3": 3.002, "SO2": 1.848, "FeSO4.7H2O": 16.04} {
		result, err := waste.Reagents{Chromium6: kilograms(1), With: []string{reagent}}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, want, result.Amounts[0].Mass.Is().Kilograms(), 0.0055, reagent)
	}
	cyanide := waste.Reagents{Cyanide: kilograms(1), With: []string{"Cl2"}}
	assert.InDelta(t, 2.725, amount(t, cyanide, "chlorine").Is().Kilograms(), 0.00055)
	assert.InDelta(t, 3.075, amount(t, cyanide, "sodium hydroxide").Is().Kilograms(), 0.00055)
	cyanide.Complete = true
	assert.InDelta(t, 6.813, amount(t, cyanide, "chlorine").Is().Kilograms(), 0.00055)
	cyanide.With = []string{"NaOCl"}
	assert.InDelta(t, 7.153, amount(t, cyanide, "sodium hypochlorite").Is().Kilograms(), 0.00055)
	assert.InDelta(t, 0.816, amount(t, waste.Reagents{Acids: []waste.Acid{{Name: "H2SO4", Mass: kilograms(1)}}}, "sodium hydroxide").Is().Kilograms(), 0.00055)
	assert.InDelta(t, 1.097, amount(t, waste.Reagents{Acids: []waste.Acid{{Name: "HCl", Mass: kilograms(1)}}}, "sodium hydroxide").Is().Kilograms(), 0.00055)
}

func TestAcidLiesBetweenTheTwoEquations(t *testing.T) {
	r := waste.Reagents{Chromium6: kilograms(1), With: []string{"sodium metabisulfite"}}
	acid := amount(t, r, "sulfuric acid")
	require.True(t, acid.Spread())
	assert.InDelta(t, 1.415, acid.Is().Kilograms(), 0.00055)
	assert.InDelta(t, 1.415, acid.At(working.Low).Kilograms(), 0.00055)
	assert.InDelta(t, 2.829, acid.At(working.High).Kilograms(), 0.00055)
	r.Product = waste.SodiumBisulfate
	acid = amount(t, r, "sulfuric acid")
	assert.False(t, acid.Spread())
	assert.InDelta(t, 2.829, acid.Is().Kilograms(), 0.00055)

	result, err := waste.Reagents{Chromium6: kilograms(1), With: []string{"SO2"}}.Solve()
	require.NoError(t, err)
	assert.Len(t, result.Amounts, 1, "sulfur dioxide takes no acid")
}

// Whatever is treated, all its hydroxide demand is in the one alkali.
func TestAlkaliAddsUp(t *testing.T) {
	all := waste.Reagents{
		Metals:    []waste.Metal{{Name: "Cu", Mass: kilograms(1)}, {Name: "Ag", Mass: kilograms(1)}},
		Acids:     []waste.Acid{{Name: "sulfuric acid", Mass: kilograms(1)}},
		Chromium6: kilograms(1), Cyanide: kilograms(1),
		With: []string{"lime", "ferrous sulfate", "chlorine"},
	}
	lime := amount(t, all, "lime")
	// Ca(OH)2: copper, acid, chromium, three iron for each chromium, cyanide.
	want := 74.092 * (1/63.546 + 1/98.072 + 1.5/51.996 + 4.5/51.996 + 1/26.018)
	assert.InDelta(t, want, lime.Is().Kilograms(), 0.001)
	var texts []string
	for _, c := range lime.Caveats() {
		texts = append(texts, string(c))
	}
	assert.Len(t, texts, 3)
	assert.Contains(t, texts[0], "exact proportion")
	assert.Contains(t, texts[1], "cyanide never meets acid")
	assert.Contains(t, texts[2], "silver is counted as chloride")
}

func TestWhatIsNotNamedIsTakenAndSaid(t *testing.T) {
	out, err := run(t, "waste.reagents", "metals={Cr: 1 kg}", "chromium6=1 kg", "cyanide=1 kg", "reagent=NaOH")
	require.NoError(t, err)
	amounts, _ := out.Output("amounts")
	assert.Equal(t, "sodium metabisulfite: 2.742 kg; sulfuric acid: 1.415 kg (low 1.415 kg, high 2.829 kg); sodium hypochlorite: 2.861 kg; sodium hydroxide: 4.615 kg", amounts.Text(quantity.Metric))
	for _, want := range []working.Caveat{
		"no reagent is named that does it; sodium metabisulfite is taken",
		"no reagent is named that does it; sodium hypochlorite is taken",
		"Cr is counted as Cr(III)",
	} {
		assert.Contains(t, out.Caveats(), want)
	}
}

func TestCakeHasBoundsWhereItsSolidsAreNotGiven(t *testing.T) {
	s := waste.Sludge{Metals: []waste.Metal{{Name: "Cu", Mass: kilograms(1)}}, Other: kilograms(0.5)}
	r, err := s.Solve()
	require.NoError(t, err)
	dry := r.Dry.Is().Kilograms()
	assert.InDelta(t, 1.5353+0.5, dry, 0.0001)
	assert.InEpsilon(t, dry/0.30, r.Cake.Is().Kilograms(), 1e-12)
	assert.InEpsilon(t, dry/0.60, r.Cake.At(working.Low).Kilograms(), 1e-12)
	assert.InEpsilon(t, dry/0.25, r.Cake.At(working.High).Kilograms(), 1e-12)
	require.Len(t, r.Cake.Caveats(), 1)
	assert.Contains(t, r.Cake.Caveats()[0], "the solids of the cake are not given")

	s.Other, s.Solids = working.Estimate[quantity.Mass]{}, workingtest.Given(0.5)
	r, err = s.Solve()
	require.NoError(t, err)
	assert.False(t, r.Cake.Spread())
	require.Len(t, r.Cake.Caveats(), 1)
	assert.Contains(t, r.Cake.Caveats()[0], "pure hydroxides alone")
}

func TestSludgeScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.01, 100).Draw(t, "k")
		solids := rapid.Float64Range(0.05, 1).Draw(t, "solids")
		metal := rapid.SampledFrom([]string{"Cu", "Ni", "Zn", "Cd", "Cr3", "Fe2", "Fe3", "Al", "Pb", "Sn", "Co", "Ag"}).Draw(t, "metal")
		one, err := waste.Sludge{Metals: []waste.Metal{{Name: metal, Mass: kilograms(1)}}, Solids: workingtest.Given(solids)}.Solve()
		require.NoError(t, err)
		more, err := waste.Sludge{Metals: []waste.Metal{{Name: metal, Mass: kilograms(k)}}, Solids: workingtest.Given(solids)}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, k, float64(more.Dry.Is()/one.Dry.Is()), 1e-9)
		assert.InEpsilon(t, solids, float64(one.Dry.Is()/one.Cake.Is()), 1e-9)
		assert.Greater(t, one.Dry.Is(), quantity.Kilogram, "a hydroxide weighs more than its metal")
	})
}

// The mixed form with no liquid is the solid form, and the leachate lies between
// that of the parts.
func TestTotals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		liquid := rapid.Float64Range(0, 1000).Draw(t, "liquid")
		solid := rapid.Float64Range(0.1, 1000).Draw(t, "solid")
		inLiquid := rapid.Float64Range(0, 500).Draw(t, "in liquid")
		inSolid := rapid.Float64Range(0, 1e4).Draw(t, "in solid")
		w := waste.Totals{
			Liquid: workingtest.Given(quantity.Volume(liquid)), LiquidConcentration: workingtest.Given(quantity.EffluentConcentration(inLiquid)),
			Solid: kilograms(solid), SolidConcentration: workingtest.Given(quantity.SolidsConcentration(inSolid)),
		}
		r, err := w.Solve()
		require.NoError(t, err)
		got := r.Leachate.Is().MilligramsPerLitre()
		assert.LessOrEqual(t, got, max(inLiquid, inSolid/20)*(1+1e-9))
		assert.GreaterOrEqual(t, got, min(inLiquid, inSolid/20)*(1-1e-9))
		assert.False(t, r.Screen.Known())

		w.Liquid = workingtest.Given(quantity.Volume(0))
		dry, err := w.Solve()
		require.NoError(t, err)
		alone, err := waste.Totals{Total: w.SolidConcentration}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, alone.Leachate.Is().MilligramsPerLitre(), dry.Leachate.Is().MilligramsPerLitre(), 1e-9)
	})
}

func TestScreenIsInclusive(t *testing.T) {
	for _, c := range []struct{ total, level, want string }{
		{"6 mg/kg", "0.3 mg/L", "leachate test must be run for it"}, // 0.3 has no binary form
		{"5.999 mg/kg", "0.3 mg/L", "leachate test may be skipped for it"},
		{"0.1 % w/w", "50 mg/L", "leachate test must be run for it"},
	} {
		out, err := run(t, "waste.totals", "total="+c.total, "level="+c.level)
		require.NoError(t, err)
		screen, _ := out.Output("screen")
		assert.Equal(t, c.want, screen.Text(quantity.Metric), c.total)
		require.Len(t, out.Caveats(), 1)
	}
}

func TestElementsWithoutALevel(t *testing.T) {
	out, err := run(t, "waste.totals", "total=5000 mg/kg", "element=Ni")
	require.NoError(t, err)
	screen, _ := out.Output("screen")
	assert.Equal(t, "40 CFR 261.24 has no level for Ni", screen.Why())
	for element, level := range map[string]float64{"As": 5, "Ba": 100, "Cd": 1, "Cr": 5, "Pb": 5, "Hg": 0.2, "Se": 1, "Ag": 5} {
		assert.Equal(t, level, waste.Level(element).Is().MilligramsPerLitre(), element)
	}
}

func TestNearlyAllLiquidIsItsOwnExtract(t *testing.T) {
	out, err := run(t, "waste.totals", "liquid=1000 L", "liquid_concentration=0.5 mg/L", "solid=4 kg", "solid_concentration=100 mg/kg")
	require.NoError(t, err)
	require.Len(t, out.Caveats(), 1)
	assert.Contains(t, out.Caveats()[0], "its own extract")
}

func TestBadInputs(t *testing.T) {
	for _, c := range []struct {
		method    string
		arguments []string
		want      []string
	}{
		{"waste.totals", nil, []string{`total: it is not given | give total="80 mg/kg", or liquid, liquid_concentration, solid and solid_concentration`}},
		{"waste.totals", []string{"total=80 mg/kg", "liquid=1 L"}, []string{`total: both a total and the parts of a mixed waste are given | give total for a waste that is all solid, or liquid and solid with their contents`}},
		{"waste.totals", []string{"liquid=1 L", "solid=1 kg"}, []string{
			`liquid_concentration: a mixed waste is given without it | give liquid_concentration="0.5 mg/L"`,
			`solid_concentration: a mixed waste is given without it | give solid_concentration="80 mg/kg"`,
		}},
		{"waste.totals", []string{"liquid=0 L", "solid=0 kg", "liquid_concentration=1 mg/L", "solid_concentration=1 mg/kg"}, []string{`liquid: there is neither liquid nor solid | give how much there is of each`}},
		{"waste.totals", []string{"total=80 mg/L"}, []string{`total: "80 mg/L" is a concentration in a bath; wanted is a content of a solid | write it as "120 mg/kg"`}},
		{"waste.totals", []string{"total=80 mg/kg", "level=5 mg/L", "element=Pb"}, []string{`element: both a level and an element are given | give one of them`}},
		{"waste.sludge", []string{"metals={Au: 1 kg}", "solids=0 %"}, []string{
			`metals: "Au" is not a metal that the table precipitates | known here: Cr(III), Cu, Ni, Zn, Cd, Pb, Co, Fe(III), Fe(II), Al, Sn(II), Ag; chromium(VI) is reduced first and is then Cr(III)`,
			`solids: a cake of 0 % solids is none | give the dry share of the cake, over 0 and up to 100 %: solids="30 %"`,
		}},
		{"waste.sludge", []string{"metals={}"}, []string{`metals: no metal is named | give metals="{Cu: 2 kg, Ni: 1.5 kg}"`}},
		{"waste.reagents", []string{"reagent=lime"}, []string{`metals: there is nothing to treat | give metals="{Cu: 2 kg}", acid, chromium6 or cyanide`}},
		{"waste.reagents", []string{"metals={Cu: 1 kg}", "acid={vinegar: 1 kg}", "reagent=lime; NaOH; sugar; chlorine; sulfuric acid"}, []string{
			`acid: "vinegar" is not an acid of the table | known here: sulfuric acid, hydrochloric acid, nitric acid`,
			`reagent: lime and sodium hydroxide do the same | name one of them`,
			`reagent: "sugar" is not a reagent of the table | known here: sodium hydroxide, lime, quicklime, magnesium hydroxide, sodium metabisulfite, sodium bisulfite, sulfur dioxide, ferrous sulfate, sodium hypochlorite, chlorine`,
			`reagent: there is nothing for chlorine to do | give the mass of what it treats (chromium6 or cyanide), or leave it out`,
			`reagent: sulfuric acid treats nothing | name one of: sodium hydroxide, lime, quicklime, magnesium hydroxide, sodium metabisulfite, sodium bisulfite, sulfur dioxide, ferrous sulfate, sodium hypochlorite, chlorine`,
		}},
		{"waste.reagents", []string{"metals={Ag: 1 kg}", "reagent=lime"}, []string{`reagent: nothing here takes hydroxide, and there is nothing for lime to do | leave it out; what only holds a pH is not counted`}},
	} {
		_, err := run(t, c.method, c.arguments...)
		assert.Equal(t, c.want, workingtest.Faults(err), c.arguments)
	}
}

func TestJSON(t *testing.T) {
	workingtest.JSON(t, waste.Methods(), map[string][]string{
		"waste.totals":   {"total=80 mg/kg", "level=5.0 mg/L"},
		"waste.sludge":   {"metals={Cu: 1 kg, Fe: 0.2 kg}"},
		"waste.reagents": {"metals={Ni: 1 kg}", "acid={hydrochloric acid: 2 lb}", "chromium6=0.5 kg", "reagent=lime; sodium bisulfite"},
	})
}
