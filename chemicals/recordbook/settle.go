package recordbook

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// settle judges the book as the load would leave it.
func (p *plan) settle() error {
	p.spans()
	if err := p.namesStand(); err != nil || len(p.faults) > 0 {
		return err // the rest would find what a row with a fault would have mended
	}
	p.noDoubles()
	p.endings()
	if err := p.spansRemain(); err != nil {
		return err
	}
	return p.namesRemain()
}

// spans refuses a row that ends before the shop's first day, on which it begins
// for want of its own; Kind.Check knows only the two days of the row.
func (p *plan) spans() {
	for _, d := range p.drafts {
		if d.stands != nil && p.neverHolds(d.stands) {
			p.faultIn(d.row, &chemicals.Problem{
				Where: chemicals.UntilColumn,
				What:  fmt.Sprintf("it ends on %s, before it begins on %s", d.stands.body[chemicals.UntilColumn], p.firstDay),
				Mend:  "mend that day, or give the row a first day of its own; without one it begins on the shop's first day",
			})
		}
	}
}

func (p *plan) neverHolds(l *line) bool {
	until := chemicals.Day(l.body[chemicals.UntilColumn])
	return l.kind.Nature != chemicals.Event && until != "" && l.body[chemicals.FromColumn] == "" && until < p.firstDay
}

// spansRemain refuses to move the shop's first day behind the last day of rows
// that begin on it.
func (p *plan) spansRemain() error {
	if p.firstDay <= p.formerFirst {
		return nil
	}
	for _, k := range chemicals.Kinds() {
		if k.Nature == chemicals.Event {
			continue
		}
		lines, err := p.stillStanding(k)
		if err != nil {
			return err
		}
		for _, l := range lines {
			if !p.neverHolds(l) {
				continue
			}
			p.fault(&chemicals.Problem{
				Where: placeOf(l.no),
				What: fmt.Sprintf("%s %s ends on %s and would begin on the shop's first day, which becomes %s",
					k.Name, nameOf(k, l.body), l.body[chemicals.UntilColumn], p.firstDay),
				Mend: "give it a first day of its own, or withdraw it, in the same load or before",
			})
		}
	}
	return nil
}

// noDoubles refuses two rows of one key and first day.
func (p *plan) noDoubles() {
	for _, d := range p.drafts {
		s := p.shelves[d.row.Kind]
		if s == nil || d.stands == nil || d.stands.fresh {
			continue
		}
		for _, l := range s.groups[d.stands.group] {
			if l == d.stands || l.key != d.stands.key || l.begins(p.firstDay) != d.stands.begins(p.firstDay) {
				continue
			}
			other := placeOf(l.no)
			if l.no > p.last.Entry {
				other = l.where
			}
			p.fault(&chemicals.Problem{
				Where: d.row.Where,
				What:  fmt.Sprintf("entry %d would become %s %s, which stands already from the same day (%s)", d.replaces.no, d.row.Kind.Name, nameOf(d.row.Kind, d.stands.body), other),
				Mend:  "correct or withdraw that one instead, or choose another name or day",
			})
			break
		}
	}
}

// namesStand refuses a row that names what is not in the book.
func (p *plan) namesStand() error {
	for _, d := range p.drafts {
		if d.stands == nil {
			continue
		}
		err := p.references(d.row.Kind, d.stands.body, func(c *chemicals.Column, s *shelf, names []string) {
			for _, name := range names {
				compared := c.Meaning(name)
				if s.rows[compared] == 0 && !p.suspects[c.Of+"\t"+compared] {
					p.faultIn(d.row, noSuchName(c, s, name))
				}
			}
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func noSuchName(c *chemicals.Column, s *shelf, name string) *chemicals.Problem {
	var all []string
	for compared, written := range s.names {
		if s.rows[compared] > 0 {
			all = append(all, written)
		}
	}
	slices.Sort(all)
	mend := "record the " + c.Of + " first, or in the same load"
	if near := chemicals.Closest(name, all); len(near) > 0 {
		mend = "did you mean " + strings.Join(near, " or ") + "? Else " + mend
	}
	return &chemicals.Problem{Where: c.Name, What: fmt.Sprintf("there is no %s %q in the book", c.Of, name), Mend: mend}
}

// namesRemain refuses to take a name out of the book while rows that stand
// refer to it.
func (p *plan) namesRemain() error {
	for _, of := range chemicals.Kinds() {
		s := p.shelves[of]
		if s == nil {
			continue
		}
		gone := map[string]*draft{}
		for j := range p.drafts {
			if d := &p.drafts[j]; d.row.Kind == of && d.replaces != nil {
				if name, _ := d.replaces.name(); s.rows[name] == 0 && s.before[name] {
					gone[name] = d
				}
			}
		}
		if err := p.unreferred(of, gone); err != nil {
			return err
		}
	}
	return nil
}

func (p *plan) unreferred(of *chemicals.Kind, gone map[string]*draft) error {
	for _, k := range chemicals.Kinds() {
		names := func(c chemicals.Column) bool { return c.Of == of.Name }
		if len(gone) == 0 || !slices.ContainsFunc(k.Columns, names) {
			continue
		}
		lines, err := p.stillStanding(k)
		if err != nil {
			return err
		}
		for _, l := range lines {
			err := p.references(k, l.body, func(c *chemicals.Column, _ *shelf, names []string) {
				for _, name := range names {
					if d := gone[c.Meaning(name)]; c.Of == of.Name && d != nil {
						p.fault(stillNamed(of, name, d, l))
						delete(gone, c.Meaning(name)) // one that names it is enough to refuse
					}
				}
			})
			if err != nil {
				return err
			}
		}
	}
	return nil
}

// stillStanding are the lines of a kind that stood before the load and that it
// does not replace.
func (p *plan) stillStanding(k *chemicals.Kind) ([]*line, error) {
	lines, err := linesOf(p.tx, k, earliest, latest, allKnown)
	if err != nil {
		return nil, err
	}
	replaced := map[int64]bool{}
	for _, d := range p.drafts {
		if d.replaces != nil {
			replaced[d.replaces.no] = true
		}
	}
	return slices.DeleteFunc(lines, func(l *line) bool { return replaced[l.no] }), nil
}

func stillNamed(of *chemicals.Kind, name string, d *draft, by *line) error {
	where := d.row.Where
	if where == "" {
		where = placeOf(d.replaces.no)
	}
	return &chemicals.Problem{
		Where: where,
		What:  fmt.Sprintf("no %s %q would be left, but entry %d (%s %s) names it", of.Name, name, by.no, by.kind.Name, nameOf(by.kind, by.body)),
		Mend:  "correct or withdraw the entries that name it in the same load or before; a thing that is no more gets a last day instead",
	}
}

// endings notes the rows of a list that a newer list of the load lacks.
func (p *plan) endings() {
	type list struct {
		kind  *chemicals.Kind
		group string
		from  chemicals.Day
	}
	seen := map[list]bool{}
	for _, d := range p.drafts {
		if d.stands == nil || !d.stands.fresh || d.row.Kind.Nature != chemicals.List {
			continue
		}
		l := list{d.row.Kind, d.stands.group, d.stands.begins(p.firstDay)}
		if !seen[l] {
			seen[l] = true
			p.endList(d, p.shelves[l.kind].groups[l.group], l.from)
		}
	}
}

func (p *plan) endList(d draft, group []*line, from chemicals.Day) {
	var former chemicals.Day
	for _, l := range group {
		switch begins := l.begins(p.firstDay); {
		case begins == from && !l.fresh: // the list stood before, and ended the former then
			return
		case begins < from && begins > former:
			former = begins
		}
	}
	for _, l := range group {
		if l.begins(p.firstDay) != former || former >= from {
			continue
		}
		until := l.body[chemicals.UntilColumn]
		ended := until != "" && until < string(from)
		continued := slices.ContainsFunc(group, func(o *line) bool { return o.key == l.key && o.begins(p.firstDay) == from })
		if !ended && !continued {
			p.changes = append(p.changes, Change{
				Deed: Ended, Kind: l.kind, Name: nameOf(l.kind, l.body), Day: from.Add(-1), Where: d.row.Where, Entry: l.no,
			})
		}
	}
}
