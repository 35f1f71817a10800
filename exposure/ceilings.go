package exposure

import (
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

// CeilingsOf are the limits by concentration that the plan keeps under: of each
// point, metal and rule the strictest that binds, and those that bind only if a
// missing fact is so and are stricter.
func CeilingsOf(limits []LimitInForce, metals []string) []Ceiling {
	var all []Ceiling
	for _, l := range limits {
		metal := string(l.Pollutant)
		release, ok := l.Value.Release()
		if !ok || !slices.Contains(metals, metal) || l.Basis != chemicals.ByConcentration || l.Origin == LimitForComparison || l.Apart != "" {
			continue
		}
		c, byConcentration := release.Concentration()
		if !byConcentration || !l.Strictest && len(l.If) == 0 {
			continue
		}
		all = append(all, Ceiling{Point: l.Point, Metal: metal, Rule: l.Rule, Limit: c.MilligramsPerLitre(), Ref: l.Ref, Entry: l.Entry, Unsure: len(l.If) > 0})
	}
	return all
}

// ProcessFlow is the fresh water into the rinses of the shop, the mean of the
// days with work: the process water that the size of part 413 turns on.
func (water *Water) ProcessFlow() working.Estimate[quantity.Flow] {
	w := water.w
	litres := 0.0
	for _, day := range water.Days {
		p := *w.epochs.on(day)
		p.others = nil
		litres += w.fresh(&p, "shop")
	}
	if litres == 0 {
		return working.Absent[quantity.Flow]("no day with work and a rinse whose flow and hours are recorded lies in the period")
	}
	volume := computedVolume(quantity.Volume(litres)*quantity.Litre, "fresh water into the rinses, flows × hours")
	days := counted(len(water.Days), "days with work")
	return working.Compute(working.Formula{Line: "Q = V / N", Unit: "L/day"}, func(c working.Case) quantity.Flow {
		return quantity.Flow(volume.At(c).Litres()/float64(days.At(c))) * quantity.LitrePerDay
	}, volume.As("V", "process water of the period"), days.As("N", "days with work"))
}

// CombinedLimit is a federal limit with the shop's other waters taken into
// account, where they join before treatment.
type CombinedLimit struct {
	Limit  LimitInForce
	Result working.Estimate[quantity.EffluentConcentration]
	Waters []string // that were taken in
}

// CombinedLimits are the alternative limits of 40 CFR 403.6(e) at points with
// other water. The other water is taken to join before treatment; water that
// joins behind it dilutes, and no limit is raised by it. A user may use them
// only with the authority's written concurrence.
func (water *Water) CombinedLimits(limits []LimitInForce) []CombinedLimit {
	var all []CombinedLimit
	flow := water.ProcessFlow()
	for _, p := range water.Points {
		others, names := water.w.joined(p.Point.Is.Name)
		for _, l := range limits {
			release, ok := l.Value.Release()
			c, byConcentration := release.Concentration()
			if len(others) == 0 || l.Point.Meaning() != p.Point.Is.Name.Meaning() || l.Origin != LimitFederal || !ok || !byConcentration {
				continue
			}
			value := working.Given(source.Value[quantity.EffluentConcentration]{Is: c, Origin: source.Published, Ref: l.Ref}, l.Text)
			streams := append([]discharge.Joined{{Kind: discharge.Regulated, Flow: flow, Limit: value}}, others...)
			one := CombinedLimit{Limit: l, Waters: names, Result: working.Absent[quantity.EffluentConcentration](flow.Why())}
			if r, err := (discharge.Combined{Streams: streams}).Solve(); flow.Known() && err == nil {
				one.Result = r.Limit
			} else if err != nil {
				one.Result = working.Absent[quantity.EffluentConcentration](err.Error())
			}
			all = append(all, one)
		}
	}
	return all
}

// joined are the other waters of a point that are not regulated themselves.
func (w *walker) joined(point chemicals.Name) (streams []discharge.Joined, names []string) {
	for _, o := range w.epochs.on(min(w.shop.Period.Last, w.shop.AsOf)).others {
		if o.Is.Point.Meaning() != point.Meaning() {
			continue
		}
		kind, err := discharge.ParseKind(string(o.Is.Kind))
		if err != nil || kind == discharge.Regulated {
			continue
		}
		flow := stated(o.Is.Flow, o.Entry, "")
		if o.Is.Hours.Known() {
			hours, running := stated(o.Is.Hours, o.Entry, ""), flow
			flow = working.Compute(working.Formula{Line: "Q = q × h", Unit: "L/day"}, func(c working.Case) quantity.Flow {
				return quantity.Flow(running.At(c).LitresPerHour()*hours.At(c).Hours()) * quantity.LitrePerDay
			}, running.As("q", "while it runs"), hours.As("h", "hours on a day of work"))
		}
		streams = append(streams, discharge.Joined{Kind: kind, Flow: flow})
		names = append(names, fmt.Sprintf("%s (%s, %s)", o.Is.Name, o.Is.Kind, o.Is.Flow))
	}
	return streams, names
}
