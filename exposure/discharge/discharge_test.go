package discharge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/discharge"
)

func run(t require.TestingT, name string, arguments ...string) (working.Outputs, error) {
	return workingtest.Run(t, discharge.Methods(), name, arguments...)
}

func text(t require.TestingT, out working.Outputs, name string) string {
	return workingtest.Text(t, out, name, quantity.Metric)
}

func milligrams(v float64) working.Estimate[quantity.EffluentConcentration] {
	return workingtest.Given(quantity.EffluentConcentration(v))
}

func litres(v float64) working.Estimate[quantity.Flow] { return workingtest.Given(quantity.Flow(v)) }

// The mean lies between the streams, and mass is neither made nor lost.
func TestMix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "streams")
		var m discharge.Mix
		carried, least, most := 0., 1e9, 0.
		for range n {
			flow, held := rapid.Float64Range(0.1, 1e4).Draw(t, "flow"), rapid.Float64Range(0, 1e3).Draw(t, "concentration")
			m.Streams = append(m.Streams, discharge.Stream{Flow: litres(flow), Concentration: milligrams(held)})
			carried, least, most = carried+flow*held, min(least, held), max(most, held)
		}
		r, err := m.Solve()
		require.NoError(t, err)
		got := r.Concentration.Is().MilligramsPerLitre()
		assert.InDelta(t, carried, got*r.Flow.Is().LitresPerMinute(), 1e-9*(1+carried))
		assert.GreaterOrEqual(t, got, least*(1-1e-9))
		assert.LessOrEqual(t, got, most*(1+1e-9))
	})
}

// What a concentration carries allows that concentration.
func TestMassInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flow := litres(rapid.Float64Range(0.01, 1e5).Draw(t, "flow"))
		held := rapid.Float64Range(1e-3, 1e3).Draw(t, "concentration")
		there, err := discharge.Mass{Flow: flow, Concentration: milligrams(held)}.Solve()
		require.NoError(t, err)
		back, err := discharge.Mass{Flow: flow, MassRate: there.MassRate}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, held, back.Concentration.Is().MilligramsPerLitre(), 1e-9)
		kept, err := discharge.Mass{Flow: flow, MassRate: there.MassRate, SafetyFactor: workingtest.Given(0.25)}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, 0.75*held, kept.Concentration.Is().MilligramsPerLitre(), 1e-9)
	})
}

func TestTheCustomaryFactorIsNamedWithMGD(t *testing.T) {
	out, err := run(t, "discharge.mass", "mass_rate=0.0045 lb/day", "flow=0.002 MGD")
	require.NoError(t, err)
	require.Len(t, out.Caveats(), 1)
	assert.Contains(t, out.Caveats()[0], "8.3454")
	out, err = run(t, "discharge.mass", "mass_rate=0.0045 lb/day", "flow=2000 gal/day")
	require.NoError(t, err)
	assert.Empty(t, out.Caveats())
}

// A limit never rises by joining: it lies at or below the greatest, and dilute
// water lowers it as much as it dilutes.
func TestCombined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c discharge.Combined
		most, regulated, weighed := 0., 0., 0.
		for range rapid.IntRange(1, 5).Draw(t, "regulated") {
			limit, flow := rapid.Float64Range(0.01, 10).Draw(t, "limit"), rapid.Float64Range(1, 1e4).Draw(t, "flow")
			c.Streams = append(c.Streams, discharge.Joined{Kind: discharge.Regulated, Flow: litres(flow), Limit: milligrams(limit)})
			most, regulated, weighed = max(most, limit), regulated+flow, weighed+flow*limit
		}
		alone, err := c.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, weighed/regulated, alone.Limit.Is().MilligramsPerLitre(), 1e-9)
		assert.LessOrEqual(t, alone.Limit.Is().MilligramsPerLitre(), most*(1+1e-9))

		unregulated := rapid.Float64Range(0, 1e4).Draw(t, "unregulated")
		c.Streams = append(c.Streams, discharge.Joined{Kind: discharge.Unregulated, Flow: litres(unregulated)})
		same, err := c.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(alone.Limit.Is()), float64(same.Limit.Is()), 1e-9)

		dilute := rapid.Float64Range(0, 1e4).Draw(t, "dilute")
		c.Streams = append(c.Streams, discharge.Joined{Kind: discharge.Dilute, Flow: litres(dilute)})
		diluted, err := c.Solve()
		require.NoError(t, err)
		total := regulated + unregulated + dilute
		assert.InEpsilon(t, float64(alone.Limit.Is())*(total-dilute)/total, float64(diluted.Limit.Is()), 1e-9)
		assert.Contains(t, diluted.Limit.Caveats()[0], "403.6(e)")
	})
}

func TestALimitBelowDetection(t *testing.T) {
	const streams = "streams=[{kind: regulated, flow: 100 L/h, limit: 0.11 mg/L}, {kind: dilute, flow: 900 L/h}]"
	for detection, want := range map[string]int{"0.011 mg/L": 1, "0.012 mg/L": 2, "12 µg/L": 2} {
		out, err := run(t, "discharge.combined", streams, "detection_limit="+detection)
		require.NoError(t, err)
		assert.Len(t, out.Caveats(), want, detection)
	}
}

// With the bleed running the effluent is at its limit.
func TestBleedReachesTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flow := rapid.Float64Range(1, 1e3).Draw(t, "flow")
		removal := rapid.Float64Range(0, 0.999).Draw(t, "removal")
		limit := rapid.Float64Range(0.1, 10).Draw(t, "limit")
		base := rapid.Float64Range(0, 200).Draw(t, "base")
		bath := rapid.Float64Range(1, 400).Draw(t, "bath")
		r, err := discharge.Bleed{
			Limit: milligrams(limit), Flow: litres(flow), Removal: workingtest.Given(removal), Base: milligrams(base), Bath: workingtest.Given(quantity.GramsPerLitre(bath)),
		}.Solve()
		require.NoError(t, err)
		bleed := r.Flow.Is().LitresPerMinute()
		if base >= limit/(1-removal) {
			assert.Zero(t, bleed)
			assert.Contains(t, r.Flow.Caveats()[0], "no room for the bath")
			return
		}
		before := (base*flow + bath*1000*bleed) / flow
		assert.InEpsilon(t, limit, before*(1-removal), 1e-9)
	})
}

func TestProductionScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := discharge.Production{
			LimitPerArea: workingtest.Given(quantity.MassPerArea(rapid.Float64Range(0.1, 1e3).Draw(t, "limit"))),
			AreaRate:     workingtest.Given(quantity.AreaRate(rapid.Float64Range(0.1, 1e4).Draw(t, "area"))),
			Flow:         litres(rapid.Float64Range(0.1, 1e4).Draw(t, "flow")),
		}
		one, err := p.Solve()
		require.NoError(t, err)
		n := rapid.IntRange(1, 9).Draw(t, "operations")
		p.Operations = workingtest.Given(n)
		more, err := p.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(n), float64(more.MassRate.Is()/one.MassRate.Is()), 1e-9)
		mass, err := discharge.Mass{Flow: p.Flow, Concentration: more.Concentration}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(more.MassRate.Is()), float64(mass.MassRate.Is()), 1e-9)
	})
}

func TestProductionInUnitsOfTheTrade(t *testing.T) {
	out, err := run(t, "discharge.production", "limit_per_area=0.027 lb/10⁶ ft²", "area_rate=2.5 Mft²/day", "flow=0.05 MGD")
	require.NoError(t, err)
	rate, _ := out.Output("mass_rate")
	assert.Equal(t, "0.06750 lb/day", rate.Text(quantity.US))
	assert.Equal(t, "0.1618 mg/L", text(t, out, "concentration"))
}

func TestAbsentConcentrationHasItsReason(t *testing.T) {
	out, err := run(t, "discharge.production", "limit_per_area=160 mg/m²", "area_rate=120 m²/day")
	require.NoError(t, err)
	assert.Equal(t, "absent: flow is not given", text(t, out, "concentration"))
}

func TestBadInputs(t *testing.T) {
	const streams = `streams=[{kind: regulated, flow: 10 L/h}, {kind: dilute, flow: 1 L/h, limit: 2 mg/L}]`
	for _, c := range []struct {
		method    string
		arguments []string
		want      []string
	}{
		{"discharge.mix", []string{"streams=[]"}, []string{`streams: no stream is named | give streams="[{flow: 10 gal/min, concentration: 0.3 mg/L}]"`}},
		{"discharge.mix", []string{"streams=[{flow: 0 L/h, concentration: 1 mg/L}]"}, []string{`streams: nothing flows | give the flow of each stream`}},
		{"discharge.mix", []string{"streams=[{flow: 1 L, concentration: 10 mL/L}]"}, []string{
			`streams 1, flow: "1 L" is a volume; wanted is a flow of water | write it as "6 L/min"`,
			`streams 1, concentration: "10 mL/L" is a volume share of a bath; wanted is a concentration in water | write it as "0.31 mg/L"`,
		}},
		{"discharge.mass", []string{"flow=1 L/h"}, []string{`concentration: it is not given | give concentration="0.31 mg/L", or mass_rate="0.5 lb/day"`}},
		{"discharge.mass", []string{"flow=1 L/h", "concentration=1 mg/L", "mass_rate=1 g/h"}, []string{`mass_rate: both a concentration and a mass in a time are given | give the concentration to learn the mass, or the mass to learn the concentration`}},
		{"discharge.mass", []string{"flow=0 L/h", "mass_rate=1 g/h", "safety_factor=110 %"}, []string{
			`flow: where nothing flows a mass has no concentration | give the flow that carries it`,
			`safety_factor: 110 % is more than there is | give the share that is kept back, from 0 to 100 %: safety_factor="10 %"`,
		}},
		{"discharge.mass", []string{"flow=1 L/h", "concentration=1 mg/L", "safety_factor=10 %"}, []string{`safety_factor: it belongs to a mass that may be discharged | give mass_rate and flow, or leave it out`}},
		{"discharge.combined", []string{streams}, []string{
			`streams: stream 1 is regulated and has no limit | give its limit: limit: 2.61 mg/L`,
			`streams: stream 2 is dilute and has a limit | leave its limit out, or write regulated`,
		}},
		{"discharge.combined", []string{"streams=[{kind: dilute, flow: 1 L/h}]"}, []string{`streams: no stream is regulated, so there is no limit to combine | name the stream that a categorical limit binds`}},
		{"discharge.combined", []string{"streams=[]"}, []string{`streams: no stream is regulated, so there is no limit to combine | name the stream that a categorical limit binds`}},
		{"discharge.combined", []string{"streams=[{kind: regulated, flow: 0 L/h, limit: 1 mg/L}]"}, []string{`streams: no regulated stream flows | give the flow of the regulated streams`}},
		{"discharge.combined", []string{"streams=[{kind: regulated, flow: 1 L/h, limit: 1 mg/L}, {kind: regulated, flow: 1 L/h, limit: 1 kg/day}]"}, []string{`streams: some limits are concentrations and some are masses | write all of them as mg/L, or all as lb/day or kg/day`}},
		{"discharge.combined", []string{"streams=[{kind: regulated, flow: 1 L/h, limit: 1 mg/m²}]"}, []string{`streams: stream 1 has a limit for each processed area, 1 mg/m² | work out its mass with discharge.production, and give that`}},
		{"discharge.combined", []string{"streams=[{kind: rain, flow: 1 L/h}]"}, []string{`streams 1, kind: "rain" is not a word known here | known here: regulated, unregulated, dilute`}},
		{"discharge.cyanide", []string{"limit=1.2 mg/L", "cyanide_flow=2 L/h", "flow=1 L/h"}, []string{`cyanide_flow: 2 L/h is more than the whole effluent, 1 L/h | give the flow that bears cyanide, and as flow the effluent that holds it`}},
		{"discharge.cyanide", []string{"limit=1.2 mg/L", "cyanide_flow=0 L/h", "flow=0 L/h"}, []string{`flow: where no effluent flows there is nothing to limit | give the flow of the final effluent`}},
		{"discharge.bleed", []string{"limit=2 mg/L", "flow=10 L/min", "base_flow=11 L/min", "removal=100 %", "base=1 mg/L", "bath=10 mL/L"}, []string{
			`removal: a removal of 100 % leaves no limit on the bleed | give what the treatment removes, from 0 % to below 100 %: removal="95 %"`,
			`bath: 10 mL/L is not a mass of the pollutant per volume | give what the bath holds of it by mass: bath="50 g/L"`,
			`base_flow: 11 L/min is more than the whole flow, 10 L/min | give the flow of the other water, or leave it out`,
		}},
		{"discharge.production", []string{"limit_per_area=1 mg/m²", "area_rate=1 m²/day", "flow=0 L/h", "operations=0"}, []string{
			`flow: where nothing flows a mass has no concentration | give the flow, or leave it out`,
			`operations: no operation counts the area | give how many operations are followed by a rinse, or leave it out`,
		}},
	} {
		_, err := run(t, c.method, c.arguments...)
		assert.Equal(t, c.want, workingtest.Faults(err), c.arguments)
	}
}

func TestJSON(t *testing.T) {
	workingtest.JSON(t, discharge.Methods(), map[string][]string{
		"discharge.mix":           {"streams=[{flow: 10 gal/min, concentration: 0.3 mg/L}, {flow: 0.5 gal/min, concentration: 1 oz/gal}]"},
		"discharge.mass":          {"concentration=0.31 mg/L", "flow=20 m³/day"},
		"discharge.combined":      {"streams=[{kind: regulated, flow: 100 m³/day, limit: 2.61 mg/L}, {kind: dilute, flow: 20 m³/day}]"},
		"discharge.cyanide":       {"limit=1.20 mg/L", "cyanide_flow=4000 gal/day", "flow=24000 gal/day"},
		"discharge.bleed":         {"limit=2.38 mg/L", "flow=20 gal/min", "removal=95 %", "base=10 mg/L", "bath=60 g/L"},
		"discharge.production":    {"limit_per_area=160 mg/m²", "area_rate=120 m²/day", "operations=2", "flow=10 m³/day"},
		"discharge.noncompliance": {"pollutant=Cd", "limit=0.11 mg/L", "results=0.12 mg/L; <0.2 mg/L; ND; 0.05 mg/L; 0.15 mg/L; 0.14 mg/L"},
		"discharge.mean":          {"results=0.12 mg/L; <0.2 mg/L; 50 µg/L", "non_detects=half"},
	})
}
