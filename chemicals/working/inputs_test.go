package working_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// trial takes an input of every form and gives each back in an output.
var trial = working.Method{
	Name: "trial.all",
	Inputs: []working.Param{
		{Name: "area", Example: "14 m²"},
		{Name: "stages", Example: "2"},
		{Name: "efficiency", Example: "95 %", Optional: true},
		{Name: "ph", Example: "4.2", Optional: true},
		{Name: "hood", Example: "one side", Optional: true},
		{Name: "baffled", Example: "yes", Optional: true},
		{Name: "volumes", Example: "55 gal; 275 gal", Optional: true},
		{Name: "classes", Example: "small; large", Optional: true},
		{Name: "metals", Example: "{Ni: 2 kg}", Optional: true},
		{Name: "samples", Example: "[{time: 2 h, name: a}]", Optional: true, Fields: []working.Param{
			{Name: "time", Example: "2 h"}, {Name: "name", Example: "a", Optional: true},
		}},
	},
	Outputs: []working.Result{
		{Name: "area"}, {Name: "stages"}, {Name: "efficiency", Optional: true}, {Name: "ph", Optional: true},
		{Name: "hood", Optional: true}, {Name: "baffled", Optional: true}, {Name: "volumes"}, {Name: "classes"}, {Name: "metals"}, {Name: "samples"},
	},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		out := working.Outputs{
			{Name: "area", Value: working.Figure(working.Quantity[quantity.Area](in, "area"), "", "")},
			{Name: "stages", Value: working.Count(in.Count("stages"))},
			{Name: "efficiency", Value: working.Number(in.Share("efficiency"), "%")},
			{Name: "ph", Value: working.Number(in.Number("ph"), "")},
			{Name: "hood", Value: working.Word(in.Word("hood", "one side", "two sides"))},
			{Name: "baffled", Value: working.YesNo(in.YesNo("baffled"))},
			{Name: "volumes", Value: eachFigure(working.Quantities[quantity.Volume](in, "volumes"))},
		}
		var classes, samples []working.Value
		for _, c := range in.Words("classes") {
			classes = append(classes, working.Word(c))
		}
		var metals working.Outputs
		for _, p := range working.Pairs[quantity.Mass](in, "metals") {
			metals = append(metals, working.Output{Name: p.Name, Value: working.Figure(p.Value, "", "")})
		}
		for _, s := range in.Records("samples") {
			samples = append(samples, working.Named(working.Outputs{
				{Name: "time", Value: working.Figure(working.Quantity[quantity.Duration](s, "time"), "min", "min")},
				{Name: "name", Value: working.Word(s.Word("name"))},
			}))
		}
		return append(out,
			working.Output{Name: "classes", Value: working.List(classes...)},
			working.Output{Name: "metals", Value: working.Named(metals)},
			working.Output{Name: "samples", Value: working.List(samples...)}), in.Err()
	},
}

func eachFigure[Q quantity.Any](all []working.Estimate[Q]) working.Value {
	var values []working.Value
	for _, e := range all {
		values = append(values, working.Figure(e, "", ""))
	}
	return working.List(values...)
}

func run(t *testing.T, m working.Method, arguments ...string) (working.Outputs, error) {
	t.Helper()
	written, err := working.ParseArguments(arguments)
	require.NoError(t, err)
	return m.Run(written)
}

// messages prints every fault as the user sees it.
func messages(err error) []string {
	var all []string
	var walk func(error)
	walk = func(err error) {
		if several, ok := err.(interface{ Unwrap() []error }); ok {
			for _, one := range several.Unwrap() {
				walk(one)
			}
			return
		}
		if f, ok := errors.AsType[*working.Fault](err); ok {
			all = append(all, f.Error()+" | "+f.Mend)
			return
		}
		all = append(all, fmt.Sprintf("not a fault: %v", err))
	}
	if err != nil {
		walk(err)
	}
	return all
}

func outputs(t *testing.T, m working.Method, arguments ...string) map[string]any {
	t.Helper()
	out, err := run(t, m, arguments...)
	require.NoError(t, err)
	text, err := m.JSON(out, quantity.Metric)
	require.NoError(t, err)
	var all map[string]any
	require.NoError(t, json.Unmarshal(text, &all))
	return all["outputs"].(map[string]any)
}

func figure(value float64, unit string) map[string]any {
	return map[string]any{"value": value, "unit": unit}
}

func TestInputsAreReadByForm(t *testing.T) {
	got := outputs(t, trial, "area= 14 m2 ", "stages=2", "efficiency=95%", "ph=4.20", "hood=Two  sides", "baffled=no",
		"volumes=2 x 50 L; 100 L;", "classes=Skin Corr. 1B; Eye Dam. 1", "metals={Ni: 2 kg, Cu: 500 g}", "samples=[{time: 2 h, name: 010}, {time: 30 min}]")
	assert.Equal(t, map[string]any{
		"area": figure(14, "m²"), "stages": figure(2, ""), "efficiency": figure(95, "%"), "ph": figure(4.2, ""),
		"hood": "two sides", "baffled": false,
		"volumes": []any{figure(50, "L"), figure(50, "L"), figure(100, "L")},
		"classes": []any{"Skin Corr. 1B", "Eye Dam. 1"},
		"metals":  map[string]any{"Ni": figure(2, "kg"), "Cu": figure(0.5, "kg")},
		"samples": []any{
			map[string]any{"time": figure(120, "min"), "name": "010"},
			map[string]any{"time": figure(30, "min"), "name": nil},
		},
	}, got)
	assert.Equal(t, outputs(t, trial, "area=1 m²", "stages=0", "volumes=[2 × 50 L, 100 L]")["volumes"], got["volumes"], "the file form is the same list")
}

func TestEveryFaultIsToldAtOnce(t *testing.T) {
	_, err := run(t, trial, "aera=14 m²", "stages=2.5", "stages=3", "efficiency=0.95", "ph=4 m", "hood=one-side", "baffled=perhaps",
		"volumes=50 L; ; 5 kg; 0 x 5 L; 99999 x 1 L", "metals={Ni: 2 L, Ni: 1 kg, Cu: [1 kg]}", "samples=[{tiem: 2 h}, 3 h]", "classes={a: b}")
	assert.Equal(t, []string{
		`area: it is not given | give area="14 m²"`,
		`stages: "2.5" is not a whole number from zero up | write it in digits, without a unit: "2"`,
		`efficiency: "0.95" does not say that it is a share | write the share in percent; 0.95 of the whole is "95 %"`,
		`ph: "4 m" is not a bare number | write it without a unit, with a decimal point: "1.5"`,
		`hood: "one-side" is not a word known here | did you mean "one side"?`,
		`baffled: "perhaps" is neither yes nor no | write yes or no`,
		`volumes 2: it is not one value | write a value`,
		`volumes 3: "5 kg" is a mass; wanted is a volume | write it as "120 L"`,
		`volumes 4: it counts 0 entries | count from 1 to 10000`,
		`volumes 5: it counts 99999 entries | count from 1 to 10000`,
		`classes: it takes a list, not named values | give classes="small; large"`,
		`metals Ni: "2 L" is a volume; wanted is a mass | write it as "25 kg"`,
		`metals Ni: it is given twice | give it once`,
		`metals Cu: it is not one value | write a value`,
		`samples 1, time: it is not given | give time="2 h"`,
		`samples 2: it takes named values, not one value | give samples="[{time: 2 h, name: a}]"`,
		`aera: "aera" is not an input | did you mean "area"?`,
		`stages: it is given twice | give it once`,
		`samples 1, tiem: "tiem" is not an input | did you mean "time"?`,
	}, messages(err))
}

// TestAWrongNameHidesNoOtherFault: the formula is worked out in spite of it.
func TestAWrongNameHidesNoOtherFault(t *testing.T) {
	picky := working.Method{
		Name:    "picky",
		Inputs:  []working.Param{{Name: "number", Example: "2"}, {Name: "other", Example: "3", Optional: true}},
		Outputs: []working.Result{{Name: "number"}},
		Solve: func(in *working.Inputs) (working.Outputs, error) {
			n := in.Number("number")
			own := &working.Fault{Where: "number", What: "it is never right", Mend: "give up"}
			if in.Number("other"); in.Err() != nil {
				return nil, errors.Join(in.Err(), own)
			}
			return working.Outputs{{Name: "number", Value: working.Number(n, "")}}, own
		},
	}
	_, err := run(t, picky, "number=1", "numbr=2")
	assert.Equal(t, []string{"number: it is never right | give up", `numbr: "numbr" is not an input | did you mean "number"?`}, messages(err))
	_, err = run(t, picky, "number=1", "other=x")
	assert.Equal(t, []string{`other: "x" is not a bare number | write it without a unit, with a decimal point: "1.5"`, "number: it is never right | give up"}, messages(err))

	given, err := working.ParseArguments([]string{"number=[1", "numbr=2"})
	require.Len(t, messages(err), 1)
	assert.Equal(t, []string{`numbr: "numbr" is not an input | did you mean "number"?`}, messages(picky.Misnamed(given)))
}

func TestSingleFaults(t *testing.T) {
	for argument, want := range map[string]string{
		"area=":               `area: it has no value | give area="14 m²"`,
		"ph=":                 `ph: it has no value | give ph="4.2", or leave it out`,
		"area=[1 m², 2 m²]":   `area: it takes one value, not a list | give area="14 m²"`,
		"area=-1 m²":          `area: "-1 m²" is negative | an area is never below zero; write it as "14 m²"`,
		"efficiency=-5 %":     `efficiency: "-5 %" is negative | a share is never below zero; write it as "95 %"`,
		"efficiency=all":      `efficiency: "all" is not a share | write it in percent: "95 %"`,
		"efficiency=95":       `efficiency: "95" does not say that it is a share | write the share in percent: "95 %"`,
		"efficiency=95 % w/w": `efficiency: "95 % w/w" is not a share | write it in percent: "95 %"`,
		"ph=0x10":             `ph: "0x10" is not a bare number | write it without a unit, with a decimal point: "1.5"`,
		"ph=NaN":              `ph: "NaN" is not a bare number | write it without a unit, with a decimal point: "1.5"`,
		"ph=1e999":            `ph: "1e999" is not a bare number | write it without a unit, with a decimal point: "1.5"`,
		"ph=1,5":              `ph: "1,5" is not a bare number | write it without a unit, with a decimal point: "1.5"`,
		"stages=-1":           `stages: "-1" is not a whole number from zero up | write it in digits, without a unit: "2"`,
		"xyzzy=1":             `xyzzy: "xyzzy" is not an input | known here: area, stages, efficiency, ph, hood, baffled, volumes, classes, metals, samples`,
	} {
		arguments := []string{argument}
		if !strings.HasPrefix(argument, "area") {
			arguments = append(arguments, "area=1 m²")
		}
		if !strings.HasPrefix(argument, "stages") {
			arguments = append(arguments, "stages=1")
		}
		_, err := run(t, trial, arguments...)
		assert.Equal(t, []string{want}, messages(err), argument)
	}
}

func TestArguments(t *testing.T) {
	_, err := working.ParseArguments([]string{"14 m²", "=3", "volumes=[55 gal", "volumes=[a] trailing", "metals={a: *b}"})
	got := messages(err)
	require.Len(t, got, 5)
	assert.Equal(t, `"14 m²" does not name an input | write name=value, such as area="14 m²"`, got[0])
	assert.Equal(t, `"=3" does not name an input | write name=value, such as area="14 m²"`, got[1])
	for _, message := range got[2:] {
		assert.Contains(t, message, `write a list as "[55 gal, 275 gal]"`)
	}
}

func TestAFaultKeepsItsHintForWhoeverPlacesIt(t *testing.T) {
	_, err := run(t, trial, "area=14", "stages=1")
	refusal, ok := errors.AsType[*quantity.Refusal](err)
	require.True(t, ok)
	assert.Equal(t, `area: "14" has no unit`, refusal.What)
	assert.Equal(t, `write it as "14 m²"`, refusal.Mend)
}

func TestProgramMistakesPanic(t *testing.T) {
	given := working.Given(source.Value[float64]{Is: 1}, "1")
	declares := func(solve func(in *working.Inputs) (working.Outputs, error)) working.Method {
		return working.Method{Name: "trial", Outputs: []working.Result{{Name: "a"}}, Solve: solve}
	}
	for name, solve := range map[string]func(in *working.Inputs) (working.Outputs, error){
		"an input not declared": func(in *working.Inputs) (working.Outputs, error) { in.Number("a"); return nil, nil },
		"an output missing":     func(*working.Inputs) (working.Outputs, error) { return nil, nil },
		"an output misnamed": func(*working.Inputs) (working.Outputs, error) {
			return working.Outputs{{Name: "b", Value: working.Number(given, "")}}, nil
		},
		"a wanted output absent": func(*working.Inputs) (working.Outputs, error) { return working.Outputs{{Name: "a"}}, nil },
	} {
		assert.Panics(t, func() { _, _ = declares(solve).Run(working.Written{}) }, name)
	}
}

func TestNoOrdinaryNumberIsRefused(t *testing.T) {
	for _, is := range []float64{math.NaN(), math.Inf(1)} {
		for _, v := range []working.Value{
			working.Number(working.Given(source.Value[float64]{Is: is}, ""), ""),
			working.Figure(working.Given(source.Value[quantity.Mass]{Is: quantity.Mass(is)}, ""), "", ""),
			working.List(working.Named(working.Outputs{{Name: "x", Value: working.Number(working.Given(source.Value[float64]{Is: is}, ""), "")}})),
		} {
			m := working.Method{Name: "trial", Outputs: []working.Result{{Name: "a"}}, Solve: func(*working.Inputs) (working.Outputs, error) {
				return working.Outputs{{Name: "a", Value: v}}, nil
			}}
			_, err := m.Run(working.Written{})
			assert.Equal(t, []string{"trial: a comes out as no ordinary number | check the size of the inputs"}, messages(err))
		}
	}
}

func TestMethodsAreFoundByName(t *testing.T) {
	_, err := working.Find([]working.Method{trial}, "trial.al")
	assert.Equal(t, []string{`"trial.al" is not a method | did you mean "trial.all"?`}, messages(err))
	m, err := working.Find([]working.Method{trial}, "trial.all")
	require.NoError(t, err)
	assert.Equal(t, "trial.all", m.Name)
}
