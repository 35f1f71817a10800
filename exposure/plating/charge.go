package plating

import (
	"errors"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Charge is the charge that a deposit takes: a thickness on an area, or a mass.
type Charge struct {
	Metal      Metal
	Valence    working.Estimate[int]
	Thickness  working.Estimate[quantity.Length] // with Area, or Mass
	Area       working.Estimate[quantity.Area]
	Mass       working.Estimate[quantity.Mass]
	Efficiency working.Estimate[float64]           // cathode efficiency, a fraction
	Current    working.Estimate[quantity.Current]  // for the time
	Time       working.Estimate[quantity.Duration] // for the current
}

// ChargeResult is what a deposit takes. Time is absent without a current, and
// the current without a time.
type ChargeResult struct {
	Mass    working.Estimate[quantity.Mass]
	Charge  working.Estimate[quantity.Charge]
	Time    working.Estimate[quantity.Duration]
	Current working.Estimate[quantity.Current]
}

// Solve gives the charge, and the time at a current or the current over a time.
//
//	m = d × A × ρ
//	Q = m × z × F / (η × M)
//	t = Q / I, I = Q / t
//
// Symbols and source as for Deposit. Range: an efficiency over 0 %, with a
// caveat over 100 %. Left out: as for Deposit; the least thickness on the work
// takes longer than the mean one.
func (d Charge) Solve() (ChargeResult, error) {
	if err := d.faults(); err != nil {
		return ChargeResult{}, err
	}
	mass := d.Mass
	if !mass.Known() {
		mass = working.Compute(working.Formula{Line: "m = d × A × ρ", Unit: "g"},
			func(c working.Case) quantity.Mass {
				cubicCentimetres := d.Thickness.At(c).Metres() * d.Area.At(c).SquareMetres() * 1e6
				return quantity.Mass(cubicCentimetres*d.Metal.Density.At(c).GramsPerMillilitre()) * quantity.Gram
			}, d.Thickness.As("d", "thickness"), d.Area.As("A", "area"), d.Metal.Density.As("ρ", "density of "+d.Metal.Symbol)).WithCaveats(averageOnly)
	}
	charge := chargeFor(d, mass)
	return ChargeResult{
		Mass:   mass,
		Charge: charge,
		Time: working.Compute(working.Formula{Line: "t = Q / I", Unit: "min"},
			func(c working.Case) quantity.Duration {
				return quantity.Duration(charge.At(c).AmpereHours()/d.Current.At(c).Amperes()) * quantity.Hour
			}, charge.As("Q", "charge"), d.Current.As("I", "current")),
		Current: working.Compute(working.Formula{Line: "I = Q / t", Unit: "A"},
			func(c working.Case) quantity.Current {
				return quantity.Current(charge.At(c).AmpereHours()/d.Time.At(c).Hours()) * quantity.Ampere
			}, charge.As("Q", "charge"), d.Time.As("t", "time")),
	}, nil
}

func chargeFor(d Charge, mass working.Estimate[quantity.Mass]) working.Estimate[quantity.Charge] {
	faraday := faraday()
	charge := working.Compute(working.Formula{Line: "Q = m × z × F / (η × M)", Unit: "A·h", Ref: faradaysLaw},
		func(c working.Case) quantity.Charge {
			moles := mass.At(c).Grams() / d.Metal.MolarMass.At(c).GramsPerMole()
			return quantity.Charge(moles*float64(d.Valence.At(c))*faraday.At(c)/d.Efficiency.At(c)) * quantity.Coulomb
		},
		mass.As("m", "mass to deposit"), d.Valence.As("z", "valence"), faraday.As("F", "Faraday constant"),
		d.Efficiency.As("η", "cathode efficiency"), d.Metal.MolarMass.As("M", "molar mass of "+d.Metal.Symbol))
	return charge.WithCaveats(efficiencyCaveats(d.Efficiency)...)
}

func (d Charge) faults() error {
	faults := []error{d.Metal.fault(), valenceFault(d.Valence), efficiencyFault(d.Efficiency), d.workFault()}
	if d.Efficiency.Known() && lowest(d.Efficiency) == 0 {
		faults = append(faults, &working.Fault{Where: "efficiency", What: "at an efficiency of zero no charge deposits anything", Mend: `give the cathode efficiency of the bath: efficiency="95 %"`})
	}
	if d.Current.Known() && d.Time.Known() {
		faults = append(faults, &working.Fault{Where: "time", What: "both a current and a time are given", Mend: "give the current to learn the time, or the time to learn the current"})
	}
	if d.Current.Known() && lowest(d.Current) == 0 {
		faults = append(faults, &working.Fault{Where: "current", What: "a current of zero takes for ever", Mend: "give the current, or leave it out"})
	}
	if d.Time.Known() && lowest(d.Time) == 0 {
		faults = append(faults, &working.Fault{Where: "time", What: "in no time no current deposits anything", Mend: "give the time, or leave it out"})
	}
	return errors.Join(faults...)
}

// workFault says what is wrong with the work to be done: thickness and area, or
// mass.
func (d Charge) workFault() error {
	byThickness := d.Thickness.Known() || d.Area.Known()
	switch {
	case d.Mass.Known() && byThickness:
		return &working.Fault{Where: "mass", What: "both a mass and a thickness or area are given", Mend: "give thickness and area, or the mass"}
	case d.Mass.Known():
		return nil
	case !d.Thickness.Known():
		return &working.Fault{Where: "thickness", What: "it is not given", Mend: `give thickness="10 µm" and the area, or mass="12 g"`}
	case !d.Area.Known():
		return &working.Fault{Where: "area", What: "a thickness is given without an area", Mend: `give area="14 dm²"`}
	case !d.Metal.Density.Known():
		return &working.Fault{Where: "density", What: "no density is known for " + d.Metal.Symbol + ", and a thickness needs one", Mend: `give density="8.9 g/mL"`}
	}
	return nil
}
