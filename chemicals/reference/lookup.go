package reference

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// Substance looks a substance up by its id, name, other name or CAS number,
// without regard to case, to blanks and hyphens, and to the British spelling
// of sulfur. The CAS number of another form finds nothing, because the form
// has another composition; Closest then points to the substance.
func (s *Set) Substance(name string) (*Substance, bool) {
	found, ok := s.names[fold(name)]
	return found, ok
}

// Substances are all substances, by id.
func (s *Set) Substances() []*Substance { return slices.Clone(s.substances) }

// fold makes the spellings of one name alike.
func fold(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_' || r == '\u00a0' || r == '\u2010'
	})
	return strings.ReplaceAll(strings.Join(words, " "), "sulph", "sulf")
}

// name makes s known by a name. "formalin (solution)" is also found without
// what stands in parentheses.
func (r row) name(s *Substance, name string) {
	keys := []string{fold(name)}
	if bare, _, ok := strings.Cut(name, " ("); ok && strings.HasSuffix(name, ")") {
		keys = append(keys, fold(bare))
	}
	for _, key := range keys {
		if other, taken := r.loader.set.names[key]; taken && other != s {
			r.fault(fmt.Sprintf("%q is already a name of %s", name, other.ID), "a name must lead to one substance")
			continue
		}
		r.loader.set.names[key] = s
	}
}

const mostHints = 4

// Closest are the ids of substances, and the names of species, that may have
// been meant, the likeliest first: the substance of which name is another form
// or the formula, then names that hold all its words, give or take a slip.
func (s *Set) Closest(name string) []string {
	name = strings.TrimSpace(name)
	if of, ok := s.forms[name]; ok {
		return []string{of.ID}
	}
	rank := map[string]int{}
	better := func(hint string, distance int) {
		if known, ok := rank[hint]; !ok || distance < known {
			rank[hint] = distance
		}
	}
	for _, of := range s.substances {
		if of.Formula == name {
			better(of.ID, -1)
		}
	}
	want := strings.Fields(fold(name))
	for key, of := range s.names {
		if distance, near := likeness(want, strings.Fields(key)); near {
			better(of.ID, distance)
		}
	}
	for key, ion := range s.species {
		if distance, near := likeness(want, strings.Fields(key)); near && !ion.limitsOnly {
			better(ion.Name, distance)
		}
	}
	hints := slices.SortedFunc(maps.Keys(rank), func(a, b string) int {
		return cmp.Or(cmp.Compare(rank[a], rank[b]), cmp.Compare(a, b))
	})
	return hints[:min(len(hints), mostHints)]
}

// likeness tells how far the words of a known name are from the wanted ones,
// and whether each wanted word is among them. A third of its letters may be
// wrong; a word left out counts less than a wrong letter.
func likeness(want, known []string) (int, bool) {
	distance := len(known) - len(want)
	for _, word := range want {
		least := len(word)
		for _, other := range known {
			least = min(least, chemicals.Slips(word, other))
		}
		if least > len(word)/3 {
			return 0, false
		}
		distance += 10 * least
	}
	return distance, len(want) > 0
}
