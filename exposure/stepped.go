package exposure

import (
	"fmt"
	"math"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/rinse"
)

// stepped is the flow, in L/h, by which the plan goes for a rinse: that of the
// steady state, or where its water would turn over slower than a working day
// the one that also holds what is wanted of the last stage after the heaviest
// recorded day, from rest and load by load. The note says which.
func (b *planner) stepped(c rinseCase, stages int, steady float64) (litresPerHour float64, note string) {
	tank := b.w.tank(c.use.Tanks[0].Meaning())
	if !tank.Is.WorkingVolume.Known() || steady <= 0 || c.use.HeavyLoads == 0 {
		return steady, ""
	}
	volume := tank.Is.WorkingVolume.Is().Litres()
	if volume/steady <= c.hours {
		return steady, ""
	}
	wanted := 1 / c.use.Wanted.At(working.High)
	after := func(flow float64) float64 { return b.lastAfterHeavyDay(c, stages, volume, flow) }
	flow := steady
	const turns = 40 // of halving: to far below what a valve can be set to
	if after(flow) > wanted {
		low, high := flow, flow*2
		for after(high) > wanted && high < flow*math.Exp2(turns) {
			low, high = high, high*2
		}
		for range turns {
			if middle := (low + high) / 2; after(middle) > wanted {
				low = middle
			} else {
				high = middle
			}
		}
		flow = high
	}
	which := "that of the steady state, which holds"
	if flow > steady {
		which = fmt.Sprintf("more than the %s of the steady state, to hold", b.print(quantity.Flow(steady)*quantity.LitrePerHour))
	}
	return flow, fmt.Sprintf("at that flow the water of a stage turns over in %s h, longer than the %s h that it runs on a day; the flow is %s what is wanted after the heaviest day, %s",
		quantity.Significant(volume/flow, 3), quantity.Significant(c.hours, 2), which, c.use.HeaviestDay)
}

// lastAfterHeavyDay is the part of what comes in that the last stage holds
// after the heaviest day, with the high drag-in.
func (b *planner) lastAfterHeavyDay(c rinseCase, stages int, volume, litresPerHour float64) float64 {
	day, err := rinse.Day{
		Volume: taken(quantity.Volume(volume) * quantity.Litre), Stages: taken(stages), Loads: taken(c.use.HeavyLoads),
		DragIn: taken(quantity.LoadVolume(c.use.Heaviest.At(working.High).Litres()/float64(c.use.HeavyLoads)) * quantity.LitrePerLoad),
		Flow:   taken(quantity.Flow(litresPerHour) * quantity.LitrePerHour), Hours: taken(quantity.Duration(c.hours) * quantity.Hour),
		Bath: taken(quantity.GramsPerLitre(1)),
	}.Solve()
	if err != nil || len(day.Concentrations) == 0 {
		return 0
	}
	return grams(day.Concentrations[len(day.Concentrations)-1], working.Likely)
}

// taken is a figure of a search, whose working is not shown.
func taken[Q any](is Q) working.Estimate[Q] {
	return working.Given(source.Value[Q]{Is: is, Origin: source.Computed}, "")
}
