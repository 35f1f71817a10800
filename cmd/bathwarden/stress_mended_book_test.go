//go:build linux

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const keepFile = "keep the file as it is, and go on with the last copy that verifies"

func TestATankThatEndsBeforeTheShopBeginsIsRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	require.NoError(t, os.Mkdir("sheets", 0o700))
	require.NoError(t, os.WriteFile("sheets/tank.csv", []byte("tank,purpose,until\nN1,plate,2025-12-31\n"), 0o600))
	const mend = "mend that day, or give the row a first day of its own; without one it begins on the shop's first day"
	before := contents(t, ".")
	for words, where := range map[string]string{
		"correct 16 until=2025-12-31 --by plater --why slip":                   "until",
		"record tank --tank N1 --until 2025-12-31 --by plater --why slip":      "--until",
		"record tank --tank N9 --purpose plate --until 2025-12-31 --by plater": "--until",
		"load sheets --by plater":                                              "tank.csv line 2, until",
		"load sheets --dry-run":                                                "tank.csv line 2, until",
	} {
		want := told(where+": it ends on 2025-12-31, before it begins on 2026-01-01", mend)
		assert.Equal(t, ran{code: exitFailed, err: want}, command(t, strings.Fields(words)...), words)
		unchanged(t, before, ".")
	}
	assert.Equal(t, exitFailed, command(t, "load", "sheets", "--by", "plater").code)
	done(t, strings.Fields("correct 16 until=2026-01-01 --by plater --why slip")...)
	r := command(t, "correct", "1", "first day=2026-01-02", "--by", "plater", "--why", "slip")
	assert.Equal(t, ran{code: exitFailed, err: told("entry 37: tank N1 ends on 2026-01-01 and would begin on the shop's first day, which becomes 2026-01-02",
		"give it a first day of its own, or withdraw it, in the same load or before")}, r)
}

// TestForgedValuesAreNotTaken: every hash is right, and no book has written it.
func TestForgedValuesAreNotTaken(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, "kept")
	done(t, "export", "book.jsonl", "--book", "kept")
	done(t, "init")
	text, err := os.ReadFile("book.jsonl")
	require.NoError(t, err)
	journal := strings.Split(strings.TrimSpace(string(text)), "\n")
	before := contents(t, ".")
	for _, c := range []struct {
		number int
		change func(*journalLine)
		want   string
	}{
		{32, func(e *journalLine) { e.Body["date"] = "yesterday" }, `date: "yesterday" is not a day`},
		{16, func(e *journalLine) { e.Body["working volume"] = "-300 gal" }, `working volume: "-300 gal" is negative`},
		{16, func(e *journalLine) { e.Body["working volume"] = "300" }, `working volume: "300" has no unit`},
		{32, func(e *journalLine) { e.OnDate = "2026-02-16" }, `it is kept under the day "2026-02-16", and its columns say "2026-02-15"`},
		{16, func(e *journalLine) { e.Key = "n2" }, `its key is "n2", and its columns make "n1"`},
		{20, func(e *journalLine) { e.Body["tank"], e.Key = "N9", "n9\tboric acid" }, `there is no tank "N9"`},
		{32, func(e *journalLine) { e.RecordedBy = "" }, "it names nobody who wrote it"},
		{32, func(e *journalLine) { e.RecordedBy = "\x1b[2J" }, "its author: the text holds a control character"},
		{35, func(e *journalLine) { e.Reason = "" }, "it corrects entry 18 and gives no reason"},
		{36, func(e *journalLine) { e.Reason = "" }, "it corrects entry 31 and gives no reason"},
		{36, func(e *journalLine) { e.OnDate = "2026-02-09" }, "it withdraws entry 31 and is kept under another name or day"},
	} {
		require.NoError(t, os.WriteFile("bad.jsonl", []byte(strings.Join(forged(c.number, c.change)(t, slices.Clone(journal)), "\n")+"\n"), 0o600))
		want := told(fmt.Sprintf("bad.jsonl line %d: entry %d: %s", c.number, c.number, c.want), takeJournal)
		assert.Equal(t, ran{code: exitFailed, err: want}, command(t, "load", "bad.jsonl"))
		require.NoError(t, os.Remove("bad.jsonl"))
		unchanged(t, before, ".")
	}
	bad := rechained(t, journal, func(all []journalLine) []journalLine {
		all[15].Key, all[31].RecordedBy, all[34].Reason = "n2", "", ""
		return all
	})
	require.NoError(t, os.WriteFile("bad.jsonl", []byte(strings.Join(bad, "\n")+"\n"), 0o600))
	assert.Equal(t, told(`bad.jsonl line 16: entry 16: its key is "n2", and its columns make "n1"`, takeJournal)+
		told("bad.jsonl line 32: entry 32: it names nobody who wrote it", takeJournal)+
		told("bad.jsonl line 35: entry 35: it corrects entry 18 and gives no reason", takeJournal),
		command(t, "load", "bad.jsonl").err, "all faults at once")
	assert.Equal(t, "36 entries taken over from book.jsonl\n", done(t, "load", "book.jsonl"))
}

func TestWhatIsNoJournalIsNamedInWords(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, "kept")
	done(t, "export", "book.jsonl", "--book", "kept")
	done(t, "init")
	text, err := os.ReadFile("book.jsonl")
	require.NoError(t, err)
	whole := string(text)
	const isArray = "bad.jsonl line 1: it is not a line of a journal: it is an array where an object belongs"
	for content, want := range map[string]string{
		"":                                      told("bad.jsonl: it holds no entry", "name a journal that export wrote from a book with entries"),
		strings.ReplaceAll(whole, "\n", "\r\n"): told("bad.jsonl line 1: its line ends are CR LF where a journal has LF: a program has written the file anew", takeJournal),
		"[" + strings.ReplaceAll(strings.TrimSpace(whole), "\n", ",") + "]\n": told(isArray, takeJournal),
		"dear all\n":        told("bad.jsonl line 1: it is not a line of a journal: it is no JSON from byte 1 on", takeJournal),
		`{"no":"1"}` + "\n": told("bad.jsonl line 1: it is not a line of a journal: its no is text where a whole number belongs", takeJournal),
		whole[:100]:         told("bad.jsonl line 1: the line is cut off", "take the journal from where it is whole"),
	} {
		require.NoError(t, os.WriteFile("bad.jsonl", []byte(content), 0o600))
		assert.Equal(t, ran{code: exitFailed, err: want}, command(t, "load", "bad.jsonl"), firstLines(content, 1))
		assert.Contains(t, done(t, "verify"), ": 0 entries")
	}
}

func TestFilesOfOthersStayAsTheyAre(t *testing.T) {
	t.Chdir(t.TempDir())
	changeBook(t, defaultBook, "CREATE TABLE notes (text)", "INSERT INTO notes VALUES ('keep me')")
	other, err := os.ReadFile(defaultBook)
	require.NoError(t, err)
	for name, content := range map[string][]byte{"another program's": other, "empty": nil, "one byte": []byte("x")} {
		laid(t, content)
		assert.Equal(t, exitBook, command(t, writingCommands[0]...).code)
		after, err := os.ReadFile(defaultBook)
		require.NoError(t, err)
		assert.Equal(t, string(content), string(after), "the %s file was changed", name)
	}
}

func TestAnyDamageIsTheBooksFault(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, "kept")
	require.NoError(t, os.CopyFS("sheets", smallSheets))
	done(t, "export", "kept.jsonl", "--book", "kept")
	whole, err := os.ReadFile("kept")
	require.NoError(t, err)
	schema, form := slices.Clone(whole), slices.Clone(whole)
	schema[47] ^= 8 // the number of the schema's format
	form[59] ^= 2   // the way in which texts are written
	laid(t, whole)
	changeBook(t, defaultBook, "ALTER TABLE entries RENAME COLUMN reason TO why")
	column, err := os.ReadFile(defaultBook)
	require.NoError(t, err)
	laid(t, whole)
	changeBook(t, defaultBook, "DROP TRIGGER entries_never_change", "PRAGMA foreign_keys = 0", "PRAGMA ignore_check_constraints = 1", "UPDATE entries SET corrects = 'three' WHERE no = 35")
	value, err := os.ReadFile(defaultBook)
	require.NoError(t, err)
	for name, book := range map[string][]byte{
		"another file format": schema, "texts in another form": form, "cut": whole[:28000], "a column of another name": column, "a number that is none": value,
	} {
		for _, words := range [][]string{{"verify"}, {"export", "out.jsonl"}, {"load", "kept.jsonl"}, {"load", "sheets", "--by", "plater"}, {"copy", "copied"}, {"report", "inventory", "--as-of", "2026-05-31"}} {
			laid(t, book)
			r := command(t, words...)
			if name == "a number that is none" && (words[0] == "load" || words[0] == "report") && r.code == exitDone {
				continue // what another column says of an entry that stands is not looked at
			}
			assert.Equal(t, exitBook, r.code, "%s, %q: %s", name, words, r.err)
			assert.Regexp(t, `^error: (shop\.bathwarden|entry \d+): .*\nhint: `, r.err, "%s, %q", name, words)
			assert.NotRegexp(t, `sql:|SQL|no such|converting|unsupported`, r.err, "%s, %q", name, words)
			assert.NotContains(t, r.err, "copied", "the copy is not at fault")
			assert.NoFileExists(t, "copied")
		}
	}
	laid(t, schema)
	assert.Equal(t, told("shop.bathwarden: the book's entries cannot be read: the tables in the file are not those of a book", keepFile), command(t, "copy", "copied").err)
}

func TestAnOpenedBookIsReadWhereNothingMayBeWritten(t *testing.T) {
	dir, run := strangersFolder(t)
	path := filepath.Join(dir, defaultBook)
	smallBook(t, path)
	require.NoError(t, os.Chmod(path, 0o444))
	same := func(words string) string {
		return strings.ReplaceAll(done(t, append(strings.Fields(words), "--book", path)...), path, defaultBook)
	}
	want := map[string]string{}
	for _, words := range []string{"verify", "list tank", "history bath N1", "report inventory"} {
		want[words] = same(words)
	}
	require.NoError(t, os.Chmod(dir, 0o555))
	defer os.Chmod(dir, 0o755)
	before := contents(t, dir)
	for words, out := range want {
		r := run(words)
		assert.Equal(t, exitDone, r.code, "%s: %s", words, r.err)
		assert.Equal(t, out, r.out, words)
	}
	unchanged(t, before, dir)

	// What another writer, or a crash, left beside it is not passed over.
	require.NoError(t, os.WriteFile(path+"-wal", []byte("entries"), 0o444))
	r := run("verify")
	assert.Equal(t, ran{code: exitFailed, err: told("shop.bathwarden: what was written last still lies in shop.bathwarden-wal, and it can be read only where files may be written",
		`have somebody who may write there make a copy with "copy", or copy both files into a folder of your own and name the book there`)}, r)
}

func TestADiskWithoutRoomIsCalledFull(t *testing.T) {
	smallDisk(t, 256)
	smallBook(t, defaultBook)
	fill(t, 0)
	before := contents(t, ".")
	for _, words := range []string{"verify", recordOne, "init --book other", "copy kept"} {
		r := command(t, strings.Fields(words)...)
		assert.Equal(t, exitFailed, r.code, words)
		assert.Regexp(t, `^error: [^:]*: the disk is full[^()]*\nhint: make room and try again\n$`, r.err, words)
		unchanged(t, before, ".")
	}
}

func TestAWriteLimitLeavesNoHalfMadeBook(t *testing.T) {
	shell, err := exec.LookPath("sh")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	for _, blocks := range []int{0, 1, 8, 30, 62} { // of 512 bytes; the database wants 64
		c := exec.Command(shell, "-c", fmt.Sprintf("ulimit -f %d; exec bathwarden init", blocks))
		var errs strings.Builder
		c.Stderr = &errs
		assert.Error(t, c.Run())
		assert.Equal(t, exitFailed, c.ProcessState.ExitCode())
		assert.Regexp(t, `^error: shop\.bathwarden: (the disk is full, or no more may be written|the book cannot be written): [^()]*\nhint: make room .*\n$`, errs.String(), "%d blocks", blocks)
		assert.Empty(t, names(contents(t, ".")), "%d blocks", blocks)
	}
	done(t, "init")
}
