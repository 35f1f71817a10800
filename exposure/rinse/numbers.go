package rinse

import (
	"math"

	"bathwarden/chemicals/working"
)

// Ratio is the ratio at full mixing of a counterflow with q of water for each
// volume of drag-out, the formula of Counterflow without its working, for walks
// over many days.
func Ratio(q float64, stages int) float64 { return powers(q, stages) }

// Sprayed is the ratio of a spray with q of water for each volume of drag-out
// and an effect, the formula of Spray without its working.
func Sprayed(effect, q float64) float64 { return math.Exp(effect * q) }

// StillMass is what a still rinse of a volume V holds after some loads that
// together bring a mass and a volume d, when it held a mass before. Masses are in
// one unit, volumes in one unit; what is neither there nor held before went on
// with the work.
//
//	M(N) = M(0) × a^N + m × V/d × (1 − a^N), a = V / (V + d/N)
//
// Source: the mass balance of Still, from a rinse that is not clean, for drag-in
// of any strength.
func StillMass(before, mass, volume, d float64, loads int) float64 {
	if d <= 0 {
		return before + mass
	}
	n := float64(loads)
	kept := math.Exp(-n * math.Log1p(d/n/volume))
	return before*kept + mass*volume/d*(1-kept)
}

// SprayEffect are the two ends of the effect of a spray, from criteria.csv.
func SprayEffect() (least, most working.Estimate[float64]) {
	return published().spray.Least, published().spray.Most
}
