package recordbook

import (
	"database/sql"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

// uses are the ways to use a book, each on a file of its own.
func uses(t *testing.T, journal string) map[string]func(path string) error {
	k, err := chemicals.KindOf("tank")
	require.NoError(t, err)
	rows := sheet(t, "check\ndate|item\n2026-02-09|eyewash")
	reading := func(do func(*Book) error) func(string) error {
		return func(path string) error { return using(path, ForReading, do) }
	}
	writing := func(do func(*Book) error) func(string) error {
		return func(path string) error { return using(path, ForWriting, do) }
	}
	return map[string]func(string) error{
		"verify":   reading(func(b *Book) error { _, err := b.Verify(t.Context()); return err }),
		"read":     reading(func(b *Book) error { _, err := b.Read(Reading{AsOf: "2026-12-31"}); return err }),
		"by a day": reading(func(b *Book) error { _, err := b.Standing(k, Known{Day: "2026-12-31"}); return err }),
		"history":  reading(func(b *Book) error { _, err := b.History(k, "B5"); return err }),
		"entry":    reading(func(b *Book) error { _, err := b.Entry(3); return err }),
		"entries":  reading(func(b *Book) error { return b.Entries(1, func(Entry) error { return nil }) }),
		"export":   reading(func(b *Book) error { return b.WriteJournal(io.Discard) }),
		"copy": reading(func(b *Book) error {
			_, err := b.Copy(t.Context(), filepath.Join(t.TempDir(), "copied"))
			if err != nil {
				assert.NotContains(t, err.Error(), "copied", "the copy is not at fault")
			}
			return err
		}),
		"apply": writing(func(b *Book) error { _, err := b.Apply(rows, (&story{}).author(), false); return err }),
		"correct": writing(func(b *Book) error {
			_, err := b.Correct(7, map[string]string{"title": "nickel"}, (&story{}).author())
			return err
		}),
		"load": writing(func(b *Book) error { _, err := b.LoadJournal(strings.NewReader(journal)); return err }),
	}
}

func using(path string, mode Mode, do func(*Book) error) error {
	b, err := Open(path, mode)
	if err != nil {
		return err
	}
	return errors.Join(do(b), b.Close())
}

// wholeFile is the file of a book and its journal.
func wholeFile(t *testing.T) ([]byte, string) {
	s := eightEntries(t)
	journal := strings.Join(journalOf(s), "") + "\n"
	path := filepath.Join(t.TempDir(), "whole.book")
	_, err := s.Copy(t.Context(), path)
	require.NoError(t, err)
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	return whole, journal
}

// blamesTheFile checks that an error is that of a book which no command can
// use, in words.
func blamesTheFile(t *testing.T, err error, what string) {
	t.Helper()
	for _, one := range faults(t, err) {
		assert.NotRegexp(t, `sql|SQL|Scan|\(\d+\)$`, strings.TrimSuffix(one, "file is not a database (26)"), what)
	}
	assert.True(t, Unusable(err), "%s: %v", what, err)
}

func TestWhateverIsWrongWithTheTablesIsTheFilesFault(t *testing.T) {
	whole, journal := wholeFile(t)
	use := uses(t, journal)
	for name, statements := range map[string][]string{
		"a column lost":  {"ALTER TABLE entries RENAME COLUMN reason TO why"},
		"the table lost": {"ALTER TABLE entries RENAME TO lines"},
		"no number":      {"UPDATE entries SET corrects = 'three' WHERE no = 7"},
		"nothing in a column": {
			"PRAGMA writable_schema = 1",
			"UPDATE sqlite_schema SET sql = replace(sql, 'TEXT NOT NULL', 'TEXT') WHERE name = 'entries'",
			"PRAGMA writable_schema = RESET",
			"UPDATE entries SET key = NULL, body = NULL, hash = NULL",
		},
		"an entry lost": {"DELETE FROM entries WHERE no = 3"},
	} {
		hurt := 0
		for what, use := range use {
			path := filepath.Join(t.TempDir(), "shop.book")
			require.NoError(t, os.WriteFile(path, whole, 0o600))
			(&story{Book: &Book{path: path}, t: t}).behind(statements...)
			err := use(path)
			if what == "verify" || what == "copy" {
				require.Error(t, err, "%s: %s", name, what)
			}
			if err != nil {
				blamesTheFile(t, err, name+": "+what)
				hurt++
			}
		}
		assert.Greater(t, hurt, 2, name)
	}
}

// TestWhateverBitTurnsIsTheFilesFault turns a bit in each of the first hundred
// bytes, by which the database knows the file, and in some of the rest.
func TestWhateverBitTurnsIsTheFilesFault(t *testing.T) {
	whole, journal := wholeFile(t)
	use := uses(t, journal)
	random := rand.New(rand.NewPCG(26, 12))
	spots := random.Perm(len(whole))[:60]
	for at := range 100 {
		spots = append(spots, at)
	}
	random.Shuffle(len(spots), func(i, j int) { spots[i], spots[j] = spots[j], spots[i] })
	spots = spots[:bitsTurned]
	if testing.Short() {
		spots = spots[:20]
	}
	path := filepath.Join(t.TempDir(), "shop.book")
	hurt := 0
	for _, at := range spots {
		content := slices.Clone(whole)
		bit := random.IntN(8)
		content[at] ^= 1 << bit
		for what, use := range use {
			require.NoError(t, os.WriteFile(path, content, 0o600))
			if err := use(path); err != nil {
				blamesTheFile(t, err, fmt.Sprintf("bit %d of byte %d: %s", bit, at, what))
				hurt++
			}
			require.NoError(t, remove(path))
		}
	}
	assert.Greater(t, hurt, len(spots), "the bits hit too little to show anything")
}

func TestACopyOfADamagedBookBlamesTheBook(t *testing.T) {
	whole, _ := wholeFile(t)
	entry := slices.Clone(whole)
	at := strings.LastIndex(string(entry), "eyewash")
	require.Positive(t, at)
	entry[at] = 'E'
	schema := slices.Clone(whole)
	schema[47] ^= 8 // the number of the schema's format
	for name, test := range map[string]struct {
		content []byte
		want    string
	}{
		"an entry": {entry, "entry 6: its content was changed"},
		"cut off":  {whole[:len(whole)-4096], "shop.book: the file is damaged"},
		"schema":   {schema, "shop.book: the book's entries cannot be read"},
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, "shop.book")
		require.NoError(t, os.WriteFile(path, test.content, 0o600))
		err := using(path, ForReading, func(b *Book) error { _, err := b.Copy(t.Context(), filepath.Join(dir, "copied")); return err })
		require.ErrorIs(t, err, ErrDamaged, name)
		assert.ErrorContains(t, err, test.want, name)
		assert.NotContains(t, err.Error(), "copied", name)
		assert.NoFileExists(t, filepath.Join(dir, "copied"))
	}
}

// SQLite reads meaning into some names of files.
func TestACopyMayHaveAnyName(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	t.Chdir(t.TempDir())
	for _, name := range []string{":memory:", "file:copy?mode=memory", "a copy.book"} {
		last, err := s.Copy(t.Context(), name)
		require.NoError(t, err, name)
		assert.EqualValues(t, 2, last.Entry)
		assert.FileExists(t, name)
	}
	require.NoError(t, os.WriteFile("late.book-wal", []byte("entries of an earlier book"), 0o600))
	_, err := s.Copy(t.Context(), "late.book")
	assert.ErrorIs(t, err, ErrExists)
}

func TestWhatACallerSaysPassesAsItIs(t *testing.T) {
	enough := errors.New("enough")
	err := eightEntries(t).Entries(1, func(Entry) error { return enough })
	assert.Equal(t, enough, err)
	assert.Equal(t, sql.ErrNoRows, eightEntries(t).Entries(1, func(Entry) error { return sql.ErrNoRows }))
}
