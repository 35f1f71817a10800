package exposure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/exposure"
)

// published is one figure, by the words of limits.csv.
func published(t *testing.T, set exposure.StandardSet, of exposure.LimitPollutant, rule chemicals.Rule) exposure.LimitFigure {
	t.Helper()
	for _, f := range exposure.LimitFigures(set) {
		if f.Pollutant == of && f.Rule == rule {
			return f
		}
	}
	require.Failf(t, "no such figure", "%s, %s, %s", set, of, rule)
	return exposure.LimitFigure{}
}

func TestPublishedLimits(t *testing.T) {
	for _, want := range []struct {
		set   exposure.StandardSet
		of    exposure.LimitPollutant
		rule  chemicals.Rule
		text  string
		place string
	}{
		{"433 PSES", "Cd", chemicals.DailyMaximum, "0.69 mg/L", "433.15(a)"},
		{"433 PSES", "Ni", chemicals.MonthlyAverage, "2.38 mg/L", "433.15(a)"},
		{"433 PSES", "Cu", chemicals.DailyMaximum, "3.38 mg/L", "433.15(a)"}, // a city page prints 3.39
		{"433 PSNS", "Cd", chemicals.DailyMaximum, "0.11 mg/L", "433.17(a)"},
		{"433 PSNS", "Cd", chemicals.MonthlyAverage, "0.07 mg/L", "433.17(a)"},
		{"433 NSPS", "oil and grease", chemicals.DailyMaximum, "52 mg/L", "433.16(a)"},
		{"433 BPT", "pH", chemicals.Minimum, "6.0", "433.13(a)"},
		{"433 BAT", "Zn", chemicals.DailyMaximum, "2.61 mg/L", "433.14(a)"},
		{"433 PSES with cyanide treatment", "CN amenable", chemicals.MonthlyAverage, "0.32 mg/L", "433.15(b)"},
		{"413 A under 38000 L/day", "CN amenable", chemicals.DailyMaximum, "5.0 mg/L", "413.14(b)"},
		{"413 A under 38000 L/day", "TTO", chemicals.DailyMaximum, "4.57 mg/L", "413.14(f)"},
		{"413 A from 38000 L/day", "CN total", chemicals.FourDayAverage, "1.0 mg/L", "413.14(c)"}, // a trade table prints 2.7
		{"413 B from 38000 L/day", "Ag", chemicals.DailyMaximum, "1.2 mg/L", "413.24(c)"},
		{"413 H by area", "Cr", chemicals.DailyMaximum, "623 mg/m²", "413.84(d)"},
		{"413 A with lime", "pH", chemicals.Maximum, "10.0", "413.14(e)"},
		{"403.5(b)", "pH", chemicals.Minimum, "5.0", "403.5(b)(2)"},
		{"403.5(b)", "flash point", chemicals.Minimum, "60 °C", "403.5(b)(1), closed cup"},
		{"403.5(b)", "temperature", chemicals.Maximum, "40 °C", "403.5(b)(5), at the treatment works"},
	} {
		got := published(t, want.set, want.of, want.rule)
		assert.Equal(t, want.text, got.Text, "%s, %s", want.set, want.of)
		assert.Equal(t, want.place, got.Ref.Place, "%s, %s", want.set, want.of)
		assert.Equal(t, source.LawInForce, got.Ref.Standing, "%s, %s", want.set, want.of)
	}
}

func TestCountOfPublishedLimits(t *testing.T) {
	for set, want := range map[exposure.StandardSet]int{
		"433 PSES": 17, "433 PSNS": 17, "433 NSPS": 23, "433 BPT": 23, "433 BAT": 17,
		"433 PSES with cyanide treatment": 2, "433 PSNS with cyanide treatment": 2, "433 BAT with cyanide treatment": 2,
		"413 A under 38000 L/day": 7, "413 A from 38000 L/day": 17, "413 A by area": 16, "413 A with lime": 10,
		"413 B under 38000 L/day": 7, "413 B from 38000 L/day": 19, "413 B by area": 18, "413 B with lime": 10,
		"413 H under 38000 L/day": 7, "413 H from 38000 L/day": 17, "413 H by area": 16, "413 H with lime": 10,
		"AbwV 40 D": 14, "AbwV 40 C": 8, "BREF STM": 18, "403.5(b)": 3, "413 G from 38000 L/day": 17, "413 G by area": 0, "414": 0,
	} {
		assert.Len(t, exposure.LimitFigures(set), want, string(set))
	}
}

// The mass limits are the concentrations times one volume of water for each
// area of an operation, nominally 39 L/m², of subpart H 89 L/m².
func TestMassLimitsAgreeWithConcentrations(t *testing.T) {
	for subpart, want := range map[string][2]float64{"A": {37.5, 41.5}, "B": {37.5, 41.5}, "H": {87, 94}} {
		areas := exposure.LimitFigures(exposure.StandardSet("413 " + subpart + " by area"))
		require.NotEmpty(t, areas)
		for _, area := range areas {
			mass := releaseOf(t, area.Value)
			a, ok := mass.MassPerArea()
			require.True(t, ok)
			c, ok := releaseOf(t, published(t, exposure.StandardSet("413 "+subpart+" from 38000 L/day"), area.Pollutant, area.Rule).Value).Concentration()
			require.True(t, ok)
			ratio := a.MilligramsPerSquareMetre() / c.MilligramsPerLitre()
			assert.Truef(t, ratio >= want[0] && ratio <= want[1], "%s %s %s: %.1f L/m²", subpart, area.Pollutant, area.Rule, ratio)
		}
	}
}

func TestEveryFourDayAverageHasAThirtyDayOne(t *testing.T) {
	for _, set := range []exposure.StandardSet{
		"413 A under 38000 L/day", "413 A from 38000 L/day", "413 A by area", "413 A with lime", "413 B from 38000 L/day", "413 B by area", "413 H by area",
	} {
		fourDay := 0
		for _, f := range exposure.LimitFigures(set) {
			if f.Rule == chemicals.FourDayAverage {
				fourDay++
			}
		}
		thirty := exposure.ThirtyDayFigures(set)
		assert.Len(t, thirty, fourDay, string(set))
		for _, f := range thirty {
			four := published(t, set, f.Pollutant, chemicals.FourDayAverage).Value
			assert.Less(t, numberOf(t, f.Value), numberOf(t, four), "%s %s", set, f.Pollutant)
		}
	}
	for _, f := range exposure.ThirtyDayFigures("413 H by area") {
		if f.Pollutant == "Cr" {
			assert.Equal(t, "223 mg/m²", f.Text, "the pair that 413.04 misprints as 623/257")
		}
	}
}

func TestFiguresThatNoSampleShows(t *testing.T) {
	var without []string
	for _, set := range []exposure.StandardSet{"AbwV 40 D", "AbwV 40 D electroless nickel", "AbwV 40 D by cadmium used", "AbwV 40 C", "BREF STM", "403.5(b)", "433 NSPS", "413 B by area"} {
		for _, f := range exposure.LimitFigures(set) {
			if !f.Value.Known() {
				without = append(without, f.Text)
			}
		}
	}
	assert.Equal(t, []string{"0.3 kg/t", "6 (dilution factor)"}, without)
}

func TestRangesAreMarked(t *testing.T) {
	ni := published(t, "BREF STM", "Ni", chemicals.Maximum)
	assert.True(t, ni.Range)
	assert.Equal(t, "0.2 to 2.0 mg/L", ni.Text)
	assert.Equal(t, "2.0 mg/L", ni.Value.String())
	assert.Equal(t, source.FromMemory, ni.Ref.Standing)
}

func TestPollutantNames(t *testing.T) {
	for want, names := range map[exposure.LimitPollutant][]string{
		"Ni":             {"Ni", "ni", "nickel", "Nickel, total", "total nickel", "Ni total", "NICKEL"},
		"Cr":             {"Cr", "chromium", "total chromium", "Cr, total"},
		"Cr(VI)":         {"Cr(VI)", "hexavalent chromium", "chromium, hexavalent", "Cr6+", "cr vi"},
		"CN total":       {"CN total", "cyanide, total", "total cyanide", "CN-T", "cn (total)"},
		"CN amenable":    {"CN amenable", "amenable cyanide", "cyanide, amenable", "CN(A)"},
		"TTO":            {"TTO", "total toxic organics"},
		"pH":             {"pH", "ph", "PH"},
		"total metals":   {"total metals", "metals, total"},
		"TSS":            {"TSS", "total suspended solids"},
		"oil and grease": {"oil and grease", "oil & grease", "Oil/grease", "FOG"},
		"Hg":             {"Hg", "mercury"},
	} {
		for _, name := range names {
			got, ok := exposure.PollutantOf(tables(t), chemicals.Name(name))
			assert.Equal(t, want, got, name)
			assert.True(t, ok, name)
		}
	}
	for _, name := range []string{"CN", "cyanide", "colour", "dissolved nickel", "total"} {
		got, ok := exposure.PollutantOf(tables(t), chemicals.Name(name))
		assert.False(t, ok, name)
		assert.Equal(t, exposure.LimitPollutant(strings.ToLower(name)), got)
	}
}

const sewerShop = `
shop - | name=Shop | regime=us | construction start=1995-03-01 | job shop=yes
point - | point=O1 | body=sewer
tank - | tank=B1 | purpose=plate | plates=Ni
`

func TestLimitsInForce(t *testing.T) {
	shop := shopOf(t, "2026-06-30", sewerShop+`
limit - | point=O1 | pollutant=nickel | rule=daily maximum | basis=concentration | document=permit | value=3.00 mg/L
limit - | point=O1 | pollutant=Zn | rule=daily maximum | basis=concentration | document=permit | value=10.0 mg/L
limit - | point=O1 | pollutant=Ni | rule=daily maximum | basis=mass per day | document=permit | value=0.5 lb/day
limit - | point=O1 | pollutant=pH | rule=minimum | basis=none | document=permit | value=5.5
limit -..2026-03-31 | point=O1 | pollutant=Cu | rule=daily maximum | basis=concentration | document=permit | value=1.0 mg/L
limit - | point=O1 | pollutant=Sn | rule=daily maximum | basis=mass per day | document=permit | value=2 mg/L
limit - | point=O2 | pollutant=Ni | rule=daily maximum | basis=concentration | document=other | value=0.1 mg/L
`)
	standards := exposure.StandardsOf(shop, noFlow)
	require.Len(t, standards, 1)
	var got []string
	for _, l := range exposure.LimitsAt(shop, tables(t), standards[0]) {
		if strings.Contains("Ni Zn pH Cu Sn", string(l.Pollutant)) && l.Rule != chemicals.MonthlyAverage {
			mark := ""
			if l.Strictest {
				mark = " *"
			}
			got = append(got, strings.Join([]string{string(l.Pollutant), string(l.Rule), string(l.Basis), l.Text, l.Origin.String()}, ", ")+mark)
		}
	}
	assert.Equal(t, []string{
		"Cu, daily maximum, concentration, 3.38 mg/L, federal *",
		"Ni, daily maximum, concentration, 3.00 mg/L, permit or local *",
		"Ni, daily maximum, concentration, 3.98 mg/L, federal",
		"Ni, daily maximum, mass per day, 0.5 lb/day, permit or local *",
		"Sn, daily maximum, concentration, 2 mg/L, permit or local *",
		"Zn, daily maximum, concentration, 2.61 mg/L, federal *",
		"Zn, daily maximum, concentration, 10.0 mg/L, permit or local",
		"pH, minimum, none, 5.5, permit or local *",
		"pH, minimum, none, 5.0, prohibition",
	}, got)
}

// The 40 °C of 403.5(b)(5) holds at the treatment works.
func TestTheTemperatureAtTheWorksIsNoLimitAtThePoint(t *testing.T) {
	const own = "limit - | point=O1 | pollutant=temperature | rule=maximum | basis=none | document=permit | value=140 °F\n"
	const hot = "sample 2026-03-04 | sample=S1 | point=O1 | pollutant=temperature | result=45 °C | type=grab\n"
	for rows, want := range map[string][]string{
		sewerShop + hot:       {"40 °C: not compared"},
		sewerShop + hot + own: {"140 °F * not over", "40 °C: not compared"},
	} {
		set := exposure.ResultsOf(shopOf(t, "2026-06-30", rows), tables(t), noFlow, 0)
		require.Len(t, set.Results, 1)
		var got []string
		for _, a := range set.Results[0].Against {
			mark := ":"
			if a.Limit.Strictest {
				mark = " *"
			}
			got = append(got, a.Limit.Text+mark+" "+a.Verdict.String())
		}
		assert.Equal(t, want, got)
		assert.Empty(t, set.Clocks)
		for _, s := range set.Shares {
			assert.NotEqual(t, exposure.LimitTemperature, s.Limit.Pollutant)
		}
		for _, l := range set.Limits {
			if l.AtWorks {
				assert.Equal(t, "the limit is on the water that comes to the treatment works, not on that of the shop", l.Apart)
				assert.False(t, l.Strictest)
			}
			assert.Equal(t, l.Text == "40 °C", l.AtWorks, l.Text)
		}
	}
}

func releaseOf(t *testing.T, l chemicals.Level) quantity.Release {
	t.Helper()
	r, ok := l.Release()
	require.True(t, ok, l.String())
	return r
}

func numberOf(t *testing.T, l chemicals.Level) float64 {
	t.Helper()
	if c, ok := releaseOf(t, l).Concentration(); ok {
		return c.MilligramsPerLitre()
	}
	a, ok := releaseOf(t, l).MassPerArea()
	require.True(t, ok, l.String())
	return a.MilligramsPerSquareMetre()
}
