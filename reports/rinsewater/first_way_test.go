package rinsewater_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/sewer"
)

// section are the blocks under a heading of level 1.
func section(d *doc.Document, number string) []doc.Block {
	var all []doc.Block
	in := false
	for _, block := range d.Content {
		if h, ok := block.(doc.Heading); ok && h.Level == 1 {
			in = h.Number == number
		}
		if in {
			all = append(all, block)
		}
	}
	return all
}

func firstOf(t *testing.T, plan exposure.Plan) exposure.Way {
	t.Helper()
	for _, way := range plan.Ways {
		if way.Rank == 1 {
			return way
		}
	}
	require.Fail(t, "no way is ranked first")
	return exposure.Way{}
}

// loose is Brook Lane under limits so high that several ways are ranked.
func loose() string {
	return strings.NewReplacer("value=3.0 mg/L", "value=300 mg/L", "value=2.5 mg/L", "value=250 mg/L", "value=20 g/day", "value=2000 g/day").Replace(brook)
}

func TestSectionOneNamesTheFirstWayWithItsFigures(t *testing.T) {
	for name, units := range systems {
		shop := shopOf(t, "2026-03-31", loose())
		plan := findingsOf(t, shop, units).Plan
		require.Greater(t, len(plan.Ways), 1)
		require.Equal(t, 2, plan.Ways[1].Rank, "there is a second, which section 1 must not take for the first")
		way := firstOf(t, plan)
		d := build(t, shop, units)
		var says string
		for _, block := range section(d, "1") {
			if p, ok := block.(doc.Paragraph); ok && strings.HasPrefix(p.Text, "First: ") {
				says = p.Text
			}
		}
		require.NotEmpty(t, says, name)
		assert.Contains(t, says, way.Of[0].String(), name)
		assert.Contains(t, strings.ToLower(says), strings.ToLower(strings.TrimSuffix(way.What, ".")), name)
		assert.Contains(t, says, "keeps "+sewer.Between(way.Sum)+" g of metals", name)
		assert.Contains(t, says, sewer.Number(way.Nearest.High).String()+" mg/L by the high estimate", name)
		if way.Water != 0 {
			volume := quantity.Volume(max(way.Water, -way.Water)) * quantity.Litre
			assert.Contains(t, says, quantity.Print(volume, map[string]string{"metric": "L", "us": "gal"}[name], 3), name)
		}
		row := table(t, d, "ranked_ways").Rows[0]
		assert.Equal(t, "1", row[0].String())
		assert.Equal(t, sewer.Number(way.Sum[working.Likely]), row[4])
	}
}

// The point of the charts is to see the three side by side.
func TestAChartHasLimitSamplesAndBand(t *testing.T) {
	for name, units := range systems {
		var charts int
		for _, block := range build(t, shopOf(t, "2026-03-31", brook), units).Content {
			chart, ok := block.(doc.Chart)
			if !ok {
				continue
			}
			charts++
			assert.Equal(t, "mg/L", chart.Unit, name)
			assert.NotEmpty(t, chart.Steps, "%s: limit of %s", name, chart.Title)
			assert.NotEmpty(t, chart.Dots, "%s: samples of %s", name, chart.Title)
			require.NotEmpty(t, chart.Bands, "%s: band of %s", name, chart.Title)
			for _, span := range chart.Bands[0].Spans {
				assert.LessOrEqual(t, span.Low.Is, span.Likely.Is)
				assert.LessOrEqual(t, span.Likely.Is, span.High.Is)
			}
		}
		assert.NotZero(t, charts, name)
	}
}

func TestAnEmptyPaperHasNoFigure(t *testing.T) {
	for _, block := range build(t, shopOf(t, "2026-06-30", ""), quantity.Metric).Content {
		if table, ok := block.(doc.Table); ok && table.Name != "gaps" {
			for _, row := range table.Rows {
				for _, c := range row {
					_, figure := c.(doc.Number)
					assert.False(t, figure, "%s: %s", table.Name, c)
				}
			}
		}
	}
}

// A bath of which nothing is known, and a rinse without a flow, give no figure:
// each says why.
func TestABathOfNothingKnownIsBlank(t *testing.T) {
	rows := strings.Replace(brook, "bath - | tank=N | ingredient=Ni | concentration=80 g/L\n", "", 1)
	rows = strings.ReplaceAll(rows, " | flow=4 L/min", "")
	shop := shopOf(t, "2026-03-31", rows)
	d := build(t, shop, quantity.US)
	rinses := table(t, d, "rinses")
	for _, column := range []string{"flow", "ratio", "turnover"} {
		blank, ok := cell(t, rinses, column, "R1–R2").(doc.Blank)
		require.True(t, ok, "%s is %s", column, cell(t, rinses, column, "R1–R2"))
		assert.NotEmpty(t, blank.Why, column)
	}
	for _, row := range table(t, d, "metals_dragged_out").Rows {
		assert.NotEqual(t, "Ni", row[1].String(), "the nickel of N is not known")
	}
}

func TestNoCellIsAVerdict(t *testing.T) {
	verdict := regexp.MustCompile(`(?i)\b(compliant|safe|ok)\b`)
	require.True(t, verdict.MatchString("all is OK."))
	for _, block := range build(t, shopOf(t, "2026-03-31", brook), quantity.US).Content {
		switch is := block.(type) {
		case doc.Paragraph:
			assert.NotRegexp(t, verdict, is.Text)
		case doc.Notice:
			assert.NotRegexp(t, verdict, is.Title+" "+is.Text)
		case doc.Table:
			for _, row := range append(is.Rows, is.Totals...) {
				for _, c := range row {
					assert.NotRegexp(t, verdict, c.String(), is.Name)
				}
			}
		}
	}
}

// In the units of the shop the same work gives the same volumes.
func TestTheVolumesOfTheTwoSystemsAgree(t *testing.T) {
	shop := shopOf(t, "2026-03-31", brook)
	litres, gallons := table(t, build(t, shop, quantity.Metric), "drag_out"), table(t, build(t, shop, quantity.US), "drag_out")
	require.Len(t, gallons.Rows, len(litres.Rows))
	require.NotEmpty(t, litres.Rows)
	for i, row := range litres.Rows {
		for n, column := range litres.Columns {
			if l, ok := row[n].(doc.Number); ok && column.Unit == "L" {
				assert.Equal(t, "gal", gallons.Columns[n].Unit, column.Name)
				assert.InEpsilon(t, l.Is, gallons.Rows[i][n].(doc.Number).Is*3.785411784, 1e-9, column.Name)
			}
		}
	}
}
