package discharge_test

import (
	"bathwarden/chemicals/working/workingtest"
	"fmt"
	"math/big"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

func dated(t require.TestingT, day, written string) working.Dated[discharge.Result] {
	r, err := discharge.ParseResult(written)
	require.NoError(t, err)
	one := working.Dated[discharge.Result]{Value: working.Given(source.Value[discharge.Result]{Is: r}, written)}
	if day != "" {
		one.Day, err = time.Parse(time.DateOnly, day)
		require.NoError(t, err)
	}
	return one
}

func limit(t require.TestingT, day, written string) working.Dated[discharge.Level] {
	l, err := discharge.ParseLevel(written)
	require.NoError(t, err)
	one := working.Dated[discharge.Level]{Value: working.Given(source.Value[discharge.Level]{Is: l}, written)}
	if day != "" {
		one.Day, err = time.Parse(time.DateOnly, day)
		require.NoError(t, err)
	}
	return one
}

// The counts and shares by the words of the rule, in whole micrograms.
func TestSharesByTheRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limited := rapid.IntRange(1, 5000).Draw(t, "limit")
		pollutant, tenths := "Zn", 12
		if rapid.Bool().Draw(t, "solids") {
			pollutant, tenths = "TSS", 14
		}
		n := discharge.Noncompliance{Pollutant: pollutant, Limit: []working.Dated[discharge.Level]{limit(t, "", milligramText(limited))}}
		over, technical := 0, 0
		all := rapid.SliceOfN(rapid.IntRange(0, 8000), 1, 30).Draw(t, "results")
		for i, found := range all {
			if rapid.Bool().Draw(t, "at the edge") {
				found = limited * tenths / 10
				all[i] = found
			}
			n.Results = append(n.Results, dated(t, "", milligramText(found)))
			if found > limited {
				over++
			}
			if 10*found >= tenths*limited {
				technical++
			}
		}
		r, err := n.Solve()
		require.NoError(t, err)
		assert.Equal(t, []int{len(all), over, technical, 0, 0}, []int{r.Results, r.Over, r.OverTechnical, r.Undetermined, r.UndeterminedTechnical})
		assert.InDelta(t, float64(over)/float64(len(all)), r.ChronicShare.Is(), 1e-12)
		assert.Equal(t, 100*over >= 66*len(all), r.Chronic.Is())
		assert.Equal(t, 100*technical >= 33*len(all), r.Technical.Is())
	})
}

// milligramText writes micrograms per litre as mg/L with all decimals.
func milligramText(micrograms int) string {
	return big.NewRat(int64(micrograms), 1000).FloatString(3) + " mg/L"
}

func TestTechnicalReviewLevels(t *testing.T) {
	for _, c := range []struct{ pollutant, limit, level string }{
		{"Zn", "2.61 mg/L", "3.132 mg/L"}, {"Cu", "3.38 mg/L", "4.056 mg/L"}, {"Ni", "3.98 mg/L", "4.776 mg/L"},
		{"CN total", "1.20 mg/L", "1.440 mg/L"}, {"TSS", "60 mg/L", "84.00 mg/L"}, {"BOD", "300 mg/L", "420.0 mg/L"},
	} {
		out, err := run(t, "discharge.noncompliance", "pollutant="+c.pollutant, "limit="+c.limit, "results="+c.level)
		require.NoError(t, err)
		assert.Equal(t, c.level, text(t, out, "technical_level"))
		assert.Equal(t, "yes", text(t, out, "technical"), "equal to the level is at or over it: %s", c.pollutant)
	}
	out, err := run(t, "discharge.noncompliance", "pollutant=Zn", "limit=2.61 mg/L", "results=3.13199999 mg/L; 2.61 mg/L")
	require.NoError(t, err)
	assert.Equal(t, "no", text(t, out, "technical"))
	assert.Equal(t, "50.00 %", text(t, out, "chronic_share"), "a result at the limit is not over it")
}

func TestOneOfThree(t *testing.T) {
	out, err := run(t, "discharge.noncompliance", "pollutant=Ni", "limit=3.98 mg/L", "results=4.776 mg/L; 1 mg/L; 1 mg/L")
	require.NoError(t, err)
	assert.Equal(t, "yes", text(t, out, "technical"))
	assert.Equal(t, "no", text(t, out, "chronic"))
	require.Len(t, out.Caveats(), 1)
	assert.Contains(t, out.Caveats()[0], "the authority decides")
}

func TestNonDetects(t *testing.T) {
	for _, c := range []struct {
		results, chronicShare, chronic, technicalShare, technical, undetermined string
	}{
		// Below the limit whatever it is.
		{"<0.05 mg/L; <0.11 mg/L; 0.2 mg/L", "33.33 %", "no", "33.33 %", "yes", "0"},
		// Over the limit, but not over 1.2 times it.
		{"<0.12 mg/L; 0.05 mg/L; 0.05 mg/L", "0 % (low 0 %, high 33.33 %)", "no", "0 %", "no", "1.000"},
		{"<0.2 mg/L; ND; 0.05 mg/L", "0 % (low 0 %, high 66.67 %)", "absent: it hangs on non-detects that cannot be told: no with 0 of 3, yes with 2 of 3", "0 % (low 0 %, high 66.67 %)", "absent: it hangs on non-detects that cannot be told: no with 0 of 3, yes with 2 of 3", "2.000"},
		{"0.5 mg/L; 0.5 mg/L; <9 mg/L", "66.67 % (low 66.67 %, high 100.0 %)", "yes", "66.67 % (low 66.67 %, high 100.0 %)", "yes", "1.000"},
	} {
		out, err := run(t, "discharge.noncompliance", "pollutant=Cd", "limit=0.11 mg/L", "results="+c.results)
		require.NoError(t, err)
		assert.Equal(t, []string{c.chronicShare, c.chronic, c.technicalShare, c.technical, c.undetermined},
			[]string{text(t, out, "chronic_share"), text(t, out, "chronic"), text(t, out, "technical_share"), text(t, out, "technical"), text(t, out, "undetermined")}, c.results)
	}
	out, err := run(t, "discharge.noncompliance", "pollutant=Cd", "limit=0.11 mg/L", "results=<0.2 mg/L; 0.05 mg/L")
	require.NoError(t, err)
	assert.Contains(t, out.Caveats()[0], "0 of 2 if all are within it, 1 of 2 if all are over it")
}

func TestPH(t *testing.T) {
	out, err := run(t, "discharge.noncompliance", "pollutant=pH", "limit=5.0", "results=4.9; 5.0; 7.2")
	require.NoError(t, err)
	assert.Equal(t, "33.33 %", text(t, out, "chronic_share"))
	assert.Equal(t, "absent: 40 CFR 403.8(f)(2)(viii)(B) has no factor for pH", text(t, out, "technical"))
	assert.Equal(t, "absent: 40 CFR 403.8(f)(2)(viii)(B) has no factor for pH", text(t, out, "technical_share"))
	assert.Contains(t, out.Caveats(), working.Caveat("a limit below pH 7 is taken as the least that is allowed; give rule as maximum if it is the greatest"))

	out, err = run(t, "discharge.noncompliance", "pollutant=pH", "limit=9.0", "results=9.1; 9.0; 12")
	require.NoError(t, err)
	assert.Equal(t, "66.67 %", text(t, out, "chronic_share"))
	assert.Equal(t, "yes", text(t, out, "chronic"))

	out, err = run(t, "discharge.noncompliance", "pollutant=pH", "limit=6.5", "rule=maximum", "results=6.4; 7")
	require.NoError(t, err)
	assert.Equal(t, "50.00 %", text(t, out, "chronic_share"))
}

func TestLimitsByDate(t *testing.T) {
	const results = "results=[2026-02-27 2.0 mg/L, {date: 2026-03-01, result: 2.0 mg/L}, 2026-04-01 <0.05 mg/L]"
	out, err := run(t, "discharge.noncompliance", "pollutant=Zn", "limit=[{from: 2026-03-01, is: 1.48 mg/L}, {is: 2.61 mg/L}]", results)
	require.NoError(t, err)
	assert.Equal(t, "33.33 %", text(t, out, "chronic_share"), "2.0 mg/L is over the later limit alone")
	assert.Equal(t, "33.33 %", text(t, out, "technical_share"))
	assert.Equal(t, "absent: the limit changes with its day", text(t, out, "technical_level"))

	out, err = run(t, "discharge.noncompliance", "pollutant=Zn", "limit=2026-01-01 2.61 mg/L", "results=3 mg/L; 2026-07-31 1 mg/L; 2026-01-31 1 mg/L")
	require.NoError(t, err)
	assert.Contains(t, out.Caveats(), working.Caveat("the results reach over more than six months, and the rule looks at six"))
}

// As the walk of a shop gives them: limits and results with their days.
func TestLimitsByDateInGo(t *testing.T) {
	n := discharge.Noncompliance{
		Pollutant: "Ni",
		Limit:     []working.Dated[discharge.Level]{limit(t, "2025-01-01", "3.98 mg/L"), limit(t, "2026-04-01", "2.0 mg/L")},
		Results:   []working.Dated[discharge.Result]{dated(t, "2026-03-31", "3.0 mg/L"), dated(t, "2026-04-01", "3.0 mg/L"), dated(t, "2026-05-01", "<0.1 mg/L")},
	}
	r, err := n.Solve()
	require.NoError(t, err)
	assert.Equal(t, 1, r.Over)
	assert.Equal(t, 1, r.OverTechnical)

	n.Results = append(n.Results, dated(t, "2024-12-31", "1 mg/L"), dated(t, "", "1 mg/L"), working.Dated[discharge.Result]{Value: working.Absent[discharge.Result]("the laboratory lost it")})
	_, err = n.Solve()
	assert.Equal(t, []string{
		"results: result 4: no limit holds on 2024-12-31 | give the limit that held then",
		`results: result 5: it bears no day, and the limit changes | write the day before it: "2026-03-04 3.2 mg/L"`,
		"results: result 6: the laboratory lost it | give the result, or leave it out",
	}, workingtest.Faults(err))
}

func TestBadResults(t *testing.T) {
	for _, c := range []struct {
		method    string
		arguments []string
		want      []string
	}{
		{"discharge.noncompliance", []string{"pollutant=Zn", "limit=2.61", "results=3 mg/L"}, []string{
			`limit: "2.61" has no unit | write it as "2.61 mg/L"; only a pH stands bare`,
		}},
		{"discharge.noncompliance", []string{"pollutant=pH", "limit=6 mg/L", "results=7"}, []string{
			`limit: "6 mg/L" is not a pH | write a pH as a bare number: limit="9.0"`,
		}},
		{"discharge.noncompliance", []string{"pollutant=Zn", "limit=2.61 mg/L", "results=3 lb/day; >3 mg/L"}, []string{
			`results 2: ">3 mg/L" only says that there is more | give the value that was found after dilution, or the upper end of the range`,
		}},
		{"discharge.noncompliance", []string{"pollutant=Zn", "limit=2.61 mg/L", "results=3 lb/day; 7"}, []string{
			`results: result 1: "3 lb/day" cannot be put beside the limit "2.61 mg/L" | give results and limit in units of the same kind, such as mg/L`,
			`results: result 2: "7" cannot be put beside the limit "2.61 mg/L" | give results and limit in units of the same kind, such as mg/L`,
		}},
		{"discharge.noncompliance", []string{"pollutant=Zn", "limit=2.61 mg/L", "results=[]"}, []string{`results: there is no result | give results="2.5 mg/L; <0.05 mg/L"`}},
		{"discharge.noncompliance", []string{"pollutant=Zn", "limit=[{from: 2026-01-01, is: 1 mg/L}, {from: 2026-01-01, is: 2 mg/L}]", "results=[{date: 2026-13-01, result: 1 mg/L}, 2026-02-30 1 mg/L, {day: 2026-02-01, result: <}]"}, []string{
			`limit: two values hold from the same day | give each the first day on which it holds; one of them may be without a day, for all time before`,
			`results 1, date: "2026-13-01" is not a day | write year, month and day: 2026-03-31`,
			`results 2: "2026-02-30" is not a day | write year, month and day: 2026-03-31`,
			`results 3, result: "<" says less than nothing | write the reporting limit behind it: "<0.05 mg/L"`,
			`results 3, day: "day" is not an input | did you mean "date"?`,
		}},
		{"discharge.mean", []string{"results=3 lb/day"}, []string{`results: result 1: "3 lb/day" is not a concentration | give all results in mg/L or µg/L`}},
		{"discharge.mean", []string{"results=[]", "non_detects=none"}, []string{`non_detects: "none" is not a word known here | known here: reporting limit, half, zero`}},
		{"discharge.mean", []string{"results=[]"}, []string{`results: there is no result | give results="0.31 mg/L; <0.05 mg/L"`}},
	} {
		_, err := run(t, c.method, c.arguments...)
		assert.Equal(t, c.want, workingtest.Faults(err), c.arguments)
	}
}

func TestMeanOfNonDetects(t *testing.T) {
	for treatment, want := range map[string]string{
		"":                "0.1375 mg/L (low 0.1000 mg/L, high 0.1375 mg/L)",
		"reporting limit": "0.1375 mg/L (low 0.1000 mg/L, high 0.1375 mg/L)",
		"half":            "0.1188 mg/L (low 0.1000 mg/L, high 0.1375 mg/L)",
		"zero":            "0.1000 mg/L (low 0.1000 mg/L, high 0.1375 mg/L)",
	} {
		arguments := []string{"results=0.3 mg/L; <0.1 mg/L; <50 µg/L; 0.1 mg/L"}
		said := "reporting limit"
		if treatment != "" {
			arguments, said = append(arguments, "non_detects="+treatment), treatment
		}
		out, err := run(t, "discharge.mean", arguments...)
		require.NoError(t, err)
		assert.Equal(t, want, text(t, out, "mean"), treatment)
		assert.Equal(t, []working.Caveat{working.Caveat("2 of 4 results are non-detects; counted at: " + said)}, out.Caveats())
	}
	out, err := run(t, "discharge.mean", "results=0.3 mg/L; ND")
	require.NoError(t, err)
	assert.Equal(t, "absent: a non-detect has no reporting limit", text(t, out, "mean"))
	out, err = run(t, "discharge.mean", "results=0.3 mg/L; ND", "non_detects=zero")
	require.NoError(t, err)
	assert.Equal(t, "0.1500 mg/L", text(t, out, "mean"))
}

// The three treatments lie in order, whatever the results.
func TestMeanTreatmentsAreInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var results []working.Dated[discharge.Result]
		for range rapid.IntRange(1, 20).Draw(t, "n") {
			written := fmt.Sprintf("%.3f mg/L", rapid.Float64Range(0, 100).Draw(t, "result"))
			if rapid.Bool().Draw(t, "less") {
				written = "<" + written
			}
			results = append(results, dated(t, "", written))
		}
		mean := func(as discharge.Treatment) float64 {
			r, err := discharge.Mean{Results: results, NonDetects: as}.Solve()
			require.NoError(t, err)
			return r.Mean.Is().MilligramsPerLitre()
		}
		zero, half, whole := mean(discharge.AtZero), mean(discharge.AtHalf), mean(discharge.AtReportingLimit)
		assert.LessOrEqual(t, zero, half)
		assert.LessOrEqual(t, half, whole)
		assert.InDelta(t, (zero+whole)/2, half, 1e-9)
		assert.Equal(t, whole, mean(0))
	})
}
