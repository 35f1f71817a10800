package recordbook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bathwarden/chemicals"
)

// sighting is what an event says, whatever its spelling. Events of one sighting
// are told apart by their number only.
type sighting struct {
	kind    *chemicals.Kind
	meaning string
}

func sight(k *chemicals.Kind, body chemicals.Body) sighting {
	var text strings.Builder
	for i := range k.Columns {
		c := &k.Columns[i]
		if body[c.Name] == "" {
			continue
		}
		text.WriteString(strconv.Itoa(i))
		text.WriteByte(0) // no value holds a control character but the line feed
		text.WriteString(c.Meaning(body[c.Name]))
		text.WriteByte(0)
	}
	return sighting{k, text.String()}
}

// gather reads the events that stand on the days of which the rows speak.
func (p *plan) gather(rows []chemicals.Row) error {
	type kindDay struct {
		kind *chemicals.Kind
		day  chemicals.Day
	}
	seen := map[kindDay]bool{}
	for _, r := range rows {
		on := kindDay{r.Kind, dayOf(r)}
		if r.Kind.Nature != chemicals.Event || on.day == "" || seen[on] {
			continue
		}
		seen[on] = true
		lines, err := linesOf(p.tx, r.Kind, on.day, on.day, allKnown)
		if err != nil {
			return err
		}
		for _, l := range lines {
			p.events[l.no] = l
			s := sight(l.kind, l.body)
			p.sighted[s] = append(p.sighted[s], l)
		}
	}
	return nil
}

// event plans an event that names no entry: it is in the book already if an
// equal one stands there of which no row has spoken yet.
func (p *plan) event(r *chemicals.Row, given chemicals.Body, lacking []*chemicals.Problem) error {
	for _, problem := range lacking {
		p.faultIn(r, problem)
	}
	if len(lacking) > 0 {
		return nil
	}
	body := laid(r.Kind, nil, given)
	if err := p.spell(r.Kind, body); err != nil {
		return err
	}
	s := sight(r.Kind, body)
	equal := p.sighted[s]
	for len(equal) > 0 && (equal[0].given || equal[0].claimed) {
		equal = equal[1:]
	}
	p.sighted[s] = equal
	if len(equal) > 0 {
		equal[0].given, equal[0].where = true, r.Where
		p.note(r, equal[0].body, Change{Deed: Unchanged, Entry: equal[0].no})
		return nil
	}
	p.draft(r, body, nil, Change{Deed: Added, Columns: differences(r.Kind, nil, body)})
	return nil
}

// heads finds for each row that names an entry what stands in that entry's line
// now, and notes a fault where nothing does.
func (p *plan) heads(rows []chemicals.Row) ([]*line, error) {
	heads := make([]*line, len(rows))
	for i := range rows {
		if rows[i].Entry == 0 {
			continue
		}
		head, err := p.head(&rows[i])
		if problem, ok := err.(*chemicals.Problem); ok {
			p.fault(&chemicals.Problem{Where: rows[i].Where, What: problem.What, Mend: problem.Mend})
			continue
		}
		if err != nil {
			return nil, err
		}
		head.claimed = true
		heads[i] = head
	}
	return heads, nil
}

// head finds what stands in the line of the entry that a row names. The error
// is a *chemicals.Problem where nothing does.
func (p *plan) head(r *chemicals.Row) (*line, error) {
	if l, err := p.lineOf(r.Kind, r.Entry); l != nil || err != nil {
		return l, err
	}
	e, err := find(p.tx, r.Entry)
	if err != nil {
		return nil, err
	}
	if e.Kind != r.Kind {
		return nil, &chemicals.Problem{
			What: fmt.Sprintf("entry %d is of kind %s, not %s", e.Number, e.Kind.Name, r.Kind.Name),
			Mend: "take the number out, or export the sheet again",
		}
	}
	for e.CorrectedBy != 0 && e.Body != nil {
		if e, err = find(p.tx, e.CorrectedBy); err != nil {
			return nil, err
		}
	}
	if e.Body == nil {
		return nil, withdrawn(r.Entry, e)
	}
	if l, err := p.lineOf(r.Kind, e.Number); l != nil || err != nil {
		return l, err
	}
	l := newLine(e.Number, e.Kind, e.Body)
	p.events[l.no] = l
	return l, nil
}

// lineOf is a line that stands and was read already; nil for none.
func (p *plan) lineOf(k *chemicals.Kind, number int64) (*line, error) {
	if k.Nature == chemicals.Event {
		return p.events[number], nil
	}
	s, err := p.shelf(k)
	if err != nil {
		return nil, err
	}
	return s.lines[number], nil
}

// withdrawn says that nothing stands in the line of an entry; by is the
// withdrawal.
func withdrawn(number int64, by Entry) error {
	what := fmt.Sprintf("entry %d was withdrawn by entry %d (%s, %s)", number, by.Number, by.RecordedBy, chemicals.DayOf(by.RecordedAt))
	if number == by.Number {
		what = fmt.Sprintf("entry %d withdraws entry %d; nothing stands by it", number, by.Corrects)
	}
	return &chemicals.Problem{What: what, Mend: "record it anew, without the number, if it is true after all"}
}

// replaced says that another entry stands for one.
func replaced(number int64, by Entry) error {
	return &chemicals.Problem{
		What: fmt.Sprintf("entry %d was corrected by entry %d (%s, %s) and no longer stands", number, by.Number, by.RecordedBy, chemicals.DayOf(by.RecordedAt)),
		Mend: "see what stands now, and name the entry that stands",
	}
}

// amend plans a row that names an entry.
func (p *plan) amend(r *chemicals.Row, head *line, given chemicals.Body) error {
	if head.no != r.Entry && !p.says(r.Kind, head.body, given) {
		e, err := find(p.tx, r.Entry)
		if err != nil {
			return err
		}
		by, err := find(p.tx, e.CorrectedBy)
		if err != nil {
			return err
		}
		p.fault(chemicals.At(r.Where, replaced(r.Entry, by)))
		return nil
	}
	return p.correct(r, head, given)
}

// says reports whether a body already reads as the given columns ask.
func (p *plan) says(k *chemicals.Kind, body, given chemicals.Body) bool {
	with := laid(k, body, given)
	if k.Nature != chemicals.Event && beginning(with, p.firstDay) == beginning(body, p.firstDay) {
		with = laid(k, with, chemicals.Body{chemicals.FromColumn: body[chemicals.FromColumn]})
	}
	return k.Same(body, with)
}

// standing finds an entry that a correction or withdrawal may name: it must
// stand itself.
func (p *plan) standing(number int64) (Entry, error) {
	e, err := find(p.tx, number)
	if err != nil {
		return Entry{}, err
	}
	if e.Body == nil {
		return Entry{}, withdrawn(number, e)
	}
	if e.CorrectedBy == 0 {
		return e, nil
	}
	by, err := find(p.tx, e.CorrectedBy)
	if err != nil {
		return Entry{}, err
	}
	if by.Body == nil {
		return Entry{}, withdrawn(number, by)
	}
	return Entry{}, replaced(number, by)
}

// withdraw plans that an entry was never true.
func (p *plan) withdraw(e Entry) error {
	l, err := p.lineOf(e.Kind, e.Number)
	if err != nil {
		return err
	}
	if l == nil {
		l = newLine(e.Number, e.Kind, e.Body)
	}
	p.draft(&chemicals.Row{Kind: e.Kind, Entry: e.Number}, nil, l, Change{Deed: Withdrawn, Replaces: e.Number, Columns: differences(e.Kind, e.Body, nil)})
	return nil
}

// spell writes the names in a body as the book has them first.
func (p *plan) spell(k *chemicals.Kind, body chemicals.Body) error {
	return p.references(k, body, func(c *chemicals.Column, s *shelf, names []string) {
		for i, name := range names {
			if first, ok := s.names[c.Meaning(name)]; ok {
				names[i] = first
			}
		}
		body[c.Name] = strings.Join(names, "; ")
	})
}

// references calls do for each column of a body that names rows of another
// kind, with that kind's shelf and the names.
func (p *plan) references(k *chemicals.Kind, body chemicals.Body, do func(*chemicals.Column, *shelf, []string)) error {
	for i := range k.Columns {
		c := &k.Columns[i]
		if c.Of == "" || body[c.Name] == "" {
			continue
		}
		s, err := p.shelfOf(c)
		if err != nil {
			return err
		}
		do(c, s, strings.Split(body[c.Name], "; "))
	}
	return nil
}

// shelfOf is the shelf of the kind whose names a column takes.
func (p *plan) shelfOf(c *chemicals.Column) (*shelf, error) {
	i := slices.IndexFunc(chemicals.Kinds(), func(k *chemicals.Kind) bool { return k.Name == c.Of })
	if i < 0 {
		panic("recordbook: column " + c.Name + " refers to no kind")
	}
	return p.shelf(chemicals.Kinds()[i])
}
