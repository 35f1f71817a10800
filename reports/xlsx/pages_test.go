package xlsx_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bathwarden/reports/doc"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Points between the margins of the papers that may be in the printer.
const (
	letterUpright = 11*72 - 108.0
	fourOnSide    = 595.0 - 108
)

func chartNamed(name string) doc.Chart {
	c := effluent()
	c.Name, c.Title = name, name+" at the outfall"
	return c
}

// charts are the first rows and the ends of the charts of a sheet.
func charts(t *testing.T, drawing string) [][2]int {
	t.Helper()
	var all [][2]int
	for _, m := range regexp.MustCompile(`<xdr:from>.*?<xdr:row>(\d+)</xdr:row>.*?<xdr:to>.*?<xdr:row>(\d+)</xdr:row>`).FindAllStringSubmatch(drawing, -1) {
		first, err := strconv.Atoi(m[1])
		require.NoError(t, err)
		last, err := strconv.Atoi(m[2])
		require.NoError(t, err)
		all = append(all, [2]int{first + 1, last + 1})
	}
	return all
}

// TestNoChartIsCut adds the heights of the rows from the last page break that
// is set to the end of each chart.
func TestNoChartIsCut(t *testing.T) {
	for name, blocks := range map[string][]doc.Block{
		"one":           {chartNamed("Ni")},
		"four":          {chartNamed("Ni"), chartNamed("Cu"), chartNamed("Cr"), chartNamed("Zn")},
		"behind tables": {halves(), chartNamed("Ni"), chartNamed("Cu")},
		"on its side":   {chartNamed("Ni"), manyFigures(12), chartNamed("Cu")},
		"long words":    {doc.Paragraph{Text: strings.Repeat(sentence+" ", 40)}, chartNamed("Ni")},
	} {
		data := set(t, onOneSheet(blocks...))
		xml := part(t, data, "xl/worksheets/sheet2.xml")
		room := letterUpright
		if strings.Contains(xml, `orientation="landscape"`) {
			room = fourOnSide
		}
		l := form(t, xml)
		placed := charts(t, part(t, data, "xl/drawings/drawing1.xml"))
		require.Len(t, placed, strings.Count(part(t, data, "[Content_Types].xml"), "drawingml.chart+xml"), name)
		for _, c := range placed {
			begins := 1
			for _, row := range l.breaks {
				if row <= c[0] {
					begins = max(begins, row)
				}
			}
			used := 0.0
			for row := begins; row <= c[1]; row++ {
				used += l.heights[row]
			}
			assert.LessOrEqual(t, used, room, "%s: chart in rows %v on the page from row %d", name, c, begins)
		}
	}
}

func TestAPageBeginsWithWhatBelongsToTheChart(t *testing.T) {
	heading := func(n int) doc.Heading {
		return doc.Heading{Level: 2, Number: fmt.Sprintf("1.%d", n), Text: "Metal"}
	}
	words := doc.Paragraph{Text: "What the laboratory found."}
	long := doc.Paragraph{Text: strings.Repeat(sentence+" ", 40)}
	for name, c := range map[string]struct {
		blocks []doc.Block
		begin  []string
	}{
		"the first stays":                {[]doc.Block{words, chartNamed("Ni")}, nil},
		"its title":                      {[]doc.Block{chartNamed("Ni"), chartNamed("Cu")}, []string{"Cu at the outfall [2]"}},
		"its heading":                    {[]doc.Block{heading(1), chartNamed("Ni"), heading(2), chartNamed("Cu")}, []string{"1.2  Metal"}},
		"its heading and words":          {[]doc.Block{chartNamed("Ni"), heading(1), words, chartNamed("Cu")}, []string{"1.1  Metal"}},
		"not a heading above a table":    {[]doc.Block{chartNamed("Ni"), heading(1), manyFigures(3), chartNamed("Cu")}, []string{"Cu at the outfall [2]"}},
		"not a heading above much":       {[]doc.Block{heading(1), long, chartNamed("Ni")}, []string{"Ni at the outfall [2]"}},
		"not a chart that is not drawn":  {[]doc.Block{chartNamed("Ni"), doc.Chart{Name: "none", Title: "None", Empty: "no sample"}}, nil},
		"not the title of the sheet":     {[]doc.Block{long, chartNamed("Ni")}, []string{"Ni at the outfall [2]"}},
		"one sheet without any chart":    {[]doc.Block{halves()}, nil},
		"two behind each other, in turn": {[]doc.Block{chartNamed("Ni"), chartNamed("Cu"), chartNamed("Cr")}, []string{"Cu at the outfall [2]", "Cr at the outfall [2]"}},
	} {
		data := set(t, onOneSheet(c.blocks...))
		cells, _ := grid(t, data)
		var begin []string
		l := form(t, part(t, data, "xl/worksheets/sheet2.xml"))
		assert.True(t, slices.IsSorted(l.breaks), name)
		for _, row := range l.breaks {
			begin = append(begin, cells[fmt.Sprintf("1 Plan!A%d", row)].Text)
		}
		assert.Equal(t, c.begin, begin, name)
	}
}
