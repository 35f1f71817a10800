package main

import (
	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/recordbook"
	"bathwarden/exposure"
)

// readWater reads the shop with the events that the water side needs: those of
// readFor, and those from which the walk of the period begins.
func readWater(book *recordbook.Book, r recordbook.Reading) (*chemicals.Shop, error) {
	from, err := eventsFrom(book, r)
	if err != nil {
		return nil, err
	}
	r.EventsFrom = min(from, exposure.WalkFrom(r.Period.First))
	return book.Read(r)
}

// waterSide is all that the commands and papers of the water side show.
type waterSide struct {
	water    *exposure.Water
	results  exposure.ResultSet
	combined []exposure.CombinedLimit
	plan     exposure.Plan
	tanks    []exposure.Tank
	holdings []exposure.Holding
}

func waterSideOf(shop *chemicals.Shop, from published, units quantity.System) waterSide {
	w := waterSide{water: exposure.WaterOf(shop, from.Set), tanks: exposure.Tanks(shop, from.Set), holdings: exposure.Holdings(shop, from.Set)}
	w.results = exposure.ResultsOf(shop, from.Set, w.water.ProcessFlow(), 0)
	w.combined = w.water.CombinedLimits(w.results.Limits)
	w.plan = w.water.PlanOf(units, w.tanks, exposure.CeilingsOf(w.results.Limits, w.water.Metals))
	return w
}

// gaps are those of the walk and of the monitoring.
func (w waterSide) gaps() []exposure.Gap {
	return append(w.water.AllGaps(), w.results.Gaps...)
}
