package recordbook

import (
	"database/sql"
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// History gives every entry of a kind, those that no longer stand too, in the
// order in which they were written. With names it gives the lines that at any
// time bore them: the first for the first key column, and so on.
func (b *Book) History(k *chemicals.Kind, names ...string) ([]Entry, error) {
	want, err := keyParts(k, names)
	if err != nil {
		return nil, err
	}
	var all []Entry
	err = b.reading(func(tx *sql.Tx) error {
		all, err = entriesOf(tx, k)
		return err
	})
	if err != nil {
		return nil, err
	}
	place := map[int64]int{}
	root := make([]int, len(all)) // the entry that began the line
	named := map[int]bool{}
	for i := range all {
		e := &all[i]
		place[e.Number], root[i] = i, i
		if e.Corrects != 0 {
			all[place[e.Corrects]].CorrectedBy = e.Number
			root[i] = root[place[e.Corrects]]
		}
		if e.Body != nil && slices.Equal(want, firstParts(k.Key(e.Body), len(want))) {
			named[root[i]] = true
		}
	}
	var found []Entry
	for i, e := range all {
		if named[root[i]] {
			found = append(found, e)
		}
	}
	return found, nil
}

func firstParts(key string, n int) []string {
	parts := strings.Split(key, "\t")
	return parts[:min(n, len(parts))]
}

// keyParts gives names in the form in which keys are compared.
func keyParts(k *chemicals.Kind, names []string) ([]string, error) {
	keys := k.Keys()
	if len(names) > len(keys) {
		return nil, &chemicals.Problem{What: "a " + k.Name + " has fewer names than were given", Mend: "give the names of its key columns, or none for the whole history"}
	}
	typed := chemicals.Body{}
	for i, name := range names {
		typed[keys[i].Name] = name
	}
	_, err := k.Check(typed)
	for _, problem := range problems(err) {
		if typed[problem.Where] != "" {
			return nil, problem
		}
	}
	parts := make([]string, len(names))
	for i, name := range names {
		parts[i] = keys[i].Meaning(name)
	}
	return parts, nil
}

func entriesOf(tx *sql.Tx, k *chemicals.Kind) ([]Entry, error) {
	rows, err := tx.Query("SELECT "+rowColumns+" FROM entries WHERE kind = $1 ORDER BY no", k.Name)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Entry
	for rows.Next() {
		r, err := scan(rows)
		if err != nil {
			return nil, err
		}
		e, err := r.entry()
		if err == nil {
			err = readable(e.Number, k, e.Body)
		}
		if err != nil {
			return nil, err
		}
		all = append(all, e)
	}
	return all, rows.Err()
}

// Entries calls do for each entry of the book from number from on, in order,
// until it returns an error. It must not use the book meanwhile. CorrectedBy is
// not known.
func (b *Book) Entries(from int64, do func(Entry) error) error {
	return b.reading(func(tx *sql.Tx) error {
		return each(tx, from, func(r row) error {
			e, err := r.entry()
			if err != nil {
				return err
			}
			if err := do(e); err != nil {
				return passed{err}
			}
			return nil
		})
	})
}
