package exposure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

// dumps is a shop that only dumps: of N, which holds 80 g/L, and of W, which
// holds no metal, so that grams and litres of a day can be set. R drains metal
// without water, because the book does not say its flow.
const dumps = `
shop - | name=Test Shop | first day=2026-01-01 | hours per day=8 h | regime=us
tank - | tank=N | purpose=plate | working volume=1000 L | line=L | position=1 | drains to=out
tank - | tank=W | purpose=clean | working volume=100000 L | line=L | position=2 | drains to=out
tank - | tank=R | purpose=rinse | working volume=100 L | line=L | position=3 | drains to=out
point - | point=out | body=sewer
bath - | tank=N | ingredient=Ni | concentration=80 g/L
rinse - | tank=R | arrangement=running | fed from=mains
cycle - | cycle=C | step=1 | tank=N
cycle - | cycle=C | step=2 | tank=R
film - | tank=N | drainage=vertical, well drained | per area=0.1 L/m²
`

// nineDays are, in mg/L: 80, 20, 160, 0; 40, 80, 80, 40; 320. On 2026-02-04
// there is metal and no water.
const nineDays = `
dump 2026-02-02 | tank=N | volume=1 L
dump 2026-02-02 | tank=W | volume=999 L
dump 2026-02-03 | tank=N | volume=1 L
dump 2026-02-03 | tank=W | volume=3999 L
work 2026-02-04 | cycle=C | area=1 m² | drainage=vertical, well drained
dump 2026-02-05 | tank=N | volume=2 L
dump 2026-02-05 | tank=W | volume=998 L
dump 2026-02-27 | tank=W | volume=1000 L
dump 2026-03-02 | tank=N | volume=1 L
dump 2026-03-02 | tank=W | volume=1999 L
dump 2026-03-03 | tank=N | volume=3 L
dump 2026-03-03 | tank=W | volume=2997 L
dump 2026-03-04 | tank=N | volume=3 L
dump 2026-03-04 | tank=W | volume=2997 L
dump 2026-03-05 | tank=N | volume=1 L
dump 2026-03-05 | tank=W | volume=1999 L
dump 2026-03-06 | tank=N | volume=4 L
dump 2026-03-06 | tank=W | volume=996 L
`

func pointOf(t require.TestingT, w *exposure.Water) exposure.PointUse {
	require.Len(t, w.Points, 1)
	require.Equal(t, []string{"Ni"}, w.Points[0].Metals)
	return w.Points[0]
}

func TestSetsOfFourDaysWithWater(t *testing.T) {
	sets := pointOf(t, water(t, dumps+nineDays)).FourDays()
	require.Len(t, sets, 2, "the ninth day is no set")
	for i, want := range []struct {
		span                  chemicals.Period
		litres, grams, perDay float64
		mean                  float64
	}{
		{chemicals.Period{First: "2026-02-02", Last: "2026-02-27"}, 7000, 320, 80, (80 + 20 + 160 + 0) / 4.0},
		{chemicals.Period{First: "2026-03-02", Last: "2026-03-05"}, 10000, 640, 160, (40 + 80 + 80 + 40) / 4.0},
	} {
		got := sets[i]
		assert.Equal(t, want.span, got.Period)
		assert.Equal(t, 4, got.Days)
		assert.InDelta(t, want.litres, got.Water.Litres(), 1e-9)
		assert.InDelta(t, want.grams, got.Grams[0][working.Likely], 1e-9)
		mean, ok := got.MilligramsPerLitre(0)
		assert.True(t, ok)
		assert.InDelta(t, want.mean, mean[working.Likely], 1e-9, "of the days, not %g g in %g L", want.grams, want.litres)
		perDay, ok := got.On(chemicals.ByDay, 0)
		assert.True(t, ok)
		assert.InDelta(t, want.perDay, perDay[working.Likely], 1e-9)
	}
}

func TestTheWorstByTheRuleOfALimit(t *testing.T) {
	p := pointOf(t, water(t, dumps+nineDays))
	for _, c := range []struct {
		rule  chemicals.Rule
		basis chemicals.Basis
		first chemicals.Day
		want  float64
	}{
		{chemicals.DailyMaximum, chemicals.ByConcentration, "2026-03-06", 320},
		{chemicals.Instantaneous, chemicals.ByConcentration, "2026-03-06", 320},
		{chemicals.DailyMaximum, chemicals.ByDay, "2026-03-06", 320},
		{chemicals.FourDayAverage, chemicals.ByConcentration, "2026-02-02", 65},
		{chemicals.FourDayAverage, chemicals.ByDay, "2026-03-02", 160},
		{chemicals.MonthlyAverage, chemicals.ByConcentration, "2026-03-01", (40 + 80 + 80 + 40 + 320) / 5.0},
		{chemicals.MonthlyAverage, chemicals.ByDay, "2026-03-01", 192},
	} {
		worst, ok := p.Worst(0, c.rule, c.basis)
		require.True(t, ok, "%s, %s", c.rule, c.basis)
		assert.Equal(t, c.first, worst.Period.First, "%s, %s", c.rule, c.basis)
		is, ok := worst.On(c.basis, 0)
		assert.True(t, ok)
		assert.InDelta(t, c.want, is.Highest(), 1e-9, "%s, %s", c.rule, c.basis)
	}
	_, ok := p.Worst(0, chemicals.DailyMaximum, chemicals.ByArea)
	assert.False(t, ok, "nothing is estimated by area")
}

func TestFewerThanFourDaysAreNoSet(t *testing.T) {
	p := pointOf(t, water(t, dumps+nineDays[:len("\ndump 2026-02-02 | tank=N | volume=1 L\n")]))
	assert.Empty(t, p.FourDays())
	_, ok := p.Worst(0, chemicals.FourDayAverage, chemicals.ByConcentration)
	assert.False(t, ok)
	worst, ok := p.Worst(0, chemicals.DailyMaximum, chemicals.ByConcentration)
	require.True(t, ok)
	is, _ := worst.MilligramsPerLitre(0)
	assert.InDelta(t, 80000, is.Highest(), 1e-9, "the bath itself")
}

// A set is never worse than its worst day, and with as many days the sums of
// the sets are those of their days.
func TestSetsHoldTheirDays(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		rows := dumps
		days := rapid.IntRange(0, 13).Draw(r, "days")
		grams := 0.0
		for i := range days {
			litres := rapid.IntRange(1, 9).Draw(r, "litres")
			rows += "dump " + chemicals.Day("2026-01-20").Add(i).String() + " | tank=N | volume=" + string(rune('0'+litres)) + " L\n"
			if i < days/4*4 {
				grams += 80 * float64(litres)
			}
		}
		w := exposure.WaterOf(shopOf(t, "2026-03-31", rows), tables(t))
		if days == 0 {
			require.Empty(r, w.Points)
			return
		}
		sets, sum := pointOf(r, w).FourDays(), 0.0
		require.Len(r, sets, days/4)
		last := chemicals.Day("")
		for _, s := range sets {
			sum += s.Grams[0][working.Likely]
			require.Greater(r, s.Period.First, last)
			last = s.Period.Last
			mean, _ := s.MilligramsPerLitre(0)
			require.InEpsilon(r, 80000, mean[working.Likely], 1e-9, "each day is bath")
		}
		require.InDelta(r, grams, sum, 1e-9)
	})
}
