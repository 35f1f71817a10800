package rinse

import (
	"errors"
	"math"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const sprayModel working.Caveat = "the spray is a simple model recalled from the trade, not one that was found published: what no jet reaches, recesses and the insides of hollow work, is not rinsed at all"

// Spray is a rinse by spray, in one pass.
type Spray struct {
	DragOut working.Estimate[quantity.Flow]
	Water   working.Estimate[quantity.Flow]
	Effect  working.Estimate[float64] // of the spray on this work: 1 where every drop displaces, less for shapes that shadow
}

// SprayResult is how far the spray dilutes the drag-out.
type SprayResult struct {
	Ratio working.Estimate[float64]
}

// Solve gives the ratio.
//
//	r = e^(E × Q / D)
//
// Q flow of water, D drag-out, E effect of the spray.
//
// Source: from memory, with an effect of 0.3 to 1 by shape; no published example
// found. Range: an effect outside of that is flagged. Left out: recesses, water
// that misses the work.
func (d Spray) Solve() (SprayResult, error) {
	if err := d.faults(); err != nil {
		return SprayResult{}, err
	}
	usual := published().spray
	ratio := working.Compute(working.Formula{Line: "r = e^(E × Q / D)", Ref: usual.Least.Ref()}, func(c working.Case) float64 {
		return math.Exp(d.Effect.At(c) * float64(d.Water.At(c)/d.DragOut.At(c)))
	}, d.Effect.As("E", "effect of the spray"), d.Water.As("Q", "water"), d.DragOut.As("D", "drag-out")).WithCaveats(sprayModel)
	if d.Effect.Known() && (lowest(d.Effect) < usual.Least.Is() || highest(d.Effect) > usual.Most.Is()) {
		ratio = ratio.WithCaveats(outsideOf(usual))
	}
	return SprayResult{Ratio: ratio}, nil
}

func (d Spray) faults() error {
	fault := dragOutFault(d.DragOut)
	if d.Effect.Known() && lowest(d.Effect) < 0 {
		fault = errors.Join(fault, &working.Fault{Where: "effect", What: "no spray makes the work dirtier", Mend: "give the effect of the spray: effect=0.5"})
	}
	return fault
}

func outsideOf(usual span) working.Caveat {
	bare := func(end working.Estimate[float64]) string { return strings.TrimSuffix(end.Text(), " of 1") }
	return working.Caveat("the effect is outside of the " + bare(usual.Least) + " to " + bare(usual.Most) + " that the model was recalled with")
}
