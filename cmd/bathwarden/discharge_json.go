package main

import (
	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

// dischargeJSON is what printDischarge shows, as figures, but for the shares of
// results over a limit and the reasons of the rule that binds.
func dischargeJSON(w waterSide) map[string]any {
	points, limits, clocks := []map[string]any{}, []map[string]any{}, []map[string]any{}
	for _, p := range w.water.Points {
		points = append(points, pointJSON(p))
	}
	for _, l := range w.results.Limits {
		one := limitJSON(l)
		one["basis"], one["strictest"], one["at_treatment_works"], one["source"] = l.Basis, l.Strictest, l.AtWorks, l.Ref.String()
		limits = append(limits, one)
	}
	for _, c := range w.results.Clocks {
		clocks = append(clocks, map[string]any{"about": c.About, "duty": c.Duty.String(), "state": c.State.String(), "due": c.Due.String(), "closed_by": c.ClosedBy})
	}
	return map[string]any{
		"period": w.water.Period.String(), "points": points, "limits": limits, "clocks": clocks,
		"combined": combinedJSON(w.combined), "cyanide": cyanideJSON(w.water.CyanideLimits(w.results.Limits)),
		"samples": samplesJSON(w.water.Ratios(w.results)), "calibrations": calibrationsJSON(w.water.Calibrations),
		"balances": balancesJSON(w.water.Balances(w.holdings)),
	}
}

func pointJSON(p exposure.PointUse) map[string]any {
	metals := map[string]any{}
	for m, metal := range p.Metals {
		one := map[string]any{"mass": spreadJSON(p.Whole.Grams[m], "g")}
		if mean, ok := p.Whole.MilligramsPerLitre(m); ok {
			one["mean"] = spreadJSON(mean, "mg/L")
		}
		if worst := worstJSON(p, m); len(worst) > 0 {
			one["worst"] = worst
		}
		metals[metal] = one
	}
	return map[string]any{"point": p.Point.Is.Name, "water": map[string]any{"value": p.Whole.Water.CubicMetres(), "unit": "m³"}, "metals": metals}
}

func limitJSON(l exposure.LimitInForce) map[string]any {
	return map[string]any{"point": l.Point, "pollutant": l.Pollutant, "rule": l.Rule, "value": l.Text, "if": l.If}
}

func combinedJSON(all []exposure.CombinedLimit) []map[string]any {
	list := []map[string]any{}
	for _, c := range all {
		one := limitJSON(c.Limit)
		one["waters"], one["combined"] = c.Waters, estimateJSON(c.Result, "mg/L")
		list = append(list, one)
	}
	return list
}

func cyanideJSON(c exposure.CyanideLimits) []map[string]any {
	list := []map[string]any{}
	for _, l := range c.Limits {
		one := limitJSON(l.Limit)
		one["baths"], one["rinses"] = l.Baths, l.Rinses
		one["bears_cyanide"], one["effluent"], one["adjusted"] = estimateJSON(l.Bearing, "L/day"), estimateJSON(l.Effluent, "L/day"), estimateJSON(l.Result, "mg/L")
		list = append(list, one)
	}
	return list
}

func samplesJSON(all []exposure.SampleRatio) []map[string]any {
	list := []map[string]any{}
	for _, r := range all {
		one := map[string]any{"point": r.Point, "metal": r.Metal, "day": r.Day, "own": r.Own, "entries": r.Entries, "result": r.Result, "at_most": r.Less}
		if r.Why != "" {
			one["why"] = r.Why
		} else {
			one["estimate"], one["ratio"] = spreadJSON(r.Estimate, "mg/L"), spreadJSON(r.Ratio, "")
		}
		list = append(list, one)
	}
	return list
}

func balancesJSON(all []exposure.Balance) []map[string]any {
	list := []map[string]any{}
	for _, b := range all {
		lines := []map[string]any{}
		for _, l := range b.Lines {
			one := map[string]any{"what": l.What, "comes": l.Comes, "how": l.How}
			if l.Why != "" {
				one["why"] = l.Why
			} else {
				one["mass"] = spreadJSON(l.Grams, "g")
			}
			lines = append(lines, one)
		}
		list = append(list, map[string]any{"metal": b.Metal, "lines": lines, "unexplained": spreadJSON(b.Unexplained, "g"), "open": b.Open, "shipped_by_assay": spreadJSON(b.Shipped, "g")})
	}
	return list
}

// worstJSON is the worst day, set of four days and month of a metal; one that
// there is not is left out.
func worstJSON(p exposure.PointUse, metal int) map[string]any {
	all := map[string]any{}
	for _, of := range averaging {
		span, ok := p.Worst(metal, of.rule, chemicals.ByConcentration)
		if !ok || p.Whole.Grams[metal] == (exposure.Spread{}) {
			continue
		}
		mean, _ := span.MilligramsPerLitre(metal)
		all[of.field] = map[string]any{"first": span.Period.First, "last": span.Period.Last, "days_with_water": span.Days, "mean": spreadJSON(mean, "mg/L")}
	}
	return all
}

func calibrationsJSON(all []exposure.Calibration) []map[string]any {
	list := []map[string]any{}
	for _, c := range all {
		ratio := map[string]any{"value": c.Ratio.Is(), "low": c.Ratio.At(working.Low), "high": c.Ratio.At(working.High)}
		list = append(list, map[string]any{"tank": c.Tank, "point": c.Point, "metal": c.Metal, "days": c.Days, "entries": c.Entries, "ratio": ratio})
	}
	return list
}
