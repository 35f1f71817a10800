package working_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

const twoExamples = `
id: first
title: "an example: with a colon"
method: trial.all
source: {document: a handbook, place: page 12, year: 1990, standing: handbook}
inputs:
  area: 010 m²
  stages: 2
  samples:
    - {time: 2 h, name: 010}
    - {time: 30 min, name: 1.10}
expect:
  area: {is: 10 m², digits: 2}
  samples: {is: [{time: 120 min, name: 010}, {time: 0.50 h, name: 1.10}], digits: 2}
note: >
  on two
  lines
--- # the user's own case
method: trial.all
inputs: {area: 1 m², stages: 1}
---
`

func TestExamplesAreRead(t *testing.T) {
	all, err := working.ReadExamples(strings.NewReader(twoExamples), "case.yaml")
	require.NoError(t, err)
	require.Len(t, all, 2)
	first := all[0]
	assert.Equal(t, "first", first.ID)
	assert.Equal(t, "an example: with a colon", first.Title)
	assert.Equal(t, source.Ref{Document: "a handbook", Place: "page 12", Year: 1990, Standing: source.Handbook}, first.Source)
	assert.Equal(t, "on two lines", first.Note)
	assert.Equal(t, 2, first.Line)
	assert.Equal(t, 19, all[1].Line)
	assert.Empty(t, all[1].Expect)

	_, checks, err := first.Run([]working.Method{trial})
	require.NoError(t, err)
	assert.Equal(t, []working.Check{
		{Name: "area", Got: "10.00 m²", Want: "10 m²", Holds: true},
		{Name: "samples", Got: "time: 120.0 min; name: 010; time: 0.5000 h; name: 1.10", Want: "time: 120 min; name: 010; time: 0.50 h; name: 1.10", Holds: true},
	}, checks)
}

func TestExampleInputsBearTheirSource(t *testing.T) {
	all, err := working.ReadExamples(strings.NewReader(twoExamples), "case.yaml")
	require.NoError(t, err)
	var seen []string
	probe := working.Method{
		Name: "trial.all", Inputs: trial.Inputs, Outputs: []working.Result{{Name: "stages"}},
		Solve: func(in *working.Inputs) (working.Outputs, error) {
			stages := in.Count("stages")
			step := working.Compute(working.Formula{}, func(working.Case) int { return 1 }, stages.As("n", "stages")).Steps()[0]
			seen = append(seen, step.Inputs[0].Known())
			return working.Outputs{{Name: "stages", Value: working.Count(stages)}}, in.Err()
		},
	}
	for _, x := range all {
		_, err := probe.Run(x.Inputs)
		require.NoError(t, err)
	}
	assert.Equal(t, []string{"published: a handbook, page 12, 1990, handbook", "given"}, seen)
}

func TestFaultsInFilesNameTheirLines(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"nothing":    {"# only a remark\n", []string{`case.yaml line 1: it holds no worked example | write one with method: and inputs:`}},
		"not a map":  {"- a\n", []string{`case.yaml line 1: a worked example is a list | write its parts by name: method:, inputs:`}},
		"not YAML":   {"method: a\ninputs: {b: c\n", []string{`case.yaml near line 1: did not find expected ',' or '}' | write it as YAML: name: value, lists with - or in [ ]`}},
		"no parts":   {"id: a\n", []string{`case.yaml line 1: method is missing | write method: followed by words`, `case.yaml line 1: inputs is missing | write inputs: and below it name: value`}},
		"many":       {"metod: a\nmethod: [b]\ninputs: c\nnote:\nid: x\nid: y\nexpect: z\n", []string{`case.yaml line 1: "metod" is not a part of a worked example | did you mean "method"?`, `case.yaml line 6: "id" stands twice | keep one of them`, `case.yaml line 4: note is not a text | write note: followed by words`, `case.yaml line 2: method is not a text | write method: followed by words`, `case.yaml line 3: inputs is one value | write name: value, one a line, below inputs:`, `case.yaml line 7: expect is one value | write name: value, one a line, below expect:`}},
		"alias":      {"method: &a b\ninputs: {c: *a}\n", []string{`case.yaml line 1: it has an anchor or points to one | write the value out`, `case.yaml line 2: it has an anchor or points to one | write the value out`, `case.yaml line 1: method is not a text | write method: followed by words`}},
		"tag":        {"method: a\ninputs: {b: !!int 3}\n", []string{`case.yaml line 2: it has the tag "!!int" | leave the tag out; values are read as text`}},
		"depth":      {"method: a\ninputs: {b: [[[[[[[[[[[[1]]]]]]]]]]]]}\n", []string{`case.yaml line 2: it is nested too deeply | worked examples need few levels`}},
		"name":       {"method: a\ninputs: {[b]: c}\n", []string{`case.yaml line 2: a name is not plain text | write name: value`}},
		"source":     {"method: a\ninputs: {}\nsource: a book\n", []string{`case.yaml line 3: a source is one value | write source: {document: ..., place: ..., year: ..., standing: ...}`}},
		"year":       {"method: a\ninputs: {}\nsource:\n  document: b\n  year: '91'\n  standing: hearsay\n", []string{`case.yaml line 5: the year is "91" | write the year of the edition in four digits, or leave it out`, `case.yaml line 6: standing "hearsay" is not one of: law in force; historical law; guidance; handbook; paper; shop's own record; common practice, no source; from memory | write one of them`}},
		"no answer":  {"method: a\ninputs: {}\nexpect: {x: {digits: 3}}\n", []string{`case.yaml line 3: x does not say what is expected | write x: {is: ..., digits: ...}`, `case.yaml line 3: x is expected to be nothing | write the published answer`}},
		"digits":     {"method: a\ninputs: {}\nexpect:\n  x: {is: 1, digits: 0}\n  y: {is: 1, digits: 3, within: 1 %}\n", []string{`case.yaml line 4: digits is "0" | write how many significant digits count, from 1 to 15`, `case.yaml line 5: both digits and within are given | keep one of them`}},
		"within":     {"method: a\ninputs: {}\nexpect:\n  x: {is: 1 g, within: little}\n  y: {is: 1 g, within: 1 mg}\n  z: {is: [1 g, 2 kg], within: 1 g}\n", []string{`case.yaml line 4: within is "little" | write a share of the answer, "0.5 %", or a difference, "0.01 g/L"`, `case.yaml line 5: within is not in the unit of the answer | write a share of the answer, "0.5 %", or a difference in its own unit`, `case.yaml line 6: within is not in the unit of the answer | write a share of the answer, "0.5 %", or a difference in its own unit`}},
		"disputed":   {"method: a\ninputs: {}\nexpect:\n  x: {is: 1, disputed: wrong}\n  y: {is: 1, disputed: {because: wrong}}\n", []string{`case.yaml line 4: disputed is one value | write disputed: {why: ..., ours: ...}`, `case.yaml line 5: "because" is not a part of disputed | known here: why, ours`, `case.yaml line 5: why is missing | write why: followed by words`, `case.yaml line 5: ours is missing | write the result that stands instead, so that the difference is pinned`}},
		"two faults": {"method: a\n---\ninputs: {}\n", []string{`case.yaml line 1: inputs is missing | write inputs: and below it name: value`, `case.yaml line 3: method is missing | write method: followed by words`}},
		"too long":   {strings.Repeat("# remark\n", 1<<17), []string{`case.yaml: it is too long for a file of worked examples | give at most 1 MiB`}},
	} {
		_, err := working.ReadExamples(strings.NewReader(c.text), "case.yaml")
		assert.Equal(t, c.want, messages(err), name)
	}
}

func TestFaultsOfARunNameTheirLines(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"method":  {"method: trial.none\ninputs: {}\n", `case.yaml line 1: "trial.none" is not a method | did you mean "trial.all"?`},
		"missing": {"method: trial.all\ninputs:\n  area: 1 m²\n", `case.yaml line 3, stages: it is not given | give stages="2"`},
		"unit":    {"method: trial.all\ninputs:\n  stages: 1\n  area: 1 m\n", `case.yaml line 4, area: "1 m" is a length; wanted is an area | write it as "14 m²"`},
		"nested":  {"method: trial.all\ninputs:\n  area: 1 m²\n  stages: 1\n  samples:\n    - time: 1 h\n    - time: 1\n", `case.yaml line 7, samples 2, time: "1" has no unit | write it as "8 h"`},
		"output":  {"method: trial.all\ninputs: {area: 1 m², stages: 1}\nexpect:\n  stage: 1\n", `case.yaml line 4: "stage" is not an output of trial.all | did you mean "stages"?`},
	} {
		all, err := working.ReadExamples(strings.NewReader(c.text), "case.yaml")
		require.NoError(t, err, name)
		_, _, err = all[0].Run([]working.Method{trial})
		assert.Equal(t, []string{c.want}, messages(err), name)
	}
}

// Whatever the text, reading neither panics nor hides where a fault is, and
// what is read runs or is refused.
func FuzzReadExamples(f *testing.F) {
	f.Add(twoExamples)
	f.Add("method: a\ninputs: {b: [1, {c: d}]}\nexpect: {x: {is: 1 g, within: 1 g, disputed: {why: a, ours: 2 g}}}\n")
	f.Add("method: trial.all\ninputs: {area: 1e3 m², stages: 010}\nexpect: {stages: {is: 1e-30, digits: 15}}")
	f.Add("a: &a [*a]\n--- !!x\n? [b]\n: |\n  c\n...\n%YAML 1.1\n")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := working.ReadExamples(strings.NewReader(text), "case.yaml")
		if err != nil {
			require.Empty(t, all)
			for _, message := range messages(err) {
				require.Regexp(t, `^case\.yaml(( near)? line \d+)?: (?s:.+ \| .)`, message)
			}
			return
		}
		require.NotEmpty(t, all)
		for _, x := range all {
			out, checks, err := x.Run([]working.Method{trial})
			if err != nil {
				require.NotEmpty(t, messages(err))
				continue
			}
			require.Len(t, out, len(trial.Outputs))
			require.Len(t, checks, len(x.Expect))
		}
	})
}
