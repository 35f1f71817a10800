// Package plating works out what a current deposits: Faraday's law between
// charge, mass and thickness of a metal.
//
// It covers deposition from one metal with one valence at a given cathode
// efficiency. Constants and metals stand in metals.csv with their sources;
// where a source prints its own molar mass or density, that can be given
// instead.
//
// Not covered: alloys, deposition without current, where on the work the metal
// goes (thickness is an average), and what efficiency a bath has, which is the
// shop's to measure.
package plating

import (
	_ "embed"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed metals.csv
var metalsFile string

// Metal is what Faraday's law takes of a metal. The density is needed for a
// thickness only.
type Metal struct {
	Symbol    string
	MolarMass working.Estimate[quantity.MolarMass]
	Density   working.Estimate[quantity.Density]
}

type table struct {
	faraday working.Estimate[float64] // C/mol
	metals  map[string]Metal
}

// known is the embedded table.
var known = sync.OnceValue(func() table {
	t, err := readTable(strings.NewReader(metalsFile))
	if err != nil {
		panic("plating: " + err.Error())
	}
	return t
})

func (t table) symbols() string {
	return strings.Join(slices.Sorted(maps.Keys(t.metals)), ", ")
}

func readTable(r io.Reader) (table, error) {
	rows, err := working.ReadTable(r, "metals.csv")
	t := table{metals: map[string]Metal{}}
	faults := []error{err}
	for _, row := range rows {
		m := t.metals[row.Of]
		m.Symbol = row.Of
		var err error
		switch row.Figure {
		case "Faraday constant":
			t.faraday, err = working.PublishedNumber(row, "C/mol")
			faults = append(faults, err)
			continue
		case "molar mass":
			m.MolarMass, err = working.PublishedQuantity[quantity.MolarMass](row)
		case "density":
			m.Density, err = working.PublishedQuantity[quantity.Density](row)
		default:
			err = &working.Fault{Where: row.Where, What: "the figure " + row.Figure + " is not read by anything", Mend: "write Faraday constant, molar mass or density"}
		}
		faults = append(faults, err)
		t.metals[row.Of] = m
	}
	if !t.faraday.Known() {
		faults = append(faults, &working.Fault{Where: "metals.csv", What: "the Faraday constant is missing"})
	}
	return t, errors.Join(faults...)
}

// faradaysLaw is the source of the formulas with F; the constants have their
// own, and Q = I × t and m = d × A × ρ are definitions.
var faradaysLaw = source.Ref{
	Document: "C. L. Wadhwa, Generation, Distribution and Utilization of Electrical Energy", Place: "chapter 8, example 5", Standing: source.Handbook,
}
