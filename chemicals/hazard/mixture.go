package hazard

import (
	"cmp"
	"errors"
	"slices"
	"strconv"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Mixture is a product or a bath as it is classified. Contents are of the
// species supplied: an acid and a base that have consumed one another are
// no longer there.
type Mixture struct {
	PH         working.Estimate[float64]
	Components []Component
}

// Component is one ingredient: how much of it there is and what is known of
// it. One without classes, estimates and limits is unknown, which is not the
// same as harmless.
type Component struct {
	Name      string
	Low, High float64 // fraction by mass; classes use High

	Classes []Known
	// Classified says that the ingredient was looked at: classes that are not
	// listed it does not have.
	Classified  bool
	NotToxic    bool // presumed not acutely toxic, as water is
	Doses       map[Route]Dose
	Limits      []Limit // specific concentration limits
	MAcute      Factor
	MChronic    Factor
	Supplements []Supplement // EUH codes of the ingredient

	PH       working.Estimate[float64] // of the ingredient as it is or saturated
	Strength Strength                  // where PH is not known
	Caveats  []working.Caveat
}

// Known is a class of an ingredient and where it is known from.
type Known struct {
	Class
	Ref source.Ref
}

// Factor is an M-factor; zero is none known.
type Factor struct {
	Is  float64
	Ref source.Ref
}

// Supplement is a supplemental statement and where it is known from.
type Supplement struct {
	Code string
	Ref  source.Ref
}

// Strength tells whether the contents of like ingredients may be added.
type Strength int

// The strengths. Of strong acids and bases, and of others for which adding
// fails, one per cent is enough.
const (
	Additive Strength = iota
	StrongAcid
	StrongBase
	NotAdditive
)

// Unknown is the remainder of a product whose contents do not make the whole.
func Unknown(share float64) Component {
	return Component{Name: "ingredients not stated", Low: share, High: share}
}

// Water is the remainder of a bath.
func Water(share float64) Component {
	return Component{Name: "water", Low: share, High: share, Classified: true, NotToxic: true}
}

// Remainder is what the components leave of the whole at their lower contents;
// less than a millionth is rounding.
func Remainder(components []Component) float64 {
	rest := 1.0
	for _, c := range components {
		rest -= c.Low
	}
	const rounding = 1e-6
	if rest < rounding {
		return 0
	}
	return rest
}

// check refuses contents that cannot be. Errors are joined *working.Fault.
func (m Mixture) check() error {
	var faults []error
	sum := 0.0
	for i, c := range m.Components {
		where := "components " + strconv.Itoa(i+1)
		sum += c.Low
		switch {
		case !(c.Low >= 0 && c.High >= c.Low):
			faults = append(faults, &working.Fault{Where: where, What: c.Name + " does not have a content from low to high", Mend: "give low and high as shares of the whole"})
		case c.High > 1+slack:
			faults = append(faults, &working.Fault{Where: where, What: c.Name + " is " + shown(c.High) + ", more than the whole", Mend: "check the content"})
		}
	}
	const rounding = 0.005 // contents as sheets round them
	if sum > 1+rounding {
		faults = append(faults, &working.Fault{Where: "components", What: "together they are " + shown(sum) + ", more than the whole", Mend: "check contents and units"})
	}
	if len(m.Components) == 0 && !m.PH.Known() {
		faults = append(faults, &working.Fault{Where: "components", What: "there are none, and no pH", Mend: "name what the mixture is made of"})
	}
	return errors.Join(faults...)
}

// sorted are the components in an order that does not depend on how they were
// given: the largest first, then by name.
func (m Mixture) sorted() []Component {
	all := slices.Clone(m.Components)
	slices.SortStableFunc(all, func(a, b Component) int {
		return cmp.Or(cmp.Compare(b.High, a.High), cmp.Compare(a.Name, b.Name), cmp.Compare(a.describe(), b.describe()))
	})
	return all
}

// describe tells components of one name and content apart.
func (c Component) describe() string {
	text := ""
	for _, k := range c.Classes {
		text += k.String() + ";"
	}
	for _, form := range forms {
		text += c.Doses[form].Text + ";"
	}
	for _, l := range c.Limits {
		text += l.Class.String() + l.Supplement + l.Text + ";"
	}
	return text
}

// silent reports whether nothing is known of the ingredient.
func (c Component) silent() bool {
	return !c.Classified && !c.NotToxic && len(c.Classes) == 0 && len(c.Limits) == 0 && len(c.Doses) == 0 && len(c.Supplements) == 0
}

// content is the ingredient with the content that classes use.
func (c Component) content() string { return c.Name + " " + shown(c.High) + " w/w" }

// classes are those of a hazard, with those that only limits name, the
// strictest first.
func (c Component) classes(hazard string) []Known {
	var all []Known
	for _, k := range c.Classes {
		if k.Hazard() == hazard {
			all = append(all, k)
		}
	}
	for _, l := range c.Limits {
		named := func(k Known) bool { return k.Class == l.Class }
		if l.Supplement == "" && l.Class.Hazard() == hazard && !slices.ContainsFunc(all, named) {
			all = append(all, Known{l.Class, l.Ref})
		}
	}
	slices.SortStableFunc(all, func(a, b Known) int { return a.label().rank - b.label().rank })
	return all
}

// worst is the strictest class of a hazard.
func (c Component) worst(hazard string) (Known, bool) {
	all := c.classes(hazard)
	if len(all) == 0 {
		return Known{}, false
	}
	return all[0], true
}

// bands are the specific limits of a hazard that a regime applies, the
// strictest class first.
func (c Component) bands(r Regime, hazard string) []Limit {
	if !r.specificLimits() {
		return nil
	}
	var all []Limit
	for _, l := range c.Limits {
		if l.Supplement == "" && l.Class.Hazard() == hazard {
			all = append(all, l)
		}
	}
	slices.SortStableFunc(all, func(a, b Limit) int {
		return cmp.Or(a.Class.label().rank-b.Class.label().rank, cmp.Compare(a.Low, b.Low))
	})
	return all
}

// threshold is a specific limit as the rules use it.
func (l Limit) threshold(low float64) threshold {
	return threshold{of: l.Class.Name, figure: l.Class.Name, is: low, text: shown(low), ref: l.Ref, specific: true}
}
