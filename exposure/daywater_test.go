package exposure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

// wayGaps are those that say where water goes.
func wayGaps(w *exposure.Water) []exposure.Gap {
	var all []exposure.Gap
	for _, g := range w.AllGaps() {
		if strings.Contains(g.What, "goes to") {
			all = append(all, g)
		}
	}
	return all
}

func TestWaterOfDaysOnWhichThePointIsNot(t *testing.T) {
	const work = `
dump 2026-02-02 | tank=N | volume=1 L
dump 2026-02-03 | tank=N | volume=2 L
dump 2026-02-05 | tank=N | volume=4 L
`
	for name, c := range map[string]struct {
		point string
		want  exposure.Gap
		left  float64 // g at the point
	}{
		"it begins later": {"point 2026-02-04 | point=out", exposure.Gap{
			Where: "tank N", What: "its water of 2026-02-02 goes to point out, which begins on 2026-02-04, later than that water",
			Mend: "record the point from its real first day, or correct its first day", Entry: 5,
		}, 320},
		"it ended": {"point 2026-01-01..2026-02-02 | point=out", exposure.Gap{
			Where: "tank N", What: "its water of 2026-02-03 goes to point out, which ended on 2026-02-02, earlier than that water",
			Mend: "correct its last day, or record where the water goes since then", Entry: 5,
		}, 80},
	} {
		t.Run(name, func(t *testing.T) {
			w := water(t, strings.Replace(dumps, "point - | point=out", c.point, 1)+work)
			assert.Equal(t, []exposure.Gap{c.want}, wayGaps(w), "once, for the first of its days")
			assert.InDelta(t, c.left, pointOf(t, w).Whole.Grams[0][working.Likely], 1e-9)
			assert.InDelta(t, 560-c.left, w.Lost["Ni"][working.Likely], 1e-9)
		})
	}
	w := water(t, strings.Replace(dumps, "position=1 | drains to=out", "position=1 | drains to=pond", 1)+work)
	require.Len(t, wayGaps(w), 1)
	assert.Contains(t, wayGaps(w)[0].What, `goes to "pond", which is no tank, no point and not haul`)
}

func TestWaterThatGoesToATankOfLaterDays(t *testing.T) {
	rows := strings.Replace(dumps, "position=1 | drains to=out", "position=1 | drains to=T", 1) +
		"tank 2026-02-04 | tank=T | purpose=treat | working volume=500 L | drains to=out\ndump 2026-02-02 | tank=N | volume=1 L\n"
	gaps := wayGaps(water(t, rows))
	require.Len(t, gaps, 1)
	assert.Equal(t, "its water of 2026-02-02 goes to tank T, which begins on 2026-02-04, later than that water", gaps[0].What)
	assert.Equal(t, int64(11), gaps[0].Entry)
}
