package recordbook

import (
	"cmp"
	"fmt"
	"slices"

	"bathwarden/chemicals"
)

// shelf holds the facts of one kind that stand, as the load has changed them so
// far.
type shelf struct {
	groups map[string][]*line
	lines  map[int64]*line
	names  map[string]string // by which others refer to them: as compared, to as first written
	rows   map[string]int    // how many rows bear each name
	before map[string]bool   // the names that stood before the load
	stood  int               // rows that stood before the load
}

// shelf reads the facts of a kind once.
func (p *plan) shelf(k *chemicals.Kind) (*shelf, error) {
	if s, ok := p.shelves[k]; ok {
		return s, nil
	}
	lines, err := linesOf(p.tx, k, earliest, latest, allKnown)
	if err != nil {
		return nil, err
	}
	s := &shelf{
		groups: map[string][]*line{}, lines: map[int64]*line{}, stood: len(lines),
		names: map[string]string{}, rows: map[string]int{}, before: map[string]bool{},
	}
	slices.SortFunc(lines, func(a, b *line) int { return cmp.Compare(a.no, b.no) })
	for _, l := range lines {
		s.put(l)
	}
	for name := range s.names {
		s.before[name] = true
	}
	p.shelves[k] = s
	return s, nil
}

func (s *shelf) put(l *line) {
	s.groups[l.group] = append(s.groups[l.group], l)
	s.lines[l.no] = l
	name, written := l.name()
	if _, ok := s.names[name]; !ok {
		s.names[name] = written
	}
	s.rows[name]++
}

func (s *shelf) remove(l *line) {
	s.groups[l.group] = slices.DeleteFunc(s.groups[l.group], func(o *line) bool { return o == l })
	delete(s.lines, l.no)
	name, _ := l.name()
	s.rows[name]--
}

// name is the name by which rows of other kinds refer to a fact: its first key
// column, as compared and as written.
func (l *line) name() (compared, written string) {
	for i := range l.kind.Columns {
		if c := &l.kind.Columns[i]; c.Key {
			return c.Meaning(l.body[c.Name]), l.body[c.Name]
		}
	}
	return "", ""
}

// fact plans a row of a fact or list that names no entry.
func (p *plan) fact(r *chemicals.Row, given chemicals.Body, lacking []*chemicals.Problem) error {
	s, err := p.shelf(r.Kind)
	if err != nil {
		return err
	}
	keyless := false
	for _, problem := range lacking {
		if c, _ := r.Kind.Column(problem.Where); c != nil && c.Key {
			p.faultIn(r, problem)
			keyless = true
		}
	}
	if keyless {
		return nil
	}
	about := newLine(0, r.Kind, given)
	group := s.groups[about.group]
	from, stated := given[chemicals.FromColumn]
	if !stated {
		from = p.lastFrom(group)
	}
	day := chemicals.Day(from)
	if day == "" {
		day = p.firstDay
	}
	for _, l := range group {
		if l.key == about.key && l.begins(p.firstDay) == day {
			return p.correct(r, l, given)
		}
	}
	return p.begin(r, s, about, from, day, given)
}

// lastFrom is the first day, as written, of the rows of a group that stand
// last.
func (p *plan) lastFrom(group []*line) string {
	var last *line
	for _, l := range group {
		if last == nil || l.begins(p.firstDay) > last.begins(p.firstDay) {
			last = l
		}
	}
	if last == nil {
		return ""
	}
	return last.body[chemicals.FromColumn]
}

// begin plans a row that holds from a day on which no row of its key begins.
func (p *plan) begin(r *chemicals.Row, s *shelf, about *line, from string, day chemicals.Day, given chemicals.Body) error {
	former := p.stoodOn(s.groups[about.group], about.key, day)
	start := chemicals.Body{}
	if former != nil {
		start = laid(r.Kind, former.body, nil)
		if _, ok := given[chemicals.UntilColumn]; !ok && start[chemicals.UntilColumn] != "" {
			p.faultIn(r, &chemicals.Problem{
				Where: chemicals.UntilColumn,
				What: fmt.Sprintf("%s %s ends on %s (entry %d), and the row from %s does not say whether it still does",
					r.Kind.Name, nameOf(r.Kind, former.body), start[chemicals.UntilColumn], former.no, day),
				Mend: "give that last day again, or an empty one",
			})
			return nil
		}
	} else {
		p.spellKey(s, about, start)
	}
	given[chemicals.FromColumn] = from
	body, ok := p.sound(r, laid(r.Kind, start, given))
	if !ok {
		return nil
	}
	if err := p.spell(r.Kind, body); err != nil {
		return err
	}
	change := Change{Deed: Added, Columns: differences(r.Kind, nil, body)}
	if former != nil {
		change.Deed, change.Replaces, change.Columns = Changed, former.no, differences(r.Kind, former.body, body)
	}
	p.draft(r, body, nil, change)
	return nil
}

// stoodOn is the row of a key from which one that begins on day starts: the one
// that stood on that day before. In a list it must be of the list that stood.
func (p *plan) stoodOn(group []*line, key string, day chemicals.Day) *line {
	var list chemicals.Day
	var found *line
	for _, l := range group {
		begins := l.begins(p.firstDay)
		if begins >= day || begins < list {
			continue
		}
		if begins > list {
			list, found = begins, nil
		}
		if until := l.body[chemicals.UntilColumn]; l.key == key && (until == "" || until >= string(day)) {
			found = l
		}
	}
	return found
}

// spellKey gives the key columns of a new row the spelling in which the book
// has them already.
func (p *plan) spellKey(s *shelf, about *line, body chemicals.Body) {
	for _, l := range s.groups[about.group] {
		if l.key == about.key {
			for _, c := range l.kind.Keys() {
				body[c.Name] = l.body[c.Name]
			}
			return
		}
	}
}

// correct plans that a row which stands reads otherwise, if it does.
func (p *plan) correct(r *chemicals.Row, l *line, given chemicals.Body) error {
	if l.given {
		p.fault(givenTwice(r, l))
		return nil
	}
	if _, ok := given[chemicals.FromColumn]; ok && r.Kind.Nature != chemicals.Event && beginning(given, p.firstDay) == l.begins(p.firstDay) {
		delete(given, chemicals.FromColumn) // the shop's first day, written or not
	}
	body, ok := p.sound(r, laid(r.Kind, l.body, given))
	if !ok {
		return nil
	}
	if err := p.spell(r.Kind, body); err != nil {
		return err
	}
	l.given, l.where = true, r.Where
	if r.Kind.Same(l.body, body) {
		p.note(r, l.body, Change{Deed: Unchanged, Entry: l.no})
		return nil
	}
	p.draft(r, body, l, Change{Deed: Corrected, Replaces: l.no, Columns: differences(r.Kind, l.body, body)})
	return nil
}

func givenTwice(r *chemicals.Row, l *line) error {
	which := fmt.Sprintf("%s %s", r.Kind.Name, nameOf(r.Kind, l.body))
	if from := l.body[chemicals.FromColumn]; from != "" {
		which += " from " + from
	}
	what := which + " is given twice"
	if l.where != "" {
		what += ", first in " + l.where
	}
	return &chemicals.Problem{Where: r.Where, What: what, Mend: "take one of the two rows out, or give them different first days"}
}
