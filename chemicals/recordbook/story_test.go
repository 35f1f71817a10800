package recordbook_test

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

var noon = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

func newBook(t testing.TB) (*recordbook.Book, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.bathwarden")
	book, err := recordbook.Create(path)
	require.NoError(t, err)
	t.Cleanup(func() { _ = book.Close() })
	return book, path
}

// rowsOf reads rows in short form, one a line: KIND [@ENTRY] column=value | ...
// A column without a value is given empty.
func rowsOf(t testing.TB, text string) []chemicals.Row {
	t.Helper()
	var rows []chemicals.Row
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		head, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		kind, err := chemicals.KindOf(head)
		require.NoError(t, err)
		r := chemicals.Row{Kind: kind, Where: fmt.Sprintf("line %d", i+1), Given: map[string]chemicals.Cell{}}
		if n, after, ok := strings.Cut(rest, " "); ok && strings.HasPrefix(n, "@") {
			_, err := fmt.Sscanf(n, "@%d", &r.Entry)
			require.NoError(t, err)
			rest = after
		}
		for _, pair := range strings.Split(rest, "|") {
			column, value, _ := strings.Cut(strings.TrimSpace(pair), "=")
			r.Given[column] = chemicals.Cell{Text: value}
		}
		rows = append(rows, r)
	}
	return rows
}

func load(t testing.TB, b *recordbook.Book, text string) recordbook.Outcome {
	t.Helper()
	out, err := b.Apply(rowsOf(t, text), recordbook.Author{By: "plater", Why: "test", At: noon}, false)
	require.NoError(t, err)
	return out
}

func refused(t testing.TB, b *recordbook.Book, text string) string {
	t.Helper()
	_, err := b.Apply(rowsOf(t, text), recordbook.Author{By: "plater", Why: "test", At: noon}, false)
	require.Error(t, err)
	return err.Error()
}

func reading(asOf chemicals.Day, known recordbook.Known) recordbook.Reading {
	return recordbook.Reading{AsOf: asOf, Period: chemicals.YearTo(asOf), KnownBy: known}
}

func shopOn(t testing.TB, b *recordbook.Book, asOf chemicals.Day, known recordbook.Known) *chemicals.Shop {
	t.Helper()
	shop, err := b.Read(reading(asOf, known))
	require.NoError(t, err)
	return shop
}

// baths lists what stands in tanks on a day: "A Ni 3 g/L".
func baths(t testing.TB, b *recordbook.Book, day chemicals.Day, known recordbook.Known) []string {
	t.Helper()
	var all []string
	for _, h := range chemicals.On[chemicals.Ingredient](shopOn(t, b, day, known), day) {
		all = append(all, fmt.Sprintf("%s %s %s", h.Is.Tank, h.Is.Ingredient, h.Is.Concentration))
	}
	return all
}

func volumes(t testing.TB, b *recordbook.Book, day chemicals.Day, known recordbook.Known) []string {
	t.Helper()
	var all []string
	for _, h := range chemicals.On[chemicals.Tank](shopOn(t, b, day, known), day) {
		all = append(all, fmt.Sprintf("%s %s", h.Is.Name, h.Is.WorkingVolume))
	}
	return all
}

const tankA = `tank tank=A | purpose=plate | working volume=100 L`

func TestAFactHoldsFromADayUntilANewOne(t *testing.T) {
	b, _ := newBook(t)
	load(t, b, tankA)
	out := load(t, b, `tank tank=A | working volume=120 L | from=2026-03-02`)
	assert.Equal(t, 1, out.Count(recordbook.Changed))
	assert.Equal(t, []string{"A 100 L"}, volumes(t, b, "2026-03-01", recordbook.Known{}))
	assert.Equal(t, []string{"A 120 L"}, volumes(t, b, "2026-03-02", recordbook.Known{}))
	tank := chemicals.On[chemicals.Tank](shopOn(t, b, "2026-03-02", recordbook.Known{}), "2026-03-02")[0]
	assert.Equal(t, chemicals.Plate, tank.Is.Purpose, "what was not given is taken over")

	load(t, b, `tank tank=A | until=2026-05-31`)
	assert.Equal(t, []string{"A 120 L"}, volumes(t, b, "2026-05-31", recordbook.Known{}))
	assert.Empty(t, volumes(t, b, "2026-06-01", recordbook.Known{}))
}

func TestTheSameDayCorrects(t *testing.T) {
	b, _ := newBook(t)
	load(t, b, tankA)
	out := load(t, b, `tank tank=a | working volume=90 L`)
	assert.Equal(t, 1, out.Count(recordbook.Corrected), "without a first day the row that stands is meant")
	assert.Equal(t, []string{"A 90 L"}, volumes(t, b, "2026-03-01", recordbook.Known{}))
	assert.Equal(t, []string{"A 100 L"}, volumes(t, b, "2026-03-01", recordbook.Known{Entry: 1}), "as it was known by entry 1")
	out = load(t, b, `tank tank=A | working volume=90000 mL`)
	assert.Equal(t, 1, out.Count(recordbook.Unchanged), "equal in meaning is no change")
}

func TestAnEmptyCellClearsAndAMissingColumnDoesNot(t *testing.T) {
	b, _ := newBook(t)
	load(t, b, `tank tank=A | purpose=plate | working volume=100 L | title=Nickel`)
	out := load(t, b, `tank tank=A | title=`)
	require.Equal(t, 1, out.Count(recordbook.Corrected))
	assert.Equal(t, []recordbook.Difference{{Column: "title", Old: "Nickel"}}, out.Changes[0].Columns)
	tank := chemicals.On[chemicals.Tank](shopOn(t, b, "2026-03-02", recordbook.Known{}), "2026-03-02")[0]
	assert.Empty(t, tank.Is.Title)
	assert.Equal(t, "100 L", tank.Is.WorkingVolume.String())
}

func TestAShorterListIsAShorterList(t *testing.T) {
	b, _ := newBook(t)
	load(t, b, tankA+`
bath tank=A | ingredient=Ni | concentration=3 g/L
bath tank=A | ingredient=Cu | concentration=4 g/L`)
	load(t, b, `bath tank=A | ingredient=Ag | concentration=5 g/L`)
	assert.Len(t, baths(t, b, "2026-01-01", recordbook.Known{}), 3, "without a first day a row joins the list that stands")
	out := load(t, b, `bath tank=A | ingredient=Ni | concentration=2 g/L | from=2026-03-02`)
	assert.Equal(t, 2, out.Count(recordbook.Ended))
	assert.Len(t, baths(t, b, "2026-03-01", recordbook.Known{}), 3)
	assert.Equal(t, []string{"A Ni 2 g/L"}, baths(t, b, "2026-03-02", recordbook.Known{}))
}

func TestEqualEventsAreCounted(t *testing.T) {
	b, _ := newBook(t)
	const twice = `analysis date=2026-05-01 | tank=A | ingredient=Ni | concentration=3 g/L
analysis date=2026-05-01 | tank=A | ingredient=Ni | concentration=3 g/L`
	load(t, b, tankA)
	assert.Equal(t, 2, load(t, b, twice).Count(recordbook.Added))
	assert.Equal(t, 2, load(t, b, twice).Count(recordbook.Unchanged), "a second load adds nothing")
	out := load(t, b, twice+"\nanalysis date=2026-05-01 | tank=A | ingredient=Ni | concentration=3.0 g/L")
	assert.Equal(t, 1, out.Count(recordbook.Added), "three rows, of which the book holds two")
	out = load(t, b, `analysis @2 date=2026-05-02`)
	assert.Equal(t, 1, out.Count(recordbook.Corrected), "a row with its entry corrects it")
	assert.Equal(t, []recordbook.Count{{Kind: out.Changes[0].Kind, Rows: 2}}, out.Untouched)
}

func TestCorrectionsAndWithdrawals(t *testing.T) {
	b, _ := newBook(t)
	who := recordbook.Author{By: "plater", Why: "misread", At: noon}
	load(t, b, tankA)
	_, err := b.Correct(1, map[string]string{"working volume": "80 L"}, recordbook.Author{By: "plater", At: noon})
	assert.ErrorContains(t, err, "no reason is given")
	_, err = b.Correct(1, map[string]string{"working volume": "80 L"}, who)
	require.NoError(t, err)
	_, err = b.Correct(1, map[string]string{"working volume": "70 L"}, who)
	assert.ErrorContains(t, err, "entry 1 was corrected by entry 2")
	_, err = b.Withdraw(2, who)
	require.NoError(t, err)
	assert.Empty(t, volumes(t, b, "2026-03-01", recordbook.Known{}))
	assert.Equal(t, []string{"A 80 L"}, volumes(t, b, "2026-03-01", recordbook.Known{Entry: 2}))
	_, err = b.Correct(2, map[string]string{"working volume": "70 L"}, who)
	assert.ErrorContains(t, err, "entry 2 was withdrawn by entry 3")
	_, err = b.Withdraw(9, who)
	assert.ErrorContains(t, err, "the book has no entry 9")
	kind, _ := chemicals.KindOf("tank")
	entries, err := b.History(kind, "A")
	require.NoError(t, err)
	require.Len(t, entries, 3)
	assert.Equal(t, "misread", entries[1].Reason)
	assert.EqualValues(t, 2, entries[0].CorrectedBy)
	assert.Nil(t, entries[2].Body)
}

func TestANameThatIsReferredToCannotGo(t *testing.T) {
	b, _ := newBook(t)
	load(t, b, tankA+"\nbath tank=A | ingredient=Ni | concentration=3 g/L")
	_, err := b.Withdraw(1, recordbook.Author{By: "plater", Why: "wrong", At: noon})
	assert.ErrorContains(t, err, `no tank "A" would be left, but entry 2 (bath A, Ni) names it`)
}

func TestFaultsAreReportedAtOnceAndNothingIsWritten(t *testing.T) {
	b, _ := newBook(t)
	got := refused(t, b, `tank tank=A | purpose=plating
tank tank=B | purpose=plate | working volume=100
tank tank=C | purpose=plate
tank tank=C | purpose=strike
bath tank=D | ingredient=Ni | concentration=3 g/L
analysis tank=A | ingredient=Ni`)
	assert.Equal(t, []string{
		`line 1: "plating" is none of its words`,
		`line 2: "100" has no unit`,
		`line 4: tank C is given twice, first in line 3`,
		`line 6: no value is given for date`,
		`line 6: no value is given for concentration`,
		`line 5: there is no tank "D" in the book`,
	}, strings.Split(got, "\n"))
	last, err := b.Verify(context.Background())
	require.NoError(t, err)
	assert.Zero(t, last.Entry)
}

func TestADryRunWritesNothing(t *testing.T) {
	b, _ := newBook(t)
	out, err := b.Apply(rowsOf(t, tankA), recordbook.Author{By: "plater", At: noon}, true)
	require.NoError(t, err)
	assert.Equal(t, 1, out.Count(recordbook.Added))
	assert.Empty(t, volumes(t, b, "2026-03-01", recordbook.Known{}))
}

func TestKnownByADayIsADayOfTheShop(t *testing.T) {
	b, _ := newBook(t)
	late := time.Date(2026, 6, 2, 3, 0, 0, 0, time.UTC) // 1 June, 22:00 in Chicago
	_, err := b.Apply(rowsOf(t, "shop name=Shop | time zone=America/Chicago\n"+tankA), recordbook.Author{By: "plater", At: late}, false)
	require.NoError(t, err)
	assert.Equal(t, []string{"A 100 L"}, volumes(t, b, "2026-06-30", recordbook.Known{Day: "2026-06-01"}))
	assert.Empty(t, volumes(t, b, "2026-06-30", recordbook.Known{Day: "2026-05-31"}))
	_, err = b.Read(reading("2026-06-30", recordbook.Known{Entry: 7}))
	assert.ErrorContains(t, err, "the book has no entry 7")
}

func TestIssuedReportsDoNotChangeAPaper(t *testing.T) {
	b, _ := newBook(t)
	load(t, b, tankA)
	before := shopOn(t, b, "2026-06-30", recordbook.Known{}).Last
	load(t, b, `issued date=2026-06-01 | report=inventory | as of=2026-06-30 | file hash=00`)
	assert.Equal(t, before, shopOn(t, b, "2026-06-30", recordbook.Known{}).Last)
	load(t, b, `tank tank=B | purpose=rinse`)
	assert.EqualValues(t, 3, shopOn(t, b, "2026-06-30", recordbook.Known{}).Last.Entry)
}

func TestABookIsItsOwnersAlone(t *testing.T) {
	_, path := newBook(t)
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	_, err = recordbook.Create(path)
	assert.ErrorIs(t, err, recordbook.ErrExists)
	assert.False(t, recordbook.Unusable(err))
	_, err = recordbook.Open(path+"x", recordbook.ForReading)
	assert.True(t, recordbook.Unusable(err))
}

// raw opens the file behind the book's back.
func raw(t testing.TB, path string, statements ...string) error {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	for _, s := range statements {
		if _, err := db.Exec(s); err != nil {
			return err
		}
	}
	return nil
}

func TestEntriesNeverChange(t *testing.T) {
	b, path := newBook(t)
	load(t, b, tankA)
	assert.ErrorContains(t, raw(t, path, "UPDATE entries SET body = '{}'"), "never changed")
	assert.ErrorContains(t, raw(t, path, "DELETE FROM entries"), "never removed")
	assert.ErrorContains(t, raw(t, path, "INSERT OR REPLACE INTO entries SELECT * FROM entries"), "numbered without a gap")
}

func TestVerifyFindsAnyChange(t *testing.T) {
	for _, column := range []string{"kind", "key", "on_date", "body", "reason", "recorded_at", "recorded_by", "prev_hash", "hash"} {
		b, path := newBook(t)
		load(t, b, tankA+"\ntank tank=B | purpose=rinse | from=2026-01-01\ntank tank=C | purpose=rinse")
		last, err := b.Verify(context.Background())
		require.NoError(t, err)
		require.EqualValues(t, 3, last.Entry)
		require.NoError(t, b.Close())
		require.NoError(t, raw(t, path, "DROP TRIGGER entries_never_change",
			"UPDATE entries SET "+column+" = "+column+" || 'x' WHERE no = 2"))
		again, err := recordbook.Open(path, recordbook.ForReading)
		require.NoError(t, err)
		_, err = again.Verify(context.Background())
		assert.ErrorContains(t, err, "entry 2: ", column)
		assert.ErrorIs(t, err, recordbook.ErrDamaged)
		require.NoError(t, again.Close())
	}
}

func TestACutOffTailShowsByAPaper(t *testing.T) {
	b, path := newBook(t)
	load(t, b, tankA+"\ntank tank=B | purpose=rinse")
	last, err := b.Verify(context.Background())
	require.NoError(t, err)
	require.NoError(t, b.VerifyEntry(context.Background(), 2, last.Hash[:16]))
	assert.ErrorContains(t, b.VerifyEntry(context.Background(), 1, last.Hash), "entry 1: its hash is")
	assert.ErrorContains(t, b.VerifyEntry(context.Background(), 2, "cafe"), "is not the hash of an entry")
	require.NoError(t, b.Close())
	require.NoError(t, raw(t, path, "DROP TRIGGER entries_never_go", "DELETE FROM entries WHERE no = 2"))
	again, err := recordbook.Open(path, recordbook.ForReading)
	require.NoError(t, err)
	defer again.Close()
	assert.ErrorContains(t, again.VerifyEntry(context.Background(), 2, last.Hash), "the book ends with entry 1")
	_, err = again.Verify(context.Background())
	assert.ErrorContains(t, err, "rule that keeps entries from being changed was taken out")
}

func TestANewerBookIsRefused(t *testing.T) {
	b, path := newBook(t)
	require.NoError(t, b.Close())
	require.NoError(t, raw(t, path, fmt.Sprintf("PRAGMA user_version = %d", recordbook.Format+1)))
	_, err := recordbook.Open(path, recordbook.ForWriting)
	assert.ErrorIs(t, err, recordbook.ErrNewer)
	assert.True(t, recordbook.Unusable(err))
}

func TestTheJournalRebuildsTheBookHashForHash(t *testing.T) {
	b, _ := newBook(t)
	load(t, b, tankA+"\nbath tank=A | ingredient=Ni | concentration=3 g/L\ncheck date=2026-05-01 | item=\"<&>\" 🜁 \u200fעברית\u200f")
	_, err := b.Correct(1, map[string]string{"title": "Nickel\nplate"}, recordbook.Author{By: "plater", Why: "named", At: noon})
	require.NoError(t, err)
	var journal bytes.Buffer
	require.NoError(t, b.WriteJournal(&journal))
	want, err := b.Verify(context.Background())
	require.NoError(t, err)

	other, _ := newBook(t)
	lines := strings.SplitAfter(journal.String(), "\n")
	n, err := other.LoadJournal(strings.NewReader(lines[0] + lines[1]))
	require.NoError(t, err)
	assert.Equal(t, 2, n)
	n, err = other.LoadJournal(bytes.NewReader(journal.Bytes()))
	require.NoError(t, err)
	assert.Equal(t, 2, n, "what the book has already is compared, the rest added")
	got, err := other.Verify(context.Background())
	require.NoError(t, err)
	assert.Equal(t, want, got)

	for name, bad := range map[string]string{
		"cut off":   journal.String()[:journal.Len()-9],
		"swapped":   lines[1] + lines[0],
		"altered":   strings.Replace(journal.String(), "100 L", "110 L", 1),
		"lengthier": strings.Replace(journal.String(), `"no":2,`, `"no":2,"more":1,`, 1),
		"binary":    "\x00\xff\n",
	} {
		empty, _ := newBook(t)
		_, err := empty.LoadJournal(strings.NewReader(bad))
		require.ErrorContains(t, err, "line ", name)
		last, err := empty.Verify(context.Background())
		require.NoError(t, err)
		assert.Zero(t, last.Entry, "%s: something was written", name)
	}
}

func TestACopyIsWhole(t *testing.T) {
	b, path := newBook(t)
	load(t, b, tankA)
	to := path + ".copy"
	last, err := b.Copy(context.Background(), to)
	require.NoError(t, err)
	assert.EqualValues(t, 1, last.Entry)
	info, err := os.Stat(to)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	_, err = b.Copy(context.Background(), to)
	assert.ErrorIs(t, err, recordbook.ErrExists)
}

func TestTwoWritersAtOnce(t *testing.T) {
	b, path := newBook(t)
	load(t, b, tankA)
	const each = 25
	var wait sync.WaitGroup
	for w := range 2 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			book, err := recordbook.Open(path, recordbook.ForWriting)
			if !assert.NoError(t, err) {
				return
			}
			defer book.Close()
			for i := range each {
				rows := rowsOf(t, fmt.Sprintf("check date=2026-05-01 | item=writer %d, look %d", w, i))
				_, err := book.Apply(rows, recordbook.Author{By: "plater", At: noon}, false)
				assert.NoError(t, err)
			}
		}()
	}
	wait.Wait()
	last, err := b.Verify(context.Background())
	require.NoError(t, err)
	assert.EqualValues(t, 1+2*each, last.Entry)
}
