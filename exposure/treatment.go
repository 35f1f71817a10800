package exposure

import (
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/waste"
)

// Treatment is what the shop's own treatment took out of the water over the
// period, and what that takes and leaves: reagents by stoichiometry, sludge of
// the plain hydroxides.
type Treatment struct {
	Tank     chemicals.Name
	Metals   []TreatedMetal
	Reagents []Reagent
	Dry      working.Estimate[quantity.Mass]
	Cake     working.Estimate[quantity.Mass]
	Left     []string // metals that the formulas do not have
	Notes    []string
}

// TreatedMetal is a metal that was taken out.
type TreatedMetal struct {
	Metal string
	Mass  working.Estimate[quantity.Mass]
}

// Reagent is one way to precipitate all of it: the amount of the pure reagent.
type Reagent struct {
	Name string
	Mass working.Estimate[quantity.Mass]
}

// precipitants are the two reagents that are shown side by side.
var precipitants = []string{"NaOH", "Ca(OH)2"}

// Treatments are those of every treatment tank that took metal out.
func (water *Water) Treatments() []Treatment {
	var all []Treatment
	for _, tank := range sortedKeys(water.w.tanks) {
		if water.w.tank(tank).Is.Purpose == chemicals.Treat {
			if t, ok := water.treatment(tank); ok {
				all = append(all, t)
			}
		}
	}
	return all
}

func (water *Water) treatment(tank string) (Treatment, bool) {
	t := Treatment{
		Tank: water.w.tank(tank).Is.Name, Dry: working.Absent[quantity.Mass]("no metal with a known hydroxide was taken out"), Cake: working.Absent[quantity.Mass]("no metal with a known hydroxide was taken out"),
		Notes: []string{"by stoichiometry: excess, free acid, hardness, flocculant and what binds metal in solution come on top"},
	}
	var metals []waste.Metal
	for _, a := range water.Accounts {
		if a.Tank.Meaning() != tank || a.Dumped == (Spread{}) {
			continue
		}
		mass := computedMass(a.Dumped, a.Metal+" taken out over the period")
		t.Metals = append(t.Metals, TreatedMetal{Metal: a.Metal, Mass: mass})
		one := waste.Metal{Name: a.Metal, Mass: mass}
		if _, err := (waste.Sludge{Metals: []waste.Metal{one}}).Solve(); err != nil {
			t.Left = append(t.Left, a.Metal)
			continue
		}
		metals = append(metals, one)
	}
	if len(metals) > 0 {
		t.work(metals)
	}
	return t, len(t.Metals) > 0
}

// work adds sludge and reagents. A metal that settles without hydroxide, such
// as silver as its chloride, is in the sludge alone.
func (t *Treatment) work(metals []waste.Metal) {
	if s, err := (waste.Sludge{Metals: metals}).Solve(); err == nil {
		t.Dry, t.Cake = s.Dry, s.Cake
	}
	basic := slices.DeleteFunc(slices.Clone(metals), func(m waste.Metal) bool {
		_, err := (waste.Reagents{Metals: []waste.Metal{m}, With: precipitants[:1]}).Solve()
		return err != nil
	})
	for _, with := range precipitants {
		r, err := (waste.Reagents{Metals: basic, With: []string{with}}).Solve()
		if err != nil || len(basic) == 0 {
			continue
		}
		for _, a := range r.Amounts {
			t.Reagents = append(t.Reagents, Reagent{Name: a.Name, Mass: a.Mass})
		}
	}
}
