package hazard

import (
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Basis is what it takes to make a share by mass of a concentration.
type Basis struct {
	Solution   quantity.Stated[quantity.Density]   // of the bath
	Ingredient quantity.Stated[quantity.Density]   // for mL/L and % v/v
	MolarMass  quantity.Stated[quantity.MolarMass] // for mol/L and N
}

// ShareOf brings a concentration to a fraction by mass:
//
//	w = c / ρ of the solution       c in g/L, from oz/gal, mL/L (× ρ of the
//	                                ingredient) and mol/L (× M)
//
// Without a density of the solution 1 kg/L is taken, with a caveat that says
// which way that errs. Errors are *working.Fault.
func ShareOf(written string, basis Basis) (float64, []working.Caveat, error) {
	if share, ok := bareShare(written); ok {
		return share, nil, inWhole(written, share)
	}
	stated := new(quantity.Stated[quantity.BathConcentration])
	if err := stated.UnmarshalText([]byte(written)); err != nil {
		return 0, nil, err
	}
	if v, ok := stated.Is().PercentByMass(); ok {
		return v / 100, nil, nil
	}
	grams, err := quantity.Convert(written, "g/L", quantity.Bridge{Density: basis.Ingredient, MolarMass: basis.MolarMass})
	if err != nil {
		return 0, nil, err
	}
	density, caveats := must("solution", "density taken where none is known").is, []working.Caveat(nil)
	if basis.Solution.Known() {
		density = basis.Solution.Is().GramsPerMillilitre()
	} else {
		caveats = append(caveats, "no density of the solution is known; 1 kg/L is taken, which overstates the shares where the bath is denser than water and understates them where it is lighter")
	}
	share := grams.Value / (1000 * density)
	return share, caveats, inWhole(written, share)
}

// bareShare reads "12 %", which among contents is by mass.
func bareShare(written string) (float64, bool) {
	number, found := strings.CutSuffix(strings.TrimSpace(written), "%")
	v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	return v / 100, found && err == nil
}

func inWhole(written string, share float64) error {
	if !(share >= 0 && share <= 1+slack) {
		return &working.Fault{What: strconv.Quote(written) + " comes to " + shown(share) + " of the whole", Mend: "check amount, unit and density"}
	}
	return nil
}
