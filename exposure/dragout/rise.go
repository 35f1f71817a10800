package dragout

import (
	"errors"
	"math"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const (
	startedClean working.Caveat = "the rinse is taken to have held none of it before the first load"
	noRise       working.Caveat = "a rise of zero says only that the drag-out is too small for the measurement"
	onlyByLoads  working.Caveat = "every load is taken to carry the same volume in and out, and nothing else to enter or leave the rinse: neither water nor solution"
)

// ByRise is a still rinse behind a bath, and how much stronger it became.
type ByRise struct {
	Volume working.Estimate[quantity.Volume]            // of the rinse
	Bath   working.Estimate[quantity.BathConcentration] // of what was measured
	Rise   working.Estimate[quantity.BathConcentration] // in the rinse, over the loads
	Start  working.Estimate[quantity.BathConcentration] // in the rinse before the first load; clean where absent
	Loads  working.Estimate[int]
}

// ByRiseResult is the drag-out of one load. Linear is what the usual formula
// gives, which takes nothing to leave the rinse again; it stands beside for
// comparison and is always the lesser.
type ByRiseResult struct {
	PerLoad working.Estimate[quantity.LoadVolume]
	Linear  working.Estimate[quantity.LoadVolume]
}

// Solve gives the drag-out of one load, exactly.
//
//	x = ΔC / (C0 − Cs)
//	d = V × ((1 − x)^(−1/N) − 1)
//
// V volume of the rinse, C0 concentration in the bath, Cs in the rinse before
// the first load, ΔC its rise over N loads, d drag-out of one load. Each load
// brings d of bath into V, mixes, and takes d of the mixture away, so that
// C(N) = C0 − (C0 − Cs) × (V/(V+d))^N.
//
// Source: computed here, a mass balance; the usual formula d = V × x / N is
// printed in handbooks and leaves out what each load takes away again. Range:
// a rise less than would make the rinse as strong as the bath. Left out:
// evaporation and topping up. No published worked example found.
func (d ByRise) Solve() (ByRiseResult, error) {
	if err := d.faults(); err != nil {
		return ByRiseResult{}, err
	}
	x := d.share()
	if x.Known() && highest(x) >= 1 {
		return ByRiseResult{}, &working.Fault{Where: "rise", What: "the rinse cannot become as strong as the bath by drag-out", Mend: "check the rise and the concentration in the bath"}
	}
	terms := []working.Term{d.Volume.As("V", "volume of the rinse"), x.As("x", "rise as a share of the greatest possible"), d.Loads.As("N", "loads")}
	perLoad := working.Compute(working.Formula{Line: "d = V × ((1 − x)^(−1/N) − 1)", Unit: "L"},
		func(c working.Case) quantity.LoadVolume {
			return quantity.LoadVolume(d.Volume.At(c).Litres()*math.Expm1(-math.Log1p(-x.At(c))/float64(d.Loads.At(c)))) * quantity.LitrePerLoad
		}, terms...).WithCaveats(onlyByLoads)
	linear := working.Compute(working.Formula{Line: "without what each load takes away: d = V × x / N", Unit: "L"},
		func(c working.Case) quantity.LoadVolume {
			return quantity.LoadVolume(d.Volume.At(c).Litres()*x.At(c)/float64(d.Loads.At(c))) * quantity.LitrePerLoad
		}, terms...)
	return ByRiseResult{PerLoad: perLoad, Linear: linear}, nil
}

// share is the rise as a share of the greatest possible.
func (d ByRise) share() working.Estimate[float64] {
	line, from := "x = ΔC / C0", []working.Term{d.Rise.As("ΔC", "rise"), d.Bath.As("C0", "concentration in the bath")}
	if d.Start.Known() {
		line, from = "x = ΔC / (C0 − Cs)", append(from, d.Start.As("Cs", "in the rinse before"))
	}
	x := working.Compute(working.Formula{Line: line, Unit: "%"}, func(c working.Case) float64 {
		start := 0.0
		if d.Start.Known() {
			start, _ = partOf(d.Start.At(c), d.Bath.At(c))
		}
		rise, _ := partOf(d.Rise.At(c), d.Bath.At(c)) // the bases were compared in faults
		return rise / (1 - start)
	}, from...)
	if !d.Start.Known() {
		x = x.WithCaveats(startedClean)
	}
	if x.Known() && lowest(x) == 0 {
		x = x.WithCaveats(noRise)
	}
	return x
}

// partOf is a concentration as a part of that in the bath, if both are on the
// same basis.
func partOf(c, bath quantity.BathConcentration) (float64, bool) {
	unit := quantity.Unit(bath, quantity.Metric)
	part, err := quantity.In(c, unit)
	whole, bad := quantity.In(bath, unit)
	return part / whole, err == nil && bad == nil
}

func (d ByRise) faults() error {
	faults := []error{
		notZero(d.Volume, "volume", "a rinse without volume holds nothing", `give the volume of the rinse: volume="200 L"`),
		sameBasis(d.Rise, d.Bath, "rise"), sameBasis(d.Start, d.Bath, "start"),
	}
	if d.Loads.Known() && d.Loads.Is() < 1 {
		faults = append(faults, &working.Fault{Where: "loads", What: "no load shows no drag-out", Mend: `give the loads over which the rinse rose: loads="20"`})
	}
	if isNothing(d.Bath) {
		faults = append(faults, &working.Fault{Where: "bath", What: "a bath that holds none of it cannot make the rinse rise", Mend: `give its concentration in the bath: bath="70 g/L"`})
	}
	if d.startsFull() {
		faults = append(faults, &working.Fault{Where: "start", What: "the rinse was as strong as the bath before the first load", Mend: "check both concentrations"})
	}
	return errors.Join(faults...)
}

func (d ByRise) startsFull() bool {
	for _, c := range cases {
		if !d.Start.Known() || !d.Bath.Known() {
			return false
		}
		if part, same := partOf(d.Start.At(c), d.Bath.At(c)); same && part >= 1 {
			return true
		}
	}
	return false
}

// isNothing reports whether a concentration is known to be zero in any case.
func isNothing(e working.Estimate[quantity.BathConcentration]) bool {
	for _, c := range cases {
		if !e.Known() {
			return false
		}
		if v, err := quantity.In(e.At(c), quantity.Unit(e.At(c), quantity.Metric)); err == nil && v == 0 {
			return true
		}
	}
	return false
}

var cases = [...]working.Case{working.Likely, working.Low, working.High}

func sameBasis(c, bath working.Estimate[quantity.BathConcentration], where string) error {
	if !c.Known() || !bath.Known() {
		return nil
	}
	if _, same := partOf(c.Is(), bath.Is()); same {
		return nil
	}
	return &working.Fault{Where: where, What: c.Text() + " is on another basis than the bath, " + bath.Text(), Mend: "give both in the same unit"}
}

// highest is the greatest of the three cases.
func highest[Q ~float64](e working.Estimate[Q]) Q {
	return max(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}
