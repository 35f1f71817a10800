// Package fume works out what rises from a tank.
//
// It covers the water that a heated tank loses, as the range between two
// published sources. Their constants stand in water_loss.csv.
//
// Not covered yet: mist, vapours other than water, hydrogen, and what an exhaust
// has to move. Both sources hold for water and plating solutions in a room
// without a hood; air drawn over the tank raises the loss.
package fume

import (
	"math"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

const (
	twoSources   working.Caveat = "low and high are two published sources that disagree; the room's air, a hood, floating cover and dissolved salts move the loss beyond both"
	stillFigure  working.Caveat = "the figure of EPA 625/8-82-008 is for a still surface; for an air-agitated tank it stands as the other end of the range"
	interpolated working.Caveat = "between its readings at 80 and 180 °F the figure of EPA 625/8-82-008 is interpolated by us, straight in the logarithm"
	oneSource    working.Caveat = "outside of 80 to 180 °F only one of the two sources speaks, and it prints no range of its own: low and high are its figure alone, which does not mean that the loss is known that well"
	eitherWay    working.Caveat = "it is not known whether air moves the tank: the range is that of still and air-agitated tanks together"
)

// WaterLoss is a tank that loses water to the room.
type WaterLoss struct {
	Temperature working.Estimate[quantity.Temperature]
	Area        working.Estimate[quantity.Area] // of the surface
	Agitated    working.Estimate[bool]          // by air
}

// WaterLossResult is the water lost, as the range of the sources.
type WaterLossResult struct {
	Low  working.Estimate[quantity.Flow]
	High working.Estimate[quantity.Flow]
}

// Solve gives the water lost, low and high.
//
//	E = e^(b × t − a), E in gal/h·ft², t in °F
//	E = E1 × (E2 / E1)^((t − t1) / (t2 − t1))
//	Q = E × A
//
// E evaporation, t temperature of the tank, a and b constants for still and for
// air-agitated tanks, E1 and E2 readings at t1 = 80 and t2 = 180 °F, A surface,
// Q water lost.
//
// Source: Kirman's equations (plating forum, 2002), and EPA 625/8-82-008, 1982,
// Figure 5, as quoted in Products Finishing, 2008; the way between its readings
// is ours. They are 70 % apart at 80 °F and 19 % at 180 °F. Range: below the
// boiling point of water; the EPA's readings are not carried beyond 80 to 180 °F.
// Left out: hoods, covers, dissolved salts, the air of the room.
func (d WaterLoss) Solve() (WaterLossResult, error) {
	if d.Temperature.Known() && d.extreme(true) >= boiling {
		return WaterLossResult{}, &working.Fault{
			Where: "temperature", What: "at " + d.Temperature.Text() + " water boils, and no evaporation is published", Mend: `give the temperature of the tank: temperature="60 °C"`,
		}
	}
	var rates []working.Estimate[quantity.Evaporation]
	w := published()
	if !d.Agitated.Known() || !d.Agitated.Is() {
		rates = append(rates, d.kirman(w.still, "still"))
	}
	if !d.Agitated.Known() || d.Agitated.Is() {
		rates = append(rates, d.kirman(w.agitated, "air-agitated"))
	}
	cool, hot := w.figure[0], w.figure[1]
	within := d.Temperature.Known() && d.extreme(false) >= cool.temperature.Is() && d.extreme(true) <= hot.temperature.Is()
	if within {
		rates = append(rates, d.figure(cool, hot))
	}
	caveats := d.caveats(within)
	return WaterLossResult{
		Low:  d.loss("low: Q = the least E × A", rates, func(a, b quantity.Evaporation) quantity.Evaporation { return min(a, b) }).WithCaveats(caveats...),
		High: d.loss("high: Q = the greatest E × A", rates, func(a, b quantity.Evaporation) quantity.Evaporation { return max(a, b) }).WithCaveats(caveats...),
	}, nil
}

// boiling is where water boils at sea level, by the scale of its temperature.
const boiling = 100 * quantity.DegreeCelsius

func (d WaterLoss) caveats(within bool) []working.Caveat {
	var all []working.Caveat
	if !d.Agitated.Known() {
		all = append(all, eitherWay)
	}
	if within {
		all = append(all, twoSources, interpolated)
		if d.Agitated.Known() && d.Agitated.Is() {
			all = append(all, stillFigure)
		}
		return all
	}
	return append(all, oneSource)
}

func (d WaterLoss) kirman(e equation, tank string) working.Estimate[quantity.Evaporation] {
	return working.Compute(working.Formula{Line: "E = e^(b × t − a), " + tank + ", t in °F", Unit: "gal/h·ft²", Ref: e.slope.Ref()},
		func(c working.Case) quantity.Evaporation {
			exponent := e.slope.At(c)*fahrenheit(d.Temperature.At(c)) - e.constant.At(c)
			return quantity.Evaporation(math.Exp(exponent)) * quantity.GallonPerHourSquareFoot
		}, d.Temperature.As("t", "temperature"), e.slope.As("b", "slope"), e.constant.As("a", "constant"))
}

func (d WaterLoss) figure(cool, hot point) working.Estimate[quantity.Evaporation] {
	return working.Compute(working.Formula{Line: "E = E1 × (E2 / E1)^((t − t1) / (t2 − t1)), still", Unit: "gal/h·ft²", Ref: figureInterpolated(cool)},
		func(c working.Case) quantity.Evaporation {
			way := float64((d.Temperature.At(c) - cool.temperature.At(c)) / (hot.temperature.At(c) - cool.temperature.At(c)))
			steps := float64(hot.evaporation.At(c) / cool.evaporation.At(c))
			return cool.evaporation.At(c) * quantity.Evaporation(math.Pow(steps, way))
		}, d.Temperature.As("t", "temperature"),
		cool.temperature.As("t1", "cooler reading"), hot.temperature.As("t2", "hotter reading"),
		cool.evaporation.As("E1", "evaporation at the cooler reading"), hot.evaporation.As("E2", "evaporation at the hotter reading"))
}

// figureInterpolated is the source of the readings with what we did to them.
func figureInterpolated(p point) source.Ref {
	ref := p.evaporation.Ref()
	ref.Place += "; interpolated here"
	return ref
}

func (d WaterLoss) loss(line string, rates []working.Estimate[quantity.Evaporation], pick func(a, b quantity.Evaporation) quantity.Evaporation) working.Estimate[quantity.Flow] {
	return working.Compute(working.Formula{Line: line, Unit: "L/h"}, func(c working.Case) quantity.Flow {
		chosen := rates[0].At(c)
		for _, r := range rates[1:] {
			chosen = pick(chosen, r.At(c))
		}
		return quantity.Flow(chosen.LitresPerHourSquareMetre()*d.Area.At(c).SquareMetres()) * quantity.LitrePerHour
	}, working.AsList(rates, "E", "evaporation by the sources"), d.Area.As("A", "surface"))
}

// extreme is the highest or the lowest temperature of the three cases.
func (d WaterLoss) extreme(highest bool) quantity.Temperature {
	likely, low, high := d.Temperature.At(working.Likely), d.Temperature.At(working.Low), d.Temperature.At(working.High)
	if highest {
		return max(likely, low, high)
	}
	return min(likely, low, high)
}

// fahrenheit reads a temperature in °F, as the equation takes it.
func fahrenheit(t quantity.Temperature) float64 { return t.Celsius()*9/5 + 32 }
