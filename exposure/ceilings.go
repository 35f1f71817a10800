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
func (water *Water) ProcessFlow() working.Estimate[quantity.Flow] { return water.freshInto("shop") }

// freshInto is the fresh water into rinses, the mean of the days with work: into
// all of the shop, or into those whose water comes to a point.
func (water *Water) freshInto(serves chemicals.Name) working.Estimate[quantity.Flow] {
	w := water.w
	litres := 0.0
	for _, day := range water.Days {
		p := *w.epochs.on(day)
		p.others = nil
		litres += w.fresh(&p, serves)
	}
	if litres == 0 {
		return working.Absent[quantity.Flow]("no day with work and a rinse whose flow and hours are recorded lies in the period")
	}
	return water.perWorkday(litres, "fresh water into the rinses, flows × hours", "process water of the period")
}

// perWorkday is the mean of a day with work of water summed over the period.
func (water *Water) perWorkday(litres float64, how, what string) working.Estimate[quantity.Flow] {
	volume := computedVolume(quantity.Volume(litres)*quantity.Litre, how)
	days := counted(len(water.Days), "days with work")
	return working.Compute(working.Formula{Line: "Q = V / N", Unit: "L/day"}, func(c working.Case) quantity.Flow {
		return quantity.Flow(volume.At(c).Litres()/float64(days.At(c))) * quantity.LitrePerDay
	}, volume.As("V", what), days.As("N", "days with work"))
}

// CombinedLimit is a federal limit with the shop's other waters taken into
// account that join before treatment.
type CombinedLimit struct {
	Limit  LimitInForce
	Result working.Estimate[quantity.EffluentConcentration]
	Waters []string // that were taken in
}

// CombinedLimits are the alternative limits of 40 CFR 403.6(e) at points with
// other water that joins before treatment. Water of which the book does not say
// where it joins is taken to join there. A user may use them only with the
// authority's written concurrence.
func (water *Water) CombinedLimits(limits []LimitInForce) []CombinedLimit {
	var all []CombinedLimit
	for _, p := range water.Points {
		federal := federalAt(p, limits)
		if len(federal) == 0 {
			continue
		}
		flow := water.freshInto(p.Point.Is.Name)
		others, names := water.w.joined(p.Point.Is.Name)
		for _, l := range federal {
			if len(others) == 0 {
				break
			}
			streams := append([]discharge.Joined{{Kind: discharge.Regulated, Flow: flow, Limit: l.concentration()}}, others...)
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

// federalAt are the federal limits by concentration at a point.
func federalAt(p PointUse, limits []LimitInForce) []LimitInForce {
	var found []LimitInForce
	for _, l := range limits {
		if l.Point.Meaning() == p.Point.Is.Name.Meaning() && l.Origin == LimitFederal && l.Basis == chemicals.ByConcentration {
			found = append(found, l)
		}
	}
	return found
}

// concentration is a published limit by concentration.
func (l LimitInForce) concentration() working.Estimate[quantity.EffluentConcentration] {
	release, _ := l.Value.Release()
	c, _ := release.Concentration()
	return working.Given(source.Value[quantity.EffluentConcentration]{Is: c, Origin: source.Published, Ref: l.Ref}, l.Text)
}

// BehindTreatment is other water that the book says to join behind treatment.
type BehindTreatment struct {
	Point  chemicals.Name
	Waters []string
}

// BehindTreatment is the other water, at points with federal limits by
// concentration, that 40 CFR 403.6(e) does not take in: dilution behind
// treatment raises no limit.
func (water *Water) BehindTreatment(limits []LimitInForce) []BehindTreatment {
	var all []BehindTreatment
	for _, p := range water.Points {
		if len(federalAt(p, limits)) == 0 {
			continue
		}
		one := BehindTreatment{Point: p.Point.Is.Name}
		for _, o := range water.w.othersAt(one.Point) {
			if o.Is.Joins == chemicals.BehindTreatment {
				one.Waters = append(one.Waters, otherWater(o.Is, ""))
			}
		}
		if len(one.Waters) > 0 {
			all = append(all, one)
		}
	}
	return all
}

// othersAt are the other waters of a point that are not regulated themselves.
func (w *walker) othersAt(point chemicals.Name) []chemicals.Held[chemicals.OtherWater] {
	var found []chemicals.Held[chemicals.OtherWater]
	for _, o := range w.epochs.on(min(w.shop.Period.Last, w.shop.AsOf)).others {
		if o.Is.Point.Meaning() == point.Meaning() && o.Is.Kind != chemicals.Regulated {
			found = append(found, o)
		}
	}
	return found
}

// otherWater is other water in words, with a note.
func otherWater(o chemicals.OtherWater, note string) string {
	return fmt.Sprintf("%s (%s, %s%s)", o.Name, o.Kind, o.Flow, note)
}

// joined are the other waters of a point that join before treatment.
func (w *walker) joined(point chemicals.Name) (streams []discharge.Joined, names []string) {
	for _, o := range w.othersAt(point) {
		kind, err := discharge.ParseKind(string(o.Is.Kind))
		if err != nil || o.Is.Joins == chemicals.BehindTreatment {
			continue
		}
		note := ""
		if o.Is.Joins == "" {
			note = "; taken to join before treatment because the book does not say"
			w.gap(Gap{Where: "other-water " + o.Is.Name.String(), What: "the book does not say whether it joins before treatment or behind it; taken as before", Mend: "record joins", Entry: o.Entry})
		}
		streams = append(streams, discharge.Joined{Kind: kind, Flow: otherFlow(o)})
		names = append(names, otherWater(o.Is, note))
	}
	return streams, names
}

// otherFlow is other water in a day.
func otherFlow(o chemicals.Held[chemicals.OtherWater]) working.Estimate[quantity.Flow] {
	flow := stated(o.Is.Flow, o.Entry, "")
	if !o.Is.Hours.Known() {
		return flow
	}
	hours := stated(o.Is.Hours, o.Entry, "")
	return working.Compute(working.Formula{Line: "Q = q × h", Unit: "L/day"}, func(c working.Case) quantity.Flow {
		return quantity.Flow(flow.At(c).LitresPerHour()*hours.At(c).Hours()) * quantity.LitrePerDay
	}, flow.As("q", "while it runs"), hours.As("h", "hours on a day of work"))
}
