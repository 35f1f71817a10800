package hazard_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/hazard"
)

type content struct {
	percent float64
	class   string
}

func parts(t *testing.T, contents []content) []hazard.Component {
	var all []hazard.Component
	for _, c := range contents {
		all = append(all, part(t, c.percent, c.class))
	}
	return all
}

func TestSumsForSkinAndEye(t *testing.T) {
	for _, c := range []struct {
		contents   []content
		us, eu, un []string
	}{
		{[]content{{5, "Skin Corr. 1B"}}, []string{"Skin Corr. 1B", "Eye Dam. 1"}, nil, nil},
		{[]content{{4.99, "Skin Corr. 1B"}}, []string{"Skin Irrit. 2", "Eye Dam. 1"}, nil, nil},
		{[]content{{2.99, "Skin Corr. 1B"}}, []string{"Skin Irrit. 2", "Eye Irrit. 2A"}, []string{"Skin Irrit. 2", "Eye Irrit. 2"}, nil},
		{[]content{{1, "Skin Corr. 1B"}}, []string{"Skin Irrit. 2", "Eye Irrit. 2A"}, []string{"Skin Irrit. 2", "Eye Irrit. 2"}, nil},
		{[]content{{0.99, "Skin Corr. 1B"}}, []string{}, nil, nil},
		{[]content{{10, "Skin Irrit. 2"}}, []string{"Skin Irrit. 2"}, nil, nil},
		{[]content{{9.99, "Skin Irrit. 2"}}, []string{}, []string{}, []string{"Skin Irrit. 3"}},
		{[]content{{1, "Skin Irrit. 2"}}, []string{}, []string{}, []string{"Skin Irrit. 3"}},
		{[]content{{10, "Skin Irrit. 3"}}, []string{}, []string{}, []string{"Skin Irrit. 3"}},
		{[]content{{9.99, "Skin Irrit. 3"}}, []string{}, nil, nil},
		{[]content{{5, "Skin Irrit. 2"}, {5, "Skin Irrit. 2"}}, []string{"Skin Irrit. 2"}, nil, nil},
		{[]content{{9.5, "Skin Irrit. 2"}, {0.9, "Skin Irrit. 2"}}, []string{}, []string{}, []string{"Skin Irrit. 3"}},
		{[]content{{3, "Skin Corr. 1A"}, {2, "Skin Corr. 1B"}}, []string{"Skin Corr. 1B", "Eye Dam. 1"}, nil, nil},
		{[]content{{5, "Skin Corr. 1A"}, {2, "Skin Corr. 1B"}}, []string{"Skin Corr. 1A", "Eye Dam. 1"}, nil, nil},
		{[]content{{2, "Skin Corr. 1A"}, {2, "Skin Corr. 1B"}, {1, "Skin Corr. 1C"}}, []string{"Skin Corr. 1C", "Eye Dam. 1"}, nil, nil},
		{[]content{{3, "Skin Corr. 1A"}, {2, "Skin Corr. 1"}}, []string{"Skin Corr. 1", "Eye Dam. 1"}, nil, nil},
		{[]content{{3, "Eye Dam. 1"}}, []string{"Eye Dam. 1"}, nil, nil},
		{[]content{{2.99, "Eye Dam. 1"}}, []string{"Eye Irrit. 2A"}, []string{"Eye Irrit. 2"}, nil},
		{[]content{{0.99, "Eye Dam. 1"}}, []string{}, nil, nil},
		{[]content{{10, "Eye Irrit. 2"}}, []string{"Eye Irrit. 2A"}, []string{"Eye Irrit. 2"}, nil},
		{[]content{{9.99, "Eye Irrit. 2"}}, []string{}, nil, nil},
		{[]content{{10, "Eye Irrit. 2B"}}, []string{"Eye Irrit. 2B"}, []string{"Eye Irrit. 2"}, nil},
		{[]content{{5, "Eye Irrit. 2B"}, {5, "Eye Irrit. 2A"}}, []string{"Eye Irrit. 2A"}, []string{"Eye Irrit. 2"}, nil},
		{[]content{{1.5, "Skin Corr. 1B"}, {1.5, "Eye Dam. 1"}}, []string{"Skin Irrit. 2", "Eye Dam. 1"}, nil, nil},
	} {
		want := map[hazard.Regime][]string{hazard.US: c.us, hazard.EU: c.eu, hazard.UN: c.un}
		for _, r := range hazard.Regimes() {
			expected := want[r]
			if expected == nil {
				expected = c.us
			}
			assert.Equal(t, expected, found(t, r, parts(t, c.contents)...), "%s %v", r, c.contents)
		}
	}
}

func TestAnIngredientCountsOnceForTheEye(t *testing.T) {
	assert.Equal(t, []string{"Skin Irrit. 2", "Eye Irrit. 2"}, found(t, hazard.EU, part(t, 2.5, "Skin Corr. 1B", "Eye Dam. 1")))
}

func TestExtremePH(t *testing.T) {
	for value, corrosive := range map[float64]bool{2: true, 2.01: false, 7: false, 11.49: false, 11.5: true} {
		for _, r := range hazard.Regimes() {
			got := classify(t, r, hazard.Mixture{PH: ph(value), Components: []hazard.Component{hazard.Water(1)}})
			want := []string{}
			if corrosive {
				want = []string{"Skin Corr. 1", "Eye Dam. 1"}
				assert.Contains(t, got.String(), "likely to corrode metals, not tested")
				assert.Contains(t, got.String(), "acid or alkaline reserve not considered")
			}
			assert.Equal(t, want, names(got.Classes()), "%s pH %g", r, value)
		}
	}
}

func TestIngredientsForWhichAddingFails(t *testing.T) {
	with := func(c hazard.Component, strength hazard.Strength) hazard.Component {
		c.Strength = strength
		return c
	}
	for _, c := range []struct {
		part hazard.Component
		want []string
	}{
		{with(part(t, 1, "Skin Corr. 1B"), hazard.StrongAcid), []string{"Skin Corr. 1", "Eye Dam. 1"}},
		{with(part(t, 0.99, "Skin Corr. 1B"), hazard.StrongAcid), []string{}},
		{with(part(t, 1, "Skin Corr. 1B"), hazard.NotAdditive), []string{"Skin Corr. 1", "Eye Dam. 1"}},
		{with(part(t, 5, "Skin Corr. 1B"), hazard.StrongBase), []string{"Skin Corr. 1B", "Eye Dam. 1"}},
		{with(part(t, 3, "Skin Irrit. 2"), hazard.NotAdditive), []string{"Skin Irrit. 2"}},
		{with(part(t, 2.99, "Skin Irrit. 2"), hazard.NotAdditive), []string{}},
		{with(part(t, 1, "Eye Dam. 1"), hazard.NotAdditive), []string{"Eye Dam. 1"}},
		{with(part(t, 3, "Eye Irrit. 2"), hazard.StrongBase), []string{"Eye Irrit. 2"}},
		{with(part(t, 2.99, "Eye Irrit. 2"), hazard.StrongBase), []string{}},
	} {
		assert.Equal(t, c.want, found(t, hazard.EU, c.part), c.part.Name)
	}
	t.Run("the pH of an ingredient of which nothing else is known", func(t *testing.T) {
		for value, want := range map[float64][]string{1.8: {"Skin Corr. 1", "Eye Dam. 1"}, 3: {}, 12: {"Skin Corr. 1", "Eye Dam. 1"}} {
			assert.Equal(t, want, found(t, hazard.US, hazard.Component{Name: "acid", Low: 0.01, High: 0.01, PH: ph(value)}), "pH %g", value)
		}
	})
	t.Run("a known class counts more than the pH", func(t *testing.T) {
		c := part(t, 2, "Skin Irrit. 2")
		c.PH = ph(1.5)
		assert.Empty(t, found(t, hazard.EU, c))
	})
}

func TestSpecificLimitsForSkinAndEye(t *testing.T) {
	caustic := func(percent float64) hazard.Component {
		return limited(t, part(t, percent, "Skin Corr. 1A"), "Skin Corr. 1A: 5 %", "Skin Corr. 1B: 2 % to 5 %", "Skin Irrit. 2: 0.5 % to 2 %", "Eye Irrit. 2: 0.5 % to 2 %")
	}
	for percent, want := range map[float64][]string{
		0.49: {},
		0.5:  {"Skin Irrit. 2", "Eye Irrit. 2"},
		1.99: {"Skin Irrit. 2", "Eye Irrit. 2"},
		2:    {"Skin Corr. 1B", "Eye Dam. 1"},
		4.99: {"Skin Corr. 1B", "Eye Dam. 1"},
		5:    {"Skin Corr. 1A", "Eye Dam. 1"},
	} {
		strong := caustic(percent)
		strong.Strength = hazard.StrongBase // the limits take the place of the rule on single ingredients
		assert.Equal(t, want, found(t, hazard.EU, strong), "%g %%", percent)
	}
	t.Run("quotients of two add", func(t *testing.T) {
		assert.Equal(t, []string{"Skin Corr. 1B", "Eye Dam. 1"}, found(t, hazard.EU, caustic(1), part(t, 2.5, "Skin Corr. 1B")), "1/2 + 2.5/5")
		assert.Equal(t, []string{"Skin Irrit. 2", "Eye Irrit. 2"}, found(t, hazard.EU, caustic(0.9), part(t, 1.4, "Skin Corr. 1B")))
	})
	t.Run("other regimes do not know them", func(t *testing.T) {
		for _, r := range []hazard.Regime{hazard.US, hazard.UN} {
			assert.Equal(t, []string{"Skin Irrit. 2", "Eye Irrit. 2A"}, found(t, r, caustic(2)), r)
		}
	})
}

func TestReasonsAreSentences(t *testing.T) {
	r := classify(t, hazard.US, hazard.Mixture{Components: []hazard.Component{published(t, "hydrochloric-acid", 12), hazard.Water(0.88)}})
	text := fmt.Sprint(r)
	assert.Contains(t, text, "skin: hydrochloric acid 12 % w/w is at or above 1 % (strong acid, taken to have a pH of 2 or less: it is not added to others; 29 CFR 1910.1200, Appendix A, Table A.2.4, 2015, law in force)")
	assert.Contains(t, text, "eye: the mixture is Skin Corr. 1B (what corrodes skin damages eyes; ")
	r = classify(t, hazard.US, hazard.Mixture{Components: []hazard.Component{part(t, 4, "Skin Irrit. 2"), part(t, 7, "Skin Irrit. 2"), hazard.Water(0.89)}})
	assert.Contains(t, fmt.Sprint(r), "7 % / 10 % + 4 % / 10 % = 1.1 is at or above 1 (each content over its limit for Skin Irrit. 2; 29 CFR 1910.1200, Appendix A, Table A.2.3, 2015, law in force)")
}
