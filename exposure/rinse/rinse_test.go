package rinse_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/rinse"
)

func run(t require.TestingT, name string, arguments ...string) (working.Outputs, error) {
	return workingtest.Run(t, rinse.Methods(), name, arguments...)
}

func text(t require.TestingT, out working.Outputs, name string) string {
	return workingtest.Text(t, out, name, quantity.Metric)
}

func litresPerHour(v float64) working.Estimate[quantity.Flow] {
	return workingtest.Given(quantity.Flow(v) * quantity.LitrePerHour)
}

func grams(t require.TestingT, c working.Estimate[quantity.BathConcentration]) float64 {
	require.True(t, c.Known(), c.Why())
	g, byMass := c.Is().GramsPerLitre()
	require.True(t, byMass)
	return g
}

func TestBadInputs(t *testing.T) {
	const noRatio = `drag_out: with a drag-out of zero there is nothing to rinse and no ratio | give the drag-out: drag_out="2 L/h"`
	const fromOne = `give a number of tanks from 1 to 50`
	for _, c := range []struct {
		method    string
		arguments []string
		want      []string
	}{
		{"rinse.running", []string{"drag_out=1 L/h"}, []string{`water: neither water nor a wanted ratio is given | give water="10 L/min" to learn the ratio, or ratio=1000 to learn the water`}},
		{"rinse.running", []string{"drag_out=1 L/h", "water=1 L/h", "ratio=2"}, []string{`water: both a flow of water and a wanted ratio or target are given | give the water to learn the ratio, or the ratio to learn the water`}},
		{"rinse.running", []string{"drag_out=1 L/h", "bath=1 g/L", "target=1 mg/L", "ratio=2"}, []string{`target: both a ratio and a target are given | give one of them`}},
		{"rinse.running", []string{"drag_out=1 L/h", "bath=1 g/L", "target=1 %", "ratio=2"}, []string{`target: both a ratio and a target are given | give one of them`}},
		{"rinse.running", []string{"drag_out=1 L/h", "target=1 mg/L"}, []string{`bath: a target is given without the concentration in the bath | give bath="70 g/L"`}},
		{"rinse.running", []string{"drag_out=0 L/h", "water=3 L/h"}, []string{noRatio}},
		{"rinse.running", []string{"drag_out=1 L/h", "ratio=0.5", "mixing=120 %"}, []string{
			`mixing: a rinse mixes to more than 0 % and at most 100 % | give the share of the ideal ratio that it reaches: mixing="80 %"`,
			`ratio: no rinse is stronger than its bath: a ratio is 1 or more | give how many times weaker than the bath the rinse shall be: ratio=1000`,
		}},
		{"rinse.running", []string{"drag_out=1 L/h", "bath=1 g/L", "target=2 g/L"}, []string{`target: the bath holds no more than the target | check both concentrations; there is nothing to rinse`}},
		{"rinse.running", []string{"drag_out=1 L/h", "bath=1 g/L", "target=0 g/L"}, []string{`target: a target of zero takes endless water | give what the rinse may hold: target="37 mg/L"`}},
		{"rinse.running", []string{"drag_out=1 L/h", "bath=1 g/L", "target=0 %"}, []string{`target: 0 % of the bath is no target for a rinse | give what the last rinse may hold, over 0 % and at most 100 % of the bath: target="0.1 %"`}},
		{"rinse.running", []string{"drag_out=1 L/h", "bath=1 mL/L", "target=2 mg/L"}, []string{`target: 2 mg/L is on another basis than the bath, 1 mL/L | give both in the same unit`}},
		{"rinse.running", []string{"drag_out=1 L", "ratio=x", "bath=70", "target=3 ppm", "mixing=0.8"}, []string{
			`drag_out: "1 L" is a volume; wanted is a flow of water | write it as "6 L/min"`,
			`ratio: "x" is not a bare number | write it without a unit, with a decimal point: "1.5"`,
			`bath: "70" has no unit | write it as "350 g/L"`,
			`mixing: "0.8" does not say that it is a share | write the share in percent; 0.8 of the whole is "80 %"`,
			`target: "3 ppm" does not say parts of what | write what was measured: mg/L in water, mg/kg in a solid, ppm only for air; here as in "350 g/L"`,
		}},
		{"rinse.counterflow", []string{"drag_out=1 L/h", "stages=0", "ratio=0"}, []string{
			`stages: 0 of them are no rinse that is worked out here | ` + fromOne,
			`ratio: no rinse is stronger than its bath: a ratio is 1 or more | give how many times weaker than the bath the rinse shall be: ratio=1000`,
		}},
		{"rinse.separate", []string{"drag_out=0 L/h", "stages=51", "water=1 L/h"}, []string{`stages: 51 of them are no rinse that is worked out here | ` + fromOne, noRatio}},
		{"rinse.still", []string{"volume=0 L", "drag_in=1 mL", "loads=3", "tanks=0", "bath=1 g/L", "target=1 mL/L"}, []string{
			`tanks: 0 of them are no rinse that is worked out here | ` + fromOne,
			`volume: a rinse without volume holds nothing | give the volume of one rinse: volume="200 L"`,
			`target: 1 mL/L is on another basis than the bath, 1 g/L | give both in the same unit`,
		}},
		{"rinse.still", []string{"volume=1 L", "drag_in=1 L", "loads=3", "tanks=1", "bath=1 g/L"}, []string{`drag_in: one load brings as much as the rinse holds | check the drag-in of one load and the volume of the rinse`}},
		{"rinse.day", []string{"volume=1 L", "stages=1", "drag_in=1 mL", "loads=1000001", "flow=1 L/h", "hours=8 h", "bath=1 g/L"}, []string{`loads: no day has 1000001 loads | give the loads of one day, at most 1000000`}},
		{"rinse.day", []string{"volume=1 L", "stages=1", "drag_in=1 mL", "loads=-1", "flow=1 L/h", "hours=-8", "bath=1 g/L"}, []string{
			`loads: "-1" is not a whole number from zero up | write it in digits, without a unit: "2"`,
			`hours: "-8" has no unit | write it as "8 h"`,
		}},
		{"rinse.spray", []string{"drag_out=0 L/h", "water=1 L/h", "effect=-1"}, []string{noRatio, `effect: no spray makes the work dirtier | give the effect of the spray: effect=0.5`}},
		{"rinse.return", []string{"drag_out=0 L/h", "evaporation=1 L/h", "stages=0"}, []string{`stages: 0 of them are no rinse that is worked out here | ` + fromOne, noRatio}},
		{"rinse.cost", []string{"flow=1 L/h", "hours_per_day=25 h", "days_per_year=400", "price=1 USD/L"}, []string{
			`hours_per_day: a day has no more than 24 hours | give the hours that the water runs: hours_per_day="8 h"`,
			`days_per_year: a year has 0 to 366 days | give the days that the water runs: days_per_year=260`,
		}},
		{"rinse.cost", []string{"flow=1000000 L/min", "hours_per_day=24 h", "days_per_year=366", "price=1000 USD/L"}, []string{`price: the cost of a year comes to "527040000000000 USD" is beyond belief for a sum of money | check flow, hours and price`}},
	} {
		_, err := run(t, c.method, c.arguments...)
		assert.Equal(t, c.want, workingtest.Faults(err), "%s %v", c.method, c.arguments)
	}
}

// What is not known stays so, with its reason, and is no fault.
func TestUnknownIsNotZero(t *testing.T) {
	unknown := working.Absent[quantity.Flow]("no drag-out is recorded")
	r, err := rinse.Counterflow{DragOut: unknown, Stages: workingtest.Given(2), Ratio: workingtest.Given(1000.0), Bath: workingtest.Given(quantity.GramsPerLitre(70))}.Solve()
	require.NoError(t, err)
	assert.Equal(t, "no drag-out is recorded", r.Water.Why())
	assert.Equal(t, "no drag-out is recorded", r.WaterRoot.Why())
	assert.Equal(t, 1000.0, r.Ratio.Is())
	assert.InEpsilon(t, 0.070, grams(t, r.Stages[1]), 1e-12, "the ratio alone gives the concentrations")

	r, err = rinse.Counterflow{DragOut: unknown, Stages: workingtest.Given(2), Water: litresPerHour(10), Bath: workingtest.Given(quantity.GramsPerLitre(70)), Mixing: workingtest.Given(0.5)}.Solve()
	require.NoError(t, err)
	assert.Equal(t, "no drag-out is recorded", r.Ratio.Why())
	assert.Equal(t, "no drag-out is recorded", r.Stages[0].Why())

	day, err := rinse.Day{Stages: workingtest.Given(1), Flow: litresPerHour(0)}.Solve()
	require.NoError(t, err)
	assert.False(t, day.Concentrations[0].Known())
	assert.Equal(t, "without a flow the water is never turned over", day.Turnover.Why())

	cost, err := rinse.Cost{Flow: litresPerHour(60), HoursPerDay: workingtest.Given(8 * quantity.Hour), DaysPerYear: workingtest.Given(250.0), Price: working.Absent[quantity.MoneyPerVolume]("no price of water is recorded")}.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 120, cost.Volume.Is().CubicMetres(), 1e-12)
	assert.Equal(t, "no price of water is recorded", cost.Cost.Why())

	dip, err := rinse.Dip{}.Solve()
	require.NoError(t, err)
	assert.False(t, dip.Rinse.Known())
	assert.Equal(t, 0.5, dip.Returned.Is())
}

func TestTargetsAndUnits(t *testing.T) {
	for _, c := range []struct{ bath, target, want string }{
		{"70 g/L", "70 mg/L", "1000"},
		{"70 g/L", "70000 µg/L", "1000"},
		{"70000 mg/L", "0.07 g/L", "1000"},
		{"10 oz/gal", "0.01 oz/gal", "1000"},
		{"100 mL/L", "0.1 mL/L", "1000"},
		{"10 % v/v", "0.1 mL/L", "1000"},
		{"12 % w/w", "0.012 % w/w", "1000"},
		{"2 mol/L", "0.002 mol/L", "1000"},
		{"2 N (1/2 H2SO4)", "0.002 N (1/2 H2SO4)", "1000"},
		{"2 N (1/2 H2SO4)", "0.1 %", "1000"},
	} {
		out, err := run(t, "rinse.running", "drag_out=1 gal/h", "bath="+c.bath, "target="+c.target)
		require.NoError(t, err, c)
		assert.Equal(t, c.want, text(t, out, "ratio"), c)
		assert.Equal(t, "3782 L/h", text(t, out, "water"), c)
	}
	out, err := run(t, "rinse.running", "drag_out=1 gal/h", "bath=2 N (1/2 H2SO4)", "water=9 gal/h")
	require.NoError(t, err)
	assert.Equal(t, "0.2000 N (1/2 H2SO4)", text(t, out, "rinse"))
	out, err = run(t, "rinse.still", "volume=100 gal", "drag_in=0.1 gal", "loads=1", "tanks=1", "bath=12 % w/w")
	require.NoError(t, err)
	assert.Equal(t, "0.01199 % w/w", text(t, out, "concentrations"))
}

func TestHoursAndDays(t *testing.T) {
	for _, given := range [][]string{
		{"hours_per_day=8 h", "days_per_year=250"}, {"hours_per_day=8", "days_per_year=250 day"}, {"hours_per_day=480 min", "days_per_year=6000 h"},
	} {
		out, err := run(t, "rinse.cost", append(given, "flow=1 m³/h", "price=4.10 EUR/m³")...)
		require.NoError(t, err, given)
		assert.Equal(t, "2000 m³", text(t, out, "volume"), given)
		assert.Equal(t, "8200 EUR", text(t, out, "cost"), given)
	}
}

func TestMixingIsAFactorOnTheRatio(t *testing.T) {
	mixed, err := run(t, "rinse.counterflow", "drag_out=1 L/h", "stages=2", "ratio=1000", "mixing=50 %", "bath=100 g/L")
	require.NoError(t, err)
	ideal, err := run(t, "rinse.counterflow", "drag_out=1 L/h", "stages=2", "ratio=2000", "bath=100 g/L")
	require.NoError(t, err)
	assert.Equal(t, text(t, ideal, "water"), text(t, mixed, "water"))
	assert.Equal(t, text(t, ideal, "water_root"), text(t, mixed, "water_root"))
	assert.Equal(t, "1000", text(t, mixed, "ratio"))
	assert.Contains(t, text(t, mixed, "stages"), "; 100.0 mg/L")
	assert.Contains(t, text(t, ideal, "stages"), "; 50.00 mg/L")
	assert.Contains(t, fmt.Sprint(mixed.Caveats()), "one stated factor on the ratio")
	assert.Contains(t, fmt.Sprint(ideal.Caveats()), "taken to mix fully")

	weak, err := run(t, "rinse.running", "drag_out=10 L/h", "water=1 L/h", "mixing=50 %", "bath=100 g/L")
	require.NoError(t, err)
	assert.Equal(t, "1.000", text(t, weak, "ratio"))
	assert.Equal(t, "100000 mg/L", text(t, weak, "rinse"))
	assert.Contains(t, fmt.Sprint(weak.Caveats()), "it is taken as 1")
}

func TestWorkingIsShownWhole(t *testing.T) {
	out, err := run(t, "rinse.counterflow", "drag_out=2 L/h", "stages=2", "bath=70 g/L", "target=35 mg/L", "mixing=80 %")
	require.NoError(t, err)
	var got []string
	for _, s := range out.Steps() {
		got = append(got, s.Formula+" = "+s.Result)
	}
	assert.Equal(t, []string{
		"r = C0 / C = 2000",
		"R = r / m = 2500",
		"q so that 1 + q + q² + … + q^n = R = 49.49",
		"Q = q × D = 98.98 L/h",
		"by the usual rule: Q = D × (r / m)^(1/n) = 100.0 L/h",
		"C1 = C0 × S1 / S2, Sk = 1 + q + … + q^k, over m and at most C0 = 1767 mg/L",
		"C2 = C0 × S0 / S2, Sk = 1 + q + … + q^k, over m and at most C0 = 35.00 mg/L",
	}, got)
}

func TestBoundsGoThrough(t *testing.T) {
	dragOut := litresPerHour(2).Between(1*quantity.LitrePerHour, 4*quantity.LitrePerHour, "1 to 4 L/h")
	r, err := rinse.Counterflow{DragOut: dragOut, Stages: workingtest.Given(2), Ratio: workingtest.Given(1000.0)}.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 4, float64(r.Water.At(working.High)/r.Water.At(working.Low)), 1e-12)
	r, err = rinse.Counterflow{DragOut: dragOut, Stages: workingtest.Given(1), Water: litresPerHour(400), Bath: workingtest.Given(quantity.GramsPerLitre(101))}.Solve()
	require.NoError(t, err)
	assert.InEpsilon(t, 401, r.Ratio.At(working.Low), 1e-12, "low goes with low, and less drag-out is rinsed further")
	assert.InEpsilon(t, 101, r.Ratio.At(working.High), 1e-12)
	high, _ := r.Stages[0].At(working.High).GramsPerLitre()
	assert.InEpsilon(t, 1, high, 1e-12)
}

func TestSprayCaveats(t *testing.T) {
	out, err := run(t, "rinse.spray", "drag_out=2 L/h", "water=10 L/h", "effect=0.5")
	require.NoError(t, err)
	assert.Equal(t, "12.18", text(t, out, "ratio"))
	require.Len(t, out.Caveats(), 1)
	assert.Contains(t, out.Caveats()[0], "recalled from the trade")
	out, err = run(t, "rinse.spray", "drag_out=2 L/h", "water=10 L/h", "effect=0.2")
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(out.Caveats()), "outside of the 0.3 to 1 that")
	_, err = run(t, "rinse.spray", "drag_out=1 L/h", "water=10000 L/h", "effect=1")
	assert.EqualError(t, err, "rinse.spray: ratio comes out as no ordinary number")
}

func TestJSON(t *testing.T) {
	workingtest.JSON(t, rinse.Methods(), map[string][]string{
		"rinse.running":     {"drag_out=2 L/h", "water=10 L/min", "bath=70 g/L"},
		"rinse.counterflow": {"drag_out=2 L/h", "stages=3", "ratio=1000", "bath=70 g/L", "mixing=80 %"},
		"rinse.separate":    {"drag_out=2 L/h", "stages=2", "ratio=1000"},
		"rinse.still":       {"volume=200 L", "drag_in=150 mL", "loads=40", "tanks=2", "bath=70 g/L", "target=100 mg/L"},
		"rinse.day":         {"volume=200 L", "stages=2", "drag_in=150 mL", "loads=40", "flow=4 L/min", "hours=8 h", "bath=70 g/L"},
		"rinse.dip":         {"bath=70 g/L"},
		"rinse.spray":       {"drag_out=2 L/h", "water=10 L/h", "effect=0.5"},
		"rinse.return":      {"drag_out=2 L/h", "evaporation=10 L/h", "stages=2"},
		"rinse.cost":        {"flow=4 L/min", "hours_per_day=8 h", "days_per_year=250", "price=4.10 USD/m³"},
	})
}
