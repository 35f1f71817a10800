package exposure

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/plating"
)

// PlatingMetals gives the plating package the metals of the published tables.
func PlatingMetals(tables *reference.Set) plating.Metals {
	return func(symbol string) (plating.Metal, bool) {
		species, ok := tables.Species(symbol)
		if !ok || species.Element == "" {
			return plating.Metal{}, false
		}
		m := plating.Metal{
			Symbol:    symbol,
			MolarMass: working.Given(species.MolarMass, quantity.Print(species.MolarMass.Is, "g/mol", 5)),
			Density:   working.Absent[quantity.Density]("the tables have no density of " + species.Element),
		}
		for _, s := range tables.Substances() {
			if s.Formula != symbol {
				continue
			}
			for _, d := range s.Densities {
				m.Density = working.Given(source.Value[quantity.Density]{Is: d.Is.Is(), Origin: source.Published, Ref: d.Ref}, d.Is.String())
			}
		}
		return m, true
	}
}
