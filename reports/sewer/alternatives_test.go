package sewer_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/reports/doc"
	"bathwarden/templates"
)

// strike is the line with cyanide in its bath, and a rinse elsewhere in the shop
// that bears none.
var strike = strings.Replace(line, "bath - | tank=N | ingredient=Ni | concentration=80 g/L", `bath - | tank=N | ingredient=Ni | concentration=80 g/L
bath - | tank=N | ingredient=potassium cyanide | concentration=40 g/L
tank - | tank=E | purpose=clean | working volume=300 L | line=L | position=4
tank - | tank=R3 | purpose=rinse | working volume=200 L | line=L | position=5 | drains to=T
rinse - | tank=R3 | arrangement=running | fed from=mains | flow=5 L/min
cycle - | cycle=EC | step=1 | tank=E
cycle - | cycle=EC | step=2 | tank=R3`, 1)

// By hand, for a day of 8 h: 1920 L behind the bath, 2400 L behind the cleaner
// and 480 L of the boiler: 0.4 of 4800 L. Of 1.20 mg/L that is 0.48 mg/L.
func TestLimitsOnCyanideStandBesideTheCombinedOnes(t *testing.T) {
	d, _ := build(t, strike, quantity.Metric)
	adjusted := table(t, d, "cyanide_limits")
	if assert.Len(t, adjusted.Rows, 2, "daily maximum and monthly average of 433.17") {
		row := adjusted.Rows[0]
		assert.InDelta(t, 1920, row[at(t, adjusted, "bears")].(doc.Number).Is, 1e-9)
		assert.InDelta(t, 4800, row[at(t, adjusted, "effluent")].(doc.Number).Is, 1e-9)
		assert.InDelta(t, 0.48, row[at(t, adjusted, "adjusted")].(doc.Number).Is, 1e-12)
		assert.Equal(t, "R1, R2", row[at(t, adjusted, "rinses")].String())
		assert.Equal(t, "N", row[at(t, adjusted, "baths")].String())
	}
	got := printed(t, d)
	assert.Less(t, strings.Index(got, templates.Sewer.CombinedNote[:40]), strings.Index(got, templates.Sewer.CyanideNote[:40]))
	assert.Contains(t, got, "40 CFR 433.12")
	assert.NotContains(t, got, templates.Sewer.NoCyanide)
}

func TestWithoutCyanideThereIsASentence(t *testing.T) {
	d, _ := build(t, line, quantity.Metric)
	got := printed(t, d)
	assert.Contains(t, got, templates.Sewer.NoCyanide)
	assert.NotContains(t, got, templates.Sewer.Cyanide)
}

func TestACyanideLimitThatCannotBeAdjustedSaysWhy(t *testing.T) {
	d, _ := build(t, strings.Replace(strike, " | flow=4 L/min", "", 1), quantity.Metric)
	adjusted := table(t, d, "cyanide_limits")
	for _, row := range adjusted.Rows {
		why, blank := row[at(t, adjusted, "adjusted")].(doc.Blank)
		assert.True(t, blank)
		assert.Contains(t, why.Why, "the flow of the water into R2")
	}
}

func TestWaterBehindTreatmentIsNamed(t *testing.T) {
	const boiler = "kind=dilute | flow=1 L/min"
	behind, _ := build(t, strings.Replace(line, boiler, "joins=behind treatment | "+boiler, 1), quantity.Metric)
	got := printed(t, behind)
	assert.Contains(t, got, "out: "+templates.Sewer.Behind+" boiler (dilute, 1 L/min).")
	assert.NotContains(t, got, "With the other waters", "no limit is left to combine")
	waters := table(t, behind, "other_waters")
	assert.Equal(t, "behind treatment", waters.Rows[0][at(t, waters, "joins")].String())

	unsaid, _ := build(t, line, quantity.Metric)
	got = printed(t, unsaid)
	assert.Contains(t, got, "boiler (dilute, 1 L/min; taken to join before treatment because the book does not say)")
	waters = table(t, unsaid, "other_waters")
	assert.Equal(t, doc.Blank{Why: "not recorded"}, waters.Rows[0][at(t, waters, "joins")])
}

// Water that ended within the period was in it.
func TestOtherWaterThatEndedIsListedWithItsLastDay(t *testing.T) {
	d, _ := build(t, strings.Replace(line, "other-water -", "other-water -..2026-02-10", 1), quantity.Metric)
	waters := table(t, d, "other_waters")
	require.Len(t, waters.Rows, 1)
	assert.Equal(t, "boiler, until 2026-02-10", waters.Rows[0][0].String())
}
