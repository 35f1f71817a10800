// Package recalc has an independent spreadsheet program recalculate a workbook
// and compares what it gets with the figures that we stored. It is for tests.
//
// The program is LibreOffice. It trusts stored figures unless it is told
// otherwise, so each check runs with a profile of its own that forbids that.
package recalc

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"bathwarden/chemicals/workbook"
)

// tolerance is the relative difference that is allowed. A workbook keeps 15
// digits of what we computed, and sums may run in another order.
const tolerance = 1e-9

// profile makes LibreOffice recalculate every file that it opens.
const profile = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`

// Check fails t for each cell with a formula whose stored figure is not what
// LibreOffice computes, and gives the number of such cells. Where LibreOffice
// is not installed the test is skipped, or fails if CI is "true".
func Check(t testing.TB, data []byte) int {
	t.Helper()
	ours := live(t, data)
	theirs := live(t, recalculated(t, data))
	for where, cell := range ours {
		again, ok := theirs[where]
		if !ok {
			t.Errorf("%s: %s is no formula any more after recalculation", where, cell.Formula)
			continue
		}
		if !same(cell, again) {
			t.Errorf("%s: %s: we stored %s %q, recalculation gives %s %q",
				where, cell.Formula, cell.Kind, cell.Text, again.Kind, again.Text)
		}
	}
	return len(ours)
}

func same(a, b workbook.Cell) bool {
	if a.Fault != nil || b.Fault != nil || a.Kind != b.Kind {
		return false
	}
	x, errX := strconv.ParseFloat(a.Text, 64)
	y, errY := strconv.ParseFloat(b.Text, 64)
	if errX != nil || errY != nil {
		return a.Text == b.Text && a.Kind != workbook.KindError
	}
	return math.Abs(x-y) <= tolerance*max(math.Abs(x), math.Abs(y))
}

// live is every cell with a formula, by sheet and reference.
func live(t testing.TB, data []byte) map[string]workbook.Cell {
	t.Helper()
	f, err := workbook.Read(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]workbook.Cell{}
	for _, sheet := range f.Sheets {
		for row, err := range sheet.Rows() {
			if err != nil {
				t.Fatal(err)
			}
			for _, cell := range row.Cells {
				if cell.Formula != "" {
					all[cell.Where()] = cell
				}
			}
		}
	}
	return all
}

// recalculated is the workbook as LibreOffice saves it.
func recalculated(t testing.TB, data []byte) []byte {
	t.Helper()
	soffice, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is not installed")
		}
		t.Skip("soffice is not installed")
	}
	dir := t.TempDir()
	in := filepath.Join(dir, "in.xlsx")
	write(t, in, data)
	write(t, filepath.Join(dir, "profile", "user", "registrymodifications.xcu"), []byte(profile))
	out, err := exec.Command(soffice, "-env:UserInstallation=file://"+filepath.ToSlash(filepath.Join(dir, "profile")),
		"--headless", "--convert-to", "xlsx", "--outdir", filepath.Join(dir, "out"), in).CombinedOutput()
	if err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
	again, err := os.ReadFile(filepath.Join(dir, "out", "in.xlsx"))
	if err != nil {
		t.Fatalf("soffice wrote nothing: %v\n%s", err, out)
	}
	return again
}

func write(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}
