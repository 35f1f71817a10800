package waste

import (
	"errors"
	"strconv"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Sludge is metals that are precipitated, and the cake that holds them.
type Sludge struct {
	Metals []Metal
	Other  working.Estimate[quantity.Mass] // dry, beside the hydroxides
	Solids working.Estimate[float64]       // of the cake, a fraction; where not given, what filter presses reach
}

// SludgeResult is the mass of it.
type SludgeResult struct {
	Dry  working.Estimate[quantity.Mass]
	Cake working.Estimate[quantity.Mass]
}

const (
	// hydroxidesOnly weakens a sludge of which nothing else is known.
	hydroxidesOnly working.Caveat = "counted are the pure hydroxides alone: gypsum and inerts of lime, polymer, iron, hardness and what the water brings come on top; weigh the cake and dry a sample of it"
	// solidsNotGiven weakens a cake of unknown solids.
	solidsNotGiven working.Caveat = "the solids of the cake are not given: low to high are those that filter presses are published to reach, and the likely figure is custom"
)

// Solve gives the dry mass and that of the cake.
//
//	k = M(solid) / (a × M(metal))
//	dry = Σ k × m + other
//	cake = dry / s
//
// m mass of each metal, M molar masses, a atoms of the metal in the solid,
// s solids of the cake.
//
// Source: stoichiometry of the plain hydroxides, of silver the chloride; the
// usual solids of a cake as in NCMS 1994, section 6.2.6. Range: metals that the
// table has. Left out: what stays dissolved, water bound in the hydroxide, and
// all solids that are not given.
func (s Sludge) Solve() (SludgeResult, error) {
	found, err := s.find()
	if err != nil {
		return SludgeResult{}, err
	}
	factors := make([]working.Estimate[float64], len(found))
	var terms []working.Term
	var named []working.Caveat
	for i, m := range found {
		factors[i] = solidFactor(m)
		terms = append(terms, s.Metals[i].Mass.As("m("+m.name+")", "mass of the metal"), factors[i].As("k("+m.name+")", m.formula+" from "+m.metal()))
		named = append(named, m.countedAs(s.Metals[i].Name)...)
	}
	line := "dry = Σ k × m"
	if s.Other.Known() {
		line, terms = "dry = Σ k × m + other", append(terms, s.Other.As("other", "other dry solids"))
	}
	dry := working.Compute(working.Formula{Line: line, Unit: "kg"}, func(c working.Case) quantity.Mass {
		var sum quantity.Mass
		for i, factor := range factors {
			sum += s.Metals[i].Mass.At(c) * quantity.Mass(factor.At(c))
		}
		if s.Other.Known() {
			sum += s.Other.At(c)
		}
		return sum
	}, terms...).WithCaveats(named...)
	if !s.Other.Known() {
		dry = dry.WithCaveats(hydroxidesOnly)
	}
	return SludgeResult{Dry: dry, Cake: s.cake(dry)}, nil
}

func (s Sludge) cake(dry working.Estimate[quantity.Mass]) working.Estimate[quantity.Mass] {
	solids := s.Solids
	if !solids.Known() {
		t := treatment()
		text := t.solidsAssume.Text() + " (" + t.least.Text() + " to " + t.most.Text() + ")"
		// The wetter cake is the heavier one: its case is the high one.
		solids = working.Given(source.Value[float64]{Is: t.solidsAssume.Is(), Origin: source.Assumed, Ref: t.least.Ref()}, text).
			Between(t.most.Is(), t.least.Is(), text).WithCaveats(solidsNotGiven)
	}
	return working.Compute(working.Formula{Line: "cake = dry / s", Unit: "kg"},
		func(c working.Case) quantity.Mass { return dry.At(c) / quantity.Mass(solids.At(c)) },
		dry.As("dry", "dry sludge"), solids.As("s", "solids of the cake"))
}

// solidFactor is the mass of the solid for a mass of its metal.
func solidFactor(m *matter) working.Estimate[float64] {
	t, atomsOf := treatment(), countOf(m.formula, m.metal())
	whole, part := t.molarMass(m.formula), t.mass(m.metal())
	line := "k(" + m.name + ") = M(" + m.formula + ") / " + times(atomsOf) + "M(" + m.metal() + ")"
	return working.Compute(working.Formula{Line: line, Unit: "kg/kg", Ref: m.ref}, func(c working.Case) float64 {
		return whole.At(c).GramsPerMole() / (float64(atomsOf) * part.At(c).GramsPerMole())
	}, whole.As("M("+m.formula+")", ""), part.As("M("+m.metal()+")", ""))
}

// times is "3 × " before what is multiplied, nothing for one.
func times(n int) string {
	if n == 1 {
		return ""
	}
	return strconv.Itoa(n) + " × "
}

// countedAs says so where a metal with several valences was named without.
func (m *matter) countedAs(written string) []working.Caveat {
	if written != m.metal() || m.name == m.metal() {
		return nil
	}
	return []working.Caveat{working.Caveat(written + " is counted as " + m.name)}
}

func (s Sludge) find() ([]*matter, error) {
	found, faults := findMetals(s.Metals)
	if len(s.Metals) == 0 && !s.Other.Known() {
		faults = append(faults, &working.Fault{Where: "metals", What: "no metal is named", Mend: `give metals="{Cu: 2 kg, Ni: 1.5 kg}"`})
	}
	if s.Solids.Known() && (lowest(s.Solids) <= 0 || highest(s.Solids) > 1) {
		faults = append(faults, &working.Fault{Where: "solids", What: "a cake of " + s.Solids.Text() + " solids is none", Mend: `give the dry share of the cake, over 0 and up to 100 %: solids="30 %"`})
	}
	return found, errors.Join(faults...)
}

func findMetals(metals []Metal) ([]*matter, []error) {
	var faults []error
	found := make([]*matter, len(metals))
	for i, metal := range metals {
		m, ok := treatment().find(metal.Name, true)
		if !ok {
			faults = append(faults, &working.Fault{Where: "metals", What: strconv.Quote(metal.Name) + " is not a metal that the table precipitates", Mend: "known here: " + treatment().names(true) + "; chromium(VI) is reduced first and is then Cr(III)"})
			continue
		}
		found[i] = m
	}
	return found, faults
}

func lowest[Q ~float64](e working.Estimate[Q]) Q {
	return min(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}

func highest[Q ~float64](e working.Estimate[Q]) Q {
	return max(e.At(working.Likely), e.At(working.Low), e.At(working.High))
}
