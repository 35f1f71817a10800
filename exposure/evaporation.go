package exposure

import (
	"math"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/fume"
)

// Evaporation is the water that a heated tank loses while it is heated, as the
// range of two published sources.
type Evaporation struct {
	Tank  chemicals.Name
	Hours working.Estimate[quantity.Duration] // heated, on a working day
	Low   working.Estimate[quantity.Flow]
	High  working.Estimate[quantity.Flow]
	Day   working.Estimate[quantity.Volume] // of a working day: low, middle, high
}

// Evaporations are those of every tank on the last day of the period that is
// heated and whose surface is known.
func (water *Water) Evaporations() []Evaporation {
	var all []Evaporation
	for _, t := range chemicals.On[chemicals.Tank](water.w.shop, water.Period.Last) {
		if e, ok := evaporation(t); ok {
			all = append(all, e)
		}
	}
	return all
}

func evaporation(t chemicals.Held[chemicals.Tank]) (Evaporation, bool) {
	area := surface(t)
	if !t.Is.Temperature.Known() || !t.Is.HeatedHours.Known() || !area.Known() {
		return Evaporation{}, false
	}
	agitated := working.Given(source.Value[bool]{Is: t.Is.Agitation == "air", Origin: source.Recorded, Ref: source.Entry(t.Entry)}, "agitation: "+string(t.Is.Agitation))
	r, err := fume.WaterLoss{Temperature: stated(t.Is.Temperature, t.Entry, ""), Area: area, Agitated: agitated}.Solve()
	if err != nil || !r.Low.Known() || !r.High.Known() {
		return Evaporation{}, false
	}
	e := Evaporation{Tank: t.Is.Name, Hours: stated(t.Is.HeatedHours, t.Entry, ""), Low: r.Low, High: r.High}
	e.Day = working.Compute(working.Formula{Line: "E = (low + high) / 2 × h, between low × h and high × h", Unit: "L"}, func(c working.Case) quantity.Volume {
		low, high := r.Low.Is().LitresPerHour(), r.High.Is().LitresPerHour()
		perHour := map[working.Case]float64{working.Low: low, working.Likely: (low + high) / 2, working.High: high}[c]
		return quantity.Volume(perHour*e.Hours.At(c).Hours()) * quantity.Litre
	}, between(r.Low, r.High).As("low, high", "water lost"), e.Hours.As("h", "heated hours")).WithCaveats("loss while heated; a tank that cools loses more, a cover or a closed lid less")
	return e, true
}

// between joins two estimates to one with bounds.
func between(low, high working.Estimate[quantity.Flow]) working.Estimate[quantity.Flow] {
	middle := (low.Is() + high.Is()) / 2
	joined := working.Compute(working.Formula{Line: "middle of low and high", Unit: "L/h"}, func(working.Case) quantity.Flow { return middle },
		low.As("low", "the lesser source"), high.As("high", "the greater source"))
	return joined.Between(low.Is(), high.Is(), low.Text()+" to "+high.Text())
}

// surface is the surface of a tank's solution.
func surface(t chemicals.Held[chemicals.Tank]) working.Estimate[quantity.Area] {
	length, width := stated(t.Is.Length, t.Entry, "no length is recorded"), stated(t.Is.Width, t.Entry, "no width is recorded")
	if t.Is.Diameter.Known() {
		diameter := stated(t.Is.Diameter, t.Entry, "")
		return working.Compute(working.Formula{Line: "A = π × d² / 4", Unit: "m²"}, func(c working.Case) quantity.Area {
			return quantity.Area(math.Pi/4*math.Pow(diameter.At(c).Metres(), 2)) * quantity.SquareMetre
		}, diameter.As("d", "diameter"))
	}
	return working.Compute(working.Formula{Line: "A = l × b", Unit: "m²"}, func(c working.Case) quantity.Area {
		return quantity.Area(length.At(c).Metres()*width.At(c).Metres()) * quantity.SquareMetre
	}, length.As("l", "length"), width.As("b", "width"))
}
