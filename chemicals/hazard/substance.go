package hazard

import (
	"slices"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// FromSubstance is a published substance as an ingredient, with the classes,
// limits, M-factors and estimates of the tables. One that the tables do not
// classify (the metals) is unknown. It is the same under every regime; Classify
// takes of it what the regime has.
//
// Two things are our judgement, as the tables do not say them: an acid or base
// whose class is corrosive or damaging to eyes is taken for a strong one; what
// is toxic by inhalation is breathed in as mist if it is a solid or a metal
// salt, else as vapour.
func FromSubstance(s *reference.Substance, low, high float64) Component {
	c := Component{Name: uncapital(s.Name), Low: low, High: high, NotToxic: s.ID == "water"}
	if s.Classification == nil {
		c.Caveats = append(c.Caveats, "the tables have no classification of it")
		return c
	}
	c.Classified = true
	c.classify(s)
	c.limit(s)
	c.estimates(s.Classification)
	c.judgeStrength(s)
	c.judgeTable(s.Classification)
	return c
}

// uncapital is a name as it stands inside a sentence: EDTA stays what it is.
func uncapital(name string) string {
	if len(name) > 1 && strings.ToUpper(name[:2]) == name[:2] {
		return name
	}
	return strings.ToLower(name[:1]) + name[1:]
}

func (c *Component) classify(s *reference.Substance) {
	for _, k := range s.Classification.Classes {
		class := Class{Name: k.Class, Code: k.Code}
		if class.Kind() == "Acute Tox." {
			class.Route = routeOf(k.Code, s)
		}
		c.Classes = append(c.Classes, Known{class, refOf(k.Sourced)})
		if k.Minimum {
			c.Caveats = append(c.Caveats, working.Caveat(class.String()+" is a minimum classification: data may make it stricter"))
		}
		if class.Route == Vapour || class.Route == Mist {
			c.Caveats = append(c.Caveats, working.Caveat("it is taken to be inhaled as "+string(class.Route)+"; that is our judgement"))
		}
	}
	for _, code := range s.Classification.Supplements {
		c.Supplements = append(c.Supplements, Supplement{code.Code, refOf(code.Sourced)})
	}
}

// routeOf is the route that the code of an acute class names.
func routeOf(code string, s *reference.Substance) Route {
	for _, l := range published().labels {
		if l.class.Code != code {
			continue
		}
		if l.class.Route != Inhaled {
			return l.class.Route
		}
		if s.State == reference.Solid || s.State == reference.SolidOrSolution || slices.Contains(s.Groups, "metal salt") {
			return Mist
		}
		return Vapour
	}
	panic("hazard: no route for " + code)
}

func (c *Component) limit(s *reference.Substance) {
	for _, l := range s.Classification.Limits {
		limit := Limit{Low: fraction(l.Low), Text: "from " + l.Low.String(), Ref: refOf(l.Sourced)}
		if l.Below.Known() {
			limit.Below = fraction(l.Below)
			limit.Text += " to below " + l.Below.String()
		}
		if l.Class == "" {
			limit.Supplement = l.Code
		} else {
			limit.Class = Class{Name: l.Class, Code: l.Code}
		}
		c.Limits = append(c.Limits, limit)
	}
	for _, m := range s.Classification.MFactors {
		factor := Factor{float64(m.Factor), refOf(m.Sourced)}
		if m.Hazard == reference.AquaticAcute {
			c.MAcute = factor
		} else {
			c.MChronic = factor
		}
	}
}

// refOf is the source of a value; of one recalled it is the document in which
// it is to be confirmed, with the standing that it has here.
func refOf(s reference.Sourced) source.Ref {
	if s.Ref.Standing == source.FromMemory && s.Ref.Document == "" && s.ConfirmIn.Known() {
		ref := s.ConfirmIn
		ref.Standing = source.FromMemory
		return ref
	}
	return s.Ref
}

func fraction(s quantity.Stated[quantity.MassShare]) float64 { return s.Is().Percent() / 100 }

// estimates takes the published estimates by inhalation; the tables have them
// as vapour only.
func (c *Component) estimates(k *reference.Classification) {
	for _, e := range k.Estimates {
		v, ok := e.Is.Is().MilligramsPerCubicMetre()
		if ok && strings.HasSuffix(e.Route, "vapour") {
			const perLitre = 1000
			c.Doses = map[Route]Dose{Vapour: {Is: v / perLitre, Text: figure(v/perLitre) + " mg/L", Ref: refOf(e.Sourced)}}
		}
	}
}

func (c *Component) judgeStrength(s *reference.Substance) {
	damaging, ok := c.damaging()
	acid, base := slices.Contains(s.Groups, "acid"), slices.Contains(s.Groups, "base")
	switch {
	case ok && acid:
		c.Strength = StrongAcid
	case ok && base:
		c.Strength = StrongBase
	case acid || base:
		c.Strength = NotAdditive
	case ok && (slices.Contains(s.Groups, "metal salt") || slices.Contains(s.Groups, "surfactant")):
		c.Caveats = append(c.Caveats, working.Caveat("it is "+damaging.String()+" and an inorganic salt or a surfactant, for which adding may fail; it is added all the same"))
	}
	if c.Strength == StrongAcid || c.Strength == StrongBase {
		c.Caveats = append(c.Caveats, "its own pH is not in the tables; by its class it is taken for a strong acid or base, which is our judgement")
	}
}

// judgeTable says what the classification is worth.
func (c *Component) judgeTable(k *reference.Classification) {
	if k.Basis == reference.Typical {
		c.Caveats = append(c.Caveats, "its classification is that of typical suppliers, not a harmonised one")
	}
	if k.Confidence == reference.Low {
		c.Caveats = append(c.Caveats, "its classification is uncertain; the supplier's data sheet should be used")
	}
	recalled := k.Ref.Standing == source.FromMemory
	for _, own := range c.Classes {
		recalled = recalled || own.Ref.Standing == source.FromMemory
	}
	if recalled && len(c.Classes) > 0 {
		c.Caveats = append(c.Caveats, "its classes are recalled, at least in part, and to be confirmed")
	}
}
