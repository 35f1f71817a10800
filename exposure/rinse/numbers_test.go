package rinse_test

import (
	"bathwarden/chemicals/working/workingtest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/exposure/rinse"
)

// The numbers for walks are those of the formulas that show their working.
func TestNumbersAreTheFormulas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stages, q := rapid.IntRange(1, 6).Draw(t, "stages"), rapid.Float64Range(0, 100).Draw(t, "q")
		chain, err := rinse.Counterflow{DragOut: litresPerHour(1), Stages: workingtest.Given(stages), Water: litresPerHour(q)}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, chain.Ratio.Is(), rinse.Ratio(q, stages), 1e-12)

		effect := rapid.Float64Range(0.3, 1).Draw(t, "effect")
		spray, err := rinse.Spray{DragOut: litresPerHour(1), Water: litresPerHour(q), Effect: workingtest.Given(effect)}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, spray.Ratio.Is(), rinse.Sprayed(effect, q), 1e-12)
	})
}

// A mass carried in by loads of one volume, from any start, as load by load.
func TestStillMassIsLoadByLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume, each := rapid.Float64Range(10, 500).Draw(t, "volume"), rapid.Float64Range(0.01, 5).Draw(t, "each")
		loads := rapid.IntRange(1, 200).Draw(t, "loads")
		before, strength := rapid.Float64Range(0, 1000).Draw(t, "before"), rapid.Float64Range(0, 100).Draw(t, "g/L")
		mass := before
		for range loads {
			mass = (mass + each*strength) * volume / (volume + each)
		}
		d := each * float64(loads)
		assert.InDelta(t, mass, rinse.StillMass(before, d*strength, volume, d, loads), 1e-9*(1+mass))
	})
	assert.Equal(t, 7.0, rinse.StillMass(5, 2, 100, 0, 3), "what comes in without a volume stays")
}

func TestSprayEffectIsOfTheTable(t *testing.T) {
	least, most := rinse.SprayEffect()
	assert.Less(t, least.Is(), most.Is())
	assert.Equal(t, "from memory", least.Ref().Standing.String())
}
