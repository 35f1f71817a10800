package rinsewater_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/quantity"
	"bathwarden/reports/doc"
)

// dumps sets the water and the metal of each day: of N, which holds 80 g/L, and
// of W, which holds none. In mg/L 80, 20, 160, 0; 40, 80, 80, 40; 320.
const dumps = `
shop - | name=Fernhollow Finishing | first day=2026-01-01 | hours per day=8 h | regime=us
tank - | tank=N | purpose=plate | plates=Ni | working volume=1000 L | line=L | position=1 | drains to=out
tank - | tank=W | purpose=clean | working volume=100000 L | line=L | position=2 | drains to=out
point - | point=out | body=sewer
bath - | tank=N | ingredient=Ni | concentration=80 g/L
dump 2026-02-02 | tank=N | volume=1 L
dump 2026-02-02 | tank=W | volume=999 L
dump 2026-02-03 | tank=N | volume=1 L
dump 2026-02-03 | tank=W | volume=3999 L
dump 2026-02-05 | tank=N | volume=2 L
dump 2026-02-05 | tank=W | volume=998 L
`

const sixMore = `
dump 2026-02-27 | tank=W | volume=1000 L
dump 2026-03-02 | tank=N | volume=1 L
dump 2026-03-02 | tank=W | volume=1999 L
dump 2026-03-03 | tank=N | volume=3 L
dump 2026-03-03 | tank=W | volume=2997 L
dump 2026-03-04 | tank=N | volume=3 L
dump 2026-03-04 | tank=W | volume=2997 L
dump 2026-03-05 | tank=N | volume=1 L
dump 2026-03-05 | tank=W | volume=1999 L
dump 2026-03-06 | tank=N | volume=4 L
dump 2026-03-06 | tank=W | volume=996 L
`

func TestTheWorstDayFourDaysAndMonth(t *testing.T) {
	worst := table(t, build(t, shopOf(t, "2026-03-31", dumps+sixMore), quantity.Metric), "worst_1")
	for of, want := range map[string]struct {
		first, last string
		days, mean  float64
	}{
		"day":       {"2026-03-06", "2026-03-06", 1, 320},
		"four days": {"2026-02-02", "2026-02-27", 4, (80 + 20 + 160 + 0) / 4.0},
		"month":     {"2026-03-01", "2026-03-31", 5, (40 + 80 + 80 + 40 + 320) / 5.0},
	} {
		assert.Equal(t, want.first, cell(t, worst, "first", "Ni", of).String(), of)
		assert.Equal(t, want.last, cell(t, worst, "last", "Ni", of).String(), of)
		assert.InDelta(t, want.days, cell(t, worst, "days", "Ni", of).(doc.Number).Is, 0, of)
		for _, column := range []string{"low", "likely", "high"} {
			assert.InDelta(t, want.mean, cell(t, worst, column, "Ni", of).(doc.Number).Is, 1e-9, "%s, %s", of, column)
		}
	}
	short := table(t, build(t, shopOf(t, "2026-03-31", dumps), quantity.Metric), "worst_1")
	assert.Equal(t, doc.Blank{Why: "fewer than four days"}, cell(t, short, "first", "Ni", "four days"))
	assert.InDelta(t, 160, cell(t, short, "high", "Ni", "day").(doc.Number).Is, 1e-9)
}
