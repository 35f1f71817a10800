package working_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// echo gives its inputs back.
var echo = working.Method{
	Name:    "echo",
	Inputs:  []working.Param{{Name: "mass", Optional: true}, {Name: "share", Optional: true}, {Name: "number", Optional: true}, {Name: "word", Optional: true}, {Name: "yes", Optional: true}, {Name: "masses", Optional: true}},
	Outputs: []working.Result{{Name: "mass", Optional: true}, {Name: "share", Optional: true}, {Name: "number", Optional: true}, {Name: "word", Optional: true}, {Name: "yes", Optional: true}, {Name: "masses"}},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		return working.Outputs{
			{Name: "mass", Value: working.Figure(working.Quantity[quantity.Mass](in, "mass"), "", "")},
			{Name: "share", Value: working.Number(in.Share("share"), "%")},
			{Name: "number", Value: working.Number(in.Number("number"), "")},
			{Name: "word", Value: working.Word(in.Word("word"))},
			{Name: "yes", Value: working.YesNo(in.YesNo("yes"))},
			{Name: "masses", Value: eachFigure(working.Quantities[quantity.Mass](in, "masses"))},
		}, in.Err()
	},
}

func check(t require.TestingT, input, expect string) working.Check {
	text := "method: echo\ninputs: {" + input + "}\nexpect: {" + expect + "}\n"
	all, err := working.ReadExamples(strings.NewReader(text), "case.yaml")
	require.NoError(t, err, text)
	_, checks, err := all[0].Run([]working.Method{echo})
	require.NoError(t, err, text)
	require.Len(t, checks, 1)
	return checks[0]
}

func TestPublishedAnswersAreMetAtTheirDigits(t *testing.T) {
	for _, c := range []struct {
		input, expect, got string
		holds              bool
	}{
		{"mass: 21.8645 g", "mass: {is: 21.86 g, digits: 4}", "21.8645 g", true},
		{"mass: 21.8645 g", "mass: {is: 21.87 g, digits: 4}", "21.8645 g", false},
		{"mass: 21.865 g", "mass: {is: 21.87 g, digits: 4}", "21.8650 g", true}, // halves away from zero
		{"mass: 4787.16 g", "mass: {is: 4.8 kg, digits: 2}", "4.787 kg", true},
		{"mass: 4787.16 g", "mass: {is: 4800 g, digits: 2}", "4787 g", true},
		{"mass: 4787.16 g", "mass: {is: 4800 g}", "4787.16 g", false}, // as printed: four digits
		{"mass: 9.996 g", "mass: {is: 10.0 g}", "9.9960 g", true},
		{"mass: 1 lb", "mass: {is: 453.59 g}", "453.5924 g", true},
		{"mass: 1 g", "mass: {is: 1 L}", "0.001000 kg", false},
		{"mass: 1 g", "mass: {is: heavy}", "0.001000 kg", false},
		{"mass: 1 g", "mass: [1 g]", "0.001000 kg", false},
		{"mass: 100.4 g", `mass: {is: 100 g, within: "0.5 %"}`, "100.40 g", true},
		{"mass: 100.6 g", `mass: {is: 100 g, within: "0.5 %"}`, "100.60 g", false},
		{"mass: 100.01 g", "mass: {is: 100 g, within: 0.01 g}", "100.01 g", true},
		{"mass: 100.02 g", "mass: {is: 100 g, within: 0.01 g}", "100.02 g", false},
		{"mass: 0.004 g", "mass: {is: 0.00 g}", "0.004000 g", true},
		{"mass: 0.005 g", "mass: {is: 0.00 g}", "0.005000 g", false},
		{"mass: 0 g", "mass: {is: 0 g, digits: 3}", "0 g", true},
		{"share: 66.67 %", "share: {is: 66.7 %, digits: 3}", "66.670 %", true},
		{"number: -1.234e-3", "number: {is: -0.00123, digits: 3}", "-0.0012340", true},
		{"number: 1.5e-9", "number: {is: 1.5e-9}", "1.500e-09", true},
		{"number: 12", "number: 12", "12.00", true},
		{"number: 12", "number: twelve", "12.00", false},
		{"number: 12", "number: {is: 12 g}", "12.00", false},
		{"word: Skin Corr. 1B", "word: Skin Corr. 1B", "Skin Corr. 1B", true},
		{"word: Skin Corr. 1B", "word: {is: Skin Corr. 1}", "Skin Corr. 1B", false},
		{"word: 010", "word: 10", "010", false},
		{"yes: yes", "yes: true", "yes", true},
		{"yes: yes", "yes: no", "yes", false},
		{"yes: no", "yes: maybe", "no", false},
		{"masses: 1 g; 2 g", "masses: {is: [1 g, 0.002 kg], digits: 1}", "1.000 g; 0.002000 kg", true},
		{"masses: 1 g; 2 g", "masses: [1 g]", "1.000 g; 0.002000 kg", false},
		{"masses: 1 g", "masses: [1 g, 2 g]", "1.000 g", false},
	} {
		got := check(t, c.input, c.expect)
		assert.Equal(t, c.holds, got.Holds, "%s, %s", c.input, c.expect)
		assert.Equal(t, c.got, got.Got, "%s, %s", c.input, c.expect)
	}
}

func TestAnAnswerWithoutItsUnitCannotBeCompared(t *testing.T) {
	for _, c := range []struct{ input, expect, want string }{
		{"mass: 21 g", "mass: {is: 21, digits: 2}", `case.yaml line 3: mass is expected to be "21", which has no unit | write its unit behind it; the output is "0.02100 kg"`},
		{"mass: 21 g", "mass: 0.021", `case.yaml line 3: mass is expected to be "0.021", which has no unit | write its unit behind it; the output is "0.02100 kg"`},
		{"share: 66.67 %", "share: {is: 0.667, digits: 3}", `case.yaml line 3: share is expected to be "0.667", which has no unit | write its unit behind it; the output is "66.67 %"`},
		{"masses: 1 g; 2 g", "masses: [1 g, 2]", `case.yaml line 3: masses is expected to be "2", which has no unit | write its unit behind it; the output is "0.002000 kg"`},
		{"mass: 13.81 g", "mass: {is: 14.3 g, digits: 3, disputed: {why: it was copied wrong, ours: 13.8}}", `case.yaml line 3: mass is expected to be "13.8", which has no unit | write its unit behind it; the output is "0.01381 kg"`},
	} {
		text := "method: echo\ninputs: {" + c.input + "}\nexpect: {" + c.expect + "}\n"
		all, err := working.ReadExamples(strings.NewReader(text), "case.yaml")
		require.NoError(t, err, text)
		_, _, err = all[0].Run([]working.Method{echo})
		assert.Equal(t, []string{c.want}, messages(err))
	}
	all, err := working.ReadExamples(strings.NewReader("method: echo\ninputs: {mass: 1 g, share: 5 %, number: 12}\nexpect: {mass: 1, weight: 1 g, share: 5, number: 12}\n"), "case.yaml")
	require.NoError(t, err)
	_, _, err = all[0].Run([]working.Method{echo})
	assert.Len(t, messages(err), 3, "all at once, and a bare number is one: %v", err)
}

func TestADisputedAnswerIsPinned(t *testing.T) {
	const disputed = "mass: {is: 14.3 g, digits: 3, disputed: {why: the table was copied wrong, ours: 13.8 g}}"
	got := check(t, "mass: 13.81 g", disputed)
	assert.Equal(t, working.Check{Name: "mass", Got: "13.810 g", Want: "14.3 g", Holds: true, Disputed: "the table was copied wrong", Ours: "13.8 g"}, got)
	assert.False(t, check(t, "mass: 14.3 g", disputed).Holds, "the published answer is met, so nothing is in dispute")
	assert.False(t, check(t, "mass: 13.9 g", disputed).Holds, "our own answer has moved")
}

func TestAbsentOutputsMeetNothing(t *testing.T) {
	got := check(t, "word: a", "mass: {is: 0 g}")
	assert.False(t, got.Holds)
	assert.Equal(t, "no value: mass is not given", got.Got)
}

// A figure printed at some digits, as any source would print it, is met at
// those digits, and one that differs by a unit of the last digit is not.
func TestWhatIsPrintedIsMet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1e-4, 1e6).Draw(t, "v")
		digits := rapid.IntRange(1, 9).Draw(t, "digits")
		text := strconv.FormatFloat(v, 'g', 15, 64)
		short, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		printed := strconv.FormatFloat(short, 'e', digits-1, 64)
		input := "number: " + text
		got := check(t, input, fmt.Sprintf("number: {is: %s, digits: %d}", printed, digits))
		// strconv rounds halves of the binary expansion, we those of the decimal.
		if !strings.HasSuffix(strings.TrimRight(text, "0"), "5") {
			require.True(t, got.Holds, "%s as %s at %d digits", text, printed, digits)
		}
		off, err := strconv.ParseFloat(printed, 64)
		require.NoError(t, err)
		_, exponent, _ := strings.Cut(printed, "e")
		step, err := strconv.ParseFloat("2e"+exponent, 64)
		require.NoError(t, err)
		for range digits - 1 {
			step /= 10
		}
		far := strconv.FormatFloat(off+step, 'e', digits-1, 64)
		require.False(t, check(t, input, fmt.Sprintf("number: {is: %s, digits: %d}", far, digits)).Holds, "%s as %s at %d digits", text, far, digits)
	})
}
