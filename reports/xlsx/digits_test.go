package xlsx_test

import (
	"bytes"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bathwarden/reports/doc"
	"bathwarden/reports/text"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shown is every cell of a workbook as LibreOffice shows it.
func shown(t *testing.T, data []byte) map[string]int {
	t.Helper()
	soffice, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is not installed")
		}
		t.Skip("soffice is not installed")
	}
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "in.xlsx"), data, 0o600))
	// Filter options: comma, quote, UTF-8, from line 1; cells as they are shown (the ninth); all sheets.
	out, err := exec.Command(soffice, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		"--convert-to", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,true,false,false,-1",
		"--outdir", dir, filepath.Join(dir, "in.xlsx")).CombinedOutput()
	require.NoError(t, err, string(out))
	files, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	require.NoError(t, err)
	cells := map[string]int{}
	for _, file := range files {
		content, err := os.ReadFile(file)
		require.NoError(t, err)
		rows := csv.NewReader(bytes.NewReader(content))
		rows.FieldsPerRecord = -1
		all, err := rows.ReadAll()
		require.NoError(t, err)
		for _, row := range all {
			for _, cell := range row {
				cells[cell]++
			}
		}
	}
	return cells
}

// figures are all numbers of a paper.
func figures(d *doc.Document) []doc.Number {
	var all []doc.Number
	take := func(c doc.Cell) {
		if n, ok := c.(doc.Number); ok {
			all = append(all, n)
		}
	}
	for _, block := range d.Content {
		if line, ok := block.(doc.Line); ok {
			block = line.Figures()
		}
		switch b := block.(type) {
		case doc.Fields:
			for _, item := range b.Items {
				take(item.Value)
			}
		case doc.Table:
			for _, rows := range [][][]doc.Cell{b.Rows, b.Totals} {
				for _, row := range rows {
					for _, c := range row {
						take(c)
					}
				}
			}
		}
	}
	return all
}

// halves are figures that lie between two roundings, as computing leaves them.
func halves() doc.Table {
	t := doc.Table{Name: "halves", Columns: []doc.Column{{Name: "n", Head: "n", Numeric: true}}}
	for i := -300; i < 300; i++ {
		t.Rows = append(t.Rows,
			[]doc.Cell{doc.Number{Is: float64(i)/100 + 0.005, Decimals: 2}},
			[]doc.Cell{doc.Number{Is: float64(i) * 0.7 / 7 * 0.5, Decimals: 1}})
	}
	return t
}

func TestWorkbookAndTerminalShowTheSameDigits(t *testing.T) {
	d := sample()
	d.Section(1, "Halves")
	d.Add(halves())
	cells := shown(t, set(t, d))
	var out bytes.Buffer
	require.NoError(t, text.Write(&out, d, 100))
	words := map[string]int{}
	for _, word := range strings.Fields(out.String()) {
		words[word]++
	}
	want := map[string]int{}
	for _, n := range figures(d) {
		want[n.String()+cited(n)]++
		word := doc.Format(n.Is, n.Decimals)
		words[word]--
		assert.GreaterOrEqual(t, words[word], 0, "the terminal lacks a %s", word)
	}
	for figure, n := range want {
		assert.GreaterOrEqual(t, cells[figure], n, "the workbook lacks a %q", figure)
	}
	assert.Greater(t, len(want), 500)
}

func cited(n doc.Number) string {
	text := ""
	for _, c := range n.Cites {
		text += " [" + strconv.Itoa(c) + "]"
	}
	return text
}
