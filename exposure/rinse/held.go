package rinse

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Held is a clean still rinse and what the work of some time drags into it.
type Held struct {
	Volume working.Estimate[quantity.Volume] // of the rinse
	DragIn working.Estimate[quantity.Volume] // of all loads together
	Loads  working.Estimate[int]
}

// HeldResult is the part of it that the rinse holds after the loads.
type HeldResult struct {
	Share working.Estimate[float64]
}

// Solve gives the part of what came in that is still there.
//
//	s = V / D × (1 − (V / (V + D/N))^N)
//
// V volume of the rinse, D drag-in of all loads, N loads, s share held; the rest
// went on with the work.
//
// Source: computed here, the mass balance of Still: C(N) × V over what came in.
// No published example found. Range: any. Left out: evaporation, topping up and
// drag-out that differs from drag-in.
func (d Held) Solve() (HeldResult, error) {
	if d.Loads.Known() && d.Loads.Is() < 1 {
		return HeldResult{}, &working.Fault{Where: "loads", What: "no load brings anything", Mend: "give a number of loads from 1 up"}
	}
	if err := volumeFault(d.Volume, working.Estimate[quantity.LoadVolume]{}); err != nil {
		return HeldResult{}, err
	}
	share := working.Compute(working.Formula{Line: "s = V / D × (1 − (V / (V + D/N))^N)", Unit: "%"}, func(c working.Case) float64 {
		return StillMass(0, 1, d.Volume.At(c).Litres(), d.DragIn.At(c).Litres(), d.Loads.At(c))
	}, d.Volume.As("V", "volume of the rinse"), d.DragIn.As("D", "drag-in of all loads"), d.Loads.As("N", "loads")).WithCaveats(thisWet, noWaterRuns, fromClean)
	return HeldResult{Share: share}, nil
}
