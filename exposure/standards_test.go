package exposure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

var noFlow = working.Absent[quantity.Flow]("no flow is given")

func flowOf(litresPerDay float64) working.Estimate[quantity.Flow] {
	flow := quantity.Flow(litresPerDay) * quantity.LitrePerDay
	return working.Given(source.Value[quantity.Flow]{Is: flow, Origin: source.Measured}, quantity.Print(flow, "L/day", 5))
}

func standardOf(t *testing.T, flow working.Estimate[quantity.Flow], rows string) exposure.Standard {
	t.Helper()
	all := exposure.StandardsOf(shopOf(t, "2026-06-30", rows), flow)
	require.Len(t, all, 1)
	return all[0]
}

// sets are the readings as text: "if A, B: set + set".
func readings(s exposure.Standard) []string {
	var all []string
	for _, r := range s.Readings {
		var sets []string
		for _, set := range r.Sets {
			sets = append(sets, string(set))
		}
		text := strings.Join(sets, " + ")
		if len(r.If) > 0 {
			text = "if " + strings.Join(r.If, ", ") + ": " + text
		}
		all = append(all, text)
	}
	return all
}

const (
	us    = "shop - | name=Shop | regime=us"
	sewer = "\npoint - | point=O1 | body=sewer"
	brass = "\ntank - | tank=B1 | purpose=plate | plates=Ni"
)

func TestWhichRuleApplies(t *testing.T) {
	old, young := " | construction start=1979-05-01", " | construction start=1990-01-01"
	for name, c := range map[string]struct {
		rows string
		flow working.Estimate[quantity.Flow]
		want []string
	}{
		"new source, captive":             {us + young + " | job shop=no" + sewer + brass, noFlow, []string{"433 PSNS"}},
		"new source, job shop too":        {us + young + " | job shop=yes" + sewer + brass, noFlow, []string{"433 PSNS"}},
		"new source, not known if a job":  {us + young + sewer + brass, noFlow, []string{"433 PSNS"}},
		"begun on the day itself":         {us + " | construction start=1982-08-31 | job shop=no" + sewer + brass, noFlow, []string{"433 PSES"}},
		"begun the day after":             {us + " | construction start=1982-09-01 | job shop=no" + sewer + brass, noFlow, []string{"433 PSNS"}},
		"existing, captive":               {us + old + " | job shop=no" + sewer + brass, noFlow, []string{"433 PSES"}},
		"existing, job shop, small":       {us + old + " | job shop=yes" + sewer + brass, flowOf(37999), []string{"413 A under 38000 L/day"}},
		"existing, job shop, at the edge": {us + old + " | job shop=yes" + sewer + brass, flowOf(38000), []string{"413 A from 38000 L/day"}},
		"precious metals by the tank": {
			us + old + " | job shop=yes" + sewer + "\ntank - | tank=B1 | purpose=plate | plates=Ag", flowOf(1000), []string{"413 B under 38000 L/day"},
		},
		"both metals, an electroless tank": {
			us + old + " | job shop=yes" + sewer + brass + "\ntank - | tank=B2 | purpose=plate | plates=Rh\ntank - | tank=B3 | purpose=electroless",
			flowOf(1000), []string{"413 A under 38000 L/day + 413 B under 38000 L/day + 413 G under 38000 L/day"},
		},
		"anodizing, coating, etching": {
			us + old + " | job shop=yes" + sewer + "\ntank - | tank=B1 | purpose=anodize\ntank - | tank=B2 | purpose=coat\ntank - | tank=B3 | purpose=etch",
			flowOf(1000), []string{"413 D under 38000 L/day + 413 E under 38000 L/day + 413 F under 38000 L/day"},
		},
		"independent board maker": {
			us + old + " | job shop=no" + sewer + "\nanswer - | question=Printed circuit boards | answer=Yes\nanswer - | question=independent board maker | answer=yes",
			flowOf(50000), []string{"413 H from 38000 L/day"},
		},
		"captive board maker": {
			us + old + " | job shop=no" + sewer + "\nanswer - | question=printed circuit boards | answer=yes\nanswer - | question=independent board maker | answer=no",
			noFlow, []string{"433 PSES"},
		},
		"flow by an answer": {
			us + old + " | job shop=yes" + sewer + brass + "\nanswer - | question=process water over 38000 L a day | answer=no, by the meter",
			noFlow, []string{"413 A under 38000 L/day"},
		},
		"direct, existing": {us + old + "\npoint - | point=O1 | body=stream" + brass, noFlow, []string{"433 BPT + 433 BAT"}},
		"direct, new":      {us + young + "\npoint - | point=O1 | body=stream" + brass, noFlow, []string{"433 NSPS"}},
		"hauled":           {us + young + "\npoint - | point=O1 | body=hauler" + brass, noFlow, []string{""}},
		"none of the six": {
			us + young + sewer + "\ntank - | tank=B1 | purpose=clean\nanswer - | question=printed circuit boards | answer=no", noFlow, []string{""},
		},
		"another category": {us + young + sewer + brass + "\nanswer - | question=other category | answer=yes, part 469", noFlow, []string{""}},
		"the European Union": {
			"shop - | name=Shop | regime=eu" + sewer + brass, noFlow,
			[]string{"AbwV 40 D + AbwV 40 D electroless nickel + AbwV 40 D by cadmium used + AbwV 40 C + BREF STM"},
		},
		"construction not known": {us + " | job shop=no" + sewer + brass, noFlow, []string{
			"if construction began after the day that parts new sources: 433 PSNS", "if construction began by then: 433 PSES",
		}},
		"nothing known of an existing shop": {us + old + sewer + brass, noFlow, []string{
			"if it is a job shop, there are 38000 L/day of process water or more: 413 A from 38000 L/day",
			"if it is a job shop, there is less than 38000 L/day of process water: 413 A under 38000 L/day",
			"if it is not a job shop: 433 PSES",
		}},
		"metals not known": {us + old + " | job shop=yes" + sewer + "\ntank - | tank=B1 | purpose=plate", flowOf(1), []string{
			"if precious metals are plated: 413 A under 38000 L/day + 413 B under 38000 L/day",
			"if no precious metals are plated: 413 A under 38000 L/day",
		}},
		"no tanks": {us + young + sewer, noFlow, []string{"if one of the six operations is done: 433 PSNS", "if none of the six operations is done: "}},
	} {
		t.Run(name, func(t *testing.T) {
			s := standardOf(t, c.flow, c.rows)
			assert.Equal(t, c.want, readings(s))
			assert.Equal(t, len(c.want) == 1, s.Decided())
			assert.Equal(t, len(c.want) == 1, len(s.Missing) == 0, "%v", s.Missing)
			for _, r := range s.Readings {
				assert.NotEmpty(t, r.Says)
				for _, set := range r.Sets {
					assert.NotEmpty(t, exposure.LimitFigures(set), set)
				}
			}
		})
	}
}

func TestReasonsNameTheFactAndItsEntry(t *testing.T) {
	s := standardOf(t, flowOf(12000), us+" | construction start=1979-05-01 | job shop=yes"+sewer+brass)
	type step struct {
		fact  string
		entry int64
	}
	var got []step
	for _, r := range s.Readings[0].Reasons {
		assert.NotContains(t, r.Says, "complian")
		if r.Fact != "" {
			got = append(got, step{r.Fact, r.Entry})
		}
	}
	assert.Equal(t, []step{
		{"shop, regime", 1}, {"tanks, purpose", 3}, {"point, body", 2}, {"shop, construction start", 1}, {"shop, job shop", 1}, {"tank, plates", 0}, {"process water of a day", 0},
	}, got)
	assert.Equal(t, "existing job shop to a sewer: 40 CFR 413, subpart A, under 38000 L/day", s.Readings[0].Says)
}

func TestAFlowOnBothSidesSettlesNothing(t *testing.T) {
	wide := flowOf(38000).Between(30000*quantity.LitrePerDay, 46000*quantity.LitrePerDay, "30000 to 46000 L/day")
	rows := us + " | construction start=1979-05-01 | job shop=yes" + sewer + brass
	s := standardOf(t, wide, rows)
	assert.Len(t, s.Readings, 2)
	assert.Contains(t, s.Caveats, working.Caveat("the process water of a day, 30000 to 46000 L/day, lies on both sides of 38000 L/day"))

	answered := standardOf(t, flowOf(50000), rows+"\nanswer - | question=process water over 38000 L a day | answer=no")
	assert.Equal(t, []string{"413 A under 38000 L/day"}, readings(answered))
	assert.Contains(t, answered.Caveats, working.Caveat(`entry 4 answers the question "process water over 38000 L a day", and the flow worked out is 50000 L/day; the answer was followed`))
}

func TestAnswersThatContradictOrSayNothing(t *testing.T) {
	rows := us + " | construction start=1979-05-01 | job shop=yes" + sewer + "\ntank - | tank=B1 | purpose=plate | plates=Au\nanswer - | question=precious metals line | answer=no\nanswer - | question=independent board maker | answer=perhaps"
	s := standardOf(t, flowOf(1), rows)
	assert.Equal(t, []string{"413 B under 38000 L/day"}, readings(s))
	assert.Contains(t, s.Caveats, working.Caveat("entry 4 answers that there is no precious metals line, and tank B1 plates Au by entry 3; the tank was followed"))
	assert.Contains(t, s.Caveats, working.Caveat(`the answer "perhaps" to "independent board maker" in entry 5 says neither yes nor no; it is taken as not given`))
}

func TestChoices(t *testing.T) {
	base := us + " | construction start=1979-05-01 | job shop=yes" + sewer + brass
	titles := func(s exposure.Standard) []string {
		var all []string
		for _, c := range s.Choices {
			all = append(all, c.Title)
			assert.NotEmpty(t, c.Figures, c.Title)
			assert.NotEmpty(t, c.Open, "no answer shows that the authority agrees")
		}
		return all
	}
	area, lime, thirty := "limits by area processed in place of concentrations", "lead, cadmium, cyanide, suspended solids and pH in place of a limit for each metal", "thirty-day averages in place of four-day averages"
	assert.Equal(t, []string{area, thirty}, titles(standardOf(t, flowOf(1000), base)))
	assert.Equal(t, []string{area, lime, thirty}, titles(standardOf(t, flowOf(40000), base)))
	assert.Equal(t, []string{area}, titles(standardOf(t, flowOf(40000), base+"\nanswer - | question=strong chelators | answer=yes\nanswer - | question=integrated facility | answer=no")))
	several := standardOf(t, flowOf(1000), base+"\ntank - | tank=B2 | purpose=electroless")
	assert.Equal(t, []string{area, thirty}, titles(several), "subpart G has the figures of subpart A")
	assert.Equal(t, []exposure.StandardSet{"413 A under 38000 L/day", "413 G under 38000 L/day"}, several.Choices[1].For)
	captive := strings.Replace(base, "job shop=yes", "job shop=no", 1)
	assert.Equal(t, []string{"amenable cyanide in place of total cyanide"}, titles(standardOf(t, noFlow, captive)))
	assert.Empty(t, titles(standardOf(t, noFlow, captive+"\nanswer - | question=cyanide treatment | answer=no")))
}

// A fact that is recorded leads to one of the readings that there were without
// it.
func TestAnAnswerNeverOpensAnotherReading(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		row := us
		missing := map[string]string{
			" | construction start=": rapid.SampledFrom([]string{"", "1979-05-01", "1995-01-01"}).Draw(r, "start"),
			" | job shop=":           rapid.SampledFrom([]string{"", "yes", "no"}).Draw(r, "job shop"),
		}
		full := us
		for column, value := range missing {
			if value != "" {
				row += column + value
				full += column + value
				continue
			}
			full += column + map[string]string{" | construction start=": "1979-05-01", " | job shop=": "yes"}[column]
		}
		tank := rapid.SampledFrom([]string{"", brass, "\ntank - | tank=B1 | purpose=plate", "\ntank - | tank=B1 | purpose=anodize"}).Draw(r, "tank")
		open, settled := standardOf(t, noFlow, row+sewer+tank), standardOf(t, flowOf(1000), full+sewer+tank)
		var sets []string
		for _, s := range readings(open) {
			_, after, found := strings.Cut(s, ": ")
			if !found {
				after = s
			}
			sets = append(sets, after)
		}
		for _, s := range readings(settled) {
			_, after, found := strings.Cut(s, ": ")
			if !found {
				after = s
			}
			assert.Contains(t, sets, after)
		}
	})
}

func TestTheDecisionIsTakenDayByDay(t *testing.T) {
	shop := shopOf(t, "2026-06-30", us+" | construction start=1979-05-01 | job shop=no"+sewer+"\ntank 2026-03-01 | tank=B1 | purpose=plate | plates=Ni\nanswer - | question=printed circuit boards | answer=no\ntank - | tank=A1 | purpose=clean")
	point := chemicals.On[chemicals.Point](shop, "2026-06-30")[0]
	assert.Equal(t, []string{""}, readings(exposure.StandardAt(shop, point, "2026-02-28", noFlow)))
	assert.Equal(t, []string{"433 PSES"}, readings(exposure.StandardAt(shop, point, "2026-03-01", noFlow)))
}

func TestAPointWithoutProcessWater(t *testing.T) {
	const shop = us + ` | construction start=1995-03-01 | job shop=yes
point - | point=O1 | body=sewer
point - | point=O2 | body=sewer
tank - | tank=B1 | purpose=plate | plates=Ni
tank - | tank=R1 | purpose=rinse | drains to=T1
tank - | tank=T1 | purpose=treat | drains to=O1
rinse - | tank=R1 | arrangement=running | flow=4 L/min
limit - | point=O2 | pollutant=Zn | rule=daily maximum | basis=concentration | document=permit | value=5 mg/L
`
	const sanitary = "other-water - | name=washroom | point=O2 | kind=dilute | flow=400 L/day\n"
	const none, psns = "no limits of 40 CFR 413 or 433 at this point: no process water reaches it", "new source to a sewer: 40 CFR 433.17 (PSNS)"
	for name, c := range map[string]struct{ rows, says, caveat string }{
		"sanitary alone":                 {shop + sanitary, none, ""},
		"nothing is known to come there": {shop, psns, ""},
		"regulated other water": {
			shop + sanitary + "other-water - | name=other line | point=O2 | kind=regulated | flow=1 L/min", psns, "",
		},
		"a tank drains there":          {shop + sanitary + "tank - | tank=T2 | purpose=treat | drains to=O2", psns, ""},
		"a bath drains there":          {strings.Replace(shop, "plates=Ni", "plates=Ni | drains to=O2", 1) + sanitary, psns, ""},
		"a bath is dumped there":       {shop + sanitary + "dump 2026-02-02 | tank=B1 | volume=1 L | to=O2", psns, ""},
		"a bath is dumped elsewhere":   {shop + sanitary + "dump 2026-02-02 | tank=B1 | volume=1 L | to=haul", none, ""},
		"a bath is dumped into a tank": {shop + sanitary + "dump 2026-02-02 | tank=B1 | volume=1 L | to=T1", none, ""},
		"a bath is dumped nobody knows where": {
			shop + sanitary + "dump 2026-02-02 | tank=B1 | volume=1 L", psns, "does not say where the water of B1 goes; process water is taken to reach the point",
		},
		"a bath is dumped to what is no place": {
			shop + sanitary + "dump 2026-02-02 | tank=B1 | volume=1 L | to=02", psns, "does not say where the water of B1 goes",
		},
		"a rinse drains nobody knows where": {
			strings.Replace(shop, "drains to=T1", "drains to=pond", 1) + sanitary, psns, "does not say where the water of R1 goes; process water is taken to reach the point",
		},
		"a circle": {strings.Replace(shop, "drains to=O1", "drains to=R1", 1) + sanitary, psns, "does not say where the water of R1, T1 goes"},
	} {
		t.Run(name, func(t *testing.T) {
			held := shopOf(t, "2026-06-30", c.rows)
			all := exposure.StandardsOf(held, noFlow)
			require.Len(t, all, 2)
			assert.Equal(t, psns, all[0].Readings[0].Says, "O1 gets the water of the line whatever comes to O2")
			s := all[1]
			require.Len(t, s.Readings, 1)
			assert.Equal(t, c.says, s.Readings[0].Says)
			caveats := ""
			for _, one := range s.Caveats {
				if strings.Contains(string(one), "does not say where") {
					caveats += string(one)
				}
			}
			assert.Contains(t, caveats, c.caveat)
			assert.Equal(t, c.caveat == "", caveats == "", caveats)

			origins := map[exposure.LimitOrigin]int{}
			for _, l := range exposure.LimitsAt(held, tables(t), s) {
				origins[l.Origin]++
			}
			assert.Equal(t, c.says == none, origins[exposure.LimitFederal] == 0)
			assert.Equal(t, 1, origins[exposure.LimitOfPaper], "the permit's own limit stands")
			assert.Equal(t, 3, origins[exposure.LimitProhibition], "and the prohibitions of 403.5(b)")
		})
	}
	s := exposure.StandardsOf(shopOf(t, "2026-06-30", shop+sanitary), noFlow)[1]
	last := s.Readings[0].Reasons[len(s.Readings[0].Reasons)-1]
	assert.Equal(t, "no process water reaches O2: every tank drains elsewhere; what comes there is washroom (dilute, entry 9)", last.Says)
	assert.Equal(t, int64(9), last.Entry)
	assert.Empty(t, s.Choices)
}

func TestProcessWaterIsAskedDayByDay(t *testing.T) {
	rows := us + ` | construction start=1995-03-01 | job shop=yes
point - | point=O1 | body=sewer
point - | point=O2 | body=sewer
tank - | tank=B1 | purpose=plate | plates=Ni
tank -..2026-02-28 | tank=R1 | purpose=rinse | drains to=O2
tank 2026-03-01 | tank=R2 | purpose=rinse | drains to=O1
other-water - | name=washroom | point=O2 | kind=dilute | flow=400 L/day
sample 2026-02-28 | sample=S1 | point=O2 | pollutant=Ni | result=9 mg/L | type=composite
sample 2026-03-01 | sample=S2 | point=O2 | pollutant=Ni | result=9 mg/L | type=composite
`
	set := resultsOf(t, "2026-06-30", 0, rows)
	require.Len(t, set.Results, 2)
	assert.Equal(t, []string{"daily maximum 3.98 mg/L: over"}, verdicts(set.Results[0].Against))
	assert.Empty(t, set.Results[1].Against, "no limit on Ni from the day on which no process water comes there")
}
