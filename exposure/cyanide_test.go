package exposure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/exposure"
)

// captive is a shop under 40 CFR 433.15: a copper strike with cyanide and a
// nickel bath, a counterflow of two behind the first and one rinse behind the
// second, and the blowdown of a boiler, all to one point.
const captive = `
shop - | name=Test Shop | first day=2026-01-01 | hours per day=8 h | regime=us | construction start=1979-05-01 | job shop=no
tank - | tank=C | purpose=plate | plates=Cu | working volume=500 L | line=L | position=1 | drains to=haul
tank - | tank=C1 | purpose=rinse | working volume=200 L | line=L | position=2 | drains to=out
tank - | tank=C2 | purpose=rinse | working volume=200 L | line=L | position=3
tank - | tank=N | purpose=plate | plates=Ni | working volume=1000 L | line=L | position=4 | drains to=haul
tank - | tank=N1 | purpose=rinse | working volume=200 L | line=L | position=5 | drains to=out
point - | point=out | body=sewer
bath - | tank=C | ingredient=copper cyanide | concentration=30 g/L
bath - | tank=C | ingredient=sodium cyanide | concentration=45 g/L
bath - | tank=N | ingredient=Ni | concentration=80 g/L
rinse - | tank=C1 | arrangement=running | fed from=C2
rinse - | tank=C2 | arrangement=running | fed from=mains | flow=4 L/min
rinse - | tank=N1 | arrangement=running | fed from=mains | flow=8 L/min
other-water - | name=boiler | point=out | kind=dilute | joins=behind treatment | flow=1 L/min | hours=4 h
cycle - | cycle=C | step=1 | tank=C
cycle - | cycle=C | step=2 | tank=C1
cycle - | cycle=C | step=3 | tank=C2
cycle - | cycle=C | step=4 | tank=N
cycle - | cycle=C | step=5 | tank=N1
` + threeDays

// of gives a shop's water with the limits that bind at its points.
func of(t *testing.T, rows string) (*exposure.Water, []exposure.LimitInForce) {
	t.Helper()
	shop := shopOf(t, "2026-03-31", rows)
	w := exposure.WaterOf(shop, tables(t))
	return w, exposure.ResultsOf(shop, tables(t), w.ProcessFlow(), 0).Limits
}

func cyanideLimits(t *testing.T, rows string) exposure.CyanideLimits {
	t.Helper()
	w, limits := of(t, rows)
	return w.CyanideLimits(limits)
}

// mgPerLitre is the adjusted limit.
func mgPerLitre(t *testing.T, l exposure.CyanideLimit) float64 {
	t.Helper()
	require.True(t, l.Result.Known(), l.Result.Why())
	return l.Result.Is().MilligramsPerLitre()
}

// By hand, for a day of 8 h: behind the strike 4 L/min are 1920 L, behind the
// nickel 8 L/min are 3840 L, of the boiler 1 L/min over 4 h are 240 L: of the
// 6000 L of the effluent 0.32 bear cyanide. 1.20 mg/L become 0.384 mg/L, and
// 0.65 mg/L 0.208 mg/L.
func TestLimitsOnCyanideForTheWholeEffluent(t *testing.T) {
	got := cyanideLimits(t, captive)
	require.Len(t, got.Limits, 2)
	for i, want := range []struct {
		rule chemicals.Rule
		text string
		is   float64
	}{{chemicals.DailyMaximum, "1.20 mg/L", 0.384}, {chemicals.MonthlyAverage, "0.65 mg/L", 0.208}} {
		l := got.Limits[i]
		assert.Equal(t, exposure.LimitPollutant("CN total"), l.Limit.Pollutant)
		assert.Equal(t, want.rule, l.Limit.Rule)
		assert.Equal(t, want.text, l.Limit.Text)
		assert.InDelta(t, want.is, mgPerLitre(t, l), 1e-12)
		assert.Equal(t, []chemicals.Name{"C"}, l.Baths)
		assert.Equal(t, []chemicals.Name{"C1", "C2"}, l.Rinses)
		assert.InDelta(t, 1920, l.Bearing.Is().LitresPerHour()*24, 1e-9)
		assert.InDelta(t, 6000, l.Effluent.Is().LitresPerHour()*24, 1e-9)
		steps := l.Result.Steps()
		assert.Equal(t, "L = Lc × Qc / Q", steps[len(steps)-1].Formula)
		assert.Equal(t, "40 CFR 433.12", l.Result.Ref().Document)
	}
}

func TestLimitsOnCyanideSayWhyNot(t *testing.T) {
	for name, c := range map[string]struct{ rows, why string }{
		"flow not recorded":     {strings.Replace(captive, " | flow=4 L/min", "", 1), "the flow of the water into C2 or its hours are not recorded on 2026-02-02"},
		"hours not recorded":    {strings.Replace(captive, " | hours per day=8 h", "", 1), "the flow of the water into C2 or its hours are not recorded on 2026-02-02"},
		"flow zero":             {strings.Replace(captive, "flow=4 L/min", "flow=0 L/min", 1), "no water runs into the rinses"},
		"hauled":                {strings.Replace(captive, "position=2 | drains to=out", "position=2 | drains to=haul", 1), "no running rinse behind a bath that holds cyanide sends its water to out"},
		"less water by a meter": {captive + "meter - | meter=M | serves=out | unit=1 L\nwater 2026-02-01 | meter=M | reading=0\nwater 2026-02-03 | meter=M | reading=100\n", "is more than the whole effluent"},
	} {
		t.Run(name, func(t *testing.T) {
			got := cyanideLimits(t, c.rows)
			require.Len(t, got.Limits, 2)
			for _, l := range got.Limits {
				assert.False(t, l.Result.Known())
				assert.Contains(t, l.Result.Why(), c.why)
			}
		})
	}
}

// Of 24000 L by the meter 3840 L bear cyanide.
func TestCyanideInAMeteredEffluent(t *testing.T) {
	meter := "meter - | meter=M | serves=out | unit=1 L\nwater 2026-02-01 | meter=M | reading=0\nwater 2026-02-03 | meter=M | reading=24000\n"
	got := cyanideLimits(t, captive+meter)
	assert.InDelta(t, 1.20*3840/24000, mgPerLitre(t, got.Limits[0]), 1e-12)
	require.Len(t, got.Caveats(), 1)
	assert.Contains(t, string(got.Caveats()[0]), "taken by a meter")
}

func TestWithoutCyanideNoLimitOnItIsAdjusted(t *testing.T) {
	free := strings.NewReplacer("copper cyanide", "copper sulfate pentahydrate", "sodium cyanide", "sulfuric acid").Replace(captive)
	got := cyanideLimits(t, free)
	assert.True(t, got.None)
	assert.Empty(t, got.Limits)

	assert.Zero(t, cyanideLimits(t, strings.Replace(captive, "job shop=no", "job shop=yes", 1)), "part 413 binds an existing job shop")
}

// Cyanide that only an analysis names is cyanide.
func TestCyanideFoundByAnalysis(t *testing.T) {
	free := strings.NewReplacer("copper cyanide", "copper sulfate pentahydrate", "sodium cyanide", "sulfuric acid").Replace(captive)
	found := "analysis 2026-02-01 | tank=C | ingredient=CN free | concentration=10 g/L\n"
	assert.InDelta(t, 0.384, mgPerLitre(t, cyanideLimits(t, free+found).Limits[0]), 1e-12)
	assert.True(t, cyanideLimits(t, free+strings.Replace(found, "10 g/L", "0 g/L", 1)).None)
}

// The strike holds cyanide on the second day only: 1920 of 12000 L.
func TestABathThatIsMadeUpWithCyanideLater(t *testing.T) {
	rows := strings.NewReplacer("bath - | tank=C | ingredient=copper cyanide", "bath 2026-02-03 | tank=C | ingredient=copper cyanide",
		"bath - | tank=C | ingredient=sodium cyanide", "bath 2026-02-03 | tank=C | ingredient=sodium cyanide").Replace(captive)
	assert.InDelta(t, 1.20*1920/12000, mgPerLitre(t, cyanideLimits(t, rows).Limits[0]), 1e-12)
}

// A dump on a day without work is no part of the day that bears cyanide.
func TestADumpOnAFreeDayLoosensNoLimit(t *testing.T) {
	const dump = "dump 2026-02-08 | tank=N1 | volume=100 L | to=out\n"
	with, without := cyanideLimits(t, captive+dump), cyanideLimits(t, captive)
	require.NotEmpty(t, with.Limits)
	for i, l := range with.Limits {
		assert.InEpsilon(t, without.Limits[i].Result.Is().MilligramsPerLitre(), l.Result.Is().MilligramsPerLitre(), 1e-12)
	}
}
