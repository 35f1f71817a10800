// Package reference holds the published tables that the rest of the program
// works with: the substances of a plating shop, water and the plating metals,
// with their composition, density, harmonised or typical classification,
// specific concentration limits, occupational exposure limits, reporting
// figures and waste codes, and the texts of the hazard and precautionary
// statements.
//
// One published value stands in one row of data/*.csv and names its source.
// What was recalled and not read again has the standing "from memory", and a
// key that says in which document it is to be confirmed. Where two documents
// differ both rows stay; the rule that picks one is a method with its reason
// (Substance.LimitsOn, Substance.Density).
//
// Molar masses and shares of elements are computed from the formula and the
// element masses; they are those of the pure compound in the formula as
// written, crystal water included, never those of a solution.
//
// A substance without a Classification, or without a row for a list, is one
// about which the tables say nothing. That is not the same as "not classified"
// or "not listed", which are values of their own.
//
// Not covered: the rules by which mixtures are classified, the P statements
// that go with a class, what must be stored apart, gases that a mistake sets
// free. No complete text of Annex VI of Regulation (EC) No 1272/2008 nor of
// the US lists was read; a person who answers for it must compare the rows
// that a shop relies on with the current texts and the suppliers' sheets.
package reference

import (
	"cmp"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"sync"

	"bathwarden/chemicals/source"
)

//go:embed data/*.csv
var embedded embed.FS

var tables = sync.OnceValues(func() (*Set, error) { return load(embedded) })

// Tables are the embedded tables, read at the first call. What they hold is
// shared and must not be changed.
func Tables() (*Set, error) { return tables() }

// Set is the content of all tables.
type Set struct {
	substances []*Substance // by id
	names      map[string]*Substance
	forms      map[string]*Substance // by CAS number of another form
	elements   map[string]Species    // by symbol
	species    map[string]Species    // by name, folded
	statements map[string]Statement
	codes      map[string][]string // of a class
	facts      []Fact
	hash       string
}

// Hash is the SHA-256 of all data files in the order of their names, in
// hexadecimal.
func (s *Set) Hash() string { return s.hash }

// Fact is one published value as a page on sources prints it.
type Fact struct {
	Substance string // id; empty for element masses, class codes and statements
	What      string
	Value     string // as the table states it, with its unit
	Sourced
}

// Facts are the values of one substance, by its id, or of all tables for "".
func (s *Set) Facts(substance string) []Fact {
	if substance == "" {
		return slices.Clone(s.facts)
	}
	var of []Fact
	for _, f := range s.facts {
		if f.Substance == substance {
			of = append(of, f)
		}
	}
	return of
}

// MemoryCount is how many facts were recalled and not read again. A row that
// serves several substances counts once for each.
func (s *Set) MemoryCount() int {
	count := 0
	for _, f := range s.facts {
		if f.Ref.Standing == source.FromMemory {
			count++
		}
	}
	return count
}

func (r row) fact(of *Substance, what, value string, known Sourced) {
	f := Fact{What: what, Value: value, Sourced: known}
	if of != nil {
		f.Substance = of.ID
	}
	r.loader.set.facts = append(r.loader.set.facts, f)
}

// load reads the tables of a file system. Its error joins the faults of all
// tables, in the order of files and lines.
func load(fsys fs.FS) (*Set, error) {
	files, err := readFiles(fsys)
	if err != nil {
		return nil, fmt.Errorf("reading the published tables: %w", err)
	}
	const manyRows = 4096 // spares the growth of maps and slices while reading
	l := &loader{
		set: &Set{
			facts: make([]Fact, 0, manyRows),
			names: map[string]*Substance{}, forms: map[string]*Substance{},
			elements: map[string]Species{}, species: map[string]Species{},
			statements: map[string]Statement{}, codes: map[string][]string{},
			hash: hash(files),
		},
		files: files, read: map[string]bool{}, sources: map[string]*sourceRow{}, first: make(map[string]int, manyRows),
		byID: map[string]*Substance{}, groups: map[string]bool{},
	}
	l.loadSources()
	l.loadElements()
	l.loadSpecies()
	l.loadStatements()
	l.loadClassCodes()
	l.loadSubstances()
	l.loadClassifications()
	l.loadLimits()
	l.loadReporting()
	l.unusedSources()
	l.strangers()
	if len(l.faults) > 0 {
		return nil, joined(l.faults)
	}
	slices.SortFunc(l.set.substances, func(a, b *Substance) int { return cmp.Compare(a.ID, b.ID) })
	return l.set, nil
}

func joined(faults []*fault) error {
	slices.SortStableFunc(faults, func(a, b *fault) int {
		return cmp.Or(cmp.Compare(a.file, b.file), cmp.Compare(a.line, b.line))
	})
	all := make([]error, len(faults))
	for i, f := range faults {
		all[i] = f
	}
	return errors.Join(all...)
}

// hash frames each file by its name and length, so that no text can wander
// from one file to the next unseen.
func hash(files map[string][]byte) string {
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(sum, "%s %d\n", name, len(files[name]))
		sum.Write(files[name])
	}
	return hex.EncodeToString(sum.Sum(nil))
}
