package rinsewater_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/reports/doc"
)

func TestResultsStandBesideTheirLimits(t *testing.T) {
	d := build(t, shopOf(t, "2026-03-31", brook), quantity.Metric)
	page := table(t, d, "limits_and_results_1")
	for _, c := range []struct{ pollutant, limit, latest, on, highest string }{
		{"Ni", "2.5", "2.70", "2026-03-03", "2.70"},
		{"Zn", "1.4", "<0.05", "2026-02-28", "<0.05"}, // the average of February
		{"pH", "6.0", "8.7", "2026-02-02", "8.7"},
		{"TTO", "4.57", "none", "", ""},
	} {
		assert.Equal(t, c.limit, cell(t, page, "limit", c.pollutant).String(), c.pollutant)
		assert.Equal(t, c.latest, cell(t, page, "latest", c.pollutant).String(), c.pollutant)
		assert.Equal(t, c.on, cell(t, page, "on", c.pollutant).String(), c.pollutant)
		assert.Equal(t, c.highest, cell(t, page, "highest", c.pollutant).String(), c.pollutant)
	}
	assert.Equal(t, doc.Over, cell(t, page, "highest", "Ni").(doc.Number).Emphasis, "2.70 is over the limit of its day")
	assert.Equal(t, doc.Over, page.Rows[row(t, page, "Ni")][0].(doc.Text).Emphasis, "its notice is overdue")
	// 1.20 mg/L in 4320 L is 5.184 g; the third sample bears no flow.
	assert.InDelta(t, 5.184, cell(t, page, "highest", "Ni, g/day").(doc.Number).Is, 1e-9)
	assert.Equal(t, "", cell(t, page, "low", "pH").String(), "a pH is not estimated")
}

func row(t *testing.T, in doc.Table, first string) int {
	t.Helper()
	for i, r := range in.Rows {
		if r[0].String() == first {
			return i
		}
	}
	require.Fail(t, "no row "+first)
	return -1
}

// A sample in which nothing was found says nothing of the ratio.
func TestTheRatioIsThatOfWhatWasFound(t *testing.T) {
	rows := brook + "sample 2026-03-03 | sample=S4 | point=out | pollutant=Cu | result=<0.01 mg/L | reporting limit=0.01 mg/L | type=composite\n" +
		"sample 2026-02-02 | sample=S5 | point=out | pollutant=Cu | result=0.20 mg/L | type=composite\n"
	d := build(t, shopOf(t, "2026-03-31", rows), quantity.Metric)
	versus := table(t, d, "samples_and_estimate_1")
	estimate := cell(t, versus, "estimate", "Cu", "2026-02-02").(doc.Number)
	ratio := cell(t, table(t, d, "limits_and_results_1"), "ratio", "Cu").(doc.Number)
	assert.InEpsilon(t, 0.20/estimate.Is, ratio.Is, 1e-12)
	assert.True(t, ratio.Live)
	assert.True(t, cell(t, versus, "ratio", "Cu", "2026-03-03").(doc.Number).Below)
}

func TestWhatWasNotSampledIsNamed(t *testing.T) {
	due := table(t, build(t, shopOf(t, "2026-03-31", brook), quantity.Metric), "sampling_due")
	require.Len(t, due.Rows, 1)
	assert.Equal(t, "1", cell(t, due, "missed", "Ni").String(), "January")
	assert.Equal(t, "2026-01", cell(t, due, "which", "Ni").String())
	assert.Equal(t, "2", cell(t, due, "with", "Ni").String())
}

func TestTwoReadingsOfTheRulesAreBothListed(t *testing.T) {
	rows := strings.ReplaceAll(brook, " | job shop=yes", "")
	d := build(t, shopOf(t, "2026-03-31", rows), quantity.Metric)
	first, second := table(t, d, "reasons_1_1"), table(t, d, "reasons_1_2")
	assert.NotEqual(t, first.Caption, second.Caption)
	for _, caption := range []string{first.Caption, second.Caption} {
		assert.Contains(t, caption, "out, if ")
	}
	conditional := 0
	for _, r := range table(t, d, "limits_in_force").Rows {
		if strings.Contains(r[len(r)-2].String(), "binds only if") {
			conditional++
			assert.Empty(t, r[3].String(), "what binds in one reading only is not marked as the strictest")
		}
	}
	assert.Positive(t, conditional)
}
