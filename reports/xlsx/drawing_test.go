package xlsx_test

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
	"bathwarden/reports/xlsx"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestChartIsDrawnFromItsTable reads the ranges of the drawing and finds the
// figures of the model in their cells.
func TestChartIsDrawnFromItsTable(t *testing.T) {
	data := set(t, sample())
	cells, _ := grid(t, data)
	chart := part(t, data, "xl/charts/chart1.xml")
	series := regexp.MustCompile(`<c:tx><c:v>([^<]*)</c:v></c:tx>.*?<c:xVal><c:numRef><c:f>&#39;4 Over time&#39;!\$A\$(\d+):\$A\$(\d+)</c:f>.*?<c:yVal><c:numRef><c:f>&#39;4 Over time&#39;!\$([A-Z])\$(\d+):\$([A-Z])\$(\d+)</c:f>`).FindAllStringSubmatch(chart, -1)
	var names []string
	for _, s := range series {
		names = append(names, s[1])
		assert.Equal(t, []string{s[2], s[3]}, []string{s[5], s[7]}, "days and figures of %q stand in the same rows", s[1])
		assert.Equal(t, s[4], s[6])
	}
	assert.Equal(t, []string{"estimate, low", "estimate, likely", "estimate, high", "daily maximum", "monthly average", "sample", "sample, not found (&lt;), at its reporting limit"}, names)
	rows := effluent().Figures().Rows
	first := series[0][2]
	require.Equal(t, "27", first)
	for i, row := range rows {
		for j, c := range row {
			got := cells["4 Over time!"+workbook.Ref(j+1, 27+i)]
			switch c := c.(type) {
			case doc.Number:
				assert.Equal(t, workbook.KindNumber, got.Kind)
				assert.InDelta(t, c.Is, number(t, got.Text), 1e-12)
			case doc.Date:
				assert.Equal(t, c.String(), got.Text)
				assert.Equal(t, workbook.KindDate, got.Kind)
			default:
				assert.Empty(t, got.Text, "a gap in the line must be an empty cell")
			}
		}
	}
	assert.Equal(t, "2025-08-01", cells["4 Over time!A39"].Text, "the estimate breaks off")
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return f
}

func TestPictogramsStandInTheWorkbook(t *testing.T) {
	data := set(t, sample())
	drawing := part(t, data, "xl/drawings/drawing1.xml")
	assert.Equal(t, 2, strings.Count(drawing, "<xdr:pic>"))
	assert.Contains(t, drawing, `descr="GHS05 corrosion"`)
	assert.Contains(t, drawing, `descr="GHS07 exclamation mark"`)
	cells, _ := grid(t, data)
	words := ""
	for _, c := range cells {
		words += c.Text + "\n"
	}
	assert.Contains(t, words, "GHS05 corrosion, GHS07 exclamation mark", "the words stay")
	row := regexp.MustCompile(`<xdr:oneCellAnchor><xdr:from><xdr:col>0</xdr:col><xdr:colOff>\d+</xdr:colOff><xdr:row>(\d+)</xdr:row>`).FindAllStringSubmatch(drawing, -1)
	require.Len(t, row, 2)
	assert.Equal(t, row[0][1], row[1][1], "side by side")
}

func TestAnUnknownPictogramIsLeftToItsWords(t *testing.T) {
	d := sample()
	d.Content = nil
	d.Add(doc.Label{Pictograms: []doc.Pictogram{{Code: "GHS99", Name: "nothing"}}})
	cells, _ := grid(t, set(t, d))
	found := false
	for _, c := range cells {
		found = found || c.Text == "GHS99 nothing"
	}
	assert.True(t, found)
}

func TestAnyChartIsSet(t *testing.T) {
	anyDay := rapid.Custom(func(t *rapid.T) doc.Date {
		return rapid.SampledFrom([]doc.Date{{}, {Year: 2026, Month: 1, Day: 1}, {Year: 1899, Month: 1, Day: 1}, {Year: 9999, Month: 12, Day: 31}, {Year: 2026, Month: 2, Day: 30}}).Draw(t, "day")
	})
	value := rapid.Custom(func(t *rapid.T) doc.Number {
		return doc.Number{Is: rapid.Float64Range(-1e300, 1e300).Draw(t, "value"), Decimals: 2, Below: rapid.Bool().Draw(t, "below")}
	})
	rapid.Check(t, func(r *rapid.T) {
		c := doc.Chart{Name: "c", Title: "t", Empty: "none", First: anyDay.Draw(r, "first")}
		for range rapid.IntRange(0, 2).Draw(r, "series") {
			c.Dots = append(c.Dots, doc.Dots{Name: "d", Points: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) doc.Point {
				return doc.Point{Day: anyDay.Draw(t, "day"), Value: value.Draw(t, "value")}
			}), 0, 4).Draw(r, "points")})
			c.Steps = append(c.Steps, doc.Steps{Name: "s", Levels: []doc.Level{{From: anyDay.Draw(r, "from"), Value: value.Draw(r, "value")}}})
			c.Bands = append(c.Bands, doc.Band{Name: "b", Spans: []doc.Span{{From: anyDay.Draw(r, "from"), To: anyDay.Draw(r, "to"), Low: value.Draw(r, "low")}}})
		}
		d := doc.New(doc.Head{}, doc.Foot{AsOf: "2026-03-31"}, "ask")
		d.Add(c, doc.Line{Name: "l", Empty: "none"})
		require.NoError(r, xlsx.Write(&bytes.Buffer{}, d))
	})
}
