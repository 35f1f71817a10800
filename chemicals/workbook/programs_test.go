package workbook_test

import (
	"encoding/csv"
	"math/big"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bathwarden/chemicals/workbook"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rounded is v at 15 significant digits, without an exponent, by exact
// arithmetic.
func rounded(v float64) string {
	exact, _ := new(big.Rat).SetString(strconv.FormatFloat(v, 'g', 15, 64))
	text := exact.FloatString(400)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// program finds an outside program. By hand a test may go without it; where CI
// is set it may not.
func program(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", name)
		}
		t.Skipf("%s is not installed", name)
	}
	return path
}

// sample holds every type, and the figures and texts that other programs are
// to show for it.
func sample(t *testing.T) (data []byte, want [][]string) {
	data = build(t, func(b *workbook.Book) {
		sheet(t, b, "Empty")
		s := sheet(t, b, "Figures")
		require.NoError(t, s.Extent(3, 7))
		row := func(label string, v, shown workbook.Value) {
			require.NoError(t, s.Row(workbook.Text(label), v, shown))
		}
		row("=1+1", workbook.Number(12.345), workbook.Number(2.675).Decimals(2))
		row("007", workbook.Live("B1*2", 24.69), workbook.Number(1.005).Decimals(2).Suffix(" g/L [3]"))
		row("tail", workbook.Number(-0.001), workbook.Number(-0.001).Decimals(2))
		row("small", workbook.Number(1e-7), workbook.Number(-2.5).Decimals(0))
		row("day", workbook.Date(2026, 3, 31), workbook.Date(1900, 3, 1))
		row("truth", workbook.Bool(true), workbook.Number(0.05).Decimals(2).Prefix("<").Suffix(" of it"))
		row("sum", workbook.Live("SUM(B1:B3)", 37.034), workbook.Text("x"))
	})
	return data, [][]string{
		{"=1+1", "12.345", "2.68"}, {"007", "24.69", "1.01 g/L [3]"}, {"tail", "-0.001", "0.00"},
		{"small", "0.0000001", "-3"}, {"day", "2026-03-31", "1900-03-01"}, {"truth", "TRUE", "<0.05 of it"}, {"sum", "37.034", "x"},
	}
}

func TestLibreOfficeShowsTheSame(t *testing.T) {
	soffice := program(t, "soffice")
	data, want := sample(t)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "in.xlsx"), data, 0o600))
	// Filter options: comma, quote, UTF-8, from line 1; cells as they are shown (the ninth); the second sheet.
	out, err := exec.Command(soffice, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		"--convert-to", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,true,false,false,2",
		"--outdir", dir, filepath.Join(dir, "in.xlsx")).CombinedOutput()
	require.NoError(t, err, string(out))
	in, err := os.Open(filepath.Join(dir, "in-Figures.csv"))
	require.NoError(t, err)
	defer in.Close()
	got, err := csv.NewReader(in).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

// openpyxl finds a Python that has it; the first one on the path need not.
func openpyxl(t *testing.T) string {
	t.Helper()
	for _, python := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(python, "-c", "import openpyxl").Run() == nil {
			return python
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("openpyxl is not installed")
	}
	t.Skip("openpyxl is not installed")
	return ""
}

func TestOpenpyxlReadsTheSame(t *testing.T) {
	python := openpyxl(t)
	data, _ := sample(t)
	path := filepath.Join(t.TempDir(), "in.xlsx")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	out, err := exec.Command(python, "-c", `
import openpyxl, sys
for only in (True, False):
    for values in (True, False):
        book = openpyxl.load_workbook(sys.argv[1], data_only=values, read_only=only)
        for row in book["Figures"].iter_rows(values_only=True):
            print("|".join(repr(v) for v in row))
`, path).CombinedOutput()
	require.NoError(t, err, string(out))
	values := `'=1+1'|12.345|2.675
'007'|24.69|1.005
'tail'|-0.001|-0.001
'small'|1e-07|-2.5
'day'|datetime.datetime(2026, 3, 31, 0, 0)|datetime.datetime(1900, 3, 1, 0, 0)
'truth'|True|0.05
'sum'|37.034|'x'
`
	formulas := strings.NewReplacer("24.69", "'=B1*2'", "37.034", "'=SUM(B1:B3)'").Replace(values)
	assert.Equal(t, strings.Repeat(values+formulas, 2), string(out))
}

func TestReadsWhatOpenpyxlWrites(t *testing.T) {
	python := openpyxl(t)
	path := filepath.Join(t.TempDir(), "out.xlsx")
	out, err := exec.Command(python, "-c", `
import datetime, openpyxl, sys
from openpyxl.utils.datetime import CALENDAR_MAC_1904
book = openpyxl.Workbook()
book.epoch = CALENDAR_MAC_1904
s = book.active
s.title = "Tanks"
s.append(["tank", "007", 1.1, 0.05, datetime.datetime(2026, 3, 1, 14, 30), datetime.date(2026, 3, 1), datetime.time(6, 5), True, "=1+1"])
s["D1"].number_format = "0.0%"
s.merge_cells("A3:B4")
hidden = book.create_sheet("Notes")
hidden.sheet_state = "hidden"
hidden["C9"] = "seen"
book.create_chartsheet("Chart")
book.save(sys.argv[1])
`, path).CombinedOutput()
	require.NoError(t, err, string(out))
	f, err := workbook.Open(path)
	require.NoError(t, err)
	require.Len(t, f.Sheets, 2)
	assert.Equal(t, []string{"A3:B4"}, f.Sheets[0].Merged)
	assert.True(t, f.Sheets[1].Hidden)
	assert.False(t, f.Sheets[0].Hidden)
	assert.Equal(t, "seen", rows(t, f.Sheets[1])[0].Cell(3).Text)
	var got []string
	cells := rows(t, f.Sheets[0])[0].Cells
	for _, c := range cells {
		got = append(got, c.Kind.String()+" "+c.Text)
	}
	assert.Equal(t, []string{"text tank", "text 007", "number 1.1", "number 5 %", "date 2026-03-01 14:30", "date 2026-03-01", "date 06:05", "bool TRUE", "empty "}, got)
	require.NotNil(t, cells[8].Fault)
	assert.ErrorContains(t, cells[8].Fault, "Tanks!I1: the formula has no value stored with it")
}

func TestReadsWhatLibreOfficeSaves(t *testing.T) {
	soffice := program(t, "soffice")
	data, _ := sample(t)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "in.xlsx"), data, 0o600))
	out, err := exec.Command(soffice, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		"--convert-to", "xlsx", "--outdir", filepath.Join(dir, "out"), filepath.Join(dir, "in.xlsx")).CombinedOutput()
	require.NoError(t, err, string(out))
	f, err := workbook.Open(filepath.Join(dir, "out", "in.xlsx"))
	require.NoError(t, err)
	want, got := rows(t, read(t, data).Sheets[1]), rows(t, f.Sheets[1])
	require.Equal(t, "=TRUE()", got[5].Cells[1].Formula, "LibreOffice writes TRUE as a formula")
	got[5].Cells[1].Formula = ""
	assert.Equal(t, want, got)
}
