package workbook_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bathwarden/chemicals/workbook"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func square(t *testing.T, width int, shade uint8) []byte {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, width, width))
	for i := range picture.Pix {
		picture.Pix[i] = shade
	}
	picture.Set(0, 0, color.White)
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, picture))
	return b.Bytes()
}

// charted is a sheet with a chart over its first ten rows, drawn from the rows
// below, and beside it pictures.
func charted(t *testing.T) []byte {
	t.Helper()
	return build(t, func(b *workbook.Book) {
		sheet(t, b, "Bob's <front>")
		for n := range 2 {
			s := sheet(t, b, fmt.Sprintf("Samples & limits %d", n))
			chart := workbook.Chart{
				Column: 1, Row: 1, Rows: 10, Width: 500, Title: "Nickel & \"copper\"", Alt: "samples <and> limit",
				Days:   workbook.Axis{Low: workbook.DayNumber(2026, 1, 1), High: workbook.DayNumber(2026, 2, 1), Step: 7},
				Values: workbook.Axis{Title: "Nickel [mg/L]", Low: 0.01, High: 10, Step: 10, Log: true},
			}
			for i, column := range []string{"B", "C"} {
				chart.Series = append(chart.Series, workbook.Series{
					Name: "of <" + column + ">", Days: workbook.On(s.Name(), "$A$11:$A$12"), Values: workbook.On(s.Name(), "$"+column+"$11:$"+column+"$12"),
					Mark: workbook.Mark(1 - i), Line: workbook.Line(2 * i),
				})
			}
			require.NoError(t, s.Chart(chart))
			for k := range 3 {
				require.NoError(t, s.Picture(workbook.Picture{Column: 2, Row: 1, Left: 70 * k, Width: 60, PNG: square(t, 200+k, 7), Alt: fmt.Sprintf("GHS0%d", k)}))
			}
			for range 10 {
				require.NoError(t, s.Tall(31))
			}
			require.NoError(t, s.Row(workbook.Date(2026, 1, 5), workbook.Number(0.5), workbook.Number(2)))
			require.NoError(t, s.Row(workbook.Date(2026, 1, 12), workbook.Value{}, workbook.Number(2)))
		}
	})
}

func TestChartIsDrawnFromCells(t *testing.T) {
	all := parts(t, charted(t))
	chart := all["xl/charts/chart2.xml"]
	for _, want := range []string{
		`<c:tx><c:v>of &lt;B&gt;</c:v></c:tx>`, `<c:xVal><c:numRef><c:f>&#39;Samples &amp; limits 1&#39;!$A$11:$A$12</c:f></c:numRef></c:xVal>`,
		`<c:yVal><c:numRef><c:f>&#39;Samples &amp; limits 1&#39;!$C$11:$C$12</c:f></c:numRef></c:yVal>`, `<c:symbol val="circle"/>`, `<a:prstDash val="dash"/>`,
		`<c:logBase val="10"/><c:orientation val="minMax"/><c:max val="10"/><c:min val="0.01"/>`,
		`<c:max val="46054"/><c:min val="46023"/>`, `<c:majorUnit val="7"/>`, `<c:dispBlanksAs val="gap"/>`, "Nickel &amp; &#34;copper&#34;",
	} {
		assert.Contains(t, chart, want)
	}
	for name, content := range all {
		if strings.HasPrefix(name, "xl/charts/") || strings.HasPrefix(name, "xl/drawings/") {
			wellFormed(t, name, content)
		}
	}
	drawing := all["xl/drawings/drawing2.xml"]
	from := regexp.MustCompile(`<xdr:to><xdr:col>\d+</xdr:col><xdr:colOff>\d+</xdr:colOff><xdr:row>(\d+)</xdr:row><xdr:rowOff>(\d+)</xdr:rowOff>`).FindStringSubmatch(drawing)
	assert.Equal(t, []string{"10", "0"}, from[1:], "it ends where its rows end, whatever their height")
	assert.Contains(t, drawing, `descr="samples &lt;and&gt; limit"`)
	assert.Contains(t, all["[Content_Types].xml"], `PartName="/xl/charts/chart2.xml"`)
}

func wellFormed(t *testing.T, name, content string) {
	t.Helper()
	for in := xml.NewDecoder(strings.NewReader(content)); ; {
		if _, err := in.Token(); errors.Is(err, io.EOF) {
			return
		} else {
			require.NoError(t, err, name)
		}
	}
}

func TestPicturesAreStoredOnce(t *testing.T) {
	all := parts(t, charted(t))
	pictures := 0
	for name := range all {
		if strings.HasPrefix(name, "xl/media/") {
			pictures++
		}
	}
	assert.Equal(t, 3, pictures, "each of three, though each stands twice")
	drawing := all["xl/drawings/drawing1.xml"]
	assert.Equal(t, 3, strings.Count(drawing, "<xdr:oneCellAnchor>"))
	assert.Equal(t, 3, strings.Count(drawing, fmt.Sprintf(`<xdr:ext cx="%d" cy="%[1]d">`, 60*9525)), "60 pixels, whatever the image has")
	assert.Contains(t, drawing, `descr="GHS02"`)
	assert.Contains(t, all["xl/worksheets/sheet2.xml"], "<drawing ")
}

func TestDrawingsAreStable(t *testing.T) {
	first := charted(t)
	for range 20 {
		require.True(t, bytes.Equal(first, charted(t)), "two runs differ")
	}
}

func TestABadPictureIsRefused(t *testing.T) {
	b, err := workbook.New(props())
	require.NoError(t, err)
	defer b.Close()
	s := sheet(t, b, "A")
	assert.ErrorContains(t, s.Picture(workbook.Picture{Column: 2, Row: 3, PNG: []byte("GIF89a, which is none")}), `sheet "A", picture at B3: png: invalid format`)
	require.NoError(t, s.Row())
	assert.EqualError(t, s.Picture(workbook.Picture{}), `sheet "A": pictures must be set before the first row`)
	assert.EqualError(t, s.Chart(workbook.Chart{}), `sheet "A": charts must be set before the first row`)
}

// TestOpenpyxlReadsTheChart has a reader that knows the format's schema read it.
func TestOpenpyxlReadsTheChart(t *testing.T) {
	python := openpyxl(t)
	path := filepath.Join(t.TempDir(), "in.xlsx")
	require.NoError(t, os.WriteFile(path, charted(t), 0o600))
	out, err := exec.Command(python, "-c", `
import openpyxl, sys
for s in openpyxl.load_workbook(sys.argv[1]):
    for c in s._charts:
        print(s.title, type(c).__name__, [x.yVal.numRef.f for x in c.series], c.x_axis.scaling.min, c.y_axis.scaling.logBase, c.x_axis.majorUnit)
`, path).CombinedOutput()
	require.NoError(t, err, string(out))
	want := ""
	for n := range 2 {
		want += fmt.Sprintf(`Samples & limits %[1]d ScatterChart ["'Samples & limits %[1]d'!$B$11:$B$12", "'Samples & limits %[1]d'!$C$11:$C$12"] 46023.0 10.0 7.0
`, n)
	}
	assert.Equal(t, want, string(out))
}
