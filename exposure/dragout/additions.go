package dragout

import (
	"errors"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const byDragOutOnly working.Caveat = "this holds for an ingredient that leaves by drag-out only: what is plated, used up, gassed off, filtered out or dumped would count as drag-out"

// ByAdditions is a bath that loses an ingredient by drag-out only, and what was
// added over a time in which its strength came back to where it was.
type ByAdditions struct {
	Added working.Estimate[quantity.Amount]            // of the ingredient
	Bath  working.Estimate[quantity.BathConcentration] // of the ingredient in the bath
	Area  working.Estimate[quantity.Area]              // of the work in that time, for the film
}

// ByAdditionsResult is the drag-out of that time. Film is absent without an
// area.
type ByAdditionsResult struct {
	Volume working.Estimate[quantity.Volume]
	Film   working.Estimate[quantity.Film]
}

// Solve gives the drag-out of the time over which the additions were made.
//
//	V = m / C
//	f = V / A
//
// m ingredient added, C its concentration in the bath, V volume that left,
// A area of the work, f film. An addition by mass goes with a concentration by
// mass, one by volume with one by volume.
//
// Source: a mass balance, recommended for alkaline zinc (sodium hydroxide), acid
// zinc (potassium chloride), acid copper (sulfuric acid) and nickel (boric acid)
// in the trade's handbooks; no worked example found. Range: a bath as strong at
// the end as at the start. Left out: every other way out of the bath.
func (d ByAdditions) Solve() (ByAdditionsResult, error) {
	if err := d.faults(); err != nil {
		return ByAdditionsResult{}, err
	}
	volume := working.Compute(working.Formula{Line: "V = m / C", Unit: "L"},
		func(c working.Case) quantity.Volume {
			litres, _ := litresFor(d.Added.At(c), d.Bath.At(c)) // the bases were compared in faults
			return quantity.Volume(litres) * quantity.Litre
		}, d.Added.As("m", "ingredient added"), d.Bath.As("C", "concentration in the bath")).WithCaveats(byDragOutOnly)
	film := working.Compute(working.Formula{Line: "f = V / A", Unit: "L/m²"},
		func(c working.Case) quantity.Film {
			return quantity.Film(volume.At(c).Litres()/d.Area.At(c).SquareMetres()) * quantity.LitrePerSquareMetre
		}, volume.As("V", "drag-out"), d.Area.As("A", "area of the work"))
	return ByAdditionsResult{Volume: volume, Film: film}, nil
}

// litresFor is the volume of bath that holds an amount, if both are by mass or
// both by volume.
func litresFor(added quantity.Amount, bath quantity.BathConcentration) (float64, bool) {
	mass, byMass := added.Mass()
	grams, inGrams := bath.GramsPerLitre()
	if byMass && inGrams {
		return mass.Grams() / grams, true
	}
	volume, byVolume := added.Volume()
	millilitres, inMillilitres := bath.MillilitresPerLitre()
	return volume.Litres() * 1000 / millilitres, byVolume && inMillilitres
}

func (d ByAdditions) faults() error {
	faults := []error{notZero(d.Area, "area", "an area of zero has no film", "give the area of the work, or leave it out")}
	if isNothing(d.Bath) {
		faults = append(faults, &working.Fault{Where: "bath", What: "a bath that holds none of the ingredient loses none", Mend: `give its concentration in the bath: bath="30 g/L"`})
	}
	if d.Added.Known() && d.Bath.Known() {
		if _, same := litresFor(d.Added.Is(), d.Bath.Is()); !same {
			faults = append(faults, &working.Fault{
				Where: "bath", What: "the addition is " + d.Added.Text() + " and the bath is " + d.Bath.Text() + ", which do not go together without a density or a molar mass",
				Mend: "give a mass with g/L or oz/gal, a volume with mL/L or % v/v",
			})
		}
	}
	return errors.Join(faults...)
}
