package sewer_test

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/text"
	"bathwarden/reports/xlsx"
	"bathwarden/reports/xlsx/recalc"
	"bathwarden/templates"
)

var systems = map[string]quantity.System{"metric": quantity.Metric, "us": quantity.US}

func printed(t *testing.T, d *doc.Document) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, text.Write(&out, d, 160))
	return out.String()
}

// rowOf is the row of the page whose first cell reads as given.
func rowOf(t *testing.T, page doc.Table, pollutant, rule string) []doc.Cell {
	t.Helper()
	for _, row := range page.Rows {
		if row[0].String() == pollutant && strings.HasPrefix(row[1].String(), rule) {
			return row
		}
	}
	require.Fail(t, "no row", "%s, %s", pollutant, rule)
	return nil
}

func TestAnEmptyShopSaysWhatIsMissing(t *testing.T) {
	d, _ := build(t, "", quantity.Metric)
	got := printed(t, d)
	w := templates.Sewer
	for _, want := range []string{w.NoPoints, w.NoLimits, w.NoResults, w.NoDue, w.NoTreatment, w.NoHolds, w.NoShipments, w.NoOpenNotices} {
		assert.Contains(t, got, want)
	}
	assert.Contains(t, got, "no water is known to leave at any point")
	for _, block := range d.Content {
		if table, ok := block.(doc.Table); ok {
			assert.Empty(t, table.Rows, table.Name)
		}
	}
	require.NoError(t, xlsx.Write(&bytes.Buffer{}, d))
}

// Every limit that binds and that the walk of the limits calls strictest has a
// row; the federal limits count too.
func TestThePageHasEachStrictestLimit(t *testing.T) {
	d, found := build(t, line+over, quantity.Metric)
	page := table(t, d, "limits_and_results_1")
	var want int
	for _, l := range found.Results.Limits {
		if !l.Strictest || len(l.If) > 0 || l.Apart != "" || l.Origin == exposure.LimitForComparison {
			continue
		}
		want++
		number, unit, _ := strings.Cut(l.Text, " ")
		var matched bool
		for _, row := range page.Rows {
			name, own, _ := strings.Cut(row[0].String(), ", ")
			if own == "" {
				own = "mg/L"
			}
			matched = matched || name == string(l.Pollutant) && (own == unit || unit == "") && row[2].String() == number
		}
		assert.True(t, matched, "%s %s %s stands on no row", l.Pollutant, l.Rule, l.Text)
	}
	assert.Greater(t, want, 8, "limits of the permit and of the federal rules")
	assert.Len(t, page.Rows, want)
	assert.Len(t, table(t, d, "limits_in_force").Rows, len(found.Results.Limits), "and every limit in the section on rules")
}

func TestTheRowHasLatestHighestAndEstimate(t *testing.T) {
	tabled := regexp.MustCompile(`film - .*\n`).ReplaceAllString(line, "") // the published film has a range, a weighed one none
	d, found := build(t, tabled+over, quantity.Metric)
	page := table(t, d, "limits_and_results_1")
	row := rowOf(t, page, "Ni", "daily max")
	assert.Equal(t, "2.00", row[at(t, page, "limit")].String())
	assert.Equal(t, "1.20", row[at(t, page, "latest")].String())
	assert.Equal(t, "2026-03-04", row[at(t, page, "on")].String())
	highest := row[at(t, page, "highest")].(doc.Number)
	assert.Equal(t, "2.51", highest.String())
	assert.Equal(t, doc.Over, highest.Emphasis, "it was over the limit of its day")

	mean, ok := found.Water.Points[0].Whole.MilligramsPerLitre(0)
	require.True(t, ok)
	require.NotEqual(t, mean[working.Low], mean[working.High])
	assert.InDelta(t, min(mean[working.Low], mean[working.High]), row[at(t, page, "low")].(doc.Number).Is, 1e-12)
	assert.InDelta(t, max(mean[working.Low], mean[working.High]), row[at(t, page, "high")].(doc.Number).Is, 1e-12)
	assert.Equal(t, "7.5", rowOf(t, page, "pH", "minimum")[at(t, page, "latest")].String())
}

// By hand: of a bath of 80 g/L a film of 0.1 L/m² on 75 m² is 600 g, of which
// all but what stays on the work comes to the point, less 99 %.
func TestTheEstimateByHand(t *testing.T) {
	d, _ := build(t, line+over, quantity.Metric)
	page := table(t, d, "limits_and_results_1")
	on := 0.0
	for _, area := range []float64{20, 30, 25} {
		q := 4 * 60 * 8 / (area * 0.1) // water for each volume of drag-in
		on += area * 0.1 * 80 / (1 + q + q*q)
	}
	water := 3.0 * 5 * 60 * 8 // L, with that of the boiler
	high := rowOf(t, page, "Ni", "daily max")[at(t, page, "high")].(doc.Number).Is
	assert.InDelta(t, (600-on)/100/water*1000, high, 1e-9)
}

// Dumps alone, so that the water and metal of each day are set: in mg/L 80, 20,
// 160, 0; 40, 80, 80, 40; 320.
const dumps = `
shop - | name=Fernhollow Finishing | first day=2026-01-01 | hours per day=8 h | regime=us | construction start=1979-05-01 | job shop=yes
answer - | question=process water over 38000 L a day | answer=no
tank - | tank=N | purpose=plate | plates=Cd | working volume=1000 L | drains to=out
tank - | tank=W | purpose=clean | working volume=100000 L | drains to=out
point - | point=out | body=sewer
bath - | tank=N | ingredient=Cd | concentration=80 g/L
limit - | point=out | pollutant=Cd | rule=four-day average | basis=mass per day | document=permit | value=500 g/day
limit - | point=out | pollutant=Cd | rule=monthly average | basis=concentration | document=permit | value=100 mg/L
dump 2026-02-02 | tank=N | volume=1 L
dump 2026-02-02 | tank=W | volume=999 L
dump 2026-02-03 | tank=N | volume=1 L
dump 2026-02-03 | tank=W | volume=3999 L
dump 2026-02-05 | tank=N | volume=2 L
dump 2026-02-05 | tank=W | volume=998 L
dump 2026-02-27 | tank=W | volume=1000 L
`

const fiveMore = `
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

func TestTheWorstIsThatOfTheRule(t *testing.T) {
	d, _ := build(t, dumps+fiveMore, quantity.Metric)
	page := table(t, d, "limits_and_results_1")
	worst := func(pollutant, rule string) float64 {
		return rowOf(t, page, pollutant, rule)[at(t, page, "worst")].(doc.Number).Is
	}
	assert.InDelta(t, 320, worst("Cd", "daily max."), 1e-9)
	assert.InDelta(t, (80+20+160+0)/4.0, worst("Cd", "four-day av."), 1e-9, "neither the worst day nor the month")
	assert.InDelta(t, (80+240+240+80)/4.0, worst("Cd, g/day", "four-day av."), 1e-9)
	assert.InDelta(t, (40+80+80+40+320)/5.0, worst("Cd", "monthly av."), 1e-9)

	short, _ := build(t, strings.Replace(dumps, "dump 2026-02-27 | tank=W | volume=1000 L\n", "", 1), quantity.Metric)
	page = table(t, short, "limits_and_results_1")
	assert.Equal(t, doc.Blank{Why: "fewer than four days"}, rowOf(t, page, "Cd", "four-day av.")[at(t, page, "worst")])
}

func TestAResultOverALimitWithoutNoticeIsMarked(t *testing.T) {
	open, _ := build(t, line+over, quantity.Metric)
	told, _ := build(t, line+over+`
notice 2026-02-09 | time=14:00 | to=city | about=S1
sample 2026-02-20 | sample=S3 | point=out | pollutant=Ni | result=1.00 mg/L | type=composite | received=2026-02-25 10:00
notice 2026-02-26 | time=09:00 | to=city | about=S3
`, quantity.Metric)
	mark := func(d *doc.Document) doc.Emphasis {
		return rowOf(t, table(t, d, "limits_and_results_1"), "Ni", "daily max")[0].(doc.Text).Emphasis
	}
	assert.Equal(t, doc.Over, mark(open))
	assert.Contains(t, printed(t, open), "no record found; due on")
	assert.Equal(t, doc.Normal, mark(told), "told in time and sampled again")
	assert.Contains(t, printed(t, told), templates.Sewer.NoOpenNotices)
}

func TestUnknownIsBlankWithAReason(t *testing.T) {
	d, _ := build(t, strings.Replace(line, " | flow=4 L/min", "", 1)+over, quantity.US)
	page := table(t, d, "limits_and_results_1")
	for _, row := range page.Rows {
		for _, column := range []string{"low", "high", "worst", "ratio", "latest"} {
			if n, ok := row[at(t, page, column)].(doc.Number); ok {
				assert.NotZero(t, n.Is, "%s of %s", column, row[0])
			}
		}
	}
	assert.Equal(t, "none", rowOf(t, page, "Zn", "daily max")[at(t, page, "latest")].String(), "never sampled")

	bare, _ := build(t, line+"sample 2026-02-03 | sample=S1 | point=out | pollutant=Ni | result=1 mg/L\n", quantity.Metric)
	results := table(t, bare, "results")
	require.Len(t, results.Rows, 1)
	assert.Equal(t, doc.Blank{Why: "not recorded"}, results.Rows[0][at(t, results, "analysed")])
	assert.Equal(t, doc.Blank{Why: "not recorded"}, table(t, bare, "analyses").Rows[0][2])
}

var verdicts = regexp.MustCompile(`(?i)\b(compliant|safe|ok)\b`)

func TestItSaysNoVerdict(t *testing.T) {
	require.True(t, verdicts.MatchString("all is OK."))
	for _, rows := range []string{"", line, line + over} {
		d, _ := build(t, rows, quantity.US)
		assert.Empty(t, verdicts.FindAllString(printed(t, d), -1))
		for _, block := range d.Content {
			table, _ := block.(doc.Table)
			for _, row := range append(table.Rows, table.Totals...) {
				for _, c := range row {
					assert.NotRegexp(t, verdicts, c.String(), table.Name)
				}
			}
		}
	}
}

func TestUnitsOfTheShop(t *testing.T) {
	metric, _ := build(t, line+over, quantity.Metric)
	us, _ := build(t, line+over, quantity.US)
	kg, lb := table(t, metric, "reagents_and_sludge_1"), table(t, us, "reagents_and_sludge_1")
	assert.Equal(t, "kg", kg.Columns[1].Unit)
	assert.Equal(t, "lb", lb.Columns[1].Unit)
	require.NotEmpty(t, kg.Rows)
	require.Len(t, lb.Rows, len(kg.Rows))
	for i, row := range kg.Rows {
		assert.InEpsilon(t, row[2].(doc.Number).Is, lb.Rows[i][2].(doc.Number).Is*0.45359237, 1e-9, row[0].String())
	}
	assert.Contains(t, printed(t, us), "gal")
	assert.Equal(t, table(t, metric, "limits_and_results_1").Rows, table(t, us, "limits_and_results_1").Rows, "limits and results stay in mg/L")
}

func TestTheWorkbookComputesWhatItShows(t *testing.T) {
	for name, units := range systems {
		t.Run(name, func(t *testing.T) {
			d, _ := build(t, line+over, units)
			var out bytes.Buffer
			require.NoError(t, xlsx.Write(&out, d))
			assert.GreaterOrEqual(t, recalc.Check(t, out.Bytes()), 13, "live cells")
		})
	}
}

// A year with work on 250 days and a sample in each of its weeks.
func BenchmarkYear(b *testing.B) {
	rows := strings.Split(line, "work ")[0]
	day := chemicals.Day("2025-04-01")
	for i := range 250 {
		rows += fmt.Sprintf("work %s | cycle=NC | area=%d m² | loads=40 | drainage=vertical, well drained\n", day.Add(i), 10+i%20)
		if i%5 == 0 {
			rows += fmt.Sprintf("sample %s | sample=S%d | point=out | pollutant=Ni | result=1.%d mg/L | type=composite\n", day.Add(i), i, i%10)
		}
	}
	shop := shopOf(b, rows)
	found := findings(b, shop)
	for b.Loop() {
		paper(shop, found, quantity.US)
	}
}
