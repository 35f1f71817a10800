// Package shoptest reads shops in short form for the tests of other packages.
package shoptest

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

// Records reads one record a line, the entry numbers in their order: KIND DAYS |
// column=value | ..., where DAYS is -, a day, or two days as
// 2026-03-01..2026-03-31. Empty lines are passed over, and so are rows that begin
// behind the as-of day. As in a book, a new row of a fact ends the one before.
func Records(t testing.TB, asOf chemicals.Day, rows string) []chemicals.Record {
	t.Helper()
	var records []chemicals.Record
	entry := int64(0)
	for _, row := range strings.Split(rows, "\n") {
		if strings.TrimSpace(row) == "" {
			continue
		}
		entry++
		r := record(t, row)
		if r.Entry = entry; r.From > asOf {
			continue
		}
		if r.Kind.Nature == chemicals.Fact {
			endFormer(records, r)
		}
		records = append(records, r)
	}
	return records
}

func record(t testing.TB, row string) chemicals.Record {
	t.Helper()
	parts := strings.Split(row, "|")
	head := strings.Fields(parts[0])
	kind, err := chemicals.KindOf(head[0])
	require.NoError(t, err)
	from, until, _ := strings.Cut(strings.TrimPrefix(head[1], "-"), "..")
	body := chemicals.Body{}
	if kind.Nature == chemicals.Event {
		body[chemicals.DateColumn] = from
	}
	for _, part := range parts[1:] {
		column, value, ok := strings.Cut(strings.TrimSpace(part), "=")
		require.True(t, ok, part)
		body[column] = value
	}
	tidy, err := kind.Check(body)
	require.NoError(t, err, row)
	return chemicals.Record{Kind: kind, Body: tidy, From: chemicals.Day(from), Until: chemicals.Day(until)}
}

func endFormer(records []chemicals.Record, r chemicals.Record) {
	for i := range records {
		if former := &records[i]; former.Kind == r.Kind && former.Until == "" && r.Kind.Key(former.Body) == r.Kind.Key(r.Body) {
			former.Until = r.From.Add(-1)
		}
	}
}
