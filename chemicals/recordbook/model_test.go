package recordbook

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals"
)

// modelRow is a row of the model: a few texts, kept for ever, standing or not.
type modelRow struct {
	no                    int64
	kind, group, key      string
	from, until, date, is string
	stands                bool
}

// model says with plain loops over all rows what the book says with an index,
// a chain of corrections and days worked out beforehand.
type model struct {
	rows  []*modelRow
	next  int64
	views []view
}

// view is what stood on a day when the book had so many entries.
type view struct {
	entry int64
	day   string
	want  []string
}

func (m *model) standing(where func(*modelRow) bool) []*modelRow {
	var all []*modelRow
	for _, r := range m.rows {
		if r.stands && where(r) {
			all = append(all, r)
		}
	}
	return all
}

func (m *model) add(r modelRow) {
	r.no, r.stands = m.next, true
	m.next++
	m.rows = append(m.rows, &r)
}

// newest is the latest first day among rows, not after a bound.
func newest(rows []*modelRow, bound string) string {
	latest := ""
	for _, r := range rows {
		if r.from <= bound && r.from > latest {
			latest = r.from
		}
	}
	return latest
}

// offer gives the model a row whose columns may be nil for not given; it
// reports false where the book must refuse it.
func (m *model) offer(kind, group, key string, from, until, is *string) bool {
	rows := m.standing(func(r *modelRow) bool { return r.kind == kind && r.group == group })
	day := newest(rows, latest)
	if from != nil {
		day = *from
	}
	row := modelRow{kind: kind, group: group, key: key, from: day}
	var former *modelRow
	same := false
	for _, r := range rows {
		if r.key == key && r.from == day {
			former, same = r, true
		}
	}
	if !same {
		before := slices.DeleteFunc(slices.Clone(rows), func(r *modelRow) bool { return r.from >= day })
		list := newest(before, latest)
		for _, r := range before {
			if r.from == list && r.key == key && (r.until == "" || r.until >= day) {
				former = r
			}
		}
		if former != nil && former.until != "" && until == nil {
			return false
		}
	}
	if former != nil {
		row.is = former.is
	}
	if same {
		row.until = former.until
	}
	if is != nil {
		row.is = *is
	}
	if until != nil {
		row.until = *until
	}
	if row.is == "" || row.until != "" && row.until < row.from {
		return false
	}
	if same && *former == (modelRow{former.no, kind, group, key, row.from, row.until, "", row.is, true}) {
		return true
	}
	if same {
		former.stands = false
	}
	m.add(row)
	return true
}

// event gives the model as many equal events as a sheet holds.
func (m *model) event(date, is string, times int) {
	there := m.standing(func(r *modelRow) bool { return r.kind == "check" && r.date == date && r.is == is })
	for range max(0, times-len(there)) {
		m.add(modelRow{kind: "check", date: date, is: is})
	}
}

// on is what stands on a day as of that day.
func (m *model) on(day string) []string {
	var all []string
	for _, r := range m.standing(func(r *modelRow) bool { return r.date <= day }) {
		if r.kind != "check" {
			group := m.standing(func(o *modelRow) bool { return o.kind == r.kind && o.group == r.group && o.from <= day })
			if r.from > day || r.from != newest(group, day) || r.until != "" && r.until < day {
				continue
			}
		}
		all = append(all, fmt.Sprintf("#%d %s %s %s%s", r.no, r.kind, r.key, r.date, r.is))
	}
	slices.Sort(all)
	return all
}

// days are close together so that rows meet.
var days = []string{"2026-01-10", "2026-02-10", "2026-03-10", "2026-04-10"}

func drawMaybe(t *rapid.T, label string, from []string) *string {
	if text := rapid.SampledFrom(append([]string{"not given"}, from...)).Draw(t, label); text != "not given" {
		return &text
	}
	return nil
}

// fewer draws fewer books than rapid would, for each takes a while.
func fewer(t *testing.T) {
	usual := flag.Lookup("rapid.checks")
	if usual.Value.String() == usual.DefValue {
		require.NoError(t, usual.Value.Set(booksDrawn))
		t.Cleanup(func() { require.NoError(t, usual.Value.Set(usual.DefValue)) })
	}
}

func TestTheBookAgreesWithAModel(t *testing.T) {
	folder := t.TempDir()
	fewer(t)
	rapid.Check(t, func(t *rapid.T) {
		b := openDrawn(t, folder)
		defer b.Close()
		now := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
		m := &model{next: 3} // after the two products
		who := func() Author { now = now.Add(time.Hour); return Author{By: "Ada", Why: "drawn", At: now} }
		_, err := b.Apply([]chemicals.Row{modelInput("product", "product", "P"), modelInput("product", "product", "Q")}, who(), false)
		require.NoError(t, err)
		t.Repeat(map[string]func(*rapid.T){
			"fact": func(t *rapid.T) {
				key := rapid.SampledFrom([]string{"east", "west"}).Draw(t, "location")
				from, until := drawMaybe(t, "from", append(days, "")), drawMaybe(t, "until", []string{"", days[1], days[2]})
				is := drawMaybe(t, "title", []string{"a", "b"})
				row := modelInput("location", "location", key, "from", from, "until", until, "title", is)
				m.check(t, b, who(), []chemicals.Row{row}, func() bool {
					if is == nil { // a location needs no title, the model does
						row.Given["title"] = chemicals.Cell{Text: "a"}
						is = &[]string{"a"}[0]
					}
					return m.offer("location", key, key, from, until, is)
				})
			},
			"list": func(t *rapid.T) {
				group := rapid.SampledFrom([]string{"p", "q"}).Draw(t, "product")
				from := drawMaybe(t, "from", append(days, ""))
				var rows []chemicals.Row
				var offers []func() bool
				for _, key := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"x", "y", "z"}), 1, 3, rapid.ID).Draw(t, "substances") {
					until, is := drawMaybe(t, "until", []string{"", days[2]}), drawMaybe(t, "high", []string{"1 % w/w", "2 % w/w"})
					rows = append(rows, modelInput("product-content", "product", group, "substance", key, "from", from, "until", until, "high", is))
					offers = append(offers, func() bool { return m.offer("product-content", group, group+"\t"+key, from, until, is) })
				}
				m.check(t, b, who(), rows, func() bool {
					all := true
					for _, offer := range offers {
						all = offer() && all
					}
					return all
				})
			},
			"events": func(t *rapid.T) {
				date, is := rapid.SampledFrom(days).Draw(t, "date"), rapid.SampledFrom([]string{"a", "b"}).Draw(t, "item")
				rows := slices.Repeat([]chemicals.Row{modelInput("check", "date", date, "item", is)}, rapid.IntRange(1, 3).Draw(t, "times"))
				m.check(t, b, who(), rows, func() bool { m.event(date, is, len(rows)); return true })
			},
			"correct or withdraw": func(t *rapid.T) { m.amend(t, b, who()) },
			"": func(t *rapid.T) {
				day := rapid.SampledFrom(append(days, "2026-02-20", "2030-01-01", "1990-01-01")).Draw(t, "day")
				v := view{m.next - 1, day, m.on(day)}
				require.Equal(t, v.want, bookOn(t, b, day, Known{}))
				m.views = append(m.views, v)
			},
		})
		for _, v := range m.views {
			require.Equal(t, v.want, bookOn(t, b, v.day, Known{Entry: v.entry}), "known by entry %d", v.entry)
		}
		last, err := b.Verify(context.Background())
		require.NoError(t, err)
		require.Equal(t, m.next-1, last.Entry)
		rebuilt(t, folder, b, last)
	})
}

// check offers rows to both and compares whether they take them; what the book
// took, it does not take again.
func (m *model) check(t *rapid.T, b *Book, who Author, rows []chemicals.Row, offer func() bool) {
	before, next := make([]*modelRow, len(m.rows)), m.next
	for i, r := range m.rows {
		kept := *r
		before[i] = &kept
	}
	taken := offer()
	if !taken {
		m.rows, m.next = before, next
	}
	dry, dryErr := b.Apply(rows, who, true)
	out, err := b.Apply(rows, who, false)
	require.Equal(t, taken, err == nil, "%v", err)
	require.Equal(t, dryErr == nil, err == nil)
	require.Equal(t, dry, out, "a dry run says what comes")
	require.Equal(t, m.next-next, int64(out.Count(Added)+out.Count(Changed)+out.Count(Corrected)))
	if again, err := b.Apply(rows, who, true); taken {
		require.NoError(t, err)
		require.Len(t, again.Changes, again.Count(Unchanged))
	}
}

// amend corrects or withdraws any entry, whether it stands or not.
func (m *model) amend(t *rapid.T, b *Book, who Author) {
	if len(m.rows) == 0 {
		t.Skip("nothing to amend")
	}
	r := rapid.SampledFrom(m.rows).Draw(t, "row")
	stood := r.stands
	if rapid.Bool().Draw(t, "withdraw") {
		_, err := b.Withdraw(r.no, who)
		require.Equal(t, stood, err == nil, "%v", err)
		if stood {
			r.stands = false
			m.next++
		}
		return
	}
	column := map[string]string{"location": "title", "product-content": "high", "check": "item"}[r.kind]
	is := rapid.SampledFrom([]string{"1 % w/w", "2 % w/w", "3 % w/w"}).Draw(t, "text")
	_, err := b.Correct(r.no, map[string]string{column: is}, who)
	require.Equal(t, stood, err == nil, "%v", err)
	if stood && r.is != is {
		r.stands = false
		corrected := *r
		corrected.is = is
		m.add(corrected)
	}
}

func modelInput(kind string, pairs ...any) chemicals.Row {
	k, err := chemicals.KindOf(kind)
	if err != nil {
		panic(err)
	}
	r := chemicals.Row{Kind: k, Where: "drawn", Given: map[string]chemicals.Cell{}}
	for i := 0; i < len(pairs); i += 2 {
		switch text := pairs[i+1].(type) {
		case string:
			r.Given[pairs[i].(string)] = chemicals.Cell{Text: text}
		case *string:
			if text != nil {
				r.Given[pairs[i].(string)] = chemicals.Cell{Text: *text}
			}
		}
	}
	return r
}

func openDrawn(t *rapid.T, folder string) *Book {
	path := filepath.Join(folder, "drawn.book")
	for _, end := range []string{"", "-wal", "-shm"} {
		_ = os.Remove(path + end)
	}
	b, err := Create(path)
	require.NoError(t, err)
	return b
}

// rebuilt makes the book anew from its journal.
func rebuilt(t *rapid.T, folder string, b *Book, want chemicals.LastEntry) {
	var journal bytes.Buffer
	require.NoError(t, b.WriteJournal(&journal))
	path := filepath.Join(folder, "rebuilt.book")
	other, err := Create(path)
	require.NoError(t, err)
	_, err = other.LoadJournal(&journal)
	require.NoError(t, err)
	last, err := other.Verify(context.Background())
	require.NoError(t, err)
	require.Equal(t, want, last)
	require.NoError(t, other.Close())
	require.NoError(t, os.Remove(path))
}

// bookOn is what the book says stands on a day as of that day.
func bookOn(t *rapid.T, b *Book, day string, known Known) []string {
	tx, err := b.db.Begin()
	require.NoError(t, err)
	defer func() { require.NoError(t, tx.Rollback()) }()
	last, err := seen(tx, known)
	require.NoError(t, err)
	asOf := rapid.SampledFrom([]string{day, "2030-01-01"}).Draw(t, "as of")
	all, err := records(tx, Reading{AsOf: chemicals.Day(max(day, asOf))}, last.Entry)
	require.NoError(t, err)
	var on []string
	for _, r := range all {
		column := map[string]string{"location": "title", "product-content": "high", "check": "item"}[r.Kind.Name]
		date := ""
		switch {
		case r.Kind.Name == "product":
			continue
		case r.Kind.Nature == chemicals.Event:
			date = string(r.From)
		}
		if string(r.From) > day || r.Kind.Nature != chemicals.Event && r.Until != "" && string(r.Until) < day {
			continue
		}
		on = append(on, fmt.Sprintf("#%d %s %s %s%s", r.Entry, r.Kind.Name, r.Kind.Key(r.Body), date, r.Body[column]))
	}
	slices.Sort(on)
	return on
}
