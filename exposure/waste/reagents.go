package waste

import (
	"strconv"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Product is what becomes of the sulfuric acid in the reduction of
// chromium(VI) with a sulfite; the published equations differ.
type Product int

// The products.
const (
	SodiumSulfate Product = iota + 1
	SodiumBisulfate
)

var products = [...]string{SodiumSulfate: "sodium sulfate", SodiumBisulfate: "sodium bisulfate"}

func (p Product) String() string {
	if p < SodiumSulfate || p > SodiumBisulfate {
		return "no product of the acid"
	}
	return products[p]
}

// ParseProduct reads the words that String prints.
func ParseProduct(text string) (Product, error) {
	for p := SodiumSulfate; p <= SodiumBisulfate; p++ {
		if p.String() == text {
			return p, nil
		}
	}
	return 0, &working.Fault{What: strconv.Quote(text) + " is not a product of the acid", Mend: "write sodium sulfate or sodium bisulfate"}
}

// Acid is free acid, by name.
type Acid struct {
	Name string
	Mass working.Estimate[quantity.Mass] // of the pure acid
}

// Reagents is what is to be treated, and with what.
type Reagents struct {
	Metals    []Metal
	Acids     []Acid
	Chromium6 working.Estimate[quantity.Mass] // as Cr
	Cyanide   working.Estimate[quantity.Mass] // as CN
	With      []string                        // reagents by name; what is not named is taken from the table
	Product   Product                         // where not given, between both
	Complete  bool                            // cyanide to nitrogen and carbonate, not to cyanate alone
}

// Amount is how much of a reagent is taken.
type Amount struct {
	Name string
	Mass working.Estimate[quantity.Mass]
}

// ReagentsResult is the amounts of the pure reagents.
type ReagentsResult struct {
	Amounts []Amount
}

const (
	// exactAmounts weakens every amount.
	exactAmounts working.Caveat = "amounts are of the pure substance in exact proportion; practice takes more, dosed by pH and redox potential, and tests that the treatment is complete"
	apartCaveat  working.Caveat = "chromium(VI) is reduced in acid and cyanide is oxidised in alkali: never in one tank, and cyanide never meets acid"
	acidOnTop    working.Caveat = "the acid to bring the water to the pH of the reduction comes on top, and what is left of it takes alkali again"
	cyanateOnly  working.Caveat = "cyanide is counted to cyanate; the second stage takes more. Cyanides of gold, nickel and iron resist"
	completeNote working.Caveat = "cyanide is counted to nitrogen and carbonate, in two stages. Cyanides of gold, nickel and iron resist"
	silverNote   working.Caveat = "silver is counted as chloride: it takes no hydroxide, and the chloride for it is not counted"
)

// Solve gives the mass of each reagent.
//
//	m(reagent) = n × M(reagent) × m / M
//
// m mass and M molar mass of what is treated, n mol of reagent for each mol of
// it: hydroxide for metals, free acid, and the chromium that was reduced;
// a reducer and acid for chromium(VI); an oxidiser for cyanide.
//
// Source: the equations beside the proportions in treatment.csv. Range: metals,
// acids and reagents that the table has. Left out: excess, strength as sold, pH
// adjustment beyond neutral, chelators, hardness, and the acid already in the
// water of the chromium.
func (r Reagents) Solve() (ReagentsResult, error) {
	chosen, err := r.choose()
	if err != nil {
		return ReagentsResult{}, err
	}
	var result ReagentsResult
	add := func(m *matter, mass working.Estimate[quantity.Mass], caveats ...working.Caveat) {
		mass = mass.WithCaveats(append(chosen.caveats(r, m), caveats...)...)
		result.Amounts = append(result.Amounts, Amount{Name: m.name, Mass: mass})
	}
	if chosen.reducer != nil {
		add(chosen.reducer, dose(chosen.reducer, r.chromium(chosen.reducer.uses[reducesChromium])))
		if acid, ok := r.acid(chosen.reducer); ok {
			add(chosen.acid, acid, acidOnTop)
		}
	}
	if chosen.oxidiser != nil {
		add(chosen.oxidiser, dose(chosen.oxidiser, r.cyanide(r.oxidation(chosen.oxidiser))), r.stage())
	}
	if chosen.alkali != nil {
		add(chosen.alkali, dose(chosen.alkali, r.hydroxide(chosen)...), r.precipitated(chosen)...)
	}
	return result, nil
}

// demand is so many mol of a reagent, or of its hydroxide, for a mass.
type demand struct {
	of    string // formula of what takes it, by whose molar mass the mass counts
	what  string
	mass  working.Estimate[quantity.Mass]
	moles working.Estimate[float64]
}

func (r Reagents) chromium(moles working.Estimate[float64]) demand {
	return demand{"Cr", "chromium(VI)", r.Chromium6, moles}
}

func (r Reagents) cyanide(moles working.Estimate[float64]) demand {
	return demand{"CN", "cyanide", r.Cyanide, moles}
}

// dose is the mass of a reagent that demands together take. A reagent that
// gives hydroxide is divided by how much of it a mol gives.
func dose(m *matter, demands ...demand) working.Estimate[quantity.Mass] {
	t := treatment()
	gives, divided := m.uses[givesHydroxide]
	molar := t.molarMass(m.formula)
	var factors []working.Estimate[float64]
	var terms []working.Term
	for _, d := range demands {
		other := t.molarMass(d.of)
		line, inputs := "n × M("+m.formula+") / M("+d.of+")", []working.Term{d.moles.As("n", "mol for each mol of "+d.what), molar.As("M("+m.formula+")", ""), other.As("M("+d.of+")", "")}
		if divided {
			line, inputs = "n × M("+m.formula+") / (h × M("+d.of+"))", append(inputs, gives.As("h", "hydroxide of a mol of "+m.name))
		}
		k := working.Compute(working.Formula{Line: "k(" + d.what + ") = " + line, Unit: "kg/kg", Ref: d.moles.Ref()}, func(c working.Case) float64 {
			each := d.moles.At(c) * molar.At(c).GramsPerMole() / other.At(c).GramsPerMole()
			if divided {
				each /= gives.At(c)
			}
			return each
		}, inputs...)
		factors = append(factors, k)
		terms = append(terms, d.mass.As("m("+d.what+")", ""), k.As("k("+d.what+")", ""))
	}
	return working.Compute(working.Formula{Line: m.name + " = Σ k × m", Unit: "kg"}, func(c working.Case) quantity.Mass {
		var sum quantity.Mass
		for i, k := range factors {
			sum += demands[i].mass.At(c) * quantity.Mass(k.At(c))
		}
		return sum
	}, terms...)
}

// acid is the sulfuric acid that the reduction takes, between two published
// equations where no product is chosen; false where a reducer takes none.
func (r Reagents) acid(reducer *matter) (working.Estimate[quantity.Mass], bool) {
	sulfuric, ok := treatment().find("sulfuric acid", false)
	if !ok {
		panic("waste: the table has no sulfuric acid")
	}
	if iron, takes := reducer.uses[acidToIron]; takes {
		return dose(sulfuric, r.chromium(iron)), true
	}
	sulfate, takes := reducer.uses[acidToSulfate]
	bisulfate := reducer.uses[acidToBisulfate]
	if !takes {
		return working.Estimate[quantity.Mass]{}, false
	}
	moles := sulfate.Between(sulfate.Is(), bisulfate.Is(), sulfate.Text()+"; "+bisulfate.Text()+" by "+bisulfate.Ref().Document+", "+bisulfate.Ref().Place)
	switch r.Product {
	case SodiumSulfate:
		moles = sulfate
	case SodiumBisulfate:
		moles = bisulfate
	}
	return dose(sulfuric, r.chromium(moles)), true
}

func (r Reagents) oxidation(oxidiser *matter) working.Estimate[float64] {
	if r.Complete {
		return oxidiser.uses[oxidisesToNitrogen]
	}
	return oxidiser.uses[oxidisesToCyanate]
}

func (r Reagents) stage() working.Caveat {
	if r.Complete {
		return completeNote
	}
	return cyanateOnly
}

// hydroxide is all that takes alkali.
func (r Reagents) hydroxide(chosen chosen) []demand {
	t := treatment()
	var all []demand
	for i, m := range chosen.metals {
		if takes := countOf(m.formula, "H"); takes > 0 {
			all = append(all, demand{m.metal(), m.name, r.Metals[i].Mass, whole(takes, m)})
		}
	}
	for i, m := range chosen.acids {
		all = append(all, demand{m.formula, m.name, r.Acids[i].Mass, m.uses[givesAcid]})
	}
	if chosen.reducer != nil {
		chromium, _ := t.find("Cr(III)", true)
		all = append(all, demand{"Cr", "chromium(VI), reduced", r.Chromium6, whole(countOf(chromium.formula, "H"), chromium)})
		if iron, leaves := chosen.reducer.uses[leavesIron]; leaves {
			ferric, _ := t.find("Fe(III)", true)
			all = append(all, demand{"Cr", "iron left by the reducer", r.Chromium6, perIron(iron, ferric)})
		}
	}
	if moles, takes := r.lye(chosen.oxidiser); takes {
		all = append(all, r.cyanide(moles))
	}
	return all
}

// whole is the hydroxide in a solid, as its formula has it.
func whole(n int, m *matter) working.Estimate[float64] {
	return known(float64(n), m.ref, strconv.Itoa(n)+" mol/mol")
}

// perIron is the hydroxide that the iron of a reducer takes, for each mol of
// chromium.
func perIron(iron working.Estimate[float64], ferric *matter) working.Estimate[float64] {
	each := whole(countOf(ferric.formula, "H"), ferric)
	return working.Compute(working.Formula{Line: "n(iron) = iron for each chromium × hydroxide for each iron", Unit: "mol/mol"},
		func(c working.Case) float64 { return iron.At(c) * each.At(c) },
		iron.As("iron", "for each chromium"), each.As("hydroxide", "for each iron"))
}

// lye is the hydroxide that an oxidiser takes for the cyanide.
func (r Reagents) lye(oxidiser *matter) (working.Estimate[float64], bool) {
	if oxidiser == nil {
		return working.Estimate[float64]{}, false
	}
	use := hydroxideToCyanate
	if r.Complete {
		use = hydroxideToNitrogen
	}
	moles, takes := oxidiser.uses[use]
	return moles, takes
}

func (r Reagents) precipitated(chosen chosen) []working.Caveat {
	var all []working.Caveat
	for i, m := range chosen.metals {
		all = append(all, m.countedAs(r.Metals[i].Name)...)
		if countOf(m.formula, "H") == 0 {
			all = append(all, silverNote)
		}
	}
	return all
}
