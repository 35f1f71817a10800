package recordbook_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

var update = flag.Bool("update", false, "write the small book of the present format anew; never for a format that was released")

const format1Hash = "531a928437672be1d9a79a536f4a21f829437c1864d47b8f6cb8492eeac95c1e"

// A small book of every format stays here and must open for ever.
func TestBooksOfEveryFormatOpen(t *testing.T) {
	const kept = "testdata/format1.bathwarden"
	if *update {
		require.NoError(t, os.Remove(kept))
		b, err := recordbook.Create(kept)
		require.NoError(t, err)
		load(t, b, "shop name=Shop of a test | first day=2026-01-01\n"+tankA+"\nbath tank=A | ingredient=Ni | concentration=3 g/L")
		_, err = b.Correct(2, map[string]string{"working volume": "26.4 gal"}, recordbook.Author{By: "plater", Why: "measured", At: noon})
		require.NoError(t, err)
		_, err = b.Withdraw(3, recordbook.Author{By: "plater", Why: "never so", At: noon})
		require.NoError(t, err)
		require.NoError(t, b.Close())
	}
	content, err := os.ReadFile(kept)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "kept.bathwarden") // opening may leave files beside it
	require.NoError(t, os.WriteFile(path, content, 0o600))
	b, err := recordbook.Open(path, recordbook.ForWriting)
	require.NoError(t, err)
	defer b.Close()
	last, err := b.Verify(context.Background())
	require.NoError(t, err)
	assert.Equal(t, chemicals.LastEntry{Entry: 5, Hash: format1Hash}, last)
	assert.Equal(t, []string{"A 26.4 gal"}, volumes(t, b, "2026-06-30", recordbook.Known{}))
	assert.Equal(t, []string{"A Ni 3 g/L"}, baths(t, b, "2026-06-30", recordbook.Known{Entry: 4}))
	assert.Empty(t, baths(t, b, "2026-06-30", recordbook.Known{}))
	load(t, b, `tank tank=B | purpose=rinse`)
}

func checks(t testing.TB, n int) []chemicals.Row {
	kind, err := chemicals.KindOf("check")
	require.NoError(t, err)
	rows := make([]chemicals.Row, n)
	first := chemicals.Day("2016-01-01")
	for i := range rows {
		rows[i] = chemicals.Row{Kind: kind, Given: map[string]chemicals.Cell{
			"date": {Text: string(first.Add(i * 3650 / n))}, "item": {Text: fmt.Sprintf("look %d", i)},
		}}
	}
	return rows
}

func BenchmarkApply100k(b *testing.B) {
	rows := checks(b, 100_000)
	for b.Loop() {
		book, _ := newBook(b)
		_, err := book.Apply(rows, recordbook.Author{By: "plater", At: noon}, false)
		require.NoError(b, err)
	}
}

// Reading a quarter of ten years, of few and of many entries in all.
func BenchmarkReadAQuarter(b *testing.B) {
	for _, n := range []int{5_000, 500_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			book, _ := newBook(b)
			_, err := book.Apply(checks(b, n), recordbook.Author{By: "plater", At: noon}, false)
			require.NoError(b, err)
			r := reading("2025-12-30", recordbook.Known{})
			r.EventsFrom = "2025-12-29" // days that hold as many entries in either book would be no test
			for b.Loop() {
				_, err := book.Read(r)
				require.NoError(b, err)
			}
		})
	}
}
