package hazard_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/hazard"
)

func TestCategoriesOfAcuteToxicity(t *testing.T) {
	for _, c := range []struct {
		route hazard.Route
		class string
		dose  float64
		next  string // just above the limit
	}{
		{hazard.Oral, "Acute Tox. 1 (oral)", 5, "Acute Tox. 2 (oral)"},
		{hazard.Oral, "Acute Tox. 2 (oral)", 50, "Acute Tox. 3 (oral)"},
		{hazard.Oral, "Acute Tox. 3 (oral)", 300, "Acute Tox. 4 (oral)"},
		{hazard.Oral, "Acute Tox. 4 (oral)", 2000, ""},
		{hazard.Dermal, "Acute Tox. 1 (dermal)", 50, "Acute Tox. 2 (dermal)"},
		{hazard.Dermal, "Acute Tox. 2 (dermal)", 200, "Acute Tox. 3 (dermal)"},
		{hazard.Dermal, "Acute Tox. 3 (dermal)", 1000, "Acute Tox. 4 (dermal)"},
		{hazard.Dermal, "Acute Tox. 4 (dermal)", 2000, ""},
		{hazard.Vapour, "Acute Tox. 1 (inhalation)", 0.5, "Acute Tox. 2 (inhalation)"},
		{hazard.Vapour, "Acute Tox. 2 (inhalation)", 2, "Acute Tox. 3 (inhalation)"},
		{hazard.Vapour, "Acute Tox. 3 (inhalation)", 10, "Acute Tox. 4 (inhalation)"},
		{hazard.Vapour, "Acute Tox. 4 (inhalation)", 20, ""},
		{hazard.Mist, "Acute Tox. 1 (inhalation)", 0.05, "Acute Tox. 2 (inhalation)"},
		{hazard.Mist, "Acute Tox. 2 (inhalation)", 0.5, "Acute Tox. 3 (inhalation)"},
		{hazard.Mist, "Acute Tox. 3 (inhalation)", 1, "Acute Tox. 4 (inhalation)"},
		{hazard.Mist, "Acute Tox. 4 (inhalation)", 5, ""},
	} {
		unit := "mg/kg"
		if c.route == hazard.Vapour || c.route == hazard.Mist {
			unit = "mg/L"
		}
		for _, r := range hazard.Regimes() {
			t.Run(fmt.Sprintf("%s %s %g", r, c.route, c.dose), func(t *testing.T) {
				// Half of the whole at half the dose gives the dose.
				at := dosed(t, 50, c.route, fmt.Sprintf("%g %s", c.dose/2, unit))
				over := dosed(t, 50, c.route, fmt.Sprintf("%g %s", c.dose/2*1.001, unit))
				assert.Equal(t, []string{c.class}, found(t, r, at))
				next := []string{}
				if c.next != "" {
					next = []string{c.next}
				} else if r == hazard.UN && unit == "mg/kg" {
					next = []string{"Acute Tox. 5 (" + string(c.route) + ")"}
				}
				assert.Equal(t, next, found(t, r, over))
			})
		}
	}
}

func TestConvertedEstimates(t *testing.T) {
	for class, want := range map[string]float64{
		"Acute Tox. 1 (oral)": 0.5, "Acute Tox. 2 (oral)": 5, "Acute Tox. 3 (oral)": 100, "Acute Tox. 4 (oral)": 500,
		"Acute Tox. 1 (dermal)": 5, "Acute Tox. 2 (dermal)": 50, "Acute Tox. 3 (dermal)": 300, "Acute Tox. 4 (dermal)": 1100,
		"Acute Tox. 1 (vapour)": 0.05, "Acute Tox. 2 (vapour)": 0.5, "Acute Tox. 3 (vapour)": 3, "Acute Tox. 4 (vapour)": 11,
		"Acute Tox. 1 (mist)": 0.005, "Acute Tox. 2 (mist)": 0.05, "Acute Tox. 3 (mist)": 0.5, "Acute Tox. 4 (mist)": 1.5,
	} {
		c := part(t, 100, class)
		for _, r := range hazard.Regimes() {
			route := c.Classes[0].Route
			got := classify(t, r, hazard.Mixture{Components: []hazard.Component{c}}).Estimates[route]
			require.True(t, got.Known(), "%s %s", r, class)
			assert.InEpsilon(t, want, got.Is(), 1e-9, "%s %s", r, class)
		}
	}
}

func TestWhichIngredientsEnterTheSum(t *testing.T) {
	oral := func(r hazard.Regime, parts ...hazard.Component) any {
		e := classify(t, r, hazard.Mixture{Components: append(parts, hazard.Water(hazard.Remainder(parts)))}).Estimates[hazard.Oral]
		if !e.Known() {
			return e.Why()
		}
		return e.Text()
	}
	none := "no ingredient is in a category, swallowed"
	for _, c := range []struct {
		why  string
		part hazard.Component
		want map[hazard.Regime]any
	}{
		{"2000 is in Category 4", dosed(t, 50, hazard.Oral, "2000 mg/kg"), map[hazard.Regime]any{"us": "4000 mg/kg", "eu": "4000 mg/kg", "un": "4000 mg/kg"}},
		{"above it a known estimate counts to 5000, not in the European Union", dosed(t, 50, hazard.Oral, "2001 mg/kg"), map[hazard.Regime]any{"us": "4002 mg/kg", "eu": none, "un": "4002 mg/kg"}},
		{"5000 counts", dosed(t, 50, hazard.Oral, "5000 mg/kg"), map[hazard.Regime]any{"us": "10000 mg/kg", "eu": none, "un": "10000 mg/kg"}},
		{"5001 does not", dosed(t, 50, hazard.Oral, "5001 mg/kg"), map[hazard.Regime]any{"us": none, "eu": none, "un": none}},
		{"a limit test that showed nothing", dosed(t, 50, hazard.Oral, ">2000 mg/kg"), map[hazard.Regime]any{"us": none, "eu": none, "un": none}},
		{"a lower test says little", dosed(t, 50, hazard.Oral, ">300 mg/kg"), map[hazard.Regime]any{"us": "600.0 mg/kg", "eu": "600.0 mg/kg", "un": "600.0 mg/kg"}},
		{"1 % of Category 4", part(t, 1, "Acute Tox. 4 (oral)"), map[hazard.Regime]any{"us": "50000 mg/kg", "eu": "50000 mg/kg", "un": "50000 mg/kg"}},
		{"below the cut-off", part(t, 0.9, "Acute Tox. 4 (oral)"), map[hazard.Regime]any{"us": none, "eu": none, "un": none}},
		{"Category 3 has the lower cut-off in the European Union", part(t, 0.9, "Acute Tox. 3 (oral)"), map[hazard.Regime]any{"us": none, "eu": "11111 mg/kg", "un": none}},
		{"Category 1 below every cut-off, if it alone is enough", part(t, 0.09, "Acute Tox. 1 (oral)"), map[hazard.Regime]any{"us": "555.6 mg/kg", "eu": "555.6 mg/kg", "un": "555.6 mg/kg"}},
		{"and not if it is not", part(t, 0.02, "Acute Tox. 1 (oral)"), map[hazard.Regime]any{"us": none, "eu": none, "un": none}},
		{"Category 5 is the United Nations'", part(t, 50, "Acute Tox. 5 (oral)"), map[hazard.Regime]any{"us": none, "eu": none, "un": "5000 mg/kg"}},
	} {
		for _, r := range hazard.Regimes() {
			assert.Equal(t, c.want[r], oral(r, c.part), "%s: %s", r, c.why)
		}
	}
}

func TestUnknownIngredients(t *testing.T) {
	classified := func(unknown float64) hazard.Result {
		parts := []hazard.Component{dosed(t, 20, hazard.Oral, "400 mg/kg"), hazard.Unknown(unknown / 100)}
		return classify(t, hazard.US, hazard.Mixture{Components: append(parts, hazard.Water(hazard.Remainder(parts)))})
	}
	for unknown, want := range map[float64]float64{0.9: 2000, 10: 2000, 10.1: 0.899 * 2000, 80: 400} {
		assert.InEpsilon(t, want, classified(unknown).Estimates[hazard.Oral].Is(), 1e-9, "%g %% unknown", unknown)
	}
	assert.Zero(t, classified(0.9).UnknownBy(hazard.Oral), "below 1 % it is not counted")
	assert.InDelta(t, 0.01, classified(1).UnknownBy(hazard.Oral), 1e-12)
	assert.Contains(t, classified(10).String(), "10 % of the mixture consists of ingredients of unknown acute toxicity (swallowed)", "it is said at 10 % and below too")
	assert.Contains(t, classified(10).String(), "30 % of the mixture consists of ingredients of unknown acute toxicity (on the skin, inhaled as vapour, inhaled as mist or dust)", "the poison is known by one route only")
}

func TestUnknownIsNotHarmless(t *testing.T) {
	r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{hazard.Unknown(1)}})
	assert.Empty(t, r.Findings)
	assert.Equal(t, "no ingredient has an estimate or a category, swallowed, and 100 % is unknown", r.Estimates[hazard.Oral].Why())
	assert.Contains(t, r.String(), "nothing is known of ingredients not stated 100 % w/w: it could give any class")
}

func TestFormsOfInhalation(t *testing.T) {
	t.Run("each form is summed apart and the stricter class stands", func(t *testing.T) {
		vapour, mist := dosed(t, 50, hazard.Vapour, "9 mg/L"), dosed(t, 50, hazard.Mist, "0.4 mg/L")
		assert.Equal(t, []string{"Acute Tox. 4 (inhalation)"}, found(t, hazard.EU, vapour))
		assert.Equal(t, []string{"Acute Tox. 3 (inhalation)"}, found(t, hazard.EU, vapour, mist))
	})
	t.Run("a class without a form counts in both, unless an estimate says the form", func(t *testing.T) {
		c := part(t, 50, "Acute Tox. 3 (inhalation)")
		r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(0.5)}})
		assert.InEpsilon(t, 6, r.Estimates[hazard.Vapour].Is(), 1e-9)
		assert.InEpsilon(t, 1, r.Estimates[hazard.Mist].Is(), 1e-9)
		assert.Contains(t, r.String(), "it is counted as vapour and as mist")
		c.Doses = dosed(t, 50, hazard.Vapour, "4 mg/L").Doses
		r = classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(0.5)}})
		assert.InEpsilon(t, 8, r.Estimates[hazard.Vapour].Is(), 1e-9)
		assert.False(t, r.Estimates[hazard.Mist].Known())
	})
}

func TestTheUpperContentCounts(t *testing.T) {
	c := dosed(t, 20, hazard.Oral, "400 mg/kg")
	c.Low = 0.03
	r := classify(t, hazard.US, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(0.8)}})
	assert.InEpsilon(t, 2000, r.Estimates[hazard.Oral].Is(), 1e-9)
	assert.Contains(t, r.String(), "contents given as ranges count at their upper end: poison 400 mg/kg 3 % to 20 %")
	t.Run("and never more than the whole is divided", func(t *testing.T) {
		unknown := hazard.Unknown(0.95)
		unknown.Low = 0.1
		r := classify(t, hazard.US, hazard.Mixture{Components: []hazard.Component{c, unknown}})
		assert.InEpsilon(t, 400, r.Estimates[hazard.Oral].Is(), 1e-9)
	})
}

func TestTheWorkingOfAnEstimate(t *testing.T) {
	r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{part(t, 4, "Acute Tox. 3 (oral)"), hazard.Water(0.96)}})
	steps := r.Estimates[hazard.Oral].Steps()
	require.Len(t, steps, 1)
	assert.Equal(t, "100 / ATE = Σ (C / ATE)", steps[0].Formula)
	assert.Equal(t, "4 %", steps[0].Inputs[0].Value)
	assert.Equal(t, "100 mg/kg, converted from Acute Tox. 3 (oral)", steps[0].Inputs[1].Value)
	assert.Contains(t, steps[0].Inputs[1].Known(), "Table 3.1.2")
}
