// Package rinse works out what rinses do with the solution that the work drags
// in: the water that a ratio takes, the ratio that a flow gives, and how a rinse
// without running water fills up.
//
// It covers one running rinse, a counterflow of any number of stages, tanks each
// with water of their own, still rinses, a day of loads through a counterflow
// from rest, a dip before and after the bath, a spray, the return of drag-out to
// a bath that evaporates, a closed loop through a resin, and the cost of water.
// The ratios that the trade asks for stand in criteria.csv with their sources.
//
// A rinse is taken to mix fully where no mixing is stated, and the work to carry
// away as much as it brings. Not covered: what the fresh water itself holds,
// which has to be subtracted from what is measured; reactions in the rinse;
// recesses and crevices, which no water reaches; time too short to mix.
package rinse

import (
	"errors"
	"math"
	"strconv"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// mostStages bounds a chain; no line has as many.
const mostStages = 50

const (
	thisWet    working.Caveat = "the work is taken to carry as much solution out of each rinse as into it"
	fullyMixed working.Caveat = "each rinse is taken to mix fully: where it does not, the wanted ratio is divided by the mixing that is reached"
	mixedBy    working.Caveat = "how well the rinse mixes is one stated factor on the ratio, the same in every stage; it is no model of the tank"
	cannotMix  working.Caveat = "at this mixing the ratio would fall below 1, which no rinse has: it is taken as 1"
)

// massBalance is the source of the rinsing formulas.
var massBalance = source.Ref{Document: "Metal Finishing Guidebook 2011-2012", Place: "chapter on rinsing, p. 81, equilibrium rinsing", Year: 2011, Standing: source.Handbook}

// asked is what a rinse is given and what is asked of it.
type asked struct {
	dragOut, water working.Estimate[quantity.Flow]
	ratio, mixing  working.Estimate[float64]
	bath, target   working.Estimate[quantity.BathConcentration]
}

// layout is how one kind of rinse turns the flow for each flow of drag-out, q,
// into the ratio of perfect mixing, R, and back.
type layout struct {
	forRatio, forWater string // the formulas
	ratio              func(q float64) float64
	flow               func(ratio float64) float64
	ref                source.Ref
	stages             []working.Term // what the formulas take beside q or R
}

// reached is a rinse worked out.
type reached struct {
	water working.Estimate[quantity.Flow]
	q     working.Estimate[float64] // water for each volume of drag-out
	ratio working.Estimate[float64] // with the mixing
}

func (a asked) solve(by layout) (reached, error) {
	wanted, basis := a.ratio, sameBasis(a.target, a.bath, "target")
	if basis == nil {
		wanted = a.wanted()
	}
	if err := errors.Join(a.faults(), basis, ratioFault(wanted, a.ratio.Known())); err != nil {
		return reached{}, err
	}
	if a.water.Known() {
		return a.fromWater(by), nil
	}
	ideal := wanted
	if a.mixing.Known() {
		ideal = working.Compute(working.Formula{Line: "R = r / m"}, func(c working.Case) float64 {
			return wanted.At(c) / a.mixing.At(c)
		}, wanted.As("r", "wanted ratio"), a.mixing.As("m", "mixing"))
	}
	q := working.Compute(working.Formula{Line: by.forWater, Ref: by.ref}, func(c working.Case) float64 {
		return by.flow(ideal.At(c))
	}, append([]working.Term{ideal.As("R", "ratio at full mixing")}, by.stages...)...).WithCaveats(a.caveats()...)
	water := working.Compute(working.Formula{Line: "Q = q × D", Unit: "L/h"}, func(c working.Case) quantity.Flow {
		return quantity.Flow(q.At(c)) * a.dragOut.At(c)
	}, q.As("q", "water for each volume of drag-out"), a.dragOut.As("D", "drag-out"))
	return reached{water: water, q: q, ratio: wanted}, nil
}

func (a asked) fromWater(by layout) reached {
	q := working.Compute(working.Formula{Line: "q = Q / D"}, func(c working.Case) float64 {
		return float64(a.water.At(c) / a.dragOut.At(c))
	}, a.water.As("Q", "water"), a.dragOut.As("D", "drag-out")).WithCaveats(a.caveats()...)
	ratio := working.Compute(working.Formula{Line: by.forRatio, Ref: by.ref}, func(c working.Case) float64 {
		return by.ratio(q.At(c))
	}, append([]working.Term{q.As("q", "water for each volume of drag-out")}, by.stages...)...)
	if !a.mixing.Known() {
		return reached{water: a.water, q: q, ratio: ratio}
	}
	ideal := ratio
	ratio = working.Compute(working.Formula{Line: "r = m × R, at least 1"}, func(c working.Case) float64 {
		return max(1, a.mixing.At(c)*ideal.At(c))
	}, a.mixing.As("m", "mixing"), ideal.As("R", "ratio at full mixing"))
	for _, c := range cases {
		if ratio.Known() && a.mixing.At(c)*ideal.At(c) < 1 {
			ratio = ratio.WithCaveats(cannotMix)
		}
	}
	return reached{water: a.water, q: q, ratio: ratio}
}

// wanted is the ratio asked for, by itself or as that of two concentrations.
func (a asked) wanted() working.Estimate[float64] {
	if a.ratio.Known() || !a.target.Known() {
		return a.ratio
	}
	return working.Compute(working.Formula{Line: "r = C0 / C"}, func(c working.Case) float64 {
		part, _ := partOf(a.target.At(c), a.bath.At(c)) // the bases were compared
		return 1 / part
	}, a.bath.As("C0", "concentration in the bath"), a.target.As("C", "wanted in the rinse"))
}

func (a asked) caveats() []working.Caveat {
	if a.mixing.Known() {
		return []working.Caveat{thisWet, mixedBy}
	}
	return []working.Caveat{thisWet, fullyMixed}
}

func (a asked) faults() error {
	faults := []error{a.askedOnce()}
	if a.water.Known() {
		faults = append(faults, dragOutFault(a.dragOut))
	}
	if a.mixing.Known() && (lowest(a.mixing) <= 0 || highest(a.mixing) > 1) {
		faults = append(faults, &working.Fault{Where: "mixing", What: "a rinse mixes to more than 0 % and at most 100 %", Mend: `give the share of the ideal ratio that it reaches: mixing="80 %"`})
	}
	return errors.Join(faults...)
}

// dragOutFault refuses a drag-out that no ratio can be taken of. One that is not
// known is no fault: the results are then not known either.
func dragOutFault(dragOut working.Estimate[quantity.Flow]) error {
	if !dragOut.Known() || lowest(dragOut) > 0 {
		return nil
	}
	return &working.Fault{Where: "drag_out", What: "with a drag-out of zero there is nothing to rinse and no ratio", Mend: `give the drag-out: drag_out="2 L/h"`}
}

// askedOnce refuses both a flow and a wanted ratio, and neither.
func (a asked) askedOnce() error {
	byRatio := a.ratio.Known() || a.target.Known()
	switch {
	case a.water.Known() && byRatio:
		return &working.Fault{Where: "water", What: "both a flow of water and a wanted ratio or target are given", Mend: "give the water to learn the ratio, or the ratio to learn the water"}
	case a.ratio.Known() && a.target.Known():
		return &working.Fault{Where: "target", What: "both a ratio and a target are given", Mend: "give one of them"}
	case a.target.Known() && !a.bath.Known():
		return &working.Fault{Where: "bath", What: "a target is given without the concentration in the bath", Mend: `give bath="70 g/L"`}
	case !a.water.Known() && !byRatio:
		return &working.Fault{Where: "water", What: "neither water nor a wanted ratio is given", Mend: `give water="10 L/min" to learn the ratio, or ratio=1000 to learn the water`}
	}
	return nil
}

func ratioFault(wanted working.Estimate[float64], byItself bool) error {
	switch {
	case !wanted.Known():
		return nil
	case lowest(wanted) >= 1 && !math.IsInf(highest(wanted), 0):
		return nil
	case byItself:
		return &working.Fault{Where: "ratio", What: "no rinse is stronger than its bath: a ratio is 1 or more", Mend: `give how many times weaker than the bath the rinse shall be: ratio=1000`}
	case math.IsInf(highest(wanted), 0):
		return &working.Fault{Where: "target", What: "a target of zero takes endless water", Mend: `give what the rinse may hold: target="37 mg/L"`}
	}
	return &working.Fault{Where: "target", What: "the bath holds no more than the target", Mend: "check both concentrations; there is nothing to rinse"}
}

// sameBasis refuses two concentrations that do not compare without a density
// or a molar mass.
func sameBasis(c, bath working.Estimate[quantity.BathConcentration], where string) error {
	if !c.Known() || !bath.Known() {
		return nil
	}
	if _, same := partOf(c.Is(), bath.Is()); same {
		return nil
	}
	return &working.Fault{Where: where, What: c.Text() + " is on another basis than the bath, " + bath.Text(), Mend: "give both in the same unit"}
}

// partOf is a concentration as a part of that in the bath, if both are on the
// same basis.
func partOf(c, bath quantity.BathConcentration) (float64, bool) {
	unit := quantity.Unit(bath, quantity.Metric)
	part, err := quantity.In(c, unit)
	whole, bad := quantity.In(bath, unit)
	return part / whole, err == nil && bad == nil
}

// diluted is a part of the concentration in a bath, on the bath's basis.
func diluted(bath quantity.BathConcentration, part float64) quantity.BathConcentration {
	if grams, byMass := bath.GramsPerLitre(); byMass {
		return quantity.GramsPerLitre(grams * part)
	}
	unit := quantity.Unit(bath, quantity.Metric)
	whole, err := quantity.In(bath, unit)
	if err != nil {
		panic("rinse: " + err.Error()) // the unit is the quantity's own
	}
	if whole*part < leastStated {
		part = 0
	}
	weak, err := quantity.Parse[quantity.BathConcentration](quantity.Plain(whole*part) + " " + unit)
	if err != nil {
		panic("rinse: " + err.Error()) // a part of what was believed is believed
	}
	return weak
}

// leastStated is the least figure that the quantities take; what is less is
// none of it.
const leastStated = 1e-15

// rinseUnit is the unit in which the working prints what a rinse behind a bath
// holds.
func rinseUnit(bath working.Estimate[quantity.BathConcentration]) string {
	if !bath.Known() {
		return ""
	}
	if _, byMass := bath.Is().GramsPerLitre(); byMass {
		return "mg/L"
	}
	return quantity.Unit(bath.Is(), quantity.Metric)
}

func stagesFault(stages working.Estimate[int], where string) error {
	if stages.Known() && stages.Is() >= 1 && stages.Is() <= mostStages {
		return nil
	}
	what := "it is not given"
	if stages.Known() {
		what = strconv.Itoa(stages.Is()) + " of them are no rinse that is worked out here"
	}
	return &working.Fault{Where: where, What: what, Mend: "give a number of tanks from 1 to " + strconv.Itoa(mostStages)}
}

var cases = [...]working.Case{working.Likely, working.Low, working.High}

// lowest is the least of the three cases.
func lowest[Q ~float64](e working.Estimate[Q]) Q {
	return min(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}

// highest is the greatest of the three cases.
func highest[Q ~float64](e working.Estimate[Q]) Q {
	return max(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}
