package recordbook

import (
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// Deed is what becomes of a row that is given to the book.
type Deed string

// The deeds.
const (
	Added     Deed = "added"
	Changed   Deed = "changed"   // a fact holds otherwise from a day on
	Corrected Deed = "corrected" // another entry is replaced
	Withdrawn Deed = "withdrawn" // another entry was never true
	Ended     Deed = "ended"     // a row of a list that the newer list lacks
	Unchanged Deed = "unchanged" // the book says so already
)

// Outcome is what a load does to the book, or would do.
type Outcome struct {
	Changes   []Change // in the order of the entries
	Untouched []Count  // rows of the loaded kinds that stand and were not given
}

// Change is what becomes of one row.
type Change struct {
	Deed     Deed
	Kind     *chemicals.Kind
	Name     string        // the key as written, or what tells an event from others
	Day      chemicals.Day // of an event; first of a fact, empty for the shop's first day; last of a row that ended
	Where    string        // where the row was given
	Entry    int64         // its number: the new entry, or the one that says so already or ended
	Replaces int64         // the entry that is corrected or withdrawn, or ends the day before; 0 for none
	Columns  []Difference  // against the entry in Replaces, or against nothing
}

// Difference is one column of a Change.
type Difference struct {
	Column   string
	Old, New string // a column with an empty New is cleared
}

// Count is a number of rows of one kind.
type Count struct {
	Kind *chemicals.Kind
	Rows int
}

// Count is the number of rows that met a deed.
func (o Outcome) Count(deed Deed) int {
	n := 0
	for i := range o.Changes {
		if o.Changes[i].Deed == deed {
			n++
		}
	}
	return n
}

// differences lists the columns in which two bodies are written differently,
// in the order of the kind.
func differences(k *chemicals.Kind, old, now chemicals.Body) []Difference {
	var all []Difference
	for i := range k.Columns {
		name := k.Columns[i].Name
		if old[name] != now[name] {
			all = append(all, Difference{Column: name, Old: old[name], New: now[name]})
		}
	}
	return all
}

// nameOf tells a row from others of its kind: by its key, or for want of one by
// the columns that it must have.
func nameOf(k *chemicals.Kind, body chemicals.Body) string {
	keyed := slices.ContainsFunc(k.Columns, func(c chemicals.Column) bool { return c.Key })
	var parts []string
	for i := range k.Columns {
		c := &k.Columns[i]
		if (c.Key || !keyed && c.Must) && c.Name != chemicals.DateColumn && body[c.Name] != "" {
			parts = append(parts, body[c.Name])
		}
	}
	return strings.Join(parts, ", ")
}
