package reference

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
)

// Species is an element or an ion that a bath, an analysis or a limit names
// instead of a substance: Ni, CN total, Cr(VI).
type Species struct {
	Name      string
	Element   string // "nickel" where it is an element
	MolarMass source.Value[quantity.MolarMass]

	formula    formula
	writtenAs  [][]item // the runs in a formula that stand for one of it
	limitsOnly bool
}

// Species looks an element up by its symbol or an ion by its name. Plain "CN"
// is none: a shop says whether it means total, amenable or free cyanide.
func (s *Set) Species(name string) (Species, bool) {
	found, ok := s.limitSpecies(strings.TrimSpace(name))
	return found, ok && !found.limitsOnly
}

// limitSpecies also knows what only published limits are stated as.
func (s *Set) limitSpecies(name string) (Species, bool) {
	if element, ok := s.elements[name]; ok {
		return element, true
	}
	ion, ok := s.species[fold(name)]
	return ion, ok
}

func (l *loader) loadElements() {
	for _, r := range l.table("elements", "*symbol", "element", "molar mass", "source", "confirm in") {
		symbol, known := r.must("symbol"), r.sourced()
		mass := mustState[quantity.MolarMass](r, "molar mass")
		l.set.elements[symbol] = Species{
			Name: symbol, Element: r.must("element"),
			MolarMass: source.Value[quantity.MolarMass]{Is: mass.Is(), Origin: source.Published, Ref: known.Ref},
			formula:   formula{text: symbol, parts: []item{{element: symbol, count: 1}}},
		}
		r.fact(nil, "molar mass of "+r.text("element"), mass.String(), known)
	}
}

func (l *loader) loadSpecies() {
	for _, r := range l.table("species", "*species", "formula", "written as", "in limits only") {
		f, ok := r.formula("formula")
		if !ok {
			continue
		}
		ion := Species{Name: r.must("species"), formula: f, limitsOnly: r.yes("in limits only"), MolarMass: l.set.molarMass(f)}
		for _, text := range r.list("written as") {
			run, err := parseFormula(text)
			if err != nil {
				r.fault(err.Error(), "write the run of elements as it stands in formulas")
				continue
			}
			ion.writtenAs = append(ion.writtenAs, run.parts[0].group)
		}
		l.set.species[fold(ion.Name)] = ion
	}
}

// formula reads a cell whose elements must all have a mass.
func (r row) formula(column string) (formula, bool) {
	f, err := parseFormula(r.text(column))
	if err != nil {
		r.fault(err.Error(), `write it as "NiSO4.6H2O" or "KAu(CN)2"`)
		return formula{}, false
	}
	unknown := ""
	f.visit(func(element string, _ int) {
		if _, ok := r.loader.set.elements[element]; !ok {
			unknown = element
		}
	})
	if unknown != "" {
		r.fault(fmt.Sprintf("formula %q has the element %q, which has no mass", f.text, unknown), "mend the formula or add the element to data/elements.csv")
	}
	return f, unknown == ""
}

// molarMass adds the masses of the elements up; its source is theirs.
func (s *Set) molarMass(f formula) source.Value[quantity.MolarMass] {
	sum := source.Value[quantity.MolarMass]{Origin: source.Computed}
	f.visit(func(element string, count int) {
		of := s.elements[element].MolarMass
		sum.Is += quantity.MolarMass(count) * of.Is
		sum.Ref = of.Ref
	})
	return sum
}

// Share is the share by mass of an element or ion in the pure substance, 0 to
// 1. It is not known (false) where the formula does not hold it, and for what
// no formula tells: how much of a cyanide is free or amenable, or the valence
// of a metal for which the tables do not say it.
func (s *Substance) Share(of Species) (float64, bool) {
	count := 0
	switch {
	case of.Element != "":
		count = s.formula.count(of.Name)
	case slices.Contains(s.holds, of.Name):
		count = s.formula.count(of.formula.text)
	default:
		for _, run := range of.writtenAs {
			count += s.formula.groups(run)
		}
	}
	if count == 0 {
		return 0, false
	}
	return float64(count) * float64(of.MolarMass.Is) / float64(s.MolarMass.Is), true
}
