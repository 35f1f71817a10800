package rinse_test

import (
	"bathwarden/chemicals/working/workingtest"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/rinse"
)

// The flows for each flow of drag-out that were worked out by hand for the
// usual ratios; no published table has the exact ones.
func TestExactFlows(t *testing.T) {
	for _, c := range []struct {
		ratio       float64
		counterflow [4]string // 1 to 4 stages
		separate    [2]string // 2 and 3 rinses
	}{
		{100, [4]string{"99.0", "9.46", "4.25", "2.84"}, [2]string{"18.0", "10.9"}},
		{1000, [4]string{"999", "31.1", "9.64", "5.34"}, [2]string{"61.2", "27.0"}},
		{2000, [4]string{"1999", "44.2", "12.2", "6.41"}, [2]string{"87.4", "34.8"}},
		{5000, [4]string{"4999", "70.2", "16.8", "8.14"}, [2]string{"139", "48.3"}},
		{10000, [4]string{"9999", "99.5", "21.2", "9.73"}, [2]string{"198", "61.6"}},
		{20000, [4]string{"19999", "141", "26.8", "11.6"}, [2]string{"281", "78.4"}},
	} {
		for i, want := range c.counterflow {
			r, err := rinse.Counterflow{DragOut: litresPerHour(1), Stages: workingtest.Given(i + 1), Ratio: workingtest.Given(c.ratio)}.Solve()
			require.NoError(t, err)
			assert.Equal(t, want, quantity.Significant(r.Water.Is().LitresPerHour(), 3), "%v in %d stages", c.ratio, i+1)
		}
		for i, want := range c.separate {
			r, err := rinse.Separate{DragOut: litresPerHour(1), Stages: workingtest.Given(i + 2), Ratio: workingtest.Given(c.ratio)}.Solve()
			require.NoError(t, err)
			assert.Equal(t, want, quantity.Significant(r.Water.Is().LitresPerHour(), 3), "%v in %d rinses", c.ratio, i+2)
		}
	}
}

// The exact flow for two stages is nearer to r^(1/n) − 1/n than to the rule, and
// the form that adds 1/n is off to the other side.
func TestTheRootRuleStandsBeside(t *testing.T) {
	r, err := rinse.Counterflow{DragOut: litresPerHour(1), Stages: workingtest.Given(2), Ratio: workingtest.Given(7297.0)}.Solve()
	require.NoError(t, err)
	assert.Equal(t, "84.9", quantity.Significant(r.Water.Is().LitresPerHour(), 3))
	assert.Equal(t, "85.4", quantity.Significant(r.WaterRoot.Is().LitresPerHour(), 3))
}

func drawAsked(t *rapid.T) (dragOut, ratio float64, stages int) {
	return rapid.Float64Range(1e-3, 1e3).Draw(t, "drag-out"), 1 + math.Exp(rapid.Float64Range(-8, 14).Draw(t, "ln(ratio - 1)")), rapid.IntRange(1, 12).Draw(t, "stages")
}

// The water for a ratio gives that ratio back, in every arrangement; more stages
// take no more water; a counterflow takes no more than rinses with water of
// their own.
func TestWaterAndRatioInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dragOut, ratio, stages := drawAsked(t)
		mixing := rapid.Float64Range(0.2, 1).Draw(t, "mixing")
		counter := rinse.Counterflow{DragOut: litresPerHour(dragOut), Stages: workingtest.Given(stages), Ratio: workingtest.Given(ratio), Mixing: workingtest.Given(mixing)}
		forward, err := counter.Solve()
		require.NoError(t, err)
		counter.Ratio, counter.Water = working.Estimate[float64]{}, forward.Water
		back, err := counter.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, ratio, back.Ratio.Is(), 1e-12)

		own := rinse.Separate{DragOut: litresPerHour(dragOut), Stages: workingtest.Given(stages), Ratio: workingtest.Given(ratio), Mixing: workingtest.Given(mixing)}
		apart, err := own.Solve()
		require.NoError(t, err)
		own.Ratio, own.Water = working.Estimate[float64]{}, apart.Water
		again, err := own.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, ratio, again.Ratio.Is(), 1e-12)

		assert.LessOrEqual(t, float64(forward.Water.Is()), float64(apart.Water.Is())*(1+1e-12))
		counter.Water, counter.Ratio, counter.Stages = working.Estimate[quantity.Flow]{}, workingtest.Given(ratio), workingtest.Given(stages+1)
		longer, err := counter.Solve()
		require.NoError(t, err)
		assert.LessOrEqual(t, float64(longer.Water.Is()), float64(forward.Water.Is())*(1+1e-12))
	})
}

func TestOneStageIsOneRunningRinse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dragOut, ratio, _ := drawAsked(t)
		one, err := rinse.Running{DragOut: litresPerHour(dragOut), Ratio: workingtest.Given(ratio), Bath: workingtest.Given(quantity.GramsPerLitre(80))}.Solve()
		require.NoError(t, err)
		chain, err := rinse.Counterflow{DragOut: litresPerHour(dragOut), Stages: workingtest.Given(1), Ratio: workingtest.Given(ratio), Bath: workingtest.Given(quantity.GramsPerLitre(80))}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(one.Water.Is()), float64(chain.Water.Is()), 1e-12)
		assert.InEpsilon(t, grams(t, one.Rinse), grams(t, chain.Stages[0]), 1e-12)
		assert.InEpsilon(t, 80/ratio, grams(t, one.Rinse), 1e-12)
	})
}

// What enters each stage leaves it: D × Ck−1 + Q × Ck+1 = (D + Q) × Ck.
func TestEachStageBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dragOut, _, stages := drawAsked(t)
		water := dragOut * rapid.Float64Range(0, 200).Draw(t, "q")
		const bath = 90.0
		r, err := rinse.Counterflow{DragOut: litresPerHour(dragOut), Stages: workingtest.Given(stages), Water: litresPerHour(water), Bath: workingtest.Given(quantity.GramsPerLitre(bath))}.Solve()
		require.NoError(t, err)
		held := []float64{bath}
		for _, c := range r.Stages {
			held = append(held, grams(t, c))
		}
		held = append(held, 0) // fresh water
		for k := 1; k <= stages; k++ {
			in := dragOut*held[k-1] + water*held[k+1]
			assert.InEpsilon(t, in, (dragOut+water)*held[k], 1e-9, "stage %d of %d", k, stages)
		}
	})
}

func TestSeparateStages(t *testing.T) {
	r, err := rinse.Separate{DragOut: litresPerHour(1), Stages: workingtest.Given(3), Water: litresPerHour(27), Bath: workingtest.Given(quantity.GramsPerLitre(100)), Mixing: workingtest.Given(0.5)}.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 9, r.Each.Is().LitresPerHour(), 1e-12)
	assert.InEpsilon(t, 500, r.Ratio.Is(), 1e-12)
	assert.InDeltaSlice(t, []float64{20, 2, 0.2}, []float64{grams(t, r.Stages[0]), grams(t, r.Stages[1]), grams(t, r.Stages[2])}, 1e-9)
}

// A bath that returns what evaporation makes room for loses only what the last
// stage carries on.
func TestReturnIsWhatTheCounterflowKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dragOut, _, stages := drawAsked(t)
		evaporation := dragOut * math.Exp(rapid.Float64Range(-12, 3).Draw(t, "ln q"))
		r, err := rinse.Return{DragOut: litresPerHour(dragOut), Evaporation: litresPerHour(evaporation), Stages: workingtest.Given(stages)}.Solve()
		require.NoError(t, err)
		chain, err := rinse.Counterflow{DragOut: litresPerHour(dragOut), Stages: workingtest.Given(stages), Water: litresPerHour(evaporation), Bath: workingtest.Given(quantity.GramsPerLitre(1))}.Solve()
		require.NoError(t, err)
		assert.InDelta(t, 1-grams(t, chain.Stages[stages-1]), r.Recovered.Is(), 1e-12)
		assert.InEpsilon(t, evaporation*grams(t, chain.Stages[0])/dragOut, r.Recovered.Is(), 1e-9, "all that is kept leaves by the first stage")
	})
}

func TestNothingEvaporatesNothingReturns(t *testing.T) {
	r, err := rinse.Return{DragOut: litresPerHour(1), Evaporation: litresPerHour(0), Stages: workingtest.Given(3)}.Solve()
	require.NoError(t, err)
	assert.Zero(t, r.Recovered.Is())
}

// What the resin takes up is what the work loses on its way, and a resin that
// holds all back is fresh water.
func TestLoopBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dragOut, _, stages := drawAsked(t)
		water := dragOut * rapid.Float64Range(0.01, 200).Draw(t, "q")
		removal := rapid.Float64Range(0.01, 1).Draw(t, "removal")
		loop := rinse.Loop{
			DragOut: litresPerHour(dragOut), Water: litresPerHour(water), Stages: workingtest.Given(stages), Removal: workingtest.Given(removal),
			Bath: workingtest.Given(quantity.GramsPerLitre(60)), Capacity: workingtest.Given(2 * quantity.Kilogram),
		}
		r, err := loop.Solve()
		require.NoError(t, err)
		first, last := grams(t, r.Stages[0]), grams(t, r.Stages[stages-1])
		assert.InDelta(t, dragOut*(60-last), r.Caught.Is().GramsPerHour(), dragOut*60*1e-9)
		assert.InEpsilon(t, 60/last, r.Ratio.Is(), 1e-9)
		assert.InDelta(t, (1-removal)*first, grams(t, r.Returned), 1e-9)
		assert.InEpsilon(t, 2000/r.Caught.Is().GramsPerHour(), r.Lasts.Is().Hours(), 1e-9)
		if stages == 1 {
			assert.InEpsilon(t, 1+removal*water/dragOut, r.Ratio.Is(), 1e-9)
		}

		loop.Removal = workingtest.Given(1.0)
		fresh, err := loop.Solve()
		require.NoError(t, err)
		chain, err := rinse.Counterflow{DragOut: loop.DragOut, Stages: loop.Stages, Water: loop.Water}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, chain.Ratio.Is(), fresh.Ratio.Is(), 1e-9)
		assert.LessOrEqual(t, r.Ratio.Is(), fresh.Ratio.Is()*(1+1e-9))
	})
}

func TestLoopRefusalsAndGaps(t *testing.T) {
	_, err := rinse.Loop{Removal: workingtest.Given(0.0), DragOut: litresPerHour(0)}.Solve()
	got := workingtest.Faults(err)
	require.Len(t, got, 3)
	assert.Contains(t, got[2], "removal: a resin that holds anything back")

	r, err := rinse.Loop{DragOut: litresPerHour(1), Water: litresPerHour(0), Stages: workingtest.Given(1), Removal: workingtest.Given(1.0), Bath: workingtest.Given(quantity.GramsPerLitre(60)), Capacity: workingtest.Given(quantity.Kilogram)}.Solve()
	require.NoError(t, err)
	assert.Equal(t, "the resin takes nothing up", r.Lasts.Why())
	bath, err := quantity.Parse[quantity.BathConcentration]("12 % v/v")
	require.NoError(t, err)
	r, err = rinse.Loop{DragOut: litresPerHour(1), Water: litresPerHour(99), Stages: workingtest.Given(1), Removal: workingtest.Given(1.0), Bath: workingtest.Given(bath)}.Solve()
	require.NoError(t, err)
	assert.Equal(t, "the bath is not given as a mass in its volume", r.Caught.Why())
	assert.Contains(t, r.Lasts.Why(), "the bath is not given as a mass in its volume")
	share, err := quantity.In(r.Stages[0].Is(), "% v/v")
	require.NoError(t, err)
	assert.InEpsilon(t, 0.12, share, 1e-12)
}
