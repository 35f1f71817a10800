package recordbook_test

import (
	"context"
	"flag"
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
