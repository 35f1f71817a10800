package fume_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/fume"
)

func run(t require.TestingT, arguments ...string) (working.Outputs, error) {
	return workingtest.Run(t, fume.Methods(), "fume.water_loss", arguments...)
}

func text(t require.TestingT, out working.Outputs, name string) string {
	return workingtest.Text(t, out, name, quantity.Metric)
}

func TestBothScalesOfTemperature(t *testing.T) {
	celsius, err := run(t, "temperature=60 °C", "area=2 m²", "agitated=no")
	require.NoError(t, err)
	fahrenheit, err := run(t, "temperature=140 °F", "area=2 m²", "agitated=no")
	require.NoError(t, err)
	assert.Equal(t, text(t, celsius, "low"), text(t, fahrenheit, "low"))
	assert.Equal(t, text(t, celsius, "high"), text(t, fahrenheit, "high"))
}

func TestWhichCaveats(t *testing.T) {
	for _, c := range []struct {
		temperature, agitated string
		want                  []string
	}{
		{"140 °F", "no", []string{"two published sources that disagree", "interpolated by us"}},
		{"140 °F", "yes", []string{"two published sources that disagree", "interpolated by us", "is for a still surface"}},
		{"80 °F", "no", []string{"two published sources that disagree", "interpolated by us"}},
		{"79.9 °F", "no", []string{"only one of the two sources speaks"}},
		{"180.1 °F", "yes", []string{"only one of the two sources speaks"}},
	} {
		out, err := run(t, "temperature="+c.temperature, "area=1 m²", "agitated="+c.agitated)
		require.NoError(t, err)
		got := out.Caveats()
		require.Len(t, got, len(c.want), "%v: %v", c, got)
		for i, want := range c.want {
			assert.Contains(t, string(got[i]), want, c.temperature)
		}
	}
}

func TestBadInputs(t *testing.T) {
	for _, c := range []struct{ arguments, want string }{
		{"temperature=100 °C|area=1 m²|agitated=no", `temperature: at 100 °C water boils, and no evaporation is published`},
		{"temperature=60|area=1 m|agitated=maybe", "temperature: \"60\" has no unit\narea: \"1 m\" is a length; wanted is an area\nagitated: \"maybe\" is neither yes nor no"},
		{"temperature=60 °C|area=-1 m²|agitated=no", `area: "-1 m²" is negative`},
		{"area=1 m²", "temperature: it is not given\nagitated: it is not given"},
	} {
		_, err := run(t, strings.Split(c.arguments, "|")...)
		assert.EqualError(t, err, c.want)
	}
}

func TestWhatIsNotKnownStaysSo(t *testing.T) {
	r, err := fume.WaterLoss{Temperature: workingtest.Given(60 * quantity.DegreeCelsius), Agitated: workingtest.Given(false)}.Solve()
	require.NoError(t, err)
	assert.False(t, r.Low.Known() || r.High.Known())
	assert.Equal(t, "it was not given", r.High.Why())

	r, err = fume.WaterLoss{Area: workingtest.Given(1 * quantity.SquareMetre), Agitated: workingtest.Given(false)}.Solve()
	require.NoError(t, err)
	assert.False(t, r.Low.Known() || r.High.Known())
}

// Where it is not known whether air moves the tank, the range covers both.
func TestUnknownAgitation(t *testing.T) {
	tank := fume.WaterLoss{Temperature: workingtest.Given(60 * quantity.DegreeCelsius), Area: workingtest.Given(1 * quantity.SquareMetre)}
	open, err := tank.Solve()
	require.NoError(t, err)
	tank.Agitated = workingtest.Given(false)
	still, err := tank.Solve()
	require.NoError(t, err)
	tank.Agitated = workingtest.Given(true)
	agitated, err := tank.Solve()
	require.NoError(t, err)
	assert.Equal(t, still.Low.Is(), open.Low.Is())
	assert.Equal(t, agitated.High.Is(), open.High.Is())
	assert.Contains(t, open.Low.Caveats(), working.Caveat("it is not known whether air moves the tank: the range is that of still and air-agitated tanks together"))
	assert.NotContains(t, still.Low.Caveats(), open.Low.Caveats()[0])
}

func TestWorkingNamesBothSources(t *testing.T) {
	out, err := run(t, "temperature=140 °F", "area=10 ft²", "agitated=no")
	require.NoError(t, err)
	var got []string
	for _, s := range out.Steps() {
		got = append(got, s.Formula+": "+s.Result)
	}
	assert.Equal(t, []string{
		"E = e^(b × t − a), still, t in °F: 0.06928 gal/h·ft²",
		"E = E1 × (E2 / E1)^((t − t1) / (t2 − t1)), still: 0.09516 gal/h·ft²",
		"low: Q = the least E × A: 2.623 L/h",
		"high: Q = the greatest E × A: 3.602 L/h",
	}, got)
	assert.Contains(t, out.Steps()[0].Ref.String(), "Kirman's equations")
	assert.Contains(t, out.Steps()[1].Ref.String(), "EPA 625/8-82-008")
	assert.Contains(t, out.Steps()[1].Ref.String(), "interpolated here")
}

// A warmer tank loses no less, a greater surface in proportion, and low is
// never over high; air moves no less water off.
func TestWaterLoss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		celsius := rapid.Float64Range(5, 99).Draw(t, "temperature")
		warmer := rapid.Float64Range(celsius, 99).Draw(t, "warmer")
		agitated := rapid.Bool().Draw(t, "agitated")
		k := rapid.Float64Range(0.1, 50).Draw(t, "k")
		solve := func(celsius, area float64, agitated bool) fume.WaterLossResult {
			r, err := fume.WaterLoss{
				Temperature: workingtest.Given(quantity.Temperature(celsius) * quantity.DegreeCelsius),
				Area:        workingtest.Given(quantity.Area(area) * quantity.SquareMetre), Agitated: workingtest.Given(agitated),
			}.Solve()
			require.NoError(t, err)
			return r
		}
		one, wide := solve(celsius, 1, agitated), solve(celsius, k, agitated)
		assert.LessOrEqual(t, one.Low.Is(), one.High.Is())
		assert.Positive(t, one.Low.Is().LitresPerHour())
		assert.InEpsilon(t, k, float64(wide.High.Is()/one.High.Is()), 1e-12)
		assert.InEpsilon(t, k, float64(wide.Low.Is()/one.Low.Is()), 1e-12)
		if sameRange(celsius, warmer) {
			hot := solve(warmer, 1, agitated)
			assert.GreaterOrEqual(t, hot.Low.Is(), one.Low.Is())
			assert.GreaterOrEqual(t, hot.High.Is(), one.High.Is())
		}
		still, air := solve(celsius, 1, false), solve(celsius, 1, true)
		assert.GreaterOrEqual(t, air.High.Is(), still.Low.Is())
	})
}

// sameRange: from one range of sources to the next, low or high may jump.
func sameRange(a, b float64) bool {
	in := func(c float64) bool { return c >= (80.-32)*5/9 && c <= (180.-32)*5/9 }
	return in(a) == in(b) && (in(a) || (a < 40) == (b < 40))
}

func TestBoundsGoThrough(t *testing.T) {
	temperature := workingtest.Given(60*quantity.DegreeCelsius).Between(55*quantity.DegreeCelsius, 65*quantity.DegreeCelsius, "55 to 65 °C")
	r, err := fume.WaterLoss{Temperature: temperature, Area: workingtest.Given(1 * quantity.SquareMetre), Agitated: workingtest.Given(false)}.Solve()
	require.NoError(t, err)
	require.True(t, r.High.Spread())
	assert.Less(t, r.High.At(working.Low), r.High.Is())
	assert.Greater(t, r.High.At(working.High), r.High.Is())
}

func TestJSON(t *testing.T) {
	workingtest.JSON(t, fume.Methods(), map[string][]string{"fume.water_loss": {"temperature=140 °F", "area=10 ft²", "agitated=yes"}})
}

func TestFaultIsAFault(t *testing.T) {
	_, err := fume.WaterLoss{Temperature: workingtest.Given(120 * quantity.DegreeCelsius)}.Solve()
	f, ok := errors.AsType[*working.Fault](err)
	require.True(t, ok)
	assert.Equal(t, "temperature", f.Where)
}
