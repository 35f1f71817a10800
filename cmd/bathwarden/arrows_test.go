package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const module = "bathwarden"

// Layers from the bottom: a package imports its own layer's packages only as
// its room below says, and never a layer above.
var layers = []string{"chemicals", "exposure", "reports", "cmd"}

// rooms says what the packages named (and those below them) may import of the
// module at most; the longest name that fits decides. A package without a room
// may import what its layer allows.
var rooms = map[string][]string{
	"templates":            {},
	"chemicals/quantity":   {},
	"chemicals/source":     {},
	"chemicals/working":    {"chemicals/quantity", "chemicals/source", "chemicals/working"},
	"chemicals":            {"chemicals/quantity"},
	"chemicals/reference":  {"chemicals", "chemicals/quantity", "chemicals/source"},
	"chemicals/workbook":   {},
	"chemicals/sheet":      {"chemicals", "chemicals/quantity", "chemicals/workbook"},
	"chemicals/recordbook": {"chemicals", "chemicals/quantity"},
	"exposure/plating":     {"chemicals/quantity", "chemicals/source", "chemicals/working"},
	"exposure/dragout":     {"chemicals/quantity", "chemicals/source", "chemicals/working"},
	"exposure/rinse":       {"chemicals/quantity", "chemicals/source", "chemicals/working"},
	"exposure/fume":        {"chemicals/quantity", "chemicals/source", "chemicals/working"},
	"exposure/discharge":   {"chemicals/quantity", "chemicals/source", "chemicals/working"},
	"exposure/waste":       {"chemicals/quantity", "chemicals/source", "chemicals/working"},
	"exposure/stock":       {"chemicals/quantity", "chemicals/source", "chemicals/working"},
	"reports/doc":          {"chemicals/quantity", "chemicals/source"},
	"reports/text":         {"chemicals/quantity", "chemicals/source", "reports/doc"},
	"reports/xlsx":         {"chemicals/quantity", "chemicals/source", "chemicals/workbook", "reports/doc", "reports/pictogram"},
	"reports/pictogram":    {},
	"reports/pdf":          {"chemicals/quantity", "chemicals/source", "reports/doc", "reports/pictogram"},
	"chemicals/hazard":     {"chemicals", "chemicals/quantity", "chemicals/source", "chemicals/working", "chemicals/reference"},
	"reports/inspection":   {"templates", "chemicals", "chemicals/hazard", "chemicals/quantity", "chemicals/source", "chemicals/reference", "chemicals/working", "exposure", "reports/doc", "reports/letterhead", "reports/sewer"},
	"reports/letterhead":   {"templates", "chemicals", "chemicals/hazard", "chemicals/quantity", "chemicals/source", "exposure", "reports/doc", "reports/pictogram"},
	"reports/sewer":        {"templates", "chemicals", "chemicals/quantity", "chemicals/source", "chemicals/working", "exposure", "reports/doc", "reports/letterhead"},
	"reports/rinsewater":   {"templates", "chemicals", "chemicals/quantity", "chemicals/source", "chemicals/working", "exposure", "reports/doc", "reports/letterhead", "reports/sewer"},
	"reports/inventory":    {"templates", "chemicals", "chemicals/quantity", "chemicals/source", "chemicals/reference", "chemicals/working", "exposure", "reports/doc", "reports/letterhead"},
}

// doors are outside libraries that one package alone may import.
var doors = map[string]string{
	"github.com/xuri/excelize/v2":      "chemicals/workbook",
	"modernc.org/sqlite":               "chemicals/recordbook",
	"github.com/johnfercher/maroto/v2": "reports/pdf",
	"github.com/phpdave11/gofpdf":      "reports/pdf",
	"github.com/spf13/cobra":           "cmd/bathwarden",
}

// standardOnly import nothing outside the standard library.
var standardOnly = []string{"chemicals/quantity", "chemicals/source", "templates"}

type listed struct {
	ImportPath string
	Imports    []string
	GoFiles    []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports,GoFiles", module+"/...").Output()
	require.NoError(t, err)
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else {
			require.NoError(t, err)
		}
		all = append(all, p)
	}
	require.NotEmpty(t, all)
	return all
}

func TestImportsGoOneWay(t *testing.T) {
	for _, p := range packages(t) {
		from := strings.TrimPrefix(p.ImportPath, module+"/")
		for _, path := range p.Imports {
			if to, ours := strings.CutPrefix(path, module+"/"); ours {
				assert.True(t, mayImport(from, to), "%s must not import %s", from, to)
				continue
			}
			for library, door := range doors {
				if path == library || strings.HasPrefix(path, library+"/") {
					assert.True(t, inside(from, door), "%s must not import %s: its door is %s", from, path, door)
				}
			}
			for _, room := range standardOnly {
				if from == room {
					assert.NotContains(t, strings.Split(path, "/")[0], ".", "%s must not import %s", from, path)
				}
			}
			assert.False(t, path == "time/tzdata" && from != "cmd/bathwarden", "%s must not embed time zones", from)
		}
	}
}

func TestEveryRoomStands(t *testing.T) {
	stands := map[string]bool{}
	for _, p := range packages(t) {
		stands[strings.TrimPrefix(p.ImportPath, module+"/")] = true
	}
	for room, allowed := range rooms {
		assert.True(t, stands[room], "%s is in the table but not in the module", room)
		for _, to := range allowed {
			assert.True(t, stands[to], "%s is allowed for %s but not in the module", to, room)
		}
	}
}

func mayImport(from, to string) bool {
	if room, ok := roomOf(from); ok {
		for _, allowed := range rooms[room] {
			if to == allowed {
				return true
			}
		}
		return inside(to, room) && room != "chemicals"
	}
	if to == "templates" {
		return layer(from) >= layer("reports")
	}
	if layer(from) < layer(to) {
		return false
	}
	noBook := layer(from) < layer("cmd") && (to == "chemicals/recordbook" || to == "chemicals/sheet")
	return !noBook
}

func roomOf(path string) (string, bool) {
	best := ""
	for room := range rooms {
		if inside(path, room) && len(room) > len(best) {
			best = room
		}
	}
	// The room of chemicals itself does not extend to packages below it.
	if best == "chemicals" && path != "chemicals" {
		return "", false
	}
	return best, best != ""
}

func inside(path, folder string) bool {
	return path == folder || strings.HasPrefix(path, folder+"/")
}

func layer(path string) int {
	for i, l := range layers {
		if inside(path, l) {
			return i
		}
	}
	return -1
}
