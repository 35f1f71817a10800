package working_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

func convertMethod(t require.TestingT) working.Method {
	m, err := working.Find(working.Methods(), "convert")
	require.NoError(t, err)
	return m
}

func TestConvertShowsItsWorking(t *testing.T) {
	m := convertMethod(t)
	out, err := run(t, m, "value=5 ppm", "to=mg/m3", "molar_mass=36.46 g/mol")
	require.NoError(t, err)
	assert.Equal(t, []working.Caveat{"no temperature is given; Vm = 24.45 L/mol at 25 °C, assumed"}, out.Caveats())
	require.Len(t, out.Steps(), 1)
	step := out.Steps()[0]
	assert.Equal(t, "7.456 mg/m3", step.Result)
	var inputs []string
	for _, in := range step.Inputs {
		inputs = append(inputs, in.Symbol+" = "+in.Value+", "+in.Known())
	}
	assert.ElementsMatch(t, []string{"value = 5 ppm, given", "M = 36.46 g/mol, given", "Vm = 24.45 L/mol at 25 °C, assumed, assumed"}, inputs)

	out, err = run(t, m, "value=5 ppm", "to=mg/m³", "molar_mass=36.46 g/mol", "temperature=25 °C")
	require.NoError(t, err)
	assert.Empty(t, out.Caveats())
}

func TestConvertRefuses(t *testing.T) {
	for _, c := range []struct {
		arguments []string
		want      string
	}{
		{[]string{"value=5"}, `to: it is not given | give to="g/L"`},
		{[]string{"value=5 g/L", "to=mol/L"}, `convert: going from a concentration in a bath to "mol/L" needs a molar mass | give molar_mass="58.69 g/mol"`},
		{[]string{"value=5 g/L", "to=m²"}, `convert: `},
		{[]string{"value=5 L", "to=m²"}, `convert: `},
		{[]string{"value=500 g/L", "to=% w/w", "density=0.4 g/mL"}, `convert: `},
		{[]string{"value=5", "to=g/L"}, `value: "5" has no unit | write it as "350 g/L"`},
		{[]string{"value=5", "to=L"}, `value: "5" has no unit | write it as "350 g/L"`},
		{[]string{"value=5 furlongs", "to=m"}, `value: "5 furlongs" has the unknown unit "furlongs" | `},
		{[]string{"value=-5 L", "to=gal"}, `value: "-5 L" is negative | `},
		{[]string{"value=5 g/L", "to=furlongs"}, `to: "furlongs" is not a known unit | `},
		{[]string{"value=1 L", "to=galon"}, `to: "galon" is not a known unit | name the unit`},
		{[]string{"value=5 furlongs", "to=galon"}, `value: "5 furlongs" has the unknown unit "furlongs" | `},
		{[]string{"value=5 g/L", "to=mol/L", "molar_mass=58.69"}, `molar_mass: "58.69" has no unit | write it as "58.69 g/mol"`},
	} {
		_, err := run(t, convertMethod(t), c.arguments...)
		got := messages(err)
		require.Len(t, got, 1, c.arguments)
		assert.Regexp(t, "^"+regexp.QuoteMeta(c.want), got[0], c.arguments)
		assert.Regexp(t, `.: .+ \| .+`, got[0], c.arguments) // the words are quantity's
	}
}

func TestConvertGoesThereAndBack(t *testing.T) {
	m := convertMethod(t)
	pairs := [][2]string{{"oz/gal", "g/L"}, {"mg/m²", "lb/10⁶ ft²"}, {"°F", "deg C"}, {"gal/min", "m³/h"}, {"A·h", "C"}}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1, 500).Draw(t, "v")
		pair := rapid.SampledFrom(pairs).Draw(t, "pair")
		there := converted(t, m, v, pair[0], pair[1])
		assert.InEpsilon(t, v, converted(t, m, there, pair[1], pair[0]), 1e-9)
	})
}

func converted(t require.TestingT, m working.Method, v float64, from, to string) float64 {
	written, err := working.ParseArguments([]string{fmt.Sprintf("value=%.17g %s", v, from), "to=" + to})
	require.NoError(t, err)
	out, err := m.Run(written)
	require.NoError(t, err)
	text, err := m.JSON(out, quantity.Metric)
	require.NoError(t, err)
	var read struct {
		Outputs map[string]struct{ Value float64 }
	}
	require.NoError(t, json.Unmarshal(text, &read))
	return read.Outputs["value"].Value
}
