package sheet_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/sheet"
)

// missing skips a test by hand; where CI is set, what it needs must be there.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// python writes workbooks with openpyxl.
func python(t *testing.T, script string, args ...string) {
	t.Helper()
	path, err := exec.LookPath("/usr/bin/python3")
	if err != nil {
		missing(t, "python3 is not installed")
	}
	if exec.Command(path, "-c", "import openpyxl").Run() != nil {
		missing(t, "openpyxl is not installed")
	}
	out, err := exec.Command(path, append([]string{"-c", script}, args...)...).CombinedOutput()
	require.NoError(t, err, "%s", out)
}

// saved opens workbooks with another program, which stores the values of their
// formulas, and saves them into a folder.
func saved(t *testing.T, paths ...string) string {
	t.Helper()
	office, err := exec.LookPath("soffice")
	if err != nil {
		missing(t, "soffice is not installed")
	}
	dir := t.TempDir()
	out, err := exec.Command(office, append([]string{
		"--headless", "-env:UserInstallation=file://" + filepath.Join(dir, "profile"),
		"--convert-to", "xlsx", "--outdir", dir,
	}, paths...)...).CombinedOutput()
	require.NoError(t, err, "%s", out)
	return dir
}

const filledIn = `
import sys, datetime, openpyxl
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900
book = openpyxl.Workbook()
book.epoch = CALENDAR_MAC_1904 if sys.argv[2] == "1904" else CALENDAR_WINDOWS_1900
tank = book.create_sheet("TANK")
tank.append(["Tank", "Working-Volume [gal]", "temperature (°C)", "pH", "Cathode Efficiency", "length", "from"])
tank.append(["B5", 119.99999999999999, 55, 4.2, 0.95, "1.2 m", datetime.date(2026, 3, 31)])
tank.append([5, "400 L", "130 °F", "4.20", "95 %", None, datetime.datetime(2026, 3, 31, 0, 0)])
tank.append([])
tank.append(["=B7", 1e-7, None, None, None, None, "2026-03-31"])
tank["A5"].data_type = "s"
tank["E2"].number_format = "0%"
place = book.create_sheet("location")
place.append(["location", "ventilated", "cabinet", "containment volume [L]"])
place.append(["store", True, False, 0.1 + 0.2])
book.create_sheet("_notes").append(["anything", "goes"])
book.save(sys.argv[1])
`

func TestWorkbooksOfAnotherProgram(t *testing.T) {
	for _, epoch := range []string{"1900", "1904"} {
		t.Run(epoch, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "filled.xlsx")
			python(t, filledIn, path, epoch)
			rows, err := sheet.Load(path)
			require.NoError(t, err)
			var got []map[string]string
			for _, r := range rows {
				got = append(got, given(r))
			}
			assert.Equal(t, []map[string]string{
				{"tank": "B5", "working volume": "120 gal", "temperature": "55 °C", "pH": "4.2", "cathode efficiency": "95 %", "length": "1.2 m", "from": "2026-03-31"},
				{"tank": "5", "working volume": "400 L", "temperature": "130 °F", "pH": "4.20", "cathode efficiency": "95 %", "length": "", "from": "2026-03-31"},
				{"tank": "=B7", "working volume": "0.0000001 gal", "temperature": "", "pH": "", "cathode efficiency": "", "length": "", "from": "2026-03-31"},
				{"location": "store", "ventilated": "yes", "cabinet": "no", "containment volume": "0.3 L"},
			}, got)
			assert.Equal(t, "TANK!A5", rows[2].Where)
			assert.Equal(t, "TANK!B5", rows[2].Stands("working volume"))
			assert.Equal(t, "TANK!A5", rows[2].Stands("width"))
		})
	}
}

const withFormulas = `
import sys, openpyxl
book = openpyxl.Workbook()
sheet = book.active
sheet.title = "receipt"
sheet.append(["date", "product", "container size [kg]", "containers", "lot", "cost"])
sheet.append(["=DATE(2026,3,31)", '="nickel "&"sulfate"', "=2.5*10", "=6/3", '=IF(1=1,"","x")', '=TEXT(12.5,"0.00")&" USD"'])
sheet["A2"].number_format = "dd/mm/yyyy"
sheet.append(['=""', '=""', '=""', '=""', '=""', '=""'])
if sys.argv[2] == "faulty":
    sheet.append(["=DATE(2026,3,31)", "=NA()", "=1/0", "=1=1", None, "=nosuch()"])
book.save(sys.argv[1])
`

func TestWorkbooksThatAnotherProgramSaved(t *testing.T) {
	dir := t.TempDir()
	sound, faulty, ours := filepath.Join(dir, "sound.xlsx"), filepath.Join(dir, "faulty.xlsx"), filepath.Join(dir, "ours.xlsx")
	python(t, withFormulas, sound, "sound")
	python(t, withFormulas, faulty, "faulty")
	writeNasty(t, ours)
	dir = saved(t, sound, faulty, ours)

	t.Run("a formula counts for its stored value", func(t *testing.T) {
		rows, err := sheet.Load(filepath.Join(dir, "sound.xlsx"))
		require.NoError(t, err)
		require.Len(t, rows, 1)
		assert.Equal(t, map[string]string{
			"date": "2026-03-31", "product": "nickel sulfate", "container size": "25 kg", "containers": "2", "lot": "", "cost": "12.50 USD",
		}, given(rows[0]))
	})
	t.Run("formulas in error", func(t *testing.T) {
		_, err := sheet.Load(faulty)
		assert.Contains(t, said(t, err), "receipt!B2: the formula has no value stored with it | open the workbook in a spreadsheet program and save it, or write the figure itself")
		_, err = sheet.Load(filepath.Join(dir, "faulty.xlsx"))
		assert.Equal(t, []string{
			`receipt!A4: "46112" is a bare number, not a day | format the cell as a date, or write the day as 2026-03-31`,
			"receipt!B4: the cell shows the error #N/A | mend its formula, or write the value itself",
			"receipt!C4: the cell shows the error #DIV/0! | mend its formula, or write the value itself",
			`receipt!D4: the cell holds the truth value TRUE | format the cell as text and write what "containers" takes, such as "4"`,
			"receipt!F4: the cell shows the error #NAME? | mend its formula, or write the value itself",
		}, said(t, err))
	})
	t.Run("what was written stays the same", func(t *testing.T) {
		want, err := sheet.Load(ours)
		require.NoError(t, err)
		got, err := sheet.Load(filepath.Join(dir, "ours.xlsx"))
		require.NoError(t, err)
		assert.Greater(t, len(want), len(nasty)/2)
		assert.Equal(t, want, got)
	})
}

// writeNasty writes a workbook of texts that break sheets.
func writeNasty(t *testing.T, path string) {
	table := tanks(t)
	for i, text := range nasty {
		if tidy, err := table.Kind.Check(chemicals.Body{"tank": "N1", "purpose": "plate", "title": text, "diameter": "1.5 ft"}); err == nil {
			table.Records = append(table.Records, chemicals.Record{Entry: int64(i + 10), Kind: table.Kind, Body: tidy})
		}
	}
	var out bytes.Buffer
	require.NoError(t, sheet.WriteWorkbook(&out, []sheet.Table{table}, props()))
	require.NoError(t, os.WriteFile(path, out.Bytes(), 0o600))
}
