package exposure

import (
	"fmt"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// HoldUse is a tank that holds waste until it is hauled, and when it is full.
type HoldUse struct {
	Tank    chemicals.Held[chemicals.Tank]
	Level   *chemicals.Happened[chemicals.LevelRead] // the last; nil for none
	Days    int                                      // with work, over which the filling is averaged
	Filling working.Estimate[quantity.Volume]        // on a day with work
	Full    chemicals.Day                            // empty where it cannot be told
	Why     string                                   // it cannot be told
}

// holds are the hold tanks whose content is hauled or whose level is read.
func (b *planner) holds() []HoldUse {
	var all []HoldUse
	plant := b.w.epochs.on(b.water.Period.Last)
	for _, tank := range sortedKeys(plant.tanks) {
		t := plant.tanks[tank]
		if t.Is.Purpose != chemicals.Hold {
			continue
		}
		use := HoldUse{Tank: t, Level: b.lastLevel(tank)}
		b.fill(&use, tank)
		all = append(all, use)
	}
	return all
}

func (b *planner) lastLevel(tank string) *chemicals.Happened[chemicals.LevelRead] {
	var last *chemicals.Happened[chemicals.LevelRead]
	for _, l := range chemicals.Events[chemicals.LevelRead](b.w.shop) {
		if l.Is.Tank.Meaning() == tank {
			last = &l
		}
	}
	return last
}

// fill averages what came into a tank over the last days with work and says
// when it is full, at the pace of the calendar.
func (b *planner) fill(use *HoldUse, tank string) {
	use.Filling = working.Absent[quantity.Volume]("no work is recorded")
	days := b.water.Days
	if n := len(days); n > b.rules.filling {
		days = days[n-b.rules.filling:]
	}
	if use.Days = len(days); use.Days == 0 {
		use.Why = "no work is recorded"
		return
	}
	litres := 0.0
	for _, day := range sortedDays(b.w.inflow[tank]) {
		if day >= days[0] && day <= days[len(days)-1] {
			litres += b.w.inflow[tank][day]
		}
	}
	use.Filling = computedVolume(quantity.Volume(litres/float64(use.Days))*quantity.Litre, fmt.Sprintf("mean of the last %d days with work", use.Days))
	switch {
	case !use.Tank.Is.DrainsTo.Known() || use.Tank.Is.DrainsTo.Meaning() != chemicals.Haul.Meaning():
		use.Why = "what flows into it flows on to " + use.Tank.Is.DrainsTo.String()
	case use.Level == nil:
		use.Why = "no level of it was read"
	case !use.Tank.Is.WorkingVolume.Known():
		use.Why = "its working volume is not recorded"
	case litres == 0:
		use.Why = "nothing came into it on those days"
	default:
		left := use.Tank.Is.WorkingVolume.Is().Litres() - use.Level.Is.Volume.Is().Litres()
		span := float64(days[len(days)-1].Since(days[0]) + 1)
		use.Full = use.Level.Date.Add(max(0, int(left/(litres/span))))
	}
}
