package templates_test

import (
	"encoding/csv"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/templates"
)

const (
	firstDay = chemicals.Day("2025-10-01")
	lastDay  = chemicals.Day("2026-09-30")
)

// entry is one row of the example after its kind has read it.
type entry struct {
	where string
	body  chemicals.Body
}

func TestExampleHasOneSheetForEachKind(t *testing.T) {
	var want []string
	for _, k := range chemicals.Kinds() {
		if k.Name != "issued" { // written by the program alone
			want = append(want, k.Name+".csv")
		}
	}
	got, err := fs.Glob(templates.Example(), "*")
	require.NoError(t, err)
	assert.ElementsMatch(t, want, got)
}

func TestExampleRowsAreRead(t *testing.T) {
	for kind, rows := range exampleRows(t) {
		assert.NotEmpty(t, rows, "%s", kind)
		k, err := chemicals.KindOf(kind)
		require.NoError(t, err)
		seen := map[string]string{}
		for _, row := range rows {
			if k.Nature == chemicals.Event {
				continue
			}
			key := k.Key(row.body) + "\t" + string(k.Day(row.body))
			assert.Empty(t, seen[key], "%s has the key and first day of another row", row.where)
			seen[key] = row.where
		}
	}
}

func TestExampleRefersToWhatIsThere(t *testing.T) {
	rows := exampleRows(t)
	for kind, of := range rows {
		k, err := chemicals.KindOf(kind)
		require.NoError(t, err)
		for _, c := range k.Columns {
			if c.Of == "" {
				continue
			}
			for _, row := range of {
				if name := row.body[c.Name]; name != "" {
					assert.True(t, isThere(t, rows[c.Of], c.Of, name, k.Day(row.body), k.Nature), "%s: %s %q is in no %s.csv on its day", row.where, c.Name, name, c.Of)
				}
			}
		}
	}
}

// isThere reports whether a name stands in the rows of a kind; for an event of
// the year, on its day.
func isThere(t *testing.T, rows []entry, kind, name string, day chemicals.Day, nature chemicals.Nature) bool {
	k, err := chemicals.KindOf(kind)
	require.NoError(t, err)
	for _, row := range rows {
		from, until := k.Day(row.body), chemicals.Day(row.body[chemicals.UntilColumn])
		if k.Keys()[0].Meaning(row.body[k.Keys()[0].Name]) != chemicals.Fold(name) {
			continue
		}
		if nature != chemicals.Event || from <= day && (until == "" || day <= until) {
			return true
		}
	}
	return false
}

func TestExampleEventsLieBeforeItsLastDay(t *testing.T) {
	early := 0
	for kind, rows := range exampleRows(t) {
		k, err := chemicals.KindOf(kind)
		require.NoError(t, err)
		for _, row := range rows {
			assert.LessOrEqual(t, k.Day(row.body), lastDay, row.where)
			if k.Nature == chemicals.Event && k.Day(row.body) < firstDay {
				assert.Equal(t, "training", kind, "%s lies before the book begins", row.where)
				early++
			}
		}
	}
	assert.Positive(t, early, "no training is old enough to have lapsed")
}

// TestExampleWaterNamesWhatIsThere looks at the columns that take the names of
// more than one kind.
func TestExampleWaterNamesWhatIsThere(t *testing.T) {
	rows := exampleRows(t)
	haul, mains, deionised := chemicals.Haul.String(), chemicals.Mains.String(), chemicals.Deionised.String()
	places := slices.Concat(column(rows, "tank", "tank"), column(rows, "point", "point"), []string{haul})
	feeds := slices.Concat(column(rows, "tank", "tank"), []string{mains, deionised})
	papers := column(rows, "paper", "paper")
	for _, c := range []struct {
		kind, column string
		known        []string
	}{
		{"tank", "drains to", places},
		{"dump", "to", places},
		{"rinse", "fed from", feeds},
		{"meter", "serves", slices.Concat(places, column(rows, "tank", "line"), []string{"shop", deionised})},
		{"limit", "document", papers},
		{"monitoring", "document", papers},
		{"notice", "about", slices.Concat(papers, column(rows, "sample", "sample"), column(rows, "incident", "incident"))},
		{"incident", "location", column(rows, "location", "location")},
		{"waste", "location", column(rows, "location", "location")},
	} {
		for _, row := range rows[c.kind] {
			if name := row.body[c.column]; name != "" {
				assert.Contains(t, c.known, name, "%s: %s", row.where, c.column)
			}
		}
	}
}

// column gives what stands in a column of a kind, rows without it left out.
func column(rows map[string][]entry, kind, name string) []string {
	var all []string
	for _, row := range rows[kind] {
		if v := row.body[name]; v != "" {
			all = append(all, v)
		}
	}
	return all
}

// The nickel that went into the tanks as anodes is what the ampere-hours
// dissolved, to a tenth: the year hangs together.
func TestExampleChargeFitsTheAnodes(t *testing.T) {
	const gramsPerAmpereHour = 58.693 / 2 / 26.801 // molar mass, valence, ampere-hours to a mole of electrons
	rows := exampleRows(t)
	for _, tank := range []string{"B10", "S7"} {
		var dissolved, added float64
		for _, row := range rows["charge"] {
			if row.body["tank"] == tank {
				dissolved += read[quantity.Charge](t, row, "charge").AmpereHours() * gramsPerAmpereHour
			}
		}
		for _, row := range rows["addition"] {
			if row.body["tank"] == tank && row.body["product"] == "Nickel rounds" {
				mass, ok := read[quantity.Amount](t, row, "amount").Mass()
				require.True(t, ok, row.where)
				added += mass.Grams()
			}
		}
		assert.InEpsilon(t, added, dissolved, 0.1, tank)
	}
}

func read[Q quantity.Quantity[Q]](t *testing.T, row entry, column string) Q {
	t.Helper()
	var stated quantity.Stated[Q]
	require.NoError(t, stated.UnmarshalText([]byte(row.body[column])), row.where)
	return stated.Is()
}

func TestExampleMetersRun(t *testing.T) {
	last := map[string]float64{}
	for _, row := range exampleRows(t)["water"] {
		reading, err := strconv.ParseFloat(row.body["reading"], 64)
		require.NoError(t, err, row.where)
		assert.Greater(t, reading, last[row.body["meter"]], "%s runs backwards or stands", row.where)
		last[row.body["meter"]] = reading
	}
}

// The gaps and faults that the water side has on purpose.
func TestExampleWaterHasItsFaults(t *testing.T) {
	rows := exampleRows(t)
	assert.NotContains(t, column(rows, "cycle", "tank"), "S14", "the rinse that no work comes to")

	july := slices.ContainsFunc(rows["sample"], func(r entry) bool { return strings.HasPrefix(r.body[chemicals.DateColumn], "2026-07") })
	assert.False(t, july, "the month without a sample")

	var gap int
	var before chemicals.Day
	for _, row := range rows["water"] {
		if day := chemicals.Day(row.body[chemicals.DateColumn]); row.body["meter"] == "line 2" {
			if before != "" {
				gap = max(gap, day.Since(before))
			}
			before = day
		}
	}
	assert.Greater(t, gap, 28, "days without a reading of line 2")

	measured := map[string]bool{}
	for _, row := range rows["film"] {
		measured[row.body["tank"]+" "+row.body["drainage"]] = true
	}
	assert.False(t, measured["S3 barrel"], "the barrel on line 2 has no drag-out")
	barrel := func(r entry) bool { return r.body["drainage"] == "barrel" && r.body["cycle"] == "stainless nickel" }
	assert.True(t, slices.ContainsFunc(rows["work"], barrel), "a barrel on line 2")
	bare := func(r entry) bool { return r.body["area"] == "" && r.body["drainage"] != "barrel" }
	assert.True(t, slices.ContainsFunc(rows["work"], bare), "racks without an area")

	var told []string
	for _, row := range rows["notice"] {
		told = append(told, row.body["about"])
	}
	assert.Contains(t, told, "2603-C", "nickel over its limit, told in time")
	assert.NotContains(t, told, "2609-C", "copper over its limit, not told")
}

// exampleRows reads the sheets: a bare number under a header with a unit gets
// that unit.
func exampleRows(t *testing.T) map[string][]entry {
	t.Helper()
	names, err := fs.Glob(templates.Example(), "*.csv")
	require.NoError(t, err)
	all := map[string][]entry{}
	for _, name := range names {
		kind := strings.TrimSuffix(name, ".csv")
		all[kind] = sheetRows(t, kind, name)
	}
	return all
}

func sheetRows(t *testing.T, kind, name string) []entry {
	t.Helper()
	k, err := chemicals.KindOf(kind)
	require.NoError(t, err)
	file, err := templates.Example().Open(name)
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	header, err := reader.Read()
	require.NoError(t, err)
	records, err := reader.ReadAll()
	require.NoError(t, err)
	var rows []entry
	for i, record := range records {
		row := entry{where: name + " line " + strconv.Itoa(i+2)}
		row.body, err = k.Check(given(t, k, header, record))
		assert.NoError(t, err, row.where)
		rows = append(rows, row)
	}
	return rows
}

func given(t *testing.T, k *chemicals.Kind, header, record []string) chemicals.Body {
	t.Helper()
	body := chemicals.Body{}
	for i, head := range header {
		words, unit, _ := strings.Cut(strings.TrimSuffix(head, "]"), " [")
		column, ok := k.Column(words)
		require.True(t, ok, "%q is no column of %s", words, k.Name)
		if _, err := strconv.ParseFloat(record[i], 64); err == nil && unit != "" {
			record[i] += " " + unit
		}
		body[column.Name] = record[i]
	}
	return body
}
