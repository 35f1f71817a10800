package exposure_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

// one is a bath with one rinse of 1920 L a day, to the point out: each day of
// work carries 2 L of 80 g/L, of which all but one part in 961 leaves.
const one = `
shop - | name=Test Shop | first day=2026-01-01 | hours per day=8 h | days per year=250 | regime=us | currency=USD
point - | point=out | body=sewer
tank - | tank=N | purpose=plate | working volume=1000 L | line=L | position=1 | drains to=out
tank - | tank=R | purpose=rinse | working volume=200 L | line=L | position=2 | drains to=out
bath - | tank=N | ingredient=Ni | concentration=80 g/L
rinse - | tank=R | arrangement=running | fed from=mains | flow=4 L/min | wanted=370 mg/L Ni
film - | tank=N | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed
cycle - | cycle=C | step=1 | tank=N
cycle - | cycle=C | step=2 | tank=R
`

const onePart = 160 * 960 / 961.0 // g that leave on a day

// tenDays are the days with work of the first half of February.
var tenDays = []chemicals.Day{"2026-02-02", "2026-02-03", "2026-02-04", "2026-02-05", "2026-02-06", "2026-02-09", "2026-02-10", "2026-02-11", "2026-02-12", "2026-02-13"}

func works(area int, days ...chemicals.Day) string {
	var rows strings.Builder
	for _, day := range days {
		fmt.Fprintf(&rows, "work %s | cycle=C | area=%d m² | loads=40 | drainage=vertical, well drained\n", day, area)
	}
	return rows.String()
}

func at(point string, limit float64) exposure.Ceiling {
	return exposure.Ceiling{Point: chemicals.Name(point), Metal: "Ni", Rule: chemicals.DailyMaximum, Limit: limit}
}

// A rinse that is emptied brings no metal by this walk: what runs off every day
// is not in its dump.
func TestADumpOfARunningRinseIsNotItsWater(t *testing.T) {
	p := planOf(t, one+works(20, tenDays...)+prices+"dump 2026-02-06 | tank=R | volume=200 L | to=out\n", at("out", 90))
	for _, w := range p.Ways {
		assert.False(t, w.Dump, "%v %s", w.Of, w.Kind)
	}
	assert.InEpsilon(t, 10*onePart*25, wayOn(t, p, "R", exposure.HoldAndHaul).Sum[working.Likely], 1e-9)
}

const toAnother = `
point - | point=north | body=sewer
tank - | tank=T | purpose=treat | working volume=500 L | line=W | position=1 | drains to=north
removal - | tank=T | pollutant=Ni | removal=90 %
`

// Batch treatment takes the water to the point of the treatment.
func TestBatchTreatmentIsJudgedWhereTheTreatmentDrains(t *testing.T) {
	rows := one + toAnother + works(20, tenDays...) + prices
	w := wayOn(t, planOf(t, rows, at("out", 90), at("north", 9)), "R", exposure.BatchTreatment)
	assert.InEpsilon(t, 0.9*10*onePart*25, w.Sum[working.Likely], 1e-9, "a tenth leaves at the other point")
	assert.Equal(t, chemicals.Name("north"), w.Nearest.Point)
	assert.InEpsilon(t, onePart/10/1.92, w.Nearest.High, 1e-9)
	assert.Contains(t, wayOn(t, planOf(t, rows, at("out", 90), at("north", 5)), "R", exposure.BatchTreatment).LeftOut, "at north comes to 8.32 mg/L")
	hours := strings.Replace(rows, "hours per day=8 h | ", "", 1)
	w = wayOn(t, planOf(t, strings.Replace(hours, "removal=90 %", "leaves=1 mg/L", 1), at("out", 90)), "R", exposure.BatchTreatment)
	assert.Contains(t, w.Open, "hours", "nothing tells how much water that is")
	assert.Zero(t, w.Rank)
}

// The flow of a day is that of the day: until the 6th 2 L/min and 60 m², then
// 10 L/min and 4 m². At 120 L/h for all the days with 60 m² nothing changes.
func TestAWayChangesTheFlowThatADayHad(t *testing.T) {
	rows := strings.Replace(one, "flow=4 L/min", "flow=2 L/min", 1) + works(60, tenDays[:5]...) + works(4, tenDays[5:]...) + prices +
		"rinse 2026-02-07 | tank=R | arrangement=running | fed from=mains | flow=10 L/min | wanted=370 mg/L Ni\n"
	p := planOf(t, rows, at("out", 600))
	w := wayOn(t, p, "R", exposure.SetFlow)
	now := wayOn(t, p, "R", exposure.AsItIs).Nearest.High
	litres := (5*960.0 + 5*4800 - w.Water/25) / 10 // on each of the ten days
	assert.InEpsilon(t, now*960/litres, w.Nearest.High, 0.01, "the days with 60 m² in the water of the way")
}

// R drains to out until the 6th and to north from the 7th: what it keeps is of
// both, and the water of a day is taken from the point of that day.
func TestAWayFollowsTheWayOfTheDay(t *testing.T) {
	rows := one + "point - | point=north | body=sewer\n" + works(20, tenDays...) + prices + "tank 2026-02-07 | tank=R | purpose=rinse | working volume=200 L | line=L | position=2 | drains to=north\n"
	w := wayOn(t, planOf(t, rows, at("out", 900), at("north", 900)), "R", exposure.HoldAndHaul)
	assert.InEpsilon(t, 10*onePart*25, w.Sum[working.Likely], 1e-9)
	assert.InEpsilon(t, 10*1920*25, w.Hauled, 1e-9)
}

const q = `
tank - | tank=M | purpose=plate | working volume=1000 L | line=K | position=1 | drains to=haul
tank - | tank=Q | purpose=rinse | working volume=200 L | line=K | position=2 | drains to=out
bath - | tank=M | ingredient=Ni | concentration=8 g/L
rinse - | tank=Q | arrangement=running | fed from=mains
film - | tank=M | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed
cycle - | cycle=D | step=1 | tank=M
cycle - | cycle=D | step=2 | tank=Q
work 2026-02-03 | cycle=D | area=20 m² | loads=40 | drainage=vertical, well drained
`

func TestMetalInNoWaterIsNotUnderALimit(t *testing.T) {
	w := wayOn(t, planOf(t, one+q+works(20, tenDays...)+prices, at("out", 900)), "R", exposure.HoldAndHaul)
	assert.Contains(t, w.Open, "Ni would leave at out in no water that the book knows of")
	fed := strings.Replace(q, "fed from=mains", "fed from=R", 1)
	w = wayOn(t, planOf(t, one+fed+works(20, tenDays...)+prices, at("out", 900)), "R", exposure.HoldAndHaul)
	assert.Contains(t, w.LeftOut, "its water feeds Q")
}

// By hand, load by load, with 2 L a day into 200 L in 40 loads: the 20th day
// carries on more than the mean of the twenty, which would be under the limit.
func TestAStillRinseAheadIsJudgedOnItsLastDay(t *testing.T) {
	p := planOf(t, one+works(20, tenDays...)+prices, at("out", 10))
	w := wayOn(t, p, "R", exposure.StillHauled)
	held, passed, all := 0.0, 0.0, 0.0
	for range 20 {
		passed = 0
		for range 40 {
			after := (held + 0.05) * 200 / 200.05
			passed += held + 0.05 - after
			held = after
		}
		all += passed
	}
	assert.InEpsilon(t, passed/2*onePart/1.92, w.Nearest.High, 1e-9)
	assert.Less(t, all/40*onePart/1.92, 10.0)
	assert.Contains(t, w.Over, "over the daily maximum")
	assert.InEpsilon(t, (1-all/40)*10*onePart*25, w.Sum[working.Likely], 1e-9, "what it keeps of all")
}

// 10 L to out and 30 L to north on one day are two things.
func TestDumpsToTwoPoints(t *testing.T) {
	rows := one + "point - | point=north | body=sewer\n" + works(20, tenDays...) + prices +
		"dump 2026-02-06 | tank=N | volume=10 L | to=out\ndump 2026-02-06 | tank=N | volume=30 L | to=north\n"
	hauled := map[chemicals.Name]float64{}
	for _, w := range planOf(t, rows, at("out", 90), at("north", 90)).Ways {
		if w.Dump && w.Kind == exposure.HoldAndHaul {
			hauled[w.Point] = w.Hauled
			if w.Point == "out" {
				assert.InEpsilon(t, onePart/1.92, w.Nearest.High, 1e-9)
			}
		}
	}
	assert.Equal(t, map[chemicals.Name]float64{"out": 250, "north": 750}, hauled)
}

// What is dumped into another bath comes to no point.
func TestADumpIntoABathIsNoneToAPoint(t *testing.T) {
	rows := one + "tank - | tank=M | purpose=plate | working volume=600 L | line=L | position=9 | drains to=out\n" + works(20, tenDays...) + prices +
		"dump 2026-02-05 | tank=N | volume=1 L | to=out\ndump 2026-02-06 | tank=N | volume=500 L | to=M\n"
	w := wayOn(t, planOf(t, rows, at("out", 90)), "N", exposure.HoldAndHaul)
	assert.InDelta(t, 25, w.Hauled, 1e-9)
	assert.InEpsilon(t, onePart/1.92, w.Nearest.High, 1e-9)
}

// A treatment that gets nothing but the dump treats what is let in as well.
func TestALetInGoesThroughATreatmentOfItsOwn(t *testing.T) {
	rows := one + "tank - | tank=T | purpose=treat | working volume=500 L | line=W | position=1 | drains to=out\nremoval - | tank=T | pollutant=Ni | removal=99 %\n" + works(20, tenDays...) + prices +
		"dump 2026-02-02 | tank=N | volume=400 L | to=T\n"
	p := planOf(t, rows, at("out", 100))
	w := wayOn(t, p, "N", exposure.LetIn)
	assert.Positive(t, w.Rank, w.LeftOut)
	assert.LessOrEqual(t, w.Nearest.Share, 1.0)
	assert.Greater(t, w.Nearest.Share, 0.9)
}

// 4 L on each of three days want three days each: they are let in one after the
// other.
func TestDumpsThatFollowEachOtherAreLetInOneAfterTheOther(t *testing.T) {
	rows := one + works(20, tenDays...) + prices
	for _, day := range tenDays[:3] {
		rows += fmt.Sprintf("dump %s | tank=N | volume=4 L | to=out\n", day)
	}
	w := wayOn(t, planOf(t, rows, at("out", 145)), "N", exposure.LetIn)
	assert.Contains(t, w.What, "over 3 days")
	assert.LessOrEqual(t, w.Nearest.Share, 1.0)
	assert.Positive(t, w.Rank, w.LeftOut)
}

// Two ways that leave nothing at their point keep all of it together.
func TestTwoWaysThatEmptyAPoint(t *testing.T) {
	rows := one + strings.Replace(q, "fed from=mains", "fed from=mains | flow=4 L/min", 1) + works(20, tenDays...) + strings.Replace(prices, "500", "0.1", 1)
	p := planOf(t, rows, at("out", 900))
	sum := wayOn(t, p, "R", exposure.HoldAndHaul).Sum[working.Likely] + wayOn(t, p, "Q", exposure.HoldAndHaul).Sum[working.Likely]
	require.NotNil(t, p.Together)
	require.Len(t, p.Together.Of, 2)
	assert.InEpsilon(t, sum, p.Together.Kept[working.Likely], 0.1)
	assert.Positive(t, sum)
}

func TestMoneyInTwoCurrenciesIsNotAdded(t *testing.T) {
	rows := one + works(20, tenDays...)
	p := planOf(t, rows+strings.Replace(prices, "500 USD", "500 EUR", 1), at("out", 900))
	for _, w := range p.Ways {
		if w.Hauled != 0 || w.Water != 0 {
			assert.Contains(t, w.Cost.Why, "more than one currency", "one column has one currency")
		}
	}
	heated := strings.Replace(rows, "tank=N | purpose=plate", "tank=N | purpose=plate | temperature=60 °C | heated hours=8 h | length=2 m | width=1 m", 1)
	zinc := "bath - | tank=N | ingredient=Zn | concentration=8 g/L\nprice - | item=Ni | amount=20 USD/kg\nprice - | item=Zn | amount=5 EUR/kg\n"
	w := wayOn(t, planOf(t, heated+prices+zinc, at("out", 900)), "R", exposure.StillReturned)
	assert.Contains(t, w.Value.Why, "more than one currency")
}

// 28800 L from 01-16 to 02-06 are 15 days of 1920 L, ten of them before the
// period; the meter agrees to the litre, so nothing is thinned.
func TestAMeterReadBeforeThePeriod(t *testing.T) {
	before := []chemicals.Day{"2026-01-19", "2026-01-20", "2026-01-21", "2026-01-22", "2026-01-23", "2026-01-26", "2026-01-27", "2026-01-28", "2026-01-29", "2026-01-30"}
	rows := one + works(20, before...) + works(20, tenDays...) + "meter - | meter=m | serves=out | unit=1 L\n" +
		"water 2026-01-16 | meter=m | reading=0\nwater 2026-02-06 | meter=m | reading=28800\nwater 2026-03-06 | meter=m | reading=40320\n" + works(20, "2026-03-05")
	shop := shopOf(t, "2026-03-31", rows)
	shop.Period = chemicals.Period{First: "2026-02-01", Last: "2026-02-28"}
	w := exposure.WaterOf(shop, tables(t))
	require.Len(t, w.Points, 1)
	assert.InEpsilon(t, 19200, w.Points[0].Whole.Water.Litres(), 1e-9)
	for _, d := range w.Points[0].Days {
		assert.True(t, d.Metered, d.Day)
	}
}

// A treatment tank whose water comes to no point takes nothing off a limit.
func TestBatchTreatmentThatDrainsNowhere(t *testing.T) {
	for drains, says := range map[string]string{"": "comes to no point", " | drains to=haul": "holding and hauling"} {
		rows := one + strings.Replace(toAnother, " | drains to=north", drains, 1) + works(20, tenDays...) + prices
		w := wayOn(t, planOf(t, rows, at("out", 90)), "R", exposure.BatchTreatment)
		assert.Contains(t, w.Open+w.LeftOut, says)
		assert.Zero(t, w.Rank)
	}
	late := one + toAnother + works(20, tenDays...) + prices
	late = strings.Replace(late, "tank - | tank=T", "tank 2026-02-09 | tank=T", 1)
	w := wayOn(t, planOf(t, late, at("out", 90), at("north", 90)), "R", exposure.BatchTreatment)
	assert.InEpsilon(t, 0.9*5*onePart*25, w.Sum[working.Likely], 1e-9, "of the days on which it stands")
}

// Metal that leaves at another point instead is not kept, though no limit is on
// it there.
func TestMetalMovedToAPointWithoutALimitIsNotKept(t *testing.T) {
	rows := one + strings.Replace(toAnother, "removal=90 %", "removal=10 %", 1) + works(20, tenDays...) + prices
	w := wayOn(t, planOf(t, rows, at("out", 90)), "R", exposure.BatchTreatment)
	assert.InEpsilon(t, 0.1*10*onePart*25, w.Sum[working.Likely], 1e-9)
}

// The water of a rinse that another feeds carries what both send.
func TestARinseWithTheWaterOfAnotherIsNotChangedAlone(t *testing.T) {
	fed := strings.Replace(q, "fed from=mains", "fed from=R", 1)
	p := planOf(t, one+fed+toAnother+works(20, tenDays...)+prices, at("out", 900), at("north", 900))
	for _, kind := range []exposure.WayKind{exposure.HoldAndHaul, exposure.BatchTreatment} {
		assert.Contains(t, wayOn(t, p, "Q", kind).LeftOut, "can only be changed together")
		assert.Contains(t, wayOn(t, p, "R", kind).LeftOut, "its water feeds Q")
	}
}

// 10 L as they are and 30 L through T, which takes 90 %: both orders alike.
func TestTwoDumpsOnADayByTwoWays(t *testing.T) {
	treated := strings.Replace(strings.Replace(toAnother, "point - | point=north | body=sewer\n", "", 1), "drains to=north", "drains to=out", 1)
	dumps := []string{"dump 2026-02-06 | tank=N | volume=10 L | to=out\n", "dump 2026-02-06 | tank=N | volume=30 L | to=T\n"}
	for _, rows := range []string{dumps[0] + dumps[1], dumps[1] + dumps[0]} {
		w := wayOn(t, planOf(t, one+treated+works(20, tenDays...)+prices+rows, at("out", 900)), "N", exposure.HoldAndHaul)
		assert.InEpsilon(t, (800+240)*25.0, w.Sum[working.Likely], 1e-9)
		assert.InEpsilon(t, onePart/1.92, w.Nearest.High, 1e-9)
	}
}

// One dry day already does not hide nine more.
func TestMoreDaysWithoutWaterShow(t *testing.T) {
	rows := one + strings.Replace(q, "work 2026-02-03", "work 2026-02-01", 1) + "work 2026-02-04 | cycle=D | area=20 m² | loads=40 | drainage=vertical, well drained\n" +
		strings.Replace(works(20, tenDays...), "work 2026-02-02", "work 2026-02-16", 1)
	rows = strings.Replace(rows, "tank - | tank=R |", "tank 2026-02-02 | tank=R |", 1)
	w := wayOn(t, planOf(t, rows+prices, at("out", 900)), "R", exposure.HoldAndHaul)
	assert.Contains(t, w.Open, "in no water that the book knows of")
}

// On a Saturday nothing else leaves; on one day with work there is room.
func TestADumpOnAFreeDayIsLetInOnADayWithWork(t *testing.T) {
	p := planOf(t, one+works(20, tenDays...)+prices+"dump 2026-02-07 | tank=N | volume=0.5 L | to=out\n", at("out", 110))
	w := wayOn(t, p, "N", exposure.LetIn)
	assert.Contains(t, w.What, "not on a day without work")
	assert.LessOrEqual(t, w.Nearest.Share, 1.0)
	assert.Positive(t, w.Rank, w.LeftOut)
}
