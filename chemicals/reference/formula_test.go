package reference

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseFormula(t *testing.T) {
	tests := []struct {
		text string
		want map[string]int
	}{
		{"NaOH", map[string]int{"Na": 1, "O": 1, "H": 1}},
		{"NiSO4.6H2O", map[string]int{"Ni": 1, "S": 1, "O": 10, "H": 12}},
		{"Ni(NH2SO3)2", map[string]int{"Ni": 1, "N": 2, "H": 4, "S": 2, "O": 6}},
		{"KAu(CN)2", map[string]int{"K": 1, "Au": 1, "C": 2, "N": 2}},
		{"(NH4)2SO4", map[string]int{"N": 2, "H": 8, "S": 1, "O": 4}},
		{"Ca3(Fe(CN)6)2.12H2O", map[string]int{"Ca": 3, "Fe": 2, "C": 12, "N": 12, "H": 24, "O": 12}},
		{"Co", map[string]int{"Co": 1}},
		{"CO", map[string]int{"C": 1, "O": 1}},
	}
	for _, test := range tests {
		t.Run(test.text, func(t *testing.T) {
			f, err := parseFormula(test.text)
			require.NoError(t, err)
			assert.Equal(t, test.want, counts(f))
		})
	}
}

func counts(f formula) map[string]int {
	all := map[string]int{}
	f.visit(func(element string, count int) { all[element] += count })
	return all
}

func TestParseFormulaRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":             `formula "" has an empty part`,
		"NiSO4.":       `formula "NiSO4." has an empty part`,
		"NiSO4·6H2O":   `formula "NiSO4·6H2O" has no element at "·6H2O"`,
		"Ni(SO4":       `formula "Ni(SO4" has a parenthesis that is not closed`,
		"Ni)2":         `formula "Ni)2" has a ")" too many`,
		"Ni()2":        `formula "Ni()2" has an empty part`,
		"nickel":       `formula "nickel" has no element at "nickel"`,
		"Ni0":          `formula "Ni0" has the count "0", which is not 1 to 999`,
		"H02":          `formula "H02" has the count "02", which is not 1 to 999`,
		"NaCl.6000H2O": `formula "NaCl.6000H2O" has the count "6000", which is not 1 to 999`,
	} {
		_, err := parseFormula(text)
		assert.EqualError(t, err, want)
	}
}

func TestGroupsAreFoundAsWritten(t *testing.T) {
	tests := []struct {
		formula, run string
		want         int
	}{
		{"NaCN", "CN", 1},
		{"KAu(CN)4", "CN", 4},
		{"K3Fe(CN)6.3H2O", "CN", 6},
		{"C4H5NO2", "CN", 0},
		{"C10H16N2O8", "CN", 0},
		{"NH4HF2", "NH4", 1},
		{"(NH4)2C6H6O7", "NH4", 2},
		{"Pd(NH3)2Cl2", "NH3", 2},
		{"Ni(NH2SO3)2", "NH3", 0},
		{"Rh2(SO4)3", "SO4", 3},
		{"Na2S2O8", "S2O8", 1},
	}
	for _, test := range tests {
		f, err := parseFormula(test.formula)
		require.NoError(t, err)
		run, err := parseFormula(test.run)
		require.NoError(t, err)
		assert.Equal(t, test.want, f.groups(run.parts[0].group), "%s in %s", test.run, test.formula)
	}
}

// Whatever tree of groups is written down is counted as it was built.
func TestFormulaCountsWhatWasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := map[string]int{}
		text := strings.Join([]string{
			draw(t, 0, 1, want), fmt.Sprintf("%d%s", 2, draw(t, 0, 2, want)),
		}, ".")
		f, err := parseFormula(text)
		if err != nil {
			t.Fatal(err)
		}
		assert.Equal(t, want, counts(f), text)
	})
}

// draw writes a run of elements and groups, and adds to want how often each
// element is in it when the run comes so many times.
func draw(t *rapid.T, depth, times int, want map[string]int) string {
	var text strings.Builder
	for range rapid.IntRange(1, 4).Draw(t, "items") {
		count := rapid.IntRange(1, 12).Draw(t, "count")
		if depth < 3 && rapid.IntRange(0, 3).Draw(t, "group") == 0 {
			text.WriteString("(" + draw(t, depth+1, times*count, want) + ")")
		} else {
			symbol := rapid.SampledFrom([]string{"H", "C", "N", "O", "Na", "Ni", "Cl", "Co"}).Draw(t, "element")
			want[symbol] += times * count
			text.WriteString(symbol)
		}
		if count > 1 {
			fmt.Fprint(&text, count)
		}
	}
	return text.String()
}

func FuzzParseFormula(f *testing.F) {
	for _, seed := range []string{"NiSO4.6H2O", "KAu(CN)2", "((", "A.b", "H999", "(NH4)2.2(H2O)"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := parseFormula(text)
		if err != nil {
			return
		}
		for element, count := range counts(got) {
			if count < 1 || len(element) > 2 || !strings.Contains(text, element) {
				t.Errorf("%q has %d of %q", text, count, element)
			}
		}
	})
}

func TestCheckDigits(t *testing.T) {
	for _, good := range []string{"7732-18-5", "10101-97-0", "50-00-0", "7440-02-0"} {
		assert.True(t, validCAS(good), good)
	}
	for _, bad := range []string{"7732-18-6", "7723-18-5", "7732185", "0-00-0", "", "07732-18-5"} {
		assert.False(t, validCAS(bad), bad)
	}
	for _, good := range []string{"231-791-2", "215-185-5", "232-104-9"} {
		assert.True(t, validEC(good), good)
	}
	for _, bad := range []string{"231-791-3", "231-719-2", "2317912", ""} {
		assert.False(t, validEC(bad), bad)
	}
	for _, good := range []string{"011-002-00-6", "017-002-01-X", "605-001-00-5"} {
		assert.True(t, validIndex(good), good)
	}
	for _, bad := range []string{"011-002-00-7", "017-002-01-1", "011-020-00-6", ""} {
		assert.False(t, validIndex(bad), bad)
	}
}
