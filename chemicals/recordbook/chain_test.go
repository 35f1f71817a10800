package recordbook

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals"
)

// fiveEntries is a book with an added, a changed, a corrected and a withdrawn
// entry.
func fiveEntries(t testing.TB) *story {
	s := newStory(t)
	s.load(twoTanks)
	s.load("tank\ntank|from|temperature\nB5|2026-03-01|60 °C")
	_, err := s.Correct(3, map[string]string{"temperature": "61 °C"}, s.author())
	require.NoError(t, err)
	_, err = s.Withdraw(2, s.author())
	require.NoError(t, err)
	return s
}

// behind changes the file behind the book's back, its rules taken away.
func (s *story) behind(statements ...string) {
	s.t.Helper()
	db, err := sql.Open("sqlite", s.path)
	require.NoError(s.t, err)
	db.SetMaxOpenConns(1)
	for _, rule := range []string{"entries_never_change", "entries_never_go", "entries_in_order"} {
		statements = append([]string{"DROP TRIGGER " + rule}, statements...)
	}
	for _, statement := range append([]string{"PRAGMA foreign_keys = 0", "PRAGMA ignore_check_constraints = 1"}, statements...) {
		_, err := db.Exec(statement)
		require.NoError(s.t, err, statement)
	}
	require.NoError(s.t, db.Close())
}

func TestVerifyNamesTheFirstEntryThatDoesNotFit(t *testing.T) {
	tests := map[string]struct{ sql, want string }{
		"corrects another": {"UPDATE entries SET corrects = 1 WHERE no = 4", "entry 4: its content was changed"},
		"corrects none":    {"UPDATE entries SET corrects = NULL WHERE no = 4", "entry 4: its content was changed"},
		"a gap":            {"DELETE FROM entries WHERE no = 2", "entry 3: it follows entry 1: entries are missing or out of order"},
		"the first gone":   {"DELETE FROM entries WHERE no = 1", "entry 2: it follows entry 0: entries are missing or out of order"},
		"one before the first": {
			"INSERT INTO entries SELECT 0, kind, key, on_date, body, NULL, reason, recorded_at, recorded_by, prev_hash, hash FROM entries WHERE no = 1",
			"entry 0: it follows entry 0",
		},
		"another hash, also in the next": {
			"UPDATE entries SET hash = replace(hash, 'a', 'b') WHERE no = 2; UPDATE entries SET prev_hash = replace(prev_hash, 'a', 'b') WHERE no = 3",
			"entry 2: its content was changed",
		},
		"two exchanged":                     {"UPDATE entries SET no = 9 WHERE no = 1; UPDATE entries SET no = 1 WHERE no = 2; UPDATE entries SET no = 2 WHERE no = 9", "entry 1: it does not follow entry 0"},
		"a letter moved to the next column": {"UPDATE entries SET kind = 'tan', key = 'k' || key WHERE no = 1", "entry 1: its content was changed"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := fiveEntries(t)
			s.behind(test.sql)
			_, err := s.Verify(context.Background())
			require.ErrorIs(t, err, ErrDamaged)
			assert.ErrorContains(t, err, test.want)
		})
	}
}

// rehash makes the chain fit after a change, as a later version of the program
// might have written it.
func (s *story) rehash(change func(*row)) {
	s.t.Helper()
	var rows []row
	require.NoError(s.t, s.reading(func(tx *sql.Tx) error {
		return each(tx, 1, func(r row) error { rows = append(rows, r); return nil })
	}))
	s.behind("DELETE FROM entries")
	require.NoError(s.t, s.writing(func(tx *sql.Tx) error {
		into, err := prepareInsert(tx)
		require.NoError(s.t, err)
		before := ""
		for _, r := range rows {
			change(&r)
			r.prevHash = before
			r.hash = r.sum()
			require.NoError(s.t, r.insert(into))
			before = r.hash
		}
		return into.Close()
	}))
}

func TestAnEntryThatThisProgramCannotReadIsNotPassedOver(t *testing.T) {
	tests := map[string]struct {
		change func(*row)
		is     error
		verify string
		read   string // empty: a reading does not need it
	}{
		"of a kind to come": {func(r *row) { r.kind = "kiln" }, ErrNewer, `it is of kind "kiln", which this program does not know`, `kind "kiln"`},
		"with a column to come": {func(r *row) {
			r.body = strings.Replace(r.body, `"temperature"`, `"temperatures"`, 1)
		}, ErrDamaged, "its body has a column that tank does not have in this program", "its body has a column that tank does not have in this program"},
		"with a body that is no object": {func(r *row) { r.body = "null" }, ErrDamaged, "its body is no object", "its body is no object"},
		"with half a body":              {func(r *row) { r.body = r.body[:9] }, ErrDamaged, "its body cannot be read", "its body cannot be read"},
		"with blanks in the body":       {func(r *row) { r.body = strings.Replace(r.body, ":", ": ", 1) }, ErrDamaged, "its body is not in the form in which bodies are written", ""},
		"with a column twice":           {func(r *row) { r.body = strings.Replace(r.body, "{", `{"tank":"B4",`, 1) }, ErrDamaged, "its body is not in the form in which bodies are written", ""},
		"recorded at no time":           {func(r *row) { r.recordedAt = "noon" }, ErrDamaged, `"noon" is not a time in UTC`, ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := fiveEntries(t)
			s.rehash(func(r *row) {
				if r.no == 1 {
					test.change(r)
				}
			})
			_, err := s.Verify(context.Background())
			require.ErrorIs(t, err, test.is)
			assert.ErrorContains(t, err, "entry 1: "+test.verify)
			_, err = s.Read(Reading{AsOf: "2026-12-31", Period: chemicals.YearTo("2026-12-31")})
			if test.read == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorIs(t, err, test.is)
			assert.ErrorContains(t, err, test.read)
		})
	}
}

// A value that is read no more must not bring the program down: the file may
// have been changed, or the form of a column.
func TestAValueThatCannotBeReadIsSaid(t *testing.T) {
	const stock = "stock\nproduct|location|container size|containers\nnickel salt|shelf|25 kg|4"
	const added = "addition\ndate|tank|product|amount\n2026-02-02|B5|nickel salt|5 kg"
	made := func() *story {
		s := newStory(t)
		s.load("product\nproduct\nnickel salt", "location\nlocation\nshelf", "tank\ntank|purpose\nB5|plate", stock, added)
		return s
	}
	for want, change := range map[string]func(*row){
		`entry 3: its container size cannot be read: "25 kilo"`: func(r *row) { r.body = strings.Replace(r.body, "25 kg", "25 kilo", 1) },
		`entry 5: its amount cannot be read: "5 kilo"`:          func(r *row) { r.body = strings.Replace(r.body, `"5 kg`, `"5 kilo`, 1) },
	} {
		s := made()
		s.rehash(change)
		kind, number := "stock", int64(3)
		if strings.Contains(want, "amount") {
			kind, number = "addition", 5
		}
		k, err := chemicals.KindOf(kind)
		require.NoError(t, err)
		tries := map[string]error{}
		_, tries["read"] = s.Read(Reading{AsOf: "2026-12-31"})
		_, tries["standing"] = s.Standing(k, Known{})
		_, tries["history"] = s.History(k)
		_, tries["apply"] = s.Apply(sheet(t, stock, added), s.author(), false)
		_, tries["correct"] = s.Correct(number, map[string]string{"product": "nickel salt"}, s.author())
		_, tries["withdraw"] = s.Withdraw(number, s.author())
		for what, err := range tries {
			require.ErrorIs(t, err, ErrDamaged, what)
			assert.ErrorContains(t, err, want, what)
		}
	}
}

func TestAHashFromAPaper(t *testing.T) {
	s := fiveEntries(t)
	ctx := context.Background()
	e, err := s.Entry(3)
	require.NoError(t, err)
	require.NoError(t, s.VerifyEntry(ctx, 3, strings.ToUpper(e.Hash[:6])+" "+e.Hash[6:12]))
	for hash, want := range map[string]string{
		e.Hash[:11]:       "is not the hash of an entry",
		e.Hash + "0":      "is not the hash of an entry",
		e.Hash[:11] + "x": "is not the hash of an entry",
		e.Hash[1:]:        "entry 3: its hash is " + e.Hash,
	} {
		assert.ErrorContains(t, s.VerifyEntry(ctx, 3, hash), want)
	}
	assert.ErrorContains(t, s.VerifyEntry(ctx, 0, e.Hash), "no entry 0")
	assert.ErrorContains(t, s.VerifyEntry(ctx, 6, e.Hash), "the book ends with entry 5")
	s.behind("UPDATE entries SET body = replace(body, '55', '66') WHERE no = 1")
	assert.ErrorIs(t, s.VerifyEntry(ctx, 3, e.Hash), ErrDamaged, "the hash alone proves nothing if what it rests on was changed")
}

// Two different rows never have one text to hash: lengths part the columns.
func TestEveryColumnAndItsPlaceCounts(t *testing.T) {
	base := row{1, "k", "e", "d", "b", 2, "r", "t", "w", "p", ""}
	seen := map[string]string{base.sum(): "base"}
	for name, r := range map[string]row{
		"no":         {2, "k", "e", "d", "b", 2, "r", "t", "w", "p", ""},
		"kind/key":   {1, "ke", "", "d", "b", 2, "r", "t", "w", "p", ""},
		"key/day":    {1, "k", "ed", "", "b", 2, "r", "t", "w", "p", ""},
		"line feed":  {1, "k\nkey 1:e", "", "d", "b", 2, "r", "t", "w", "p", ""},
		"corrects":   {1, "k", "e", "d", "b", 0, "r", "t", "w", "p", ""},
		"reason/at":  {1, "k", "e", "d", "b", 2, "rt", "", "w", "p", ""},
		"by/prev":    {1, "k", "e", "d", "b", 2, "r", "t", "wp", "", ""},
		"day swap":   {1, "k", "d", "e", "b", 2, "r", "t", "w", "p", ""},
		"body empty": {1, "k", "e", "d", "", 2, "r", "t", "w", "p", ""},
	} {
		assert.NotContains(t, seen, r.sum(), name)
		seen[r.sum()] = name
	}
	base.hash = "x"
	assert.Contains(t, seen, base.sum(), "the hash is not part of itself")
}

// Whatever text a body holds, any JSON reader gives it back.
func TestBodiesAreJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := chemicals.Body(rapid.MapOf(rapid.String(), rapid.String()).Draw(t, "body"))
		var back chemicals.Body
		require.NoError(t, json.Unmarshal([]byte(writeBody(body)), &back))
		require.Equal(t, body, back)
	})
	assert.Equal(t, `{"a":"<0.05 mg/L","b\"\\":"line\nline\u0001"}`, writeBody(chemicals.Body{`b"\`: "line\nline\x01", "a": "<0.05 mg/L"}))
}

func journalOf(s *story) []string {
	var out bytes.Buffer
	require.NoError(s.t, s.WriteJournal(&out))
	return strings.SplitAfter(strings.TrimSuffix(out.String(), "\n"), "\n")
}

func TestAJournalWithAFaultIsNotTaken(t *testing.T) {
	good := journalOf(fiveEntries(t))
	require.Len(t, good, 5)
	all := strings.Join(good, "") + "\n"
	tests := map[string]struct {
		journal string
		want    []string
	}{
		"a column left out": {
			strings.Replace(all, `"reason":"told so",`, "", 1),
			[]string{"line 1: it is not written as a journal writes it: a column is missing, doubled, unknown or out of place", "line 2: entry 2: it follows entry 0: entries are missing or out of order"},
		},
		"a column twice": {
			strings.Replace(all, `"kind":"tank",`, `"kind":"tank","kind":"tank",`, 1),
			[]string{"line 1: it is not written as a journal writes it: a column is missing, doubled, unknown or out of place", "line 2: entry 2: it follows entry 0: entries are missing or out of order"},
		},
		"an empty line": {
			good[0] + "\n" + good[1],
			[]string{"line 2: it is empty"},
		},
		"a changed body": {
			strings.Replace(all, "61 °C", "62 °C", 1),
			[]string{"line 4: entry 4: its content was changed: the hash that was written with it is another"},
		},
		"two changed at once": {
			strings.Replace(strings.Replace(all, "61 °C", "62 °C", 1), "55 °C", "56 °C", 1),
			[]string{
				"line 1: entry 1: its content was changed: the hash that was written with it is another",
				"line 4: entry 4: its content was changed: the hash that was written with it is another",
			},
		},
		"the last line without its end": {strings.TrimSuffix(all, "\n"), []string{"line 5: the line is cut off"}},
		"a line missing":                {good[0] + good[2], []string{"line 2: entry 3: it follows entry 1: entries are missing or out of order"}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := newStory(t)
			_, err := s.LoadJournal(strings.NewReader(test.journal))
			require.Error(t, err)
			assert.Equal(t, test.want, faults(t, err))
			assert.Zero(t, s.count())
		})
	}
	t.Run("too many faults to list", func(t *testing.T) {
		_, err := newStory(t).LoadJournal(strings.NewReader(strings.Repeat("{}\n", 500)))
		said := faults(t, err)
		assert.Len(t, said, 21)
		assert.Equal(t, "line 21: the lines from here on were not looked at", said[20])
	})
	t.Run("of another book", func(t *testing.T) {
		s := newStory(t)
		s.load("tank\ntank|purpose\nC1|strip")
		_, err := s.LoadJournal(strings.NewReader(all))
		assert.Equal(t, []string{"line 1: entry 1: the book has another"}, faults(t, err))
		assert.EqualValues(t, 1, s.count())
	})
	t.Run("shorter than the book", func(t *testing.T) {
		s := newStory(t)
		n, err := s.LoadJournal(strings.NewReader(all))
		require.NoError(t, err)
		assert.Equal(t, 5, n)
		n, err = s.LoadJournal(strings.NewReader(good[0] + good[1]))
		require.NoError(t, err)
		assert.Zero(t, n)
		assert.Equal(t, good, journalOf(s))
	})
}

// A chain that fits may still correct what cannot be corrected.
func TestAJournalThatCorrectsAmissIsNotTaken(t *testing.T) {
	tests := map[string]struct {
		no     int64
		change func(*row)
		want   string
	}{
		"twice":                   {5, func(r *row) { r.corrects = 3 }, "it corrects entry 3, which entry 4 corrected already"},
		"what is of another kind": {5, func(r *row) { r.kind = "location" }, "it corrects entry 2, which is of kind tank"},
		"itself":                  {5, func(r *row) { r.corrects = 5 }, "it corrects entry 5, which is not an earlier one"},
		"a withdrawal":            {6, func(r *row) { r.corrects = 5 }, "it corrects entry 5, which is a withdrawal"},
		"nothing, without body":   {5, func(r *row) { r.corrects = 0 }, "it has no body and withdraws nothing"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			var journal bytes.Buffer
			before := ""
			s := fiveEntries(t)
			s.load("tank\ntank|purpose\nB7|plate")
			require.NoError(t, s.reading(func(tx *sql.Tx) error {
				return each(tx, 1, func(r row) error {
					if r.no == test.no {
						test.change(&r)
					}
					r.prevHash = before
					r.hash = r.sum()
					before = r.hash
					journal.Write(r.journal())
					return nil
				})
			}))
			empty := newStory(t)
			_, err := empty.LoadJournal(&journal)
			assert.Equal(t, fmt.Sprintf("line %d: entry %d: %s", test.no, test.no, test.want), faults(t, err)[0])
			assert.Zero(t, empty.count())
		})
	}
}

// brokenPipe takes so many bytes and no more.
type brokenPipe int

func (b *brokenPipe) Write(p []byte) (int, error) {
	if *b -= brokenPipe(len(p)); *b < 0 {
		return 0, errors.New("no room")
	}
	return len(p), nil
}

func TestAJournalThatCannotBeWrittenSaysSo(t *testing.T) {
	room := brokenPipe(100)
	assert.ErrorContains(t, fiveEntries(t).WriteJournal(&room), "no room")
}

func TestTheRulesOfTheFileAreThoseOfItsFormat(t *testing.T) {
	for name, statement := range map[string]string{
		"a table more":     "CREATE TABLE other (a)",
		"a rule altered":   "DROP TRIGGER entries_in_order; CREATE TRIGGER entries_in_order BEFORE INSERT ON entries BEGIN SELECT 1; END",
		"an index missing": "DROP INDEX entries_by_day",
	} {
		s := fiveEntries(t)
		_, err := s.db.Exec(statement)
		require.NoError(t, err)
		_, err = s.Verify(context.Background())
		assert.ErrorIs(t, err, ErrDamaged, name)
	}
}

// FuzzJournalLine: a line is taken only if it is the one line for what it says.
func FuzzJournalLine(f *testing.F) {
	f.Add([]byte(`{"no":1,"kind":"tank","key":"b5","on_date":"","body":{"purpose":"plate","tank":"B5"},"reason":"","recorded_at":"2026-01-05T09:00:00Z","recorded_by":"Ada","prev_hash":"","hash":"00"}` + "\n"))
	f.Add([]byte(`{"no":2,"kind":"tank","key":"b5","on_date":"","body":null,"corrects":1,"reason":"","recorded_at":"","recorded_by":"","prev_hash":"","hash":""}` + "\n"))
	f.Fuzz(func(t *testing.T, line []byte) {
		r, err := rowFrom(line)
		if err != nil {
			return
		}
		require.Equal(t, string(line), string(r.journal()))
	})
}

func TestStatementsAreAllOfTheSchema(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.book")
	b, err := Create(path)
	require.NoError(t, err)
	_, err = b.Verify(context.Background())
	require.NoError(t, err)
	require.NoError(t, b.Close())
	assert.Len(t, statements(), strings.Count(schema, "\nCREATE "))
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, "-rw-------", fmt.Sprint(info.Mode()))
}
