// Package waste works out what becomes of what a shop treats and throws away.
//
//	Totals    total content of a waste to the most that its leachate can hold
//	Sludge    metals in waste water to the hydroxide sludge of them
//	Reagents  metals, acid, chromium(VI) and cyanide to the reagents they take
//
// Formulas, proportions and atomic masses stand in treatment.csv, what the
// totals rule goes by in totals.csv, both with their sources. Molar masses and
// factors are computed from them.
//
// Not covered: whether a waste is hazardous, which the generator determines
// with the authority; listed wastes, which are hazardous whatever they hold;
// what chelators keep in solution; practice's excess of reagents.
package waste

import (
	_ "embed"
	"errors"
	"slices"
	"strings"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed treatment.csv
var treatmentFile string

//go:embed totals.csv
var totalsFile string

// Published are the tables of this package.
func Published() []working.Table {
	return []working.Table{{Name: "treatment.csv", File: treatmentFile}, {Name: "totals.csv", File: totalsFile}}
}

// Uses of a reagent, as the table calls them, in mol for each mol.
const (
	givesHydroxide      = "hydroxide"
	reducesChromium     = "reduces chromium(VI)"
	acidToSulfate       = "acid to sodium sulfate"
	acidToBisulfate     = "acid to sodium bisulfate"
	acidToIron          = "acid to iron sulfate"
	leavesIron          = "leaves iron(III)"
	oxidisesToCyanate   = "oxidises cyanide to cyanate"
	oxidisesToNitrogen  = "oxidises cyanide to nitrogen"
	hydroxideToCyanate  = "takes hydroxide to cyanate"
	hydroxideToNitrogen = "takes hydroxide to nitrogen"
	givesAcid           = "acidity"
)

var uses = []string{
	givesHydroxide, reducesChromium, acidToSulfate, acidToBisulfate, acidToIron, leavesIron,
	oxidisesToCyanate, oxidisesToNitrogen, hydroxideToCyanate, hydroxideToNitrogen, givesAcid,
}

// matter is a dissolved metal with the solid it becomes, or a reagent with its
// uses.
type matter struct {
	name    string
	also    []string
	formula string
	solid   bool
	ref     source.Ref
	uses    map[string]working.Estimate[float64]
}

// chemistry is the content of treatment.csv; matters are in its order, and of
// reagents that do the same the first is taken where none is named.
type chemistry struct {
	masses       map[string]working.Estimate[quantity.MolarMass]
	matters      []*matter
	least, most  working.Estimate[float64] // solids of a filter cake
	solidsAssume working.Estimate[float64]
}

var treatment = sync.OnceValue(func() chemistry {
	c, err := readTreatment(Published()[0])
	if err != nil {
		panic("waste: " + err.Error())
	}
	return c
})

func readTreatment(t working.Table) (chemistry, error) {
	rows, err := t.Rows()
	faults := []error{err}
	c := chemistry{masses: map[string]working.Estimate[quantity.MolarMass]{}}
	for _, row := range rows {
		faults = append(faults, c.take(row))
	}
	for _, m := range c.matters {
		for _, a := range atoms(m.formula) {
			if _, ok := c.masses[a.symbol]; !ok {
				faults = append(faults, &working.Fault{Where: t.Name, What: m.name + " holds " + a.symbol + ", which has no atomic mass", Mend: "add it to the table"})
			}
		}
	}
	if !c.least.Known() || !c.most.Known() || !c.solidsAssume.Known() {
		faults = append(faults, &working.Fault{Where: t.Name, What: "the solids of a filter cake are missing"})
	}
	return c, errors.Join(faults...)
}

func (c *chemistry) take(row working.Row) (err error) {
	switch row.Figure {
	case "atomic mass":
		c.masses[row.Of], err = working.PublishedQuantity[quantity.MolarMass](row)
	case "solids at least":
		c.least, err = working.PublishedShare(row)
	case "solids at most":
		c.most, err = working.PublishedShare(row)
	case "solids taken":
		c.solidsAssume, err = working.PublishedShare(row)
	case "also written":
		for name := range strings.SplitSeq(row.Value, ";") {
			c.matter(row.Of).also = append(c.matter(row.Of).also, strings.TrimSpace(name))
		}
	case "formula", "precipitates as":
		m := c.matter(row.Of)
		m.formula, m.solid, m.ref = row.Value, row.Figure == "precipitates as", row.Ref
		if len(atoms(row.Value)) == 0 {
			err = &working.Fault{Where: row.Where, What: row.Value + " is not a formula", Mend: "write it as Cr(OH)3 or FeSO4·7H2O"}
		}
	default:
		if !slices.Contains(uses, row.Figure) {
			return &working.Fault{Where: row.Where, What: "the figure " + row.Figure + " is not read by anything", Mend: "write atomic mass, formula, precipitates as, or one of: " + strings.Join(uses, ", ")}
		}
		c.matter(row.Of).uses[row.Figure], err = working.PublishedNumber(row, "mol/mol")
	}
	return err
}

// matter is the one of that name, new where there is none yet.
func (c *chemistry) matter(name string) *matter {
	for _, m := range c.matters {
		if m.name == name {
			return m
		}
	}
	m := &matter{name: name, uses: map[string]working.Estimate[float64]{}}
	c.matters = append(c.matters, m)
	return m
}

// find looks a metal or a reagent up by any of its names.
func (c chemistry) find(name string, solid bool) (*matter, bool) {
	same := func(other string) bool { return strings.EqualFold(strings.TrimSpace(name), other) }
	for _, m := range c.matters {
		if m.solid == solid && (same(m.name) || slices.ContainsFunc(m.also, same)) {
			return m, true
		}
	}
	return nil, false
}

// first is the reagent that the table names first for a use.
func (c chemistry) first(use string) *matter {
	for _, m := range c.matters {
		if _, ok := m.uses[use]; ok {
			return m
		}
	}
	panic("waste: the table has nothing that " + use)
}

// names are those of all metals, or of all reagents for some uses.
func (c chemistry) names(solid bool, doing ...string) string {
	var all []string
	for _, m := range c.matters {
		useful := len(doing) == 0
		for _, use := range doing {
			_, does := m.uses[use]
			useful = useful || does
		}
		if m.solid == solid && useful {
			all = append(all, m.name)
		}
	}
	return strings.Join(all, ", ")
}

// metal is the element that a solid takes out of the water.
func (m *matter) metal() string { return atoms(m.formula)[0].symbol }

// Metal is a dissolved metal, by the name of its species: "Cu", "Cr(III)",
// "Fe2".
type Metal struct {
	Name string
	Mass working.Estimate[quantity.Mass]
}
