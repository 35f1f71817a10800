package main

import (
	"bytes"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/recordbook"
)

// readingCommands read a book in every way there is, and write nothing into it.
var readingCommands = [][]string{
	{"verify"},
	{"list"},
	{"list", "check", "--json"},
	{"history", "bath", "N1"},
	{"report", "inventory", "--as-of", "2026-05-31"},
	{"export", "out.jsonl"},
	{"copy", "copied"},
}

// writingCommands are those that add to the small book.
var writingCommands = [][]string{
	{"record", "check", "--date", "2026-05-02", "--item", "eyewash", "--by", "plater"},
	{"correct", "1", "contact=the office", "--by", "plater", "--why", "it was missing"},
	{"withdraw", "30", "--by", "plater", "--why", "never done"},
	{"load", "sheets", "--by", "plater"},
	{"load", "book.jsonl"},
}

const outputs = "out.jsonl copied shop.bathwarden shop.bathwarden-wal shop.bathwarden-shm shop.bathwarden-journal"

// laid puts a book's bytes into the current folder, alone.
func laid(t testing.TB, book []byte) {
	t.Helper()
	for _, name := range strings.Fields(outputs) {
		require.NoError(t, os.RemoveAll(name))
	}
	require.NoError(t, os.WriteFile(defaultBook, book, 0o600))
}

// read runs every reading command on a book and gives what each printed and
// wrote; a copy is compared by the entries in it.
func read(t testing.TB, book []byte) []string {
	t.Helper()
	laid(t, book)
	var all []string
	for _, words := range readingCommands {
		r := command(t, words...)
		wrote := ""
		switch words[0] {
		case "export":
			if text, err := os.ReadFile("out.jsonl"); err == nil {
				wrote = string(text)
			}
		case "copy":
			if r.code == exitDone {
				wrote = done(t, "verify", "--book", "copied")
			}
		}
		all = append(all, fmt.Sprintf("%q: exit code %d\n%s%s%s", words, r.code, r.out, r.err, wrote))
		for _, name := range strings.Fields("out.jsonl copied") {
			require.NoError(t, os.RemoveAll(name))
		}
	}
	return all
}

// changeBook runs statements on a book's file behind the program's back.
func changeBook(t testing.TB, path string, statements ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	for _, s := range statements {
		_, err := db.Exec(s)
		require.NoError(t, err, s)
	}
	require.NoError(t, db.Close())
}

func TestBooksOfOtherFormatsAreRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, "kept")
	require.NoError(t, os.CopyFS("sheets", smallSheets))
	done(t, "export", "book.jsonl", "--book", "kept")
	for _, c := range []struct {
		name      string
		statement string
		want      string
	}{
		{"newer", fmt.Sprintf("PRAGMA user_version = %d", recordbook.Format+1), told(
			fmt.Sprintf("shop.bathwarden: the book has format %d; this program reads up to %d", recordbook.Format+1, recordbook.Format),
			"use the newer version of the program that wrote it")},
		{"far newer", "PRAGMA user_version = 2147483647", told(
			fmt.Sprintf("shop.bathwarden: the book has format 2147483647; this program reads up to %d", recordbook.Format),
			"use the newer version of the program that wrote it")},
		{"zero", "PRAGMA user_version = 0", told("shop.bathwarden: the book has format 0, which never was", "keep the file as it is, and go on with the last copy that verifies")},
		{"negative", "PRAGMA user_version = -1", told("shop.bathwarden: the book has format -1, which never was", "keep the file as it is, and go on with the last copy that verifies")},
		{"of another program", "PRAGMA application_id = 7", told("shop.bathwarden: the file is not a record book", "name the file that holds the book, or take a copy of it")},
	} {
		t.Run(c.name, func(t *testing.T) {
			whole, err := os.ReadFile("kept")
			require.NoError(t, err)
			laid(t, whole)
			changeBook(t, defaultBook, c.statement)
			before := contents(t, ".")
			for _, words := range slices.Concat(readingCommands, writingCommands) {
				assert.Equal(t, ran{code: exitBook, err: c.want}, command(t, words...), "%q", words)
			}
			unchanged(t, before, ".")
		})
	}
}

func TestKindsOfANewerProgramAreRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	changeBook(t, defaultBook, `INSERT INTO entries SELECT max(no) + 1, 'fume-hood', '', '2026-05-04', '{"hood":"H1"}', NULL, '', '2026-05-04T12:30:00Z', 'plater',
		(SELECT hash FROM entries ORDER BY no DESC LIMIT 1), 'ff' FROM entries`)
	for _, words := range [][]string{{"verify"}, {"report", "inventory"}, {"export", "out.xlsx"}, {"copy", "copied"}} {
		r := command(t, words...)
		assert.Equal(t, exitBook, r.code, "%q: %s", words, r.err)
		assert.Regexp(t, `^error: .*\nhint: `, r.err)
	}
	assert.Len(t, contents(t, "."), 1, "a refused command left something behind")
}

func TestCutBooksAreRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	whole, err := os.ReadFile(defaultBook)
	require.NoError(t, err)
	lengths := []int{0, 1, 15, 16, 50, 99, 100, 107, 108, 511, 512, 1023}
	for page := 4096; page <= len(whole); page += 4096 {
		lengths = append(lengths, page-3000, page-1, page, page+1)
	}
	lengths = slices.DeleteFunc(lengths, func(n int) bool { return n >= len(whole) })
	require.Greater(t, len(lengths), 30)
	for _, n := range lengths {
		laid(t, whole[:n])
		r := command(t, "verify")
		assert.Equal(t, exitBook, r.code, "%d of %d bytes: %s", n, len(whole), r.err)
		assert.Empty(t, r.out)
		assert.NotEmpty(t, r.err)
		after, err := os.ReadFile(defaultBook)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(whole[:n], after), "reading a book of %d bytes changed it", n)
		for _, got := range read(t, whole[:n])[1:] {
			assert.NotContains(t, got, "exit code 2")
		}
	}
}

// TestFlippedBitsShow turns single bits of a book. Where verify holds, the bit
// was one that nothing reads, and every command gives what it gave before.
func TestFlippedBitsShow(t *testing.T) {
	flips := 200
	if testing.Short() {
		flips = 40
	}
	t.Chdir(t.TempDir())
	smallBook(t, "kept")
	whole, err := os.ReadFile("kept")
	require.NoError(t, err)
	want := read(t, whole)
	random := rand.New(rand.NewPCG(26, 11))
	hurt := 0
	for range flips {
		at, bit := random.IntN(len(whole)), random.IntN(8)
		flipped := slices.Clone(whole)
		flipped[at] ^= 1 << bit
		where := fmt.Sprintf("bit %d of byte %d (page %d)", bit, at, at/4096+1)
		got := read(t, flipped)
		if strings.HasPrefix(got[0], `["verify"]: exit code 0`) {
			for i := range want {
				assert.True(t, want[i] == got[i], "%s: verify holds, and %q gives another answer: %s", where, readingCommands[i], firstLines(got[i], 5))
			}
			continue
		}
		hurt++
		for _, answer := range got {
			assert.Regexp(t, `^\[.*\]: exit code [014]\n`, answer, where)
		}
		assert.Regexp(t, `^\["verify"\]: exit code 4\nerror: `, got[0], where)
		laid(t, flipped)
		if command(t, writingCommands[0]...).code == exitDone {
			assert.NotEqual(t, exitDone, command(t, "verify").code, "%s: an entry more hides the damage", where)
		}
	}
	assert.Greater(t, hurt, flips/4, "the flips hit too little to show anything")
	assert.Less(t, hurt, flips, "the flips hit nothing that is unused")
}

// TestEveryByteOfAnEntryCounts changes the bytes of entries one by one where
// they stand in the file.
func TestEveryByteOfAnEntryCounts(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	whole, err := os.ReadFile(defaultBook)
	require.NoError(t, err)
	db, err := sql.Open("sqlite", defaultBook)
	require.NoError(t, err)
	rows, err := db.Query("SELECT no, kind || key || on_date || body, reason || recorded_at || recorded_by || prev_hash || hash FROM entries ORDER BY no")
	require.NoError(t, err)
	type part struct {
		no   int64
		text string
	}
	var parts []part
	for rows.Next() {
		var no int64
		var before, after string
		require.NoError(t, rows.Scan(&no, &before, &after))
		parts = append(parts, part{no, before}, part{no, after}) // the number of the corrected entry stands between
	}
	require.NoError(t, rows.Err())
	require.NoError(t, rows.Close())
	require.NoError(t, db.Close())
	require.Greater(t, len(parts), 60)
	tried, step := 0, 11
	if testing.Short() {
		step = 97
	}
	for i, p := range parts {
		// Room that is no longer used may hold the same text a second time.
		require.Positive(t, bytes.Count(whole, []byte(p.text)), "entry %d stands in the file in one piece", p.no)
		for at := i % step; at < len(p.text); at += step {
			other := []byte(p.text)
			other[at] ^= 1 << (at % 7)
			laid(t, bytes.ReplaceAll(whole, []byte(p.text), other))
			r := command(t, "verify")
			assert.Equal(t, exitBook, r.code, "entry %d, byte %d of %q", p.no, at, p.text)
			tried++
		}
	}
	t.Logf("%d bytes of %d entries", tried, len(parts)/2)
}
