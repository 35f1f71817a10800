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

func litresPerLoad(v float64) working.Estimate[quantity.LoadVolume] {
	return workingtest.Given(quantity.LoadVolume(v) * quantity.LitrePerLoad)
}

func litres(v float64) working.Estimate[quantity.Volume] {
	return workingtest.Given(quantity.Volume(v) * quantity.Litre)
}

// loadByLoad carries d from the bath through every rinse, once for each load.
func loadByLoad(volume, d float64, loads, tanks int) []float64 {
	held := make([]float64, tanks)
	for range loads {
		before := 1.0
		for j := range held {
			held[j] = (volume*held[j] + d*before) / (volume + d)
			before = held[j]
		}
	}
	return held
}

func still(volume, d float64, loads, tanks int) rinse.Still {
	return rinse.Still{Volume: litres(volume), DragIn: litresPerLoad(d), Loads: workingtest.Given(loads), Tanks: workingtest.Given(tanks), Bath: workingtest.Given(quantity.GramsPerLitre(1))}
}

// The sum gives what carrying each load through gives, at any strength: a load
// or two in a long row is as exact as a rinse that is nearly the bath.
func TestStillIsLoadByLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume := rapid.Float64Range(10, 2000).Draw(t, "volume")
		d := volume * math.Exp(rapid.Float64Range(-9, -0.1).Draw(t, "ln(d/V)"))
		loads, tanks := rapid.IntRange(0, 400).Draw(t, "loads"), rapid.IntRange(1, 6).Draw(t, "tanks")
		r, err := still(volume, d, loads, tanks).Solve()
		require.NoError(t, err)
		for j, want := range loadByLoad(volume, d, loads, tanks) {
			got := grams(t, r.Concentrations[j])
			if want == 0 {
				assert.Zero(t, got)
				continue
			}
			assert.InEpsilon(t, want, got, 1e-10, "rinse %d", j+1)
		}
	})
}

// The loads to a target leave just that in the last rinse: whole loads below
// them less, above them more.
func TestLoadsToTarget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume := rapid.Float64Range(10, 500).Draw(t, "volume")
		d := volume * rapid.Float64Range(0.002, 0.4).Draw(t, "d/V")
		tanks := rapid.IntRange(1, 4).Draw(t, "tanks")
		share := rapid.Float64Range(1e-6, 0.9).Draw(t, "share")
		s := still(volume, d, 1, tanks)
		s.Share = workingtest.Given(share)
		r, err := s.Solve()
		require.NoError(t, err)
		loads := r.LoadsToTarget.Is()
		below, above := int(math.Floor(loads)), int(math.Ceil(loads))
		assert.LessOrEqual(t, loadByLoad(volume, d, below, tanks)[tanks-1], share*(1+1e-9))
		assert.GreaterOrEqual(t, loadByLoad(volume, d, above, tanks)[tanks-1], share*(1-1e-9))
		if tanks == 1 {
			assert.InEpsilon(t, math.Log(1-share)/math.Log(volume/(volume+d)), loads, 1e-9)
		}
	})
}

func TestTargetsThatAreNeverOrAtOnceReached(t *testing.T) {
	const never = "the last rinse never becomes as strong as that: it stays below the bath"
	s := still(100, 1, 10, 2)
	s.Share = workingtest.Given(1.0)
	r, err := s.Solve()
	require.NoError(t, err)
	assert.Equal(t, never, r.LoadsToTarget.Why())

	s.Share = workingtest.Given(0.0)
	r, err = s.Solve()
	require.NoError(t, err)
	assert.Zero(t, r.LoadsToTarget.Is())

	s.Share, s.DragIn = workingtest.Given(0.1), litresPerLoad(0)
	r, err = s.Solve()
	require.NoError(t, err)
	assert.Equal(t, never, r.LoadsToTarget.Why())
	assert.Zero(t, grams(t, r.Concentrations[0]))

	s.Share, s.Target = working.Estimate[float64]{}, workingtest.Given(quantity.GramsPerLitre(0.1))
	s.Bath = working.Absent[quantity.BathConcentration]("the bath has no make-up")
	r, err = s.Solve()
	require.NoError(t, err)
	assert.Equal(t, "the bath has no make-up", r.LoadsToTarget.Why())
}

func day(volume, d float64, loads, stages int, flow, hours float64) rinse.Day {
	return rinse.Day{
		Volume: litres(volume), Stages: workingtest.Given(stages), DragIn: litresPerLoad(d), Loads: workingtest.Given(loads),
		Flow: litresPerHour(flow), Hours: workingtest.Given(quantity.Duration(hours) * quantity.Hour), Bath: workingtest.Given(quantity.GramsPerLitre(1)),
	}
}

func held(t require.TestingT, d rinse.Day) []float64 {
	r, err := d.Solve()
	require.NoError(t, err)
	all := make([]float64, len(r.Concentrations))
	for i, c := range r.Concentrations {
		all[i] = grams(t, c)
	}
	return all
}

// Without water a counterflow is a row of still rinses.
func TestADayWithoutWaterIsStill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume, d := rapid.Float64Range(10, 500).Draw(t, "volume"), rapid.Float64Range(0.01, 5).Draw(t, "d")
		loads, stages := rapid.IntRange(0, 200).Draw(t, "loads"), rapid.IntRange(1, 5).Draw(t, "stages")
		assert.InDeltaSlice(t, loadByLoad(volume, d, loads, stages), held(t, day(volume, d, loads, stages, 0, 8)), 1e-12)
	})
}

// rungeKutta lets the water run in many small steps of the classical fourth
// order, the slow way to what Day does exactly.
func rungeKutta(held []float64, q, hours, volume float64) []float64 {
	const steps = 200
	h := hours / steps
	slope := func(c []float64) []float64 {
		all := make([]float64, len(c))
		for j := range c {
			behind := 0.0
			if j+1 < len(c) {
				behind = c[j+1]
			}
			all[j] = q / volume * (behind - c[j])
		}
		return all
	}
	along := func(c, k []float64, step float64) []float64 {
		all := make([]float64, len(c))
		for j := range c {
			all[j] = c[j] + step*k[j]
		}
		return all
	}
	for range steps {
		k1 := slope(held)
		k2 := slope(along(held, k1, h/2))
		k3 := slope(along(held, k2, h/2))
		k4 := slope(along(held, k3, h))
		for j := range held {
			held[j] += h / 6 * (k1[j] + 2*k2[j] + 2*k3[j] + k4[j])
		}
	}
	return held
}

func TestTheWaterBetweenLoadsIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume, d := rapid.Float64Range(50, 500).Draw(t, "volume"), rapid.Float64Range(0.05, 5).Draw(t, "d")
		loads, stages := rapid.IntRange(1, 12).Draw(t, "loads"), rapid.IntRange(1, 4).Draw(t, "stages")
		flow, hours := rapid.Float64Range(1, 400).Draw(t, "flow"), rapid.Float64Range(0.5, 10).Draw(t, "hours")
		want := make([]float64, stages)
		for load := range loads {
			if load > 0 {
				want = rungeKutta(want, flow, hours/float64(loads), volume)
			}
			before := 1.0
			for j := range want {
				want[j] = (volume*want[j] + d*before) / (volume + d)
				before = want[j]
			}
		}
		assert.InDeltaSlice(t, want, held(t, day(volume, d, loads, stages, flow, hours)), 1e-8)
	})
}

// Many small loads over a long time end at the counterflow's equilibrium.
func TestADayNearsTheCounterflow(t *testing.T) {
	const dragOut, flow, hours = 2.0, 30.0, 400.0
	for stages := 1; stages <= 4; stages++ {
		equilibrium, err := rinse.Counterflow{DragOut: litresPerHour(dragOut), Stages: workingtest.Given(stages), Water: litresPerHour(flow), Bath: workingtest.Given(quantity.GramsPerLitre(1))}.Solve()
		require.NoError(t, err)
		const loads = 200_000
		got := held(t, day(100, dragOut*hours/loads, loads, stages, flow, hours))
		for k, c := range equilibrium.Stages {
			// Right after a load of 4 mL into 100 L a stage is a part of a
			// thousand above its mean.
			assert.InEpsilon(t, grams(t, c), got[k], 2e-3, "stage %d of %d", k+1, stages)
		}
	}
}

// More loads make every rinse stronger, more water none; each stage is weaker
// than the one before.
func TestADayIsOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume, d := rapid.Float64Range(50, 500).Draw(t, "volume"), rapid.Float64Range(0.05, 5).Draw(t, "d")
		loads, stages := rapid.IntRange(1, 60).Draw(t, "loads"), rapid.IntRange(1, 5).Draw(t, "stages")
		flow := rapid.Float64Range(0, 400).Draw(t, "flow")
		one := held(t, day(volume, d, loads, stages, flow, 8))
		wetter := held(t, day(volume, d, loads, stages, flow+20, 8))
		// The same pace for one load more.
		longer := held(t, day(volume, d, loads+1, stages, flow, 8*float64(loads+1)/float64(loads)))
		before := 1.0
		for j := range one {
			assert.LessOrEqual(t, wetter[j], one[j]*(1+1e-12))
			assert.GreaterOrEqual(t, longer[j], one[j]*(1-1e-12))
			assert.Less(t, one[j], before)
			before = one[j]
		}
	})
}

func TestADayWithoutLoads(t *testing.T) {
	assert.Equal(t, []float64{0, 0}, held(t, day(100, 1, 0, 2, 30, 8)))
	assert.InDelta(t, 1./101, held(t, day(100, 1, 1, 1, 1e6, 8))[0], 1e-15, "one load is not washed before it is looked at")
}

// Loads that dip in before the bath carry a part of the rinse into it, and bring
// a part of the bath into the rinse after it: the rinse comes to half the bath,
// whatever it held first.
func TestDipByLoads(t *testing.T) {
	const volume, d = 100.0, 0.02
	r, err := rinse.Dip{Bath: workingtest.Given(quantity.GramsPerLitre(80))}.Solve()
	require.NoError(t, err)
	for _, first := range []float64{0, 80} {
		rinsed := first
		for range 40_000 {
			rinsed *= volume / (volume + d)                // wet work brings d of water and carries d of the mixture into the bath
			rinsed = (volume*rinsed + d*80) / (volume + d) // it brings d of the bath and takes d of the mixture on
		}
		assert.InEpsilon(t, rinsed, grams(t, r.Rinse), 2*d/volume)
	}
	assert.Equal(t, 0.5, r.Returned.Is())
}

func BenchmarkDay(b *testing.B) {
	d := day(200, 0.15, 400, 4, 240, 8)
	for b.Loop() {
		if _, err := d.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCounterflow(b *testing.B) {
	d := rinse.Counterflow{DragOut: litresPerHour(2), Stages: workingtest.Given(3), Ratio: workingtest.Given(5000.0), Bath: workingtest.Given(quantity.GramsPerLitre(70))}
	for b.Loop() {
		if _, err := d.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}

// What a rinse holds is what still.Solve finds in it, over what came in.
func TestHeldIsWhatTheStillRinseHolds(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		volume, d := rapid.Float64Range(10, 1000).Draw(r, "volume"), rapid.Float64Range(0.01, 5).Draw(r, "drag-in")
		loads := rapid.IntRange(1, 500).Draw(r, "loads")
		held, err := rinse.Held{Volume: litres(volume), DragIn: litres(d * float64(loads)), Loads: workingtest.Given(loads)}.Solve()
		require.NoError(r, err)
		filled := loadByLoad(volume, d, loads, 1)[0] // as a part of the bath
		assert.InEpsilon(r, filled*volume/(d*float64(loads)), held.Share.Is(), 1e-9)
	})
	_, err := rinse.Held{Volume: litres(100), DragIn: litres(1), Loads: workingtest.Given(0)}.Solve()
	assert.Equal(t, []string{"loads: no load brings anything | give a number of loads from 1 up"}, workingtest.Faults(err))
}
