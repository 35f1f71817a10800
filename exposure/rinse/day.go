package rinse

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// mostLoads bounds the loads of a day: more than ten in each second.
const mostLoads = 1_000_000

const (
	evenly     working.Caveat = "the loads are taken as spread evenly over the hours, the water as running all the while"
	afterLoad  working.Caveat = "the concentrations are those right after the last load, before more water runs: the highest of the day"
	mixesAtOne working.Caveat = "each load is taken to mix fully with the rinse before it leaves"
)

// Day is a day of loads through a counterflow that is clean at its start.
type Day struct {
	Volume working.Estimate[quantity.Volume] // of each stage
	Stages working.Estimate[int]
	DragIn working.Estimate[quantity.LoadVolume] // with each load
	Loads  working.Estimate[int]
	Flow   working.Estimate[quantity.Flow] // of fresh water into the last stage
	Hours  working.Estimate[quantity.Duration]
	Bath   working.Estimate[quantity.BathConcentration]
}

// DayResult is the chain after the last load, from the first stage to the last.
// Turnover is the time in which the flow is the volume of one stage; it is
// absent without a flow.
type DayResult struct {
	Concentrations []working.Estimate[quantity.BathConcentration]
	Turnover       working.Estimate[quantity.Duration]
}

// parts are what the stages hold as parts of the bath.
type parts []float64

// String prints the parts as the working shows them.
func (p parts) String() string {
	texts := make([]string, len(p))
	for i, v := range p {
		texts[i] = strconv.FormatFloat(v, 'g', 4, 64)
	}
	return strings.Join(texts, "; ")
}

// Solve follows the chain load by load.
//
//	with a load:    cj = (V × cj + d × cj−1) / (V + d), c0 = 1, for j from 1 to n
//	between loads:  V × dcj/dt = Q × (cj+1 − cj), c of fresh water 0, for Δt = T / N
//	Cj = cj × C0
//
// V volume of each stage, d drag-in of one load, cj content of stage j as a part
// of the bath, Q flow, T hours, N loads, n stages, C0 concentration in the bath.
// The time between loads is solved exactly: with θ = Q × Δt / V,
// cj(Δt) = e^(−θ) × Σi θ^i/i! × cj+i.
//
// Source: computed here, a mass balance; no published example found. Range: up
// to a million loads, 1 to 50 stages. Left out: pauses in the loads or the water,
// evaporation, water that the work brings from before the bath.
func (d Day) Solve() (DayResult, error) {
	if err := d.faults(); err != nil {
		return DayResult{}, err
	}
	held := working.Compute(working.Formula{Line: "load by load: cj = (V × cj + d × cj−1) / (V + d); between loads: V × dcj/dt = Q × (cj+1 − cj)"},
		func(c working.Case) parts {
			theta := d.Flow.At(c).LitresPerHour() * d.Hours.At(c).Hours() / d.Volume.At(c).Litres() / float64(max(d.Loads.At(c), 1))
			exchanged := d.DragIn.At(c).Litres() / (d.Volume.At(c).Litres() + d.DragIn.At(c).Litres())
			return afterLoads(d.Loads.At(c), exchanged, theta, d.Stages.Is())
		},
		d.Volume.As("V", "volume of each stage"), d.Stages.As("n", "stages"), d.DragIn.As("d", "drag-in of one load"),
		d.Loads.As("N", "loads"), d.Flow.As("Q", "flow of fresh water"), d.Hours.As("T", "hours")).
		WithCaveats(fromClean, thisWet, mixesAtOne, evenly, afterLoad)
	all := make([]working.Estimate[quantity.BathConcentration], d.Stages.Is())
	for j := range all {
		all[j] = working.Compute(working.Formula{Line: fmt.Sprintf("C%d = c%d × C0", j+1, j+1), Unit: rinseUnit(d.Bath)}, func(c working.Case) quantity.BathConcentration {
			return diluted(d.Bath.At(c), held.At(c)[j])
		}, held.As("c", "parts of the bath in the stages"), d.Bath.As("C0", "concentration in the bath"))
	}
	return DayResult{Concentrations: all, Turnover: turnover(d.Volume, d.Flow)}, nil
}

// turnover is the time in which a flow is a volume.
func turnover(volume working.Estimate[quantity.Volume], flow working.Estimate[quantity.Flow]) working.Estimate[quantity.Duration] {
	if flow.Known() && lowest(flow) == 0 {
		return working.Absent[quantity.Duration]("without a flow the water is never turned over")
	}
	return working.Compute(working.Formula{Line: "t = V / Q", Unit: "min"}, func(c working.Case) quantity.Duration {
		return quantity.Duration(volume.At(c).Litres()/flow.At(c).LitresPerHour()) * quantity.Hour
	}, volume.As("V", "volume of each stage"), flow.As("Q", "flow of fresh water"))
}

// afterLoads is what the stages hold right after the last load, as parts of the
// bath: exchanged is the part of a stage that a load exchanges, theta the
// turnovers between two loads.
func afterLoads(loads int, exchanged, theta float64, stages int) parts {
	held := make(parts, stages)
	washed := poisson(theta, stages)
	for load := range loads {
		if load > 0 && theta > 0 {
			held.wash(washed)
		}
		before := 1.0
		for j := range held {
			held[j] += exchanged * (before - held[j])
			before = held[j]
		}
	}
	return held
}

// wash lets the water run: what stage j holds then came from it and from those
// behind it. The weights are all positive, so nothing cancels.
func (p parts) wash(weights []float64) {
	for j := range p {
		sum := 0.0
		for i, c := range p[j:] {
			sum += weights[i] * c
		}
		p[j] = sum
	}
}

// poisson are e^(−θ) × θ^i / i! for i below n.
func poisson(theta float64, n int) []float64 {
	weights := make([]float64, n)
	weight := math.Exp(-theta)
	for i := range weights {
		weights[i] = weight
		weight *= theta / float64(i+1)
	}
	return weights
}

func (d Day) faults() error {
	faults := []error{stagesFault(d.Stages, "stages"), volumeFault(d.Volume, d.DragIn)}
	if d.Loads.Known() && d.Loads.Is() > mostLoads {
		faults = append(faults, &working.Fault{Where: "loads", What: "no day has " + strconv.Itoa(d.Loads.Is()) + " loads", Mend: "give the loads of one day, at most " + strconv.Itoa(mostLoads)})
	}
	return errors.Join(faults...)
}
