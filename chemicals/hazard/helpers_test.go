package hazard_test

import (
	"strconv"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// part is an ingredient of known classes, in % w/w.
func part(t require.TestingT, percent float64, classes ...string) hazard.Component {
	c := hazard.Component{Name: "ingredient", Low: percent / 100, High: percent / 100, Classified: true}
	for _, text := range classes {
		found, err := hazard.ParseClass(text)
		require.NoError(t, err)
		for _, class := range found {
			c.Classes = append(c.Classes, hazard.Known{Class: class})
			c.Name += " " + class.String()
		}
	}
	return c
}

func limited(t require.TestingT, c hazard.Component, limits ...string) hazard.Component {
	for _, text := range limits {
		found, err := hazard.ParseLimit(text)
		require.NoError(t, err)
		c.Limits = append(c.Limits, found...)
	}
	return c
}

func dosed(t require.TestingT, percent float64, route hazard.Route, text string) hazard.Component {
	d, err := hazard.ParseDose(route, text)
	require.NoError(t, err)
	return hazard.Component{Name: "poison " + text, Low: percent / 100, High: percent / 100, Doses: map[hazard.Route]hazard.Dose{route: d}}
}

func ph(v float64) working.Estimate[float64] {
	return working.Given(source.Value[float64]{Is: v}, strconv.FormatFloat(v, 'g', -1, 64))
}

func classify(t require.TestingT, r hazard.Regime, m hazard.Mixture) hazard.Result {
	result, err := m.Classify(r)
	require.NoError(t, err)
	return result
}

func names(classes []hazard.Class) []string {
	all := make([]string, len(classes))
	for i, c := range classes {
		all[i] = c.String()
	}
	return all
}

// found are the classes of a mixture that is water for the rest.
func found(t require.TestingT, r hazard.Regime, parts ...hazard.Component) []string {
	all := append([]hazard.Component{}, parts...)
	return names(classify(t, r, hazard.Mixture{Components: append(all, hazard.Water(hazard.Remainder(parts)))}).Classes())
}

func published(t require.TestingT, id string, percent float64) hazard.Component {
	set, err := reference.Tables()
	require.NoError(t, err)
	s, ok := set.Substance(id)
	require.True(t, ok, id)
	return hazard.FromSubstance(s, percent/100, percent/100)
}
