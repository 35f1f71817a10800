package plating

import (
	"errors"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// averageOnly weakens every thickness.
const averageOnly working.Caveat = "the thickness is an average over the area, of massive metal: edges get more, recesses less, and nothing here says how much"

// overEfficient weakens what an impossible efficiency gives.
const overEfficient working.Caveat = "a cathode efficiency over 100 % deposits more metal than the charge can carry: check charge, valence and weighing"

// Deposit is a metal being deposited by a charge, or by a current over a time.
type Deposit struct {
	Metal      Metal
	Valence    working.Estimate[int]
	Charge     working.Estimate[quantity.Charge] // or Current and Time
	Current    working.Estimate[quantity.Current]
	Time       working.Estimate[quantity.Duration]
	Efficiency working.Estimate[float64]       // cathode efficiency, a fraction
	Area       working.Estimate[quantity.Area] // for the thickness
}

// DepositResult is what was deposited. Thickness is absent without an area or
// a density.
type DepositResult struct {
	Charge    working.Estimate[quantity.Charge]
	Mass      working.Estimate[quantity.Mass]
	Thickness working.Estimate[quantity.Length]
}

// Solve gives mass and mean thickness of the deposit.
//
//	Q = I × t
//	m = Q × η × M / (z × F)
//	d = m / (ρ × A)
//
// Q charge, I current, t time, m mass, η cathode efficiency, M molar mass,
// z valence (electrons for each atom), F Faraday constant, d thickness,
// ρ density, A area.
//
// Source: Faraday's laws of electrolysis as in Wadhwa, chapter 8; F from
// CODATA 2018. Range: any charge; efficiency from 0 %, with a caveat over 100 %.
// Left out: metal that falls off or goes back into solution, current that
// reaches neither, and the spread of thickness over the work.
func (d Deposit) Solve() (DepositResult, error) {
	if err := d.faults(); err != nil {
		return DepositResult{}, err
	}
	charge := d.Charge
	if !charge.Known() {
		charge = working.Compute(working.Formula{Line: "Q = I × t", Unit: "A·h"},
			func(c working.Case) quantity.Charge {
				return quantity.Charge(d.Current.At(c).Amperes()*d.Time.At(c).Hours()) * quantity.AmpereHour
			}, d.Current.As("I", "current"), d.Time.As("t", "time"))
	}
	mass := depositedMass(d, charge)
	thickness := working.Compute(working.Formula{Line: "d = m / (ρ × A)", Unit: "µm"},
		func(c working.Case) quantity.Length {
			// g / (g/mL) is cm³; over cm² it is cm.
			cubic := mass.At(c).Grams() / d.Metal.Density.At(c).GramsPerMillilitre()
			return quantity.Length(cubic/(d.Area.At(c).SquareMetres()*1e4)) * quantity.Centimetre
		}, mass.As("m", "mass deposited"), d.Metal.Density.As("ρ", "density of "+d.Metal.Symbol), d.Area.As("A", "area"))
	return DepositResult{Charge: charge, Mass: mass, Thickness: thickness.WithCaveats(averageOnly)}, nil
}

func depositedMass(d Deposit, charge working.Estimate[quantity.Charge]) working.Estimate[quantity.Mass] {
	faraday := faraday()
	mass := working.Compute(working.Formula{Line: "m = Q × η × M / (z × F)", Unit: "g", Ref: faradaysLaw},
		func(c working.Case) quantity.Mass {
			moles := charge.At(c).Coulombs() * d.Efficiency.At(c) / (float64(d.Valence.At(c)) * faraday.At(c))
			return quantity.Mass(moles*d.Metal.MolarMass.At(c).GramsPerMole()) * quantity.Gram
		},
		charge.As("Q", "charge"), d.Efficiency.As("η", "cathode efficiency"),
		d.Metal.MolarMass.As("M", "molar mass of "+d.Metal.Symbol), d.Valence.As("z", "valence"), faraday.As("F", "Faraday constant"))
	return mass.WithCaveats(efficiencyCaveats(d.Efficiency)...)
}

func (d Deposit) faults() error {
	faults := []error{d.Metal.fault(), valenceFault(d.Valence), efficiencyFault(d.Efficiency)}
	byCurrent := d.Current.Known() || d.Time.Known()
	switch {
	case d.Charge.Known() && byCurrent:
		faults = append(faults, &working.Fault{Where: "charge", What: "both a charge and a current or time are given", Mend: "give the charge, or current and time"})
	case !d.Charge.Known() && !byCurrent:
		faults = append(faults, &working.Fault{Where: "charge", What: "it is not given", Mend: `give charge="400 A·h", or current="20 A" and time="1 h"`})
	case !d.Charge.Known() && !d.Current.Known():
		faults = append(faults, &working.Fault{Where: "current", What: "a time is given without a current", Mend: `give current="20 A"`})
	case !d.Charge.Known() && !d.Time.Known():
		faults = append(faults, &working.Fault{Where: "time", What: "a current is given without a time", Mend: `give time="1 h"`})
	}
	if d.Area.Known() && lowest(d.Area) == 0 {
		faults = append(faults, &working.Fault{Where: "area", What: "an area of zero has no thickness", Mend: "give the area that was plated, or leave it out"})
	}
	return errors.Join(faults...)
}

func (m Metal) fault() error {
	if m.MolarMass.Known() {
		return nil
	}
	return &working.Fault{Where: "metal", What: "no molar mass is known for it: " + m.MolarMass.Why(), Mend: "give a metal of the tables by its symbol, or its molar_mass"}
}

// mostValence: no element gives up more than eight electrons.
const mostValence = 8

func valenceFault(z working.Estimate[int]) error {
	if z.Known() && z.Is() >= 1 && z.Is() <= mostValence {
		return nil
	}
	what := "it is not given"
	if z.Known() {
		what = "a valence of " + z.Text() + " deposits nothing"
	}
	return &working.Fault{Where: "valence", What: what, Mend: "give the electrons that deposit one atom, from 1 to 8: 2 for nickel(II)"}
}

func efficiencyFault(η working.Estimate[float64]) error {
	switch {
	case !η.Known():
		return &working.Fault{Where: "efficiency", What: "it is not given", Mend: `give the cathode efficiency of the bath: efficiency="95 %"`}
	case lowest(η) < 0:
		return &working.Fault{Where: "efficiency", What: "it is negative", Mend: `give the cathode efficiency of the bath: efficiency="95 %"`}
	}
	return nil
}

func efficiencyCaveats(η working.Estimate[float64]) []working.Caveat {
	if max(η.At(working.Likely), η.At(working.Low), η.At(working.High)) > 1 {
		return []working.Caveat{overEfficient}
	}
	return nil
}

// lowest is the least of the three cases.
func lowest[Q ~float64](e working.Estimate[Q]) Q {
	return min(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}
