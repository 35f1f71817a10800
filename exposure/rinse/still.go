package rinse

import (
	"errors"
	"fmt"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const (
	noWaterRuns working.Caveat = "nothing else is taken to enter or leave the still rinses: neither water nor solution"
	fromClean   working.Caveat = "the rinses are taken to be clean before the first load"
)

// Still is a row of still rinses of one volume, clean before the first load.
type Still struct {
	Volume working.Estimate[quantity.Volume]     // of each
	DragIn working.Estimate[quantity.LoadVolume] // with each load
	Loads  working.Estimate[int]
	Tanks  working.Estimate[int]
	Bath   working.Estimate[quantity.BathConcentration]
	Target working.Estimate[quantity.BathConcentration] // in the last rinse, for the loads to it
	Share  working.Estimate[float64]                    // of the bath, instead of Target
}

// StillResult is the row after the loads. LoadsToTarget is absent without a
// target; it is not rounded: the next whole load passes the target.
type StillResult struct {
	Concentrations []working.Estimate[quantity.BathConcentration]
	LoadsToTarget  working.Estimate[float64]
}

// Solve gives what the rinses hold after the loads, and the loads after which
// the last one reaches a target.
//
//	Cj(k) = (V × Cj(k−1) + d × Cj−1(k)) / (V + d)
//	Cj(N) = C0 × (1 − a^N × Σi<j N(N+1)…(N+i−1)/i! × p^i), a = V/(V+d), p = 1 − a
//
// V volume of each rinse, d drag-in of one load, N loads, C0 concentration in the
// bath, Cj in rinse j. The second line is the first one summed: each load brings
// d, mixes, and takes d of the mixture on to the next rinse.
//
// Source: computed here, a mass balance; for one rinse it is the decay
// C = C0 × (1 − a^N) that the trade uses. Range: any. Left out: evaporation,
// topping up and drag-out that differs from drag-in.
func (d Still) Solve() (StillResult, error) {
	if err := d.faults(); err != nil {
		return StillResult{}, err
	}
	p := working.Compute(working.Formula{Line: "p = d / (V + d)", Unit: "%"}, func(c working.Case) float64 {
		return d.DragIn.At(c).Litres() / (d.Volume.At(c).Litres() + d.DragIn.At(c).Litres())
	}, d.DragIn.As("d", "drag-in of one load"), d.Volume.As("V", "volume of each rinse")).WithCaveats(thisWet, noWaterRuns, fromClean)
	all := make([]working.Estimate[quantity.BathConcentration], d.Tanks.Is())
	for j := range all {
		line := fmt.Sprintf("C%d = C0 × (1 − (1 − p)^N × %s)", j+1, headLine(j+1))
		all[j] = working.Compute(working.Formula{Line: line, Unit: rinseUnit(d.Bath)}, func(c working.Case) quantity.BathConcentration {
			return diluted(d.Bath.At(c), filled(p.At(c), float64(d.Loads.At(c)), j+1))
		}, d.Bath.As("C0", "concentration in the bath"), p.As("p", "part of the rinse that a load exchanges"), d.Loads.As("N", "loads"))
	}
	return StillResult{Concentrations: all, LoadsToTarget: d.toTarget(p)}, nil
}

// headLine writes the sum over the first j terms, "(1 + N × p + N(N+1)/2 × p²)".
func headLine(j int) string {
	switch j {
	case 1:
		return "1"
	case 2:
		return "(1 + N × p)"
	case 3:
		return "(1 + N × p + N(N+1)/2 × p²)"
	}
	return fmt.Sprintf("(1 + N × p + … + N(N+1)…(N+%d)/%d! × p^%d)", j-2, j-1, j-1)
}

func (d Still) toTarget(p working.Estimate[float64]) working.Estimate[float64] {
	share := d.Share
	if d.Target.Known() {
		share = working.Compute(working.Formula{Line: "x = C / C0", Unit: "%"}, func(c working.Case) float64 {
			part, _ := partOf(d.Target.At(c), d.Bath.At(c)) // the bases were compared in faults
			return part
		}, d.Target.As("C", "target"), d.Bath.As("C0", "concentration in the bath"))
	}
	if !share.Known() {
		return working.Absent[float64](absentTarget(d, share))
	}
	if p.Known() && (highest(share) >= 1 || lowest(p) == 0 && highest(share) > 0) {
		return working.Absent[float64]("the last rinse never becomes as strong as that: it stays below the bath")
	}
	return working.Compute(working.Formula{Line: fmt.Sprintf("N so that 1 − (1 − p)^N × %s = x", headLine(d.Tanks.Is()))}, func(c working.Case) float64 {
		return loadsFor(share.At(c), p.At(c), d.Tanks.Is())
	}, share.As("x", "target as a share of the bath"), p.As("p", "part of the rinse that a load exchanges"), d.Tanks.As("n", "rinses"))
}

func absentTarget(d Still, share working.Estimate[float64]) string {
	if d.Target.Known() {
		return share.Why()
	}
	return "target is not given"
}

func (d Still) faults() error {
	faults := []error{stagesFault(d.Tanks, "tanks"), volumeFault(d.Volume, d.DragIn), sameBasis(d.Target, d.Bath, "target")}
	if d.Target.Known() && d.Share.Known() {
		faults = append(faults, &working.Fault{Where: "target", What: "both a concentration and a share of the bath are given", Mend: "give one of them"})
	}
	return errors.Join(faults...)
}

// volumeFault refuses a rinse that holds no more than one load brings.
func volumeFault(volume working.Estimate[quantity.Volume], dragIn working.Estimate[quantity.LoadVolume]) error {
	if !volume.Known() {
		return nil
	}
	if lowest(volume) <= 0 {
		return &working.Fault{Where: "volume", What: "a rinse without volume holds nothing", Mend: `give the volume of one rinse: volume="200 L"`}
	}
	for _, c := range cases {
		if dragIn.Known() && dragIn.At(c).Litres() >= volume.At(c).Litres() {
			return &working.Fault{Where: "drag_in", What: "one load brings as much as the rinse holds", Mend: "check the drag-in of one load and the volume of the rinse"}
		}
	}
	return nil
}
