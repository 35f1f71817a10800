package exposure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/reference"
)

// rows are records in short form, one a line:
// KIND DAYS | column=value | ...
// where DAYS is -, a day, or two days joined by .. for from and until. The
// entry number is the line's. Like the book, it leaves out what comes after the
// as-of day.
func shopOf(t *testing.T, asOf chemicals.Day, rows string) *chemicals.Shop {
	t.Helper()
	return benchShop(t, asOf, rows)
}

func benchShop(t testing.TB, asOf chemicals.Day, rows string) *chemicals.Shop {
	t.Helper()
	var records []chemicals.Record
	entry := int64(0)
	for _, line := range strings.Split(strings.TrimSpace(rows), "\n") {
		if line == "" {
			continue
		}
		parts := strings.Split(line, "|")
		head := strings.Fields(parts[0])
		kind, err := chemicals.KindOf(head[0])
		require.NoError(t, err)
		body := chemicals.Body{}
		from, until, _ := strings.Cut(strings.TrimPrefix(head[1], "-"), "..")
		if kind.Nature == chemicals.Event {
			body[chemicals.DateColumn] = from
		}
		for _, part := range parts[1:] {
			column, value, ok := strings.Cut(strings.TrimSpace(part), "=")
			require.True(t, ok, part)
			body[column] = value
		}
		tidy, err := kind.Check(body)
		require.NoError(t, err, line)
		if entry++; chemicals.Day(from) > asOf {
			continue
		}
		records = append(records, chemicals.Record{
			Entry: entry, Kind: kind, Body: tidy, From: chemicals.Day(from), Until: chemicals.Day(until),
		})
	}
	shop, err := chemicals.NewShop(asOf, chemicals.YearTo(asOf), chemicals.LastEntry{}, records)
	require.NoError(t, err)
	return shop
}

func tables(t testing.TB) *reference.Set {
	t.Helper()
	set, err := reference.Tables()
	require.NoError(t, err)
	return set
}
