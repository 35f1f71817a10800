package dragout

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// ByArea is the drag-out on the area of the work.
type ByArea struct {
	Area working.Estimate[quantity.Area] // wetted, both sides
	Film working.Estimate[quantity.Film] // measured, or from Film
}

// ByAreaResult is the solution that leaves with that area.
type ByAreaResult struct {
	Volume working.Estimate[quantity.Volume]
}

// Solve gives the volume that leaves with an area.
//
//	V = A × f
//
// A wetted area, f film (volume on each area), V volume of solution.
//
// Source: the definition of a film. Range: any. Left out: what the film of the
// table cannot know, see Film. Bounds of the film go through.
func (d ByArea) Solve() (ByAreaResult, error) {
	volume := working.Compute(working.Formula{Line: "V = A × f", Unit: "L"},
		func(c working.Case) quantity.Volume {
			return quantity.Volume(d.Area.At(c).SquareMetres()*d.Film.At(c).LitresPerSquareMetre()) * quantity.Litre
		}, d.Area.As("A", "wetted area"), d.Film.As("f", "film on the work"))
	return ByAreaResult{Volume: volume}, nil
}
