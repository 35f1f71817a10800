package chemicals

import (
	"fmt"
	"reflect"
	"slices"
)

// Record is one entry that stands, as the book gives it: already corrected and
// not withdrawn.
type Record struct {
	Entry int64
	Kind  *Kind
	Body  Body
	// From and Until bound a fact; an empty From is since ever, an empty Until
	// still so. An event has its day in From.
	From, Until Day
}

// Held is a fact over the days on which it holds.
type Held[T any] struct {
	Entry       int64
	From, Until Day // both inclusive; empty: unbounded
	Is          T
}

// On reports whether h holds on a day.
func (h Held[T]) On(day Day) bool {
	return h.From <= day && (h.Until == "" || day <= h.Until)
}

// Happened is an event on its day.
type Happened[T any] struct {
	Entry int64
	Date  Day
	Is    T
}

// Period is a span of days, both ends included.
type Period struct{ First, Last Day }

// Holds reports whether a day lies in p.
func (p Period) Holds(day Day) bool { return p.First <= day && day <= p.Last }

func (p Period) String() string { return string(p.First) + " to " + string(p.Last) }

// LastEntry points to the last entry that a reading of the book could see.
type LastEntry struct {
	Entry int64 // 0 for a book without entries
	Hash  string
}

// Shop is what the book says of the shop over a period, as of a day: facts
// that have begun by that day, events up to it.
type Shop struct {
	AsOf   Day
	Period Period
	Last   LastEntry

	rows map[reflect.Type]any
}

// NewShop reads records into their types. A record that its kind cannot read
// is a fault of the book, not of the user.
func NewShop(asOf Day, period Period, last LastEntry, records []Record) (*Shop, error) {
	byKind := map[*Kind][]Record{}
	for _, r := range records {
		byKind[r.Kind] = append(byKind[r.Kind], r)
	}
	s := &Shop{AsOf: asOf, Period: period, Last: last, rows: map[reflect.Type]any{}}
	for k, of := range byKind {
		rows, err := k.collect(of)
		if err != nil {
			return nil, err
		}
		s.rows[k.row] = rows
	}
	return s, nil
}

// Facts gives every fact of type T that holds on some day up to the as-of day,
// in the order of their keys and days.
func Facts[T any](s *Shop) []Held[T] {
	rows, _ := s.rows[reflect.TypeFor[T]()].([]Held[T])
	return rows
}

// On gives the facts of type T that hold on a day.
func On[T any](s *Shop, day Day) []Held[T] {
	var on []Held[T]
	for _, h := range Facts[T](s) {
		if h.On(day) {
			on = append(on, h)
		}
	}
	return on
}

// Events gives every event of type T up to the as-of day, by date.
func Events[T any](s *Shop) []Happened[T] {
	rows, _ := s.rows[reflect.TypeFor[T]()].([]Happened[T])
	return rows
}

// Firm is the shop's own row on the as-of day, if the book has one.
func (s *Shop) Firm() (Held[Firm], bool) {
	on := On[Firm](s, s.AsOf)
	if len(on) == 0 {
		return Held[Firm]{}, false
	}
	return on[len(on)-1], true
}

func heldRows[T any](k *Kind, records []Record) (any, error) {
	rows := make([]Held[T], len(records))
	for i, r := range records {
		rows[i] = Held[T]{Entry: r.Entry, From: r.From, Until: r.Until}
		if err := k.fill(&rows[i].Is, r); err != nil {
			return nil, err
		}
	}
	return rows, nil
}

func eventRows[T any](k *Kind, records []Record) (any, error) {
	rows := make([]Happened[T], len(records))
	for i, r := range records {
		rows[i] = Happened[T]{Entry: r.Entry, Date: r.From}
		if err := k.fill(&rows[i].Is, r); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(rows, func(a, b Happened[T]) int {
		switch {
		case a.Date < b.Date:
			return -1
		case a.Date > b.Date:
			return 1
		}
		return 0
	})
	return rows, nil
}

// fill reads a record's body into the row that to points to.
func (k *Kind) fill(to any, r Record) error {
	row := reflect.ValueOf(to).Elem()
	for i := range k.Columns {
		c := &k.Columns[i]
		if c.index < 0 {
			continue
		}
		if err := c.form.set(row.Field(c.index), r.Body[c.Name]); err != nil {
			return &Problem{
				Where: fmt.Sprintf("entry %d, %s", r.Entry, c.Name),
				What:  err.Error(),
				Mend:  "the entry was written by another version of the program; read it with that one",
			}
		}
	}
	return nil
}
