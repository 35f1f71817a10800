// Package plating works out what a current deposits: Faraday's law between
// charge, mass and thickness of a metal.
//
// It covers deposition from one metal with one valence at a given cathode
// efficiency. The Faraday constant stands in constants.csv with its source; the
// metals come from the caller's tables, and where a source prints its own molar
// mass or density, that can be given instead.
//
// Not covered: alloys, deposition without current, where on the work the metal
// goes (thickness is an average), and what efficiency a bath has, which is the
// shop's to measure.
package plating

import (
	_ "embed"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed constants.csv
var constants string

// Published is the table of this package.
func Published() working.Table { return working.Table{Name: "constants.csv", File: constants} }

// Metal is what Faraday's law takes of a metal. The density is needed for a
// thickness only.
type Metal struct {
	Symbol    string
	MolarMass working.Estimate[quantity.MolarMass]
	Density   working.Estimate[quantity.Density]
}

// Metals finds a metal by its symbol; the caller has the tables.
type Metals func(symbol string) (Metal, bool)

// faraday is the Faraday constant in C/mol. It panics on a damaged table,
// which is a fault of the program.
var faraday = sync.OnceValue(func() working.Estimate[float64] {
	e, err := readFaraday(Published())
	if err != nil {
		panic("plating: " + err.Error())
	}
	return e
})

func readFaraday(t working.Table) (working.Estimate[float64], error) {
	rows, err := t.Rows()
	if err != nil {
		return working.Estimate[float64]{}, err
	}
	for _, row := range rows {
		if row.Figure == "Faraday constant" {
			return working.PublishedNumber(row, "C/mol")
		}
	}
	return working.Estimate[float64]{}, &working.Fault{Where: t.Name, What: "the Faraday constant is missing"}
}

// faradaysLaw is the source of the formulas with F; the constants have their
// own, and Q = I × t and m = d × A × ρ are definitions.
var faradaysLaw = source.Ref{
	Document: "C. L. Wadhwa, Generation, Distribution and Utilization of Electrical Energy", Place: "chapter 8, example 5", Standing: source.Handbook,
}
