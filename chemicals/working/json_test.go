package working_test

import (
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
)

// everyForm is one output of each form.
func everyForm() working.Outputs {
	number := func(v float64) working.Estimate[float64] {
		return working.Given(source.Value[float64]{Is: v}, "")
	}
	litres := func(v float64) working.Estimate[quantity.Volume] { return volume(v, "") }
	third := working.Compute(working.Formula{Line: "x = 1 / 3"}, func(working.Case) float64 { return 1. / 3 }).WithCaveats("below <10 %> & rough")
	return working.Outputs{
		{Name: "ratio", Value: working.Number(third, "")},
		{Name: "water", Value: working.Figure(litres(3.785411784), "", "")},
		{Name: "between", Value: working.Figure(litres(2).Between(1, 4, ""), "mL", "gal")},
		{Name: "share", Value: working.Number(number(0.125), "%")},
		{Name: "tiny", Value: working.Number(number(math.SmallestNonzeroFloat64), "")},
		{Name: "category", Value: working.Word(working.Given(source.Value[string]{Is: "a \"b\" <c>"}, ""))},
		{Name: "reportable", Value: working.YesNo(working.Given(source.Value[bool]{Is: true}, ""))},
		{Name: "stages", Value: working.List(working.Figure(litres(1), "", ""), working.Number(working.Absent[float64]("not measured"), ""))},
		{Name: "none", Value: working.List()},
		{Name: "amounts", Value: working.Named(working.Outputs{
			{Name: "z", Value: working.Number(number(1).WithCaveats("below <10 %> & rough", "by eye"), "kg")},
			{Name: "a", Value: working.Count(working.Given(source.Value[int]{Is: 3}, ""))},
		})},
		{Name: "thickness", Value: working.Figure(working.Absent[quantity.Length]("area is not given"), "", "")},
	}
}

func TestJSON(t *testing.T) {
	for name, units := range map[string]quantity.System{"outputs.json": quantity.Metric, "outputs-us.json": quantity.US} {
		got, err := working.Method{Name: "trial.json"}.JSON(everyForm(), units)
		require.NoError(t, err)
		again, err := working.Method{Name: "trial.json"}.JSON(everyForm(), units)
		require.NoError(t, err)
		assert.Equal(t, string(got), string(again))
		file := filepath.Join("testdata", name)
		workingtest.Golden(t, file, got)
	}
}

func TestNoCaveatIsAnEmptyList(t *testing.T) {
	got, err := working.Method{Name: "trial"}.JSON(nil, quantity.Metric)
	require.NoError(t, err)
	assert.JSONEq(t, `{"method": "trial", "outputs": {}, "caveats": []}`, string(got))
}

func TestOutputsPrint(t *testing.T) {
	want := map[string]string{
		"ratio": "0.3333", "water": "1.000 gal", "between": "0.5283 gal (low 0.2642 gal, high 1.057 gal)", "share": "12.50 %",
		"tiny": "4.941e-324", "category": `a "b" <c>`, "reportable": "yes", "stages": "0.2642 gal; ", "none": "", "amounts": "z: 1.000 kg; a: 3.000", "thickness": "",
	}
	out := everyForm()
	for _, o := range out {
		assert.Equal(t, want[o.Name], o.Value.Text(quantity.US), o.Name)
	}
	assert.Equal(t, []working.Caveat{"below <10 %> & rough", "by eye"}, out.Caveats())
	require.Len(t, out.Steps(), 1)
	thickness, ok := out.Output("thickness")
	assert.True(t, ok && !thickness.Known())
	assert.Equal(t, "area is not given", thickness.Why())
}
