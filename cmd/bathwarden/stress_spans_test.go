package main

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/templates"
)

// exampleHere puts the example shop's book into a new working folder and gives
// the number of its entries.
func exampleHere(t testing.TB) (entries int) {
	t.Helper()
	file, entries := exampleFile(t)
	t.(interface{ Chdir(string) }).Chdir(t.TempDir())
	require.NoError(t, os.WriteFile(defaultBook, file, 0o600))
	return entries
}

// counted are the rows of each kind that list gives.
func counted(t testing.TB, flags ...string) map[string]int {
	t.Helper()
	var counts map[string]int
	require.NoError(t, json.Unmarshal([]byte(done(t, append([]string{"list", "--json"}, flags...)...)), &counts))
	return counts
}

func sum(counts map[string]int) int {
	n := 0
	for _, c := range counts {
		n += c
	}
	return n
}

func TestListsBeforeWithinAndBeyondTheRecord(t *testing.T) {
	last := exampleHere(t)
	all := counted(t, "--as-of", templates.ExampleLastDay)
	require.Greater(t, sum(all), 500)
	assert.Len(t, all, len(chemicals.Kinds()))
	for _, c := range []struct {
		flags []string
		want  func(counts map[string]int)
	}{
		{[]string{"--as-of", "1900-01-01"}, func(n map[string]int) { assert.Zero(t, sum(n)) }},
		{[]string{"--as-of", "2024-05-06"}, func(n map[string]int) { assert.Zero(t, sum(n), "the day before the first event") }},
		{[]string{"--as-of", "2199-12-31"}, func(n map[string]int) { assert.Equal(t, all, n, "nothing in the example is yet to come or to end") }},
		{[]string{"--as-of", "2199-12-31", "--period", "2199"}, func(n map[string]int) {
			assert.Zero(t, n["check"]+n["analysis"]+n["addition"]+n["receipt"]+n["training"])
			assert.Equal(t, all["tank"], n["tank"], "facts have no period")
		}},
		{[]string{"--as-of", "2199-12-31", "--period", "1900-01-01..2199-12-31"}, func(n map[string]int) { assert.Equal(t, all, n) }},
		{[]string{"--as-of", templates.ExampleLastDay, "--period", "1900-01-01.." + templates.ExampleLastDay}, func(n map[string]int) { assert.Equal(t, all, n) }},
		{[]string{"--as-of", "2199-12-31", "--known-by", "1900-01-01"}, func(n map[string]int) { assert.Zero(t, sum(n)) }},
		{[]string{"--as-of", "2199-12-31", "--known-by", "2199-12-31"}, func(n map[string]int) { assert.Equal(t, all, n) }},
		{[]string{"--as-of", "2199-12-31", "--known-by", "1"}, func(n map[string]int) { assert.Equal(t, 1, sum(n)) }},
		{[]string{"--as-of", "2199-12-31", "--known-by", strconv.Itoa(last)}, func(n map[string]int) { assert.Equal(t, all, n) }},
		{[]string{"--as-of", "2199-12-31", "--known-by", strconv.Itoa(last - 1)}, func(n map[string]int) { assert.NotEqual(t, all, n) }},
	} {
		c.want(counted(t, c.flags...))
	}
	for _, words := range []string{"list tank", "list", "report inventory"} {
		for _, beyond := range []string{strconv.Itoa(last + 1), "999999999999"} {
			assert.Equal(t, ran{code: exitFailed, err: told("--known-by: the book has no entry "+beyond,
				fmt.Sprintf("the last entry is %d; if a paper names a later one, this book is older than the paper or was cut off", last))},
				command(t, append(strings.Fields(words), "--known-by", beyond)...), words)
		}
	}
}

// TestEntriesThatWereKnownGrow reads the book as it stood after each of many
// entries: what a later reader knows is never less than one more entry.
func TestEntriesThatWereKnownGrow(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	before := 0
	for entry := 1; entry <= 36; entry++ {
		n := sum(counted(t, "--as-of", "2026-05-31", "--known-by", strconv.Itoa(entry)))
		assert.Contains(t, []int{before - 1, before, before + 1}, n, "entry %d", entry)
		before = n
	}
	assert.Equal(t, 31, before) // 36 less a correction, a withdrawal and what both and a change took away
	assert.Contains(t, done(t, "list", "tank", "--known-by", "34"), "60 gal")
	assert.Contains(t, done(t, "list", "tank", "--known-by", "35"), "65 gal")
	assert.Contains(t, done(t, "list", "bath", "--known-by", "33", "--as-of", "2026-04-01"), "6 oz/gal")
	assert.Contains(t, done(t, "list", "bath", "--known-by", "34", "--as-of", "2026-04-01"), "5.5 oz/gal")
	assert.Contains(t, done(t, "list", "bath", "--known-by", "34", "--as-of", "2026-03-31"), "6 oz/gal")
}

// notAFigure is what a computation prints that went wrong.
var notAFigure = regexp.MustCompile(`\bNaN\b|[+-]?\bInf\b|%!|<nil>`)

func TestPapersOfAnyDay(t *testing.T) {
	last := exampleHere(t)
	for _, p := range papers() {
		for _, flags := range []string{
			"--as-of 1900-01-01", "--as-of 2199-12-31", "--as-of 2025-10-01", "--as-of 2025-09-30",
			"--known-by 1", "--known-by 1900-01-01", "--known-by 2199-12-31", "--known-by " + strconv.Itoa(last) + " --as-of 2026-09-30",
			"--period 1900-01-01..2199-12-31 --as-of 2199-12-31", "--period 1900",
		} {
			args := append([]string{"report", p.name}, strings.Fields(flags)...)
			text := done(t, args...)
			assert.Empty(t, notAFigure.FindAllString(text, -1), "%q", args)
			assert.Contains(t, text, templates.Deferral[:40])
		}
		for _, file := range []string{"page.pdf", "page.xlsx"} {
			done(t, "report", p.name, "--as-of", "1900-01-01", "-o", file, "--force")
			done(t, "report", p.name, "--as-of", "2199-12-31", "-o", file, "--force")
		}
	}
}

// TestPapersStayWhatTheyWere prints a paper, goes on writing in the book, and
// prints it again as the book stood then.
func TestPapersStayWhatTheyWere(t *testing.T) {
	last := exampleHere(t)
	paper := func(name, file string, flags ...string) string {
		done(t, append([]string{"report", name, "--as-of", templates.ExampleLastDay, "-o", file, "--force"}, flags...)...)
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		return string(text)
	}
	files := []string{"page.pdf", "page.xlsx", "page.txt"}
	before := map[string]string{}
	for _, p := range papers() {
		for _, file := range files {
			before[p.name+file] = paper(p.name, file)
		}
	}
	done(t, "record", "tank", "--tank", "B9", "--working-volume", "99 gal", "--from", "2026-01-15", "--by", "plater")
	done(t, "record", "shop", "--regime", "eu", "--by", "plater", "--why", "slip")
	done(t, "record", "check", "--date", "2026-09-01", "--item", "eyewash", "--by", "plater")
	for _, p := range papers() {
		for _, file := range files {
			assert.True(t, before[p.name+file] == paper(p.name, file, "--known-by", strconv.Itoa(last)), "%s in %s has changed", p.name, file)
			assert.False(t, before[p.name+file] == paper(p.name, file), "%s in %s does not see what was written", p.name, file)
		}
	}
}

func TestWhatIsExportedLoadsAndChangesNothing(t *testing.T) {
	last := exampleHere(t)
	hash := done(t, "verify")
	book, err := os.ReadFile(defaultBook)
	require.NoError(t, err)
	for _, path := range []string{"sheets", "sheets.xlsx", "book.jsonl"} {
		done(t, "export", path)
		out := done(t, "load", path, "--by", "plater")
		want := fmt.Sprintf("nothing changed, %d stand in the book already\n", last)
		if path == "book.jsonl" {
			want = "0 entries taken over from book.jsonl\n"
		}
		assert.Equal(t, want, out, path)
		assert.Equal(t, hash, done(t, "verify"), path)
		after, err := os.ReadFile(defaultBook)
		require.NoError(t, err)
		assert.True(t, string(book) == string(after), "loading %s changed the book's file", path)
	}
	sheets, books := contents(t, "sheets"), contents(t, ".")
	done(t, "export", "again")
	done(t, "export", "again.xlsx")
	done(t, "export", "again.jsonl")
	assert.Equal(t, sheets, contents(t, "again"))
	now := contents(t, ".")
	assert.True(t, books["sheets.xlsx"] == now["again.xlsx"], "a second workbook differs")
	assert.True(t, books["book.jsonl"] == now["again.jsonl"], "a second journal differs")
}

func TestAJournalMakesTheSameBook(t *testing.T) {
	last := exampleHere(t)
	// What the journal holds beside plain entries.
	done(t, "correct", "2", "trainer=somebody else", "--by", "plater", "--why", "slip, \"quoted\"\nand on a second line <&> \u2028")
	done(t, "withdraw", "3", "--by", "µ° 鍍金 😀", "--why", "=1+1")
	done(t, "export", "book.jsonl")
	done(t, "init", "--book", "other")
	assert.Equal(t, fmt.Sprintf("%d entries taken over from book.jsonl\n", last+2), done(t, "load", "book.jsonl", "--book", "other"))
	assert.Equal(t, strings.TrimPrefix(done(t, "verify"), defaultBook), strings.TrimPrefix(done(t, "verify", "--book", "other"), "other"))
	assert.Equal(t, done(t, "history", "--json"), done(t, "history", "--json", "--book", "other"))
	done(t, "export", "other.jsonl", "--book", "other")
	files := contents(t, ".")
	assert.True(t, files["book.jsonl"] == files["other.jsonl"], "the journals differ")
	assert.Equal(t, "0 entries taken over from other.jsonl\n", done(t, "load", "other.jsonl"))
	for _, p := range papers() {
		for _, flags := range [][]string{{"--as-of", "2026-09-30"}, {"--as-of", "2026-01-31", "--known-by", "500"}} {
			args := append([]string{"report", p.name}, flags...)
			assert.Equal(t, done(t, args...), done(t, append(args, "--book", "other")...))
		}
	}
}
