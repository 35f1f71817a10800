package exposure

import (
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// SampleRatio is a day's sampled value of a metal beside the estimate of that
// day.
type SampleRatio struct {
	Point    chemicals.Name
	Metal    string
	Day      chemicals.Day
	Own      bool
	Entries  []int64
	Result   string // "0.31 mg/L"
	Sampled  float64
	Estimate Spread // mg/L
	Ratio    Spread // sampled over estimate; all zero where there is no estimate
	Less     bool   // nothing was found: the result and the ratio are at most that
	Why      string // there is no ratio
	// Calibrates is the bath whose film the ratio could tell, where one tank alone
	// carries the metal to a point without treatment; empty where it stays a
	// disagreement that is shown and changes nothing.
	Calibrates chemicals.Name
}

// Says is the ratio in words.
func (r SampleRatio) Says() string {
	if r.Why != "" {
		return r.Why
	}
	text := quantity.Significant(r.Ratio[working.Likely], 2)
	if r.Ratio[working.Low] != r.Ratio[working.High] {
		text += fmt.Sprintf(" (%s to %s)", quantity.Significant(min(r.Ratio[working.Low], r.Ratio[working.High]), 2), quantity.Significant(max(r.Ratio[working.Low], r.Ratio[working.High]), 2))
	}
	if r.Less {
		return "at most " + text
	}
	return text
}

// Ratios puts the sampled values of the period beside the estimates, by point,
// pollutant and day.
func (water *Water) Ratios(results ResultSet) []SampleRatio {
	var all []SampleRatio
	for _, d := range results.Days {
		for _, p := range water.Points {
			m := indexOf(p.Metals, string(d.Pollutant))
			if p.Point.Is.Name.Meaning() != d.Point.Meaning() || m < 0 || !d.Concentration.Known() {
				continue
			}
			all = append(all, water.ratio(p, m, d))
		}
	}
	return all
}

func indexOf(all []string, one string) int {
	for i, s := range all {
		if s == one {
			return i
		}
	}
	return -1
}

func (water *Water) ratio(p PointUse, metal int, d ResultDay) SampleRatio {
	r := SampleRatio{
		Point: d.Point, Metal: p.Metals[metal], Day: d.Day, Own: d.Own, Entries: d.Entries,
		Result: quantity.Print(d.Concentration.Is(), "mg/L", 3), Sampled: d.Concentration.Is().MilligramsPerLitre(),
		Why: "no work or water is recorded on that day", Calibrates: water.calibrates(p, metal, d.Day),
	}
	if r.Less = d.NonDetects > 0; r.Less {
		r.Result = "at most " + r.Result
	}
	for _, day := range p.Days {
		if day.Day != d.Day {
			continue
		}
		estimate, ok := day.MilligramsPerLitre(metal)
		switch {
		case !ok || estimate[working.Likely] <= 0:
			r.Why = "nothing is estimated for that day"
		default:
			r.Estimate, r.Why = estimate, ""
			for c := range estimate {
				if estimate[c] > 0 {
					r.Ratio[c] = r.Sampled / estimate[c]
				}
			}
		}
	}
	return r
}

// calibrates is the bath whose film a sample at a point on a day tells: the one
// that sends the metal there, by its rinse or its dumps, without treatment.
func (water *Water) calibrates(p PointUse, metal int, day chemicals.Day) chemicals.Name {
	plant := water.w.epochs.on(day)
	treats := func(tank string) bool { return plant.tanks[tank].Is.Purpose == chemicals.Treat }
	var from chemicals.Name
	for _, s := range p.Whole.From {
		if s.Grams[metal] == (Spread{}) {
			continue
		}
		bath := water.bathOf(s, p.Metals[metal])
		if !bath.Known() || from.Known() && bath.Meaning() != from.Meaning() || slices.ContainsFunc(plant.wayFrom(s.Tank.Meaning()).tanks, treats) {
			return ""
		}
		from = bath
	}
	return from
}

// bathOf is the bath whose metal a tank sends: itself, or of a rinse the one that
// the metal comes from; empty where it comes from more.
func (water *Water) bathOf(s Sender, metal string) chemicals.Name {
	r, rinses := water.w.rinses[s.Tank.Meaning()]
	if !rinses {
		return s.Tank
	}
	m := slices.Index(water.w.metals, metal)
	var from chemicals.Name
	for bath := range r.source {
		if a := water.w.tanks[bath]; a == nil || a.out[m] == (Spread{}) {
			continue
		}
		if from.Known() {
			return ""
		}
		from = water.w.tank(bath).Is.Name
	}
	return from
}
