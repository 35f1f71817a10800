package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// journalLine is a line of a journal, in the order of its columns.
type journalLine struct {
	No         int64             `json:"no"`
	Kind       string            `json:"kind"`
	Key        string            `json:"key"`
	OnDate     string            `json:"on_date"`
	Body       map[string]string `json:"body"`
	Corrects   int64             `json:"corrects,omitempty"`
	Reason     string            `json:"reason"`
	RecordedAt string            `json:"recorded_at"`
	RecordedBy string            `json:"recorded_by"`
	PrevHash   string            `json:"prev_hash"`
	Hash       string            `json:"hash"`
}

// plainJSON writes JSON as a journal has it: columns sorted, nothing escaped
// that need not be.
func plainJSON(t testing.TB, v any) string {
	t.Helper()
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	require.NoError(t, e.Encode(v))
	return strings.TrimSuffix(out.String(), "\n")
}

// rechained changes the entries of a journal and computes every hash anew, as a
// forger would who knows the form.
func rechained(t testing.TB, journal []string, change func([]journalLine) []journalLine) []string {
	t.Helper()
	entries := make([]journalLine, len(journal))
	for i, line := range journal {
		require.NoError(t, json.Unmarshal([]byte(line), &entries[i]))
	}
	lines := []string{}
	before := ""
	for _, e := range change(entries) {
		body, corrects := "", ""
		if e.Body != nil {
			body = plainJSON(t, e.Body)
		}
		if e.Corrects != 0 {
			corrects = strconv.FormatInt(e.Corrects, 10)
		}
		text := "record book entry, form 1\n"
		for _, c := range [][2]string{
			{"no", strconv.FormatInt(e.No, 10)}, {"kind", e.Kind}, {"key", e.Key}, {"on_date", e.OnDate}, {"body", body}, {"corrects", corrects},
			{"reason", e.Reason}, {"recorded_at", e.RecordedAt}, {"recorded_by", e.RecordedBy}, {"prev_hash", before},
		} {
			text += fmt.Sprintf("%s %d:%s\n", c[0], len(c[1]), c[1])
		}
		sum := sha256.Sum256([]byte(text))
		e.PrevHash, e.Hash = before, hex.EncodeToString(sum[:])
		before = e.Hash
		lines = append(lines, plainJSON(t, e))
	}
	return lines
}

// forged changes one entry of a journal and mends the chain.
func forged(number int, change func(*journalLine)) func(testing.TB, []string) []string {
	return func(t testing.TB, journal []string) []string {
		return rechained(t, journal, func(all []journalLine) []journalLine {
			change(&all[number-1])
			return all
		})
	}
}

// edited replaces text on one line and leaves the chain as it is.
func edited(number int, old, now string) func(testing.TB, []string) []string {
	return func(t testing.TB, journal []string) []string {
		require.Contains(t, journal[number-1], old)
		journal[number-1] = strings.Replace(journal[number-1], old, now, 1)
		return journal
	}
}

const takeJournal = "take the journal as it was written, or an earlier one"

// badJournals are of the small book: 35 corrects 18, 36 withdraws 31.
var badJournals = []struct {
	name   string
	change func(testing.TB, []string) []string
	want   string
}{
	{"content edited", edited(16, "300 gal", "900 gal"),
		told("bad.jsonl line 16: entry 16: its content was changed: the hash that was written with it is another", takeJournal)},
	{"author edited", edited(20, `"recorded_by":"plater"`, `"recorded_by":"nobody"`),
		told("bad.jsonl line 20: entry 20: its content was changed: the hash that was written with it is another", takeJournal)},
	{"reason edited", edited(36, "measured again", "never true"),
		told("bad.jsonl line 36: entry 36: its content was changed: the hash that was written with it is another", takeJournal)},
	{"time edited", edited(3, "12:30:00", "11:30:00"),
		told("bad.jsonl line 3: entry 3: its content was changed: the hash that was written with it is another", takeJournal)},
	{"key edited", edited(17, `"key":"r1"`, `"key":"r2"`),
		told("bad.jsonl line 17: entry 17: its content was changed: the hash that was written with it is another", takeJournal)},
	{"day edited", edited(30, `"on_date":"2026-02-01"`, `"on_date":"2026-02-02"`),
		told("bad.jsonl line 30: entry 30: its content was changed: the hash that was written with it is another", takeJournal)},
	{"former hash edited", edited(2, `"prev_hash":"`, `"prev_hash":"0`),
		told("bad.jsonl line 2: entry 2: it does not follow entry 1: the hash that it gives for that entry is another", takeJournal)},
	{"hash edited", edited(2, `"hash":"`, `"hash":"0`),
		told("bad.jsonl line 2: entry 2: its content was changed: the hash that was written with it is another", takeJournal) +
			told("bad.jsonl line 3: entry 3: it does not follow entry 2: the hash that it gives for that entry is another", takeJournal)},
	{"corrects another", edited(35, `"corrects":18`, `"corrects":17`),
		told("bad.jsonl line 35: entry 35: its content was changed: the hash that was written with it is another", takeJournal)},
	{"line missing", func(_ testing.TB, j []string) []string { return slices.Delete(j, 4, 5) },
		told("bad.jsonl line 5: entry 6: it follows entry 4: entries are missing or out of order", takeJournal)},
	{"first line missing", func(_ testing.TB, j []string) []string { return j[1:] },
		told("bad.jsonl line 1: entry 2: it follows entry 0: entries are missing or out of order", takeJournal)},
	{"line twice", func(_ testing.TB, j []string) []string { return slices.Insert(j, 5, j[4]) },
		told("bad.jsonl line 6: entry 5: it follows entry 5: entries are missing or out of order", takeJournal)},
	{"two lines the other way round", func(_ testing.TB, j []string) []string {
		j[34], j[35] = j[35], j[34]
		return j
	},
		told("bad.jsonl line 35: entry 36: it follows entry 34: entries are missing or out of order", takeJournal) +
			told("bad.jsonl line 36: entry 35: it follows entry 36: entries are missing or out of order", takeJournal)},
	{"journal twice", func(_ testing.TB, j []string) []string { return append(j, j...) },
		told("bad.jsonl line 37: entry 1: it follows entry 36: entries are missing or out of order", takeJournal)},
	{"columns in another order", edited(1, `{"no":1,"kind":"shop",`, `{"kind":"shop","no":1,`),
		told("bad.jsonl line 1: it is not written as a journal writes it: a column is missing, doubled, unknown or out of place", takeJournal) +
			told("bad.jsonl line 2: entry 2: it follows entry 0: entries are missing or out of order", takeJournal)},
	{"column twice on the last line", edited(36, `"key":""`, `"key":"","key":""`),
		told("bad.jsonl line 36: it is not written as a journal writes it: a column is missing, doubled, unknown or out of place", takeJournal)},
	{"column missing on the last line", edited(36, `"key":"",`, ``),
		told("bad.jsonl line 36: it is not written as a journal writes it: a column is missing, doubled, unknown or out of place", takeJournal)},
	{"blanks on the last line", edited(36, `"key":""`, `"key": ""`),
		told("bad.jsonl line 36: it is not written as a journal writes it: a column is missing, doubled, unknown or out of place", takeJournal)},
	{"forged: kind that is none", forged(36, func(e *journalLine) { e.Kind = "teapot" }),
		told(`bad.jsonl line 36: entry 36: it is of kind "teapot", which this program does not know`, takeJournal)},
	{"forged: column that is none", forged(32, func(e *journalLine) { e.Body["colour"] = "red" }),
		told("bad.jsonl line 32: entry 32: its body has a column that check does not have in this program", takeJournal)},
	{"forged: time that is none", forged(4, func(e *journalLine) { e.RecordedAt = "yesterday" }),
		told(`bad.jsonl line 4: entry 4: "yesterday" is not a time in UTC such as 2006-01-02T15:04:05Z`, takeJournal)},
	{"forged: time of another zone", forged(4, func(e *journalLine) { e.RecordedAt = "2026-05-04T12:30:00+02:00" }),
		told(`bad.jsonl line 4: entry 4: "2026-05-04T12:30:00+02:00" is not a time in UTC such as 2006-01-02T15:04:05Z`, takeJournal)},
	{"forged: says nothing and withdraws nothing", forged(4, func(e *journalLine) { e.Body = nil }),
		told("bad.jsonl line 4: entry 4: it has no body and withdraws nothing", takeJournal)},
	{"forged: corrects itself", forged(35, func(e *journalLine) { e.Corrects = 35 }),
		told("bad.jsonl line 35: entry 35: it corrects entry 35, which is not an earlier one", takeJournal)},
	{"forged: corrects what is to come", forged(35, func(e *journalLine) { e.Corrects = 36 }),
		told("bad.jsonl line 35: entry 35: it corrects entry 36, which is not an earlier one", takeJournal)},
	{"forged: corrects before the first", forged(35, func(e *journalLine) { e.Corrects = -1 }),
		told("bad.jsonl line 35: entry 35: it corrects entry -1, which is not an earlier one", takeJournal)},
	{"forged: corrects another kind", forged(35, func(e *journalLine) { e.Corrects = 30 }),
		told("bad.jsonl line 35: entry 35: it corrects entry 30, which is of kind check", takeJournal)},
	{"forged: corrects twice", func(t testing.TB, j []string) []string {
		return rechained(t, j, func(all []journalLine) []journalLine {
			again := all[34]
			again.No = 37
			return append(all, again)
		})
	}, told("bad.jsonl line 37: entry 37: it corrects entry 18, which entry 35 corrected already", takeJournal)},
	{"forged: corrects a withdrawal", func(t testing.TB, j []string) []string {
		return rechained(t, j, func(all []journalLine) []journalLine {
			again := all[30]
			again.No, again.Corrects = 37, 36
			return append(all, again)
		})
	}, told("bad.jsonl line 37: entry 37: it corrects entry 36, which is a withdrawal", takeJournal)},
	{"every line edited", func(_ testing.TB, j []string) []string {
		for i := range j {
			j[i] = strings.Replace(j[i], `"recorded_by":"p`, `"recorded_by":"P`, 1)
		}
		return j
	}, func() (all string) {
		for n := 1; n <= 20; n++ {
			all += told(fmt.Sprintf("bad.jsonl line %d: entry %d: its content was changed: the hash that was written with it is another", n, n), takeJournal)
		}
		return all + told("bad.jsonl line 21: the lines from here on were not looked at", "mend the others first")
	}()},
}

func TestBadJournals(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, "kept")
	done(t, "export", "book.jsonl", "--book", "kept")
	done(t, "init")
	text, err := os.ReadFile("book.jsonl")
	require.NoError(t, err)
	journal := strings.SplitAfter(string(text), "\n")[:36]
	for i := range journal {
		journal[i] = strings.TrimSuffix(journal[i], "\n")
	}
	require.Equal(t, journal, rechained(t, journal, func(all []journalLine) []journalLine { return all }), "the forger knows the form")
	before := contents(t, ".")
	refused := func(t *testing.T, text, want string) {
		t.Helper()
		require.NoError(t, os.WriteFile("bad.jsonl", []byte(text), 0o600))
		assert.Equal(t, ran{code: exitFailed, err: want}, command(t, "load", "bad.jsonl"))
		require.NoError(t, os.Remove("bad.jsonl"))
		unchanged(t, before, ".")
	}
	for _, c := range badJournals {
		t.Run(c.name, func(t *testing.T) {
			refused(t, strings.Join(c.change(t, slices.Clone(journal)), "\n")+"\n", c.want)
		})
	}
	whole := string(text)
	const whereWhole = "take the journal from where it is whole"
	refused(t, whole[:len(whole)-1], told("bad.jsonl line 36: the line is cut off", whereWhole))
	refused(t, whole[:len(whole)-40], told("bad.jsonl line 36: the line is cut off", whereWhole))
	refused(t, whole[:100], told("bad.jsonl line 1: the line is cut off", whereWhole))
	refused(t, whole+"x", told("bad.jsonl line 37: the line is cut off", whereWhole))
}

// TestFilesThatAreNoJournals are refused by the line, whatever the words.
func TestFilesThatAreNoJournals(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, "kept")
	done(t, "export", "book.jsonl", "--book", "kept")
	done(t, "init")
	text, err := os.ReadFile("book.jsonl")
	require.NoError(t, err)
	whole := string(text)
	empty := done(t, "verify")
	every := make([]byte, 1024)
	for i := range every {
		every[i] = byte(i)
	}
	for name, content := range map[string]string{
		"binary":              string(every),
		"a blank line":        "\n",
		"null":                "null\n",
		"a number":            "7\n",
		"a text":              "\"x\"\n",
		"an object":           "{}\n",
		"an array":            "[" + strings.ReplaceAll(strings.TrimSpace(whole), "\n", ",") + "]\n",
		"words":               "dear all\n",
		"the mark of text":    "\ufeff" + whole,
		"other line ends":     strings.ReplaceAll(whole, "\n", "\r\n"),
		"two lines in one":    strings.Replace(whole, "\n", "", 1),
		"a blank line within": strings.Replace(whole, "\n", "\n\n", 1),
		"a column more":       strings.Replace(whole, `{"no":1`, `{"colour":"red","no":1`, 1),
		"a number as text":    strings.Replace(whole, `"no":1,`, `"no":"1",`, 1),
		"a number in pieces":  strings.Replace(whole, `"no":1,`, `"no":1.5,`, 1),
		"a number too great":  strings.Replace(whole, `"no":1,`, `"no":99999999999999999999,`, 1),
		"a number below zero": strings.Replace(whole, `"no":1,`, `"no":-1,`, 1),
		"nested without end":  strings.Repeat("[", 200000) + "\n",
		"a long line":         strings.Repeat("x", 3<<20) + "\n",
		"half of UTF-16":      strings.Join(strings.Split(whole, ""), "\x00"),
		"a workbook":          "PK\x03\x04" + whole,
	} {
		require.NoError(t, os.WriteFile("bad.jsonl", []byte(content), 0o600))
		r := command(t, "load", "bad.jsonl")
		assert.Equal(t, exitFailed, r.code, name)
		assert.Regexp(t, `^error: bad\.jsonl line \d+: .*\nhint: `, r.err, name)
		assert.Less(t, len(r.err), 20000, name)
		assert.Equal(t, empty, done(t, "verify"), name)
	}
}

func TestJournalsOfOtherBooks(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	done(t, "export", "book.jsonl")
	done(t, "init", "--book", "other")
	done(t, "record", "check", "--date", "2026-05-01", "--item", "eyewash", "--by", "plater", "--book", "other")
	done(t, "export", "other.jsonl", "--book", "other")
	another := func(journal string, entry int) ran {
		return ran{code: exitFailed, err: told(fmt.Sprintf("%s line %d: entry %d: the book has another", journal, entry, entry), "the journal is of another book; load it into a new one")}
	}
	before := contents(t, ".")
	assert.Equal(t, another("other.jsonl", 1), command(t, "load", "other.jsonl"))
	assert.Equal(t, another("book.jsonl", 1), command(t, "load", "book.jsonl", "--book", "other"))
	unchanged(t, before, ".")

	// Two books that parted after the same beginning.
	done(t, "init", "--book", "twin")
	done(t, "load", "book.jsonl", "--book", "twin")
	done(t, "record", "check", "--date", "2026-05-01", "--item", "left", "--by", "plater")
	done(t, "record", "check", "--date", "2026-05-01", "--item", "right", "--by", "plater", "--book", "twin")
	done(t, "export", "twin.jsonl", "--book", "twin")
	assert.Equal(t, another("twin.jsonl", 37), command(t, "load", "twin.jsonl"))

	// A journal that goes on where the book ends adds what is new.
	done(t, "init", "--book", "third")
	assert.Equal(t, "36 entries taken over from book.jsonl\n", done(t, "load", "book.jsonl", "--book", "third"))
	assert.Equal(t, "1 entries taken over from twin.jsonl\n", done(t, "load", "twin.jsonl", "--book", "third"))
	assert.Equal(t, "0 entries taken over from book.jsonl\n", done(t, "load", "book.jsonl", "--book", "third"))
}
