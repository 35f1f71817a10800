package recordbook

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// register holds what the entries of a journal make of one another.
type register struct {
	entries map[int64]*posted
	bearing map[string]int // kind, tab, name as compared: rows that stand and bear it; 0 if one did
}

// posted is an entry in the register.
type posted struct {
	line        int
	kind        *chemicals.Kind
	key, onDate string
	withdraws   bool
	correctedBy int64
	name        string // by which others cite it, as in bearing; empty: by none
	cites       []citation
}

// citation is a name of a row of another kind, as in bearing and as written.
type citation struct{ of, name, bears string }

func newRegister() register {
	return register{entries: map[int64]*posted{}, bearing: map[string]int{}}
}

// post enters a row. A body with a value that cannot be read bears and cites no
// name.
func (g *register) post(line int, r row, e Entry) {
	p := &posted{line: line, kind: e.Kind, key: r.key, onDate: r.onDate, withdraws: e.Body == nil}
	if former := g.entries[r.corrects]; former != nil {
		former.correctedBy = r.no
		if former.name != "" {
			g.bearing[former.name]--
		}
	}
	g.entries[r.no] = p
	if e.Body == nil || readable(r.no, e.Kind, e.Body) != nil {
		return
	}
	if len(e.Kind.Keys()) > 0 {
		name, _ := newLine(r.no, e.Kind, e.Body).name()
		p.name = e.Kind.Name + "\t" + name
		g.bearing[p.name]++
	}
	for i := range e.Kind.Columns {
		c := &e.Kind.Columns[i]
		if c.Of == "" || e.Body[c.Name] == "" {
			continue
		}
		for _, name := range strings.Split(e.Body[c.Name], "; ") {
			p.cites = append(p.cites, citation{c.Of, name, c.Of + "\t" + c.Meaning(name)})
		}
	}
}

// unfit says why the entry that a row corrects cannot be corrected by it. Where
// that entry was not posted, its own line has a fault.
func (g *register) unfit(r row, e Entry) []string {
	former := g.entries[r.corrects]
	if former == nil {
		return nil
	}
	about := fmt.Sprintf("it corrects entry %d, which ", r.corrects)
	switch {
	case former.kind != e.Kind:
		return []string{about + "is of kind " + former.kind.Name}
	case former.correctedBy != 0:
		return []string{about + fmt.Sprintf("entry %d corrected already", former.correctedBy)}
	case former.withdraws:
		return []string{about + "is a withdrawal"}
	case e.Body == nil && (r.key != former.key || r.onDate != former.onDate):
		return []string{fmt.Sprintf("it withdraws entry %d and is kept under another name or day", r.corrects)}
	}
	return nil
}

// uncited says which names an entry cites that nothing bears: nothing that
// stands, if it stands itself, and nothing that ever stood, if not.
func (g *register) uncited(p *posted) []string {
	var all []string
	for _, c := range p.cites {
		rows, ever := g.bearing[c.bears]
		switch {
		case !ever:
			all = append(all, fmt.Sprintf("there is no %s %q", c.of, c.name))
		case rows == 0 && p.correctedBy == 0:
			all = append(all, fmt.Sprintf("it names %s %q, of which nothing stands any more", c.of, c.name))
		}
	}
	return all
}

// unsound says what no book would have written in a row: a value that its
// column does not take, a key or day that is not that of its body, no author, a
// correction without a reason.
func (r row) unsound(e Entry) []string {
	all := e.unsoundBody()
	if len(all) == 0 && e.Body != nil {
		if key := e.Kind.Key(e.Body); key != r.key {
			all = append(all, fmt.Sprintf("its key is %q, and its columns make %q", r.key, key))
		}
		if day := string(e.Kind.Day(e.Body)); day != r.onDate {
			all = append(all, fmt.Sprintf("it is kept under the day %q, and its columns say %q", r.onDate, day))
		}
	}
	var by, why chemicals.Text
	switch err := by.UnmarshalText([]byte(r.recordedBy)); {
	case err != nil:
		all = append(all, "its author: "+err.Error())
	case by == "":
		all = append(all, "it names nobody who wrote it")
	case string(by) != r.recordedBy:
		all = append(all, fmt.Sprintf("its author is %q, and a book writes %q", r.recordedBy, by))
	}
	switch err := why.UnmarshalText([]byte(r.reason)); {
	case err != nil:
		all = append(all, "its reason: "+err.Error())
	case why == "" && r.corrects != 0:
		all = append(all, fmt.Sprintf("it corrects entry %d and gives no reason", r.corrects))
	}
	return all
}

func (e Entry) unsoundBody() []string {
	if e.Body == nil {
		return nil
	}
	tidy, err := e.Kind.Check(e.Body)
	var all []string
	for _, problem := range problems(err) {
		all = append(all, problem.Where+": "+problem.What)
	}
	if err != nil || maps.Equal(tidy, e.Body) {
		return all
	}
	for _, column := range slices.Sorted(maps.Keys(e.Body)) {
		if e.Body[column] != tidy[column] || tidy[column] == "" {
			all = append(all, fmt.Sprintf("%s: it is %q, and a book writes %q", column, e.Body[column], tidy[column]))
		}
	}
	return all
}
