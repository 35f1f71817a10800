package exposure

import (
	"fmt"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// sum is how much of a species the ingredients hold together, absent where
// none is known to. An ingredient whose part is not known adds a caveat.
func (b *bath) sum(of reference.Species) working.Estimate[quantity.BathConcentration] {
	total := working.Absent[quantity.BathConcentration]("no ingredient is known to hold " + of.Name)
	var caveats []working.Caveat
	for _, c := range b.held {
		share := c.Share(of)
		if !share.Known() {
			continue
		}
		if !c.Concentration.Known() {
			caveats = append(caveats, working.Caveat(fmt.Sprintf("%s in %s is not counted: %s", of.Name, c.Name, c.Concentration.Why())))
			continue
		}
		one := held(c, share, of)
		if !total.Known() {
			total = one
			continue
		}
		sum, first := total, one
		total = working.Compute(working.Formula{Line: "c = c₁ + c₂", Unit: "g/L"},
			func(at working.Case) quantity.BathConcentration {
				return quantity.GramsPerLitre(grams(sum, at) + grams(first, at))
			},
			sum.As("c₁", of.Name+" so far"), first.As("c₂", of.Name+" in "+c.Name.String()))
	}
	return total.WithCaveats(caveats...)
}

func held(c Content, share working.Estimate[float64], of reference.Species) working.Estimate[quantity.BathConcentration] {
	if c.Species != nil {
		return c.Concentration
	}
	return working.Compute(working.Formula{Line: "c = c(ingredient) × w", Unit: "g/L"},
		func(at working.Case) quantity.BathConcentration {
			return quantity.GramsPerLitre(grams(c.Concentration, at) * share.At(at))
		},
		c.Concentration.As("c(ingredient)", c.Name.String()), share.As("w", "share of "+of.Name))
}

// tankOf adds masses and metals to the contents.
func (b *bath) tankOf(metals []reference.Species) Tank {
	volume := stated(b.tank.Is.WorkingVolume, b.tank.Entry, "no working volume of "+b.tank.Is.Name.String()+" is recorded")
	t := Tank{Held: b.tank, Contents: b.held}
	for i := range t.Contents {
		t.Contents[i].Mass = massIn(t.Contents[i].Concentration, volume)
	}
	for _, metal := range metals {
		concentration := b.sum(metal)
		found := b.found[metal.Name]
		if found != nil {
			measured := source.Value[quantity.BathConcentration]{Is: found.Is.Concentration.Is(), Origin: source.Measured, Ref: source.Entry(found.Entry)}
			concentration = b.gramsPerLitre(Matter{Name: found.Is.Ingredient, Species: &metal}, measured, found.Is.Concentration.String())
		}
		for _, c := range t.Contents {
			if c.Species != nil && c.Species.Name == metal.Name {
				found = c.Found
			}
		}
		if !concentration.Known() {
			continue
		}
		t.Metals = append(t.Metals, MetalContent{Metal: metal, Found: found, Concentration: concentration, Mass: massIn(concentration, volume)})
	}
	return t
}

func massIn(c working.Estimate[quantity.BathConcentration], volume working.Estimate[quantity.Volume]) working.Estimate[quantity.Mass] {
	return working.Compute(working.Formula{Line: "m = c × V", Unit: "kg"},
		func(at working.Case) quantity.Mass { return quantity.Mass(grams(c, at) * volume.At(at).Litres()) },
		c.As("c", "concentration"), volume.As("V", "working volume"))
}
