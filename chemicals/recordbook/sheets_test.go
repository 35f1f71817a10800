package recordbook

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

// story is a book in a temporary folder and the days on which it is written.
type story struct {
	*Book
	t   testing.TB
	now time.Time
}

func newStory(t testing.TB) *story {
	t.Helper()
	b, err := Create(filepath.Join(t.TempDir(), "shop.book"))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, b.Close()) })
	return &story{Book: b, t: t, now: time.Date(2026, 1, 5, 9, 0, 0, 0, time.UTC)}
}

func (s *story) author() Author {
	s.now = s.now.Add(time.Minute)
	return Author{By: "Ada", Why: "told so", At: s.now}
}

// sheet reads rows from a text: the kind on the first line, the columns on the
// second, a row on each other; cells are parted by bars. "~" is a cell that the
// sheet does not have. A column "entry" is the row's number.
func sheet(t testing.TB, texts ...string) []chemicals.Row {
	t.Helper()
	var rows []chemicals.Row
	for _, text := range texts {
		lines := strings.Split(strings.TrimSpace(text), "\n")
		kind, err := chemicals.KindOf(strings.TrimSpace(lines[0]))
		require.NoError(t, err)
		header := cells(lines[1])
		for i, line := range lines[2:] {
			r := chemicals.Row{Kind: kind, Where: fmt.Sprintf("%s.csv line %d", kind.Name, i+2), Given: map[string]chemicals.Cell{}}
			for j, cell := range cells(line) {
				switch {
				case cell == "~":
				case header[j] == chemicals.EntryColumn:
					r.Entry, _ = strconv.ParseInt(cell, 10, 64)
				default:
					r.Given[header[j]] = chemicals.Cell{Text: cell, Where: r.Where + ", " + header[j]}
				}
			}
			rows = append(rows, r)
		}
	}
	return rows
}

func cells(line string) []string {
	parts := strings.Split(line, "|")
	for i, p := range parts {
		parts[i] = strings.TrimSpace(p)
	}
	return parts
}

// load takes sheets into the book and tells what became of each row.
func (s *story) load(texts ...string) []string {
	s.t.Helper()
	out, err := s.Apply(sheet(s.t, texts...), s.author(), false)
	require.NoError(s.t, err)
	return tell(out)
}

// refused gives the faults for which sheets are not taken, and checks that
// nothing was written.
func (s *story) refused(texts ...string) []string {
	s.t.Helper()
	before := s.count()
	_, err := s.Apply(sheet(s.t, texts...), s.author(), false)
	require.Error(s.t, err)
	require.Equal(s.t, before, s.count(), "something was written")
	return faults(s.t, err)
}

func faults(t testing.TB, err error) []string {
	t.Helper()
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		joined = errors.Join(err).(interface{ Unwrap() []error })
	}
	var all []string
	for _, one := range joined.Unwrap() {
		var p *chemicals.Problem
		require.ErrorAs(t, one, &p)
		require.NotEmpty(t, p.Mend, "%s says not how to mend it", p)
		all = append(all, p.Error())
	}
	return all
}

func (s *story) count() int64 {
	var n int64
	require.NoError(s.t, s.db.QueryRow("SELECT count(*) FROM entries").Scan(&n))
	return n
}

// tell writes an outcome down, one line a change: "corrected #3 for #1: tank
// B5: temperature 55 °C > 60 °C".
func tell(o Outcome) []string {
	var all []string
	for _, c := range o.Changes {
		line := fmt.Sprintf("%s #%d", c.Deed, c.Entry)
		if c.Replaces != 0 {
			line += fmt.Sprintf(" for #%d", c.Replaces)
		}
		line += ": " + c.Kind.Name + " " + c.Name
		if c.Day != "" {
			line += " " + string(c.Day)
		}
		for _, d := range c.Columns {
			if c.Replaces != 0 && c.Deed != Withdrawn {
				line += fmt.Sprintf("; %s %s > %s", d.Column, d.Old, d.New)
			}
		}
		all = append(all, line)
	}
	return all
}

// on tells what stands on a day: "#1 B5: plate, 55 °C [2026-01-01..]".
func (s *story) on(kind string, day chemicals.Day, columns ...string) []string {
	s.t.Helper()
	return s.knownBy(Known{}, kind, day, columns...)
}

func (s *story) knownBy(known Known, kind string, day chemicals.Day, columns ...string) []string {
	s.t.Helper()
	k, err := chemicals.KindOf(kind)
	require.NoError(s.t, err)
	var all []string
	for _, r := range s.records(k, known, day) {
		if k.Nature != chemicals.Event && (r.From > day || r.Until != "" && r.Until < day) {
			continue
		}
		line := fmt.Sprintf("#%d %s", r.Entry, nameOf(k, r.Body))
		for _, c := range columns {
			line += ", " + r.Body[c]
		}
		if k.Nature != chemicals.Event {
			line += fmt.Sprintf(" [%s..%s]", r.From, r.Until)
		}
		all = append(all, line)
	}
	return all
}

// records are those of which Read makes a shop.
func (s *story) records(k *chemicals.Kind, known Known, asOf chemicals.Day) []chemicals.Record {
	s.t.Helper()
	tx, err := s.db.Begin()
	require.NoError(s.t, err)
	defer func() { require.NoError(s.t, tx.Rollback()) }()
	last, err := seen(tx, known)
	require.NoError(s.t, err)
	all, err := records(tx, Reading{AsOf: asOf}, last.Entry)
	require.NoError(s.t, err)
	var of []chemicals.Record
	for _, r := range all {
		if r.Kind == k {
			of = append(of, r)
		}
	}
	return of
}

// Sheets that several stories begin with.
const (
	twoTanks = `tank
		tank | purpose | temperature
		B5 | plate | 55 °C
		R1 | rinse | `
	nickelBath = `bath
		tank | ingredient | concentration
		B5 | nickel sulfate | 300 g/L
		B5 | nickel chloride | 60 g/L
		B5 | boric acid | 45 g/L`
)
