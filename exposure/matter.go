package exposure

import (
	"fmt"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Matter is what a name in a bath or a product stands for: a product of the
// book, a published substance, an element or ion as such, or none of them.
type Matter struct {
	Name      chemicals.Name // as written
	Product   *chemicals.Held[chemicals.Product]
	Parts     []Part // of a product, as its sheet gives them
	Substance *reference.Substance
	Species   *reference.Species
}

// Part is one constituent of a product.
type Part struct {
	chemicals.Held[chemicals.Content]
	Substance *reference.Substance // nil where the tables do not know it
}

// Known reports whether the name stands for anything.
func (m Matter) Known() bool { return m.Product != nil || m.Substance != nil || m.Species != nil }

// same reports whether two names stand for one thing.
func (m Matter) same(n Matter) bool {
	switch {
	case m.Product != nil || n.Product != nil:
		return m.Product != nil && n.Product != nil && m.Product.Is.Name.Meaning() == n.Product.Is.Name.Meaning()
	case m.Substance != nil || n.Substance != nil:
		return m.Substance == n.Substance
	case m.Species != nil && n.Species != nil:
		return m.Species.Name == n.Species.Name
	}
	return m.Name.Meaning() == n.Name.Meaning()
}

// shelf knows what names stand for on a day.
type shelf struct {
	tables   *reference.Set
	products map[string]chemicals.Held[chemicals.Product]
	contents map[string][]chemicals.Held[chemicals.Content]
}

func newShelf(shop *chemicals.Shop, tables *reference.Set, day chemicals.Day) shelf {
	s := shelf{tables: tables, products: map[string]chemicals.Held[chemicals.Product]{}, contents: map[string][]chemicals.Held[chemicals.Content]{}}
	for _, p := range chemicals.On[chemicals.Product](shop, day) {
		s.products[p.Is.Name.Meaning()] = p
	}
	for _, c := range chemicals.On[chemicals.Content](shop, day) {
		key := c.Is.Product.Meaning()
		s.contents[key] = append(s.contents[key], c)
	}
	return s
}

// matter looks a name up: products first, then substances, then elements and
// ions.
func (s shelf) matter(name chemicals.Name) Matter {
	m := Matter{Name: name}
	if p, ok := s.products[name.Meaning()]; ok {
		m.Product = &p
		for _, c := range s.contents[name.Meaning()] {
			part := Part{Held: c}
			part.Substance, _ = s.tables.Substance(c.Is.Substance.String())
			m.Parts = append(m.Parts, part)
		}
		return m
	}
	if substance, ok := s.tables.Substance(name.String()); ok {
		m.Substance = substance
	} else if species, ok := s.tables.Species(name.String()); ok {
		m.Species = &species
	}
	return m
}

// Share is the part by mass of an element or ion in m, absent with the reason
// where no part of m is known to hold it or the parts are not known.
func (m Matter) Share(of reference.Species) working.Estimate[float64] {
	switch {
	case m.Species != nil && m.Species.Name == of.Name:
		return working.Given(source.Value[float64]{Is: 1, Origin: source.Recorded}, "1")
	case m.Substance != nil:
		return shareIn(m.Substance, of)
	}
	sum, found := working.Absent[float64](fmt.Sprintf("%s is not known to hold %s", m.Name, of.Name)), false
	for _, part := range m.Parts {
		if part.Substance == nil {
			continue
		}
		share := shareIn(part.Substance, of)
		if !share.Known() {
			continue
		}
		one := times(part.content(), share, part.Substance.Name)
		if !found {
			sum, found = one, true
			continue
		}
		sum = added(sum, one)
	}
	return sum
}

// shareIn is the share by mass in the pure substance, from its formula.
func shareIn(s *reference.Substance, of reference.Species) working.Estimate[float64] {
	share, ok := s.Share(of)
	if !ok {
		return working.Absent[float64](fmt.Sprintf("the formula of %s does not tell its %s", s.Name, of.Name))
	}
	return working.Given(source.Value[float64]{Is: share, Origin: source.Computed, Ref: of.MolarMass.Ref},
		quantity.Significant(share*100, 4)+" % of "+s.Formula)
}

func times(content working.Estimate[float64], share working.Estimate[float64], in string) working.Estimate[float64] {
	return working.Compute(working.Formula{Line: "w = content × share of the metal", Unit: "%"},
		func(c working.Case) float64 { return content.At(c) * share.At(c) },
		content.As("content", in), share.As("share", "by its formula"))
}

func added(a, b working.Estimate[float64]) working.Estimate[float64] {
	return working.Compute(working.Formula{Line: "w = w₁ + w₂", Unit: "%"},
		func(c working.Case) float64 { return a.At(c) + b.At(c) }, a.As("w₁", "share so far"), b.As("w₂", "share of the next part"))
}

// content is the part's share of the product as a fraction: the middle of low
// and high, with both as bounds. Where only the high one is recorded the low
// one is taken as none.
func (p Part) content() working.Estimate[float64] {
	high := p.Is.High.Is().Percent() / 100
	low, text := 0.0, "up to "+p.Is.High.String()
	if p.Is.Low.Known() {
		low, text = p.Is.Low.Is().Percent()/100, p.Is.Low.String()+" to "+p.Is.High.String()
	}
	value := source.Value[float64]{Is: (low + high) / 2, Origin: source.Recorded, Ref: source.Entry(p.Entry)}
	if p.Is.Low.Known() && low == high {
		return working.Given(value, p.Is.High.String())
	}
	e := working.Given(value, text).Between(low, high, text)
	if !p.Is.Low.Known() {
		e = e.WithCaveats(working.Caveat(fmt.Sprintf("no low content of %s in %s is recorded; taken as none", p.Is.Substance, p.Is.Product)))
	}
	return e
}
