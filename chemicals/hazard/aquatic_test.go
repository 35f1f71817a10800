package hazard_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/hazard"
)

func withM(c hazard.Component, acute, chronic float64) hazard.Component {
	c.MAcute.Is, c.MChronic.Is = acute, chronic
	return c
}

func TestAquaticSums(t *testing.T) {
	for _, c := range []struct {
		why    string
		parts  []hazard.Component
		eu, un []string
	}{
		{"25 % of Acute 1", []hazard.Component{withM(part(t, 25, "Aquatic Acute 1"), 1, 0)}, []string{"Aquatic Acute 1"}, nil},
		{"below", []hazard.Component{withM(part(t, 24.9, "Aquatic Acute 1"), 1, 0)}, []string{}, []string{"Aquatic Acute 2"}},
		{"M of 10", []hazard.Component{withM(part(t, 2.5, "Aquatic Acute 1"), 10, 0)}, []string{"Aquatic Acute 1"}, nil},
		{"2.5 % weighs ten times for Acute 2", []hazard.Component{withM(part(t, 2.5, "Aquatic Acute 1"), 1, 0)}, []string{}, []string{"Aquatic Acute 2"}},
		{"0.25 % weighs a hundred times for Acute 3", []hazard.Component{withM(part(t, 0.25, "Aquatic Acute 1"), 1, 0)}, []string{}, []string{"Aquatic Acute 3"}},
		{"relevant from 0.1 % over M", []hazard.Component{withM(part(t, 0.01, "Aquatic Acute 1"), 10, 0)}, []string{}, []string{}},
		{"Chronic 1", []hazard.Component{withM(part(t, 2.5, "Aquatic Chronic 1"), 0, 10)}, []string{"Aquatic Chronic 1"}, nil},
		{"Chronic 2", []hazard.Component{withM(part(t, 2.49, "Aquatic Chronic 1"), 0, 1), part(t, 0.9, "Aquatic Chronic 2")}, []string{"Aquatic Chronic 3"}, nil},
		{"Chronic 2 from both", []hazard.Component{withM(part(t, 2.4, "Aquatic Chronic 1"), 0, 1), part(t, 1, "Aquatic Chronic 2")}, []string{"Aquatic Chronic 2"}, nil},
		{"Chronic 3", []hazard.Component{part(t, 2.5, "Aquatic Chronic 2")}, []string{"Aquatic Chronic 3"}, nil},
		{"below Chronic 3", []hazard.Component{part(t, 2.4, "Aquatic Chronic 2")}, []string{}, nil},
		{"Chronic 4 has no weights", []hazard.Component{part(t, 25, "Aquatic Chronic 4")}, []string{"Aquatic Chronic 4"}, nil},
		{"below Chronic 4", []hazard.Component{part(t, 24.9, "Aquatic Chronic 4")}, []string{}, nil},
	} {
		un := c.un
		if un == nil {
			un = c.eu
		}
		assert.Equal(t, c.eu, found(t, hazard.EU, c.parts...), "eu: %s", c.why)
		assert.Equal(t, un, found(t, hazard.UN, c.parts...), "un: %s", c.why)
		assert.Empty(t, found(t, hazard.US, c.parts...), "us: %s", c.why)
	}
}

func TestEachAquaticSum(t *testing.T) {
	m := hazard.Mixture{Components: []hazard.Component{withM(part(t, 0.2, "Aquatic Chronic 1"), 0, 10), part(t, 3, "Aquatic Chronic 2"), part(t, 4, "Aquatic Chronic 3"), part(t, 5, "Aquatic Chronic 4"), hazard.Water(0.878)}}
	assert.InDeltaSlice(t, []float64{0.02, 0.2 + 0.03, 2 + 0.3 + 0.04, 0.002 + 0.03 + 0.04 + 0.05}, classify(t, hazard.EU, m).ChronicSums, 1e-12, "the last has neither M-factor nor weights")
}

func TestMissingMFactors(t *testing.T) {
	c := part(t, 3, "Aquatic Acute 1", "Aquatic Chronic 1")
	r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(0.97)}})
	assert.Contains(t, r.String(), "no M-factor of "+c.Name+" is known for Aquatic Acute 1; 1 is taken")
	r = classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{withM(c, 10, 0), hazard.Water(0.97)}})
	assert.Equal(t, []string{"Aquatic Acute 1", "Aquatic Chronic 1"}, names(r.Classes()))
	assert.Contains(t, r.String(), "the chronic M-factor of "+c.Name+" is not known; the acute one is taken")
}

func TestUnknownForWater(t *testing.T) {
	parts := []hazard.Component{withM(part(t, 30, "Aquatic Acute 1"), 1, 1), hazard.Unknown(0.2), hazard.Water(0.5)}
	assert.Contains(t, classify(t, hazard.EU, hazard.Mixture{Components: parts}).String(), "the mixture contains 20 % of components with unknown hazards to the aquatic environment")
	assert.Contains(t, classify(t, hazard.US, hazard.Mixture{Components: parts}).String(), "hazards to water are no part of the US rule")
}

func TestASubstanceInWater(t *testing.T) {
	dose := func(text string) hazard.Dose {
		if text == "" {
			return hazard.Dose{}
		}
		d, err := hazard.ParseDose(hazard.Vapour, text)
		assert.NoError(t, err)
		return d
	}
	type answer struct {
		acute, chronic   string
		mAcute, mChronic float64
	}
	for _, c := range []struct {
		acute, chronic string
		rapid          bool
		logKow         float64
		want           answer
	}{
		{"1 mg/L", "0.1 mg/L", false, 0, answer{"Aquatic Acute 1", "Aquatic Chronic 1", 1, 1}},
		{"1.01 mg/L", "0.101 mg/L", false, 0, answer{"", "Aquatic Chronic 2", 0, 0}},
		{"", "1 mg/L", false, 0, answer{"", "Aquatic Chronic 2", 0, 0}},
		{"", "1.01 mg/L", false, 0, answer{}},
		{"", "0.01 mg/L", true, 0, answer{"", "Aquatic Chronic 1", 0, 1}},
		{"", "0.1 mg/L", true, 0, answer{"", "Aquatic Chronic 2", 0, 0}},
		{"", "1 mg/L", true, 0, answer{"", "Aquatic Chronic 3", 0, 0}},
		{"0.1 mg/L", "0.01 mg/L", false, 0, answer{"Aquatic Acute 1", "Aquatic Chronic 1", 10, 10}},
		{"0.101 mg/L", "0.0101 mg/L", false, 0, answer{"Aquatic Acute 1", "Aquatic Chronic 1", 1, 1}},
		{"0.001 mg/L", "0.001 mg/L", true, 0, answer{"Aquatic Acute 1", "Aquatic Chronic 1", 1000, 10}},
		{"0.0005 mg/L", "", false, 0, answer{"Aquatic Acute 1", "Aquatic Chronic 1", 1000, 1000}},
		{"10 mg/L", "", false, 0, answer{"", "Aquatic Chronic 2", 0, 0}},
		{"100 mg/L", "", false, 0, answer{"", "Aquatic Chronic 3", 0, 0}},
		{"10 mg/L", "", true, 3.9, answer{}},
		{"10 mg/L", "", true, 4, answer{"", "Aquatic Chronic 2", 0, 0}},
		{">1 mg/L", "", true, 0, answer{}},
		{"", "", false, 0, answer{}},
	} {
		a := hazard.Aquatic{Acute: dose(c.acute), Chronic: dose(c.chronic), RapidlyDegrades: c.rapid}
		if c.logKow > 0 {
			a.LogKow = ph(c.logKow)
		}
		r := a.Solve()
		var got answer
		if r.Acute.Known() {
			got.acute = r.Acute.Is()
		}
		if r.Chronic.Known() {
			got.chronic = r.Chronic.Is()
		}
		if r.MAcute.Known() {
			got.mAcute = r.MAcute.Is()
		}
		if r.MChronic.Known() {
			got.mChronic = r.MChronic.Is()
		}
		assert.Equal(t, c.want, got, "acute %q chronic %q rapid %v", c.acute, c.chronic, c.rapid)
	}
}

func TestWhatBuildsUp(t *testing.T) {
	acute, err := hazard.ParseDose(hazard.Vapour, "10 mg/L")
	assert.NoError(t, err)
	for bcf, chronic := range map[float64]bool{499: false, 500: true} {
		a := hazard.Aquatic{Acute: acute, RapidlyDegrades: true, BCF: ph(bcf), LogKow: ph(6)}
		assert.Equal(t, chronic, a.Solve().Chronic.Known(), "BCF %g counts before log Kow", bcf)
	}
}
