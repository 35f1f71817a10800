package recordbook

import (
	"bytes"
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// eightEntries is a book in which 7 corrects 3 and 8 withdraws 6.
func eightEntries(t testing.TB) *story {
	s := newStory(t)
	s.load("shop\nname|first day\nFernhollow Finishing|2026-01-01", "location\nlocation\nline 1",
		"tank\ntank|purpose|location\nB5|plate|line 1\nR1|rinse|line 1", "bath\ntank|ingredient|concentration\nB5|Ni|70 g/L",
		"check\ndate|item\n2026-02-02|eyewash")
	_, err := s.Correct(3, map[string]string{"temperature": "61 °C"}, s.author())
	require.NoError(t, err)
	_, err = s.Withdraw(6, s.author())
	require.NoError(t, err)
	return s
}

// forge gives the journal of a book with its entries changed and the chain
// mended.
func forge(t testing.TB, s *story, change func(*row)) string {
	t.Helper()
	var journal bytes.Buffer
	before := ""
	require.NoError(t, s.reading(func(tx *sql.Tx) error {
		return each(tx, 1, func(r row) error {
			change(&r)
			r.prevHash = before
			r.hash = r.sum()
			before = r.hash
			journal.Write(r.journal())
			return nil
		})
	}))
	return journal.String()
}

// in changes the body of one entry.
func in(no int64, old, now string) func(*row) {
	return func(r *row) {
		if r.no == no {
			r.body = strings.ReplaceAll(r.body, old, now)
		}
	}
}

// at changes one entry.
func at(no int64, change func(*row)) func(*row) {
	return func(r *row) {
		if r.no == no {
			change(r)
		}
	}
}

// A chain that fits proves nothing: what a book would not have written is not
// taken.
func TestAForgedJournalIsNotTaken(t *testing.T) {
	s := eightEntries(t)
	tests := map[string]struct {
		change func(*row)
		want   []string
	}{
		"a day that is none": {at(6, func(r *row) {
			r.body, r.onDate = strings.Replace(r.body, "2026-02-02", "yesterday", 1), "yesterday"
		}), []string{`line 6: entry 6: date: "yesterday" is not a day`}},
		"no day":                        {at(6, func(r *row) { r.body, r.onDate = `{"item":"eyewash"}`, "" }), []string{"line 6: entry 6: date: no value is given for date"}},
		"below zero":                    {in(5, "70 g/L", "-70 g/L"), []string{`line 5: entry 5: concentration: "-70 g/L" is negative`}},
		"no unit":                       {in(5, "70 g/L", "70"), []string{`line 5: entry 5: concentration: "70" has no unit`}},
		"a key column gone":             {in(3, `,"tank":"B5"`, ""), []string{"line 3: entry 3: tank: no value is given for tank"}},
		"a must gone":                   {in(3, `"purpose":"plate",`, ""), []string{"line 3: entry 3: purpose: no value is given for purpose"}},
		"a word that is none":           {in(3, "plate", "plating"), []string{`line 3: entry 3: purpose: "plating" is none of its words`}},
		"blanks":                        {in(5, "70 g/L", " 70 g/L"), []string{`line 5: entry 5: concentration: it is " 70 g/L", and a book writes "70 g/L"`}},
		"an empty column":               {in(3, `"purpose"`, `"pH":"","purpose"`), []string{`line 3: entry 3: pH: it is "", and a book writes ""`}},
		"another key":                   {at(3, func(r *row) { r.key = "b6" }), []string{`line 3: entry 3: its key is "b6", and its columns make "b5"`}},
		"another key of two":            {at(5, func(r *row) { r.key = "b5 ni" }), []string{`line 5: entry 5: its key is "b5 ni", and its columns make "b5\tni"`}},
		"a key of an event":             {at(6, func(r *row) { r.key = "b6" }), []string{`line 6: entry 6: its key is "b6", and its columns make ""`}},
		"another day":                   {at(6, func(r *row) { r.onDate = "2026-02-03" }), []string{`line 6: entry 6: it is kept under the day "2026-02-03", and its columns say "2026-02-02"`}},
		"a day of a fact":               {at(4, func(r *row) { r.onDate = "2026-02-03" }), []string{`line 4: entry 4: it is kept under the day "2026-02-03", and its columns say ""`}},
		"nobody":                        {at(4, func(r *row) { r.recordedBy = "" }), []string{"line 4: entry 4: it names nobody who wrote it"}},
		"blanks for an author":          {at(4, func(r *row) { r.recordedBy = "  " }), []string{"line 4: entry 4: it names nobody who wrote it"}},
		"an author in blanks":           {at(4, func(r *row) { r.recordedBy = " Ada" }), []string{`line 4: entry 4: its author is " Ada", and a book writes "Ada"`}},
		"an author that acts":           {at(4, func(r *row) { r.recordedBy = "\x1b[2J" }), []string{"line 4: entry 4: its author: the text holds a control character"}},
		"a reason that acts":            {at(4, func(r *row) { r.reason = "\x1b[2J" }), []string{"line 4: entry 4: its reason: the text holds a control character"}},
		"a correction without a reason": {at(7, func(r *row) { r.reason = "" }), []string{"line 7: entry 7: it corrects entry 3 and gives no reason"}},
		"a withdrawal without a reason": {at(8, func(r *row) { r.reason = " \n" }), []string{"line 8: entry 8: it corrects entry 6 and gives no reason"}},
		"a withdrawal on another day":   {at(8, func(r *row) { r.onDate = "2026-02-03" }), []string{"line 8: entry 8: it withdraws entry 6 and is kept under another name or day"}},
		"a withdrawal of another name":  {at(8, func(r *row) { r.key = "b5" }), []string{"line 8: entry 8: it withdraws entry 6 and is kept under another name or day"}},
		"a tank that is not there": {at(5, func(r *row) {
			r.body, r.key = strings.Replace(r.body, "B5", "B9", 1), "b9\tni"
		}), []string{`line 5: entry 5: there is no tank "B9"`}},
		"a place that is not there":                  {in(4, "line 1", "line 2"), []string{`line 4: entry 4: there is no location "line 2"`}},
		"a place that is not there, corrected since": {in(3, "line 1", "line 2"), []string{`line 3: entry 3: there is no location "line 2"`}},
		"a tank that is renamed": {at(7, func(r *row) {
			r.body, r.key = strings.Replace(r.body, "B5", "B6", 1), "b6"
		}), []string{`line 5: entry 5: it names tank "B5", of which nothing stands any more`}},
		"several at once": {func(r *row) {
			switch r.no {
			case 4:
				r.body, r.recordedBy = strings.Replace(strings.Replace(r.body, "rinse", "rinsing", 1), "line 1", strings.Repeat("l", 99), 1), ""
			case 5:
				r.key = "b6"
			case 8:
				r.corrects = 7
			}
		}, []string{
			"line 4: entry 4: location: a name of 99 letters is too long",
			`line 4: entry 4: purpose: "rinsing" is none of its words`,
			"line 4: entry 4: it names nobody who wrote it",
			`line 5: entry 5: its key is "b6", and its columns make "b5\tni"`,
			"line 8: entry 8: it corrects entry 7, which is of kind tank",
		}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			empty := newStory(t)
			_, err := empty.LoadJournal(strings.NewReader(forge(t, s, test.change)))
			require.Error(t, err)
			assert.ElementsMatch(t, test.want, faults(t, err))
			assert.Zero(t, empty.count())
		})
	}
	_, err := newStory(t).LoadJournal(strings.NewReader(forge(t, s, func(*row) {})))
	require.NoError(t, err, "the forger knows the form")
}

func TestAForgedEndOfAJournalIsNotTaken(t *testing.T) {
	s := eightEntries(t)
	lines := strings.SplitAfter(forge(t, s, at(8, func(r *row) {
		r.kind, r.key, r.onDate, r.corrects = "tank", "b5", "", 7 // nothing would stand by the bath
	})), "\n")
	b := newStory(t)
	_, err := b.LoadJournal(strings.NewReader(strings.Join(lines[:7], "")))
	require.NoError(t, err)
	_, err = b.LoadJournal(strings.NewReader(strings.Join(lines, "")))
	assert.Equal(t, []string{`line 5: entry 5: it names tank "B5", of which nothing stands any more`}, faults(t, err))
	assert.EqualValues(t, 7, b.count())
}

// One load may rename a thing and correct what names it: in between the name is
// nowhere, and its journal is taken all the same.
func TestAJournalInWhichANameIsGoneForAWhileIsTaken(t *testing.T) {
	s := eightEntries(t)
	s.load("tank\nentry|tank\n7|B6", "bath\nentry|tank\n5|B6")
	b := newStory(t)
	added, err := b.LoadJournal(strings.NewReader(strings.Join(journalOf(s), "") + "\n"))
	require.NoError(t, err)
	assert.EqualValues(t, s.count(), added)
	assert.Equal(t, journalOf(s), journalOf(b))
}

// The journal of the oldest book must load for ever.
func TestTheJournalOfAnOldBookLoads(t *testing.T) {
	content, err := os.ReadFile("testdata/format1.bathwarden")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "old.book")
	require.NoError(t, os.WriteFile(path, content, 0o600))
	old, err := Open(path, ForReading)
	require.NoError(t, err)
	defer old.Close()
	var journal bytes.Buffer
	require.NoError(t, old.WriteJournal(&journal))
	b := newStory(t)
	added, err := b.LoadJournal(&journal)
	require.NoError(t, err)
	assert.Equal(t, 5, added)
}

func TestFaultsOfAJournalNameFileAndLine(t *testing.T) {
	good := strings.Join(journalOf(eightEntries(t)), "") + "\n"
	first, rest, _ := strings.Cut(good, "\n")
	const out = " line 2: entry 2: it follows entry 0: entries are missing or out of order"
	tests := map[string]struct {
		content string
		want    []string
	}{
		"empty":            {"", []string{": it holds no entry"}},
		"an array":         {"[" + strings.ReplaceAll(strings.TrimSpace(good), "\n", ",") + "]\n", []string{" line 1: it is not a line of a journal: it is an array where an object belongs"}},
		"text":             {"\"x\"\n", []string{" line 1: it is not a line of a journal: it is text where an object belongs"}},
		"words":            {"dear all\n", []string{" line 1: it is not a line of a journal: it is no JSON from byte 1 on"}},
		"other line ends":  {strings.ReplaceAll(good, "\n", "\r\n"), []string{" line 1: its line ends are CR LF where a journal has LF: a program has written the file anew"}},
		"a mark":           {"\ufeff" + first + "\n", []string{" line 1: it begins with a byte order mark, which a journal does not have"}},
		"a number as text": {strings.Replace(good, `"no":1,`, `"no":"1",`, 1), []string{" line 1: it is not a line of a journal: its no is text where a whole number belongs", out}},
		"half a number":    {strings.Replace(good, `"no":1,`, `"no":1.5,`, 1), []string{" line 1: it is not a line of a journal: its no is a number with a fraction or too many digits where a whole number belongs", out}},
		"text as a number": {strings.Replace(good, `"key":""`, `"key":7`, 1), []string{" line 1: it is not a line of a journal: its key is a number where text belongs", out}},
		"a column that is no text": {
			forge(t, eightEntries(t), in(6, `"eyewash"`, `true`)), []string{" line 6: entry 6: its body cannot be read: one of its columns is true or false where text belongs"},
		},
		"a body that is none": {
			forge(t, eightEntries(t), at(6, func(r *row) { r.body = `["eyewash"]` })), []string{" line 6: entry 6: its body cannot be read: it is an array where an object belongs"},
		},
		"cut off":        {good[:len(good)-9], []string{" line 8: the line is cut off"}},
		"a changed line": {first + "\n" + strings.Replace(rest, "Ada", "Bea", 1), []string{" line 2: entry 2: its content was changed: the hash that was written with it is another"}},
		"a forged line":  {forge(t, eightEntries(t), at(4, func(r *row) { r.recordedBy = "" })), []string{" line 4: entry 4: it names nobody who wrote it"}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "book.jsonl")
			require.NoError(t, os.WriteFile(path, []byte(test.content), 0o600))
			file, err := os.Open(path)
			require.NoError(t, err)
			defer file.Close()
			b := newStory(t)
			_, err = b.LoadJournal(file)
			require.Error(t, err)
			for i := range test.want {
				test.want[i] = path + test.want[i]
			}
			said := faults(t, err)
			assert.Equal(t, test.want, said[:min(len(said), len(test.want))])
			for _, one := range said {
				assert.NotContains(t, one, "json:")
				assert.NotContains(t, one, "chemicals.Body")
			}
			assert.Zero(t, b.count())
		})
	}
	folder, err := os.Open(t.TempDir())
	require.NoError(t, err)
	defer folder.Close()
	_, err = newStory(t).LoadJournal(folder)
	assert.Equal(t, []string{folder.Name() + ": is a directory"}, faults(t, err))
	assert.False(t, Unusable(err))
}
