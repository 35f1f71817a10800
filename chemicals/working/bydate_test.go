package working_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

func readMass(text string) (quantity.Mass, string, error) {
	var s quantity.Stated[quantity.Mass]
	err := s.UnmarshalText([]byte(text))
	return s.Is(), s.String(), err
}

// datedTrial gives back what it read, as words: "2026-03-01 2 kg".
var datedTrial = working.Method{
	Name: "trial.dated",
	Inputs: []working.Param{
		{Name: "limit", Example: "2 kg", Optional: true, Fields: []working.Param{{Name: "from", Example: "2026-01-01", Optional: true}, {Name: "is", Example: "2 kg"}}},
		{Name: "results", Example: "2 kg; 3 kg", Optional: true, Fields: []working.Param{{Name: "date", Example: "2026-01-01"}, {Name: "result", Example: "2 kg"}}},
		{Name: "acid", Example: "2 kg", Optional: true},
		{Name: "one", Example: "2 kg", Optional: true},
	},
	Outputs: []working.Result{{Name: "limit"}, {Name: "results"}, {Name: "acid"}, {Name: "one", Optional: true}},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		var acids []string
		for _, p := range working.PairsOr[quantity.Mass](in, "acid", "sulfuric acid") {
			acids = append(acids, p.Name+" "+p.Value.Text())
		}
		out := working.Outputs{
			{Name: "limit", Value: words(working.ByDate(in, "limit", readMass))},
			{Name: "results", Value: words(working.DatedList(in, "results", readMass))},
			{Name: "acid", Value: working.Word(plain(strings.Join(acids, ", ")))},
			{Name: "one", Value: working.Figure(working.Read(in, "one", readMass), "kg", "kg")},
		}
		return out, in.Err()
	},
}

func words(all []working.Dated[quantity.Mass]) working.Value {
	var texts []string
	for _, d := range all {
		day := ""
		if !d.Day.IsZero() {
			day = d.Day.Format(time.DateOnly) + " "
		}
		texts = append(texts, day+d.Value.Text())
	}
	return working.Word(plain(strings.Join(texts, ", ")))
}

func plain(text string) working.Estimate[string] {
	return working.Given(source.Value[string]{Is: text}, text)
}

func TestDated(t *testing.T) {
	for argument, want := range map[string]string{
		"limit=2 kg": "2 kg",
		"limit=[{from: 2026-03-01, is: 2 kg}, {is: 4 lb}, {from: 2026-01-01, is: 3kg}]": "4 lb, 2026-01-01 3 kg, 2026-03-01 2 kg",
		"limit=2026-03-01 2 kg; 2025-12-31 3 kg":                                        "2025-12-31 3 kg, 2026-03-01 2 kg",
		"results=2026-03-01 2 kg; 2025-12-31 3 kg; 4 kg":                                "2026-03-01 2 kg, 2025-12-31 3 kg, 4 kg",
		"results=[2 kg, {date: 2026-03-01, result: 2 kg}, 2 kg]":                        "2 kg, 2026-03-01 2 kg, 2 kg",
		"acid=2 kg":                           "sulfuric acid 2 kg",
		"acid={HCl: 2 kg, nitric acid: 1 lb}": "HCl 2 kg, nitric acid 1 lb",
		"one=1.0 t":                           "1000 kg",
	} {
		out, err := run(t, datedTrial, argument)
		require.NoError(t, err, argument)
		name, _, _ := strings.Cut(argument, "=")
		v, _ := out.Output(name)
		assert.Equal(t, want, v.Text(quantity.Metric), argument)
	}
}

func TestDatedFaults(t *testing.T) {
	for argument, want := range map[string][]string{
		"limit=2 L":                  {`limit 1: "2 L" is a volume; wanted is a mass | write it as "25 kg"`},
		"limit=2026-02-29 2 kg":      {`limit 1: "2026-02-29" is not a day | write year, month and day: 2026-03-31`},
		"limit=2026-03-01":           {`limit 1: "2026-03-01" is a day without a value | write the value behind it: "2026-03-01 2 kg"`},
		"limit={from: 2026-03-01}":   {`limit: it takes a list, not named values | give limit="2 kg"`},
		"limit=[2 kg, 3 kg]":         {`limit: two values hold from the same day | give each the first day on which it holds; one of them may be without a day, for all time before`},
		"limit=[{from: 2026-03-01}]": {`limit 1, is: it is not given | give is="2 kg"`},
		"results=[[2 kg]]":           {`results 1: it is not one value | write a value`},
		"results=[{date: March, result: 2 kg, by: shop}]": {
			`results 1, date: "March" is not a day | write year, month and day: 2026-03-31`,
			`results 1, by: "by" is not an input | known here: date, result`,
		},
		"results=":    {`results: it has no value | give results="2 kg; 3 kg", or leave it out`},
		"acid=2":      {`acid: "2" has no unit | write it as "25 kg"`},
		"acid=[2 kg]": {`acid: it takes named values, not a list | give acid="2 kg"`},
		"one=2 L":     {`one: "2 L" is a volume; wanted is a mass | write it as "25 kg"`},
	} {
		_, err := run(t, datedTrial, argument)
		assert.Equal(t, want, messages(err), argument)
	}
}
