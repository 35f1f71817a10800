package waste

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/working"
)

// The atomic masses stand in the tables of substances too; they are one set.
func TestAtomicMassesAreThoseOfTheSubstances(t *testing.T) {
	tables, err := reference.Tables()
	require.NoError(t, err)
	shared := 0
	for symbol, mass := range treatment().masses {
		species, ok := tables.Species(symbol)
		if !ok || species.Element == "" {
			continue
		}
		shared++
		assert.Equal(t, species.MolarMass.Is, mass.Is(), symbol)
		assert.Equal(t, species.MolarMass.Ref, mass.Ref(), symbol)
	}
	assert.Greater(t, shared, 15)
}

func TestEveryValueHasASource(t *testing.T) {
	for _, table := range Published() {
		rows, err := table.Rows()
		require.NoError(t, err)
		for _, row := range rows {
			assert.True(t, row.Ref.Known(), row.Where)
		}
	}
}

// side counts the atoms on one side of an equation.
func side(t *testing.T, text string) map[string]int {
	all := map[string]int{}
	for term := range strings.SplitSeq(text, " + ") {
		times, formula := leading(strings.TrimSpace(term))
		parts := atoms(strings.TrimSpace(formula))
		require.NotEmpty(t, parts, "%q is not a formula", term)
		for _, a := range parts {
			all[a.symbol] += times * a.count
		}
	}
	return all
}

func TestEquationsBalance(t *testing.T) {
	rows, err := Published()[0].Rows()
	require.NoError(t, err)
	equations := map[string]bool{}
	for _, row := range rows {
		left, right, ok := strings.Cut(row.Ref.Place, " = ")
		if !ok {
			continue
		}
		equations[row.Ref.Place] = true
		assert.Equal(t, side(t, left), side(t, right), row.Where)
	}
	assert.Len(t, equations, 7)
}

func TestAtoms(t *testing.T) {
	for formula, want := range map[string][]atom{
		"Cr(OH)3":     {{"Cr", 1}, {"O", 3}, {"H", 3}},
		"FeSO4·7H2O":  {{"Fe", 1}, {"S", 1}, {"O", 11}, {"H", 14}},
		"FeSO4.7H2O":  {{"Fe", 1}, {"S", 1}, {"O", 11}, {"H", 14}},
		"Cr2(SO4)3":   {{"Cr", 2}, {"S", 3}, {"O", 12}},
		"Ca((OH)2)2":  {{"Ca", 1}, {"O", 4}, {"H", 4}},
		"CN":          {{"C", 1}, {"N", 1}},
		"":            nil,
		"cr":          nil,
		"Cr(OH":       nil,
		"Cr(OH))3":    nil,
		"Cr()3":       nil,
		"Cr–OH":       nil,
		"FeSO4·":      nil,
		"NaOH, flake": nil,
	} {
		assert.Equal(t, want, atoms(formula), formula)
	}
}

func TestAtomsNeverFail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("CrOHaN2013()·.x "))).Draw(t, "text")
		for _, a := range atoms(text) {
			if !strings.Contains(text, a.symbol) {
				t.Fatalf("%s is not in %q", a.symbol, text)
			}
		}
	})
}

func TestProducts(t *testing.T) {
	for p := SodiumSulfate; p <= SodiumBisulfate; p++ {
		read, err := ParseProduct(p.String())
		require.NoError(t, err)
		assert.Equal(t, p, read)
	}
	_, err := ParseProduct(Product(0).String())
	assert.ErrorContains(t, err, `"no product of the acid" is not a product of the acid`)
}

func TestFaultsInTheTables(t *testing.T) {
	const head = "of,figure,value,document,place,year,standing\n"
	_, err := readTreatment(working.Table{Name: "treatment.csv", File: head +
		"Cu,precipitates as,CuOH)2,a,,,handbook\nNi,precipitates as,Ni(OH)2,a,,,handbook\nNi,atomic mass,58.693,a,,,handbook\nlime,bleaches,2 mol/mol,a,,,handbook\nlime,hydroxide,2,a,,,handbook\nlime,formula,CaO,b,,,handbook\n"})
	require.Error(t, err)
	assert.Equal(t, []string{
		`treatment.csv line 2: CuOH)2 is not a formula`,
		`treatment.csv line 4: "58.693" has no unit`,
		`treatment.csv line 5: the figure bleaches is not read by anything`,
		`treatment.csv line 6: "2" is not in mol/mol`,
		`treatment.csv: Ni holds O, which has no atomic mass`,
		`treatment.csv: Ni holds H, which has no atomic mass`,
		`treatment.csv: lime holds Ca, which has no atomic mass`,
		`treatment.csv: lime holds O, which has no atomic mass`,
		`treatment.csv: the solids of a filter cake are missing`,
	}, strings.Split(err.Error(), "\n"))

	_, err = readTotals(working.Table{Name: "totals.csv", File: head + "Pb,level of the leachate,5 mg/kg,a,,,handbook\n,liquid,20 L/kg,a,,,handbook\n"})
	require.Error(t, err)
	assert.Equal(t, []string{
		`totals.csv line 2: "5 mg/kg" is a content of a solid; wanted is a concentration in water`,
		`totals.csv line 3: the figure liquid is not read by anything`,
		`totals.csv: the fluid for each solid, or the solids of an own extract, are missing`,
	}, strings.Split(err.Error(), "\n"))
}
