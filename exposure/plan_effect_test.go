package exposure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

// second is a bath with a rinse of its own, which drains to V.
const second = `
tank - | tank=M | purpose=plate | working volume=1000 L | line=K | position=1 | drains to=haul
tank - | tank=U | purpose=rinse | working volume=200 L | line=K | position=2 | drains to=V
bath - | tank=M | ingredient=Ni | concentration=80 g/L
rinse - | tank=U | arrangement=running | fed from=mains | flow=4 L/min | wanted=370 mg/L Ni
cycle - | cycle=D | step=1 | tank=M
cycle - | cycle=D | step=2 | tank=U
film - | tank=M | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed
work 2026-02-02 | cycle=D | area=10 m² | loads=20 | drainage=vertical, well drained
work 2026-02-03 | cycle=D | area=10 m² | loads=20 | drainage=vertical, well drained
`

func wayOn(t *testing.T, p exposure.Plan, tank string, kind exposure.WayKind) exposure.Way {
	t.Helper()
	for _, w := range p.Ways {
		if w.Of[0].String() == tank && w.Kind == kind {
			return w
		}
	}
	require.Fail(t, "no such way", tank+" "+kind.String())
	return exposure.Way{}
}

// 240 L/h for 8 h are 1920 L on each of two days; a treatment that leaves
// 0.05 mg/L lets 0.096 g of a day's nickel through, whatever comes in. Times 125
// they are a year.
func TestATreatmentThatLeavesAConcentrationLeavesLessInLessWater(t *testing.T) {
	leaves := strings.Replace(plain, "removal=90 %", "leaves=0.05 mg/L", 1)
	p := planOf(t, leaves+threeDays+prices, ceiling(50))
	assert.InEpsilon(t, 2*0.096*125, wayOf(t, p, exposure.HoldAndHaul).Sum[working.Likely], 1e-9, "all that came through")

	slower := wayOf(t, p, exposure.SetFlow)
	assert.InEpsilon(t, slower.Water*0.05/1000, slower.Sum[working.Likely], 1e-9, "0.05 mg in each litre that no longer runs")
	assert.Contains(t, slower.Notes[0], "less metal leaves it in less water")
	assert.Positive(t, slower.Rank)

	still := wayOf(t, p, exposure.StillHauled)
	assert.Zero(t, still.Sum[working.Likely], "what still comes in is more than the treatment leaves")
	assert.Contains(t, still.LeftOut, "keeps no metal")
}

// Each rinse is worked out through the treatment on its own way: T takes 90 %,
// the water of U has none.
func TestEachWayGoesThroughItsOwnTreatment(t *testing.T) {
	untreated := strings.ReplaceAll(second, "drains to=V", "drains to=out")
	p := planOf(t, plain+threeDays+untreated+prices, ceiling(5000))
	// By hand: 1 L a day of 80 g/L into 1920 L, of which 1/(1+1920) goes on with the work.
	assert.InEpsilon(t, 2*80*(1-1/1921.0)*125, wayOn(t, p, "U", exposure.HoldAndHaul).Sum[working.Likely], 1e-9)
	sent := 400 * (1 - (160/400.0)/ratio(1920/2.0, 2) - (240/400.0)/ratio(1920/3.0, 2))
	hauled := wayOn(t, p, "R1", exposure.HoldAndHaul)
	assert.InEpsilon(t, sent/10*125, hauled.Sum[working.Likely], 1e-9)
	assert.InEpsilon(t, sent, hauled.Sent[0][working.Likely], 1e-9, "before treatment")
	assert.Equal(t, 1.0, hauled.Part[0][working.Likely])
}

// The walk with the way in place gives what the way was said to keep.
func TestTheWalkBearsTheFirstTwoWaysOut(t *testing.T) {
	treated := second + "tank - | tank=V | purpose=treat | working volume=500 L | line=W | position=2 | drains to=out\nremoval - | tank=V | pollutant=Ni | leaves=0.5 mg/L\n"
	p := planOf(t, plain+threeDays+treated+prices, ceiling(5000))
	require.NotNil(t, p.Together)
	sum := 0.0
	for _, w := range p.Ways {
		for _, rank := range p.Together.Of {
			if w.Rank == rank {
				sum += w.Sum[working.Likely]
			}
		}
	}
	// In the walk the still rinse has the loads of two days in it, in the way those of twenty, of which it holds 89 %.
	assert.InEpsilon(t, sum, p.Together.Kept[working.Likely], 0.12)
}

func TestAmongWaysThatCostNothingTheOneThatKeepsMoreIsFirst(t *testing.T) {
	heated := strings.Replace(plain, "tank=N | purpose=plate", "tank=N | purpose=plate | temperature=60 °C | heated hours=8 h | length=2 m | width=1 m", 1)
	treated := second + "tank - | tank=V | purpose=treat | working volume=500 L | line=W | position=2 | drains to=out\nremoval - | tank=V | pollutant=Ni | leaves=0.5 mg/L\n"
	p := planOf(t, heated+threeDays+treated+prices, ceiling(5000))
	back, slower := wayOn(t, p, "R1", exposure.StillReturned), wayOn(t, p, "U", exposure.SetFlow)
	assert.Negative(t, slower.Cost.Sum)
	assert.Positive(t, slower.Sum[working.Likely])
	assert.Greater(t, back.Sum[working.Likely], slower.Sum[working.Likely])
	assert.Equal(t, 1, back.Rank)
	assert.Greater(t, slower.Rank, 1)
}

// A point that is over its limit as it is: what lessens it stands behind what
// brings it under, and what makes it worse is left out.
func TestWaysWithWhichALimitIsStillPassed(t *testing.T) {
	untreated := strings.ReplaceAll(second, "drains to=V", "drains to=out")
	now := planOf(t, plain+threeDays+untreated+prices, ceiling(1e6))
	high := wayOn(t, now, "U", exposure.AsItIs).Nearest.High
	p := planOf(t, plain+threeDays+untreated+prices, ceiling(high/2))
	cures := wayOn(t, p, "U", exposure.StillHauled)
	lessens := wayOn(t, p, "R1", exposure.StillHauled)
	assert.Empty(t, cures.Over)
	assert.LessOrEqual(t, cures.Nearest.Share, 1.0)
	assert.Contains(t, lessens.Over, "still comes to")
	assert.Greater(t, lessens.Rank, cures.Rank)
	assert.Contains(t, wayOn(t, p, "U", exposure.SetFlow).LeftOut, "over the daily maximum", "less water, the same metal")
}

const fiveDays = threeDays + `
work 2026-02-04 | cycle=C | area=20 m² | loads=40 | drainage=vertical, well drained
work 2026-02-05 | cycle=C | area=20 m² | loads=40 | drainage=vertical, well drained
work 2026-02-06 | cycle=C | area=20 m² | loads=40 | drainage=vertical, well drained
`

// 10 L of 80 g/L into T, which takes out 90 %: by hand 800 g on one day, and at
// no more than the flow at which a day comes to 25 mg/L.
func TestADumpIsLetInLittleByLittle(t *testing.T) {
	rows := plain + fiveDays + prices + "dump 2026-02-03 | tank=N | volume=10 L | to=T\n"
	p := planOf(t, rows, ceiling(25))
	require.Greater(t, wayOn(t, p, "N", exposure.AsItIs).Nearest.Share, 1.0, "the dump alone takes the point over its limit")

	w := wayOn(t, p, "N", exposure.LetIn)
	const flow = 1920.0                                    // L on each day
	base := 240 * (1 - 1/ratio(1920/3.0, 2)) / 1920 * 1000 // the worst day without it, before treatment
	assert.InEpsilon(t, (25*10-base)*flow/80000, w.LetIn.Is().LitresPerHour()*24, 1e-6)
	assert.Contains(t, w.What, "over 4 days", "10 L at 3.0 L a day")
	assert.Empty(t, w.LeftOut)
	assert.LessOrEqual(t, w.Nearest.Share, 1.0)
	assert.Empty(t, w.Over)
	assert.Zero(t, w.Sum, "all of it comes in the end")
	assert.Positive(t, w.Rank)
	for _, rank := range p.Together.Of {
		assert.NotEqual(t, w.Rank, rank)
	}
	assert.Contains(t, wayOn(t, planOf(t, rows, ceiling(5)), "N", exposure.LetIn).LeftOut, "no room for it")
	// 1 L would want two days beside the worst day, but was dumped on a better one.
	worse := strings.NewReplacer("volume=10 L", "volume=1 L", "2026-02-05 | cycle=C | area=20 m²", "2026-02-05 | cycle=C | area=60 m²").Replace(rows)
	assert.Contains(t, wayOn(t, planOf(t, worse, ceiling(28)), "N", exposure.LetIn).LeftOut, "not what brings the point nearest")
}

// A dump that goes to the sewer as it is can go through the treatment tank.
func TestADumpIsTreatedInBatches(t *testing.T) {
	rows := plain + fiveDays + prices + "dump 2026-02-03 | tank=N | volume=10 L | to=out\n"
	w := wayOn(t, planOf(t, rows, ceiling(5000)), "N", exposure.BatchTreatment)
	assert.InEpsilon(t, 800*0.9*50, w.Sum[working.Likely], 1e-9, "90 % of 800 g, 50 times the five days")
	leaves := strings.Replace(rows, "removal=90 %", "leaves=50 mg/L", 1)
	w = wayOn(t, planOf(t, leaves, ceiling(5000)), "N", exposure.BatchTreatment)
	assert.InEpsilon(t, (800-0.05*10)*50, w.Sum[working.Likely], 1e-9, "all but 50 mg/L of 10 L")
	for _, one := range planOf(t, strings.Replace(rows, "L | to=out", "L | to=T", 1), ceiling(5000)).Ways {
		assert.False(t, one.Kind == exposure.BatchTreatment && one.Dump, "it is treated already")
	}
}
