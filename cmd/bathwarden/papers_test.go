package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

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

func TestAShorterReadingMakesTheSamePaper(t *testing.T) {
	path := filepath.Join(t.TempDir(), defaultBook)
	_, err := exampleBook(path)
	require.NoError(t, err)
	book, err := recordbook.Open(path, recordbook.ForReading)
	require.NoError(t, err)
	defer book.Close()
	from, err := tables()
	require.NoError(t, err)
	for _, period := range []string{"2026-09", "2026-H1", "2026-02-01..2026-02-01", "2025"} {
		r := recordbook.Reading{AsOf: "2026-09-30"}
		r.Period, err = chemicals.ParsePeriod(period)
		require.NoError(t, err)
		whole, err := book.Read(r)
		require.NoError(t, err)
		short, err := readFor(book, r)
		require.NoError(t, err)
		for _, p := range papers() {
			one, _ := p.make(whole, from, quantity.Metric)
			two, _ := p.make(short, from, quantity.Metric)
			assert.Equal(t, one, two, "%s over %s", p.name, period)
		}
	}
}

// A period's paper from a book of few and of many entries.
func BenchmarkLongRecord(b *testing.B) {
	for _, n := range []int{5_000, 500_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			path := filepath.Join(b.TempDir(), defaultBook)
			_, err := exampleBook(path)
			require.NoError(b, err)
			book, err := recordbook.Open(path, recordbook.ForWriting)
			require.NoError(b, err)
			defer book.Close()
			kind, err := chemicals.KindOf("check")
			require.NoError(b, err)
			rows := make([]chemicals.Row, n)
			for i := range rows { // ten years before the example's record
				day := chemicals.Day("2015-01-01").Add(i * 3650 / n)
				rows[i] = chemicals.Row{Kind: kind, Given: map[string]chemicals.Cell{"date": {Text: string(day)}, "item": {Text: fmt.Sprintf("look %d", i)}}}
			}
			_, err = book.Apply(rows, recordbook.Author{By: "benchmark", At: time.Unix(0, 0)}, false)
			require.NoError(b, err)
			from, err := tables()
			require.NoError(b, err)
			asOf := chemicals.Day(templates.ExampleLastDay)
			for b.Loop() {
				shop, err := readFor(book, recordbook.Reading{AsOf: asOf, Period: chemicals.YearTo(asOf)})
				require.NoError(b, err)
				d, _ := makeInventory(shop, from, quantity.Metric)
				_, err = render(d, "inventory"+pdfEnding, pdf.A4)
				require.NoError(b, err)
			}
		})
	}
}

// BenchmarkHelp is what the program takes from its start to the last line of its
// help, and its yardstick: a program that holds the same libraries and does
// nothing.
func BenchmarkHelp(b *testing.B) {
	dir := b.TempDir()
	empty := filepath.Join(dir, "libraries.go")
	require.NoError(b, os.WriteFile(empty, []byte("package main\n\nimport (\n\t_ \"github.com/johnfercher/maroto/v2\"\n\t_ \"github.com/spf13/cobra\"\n\t_ \"github.com/xuri/excelize/v2\"\n\t_ \"modernc.org/sqlite\"\n)\n\nfunc main() {}\n"), 0o600))
	for _, of := range []struct{ name, source string }{{"libraries", empty}, {"bathwarden", "."}} {
		program := filepath.Join(dir, of.name)
		out, err := exec.Command("go", "build", "-ldflags=-s -w", "-o", program, of.source).CombinedOutput()
		require.NoError(b, err, string(out))
		b.Run(of.name, func(b *testing.B) {
			for b.Loop() {
				require.NoError(b, exec.Command(program, "--help").Run())
			}
		})
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

// All points and metals of the example's year, with its plan.
func BenchmarkWaterSide(b *testing.B) {
	path := filepath.Join(b.TempDir(), defaultBook)
	_, err := exampleBook(path)
	require.NoError(b, err)
	book, err := recordbook.Open(path, recordbook.ForReading)
	require.NoError(b, err)
	defer book.Close()
	asOf := chemicals.Day(templates.ExampleLastDay)
	shop, err := readWater(book, recordbook.Reading{AsOf: asOf, Period: chemicals.YearTo(asOf)})
	require.NoError(b, err)
	from, err := tables()
	require.NoError(b, err)
	for b.Loop() {
		waterSideOf(shop, from, quantity.Metric)
	}
}

func TestThePacketNamesTheDrumAndWhatEachTankDoes(t *testing.T) {
	d := documents(t, quantity.Metric)["inspection"]
	front := d.Content[slices.IndexFunc(d.Content, func(b doc.Block) bool {
		table, ok := b.(doc.Table)
		return ok && table.Name == "together"
	})].(doc.Table)
	var first []string
	for _, cell := range front.Rows[0] {
		first = append(first, cell.String())
	}
	assert.Equal(t, []string{"acid store", "Muriatic acid 22 Bé", "acid", "Copper strike salts C-4", "cyanide", "hydrogen cyanide, a gas that kills"}, first,
		"the drum beside the acids stands first")
	cells := cellsOf(d)
	assert.Contains(t, cells, "it ended on 2026-06-30", "the fire permit")
	assert.Contains(t, cells, "no record found from 2025-12-24 to 2026-01-07 at waste area; the usual interval is 7 days", "the walk that was missed")
	assert.Contains(t, cells, "the last training in hazard communication is of 2025-04-16")
	var tanks, statements []string
	for _, block := range d.Content {
		switch b := block.(type) {
		case doc.Heading:
			tanks = append(tanks, b.Text)
		case doc.Label:
			for _, st := range b.Statements {
				statements = append(statements, st.Is)
			}
		}
	}
	assert.Contains(t, tanks, "Tank B10: Bright nickel")
	assert.Contains(t, tanks, "Tank S13: Nitric strip for racks and rejects")
	assert.Contains(t, statements, "H350 May cause cancer", "nickel salts")
	assert.Contains(t, statements, "H331 Toxic if inhaled", "nitric acid")
}
