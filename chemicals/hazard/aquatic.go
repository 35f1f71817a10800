package hazard

import (
	"strconv"
	"strings"

	"bathwarden/chemicals/source"
)

// aquatic sums the ingredients hazardous to water, each content times its
// M-factor and the weight of its category, against 25 %; the first category
// whose sum is reached stands, acute and chronic apart. CLP and UN GHS 4.1.3.5.
// The US rule has no such classes.
//
// Left out: ingredients with test data but no class, which AquaticSubstance
// classifies first; what persists.
func (w *work) aquatic() {
	if !w.regime.aquatic() {
		w.caveatOnWater()
		return
	}
	w.result.AcuteSums = w.aquaticSums("Aquatic Acute")
	w.result.ChronicSums = w.aquaticSums("Aquatic Chronic")
	unknown := 0.0
	for _, c := range w.parts {
		if c.silent() {
			unknown += c.High
		}
	}
	if unknown > 0 {
		w.caveat("the mixture contains " + shown(unknown) + " of components with unknown hazards to the aquatic environment")
	}
}

func (w *work) caveatOnWater() {
	for _, c := range w.parts {
		for _, k := range c.Classes {
			if strings.HasPrefix(k.Name, "Aquatic") {
				w.caveat(c.Name + " is " + k.String() + ": hazards to water are no part of the US rule, and count for transport and under the other regimes")
			}
		}
	}
}

// aquaticSums works out the sum of every category of a kind and records the
// first that is reached.
func (w *work) aquaticSums(kind string) []float64 {
	var sums []float64
	reached := false
	for i := 1; ; i++ {
		category := kind + " " + strconv.Itoa(i)
		limit, ok := w.regime.find(category, "sum from")
		if !ok {
			return sums
		}
		total, terms, from := w.weighted(kind, category)
		sums = append(sums, total)
		if !reached && atLeast(total, limit.is) {
			reached = true
			w.found(classOf(category, ""), Reason{
				About: "aquatic environment", Seen: strings.Join(terms, " + ") + " = " + shown(total), Relation: above, Threshold: limit.text,
				Rule: "content × M-factor × weight of its category, summed", Ref: limit.ref, From: refs(from...),
			})
		}
	}
}

func (w *work) weighted(kind, category string) (total float64, terms []string, from []source.Ref) {
	for _, c := range w.parts {
		own, ok := c.worst(kind)
		if !ok {
			continue
		}
		weight, counts := w.regime.find(own.Name, "weight for "+category)
		m := w.factor(c, own, kind)
		if !counts || !atLeast(c.High, w.regime.must(own.Name, "relevant from").is/m.Is) {
			continue
		}
		if category == "Aquatic Chronic 4" {
			m.Is = 1 // no M-factor and no weights in the last sum
		}
		total += c.High * m.Is * weight.is
		term := c.content()
		if factors := m.Is * weight.is; factors != 1 {
			term = figure(factors) + " × " + term
		}
		terms, from = append(terms, term), append(from, own.Ref, m.Ref)
	}
	return total, terms, from
}

// factor is the M-factor of an ingredient of the first category.
func (w *work) factor(c Component, own Known, kind string) Factor {
	if own.Category() != "1" {
		return Factor{Is: 1}
	}
	factors := [2]Factor{c.MAcute, c.MChronic}
	if kind == "Aquatic Chronic" {
		factors = [2]Factor{c.MChronic, c.MAcute}
	}
	switch {
	case factors[0].Is > 0:
		return factors[0]
	case factors[1].Is > 0 && kind == "Aquatic Chronic":
		w.caveat("the chronic M-factor of " + c.Name + " is not known; the acute one is taken")
		return factors[1]
	}
	w.caveat("no M-factor of " + c.Name + " is known for " + own.Name + "; 1 is taken, and a greater one would raise the sum")
	return Factor{Is: 1}
}
