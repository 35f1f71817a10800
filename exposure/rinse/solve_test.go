package rinse

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// excessOf is q + q² + … + q^n in 200 bits.
func excessOf(q float64, n int) *big.Float {
	sum, x := new(big.Float).SetPrec(200), new(big.Float).SetPrec(200).SetFloat64(q)
	for range n {
		sum.Add(sum, big.NewFloat(1))
		sum.Mul(sum, x)
	}
	return sum
}

// The root is good to the last digits that a double has, near a ratio of 1 too:
// one step of rounding to either side is on either side of the ratio.
func TestTheRootIsGoodToTheLastDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, mostStages).Draw(t, "stages")
		ratio := 1 + math.Exp(rapid.Float64Range(-30, 25).Draw(t, "ln(ratio - 1)"))
		if ratio == 1 {
			return
		}
		q := perDragOut(ratio, n)
		excess := new(big.Float).SetPrec(200).SetFloat64(ratio - 1)
		const slack = 8 * 0x1p-52
		assert.Negative(t, excessOf(q*(1-slack), n).Cmp(excess), "q = %v", q)
		assert.Positive(t, excessOf(q*(1+slack), n).Cmp(excess), "q = %v", q)
	})
}

func TestARatioOfOneTakesNoWater(t *testing.T) {
	for n := 1; n <= 4; n++ {
		assert.Zero(t, perDragOut(1, n))
	}
}

func TestPowers(t *testing.T) {
	assert.Equal(t, 1.0, powers(7, 0))
	assert.Equal(t, 4.0, powers(1, 3))
	assert.Equal(t, 15.0, powers(2, 3))
	assert.Equal(t, 1.0, powers(0, 5))
}

// What a load or two leave in the last of many rinses keeps its digits.
func TestFilledKeepsSmallParts(t *testing.T) {
	assert.InEpsilon(t, math.Pow(1e-3, 6), filled(1e-3, 1, 6), 1e-12)
	assert.InEpsilon(t, 7*math.Pow(1e-3, 6), filled(1e-3, 2, 6), 1e-2)
	assert.InDelta(t, 1, filled(0.4, 1e6, 6), 1e-15)
	assert.Zero(t, filled(0.1, 0, 1))
}
