package working_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

var handbook = source.Ref{Document: "a handbook", Place: "table 1", Year: 1990, Standing: source.Handbook}

func volume(litres float64, text string) working.Estimate[quantity.Volume] {
	return working.Given(source.Value[quantity.Volume]{Is: quantity.Volume(litres) * quantity.Litre, Origin: source.Recorded, Ref: source.Entry(7)}, text)
}

func ratio(part, whole working.Estimate[quantity.Volume]) working.Estimate[float64] {
	return working.Compute(working.Formula{Line: "r = a / b", Unit: "%", Ref: handbook},
		func(c working.Case) float64 { return float64(part.At(c) / whole.At(c)) },
		part.As("a", "part"), whole.As("b", "whole"))
}

func TestAbsentIsNeverZero(t *testing.T) {
	var none working.Estimate[quantity.Volume]
	assert.False(t, none.Known())
	assert.Equal(t, "it was not given", none.Why())
	assert.Panics(t, func() { none.Is() })

	unread := working.Absent[quantity.Volume]("the tank has no working volume")
	r := ratio(unread, working.Absent[quantity.Volume]("the bath is not listed")).WithCaveats("rough")
	assert.False(t, r.Known())
	assert.Equal(t, "the tank has no working volume; the bath is not listed", r.Why())
	assert.Empty(t, r.Caveats())
	assert.Equal(t, "the tank has no working volume", ratio(unread, unread).Why(), "a reason is given once")
	assert.False(t, working.Number(r, "%").Known())
	assert.Equal(t, r.Why(), working.Number(r, "%").Why())
}

func TestComputeKeepsTheWorking(t *testing.T) {
	part, whole := volume(1, "1 L").WithCaveats("read by eye"), volume(4, "4000 mL")
	r := ratio(part, whole).WithCaveats("rough", "read by eye")
	assert.Equal(t, 0.25, r.Is())
	assert.Equal(t, "25.00 %", r.Text())
	assert.Equal(t, source.Computed, r.Origin())
	assert.Equal(t, handbook, r.Ref())
	assert.Equal(t, []working.Caveat{"read by eye", "rough"}, r.Caveats())
	require.Equal(t, []working.Step{{
		Formula: "r = a / b",
		Inputs: []working.Input{
			{Symbol: "a", What: "part", Value: "1 L", Origin: source.Recorded, Ref: source.Entry(7)},
			{Symbol: "b", What: "whole", Value: "4000 mL", Origin: source.Recorded, Ref: source.Entry(7)},
		},
		Result: "25.00 %", Ref: handbook,
	}}, r.Steps())
	assert.Equal(t, "recorded: record book, entry 7, shop's own record", r.Steps()[0].Inputs[0].Known())

	doubled := working.Compute(working.Formula{Line: "s = r + r"}, func(c working.Case) float64 { return r.At(c) + r.At(c) }, r.As("r", ""), r.As("r", ""))
	require.Len(t, doubled.Steps(), 2, "an earlier step stands once")
	assert.Equal(t, "r = a / b", doubled.Steps()[0].Formula)
	assert.Equal(t, "0.5000", doubled.Text())
	assert.Equal(t, "computed: a handbook, table 1, 1990, handbook", doubled.Steps()[1].Inputs[0].Known())
	assert.Equal(t, []working.Caveat{"read by eye", "rough"}, doubled.Caveats())
}

func TestLowGoesWithLow(t *testing.T) {
	dragged := volume(2, "").Between(1, 4, "2 L (1 to 4 L)")
	r := ratio(volume(8, "8 L"), dragged)
	require.True(t, r.Spread())
	assert.Equal(t, []float64{8, 4, 2}, []float64{r.At(working.Low), r.At(working.Likely), r.At(working.High)})
	assert.Equal(t, "400.0 % (low 800.0 %, high 200.0 %)", r.Text())

	times := 0
	working.Compute(working.Formula{}, func(working.Case) float64 { times++; return 1 }, volume(1, "1 L").As("V", ""))
	assert.Equal(t, 1, times, "without bounds one case is worked out")
}

func TestLikeEntriesAreCounted(t *testing.T) {
	drum, tote := volume(208, "55 gal"), volume(1041, "275 gal").WithCaveats("read by eye")
	term := working.AsList([]working.Estimate[quantity.Volume]{drum, drum, tote, drum}, "V", "volumes")
	sum := working.Compute(working.Formula{Line: "ΣV"}, func(working.Case) float64 { return 0 }, term)
	assert.Equal(t, "2 × 55 gal; 275 gal; 55 gal", sum.Steps()[0].Inputs[0].Value)
	assert.Equal(t, []working.Caveat{"read by eye"}, sum.Caveats())

	holed := working.AsList([]working.Estimate[quantity.Volume]{drum, working.Absent[quantity.Volume]("the tote is not measured")}, "V", "")
	assert.Equal(t, "the tote is not measured", working.Compute(working.Formula{}, func(working.Case) float64 { return 0 }, holed).Why())
}

func TestWorkingPrintsFigures(t *testing.T) {
	for _, c := range []struct {
		is   float64
		want string
	}{
		{0, "0"}, {1234.5, "1235"}, {0.00012344, "0.0001234"}, {1.5e-9, "1.500e-09"}, {2.5e12, "2.500e+12"},
	} {
		got := working.Compute(working.Formula{}, func(working.Case) float64 { return c.is }).Text()
		assert.Equal(t, c.want, got, "%v", c.is)
	}
	yes := working.Compute(working.Formula{}, func(working.Case) bool { return true })
	assert.Equal(t, "yes", yes.Text())
	usual := working.Compute(working.Formula{}, func(working.Case) quantity.Volume { return quantity.Gallon })
	assert.Equal(t, "3.785 L", usual.Text())
	assert.Panics(t, func() {
		working.Compute(working.Formula{Unit: "kg"}, func(working.Case) quantity.Volume { return 1 })
	}, "a unit of another thing is a mistake of the program")
}
