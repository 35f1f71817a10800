package exposure_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

// plain is the line without its still rinse: the counterflow comes first.
var plain = strings.NewReplacer(
	"cycle - | cycle=C | step=2 | tank=S\n", "", "rinse - | tank=S | arrangement=still\n", "", "tank - | tank=S | purpose=rinse | working volume=200 L | line=L | position=2 | drains to=T\n", "",
).Replace(line)

const prices = `
price - | item=water | amount=2 USD/m³
price - | item=sewer | amount=3 USD/m³
price - | item=haul | amount=500 USD/m³
`

func planOf(t *testing.T, rows string, ceilings ...exposure.Ceiling) exposure.Plan {
	t.Helper()
	shop := shopOf(t, "2026-03-31", rows)
	return exposure.WaterOf(shop, tables(t)).PlanOf(quantity.Metric, exposure.Tanks(shop, tables(t)), ceilings)
}

func ceiling(limit float64) exposure.Ceiling {
	return exposure.Ceiling{Point: "out", Metal: "Ni", Rule: chemicals.DailyMaximum, Limit: limit}
}

func wayOf(t *testing.T, p exposure.Plan, kind exposure.WayKind) exposure.Way {
	t.Helper()
	for _, w := range p.Ways {
		if w.Kind == kind {
			return w
		}
	}
	require.Fail(t, "no such way", kind.String())
	return exposure.Way{}
}

// By hand: 125 times the two days are a year of 250; of the 200 L still rinse
// ahead the share held at the end of 20 days of 2.5 L is V/D × (1 − a^N).
func TestWaysInFiguresByHand(t *testing.T) {
	p := planOf(t, plain+threeDays+prices, ceiling(50))
	assert.InDelta(t, 125, p.PerYear, 1e-9)
	hauled := wayOf(t, p, exposure.StillHauled)
	dragIn, loads := 2.5*20, 1000.0
	share := 200 / dragIn * (1 - math.Pow(200/(200+dragIn/loads), loads))
	sent := 400 * (1 - (160/400.0)/ratio(1920/2.0, 2) - (240/400.0)/ratio(1920/3.0, 2)) / 10
	assert.InEpsilon(t, sent*share*125, hauled.Sum[working.Likely], 1e-9)
	assert.InDelta(t, 200/20.0*250, hauled.Hauled, 1e-9)
	assert.InDelta(t, 2500*0.5, hauled.Cost.Sum, 1e-9, "2500 L at 500 USD/m³")
	assert.InEpsilon(t, hauled.Sum[working.Likely]/1250, hauled.Worth(), 1e-9)

	haul := wayOf(t, p, exposure.HoldAndHaul)
	assert.InEpsilon(t, sent*125, haul.Sum[working.Likely], 1e-9)
	assert.InDelta(t, 1920*250*(0.5-0.003), haul.Cost.Sum, 1e-6, "hauled instead of let to the sewer")
	assert.Less(t, hauled.Rank, haul.Rank, "more is kept for each unit of money")
}

func TestAFlowIsSetToWhatIsWanted(t *testing.T) {
	p := planOf(t, plain+threeDays+prices, ceiling(50))
	w := wayOf(t, p, exposure.SetFlow)
	q := (1920 - w.Water/250) / 2.5 // of a day's 2.5 L of drag-in
	assert.InEpsilon(t, 80000.0/37, ratio(q, 2), 1e-9, "the flow put back gives the ratio")
	assert.Zero(t, w.Sum[working.Likely])
	assert.Positive(t, w.Water)
	assert.InDelta(t, -w.Water*5/1000, w.Cost.Sum, 1e-9)
}

func TestAWayThatWouldBreakALimitIsLeftOut(t *testing.T) {
	now := planOf(t, plain+threeDays+prices, ceiling(50))
	high := wayOf(t, now, exposure.AsItIs).Nearest.High
	p := planOf(t, plain+threeDays+prices, ceiling(high*1.001))
	w := wayOf(t, p, exposure.SetFlow)
	assert.Contains(t, w.LeftOut, "over the daily maximum", "less water, the same metal")
	assert.Zero(t, w.Rank)
	assert.Positive(t, wayOf(t, p, exposure.StillHauled).Rank)

	unsure := ceiling(high * 1.001)
	unsure.Unsure = true
	w = wayOf(t, planOf(t, plain+threeDays+prices, unsure), exposure.SetFlow)
	assert.Contains(t, w.Open, "is not told by the book")
}

func TestAReturnWantsToKnowWhatEvaporates(t *testing.T) {
	w := wayOf(t, planOf(t, plain+threeDays+prices, ceiling(50)), exposure.StillReturned)
	assert.Contains(t, w.Open, "how much water N loses is not known")
	heated := strings.Replace(plain, "tank=N | purpose=plate", "tank=N | purpose=plate | temperature=60 °C | heated hours=8 h | length=2 m | width=1 m", 1)
	p := planOf(t, heated+threeDays+prices, ceiling(50))
	w = wayOf(t, p, exposure.StillReturned)
	assert.Empty(t, w.Open)
	assert.Equal(t, 1, w.Rank, "it keeps metal and costs nothing more")
	assert.True(t, math.IsInf(w.Worth(), 1))
	dip := strings.Replace(heated, "tank=N | purpose=plate", "tank=N | purpose=passivate", 1)
	for _, one := range planOf(t, dip+threeDays+prices, ceiling(50)).Ways {
		assert.NotEqual(t, exposure.StillReturned, one.Kind, "a dip that its drag-out fouls")
	}
}

func TestWithoutPricesAWayHasNoCostAndSaysWhy(t *testing.T) {
	w := wayOf(t, planOf(t, plain+threeDays, ceiling(50)), exposure.StillHauled)
	assert.False(t, w.Cost.Known())
	assert.Contains(t, w.Cost.Why, "no price of haul")
	two := strings.Replace(prices, "3 USD", "3 EUR", 1)
	assert.Contains(t, wayOf(t, planOf(t, plain+threeDays+two, ceiling(50)), exposure.SetFlow).Cost.Why, "more than one currency")
}

// The first two ways together are walked anew; two of one rinse do not go
// together.
func TestTheFirstTwoWaysTogether(t *testing.T) {
	rows := plain + threeDays + prices + "dump 2026-02-03 | tank=N | volume=10 L | to=T\n"
	p := planOf(t, rows, ceiling(500))
	require.NotNil(t, p.Together)
	var of []exposure.Way
	for _, w := range p.Ways {
		for _, rank := range p.Together.Of {
			if w.Rank == rank {
				of = append(of, w)
			}
		}
	}
	require.Len(t, of, 2)
	assert.NotEqual(t, of[0].Of[0], of[1].Of[0])
	// 100 loads in all: the walk holds the loads of two days, the way those of twenty.
	assert.Greater(t, p.Together.Kept[working.Likely], max(of[0].Sum[working.Likely], of[1].Sum[working.Likely])*0.99)
}

func TestAHoldTankAndTheDayItIsFull(t *testing.T) {
	rows := plain + threeDays + `
tank - | tank=H | purpose=hold | working volume=100 L | drains to=haul
dump 2026-02-02 | tank=N | volume=10 L | to=H
level 2026-02-03 | tank=H | volume=40 L
`
	p := planOf(t, rows)
	require.Len(t, p.Holds, 1)
	h := p.Holds[0]
	assert.InDelta(t, 5, h.Filling.Is().Litres(), 1e-9, "10 L over two days with work")
	assert.Equal(t, chemicals.Day("2026-02-15"), h.Full, "60 L at 5 L a day")
}
