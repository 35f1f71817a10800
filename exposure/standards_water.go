package exposure

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
)

// processWater settles whether process water reaches the point. It is known not
// to where other water is recorded there, none of it regulated, and all tanks
// from which water runs, and all dumps, are known to lead elsewhere. Where that
// is not so it is taken to reach the point: the limits stay.
func (f *standardFacts) processWater(shop *chemicals.Shop, day chemicals.Day) {
	there := f.point.Is.Name.Meaning()
	var other []string
	entry := int64(0)
	for _, o := range chemicals.On[chemicals.OtherWater](shop, day) {
		if o.Is.Point.Meaning() != there {
			continue
		}
		if o.Is.Kind == chemicals.Regulated {
			return
		}
		other, entry = append(other, fmt.Sprintf("%s (%s, entry %d)", o.Is.Name, o.Is.Kind, o.Entry)), o.Entry
	}
	if len(other) == 0 {
		return
	}
	p := plantOn(shop, day)
	if len(p.tanks) == 0 {
		return
	}
	reached, open := p.leadsTo(there, chemicals.Events[chemicals.Dump](shop))
	switch {
	case reached:
	case len(open) > 0:
		f.caveats = append(f.caveats, working.Caveat(fmt.Sprintf("no tank is known to drain to %s, but the book does not say where the water of %s goes; process water is taken to reach the point", f.point.Is.Name, strings.Join(open, ", "))))
	default:
		f.set(factProcessWater, false, StandardReason{
			Says: fmt.Sprintf("no process water reaches %s: every tank drains elsewhere; what comes there is %s", f.point.Is.Name, strings.Join(other, ", ")),
			Fact: "tank, drains to; other-water, point", Entry: entry, Ref: lawRef("40 CFR 433", "433.10(a)"),
		})
	}
}

// leadsTo reports whether water of a tank or a dump leads to a point, and names
// the tanks whose water runs or was dumped to where the book does not say.
func (p *plant) leadsTo(point string, dumps []chemicals.Happened[chemicals.Dump]) (reached bool, open []string) {
	follow := func(tank string, runs bool) {
		w := p.wayFrom(tank)
		name := p.tanks[tank].Is.Name.String()
		switch {
		case !w.loops && w.end.Meaning() == point:
			reached = true
		case runs && !w.point && w.end.Meaning() != chemicals.Haul.Meaning() && !slices.Contains(open, name):
			open = append(open, name)
		}
	}
	for tank := range p.tanks {
		follow(tank, p.runs(tank))
	}
	for _, d := range dumps {
		to, from := d.Is.To.Meaning(), d.Is.Tank
		_, isTank := p.tanks[to]
		_, isPoint := p.points[to]
		switch {
		case to == point:
			reached = true
		case isTank:
			follow(to, false) // if its water runs on, it is followed above
		case d.Is.To.Known():
			if !isPoint && to != chemicals.Haul.Meaning() && !slices.Contains(open, from.String()) {
				open = append(open, from.String())
			}
		default:
			if _, stands := p.tanks[from.Meaning()]; stands {
				follow(from.Meaning(), true)
			}
		}
	}
	slices.Sort(open)
	return reached, open
}

// runs reports whether water runs from a tank by itself: from a rinse that is
// no still one and no resin loop, and from a treatment.
func (p *plant) runs(tank string) bool {
	if r, set := p.rinses[tank]; set {
		return r.Is.Arrangement == chemicals.Running || r.Is.Arrangement == chemicals.Spray
	}
	purpose := p.tanks[tank].Is.Purpose
	return purpose == chemicals.RinseWork || purpose == chemicals.Treat
}
