package exposure

import (
	"cmp"
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Content is one ingredient of a tank.
type Content struct {
	Matter
	MadeUp        *chemicals.Held[chemicals.Ingredient]        // nil where only an analysis names it
	Found         *chemicals.Happened[chemicals.Analysis]      // that says how much there is, of itself or of its metal
	Concentration working.Estimate[quantity.BathConcentration] // in g/L
	Mass          working.Estimate[quantity.Mass]
}

// MetalContent is one metal of a tank, over all ingredients that hold it.
type MetalContent struct {
	Metal         reference.Species
	Found         *chemicals.Happened[chemicals.Analysis] // of the metal as such
	Concentration working.Estimate[quantity.BathConcentration]
	Mass          working.Estimate[quantity.Mass]
}

// Tank is what a tank holds on the as-of day.
type Tank struct {
	chemicals.Held[chemicals.Tank]
	Contents []Content
	Metals   []MetalContent
}

// Tanks finds the contents of every tank that stands on the as-of day, by line
// and position.
func Tanks(shop *chemicals.Shop, tables *reference.Set) []Tank {
	baths := newBaths(shop, tables)
	var tanks []Tank
	for _, t := range chemicals.On[chemicals.Tank](shop, shop.AsOf) {
		tanks = append(tanks, baths.on(t, shop.AsOf))
	}
	slices.SortStableFunc(tanks, func(a, b Tank) int {
		return cmp.Or(cmp.Compare(a.Is.Line, b.Is.Line), cmp.Compare(a.Is.Position.Int(), b.Is.Position.Int()), cmp.Compare(a.Is.Name, b.Is.Name))
	})
	return tanks
}

// metalsOf are the metals that the tables list as such, by symbol.
func metalsOf(tables *reference.Set) []reference.Species {
	var metals []reference.Species
	for _, s := range tables.Substances() {
		if species, ok := tables.Species(s.Formula); ok && species.Element != "" {
			metals = append(metals, species)
		}
	}
	slices.SortFunc(metals, func(a, b reference.Species) int { return cmp.Compare(a.Name, b.Name) })
	return metals
}

// latest keeps the last analysis of each thing since the bath was made up, in
// the order of their days.
func latest(s shelf, analyses []chemicals.Happened[chemicals.Analysis], since chemicals.Day) []chemicals.Happened[chemicals.Analysis] {
	var kept []chemicals.Happened[chemicals.Analysis]
	var of []Matter
	seen := map[chemicals.Name]bool{}
	for _, a := range slices.Backward(analyses) {
		if a.Date < since {
			break
		}
		if seen[a.Is.Ingredient] {
			continue
		}
		seen[a.Is.Ingredient] = true
		matter := s.matter(a.Is.Ingredient)
		if !slices.ContainsFunc(of, matter.same) {
			kept, of = append(kept, a), append(of, matter)
		}
	}
	slices.Reverse(kept)
	return kept
}

// bath is a tank whose contents are being worked out.
type bath struct {
	shelf shelf
	tank  chemicals.Held[chemicals.Tank]
	since chemicals.Day // first day of the make-up that stands
	held  []Content
	found map[string]*chemicals.Happened[chemicals.Analysis] // of an element or ion, by name
}

func (b *bath) makeUp(rows []chemicals.Held[chemicals.Ingredient]) {
	b.found = map[string]*chemicals.Happened[chemicals.Analysis]{}
	for _, row := range rows {
		b.since = max(b.since, row.From)
		c := Content{Matter: b.shelf.matter(row.Is.Ingredient), MadeUp: &row}
		stated := source.Value[quantity.BathConcentration]{Is: row.Is.Concentration.Is(), Origin: source.Recorded, Ref: source.Entry(row.Entry)}
		c.Concentration = b.gramsPerLitre(c.Matter, stated, row.Is.Concentration.String())
		b.held = append(b.held, c)
	}
}

// analyse puts what was found in the place of what the make-up says. An
// element or ion scales the ingredients that hold it alike.
func (b *bath) analyse(analyses []chemicals.Happened[chemicals.Analysis]) {
	for _, a := range analyses {
		of := b.shelf.matter(a.Is.Ingredient)
		measured := source.Value[quantity.BathConcentration]{Is: a.Is.Concentration.Is(), Origin: source.Measured, Ref: source.Entry(a.Entry)}
		concentration := b.gramsPerLitre(of, measured, a.Is.Concentration.String())
		at := slices.IndexFunc(b.held, func(c Content) bool { return c.same(of) })
		switch {
		case at >= 0:
			b.held[at].Found, b.held[at].Concentration = &a, concentration
			b.forget(of)
		case of.Species != nil && b.scale(*of.Species, concentration, &a):
			b.found[of.Species.Name] = &a
		default:
			b.held = append(b.held, Content{Matter: of, Found: &a, Concentration: concentration})
			b.forget(of)
		}
	}
}

// forget drops analyses of what m holds: m was found later than they.
func (b *bath) forget(m Matter) {
	for name := range b.found {
		if species, ok := b.shelf.tables.Species(name); ok && m.Share(species).Known() {
			delete(b.found, name)
		}
	}
}

// scale sets the ingredients that hold a species so that together they hold
// what was found. It is false where none holds it in a known amount.
func (b *bath) scale(of reference.Species, found working.Estimate[quantity.BathConcentration], by *chemicals.Happened[chemicals.Analysis]) bool {
	before := b.sum(of)
	if !before.Known() || !found.Known() || grams(before, working.Likely) == 0 {
		return false
	}
	for i := range b.held {
		c := &b.held[i]
		if !c.Share(of).Known() || !c.Concentration.Known() {
			continue
		}
		was := c.Concentration
		c.Found = by
		// The bounds of a product's contents cancel out where the whole was measured.
		c.Concentration = working.Compute(working.Formula{Line: "c = c₀ × found / made up", Unit: "g/L", Likely: true},
			func(working.Case) quantity.BathConcentration {
				return quantity.GramsPerLitre(grams(was, working.Likely) * grams(found, working.Likely) / grams(before, working.Likely))
			},
			was.As("c₀", "made up with "+c.Name.String()), found.As("found", of.Name+" by analysis"), before.As("made up", of.Name+" by the make-up"))
	}
	return true
}

// grams is a concentration in g/L that gramsPerLitre made.
func grams(c working.Estimate[quantity.BathConcentration], of working.Case) float64 {
	v, ok := c.At(of).GramsPerLitre()
	if !ok {
		panic("exposure: a concentration was not brought to g/L")
	}
	return v
}

// gramsPerLitre brings a concentration to g/L as far as density, molar mass
// and composition allow.
func (b *bath) gramsPerLitre(of Matter, c source.Value[quantity.BathConcentration], text string) working.Estimate[quantity.BathConcentration] {
	given := working.Given(c, text)
	if _, ok := c.Is.GramsPerLitre(); ok {
		return given
	}
	perLitre := func(v float64) quantity.BathConcentration { return quantity.GramsPerLitre(v) }
	if v, ok := c.Is.MillilitresPerLitre(); ok {
		density := densityOf(of)
		return working.Compute(working.Formula{Line: "c = v × ρ", Unit: "g/L"},
			func(working.Case) quantity.BathConcentration { return perLitre(v * density.Is().GramsPerMillilitre()) },
			given.As("v", "volume of "+of.Name.String()), density.As("ρ", "its density"))
	}
	if v, ok := c.Is.PercentByMass(); ok {
		density := stated(b.tank.Is.Density, b.tank.Entry, "no density of the solution in "+b.tank.Is.Name.String()+" is recorded")
		return working.Compute(working.Formula{Line: "c = w × ρ", Unit: "g/L"},
			func(working.Case) quantity.BathConcentration {
				return perLitre(v / 100 * 1000 * density.Is().GramsPerMillilitre())
			},
			given.As("w", "share of "+of.Name.String()), density.As("ρ", "density of the solution"))
	}
	v, ok := c.Is.MolesPerLitre()
	if !ok {
		return working.Absent[quantity.BathConcentration](text + " is on a basis that is not known")
	}
	mass := molarMassOf(of, c.Is)
	return working.Compute(working.Formula{Line: "c = n × M", Unit: "g/L"},
		func(working.Case) quantity.BathConcentration { return perLitre(v * mass.Is().GramsPerMole()) },
		given.As("n", "moles of "+of.Name.String()), mass.As("M", "its molar mass"))
}

// densityOf is a product's density. A volume of a substance says nothing of
// its strength, so a substance has none here.
func densityOf(m Matter) working.Estimate[quantity.Density] {
	switch {
	case m.Product != nil:
		return stated(m.Product.Is.Density, m.Product.Entry, "no density of "+m.Name.String()+" is recorded")
	case m.Substance != nil:
		return working.Absent[quantity.Density]("a volume of " + m.Name.String() + " says nothing of its strength: record the product that was used, with its density and contents")
	}
	return working.Absent[quantity.Density](m.Name.String() + " is neither a product of the book nor a published substance")
}

// molarMassOf is a substance's or an element's. Where equivalents were
// written, the formula that they name must be the substance's.
func molarMassOf(m Matter, c quantity.BathConcentration) working.Estimate[quantity.MolarMass] {
	var mass source.Value[quantity.MolarMass]
	var formula string
	switch {
	case m.Substance != nil:
		mass, formula = m.Substance.MolarMass, m.Substance.Formula
	case m.Species != nil:
		mass, formula = m.Species.MolarMass, m.Species.Name
	default:
		return working.Absent[quantity.MolarMass](m.Name.String() + " has no molar mass: write its concentration by mass or by volume")
	}
	if of, ok := c.EquivalentFormula(); ok && of != formula {
		return working.Absent[quantity.MolarMass](fmt.Sprintf("the equivalents are of %s, but %s is %s", of, m.Name, formula))
	}
	return working.Given(mass, quantity.Print(mass.Is, "g/mol", 6))
}

// stated is a recorded quantity, or its absence with a reason.
func stated[Q quantity.Quantity[Q]](q quantity.Stated[Q], entry int64, why string) working.Estimate[Q] {
	if !q.Known() {
		return working.Absent[Q](why)
	}
	return working.Given(source.Value[Q]{Is: q.Is(), Origin: source.Recorded, Ref: source.Entry(entry)}, q.String())
}
