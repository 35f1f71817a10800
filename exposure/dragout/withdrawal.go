package dragout

import (
	"errors"
	"math"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const (
	atWithdrawal working.Caveat = "the film is what clings as the work leaves the bath, on wetted surface: dripping gives some of it back"
	strengthOpen working.Caveat = "the sources do not agree on how the strength of a bath moves its drag-out; a measured drag-out takes this figure's place"
)

// ByWithdrawal is work being withdrawn from a bath.
type ByWithdrawal struct {
	Withdrawal working.Estimate[quantity.Speed]
	Viscosity  working.Estimate[quantity.Viscosity]
	Density    working.Estimate[quantity.Density]
}

// ByWithdrawalResult is the film on the work.
type ByWithdrawalResult struct {
	Film working.Estimate[quantity.Film]
}

// Solve gives the film on work as it leaves the bath.
//
//	f = k × √(U × η / ρ)
//
// k = 0.02 with U in cm/s, η in P, ρ in g/cm³ and f in cm; f film, U speed of
// withdrawal, η viscosity, ρ density.
//
// Source: Kushner's formula as quoted by Konishi et al., Journal of the Metal
// Finishing Society of Japan 25(1), 1974, pages 2-7. Range: the paper's own was
// not seen; a film under what stays after full drainage is flagged. Left out:
// dripping, the bead at the lower edge, recesses, foam. No published worked
// example found.
func (d ByWithdrawal) Solve() (ByWithdrawalResult, error) {
	if err := d.faults(); err != nil {
		return ByWithdrawalResult{}, err
	}
	k := published().coefficient
	film := working.Compute(working.Formula{Line: "f = k × √(U × η / ρ)", Unit: "L/m²", Ref: k.Ref()},
		func(c working.Case) quantity.Film {
			poise := d.Viscosity.At(c).MillipascalSeconds() / 100
			speed := d.Withdrawal.At(c).MetresPerSecond() * 100
			centimetres := k.At(c) * math.Sqrt(speed*poise/d.Density.At(c).GramsPerMillilitre())
			return quantity.Film(10*centimetres) * quantity.LitrePerSquareMetre // 1 cm on 1 m² is 10 L
		},
		k.As("k", "coefficient"), d.Withdrawal.As("U", "speed of withdrawal"),
		d.Viscosity.As("η", "viscosity"), d.Density.As("ρ", "density")).WithCaveats(atWithdrawal, strengthOpen)
	if stays := published().stays; film.Known() && lowest(film) < stays.Is() {
		film = film.WithCaveats(working.Caveat("the film is thinner than what the same paper finds still on the work after full drainage, " + stays.Text() + ": take no less than that"))
	}
	return ByWithdrawalResult{Film: film}, nil
}

func (d ByWithdrawal) faults() error {
	return errors.Join(
		notZero(d.Withdrawal, "withdrawal", "work that is not withdrawn carries nothing out", `give the speed out of the bath: withdrawal="10 cm/s"`),
		notZero(d.Viscosity, "viscosity", "no liquid has a viscosity of zero", `give the bath's: viscosity="1.2 cP"`),
		notZero(d.Density, "density", "no liquid has a density of zero", `give the bath's: density="1.15 g/mL"`),
	)
}

// notZero refuses a zero that the formula has no meaning for. What is not known
// is no fault: the result is then not known either.
func notZero[Q ~float64](e working.Estimate[Q], where, what, mend string) error {
	if !e.Known() || lowest(e) > 0 {
		return nil
	}
	return &working.Fault{Where: where, What: what, Mend: mend}
}

// lowest is the least of the three cases.
func lowest[Q ~float64](e working.Estimate[Q]) Q {
	return min(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}
