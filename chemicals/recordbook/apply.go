package recordbook

import (
	"cmp"
	"database/sql"
	"errors"
	"slices"
	"strings"
	"time"

	"bathwarden/chemicals"
)

// Author is who writes in the book, why and when.
type Author struct {
	By  string
	Why string // must be given to correct or withdraw; a row of a load stands in for it with its place
	At  time.Time
	// OwnDays records each entry at noon UTC of its own day instead of At, and
	// in the order of those days; a fact since the shop's first day at that
	// one. It is for an example that is made anew and must come out the same.
	OwnDays bool
}

// Apply takes rows into the book, all in one transaction, or none if there is
// any fault; the error then joins all of them, each a *chemicals.Problem. A dry
// run writes nothing.
//
// A row of a fact is about the row of its key that stands with the same first
// day, or, if it gives none, about the last. It corrects that row where it says
// otherwise; with another first day it is a new entry that starts from the row
// which stood on that day. A column that is not given changes nothing, an empty
// one clears. An event is new unless the book holds as many equal ones of its
// date as the rows do so far. A row with the number of an entry is about that
// entry.
func (b *Book) Apply(rows []chemicals.Row, author Author, dry bool) (Outcome, error) {
	return b.apply(author, dry, func(p *plan) error { return p.take(rows) })
}

// Correct replaces entry number by one in which the given columns read
// otherwise; an empty text clears its column.
func (b *Book) Correct(number int64, given map[string]string, author Author) (Outcome, error) {
	return b.apply(author, false, func(p *plan) error {
		e, err := p.standing(number)
		if err != nil {
			return err
		}
		r := chemicals.Row{Kind: e.Kind, Entry: number, Given: map[string]chemicals.Cell{}}
		for column, text := range given {
			r.Given[column] = chemicals.Cell{Text: text}
		}
		err = p.take([]chemicals.Row{r})
		p.loaded = nil // what else stands is not looked at
		return err
	})
}

// Withdraw says that entry number was never true: nothing stands in its line
// any more.
func (b *Book) Withdraw(number int64, author Author) (Outcome, error) {
	return b.apply(author, false, func(p *plan) error {
		e, err := p.standing(number)
		if err != nil {
			return err
		}
		return p.withdraw(e)
	})
}

func (b *Book) apply(author Author, dry bool, prepare func(*plan) error) (Outcome, error) {
	run := b.writing
	if dry {
		run = b.reading
	}
	var out Outcome
	err := run(func(tx *sql.Tx) error {
		p, err := newPlan(tx, author)
		if err != nil {
			return err
		}
		if err := prepare(p); err != nil {
			return err
		}
		if err := p.settle(); err != nil {
			return err
		}
		if len(p.faults) > 0 {
			return errors.Join(p.faults...)
		}
		if out, err = p.outcome(); err != nil || dry {
			return err
		}
		return p.write()
	})
	if err != nil {
		return Outcome{}, err
	}
	return out, nil
}

// plan is a load before it is written: what stands, what is to be written, and
// the faults found so far.
type plan struct {
	tx          *sql.Tx
	author      Author
	last        chemicals.LastEntry
	firstDay    chemicals.Day // the shop's, as the load leaves it
	formerFirst chemicals.Day // the same before the load
	ownDay      chemicals.Day // with OwnDays: of a row without a day

	shelves  map[*chemicals.Kind]*shelf
	events   map[int64]*line      // of the days that the load speaks of
	sighted  map[sighting][]*line // the same by what they say
	drafts   []draft
	changes  []Change
	loaded   []*chemicals.Kind // in the order of the rows
	faults   []error
	suspects map[string]bool // names in rows with faults: kind, tab, name
}

func newPlan(tx *sql.Tx, author Author) (*plan, error) {
	if author.At.IsZero() && !author.OwnDays {
		panic("recordbook: no time to record at")
	}
	p := &plan{
		tx: tx, author: author, shelves: map[*chemicals.Kind]*shelf{}, suspects: map[string]bool{},
		events: map[int64]*line{}, sighted: map[sighting][]*line{},
	}
	p.author.By = p.words("by", author.By)
	p.author.Why = p.words("why", author.Why)
	if p.author.By == "" {
		p.fault(&chemicals.Problem{Where: "by", What: "nobody is named who writes this entry", Mend: "say who you are"})
	}
	var err error
	if p.last, err = lastRow(tx); err != nil {
		return nil, err
	}
	shop, err := shopLines(tx, allKnown)
	if err != nil {
		return nil, err
	}
	p.firstDay = chemicals.Day(firmOf(shop, "first day"))
	p.formerFirst = p.firstDay
	return p, nil
}

// words tidies what the author says.
func (p *plan) words(where, text string) string {
	var t chemicals.Text
	if err := t.UnmarshalText([]byte(text)); err != nil {
		p.fault(chemicals.At(where, err))
	}
	return t.String()
}

func (p *plan) fault(err error) { p.faults = append(p.faults, err) }

// take plans rows, the kinds in their order, so that a name is in the book
// before a row that bears it.
func (p *plan) take(rows []chemicals.Row) error {
	rows = p.arrange(rows)
	for _, r := range rows {
		if !slices.Contains(p.loaded, r.Kind) {
			p.loaded = append(p.loaded, r.Kind)
		}
	}
	if err := p.gather(rows); err != nil {
		return err
	}
	heads, err := p.heads(rows)
	if err != nil {
		return err
	}
	for i := range rows {
		before := len(p.faults)
		if err := p.row(&rows[i], heads[i]); err != nil {
			return err
		}
		if len(p.faults) > before {
			p.suspect(&rows[i])
		}
	}
	return nil
}

// suspect remembers the name in a row with a fault, so that rows which refer to
// it are not at fault as well.
func (p *plan) suspect(r *chemicals.Row) {
	for i := range r.Kind.Columns {
		if c := &r.Kind.Columns[i]; c.Key {
			name := strings.Join(strings.Fields(r.Given[c.Name].Text), " ")
			p.suspects[r.Kind.Name+"\t"+chemicals.Fold(name)] = true
			return
		}
	}
}

func (p *plan) row(r *chemicals.Row, head *line) error {
	given, lacking, ok := p.given(r)
	switch {
	case !ok, r.Entry != 0 && head == nil: // the fault is noted
		return nil
	case r.Entry != 0:
		return p.amend(r, head, given)
	case r.Kind.Nature == chemicals.Event:
		return p.event(r, given, lacking)
	}
	return p.fact(r, given, lacking)
}

// arrange puts rows into the order in which they are written, and learns the
// days on which that order rests.
func (p *plan) arrange(rows []chemicals.Row) []chemicals.Row {
	rows = slices.Clone(rows)
	order := map[*chemicals.Kind]int{}
	for i, k := range chemicals.Kinds() {
		order[k] = i
	}
	slices.SortStableFunc(rows, func(a, b chemicals.Row) int { return cmp.Compare(order[a.Kind], order[b.Kind]) })
	for _, r := range rows {
		if d := dayIn(r, "first day"); r.Kind.Name == "shop" && d != "" {
			p.firstDay = d
		}
	}
	if !p.author.OwnDays {
		return rows
	}
	p.ownDay = p.firstDay
	for _, r := range rows {
		if d := dayOf(r); p.firstDay == "" && d != "" && (p.ownDay == "" || d < p.ownDay) {
			p.ownDay = d
		}
	}
	if p.ownDay == "" {
		p.fault(&chemicals.Problem{What: "no row has a day on which it could be recorded", Mend: "give the shop its first day"})
	}
	slices.SortStableFunc(rows, func(a, b chemicals.Row) int {
		return cmp.Compare(cmp.Or(dayOf(a), p.ownDay), cmp.Or(dayOf(b), p.ownDay))
	})
	return rows
}
