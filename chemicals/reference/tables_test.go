package reference

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/source"
)

// fromMemory is how many facts of the tables were recalled and not read again.
// It may only fall: a new value needs a document that was read.
const fromMemory = 1785

func embeddedTables(t testing.TB) *Set {
	t.Helper()
	set, err := Tables()
	require.NoError(t, err)
	return set
}

func TestMemoryCountMayOnlyFall(t *testing.T) {
	got := embeddedTables(t).MemoryCount()
	if got > fromMemory {
		t.Errorf("%d facts are from memory, and %d were; give the new ones a document that was read", got, fromMemory)
	}
	if got < fromMemory {
		t.Errorf("%d facts are from memory, and the pin is %d; lower the pin", got, fromMemory)
	}
}

func TestEveryFactSaysWhatAndFromWhere(t *testing.T) {
	set := embeddedTables(t)
	for _, f := range set.Facts("") {
		assert.NotEmpty(t, f.What, "%+v", f)
		assert.NotEmpty(t, f.Value, "%+v", f)
		assert.NotZero(t, f.Ref.Standing, "%+v", f)
		if f.Ref.Standing != source.FromMemory {
			assert.NotEmpty(t, f.Ref.Document, "%+v", f)
		}
	}
}

// A later change of a row must not leave a part of a substance behind: what the
// structs hold is what the facts print.
func TestFactsHoldEveryRowOfASubstance(t *testing.T) {
	set := embeddedTables(t)
	for _, s := range set.Substances() {
		want := 1 + len(s.OtherForms) + len(s.Densities) + len(s.Remarks) + len(s.Limits) + len(s.Reporting) + len(s.WasteCodes)
		if s.EC != "" {
			want++
		}
		if c := s.Classification; c != nil {
			want += 1 + len(c.Classes) + len(c.Limits) + len(c.MFactors) + len(c.Estimates) + len(c.Supplements)
		}
		assert.Len(t, set.Facts(s.ID), want, s.ID)
	}
}

func TestSubstancesOfTheTables(t *testing.T) {
	set := embeddedTables(t)
	classified, plain, silent := 0, 0, 0
	for _, s := range set.Substances() {
		switch {
		case s.Classification == nil:
			silent++
			assert.Equal(t, "anode", s.Use, s.ID)
		case len(s.Classification.Classes) == 0:
			plain++
		default:
			classified++
		}
	}
	assert.Equal(t, 95, classified)
	assert.Equal(t, 16, plain, "15 of the list and water")
	assert.Equal(t, 16, silent, "the metals")
}

func TestHarmonisedEntry(t *testing.T) {
	s, ok := embeddedTables(t).Substance("nickel sulfate hexahydrate")
	require.True(t, ok)
	c := s.Classification
	assert.Equal(t, Harmonised, c.Basis)
	assert.Equal(t, "028-009-00-5", c.Index)
	require.Len(t, c.Classes, 11)
	assert.Equal(t, "Carc. 1A", c.Classes[0].Class)
	assert.Equal(t, "H350i", c.Classes[0].Code)
	assert.Equal(t, Class{Class: "Repr. 1B", Code: "H360D", Marks: "***", Sourced: c.Classes[2].Sourced}, c.Classes[2])
	assert.True(t, c.Classes[3].Minimum)
	require.Len(t, c.Limits, 4)
	assert.Equal(t, "STOT RE 2", c.Limits[1].Class)
	assert.InDelta(t, 0.1, c.Limits[1].Low.Is().Percent(), 1e-12)
	assert.InDelta(t, 1, c.Limits[1].Below.Is().Percent(), 1e-12)
	assert.False(t, c.Limits[3].Below.Known())
	assert.Equal(t, []int{1, 1}, []int{c.MFactors[0].Factor, c.MFactors[1].Factor})
}

func TestSupplementalLimitHasNoClass(t *testing.T) {
	s, _ := embeddedTables(t).Substance("bleach")
	require.Len(t, s.Classification.Limits, 1)
	assert.Empty(t, s.Classification.Limits[0].Class)
	assert.Equal(t, "EUH031", s.Classification.Limits[0].Code)
}

func TestPlanningThresholdsByForm(t *testing.T) {
	s, _ := embeddedTables(t).Substance("cadmium oxide")
	var got []string
	for _, r := range s.Reporting {
		if r.List == ThresholdPlanning {
			got = append(got, r.LimitedTo+": "+r.Figure.String())
		}
	}
	assert.Equal(t, []string{"powder, molten or in solution: 100 lb", "other forms: 10000 lb"}, got)
}

func TestStatements(t *testing.T) {
	set := embeddedTables(t)
	got, ok := set.Statement("H225")
	require.True(t, ok)
	assert.Equal(t, "Highly flammable liquid and vapour", got.Text)
	assert.Equal(t, "Highly flammable liquid and vapor", got.US)
	assert.Equal(t, source.FromMemory, got.USSourced.Ref.Standing)

	combined, ok := set.Statement("P303+P361+P353")
	require.True(t, ok)
	assert.Empty(t, combined.US)
	_, ok = set.Statement("H999")
	assert.False(t, ok)
}

func TestClassCodes(t *testing.T) {
	set := embeddedTables(t)
	assert.Equal(t, []string{"H300", "H310", "H330"}, set.ClassCodes("Acute Tox. 2"))
	assert.Equal(t, []string{"H335", "H336"}, set.ClassCodes("STOT SE 3"))
	assert.Nil(t, set.ClassCodes("Skin Corr. 9"))
}

func TestDensity(t *testing.T) {
	set := embeddedTables(t)
	for name, want := range map[string]float64{"water": 0.998, "isopropanol": 0.785, "nickel": 8.9, "sodium hydroxide": 2.13} {
		s, _ := set.Substance(name)
		got, ok := s.Density()
		require.True(t, ok, name)
		assert.InDelta(t, want, float64(got.Is), 1e-9, name)
		assert.Equal(t, source.Published, got.Origin)
	}
	for _, name := range []string{"hydrochloric acid", "phosphoric acid", "sulfuric acid", "EDTA", "dimethylhydantoin"} {
		s, ok := set.Substance(name)
		require.True(t, ok, name)
		_, ok = s.Density()
		assert.False(t, ok, "%s: a strength, a powder or nothing is not the substance", name)
	}
}

func TestHashNamesTheContent(t *testing.T) {
	set := embeddedTables(t)
	assert.Len(t, set.Hash(), 64)

	moved := hash(map[string][]byte{"data/a.csv": []byte("x"), "data/b.csv": []byte("yz")})
	assert.NotEqual(t, moved, hash(map[string][]byte{"data/a.csv": []byte("xy"), "data/b.csv": []byte("z")}))
	assert.Equal(t, moved, hash(map[string][]byte{"data/b.csv": []byte("yz"), "data/a.csv": []byte("x")}))
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := load(embedded); err != nil {
			b.Fatal(err)
		}
	}
}
