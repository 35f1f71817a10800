package exposure_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

// untreatedLine sends the nickel of one bath to a point without treatment; its
// drag-out is that of the published table.
var untreatedLine = strings.NewReplacer(
	"drains to=T\n", "drains to=out\n", "film - | tank=N | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed\n", "",
).Replace(plain)

// treatedUntilFifth has T on its way until the 4th of February.
var treatedUntilFifth = strings.Replace(plain, "film - | tank=N | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed\n", "", 1) +
	"tank 2026-02-05 | tank=R1 | purpose=rinse | working volume=200 L | line=L | position=3 | drains to=out\n"

func onDay(t *testing.T, w *exposure.Water, day chemicals.Day) exposure.Spread {
	t.Helper()
	require.Len(t, w.Points, 1)
	for _, d := range w.Points[0].Days {
		if d.Day == day {
			c, ok := d.MilligramsPerLitre(0)
			require.True(t, ok)
			return c
		}
	}
	require.Fail(t, "no water on that day")
	return exposure.Spread{}
}

func sampled(day chemicals.Day, mgL float64) string {
	return fmt.Sprintf("sample %s | sample=S%s | point=out | pollutant=Ni | result=%s mg/L | type=composite\n", day, day, quantity.Significant(mgL, 12))
}

// Twice the estimate on one day and thrice on the other: the film is that of
// the table times the sum of what was sampled over that of what was estimated,
// and between the two days.
func TestSamplesCalibrateADragOutThatWasOnlyEstimated(t *testing.T) {
	before := water(t, untreatedLine+threeDays)
	require.Equal(t, exposure.ByTable, before.DragOuts[0].Film.Way)
	assert.Empty(t, before.Calibrations)
	one, two := onDay(t, before, "2026-02-02")[working.Likely], onDay(t, before, "2026-02-03")[working.Likely]

	after := water(t, untreatedLine+threeDays+sampled("2026-02-02", 2*one)+sampled("2026-02-03", 3*two))
	require.Len(t, after.Calibrations, 1)
	c := after.Calibrations[0]
	assert.Equal(t, chemicals.Name("N"), c.Tank)
	assert.Equal(t, "Ni", c.Metal)
	assert.Len(t, c.Entries, 2)
	ratio := (2*one + 3*two) / (one + two)
	assert.InEpsilon(t, ratio, c.Ratio.Is(), 1e-9)
	assert.InEpsilon(t, 2, c.Ratio.At(working.Low), 1e-9)
	assert.InEpsilon(t, 3, c.Ratio.At(working.High), 1e-9)

	film := after.DragOuts[0].Film
	assert.Equal(t, exposure.BySamples, film.Way)
	table := before.DragOuts[0].Film.PerArea.Is()
	assert.InEpsilon(t, float64(table)*ratio, float64(film.PerArea.Is()), 1e-9)
	assert.InEpsilon(t, float64(table)*2, float64(film.PerArea.At(working.Low)), 1e-9)
	assert.Contains(t, film.What, "published table")
	assert.NotEmpty(t, film.PerArea.Steps())
	// The estimate of all days goes up alike: what leaves with the water is all
	// but proportional to what is dragged in.
	assert.InEpsilon(t, one*ratio, onDay(t, after, "2026-02-02")[working.Likely], 1e-4)
}

// A dump of the bath itself is of the same bath; its day tells nothing.
func TestADumpOfTheBathOnAnotherDayIsOfTheSameBath(t *testing.T) {
	rows := untreatedLine + fiveDays + "dump 2026-02-05 | tank=N | volume=1 L | to=out\n"
	day := onDay(t, water(t, rows), "2026-02-02")[working.Likely]
	c := water(t, rows+sampled("2026-02-02", 2*day)+sampled("2026-02-04", 2*day)+sampled("2026-02-05", 90*day)).Calibrations
	require.Len(t, c, 1)
	assert.InEpsilon(t, 2, c[0].Ratio.Is(), 1e-9)
}

func TestWhatCalibratesNothing(t *testing.T) {
	day := onDay(t, water(t, untreatedLine+threeDays), "2026-02-02")[working.Likely]
	both := sampled("2026-02-02", 2*day) + sampled("2026-02-03", 2*day)
	require.Len(t, water(t, untreatedLine+threeDays+both).Calibrations, 1, "the case without what stands below")
	for name, rows := range map[string]string{
		"one day with a result":                untreatedLine + threeDays + sampled("2026-02-02", 2*day),
		"a film that was measured":             strings.ReplaceAll(plain, "drains to=T\n", "drains to=out\n") + threeDays + both,
		"a treatment on the way":               strings.Replace(plain, "film - | tank=N | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed\n", "", 1) + threeDays + both,
		"a second bath with the metal":         untreatedLine + threeDays + both + strings.ReplaceAll(second, "drains to=V", "drains to=out"),
		"two baths before one rinse":           untreatedLine + threeDays + both + "tank - | tank=M | purpose=strike | working volume=100 L | line=L | position=9 | drains to=haul\nbath - | tank=M | ingredient=Ni | concentration=5 g/L\ncycle - | cycle=E | step=1 | tank=M\ncycle - | cycle=E | step=2 | tank=R1\ncycle - | cycle=E | step=3 | tank=R2\nwork 2026-02-03 | cycle=E | area=1 m² | loads=2 | drainage=vertical, well drained\n",
		"nothing found":                        untreatedLine + threeDays + strings.ReplaceAll(both, "result=", "result=<"),
		"a dump on one of the two days":        untreatedLine + threeDays + both + "dump 2026-02-03 | tank=N | volume=1 L | to=out\n",
		"a rinse dumped on one of them":        untreatedLine + threeDays + both + "dump 2026-02-03 | tank=R1 | volume=200 L | to=out\n",
		"a treatment on the way on these days": treatedUntilFifth + threeDays + both,
	} {
		w := water(t, rows)
		assert.Empty(t, w.Calibrations, name)
		for _, d := range w.DragOuts {
			assert.NotEqual(t, exposure.BySamples, d.Film.Way, name)
		}
	}
}

// The samples of days without treatment tell, though a treatment came later.
func TestATreatmentThatCameLaterChangesNothing(t *testing.T) {
	later := untreatedLine + fiveDays + "tank 2026-02-06 | tank=R1 | purpose=rinse | working volume=200 L | line=L | position=3 | drains to=T\n"
	day := onDay(t, water(t, later), "2026-02-02")[working.Likely]
	assert.Len(t, water(t, later+sampled("2026-02-02", 2*day)+sampled("2026-02-04", 2*day)).Calibrations, 1)
}

// A metal that one of two baths before a rinse carries is that bath's.
func TestAMetalOfOneOfTwoBathsBeforeARinse(t *testing.T) {
	rows := one + works(20, tenDays...) + "tank - | tank=Z | purpose=strike | working volume=100 L | line=L | position=9 | drains to=haul\nbath - | tank=Z | ingredient=Cu | concentration=5 g/L\n" +
		"cycle - | cycle=E | step=1 | tank=Z\ncycle - | cycle=E | step=2 | tank=R\n"
	for _, day := range tenDays {
		rows += fmt.Sprintf("work %s | cycle=E | area=1 m² | loads=2 | drainage=vertical, well drained\n", day)
	}
	for _, day := range tenDays[:2] {
		rows += strings.Replace(sampled(day, 0.5), "pollutant=Ni", "pollutant=Cu", 1)
	}
	c := water(t, rows).Calibrations
	require.Len(t, c, 1)
	assert.Equal(t, chemicals.Name("Z"), c[0].Tank)
}
