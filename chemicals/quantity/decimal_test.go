package quantity_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/quantity"
)

// What spreadsheet programs show; binary expansions say otherwise.
func TestFixed(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{2.675, 2, "2.68"}, {1.005, 2, "1.01"}, {-2.675, 2, "-2.68"}, {0.5, 0, "1"}, {-0.5, 0, "-1"}, {2.5, 0, "3"},
		{0.1 + 0.2, 15, "0.300000000000000"}, {-0.004, 2, "0.00"}, {math.Copysign(0, -1), 1, "0.0"},
		{9.995, 2, "10.00"}, {1e15, 0, "1000000000000000"}, {1234.5, 3, "1234.500"},
	} {
		assert.Equal(t, c.want, quantity.Fixed(c.v, c.decimals), "%v, %d", c.v, c.decimals)
	}
}

func TestSignificant(t *testing.T) {
	for _, c := range []struct {
		v      float64
		digits int
		want   string
	}{
		{7.570823568, 3, "7.57"}, {9.995, 3, "10.0"}, {9.996, 3, "10.0"}, {9.994, 3, "9.99"}, {99.95, 3, "100"},
		{0.0099995, 4, "0.01000"}, {0.025, 1, "0.03"}, {123456, 3, "123456"}, {0, 3, "0"}, {-0.0266261, 2, "-0.027"},
		{1e-15, 3, "0.000000000000"}, {0.95, 1, "1"}, {999.5, 3, "1000"},
	} {
		assert.Equal(t, c.want, quantity.Significant(c.v, c.digits), "%v, %d", c.v, c.digits)
	}
}

func TestPlain(t *testing.T) {
	for want, v := range map[string]float64{
		"0.3": 0.1 + 0.2, "350": 350, "0.00000001": 1e-8, "100000000000000000000": 1e20, "0": math.Copysign(0, -1), "-2.5": -2.5,
	} {
		assert.Equal(t, want, quantity.Plain(v))
	}
}

func TestWhatIsNoFigureIsNotPrinted(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.Panics(t, func() { quantity.Fixed(v, 1) }, "%v", v)
		assert.Panics(t, func() { quantity.Plain(v) }, "%v", v)
		assert.Panics(t, func() { quantity.Decimals(v, 3) }, "%v", v)
		assert.False(t, quantity.Finite(quantity.Volume(v)), "%v", v)
		_, err := quantity.State(quantity.Volume(v), "L")
		assert.EqualError(t, err, "the figure is not a number", "%v", v)
	}
}
