package templates_test

import (
	"encoding/csv"
	"io/fs"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
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
	for _, k := range chemicals.Kinds {
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
