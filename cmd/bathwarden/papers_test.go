package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/recordbook"
	"bathwarden/reports/doc"
	"bathwarden/reports/pdf"
	"bathwarden/reports/xlsx/recalc"
	"bathwarden/templates"
)

// exampleShop is the example as of the last day of its record.
func exampleShop(t testing.TB) *chemicals.Shop {
	t.Helper()
	path := filepath.Join(t.TempDir(), defaultBook)
	_, err := exampleBook(path)
	require.NoError(t, err)
	book, err := recordbook.Open(path, recordbook.ForReading)
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, book.Close()) })
	asOf := chemicals.Day(templates.ExampleLastDay)
	shop, err := book.Read(recordbook.Reading{AsOf: asOf, Period: chemicals.YearTo(asOf)})
	require.NoError(t, err)
	return shop
}

func documents(t testing.TB, units quantity.System) map[string]*doc.Document {
	t.Helper()
	shop := exampleShop(t)
	from, err := tables()
	require.NoError(t, err)
	all := map[string]*doc.Document{}
	for _, p := range papers() {
		all[p.name], _ = p.make(shop, from, units)
	}
	return all
}

// needs skips a test whose program is missing by hand, and fails it in CI.
func needs(t testing.TB, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", program)
		}
		t.Skipf("%s is not installed", program)
	}
}

func TestWorkbooksComputeWhatTheyShow(t *testing.T) {
	for _, units := range []quantity.System{quantity.Metric, quantity.US} {
		for name, d := range documents(t, units) {
			t.Run(name+" "+units.String(), func(t *testing.T) {
				content, err := render(d, name+xlsxEnding, pdf.A4)
				require.NoError(t, err)
				assert.Greater(t, recalc.Check(t, content), 30, "live cells")
			})
		}
	}
}

func TestPapersRepeatToTheByte(t *testing.T) {
	for name, first := range documents(t, quantity.Metric) {
		second := documents(t, quantity.Metric)[name]
		for _, ending := range []string{xlsxEnding, pdfEnding, textEnding} {
			one, err := render(first, name+ending, pdf.Letter)
			require.NoError(t, err)
			two, err := render(second, name+ending, pdf.Letter)
			require.NoError(t, err)
			assert.True(t, bytes.Equal(one, two), "%s%s differs from run to run", name, ending)
		}
	}
}

func TestPagesAreSoundAndWhole(t *testing.T) {
	needs(t, "qpdf")
	needs(t, "pdftotext")
	for name, d := range documents(t, quantity.Metric) {
		file := filepath.Join(t.TempDir(), name+pdfEnding)
		content, err := render(d, file, pdf.A4)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(file, content, 0o600))
		out, err := exec.Command("qpdf", "--check", file).CombinedOutput()
		require.NoError(t, err, "%s", out)
		assert.NotContains(t, string(out), "WARNING")
		out, err = exec.Command("pdftotext", "-layout", file, "-").Output()
		require.NoError(t, err)
		text := string(out)
		assert.NotContains(t, text, "\uFFFD", "a glyph was replaced")
		words := strings.Fields(text)
		for _, cell := range cellsOf(d) {
			for _, word := range strings.Fields(cell) {
				if len([]rune(word)) < 14 { // longer ones may be broken over lines
					assert.Contains(t, strings.Join(words, " "), word)
				}
			}
		}
		assert.Contains(t, strings.Join(words, " "), templates.Deferral)
	}
}

func cellsOf(d *doc.Document) []string {
	var all []string
	for _, block := range d.Content {
		if table, ok := block.(doc.Table); ok {
			for _, row := range table.Rows {
				for _, cell := range row {
					if text := cell.String(); text != "" && !strings.HasPrefix(text, "not known") {
						all = append(all, text)
					}
				}
			}
		}
	}
	return all
}

func TestNoPaperPassesAVerdict(t *testing.T) {
	for name, d := range documents(t, quantity.Metric) {
		content, err := render(d, name+textEnding, pdf.A4)
		require.NoError(t, err)
		for _, word := range []string{"compliant", "complies", " ok ", "is safe", "harmless"} {
			assert.NotContains(t, strings.ToLower(string(content)), word)
		}
	}
}

func BenchmarkInventory(b *testing.B) {
	shop := exampleShop(b)
	from, err := tables()
	require.NoError(b, err)
	for b.Loop() {
		d, _ := makeInventory(shop, from, quantity.Metric)
		for _, ending := range []string{xlsxEnding, pdfEnding} {
			_, err := render(d, "inventory"+ending, pdf.A4)
			require.NoError(b, err)
		}
	}
}

func TestThePacketNamesTheDrumAndWhatEachTankDoes(t *testing.T) {
	content, err := render(documents(t, quantity.Metric)["inspection"], "inspection"+textEnding, pdf.A4)
	require.NoError(t, err)
	packet := strings.Join(strings.Fields(string(content)), " ")
	front, _, _ := strings.Cut(packet, "2 The shop =")
	assert.Contains(t, front, "Copper strike salts C-4", "the drum beside the acids stands at the front")
	assert.Contains(t, front, "hydrogen cyanide, a gas that kills")
	assert.Contains(t, packet, "it ended on 2026-06-30", "the fire permit")
	assert.Contains(t, packet, "no record found from 2025-12-24 to 2026-01-07", "the walk that was missed")
	assert.Contains(t, packet, "the last training in hazard communication is of 2025-04-16")
	for _, tank := range []string{"Tank B10: Bright nickel", "Tank S5: Chloride nickel strike", "Tank S13: Nitric strip"} {
		assert.Contains(t, packet, tank)
	}
	assert.Contains(t, packet, "H350", "nickel salts")
}
