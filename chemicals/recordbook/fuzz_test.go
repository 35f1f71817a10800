package recordbook

import (
	"bufio"
	"bytes"
	"database/sql"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

// errUndone ends a transaction of which nothing is to stay.
var errUndone = errors.New("undone")

// taken loads a journal, checks that what was taken can be read in every way,
// and leaves the book as it was. It gives the book's journal as it would be.
func taken(t *testing.T, b *Book, journal []byte) (written []byte, err error) {
	t.Helper()
	err = b.writing(func(tx *sql.Tx) error {
		l, err := newLoader(tx)
		require.NoError(t, err)
		require.NoError(t, l.all(bufio.NewReader(bytes.NewReader(journal))))
		require.NoError(t, l.into.Close())
		if len(l.faults) > 0 {
			return errors.Join(l.faults...)
		}
		require.NoError(t, each(tx, 1, func(r row) error { written = append(written, r.journal()...); return nil }))
		readThrough(t, tx)
		return passed{errUndone}
	})
	if err == errUndone {
		return written, nil
	}
	for _, one := range faults(t, err) {
		require.NotContains(t, one, "json:")
		require.NotContains(t, one, "Go value")
	}
	return nil, err
}

// readThrough reads a book in every way.
func readThrough(t *testing.T, tx *sql.Tx) {
	t.Helper()
	var c chain
	require.NoError(t, c.follow(tx, allKnown))
	all, err := records(tx, Reading{AsOf: "2199-12-31"}, allKnown)
	require.NoError(t, err)
	_, err = chemicals.NewShop("2199-12-31", chemicals.Period{First: "1900-01-01", Last: "2199-12-31"}, c.last, all)
	require.NoError(t, err)
	for _, k := range chemicals.Kinds() {
		_, err := entriesOf(tx, k)
		require.NoError(t, err)
	}
	p, err := newPlan(tx, (&story{}).author())
	require.NoError(t, err)
	for _, k := range chemicals.Kinds() {
		if k.Nature == chemicals.Event {
			continue
		}
		s, err := p.shelf(k)
		require.NoError(t, err)
		for _, l := range s.lines {
			require.NoError(t, p.references(k, l.body, func(c *chemicals.Column, s *shelf, names []string) {
				for _, name := range names {
					require.Positive(t, s.rows[c.Meaning(name)], "%s %s names %s %q", k.Name, l.key, c.Of, name)
				}
			}))
		}
	}
}

// FuzzJournal: whatever a file holds, it is taken as it is or refused in words.
func FuzzJournal(f *testing.F) {
	good := strings.Join(journalOf(eightEntries(f)), "") + "\n"
	first, rest, _ := strings.Cut(good, "\n")
	for _, journal := range []string{
		good, first + "\n", first, "", "\n", "{}\n", "[]\n", "null\n", "7\n", "\"x\"\n", "\ufeff" + good, strings.ReplaceAll(good, "\n", "\r\n"), rest, good + good,
		strings.Replace(good, `"corrects":3`, `"corrects":4`, 1), strings.Replace(good, `"body":null`, `"body":{}`, 1), strings.Replace(good, `"no":1,`, `"no":1e3,`, 1),
		`{"no":1,"kind":"tank","key":"b5","on_date":"","body":[{"purpose":["plate"]}],"reason":"","recorded_at":"2026-01-05T09:00:00Z","recorded_by":"Ada","prev_hash":"","hash":"00"}` + "\n",
	} {
		f.Add([]byte(journal))
	}
	s := newStory(f)
	f.Fuzz(func(t *testing.T, journal []byte) {
		if written, err := taken(t, s.Book, journal); err == nil {
			require.Equal(t, string(journal), string(written))
		}
	})
}

// FuzzForgedEntry: an entry that goes on with a book's chain is refused, or the
// book can be read with it.
func FuzzForgedEntry(f *testing.F) {
	s := eightEntries(f)
	good := strings.Join(journalOf(s), "") + "\n"
	last, err := s.Entry(8)
	require.NoError(f, err)
	for _, k := range chemicals.Kinds() {
		body := chemicals.Body{}
		for _, c := range k.Columns {
			body[c.Name] = c.Example
			if c.Of != "" && !c.Must {
				delete(body, c.Name)
			}
		}
		tidy, err := k.Check(body)
		require.NoError(f, err)
		f.Add(k.Name, k.Key(tidy), string(k.Day(tidy)), writeBody(tidy), int64(0), "told so", "2026-06-01T12:00:00Z", "Ada")
	}
	f.Add("tank", "b5", "", `{"location":"line 1","purpose":"plate","tank":"B5"}`, int64(7), "slip", "2026-06-01T12:00:00Z", "Ada")
	f.Add("tank", "r1", "", "", int64(4), "never true", "2026-06-01T12:00:00Z", "Ada")
	f.Add("check", "", "2026-06-01", `{"date":"2026-06-01","item":"eyewash"}`, int64(0), "", "2026-06-01T12:00:00Z", "Ada")
	f.Fuzz(func(t *testing.T, kind, key, onDate, body string, corrects int64, reason, at, by string) {
		r := row{no: 9, kind: kind, key: key, onDate: onDate, body: body, corrects: corrects, reason: reason, recordedAt: at, recordedBy: by, prevHash: last.Hash}
		r.hash = r.sum()
		journal := good + string(r.journal())
		if written, err := taken(t, s.Book, []byte(journal)); err == nil {
			require.Equal(t, journal, string(written))
		}
	})
}

// FuzzWhatABookTakesItsJournalCarries: what is recorded can be taken over from
// the journal into another book.
func FuzzWhatABookTakesItsJournalCarries(f *testing.F) {
	s, empty := newStory(f), newStory(f)
	example := func(k *chemicals.Kind) chemicals.Row {
		r := chemicals.Row{Kind: k, Where: k.Name + ".csv line 2", Given: map[string]chemicals.Cell{}}
		for _, c := range k.Columns {
			r.Given[c.Name] = chemicals.Cell{Text: c.Example}
		}
		return r
	}
	var rows []chemicals.Row
	for _, k := range chemicals.Kinds() {
		rows = append(rows, example(k))
	}
	_, err := s.Apply(rows, s.author(), false)
	require.NoError(f, err)
	for i, k := range chemicals.Kinds() {
		j := i % len(k.Columns)
		f.Add(byte(i), byte(j), k.Columns[j].Example, "b6")
		f.Add(byte(i), byte(j), " b5 ;B5", "b5")
	}
	f.Fuzz(func(t *testing.T, kind, column byte, text, name string) {
		k := chemicals.Kinds()[int(kind)%len(chemicals.Kinds())]
		r := example(k)
		for _, key := range k.Keys() {
			if key.Of == "" && key.Example == "B5" {
				r.Given[key.Name] = chemicals.Cell{Text: name}
			}
		}
		r.Given[k.Columns[int(column)%len(k.Columns)].Name] = chemicals.Cell{Text: text}
		var journal []byte
		err := s.writing(func(tx *sql.Tx) error {
			p, err := newPlan(tx, (&story{}).author())
			require.NoError(t, err)
			p.author.Why = p.words("why", text)
			require.NoError(t, p.take([]chemicals.Row{r}))
			require.NoError(t, p.settle())
			if len(p.faults) > 0 {
				return passed{errUndone}
			}
			require.NoError(t, p.write())
			require.NoError(t, each(tx, 1, func(r row) error { journal = append(journal, r.journal()...); return nil }))
			return passed{errUndone}
		})
		require.Equal(t, errUndone, err)
		if journal == nil {
			return
		}
		written, err := taken(t, empty.Book, journal)
		require.NoError(t, err)
		require.Equal(t, string(journal), string(written))
	})
}
