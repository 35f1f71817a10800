package exposure

import (
	"cmp"
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
)

// dumpWays are those for tanks whose dumps reach a point.
func (b *planner) dumpWays() []Way {
	var ways []Way
	for _, p := range b.water.Points {
		for _, s := range p.Whole.From {
			tank := s.Tank.Meaning()
			volume := b.dumped(tank)
			if _, stands := b.w.epochs.on(b.water.Period.Last).tanks[tank]; !stands || volume == 0 {
				continue
			}
			ways = append(ways, b.dumpWay(p, tank, volume, HoldAndHaul))
			if b.w.pools[tank] != nil {
				ways = append(ways, b.dumpWay(p, tank, volume, BackToBath))
			}
		}
	}
	return ways
}

// dumped is what the period's dumps of a tank came to, in L.
func (b *planner) dumped(tank string) float64 {
	litres := 0.0
	plant := b.w.epochs.on(b.water.Period.Last)
	for _, d := range chemicals.Events[chemicals.Dump](b.w.shop) {
		if d.Is.Tank.Meaning() != tank || !b.water.Period.Holds(d.Date) {
			continue
		}
		to := cmp.Or(d.Is.To, plant.next(tank))
		if _, isTank := plant.tanks[to.Meaning()]; isTank && !plant.wayFrom(to.Meaning()).point {
			continue
		}
		if to.Meaning() != chemicals.Haul.Meaning() {
			litres += d.Is.Volume.Is().Litres()
		}
	}
	return litres
}

func (b *planner) dumpWay(p PointUse, tank string, litres float64, kind WayKind) Way {
	w := Way{Of: []chemicals.Name{b.w.tank(tank).Is.Name}, Dump: true, Kind: kind, Kept: make([]Spread, len(p.Metals)), change: change{dump: tank, flow: -1}}
	for m, grams := range sent(p, tank) {
		w.Kept[m] = grams.times(b.perYear)
	}
	if kind == HoldAndHaul {
		w.Hauled = litres * b.perYear
		w.What = fmt.Sprintf("what is dumped from it, %s in the period, is held and hauled", b.litres(litres))
		w.Needs = []string{"drums or a hold tank of its own, and a hauler who takes it"}
		return b.judged(w, p)
	}
	bath := b.bathBefore(tank)
	w.What = fmt.Sprintf("what is dumped from it, %s in the period, goes back into %s", b.litres(litres), bath.Is.Name)
	w.change.toBath = bath.Is.Name.Meaning()
	loss, known := b.loss[bath.Is.Name.Meaning()]
	takes := 0.0
	if known {
		takes = loss.Day.At(working.Low).Litres() * float64(len(b.water.Days))
	}
	switch {
	case bath.Is.Name == "":
		w.LeftOut = "no one bath before it is known"
	case slices.Contains(b.rules.fouled, bath.Is.Purpose):
		w.LeftOut = "a bath that " + string(bath.Is.Purpose) + "s is fouled by what comes back"
	case !known:
		w.Open = "how much water " + bath.Is.Name.String() + " loses is not known: record its temperature, heated hours, length and width"
	case takes < litres:
		w.LeftOut = fmt.Sprintf("%s loses %s of water in the period by the low estimate, less than that", bath.Is.Name, b.litres(takes))
	}
	w.Notes = append(w.Notes, "what fouls the bath comes back too: brightener breakdown, dissolved work, drag-in")
	return b.judged(w, p)
}

func (b *planner) bathBefore(rinse string) chemicals.Held[chemicals.Tank] {
	for _, r := range b.water.Rinses {
		if r.Tanks[0].Meaning() == rinse {
			return b.w.tank(r.After.Meaning())
		}
	}
	return chemicals.Held[chemicals.Tank]{}
}
