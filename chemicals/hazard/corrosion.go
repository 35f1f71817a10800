package hazard

import (
	"slices"
	"strings"

	"bathwarden/chemicals/source"
)

// Skin and eye are classified by three rules, of which the strictest stands:
// the pH of the mixture; single ingredients for which adding fails; and the
// sum of the others. HCS A.2.4 and A.3.4, CLP and UN GHS 3.2.3 and 3.3.3.
//
// In the sum each content is divided by the limit of its ingredient for the
// class in question, C1/L1 + C2/L2 + ... ≥ 1, which for general limits is the
// same as the weighted sums of the tables (10 × Category 1 + Category 2 ≥ 10)
// and lets specific limits in. All ingredients are added, those for which
// adding fails too.
//
// Left out: the acid or alkaline reserve, which only a test may set against
// the pH.
func (w *work) skin() {
	var reasons []Reason
	name := "Skin Corr. 1"
	for _, letter := range []string{"1A", "1B", "1C", "1"} {
		if sum, ok := w.sum("skin", "Skin Corr. "+letter, w.corrosiveLimit(letter)); ok {
			name, reasons = "Skin Corr. "+letter, append(reasons, sum)
			break
		}
	}
	reasons = append(reasons, w.singles("skin", "Skin Corr.")...)
	reasons = append(reasons, w.extremePH("skin")...)
	if len(reasons) > 0 {
		w.found(classOf(name, ""), reasons...)
		return
	}
	if sum, ok := w.sum("skin", "Skin Irrit. 2", w.irritantLimit("skin", "Skin Irrit. 2")); ok {
		reasons = append(reasons, sum)
	}
	reasons = append(reasons, w.singles("skin", "Skin Irrit. 2")...)
	if len(reasons) > 0 {
		w.found(classOf("Skin Irrit. 2", ""), reasons...)
		return
	}
	for _, figure := range []string{"Skin Irrit. 3", "Skin Irrit. 3, with mild irritants"} {
		if sum, ok := w.sum("skin", "Skin Irrit. 3", w.irritantLimit("skin", figure)); ok {
			w.found(classOf("Skin Irrit. 3", ""), sum)
		}
	}
}

func (w *work) eye() {
	var reasons []Reason
	if skin, ok := w.result.Has("Skin Corr."); ok {
		follows := w.regime.must("mixture that corrodes skin", "Eye Dam. 1")
		reasons = append(reasons, Reason{About: "eye", Seen: "the mixture is " + skin.Class.String(), Rule: "what corrodes skin damages eyes", Ref: follows.ref})
	}
	if sum, ok := w.sum("eye", "Eye Dam. 1", w.damagingLimit); ok {
		reasons = append(reasons, sum)
	}
	reasons = append(reasons, w.singles("eye", "Eye Dam. 1")...)
	reasons = append(reasons, w.extremePH("eye")...)
	if len(reasons) > 0 {
		w.found(classOf("Eye Dam. 1", ""), reasons...)
		return
	}
	if sum, ok := w.sum("eye", "Eye Irrit. 2", w.irritantLimit("eye", "Eye Irrit. 2")); ok {
		reasons = append(reasons, sum)
	}
	reasons = append(reasons, w.singles("eye", "Eye Irrit. 2")...)
	if len(reasons) > 0 {
		w.found(classOf(w.eyeCategory(), ""), reasons...)
	}
}

// eyeCategory is 2B where all ingredients that count are.
func (w *work) eyeCategory() string {
	if w.regime == EU {
		return "Eye Irrit. 2"
	}
	for _, c := range w.parts {
		_, corrosive := c.corrosive()
		if k, ok := c.worst("eye"); (corrosive || ok && k.Name != "Eye Irrit. 2B") && w.relevantTo(c, "eye") {
			return "Eye Irrit. 2A"
		}
	}
	return "Eye Irrit. 2B"
}

// corrosive is the skin class of an ingredient if it is corrosive.
func (c Component) corrosive() (Known, bool) {
	k, ok := c.worst("skin")
	return k, ok && k.Kind() == "Skin Corr."
}

// damaging is the class that makes an ingredient count as damaging eyes: that
// of the eye, else that of the skin. It counts once.
func (c Component) damaging() (Known, bool) {
	if k, ok := c.worst("eye"); ok && k.Name == "Eye Dam. 1" {
		return k, true
	}
	return c.corrosive()
}

// limitOf is the limit of an ingredient for a class of the mixture, if it
// counts towards it.
type limitOf func(Component) (threshold, bool)

// corrosiveLimit is the limit for a sub-category: 1A is reached by 1A, 1B by
// 1A and 1B, and so on; plain 1 by all.
func (w *work) corrosiveLimit(letter string) limitOf {
	counts := map[string]string{"1A": "1A", "1B": "1A 1B", "1C": "1A 1B 1C", "1": "1A 1B 1C 1"}[letter]
	has := func(c Class) bool {
		return c.Kind() == "Skin Corr." && slices.Contains(strings.Fields(counts), c.Category())
	}
	return func(c Component) (threshold, bool) {
		bands := c.bands(w.regime, "skin")
		low, found := Limit{}, false
		for _, l := range bands {
			if has(l.Class) && (!found || l.Low < low.Low) {
				low, found = l, true
			}
		}
		own, corrosive := c.corrosive()
		switch {
		case found:
			return low.threshold(low.Low), true
		case !corrosive || !has(own.Class):
			return threshold{}, false
		}
		if end, ok := endOf(bands); ok {
			return end.threshold(end.Below), true
		}
		return w.regime.find(own.Name, "Skin Corr.")
	}
}

// endOf is the strictest band that ends, where the ingredient's own class
// begins.
func endOf(bands []Limit) (Limit, bool) {
	if len(bands) > 0 && bands[0].Below > 0 {
		return bands[0], true
	}
	return Limit{}, false
}

func (w *work) damagingLimit(c Component) (threshold, bool) {
	bands := c.bands(w.regime, "eye")
	if len(bands) > 0 && bands[0].Class.Name == "Eye Dam. 1" {
		return bands[0].threshold(bands[0].Low), true
	}
	own, ok := c.damaging()
	if !ok {
		return threshold{}, false
	}
	if end, ok := endOf(bands); ok {
		return end.threshold(end.Below), true
	}
	return w.regime.find(own.Name, "Eye Dam. 1")
}

// irritantLimit is the limit for a class below the first category; an
// ingredient's specific limit for it is not weighted.
func (w *work) irritantLimit(hazard, figure string) limitOf {
	return func(c Component) (threshold, bool) {
		for _, l := range c.bands(w.regime, hazard) {
			if l.Class.Name == figure {
				return l.threshold(l.Low), true
			}
		}
		own, ok := c.worst(hazard)
		if k, damaging := c.damaging(); hazard == "eye" && damaging {
			own, ok = k, true
		}
		if !ok {
			return threshold{}, false
		}
		return w.regime.find(own.Name, figure)
	}
}

// relevantTo reports whether an ingredient enters the sums: at the general
// cut-off or at its lowest specific limit.
func (w *work) relevantTo(c Component, hazard string) bool {
	from := w.regime.must(hazard, "relevant from").is
	for _, l := range c.bands(w.regime, hazard) {
		from = min(from, l.Low)
	}
	return c.High > 0 && atLeast(c.High, from)
}

// sum adds the contents, each over its limit.
func (w *work) sum(hazard, to string, limit limitOf) (Reason, bool) {
	total := 0.0
	var parts, names []string
	var from []source.Ref
	var last threshold
	for _, c := range w.parts {
		t, counts := limit(c)
		if !counts || !w.relevantTo(c, hazard) {
			continue
		}
		total += c.High / max(t.is, smallest)
		parts = append(parts, shown(c.High)+" / "+t.text)
		names = append(names, c.content())
		from, last = append(from, t.ref), t
	}
	if !atLeast(total, 1) {
		return Reason{}, false
	}
	r := Reason{About: hazard, Relation: above, Rule: last.rule("limit for " + to), Ref: last.ref, From: refs(from...)}
	if len(parts) == 1 {
		r.Seen, r.Threshold = names[0], last.text
		return r, true
	}
	r.Seen, r.Threshold = strings.Join(names, ", ")+": "+strings.Join(parts, " + ")+" = "+figure(total), "1"
	r.Rule = "each content over its limit for " + to
	return r, true
}

// smallest stands for a limit of zero: any content meets it.
const smallest = 1e-12

// strength tells whether an ingredient is one for which adding fails, and why.
func (w *work) strength(c Component, hazard string) (Strength, string) {
	if !c.PH.Known() {
		switch c.Strength {
		case StrongAcid:
			return StrongAcid, "strong acid, taken to have a pH of 2 or less"
		case StrongBase:
			return StrongBase, "strong base, taken to have a pH of 11.5 or more"
		case NotAdditive:
			return NotAdditive, "an ingredient for which adding fails"
		}
		return Additive, ""
	}
	ph := c.PH.Is()
	switch {
	case atMost(ph, w.regime.must(hazard, "pH at most").is):
		return StrongAcid, "acid of pH " + c.PH.Text()
	case atLeast(ph, w.regime.must(hazard, "pH at least").is):
		return StrongBase, "base of pH " + c.PH.Text()
	}
	return c.Strength, "an ingredient for which adding fails"
}

// singles are the ingredients for which adding fails that alone give a class.
// Specific limits take the place of this rule.
func (w *work) singles(hazard, to string) []Reason {
	var reasons []Reason
	for _, c := range w.parts {
		strength, why := w.strength(c, hazard)
		if strength == Additive || len(c.bands(w.regime, hazard)) > 0 {
			continue
		}
		t, ok := w.singleLimit(c, hazard, to, strength)
		if ok && c.High > 0 && atLeast(c.High, t.is) {
			reasons = append(reasons, Reason{About: hazard, Seen: c.content(), Relation: above, Threshold: t.text, Rule: why + ": it is not added to others", Ref: t.ref})
		}
	}
	return reasons
}

// singleLimit: a strong acid or base counts as corrosive unless its own class
// is known to be a lesser one.
func (w *work) singleLimit(c Component, hazard, to string, strength Strength) (threshold, bool) {
	own, classed := c.worst(hazard)
	if k, ok := c.damaging(); hazard == "eye" && ok {
		own, classed = k, true
	}
	first := classed && (own.Kind() == "Skin Corr." || own.Kind() == "Eye Dam.")
	highest := to == "Skin Corr." || to == "Eye Dam. 1"
	switch {
	case highest && strength != NotAdditive && (first || !classed && !c.Classified):
		return w.regime.find("strong acid or base", to)
	case highest && first:
		return w.regime.find(map[string]string{"skin": "Skin Corr. 1", "eye": "Eye Dam. 1"}[hazard], to+", not additive")
	case !highest && classed && !first && own.Name != "Skin Irrit. 3":
		return w.regime.find(to, to+", not additive")
	}
	return threshold{}, false
}

// extremePH is the rule on the pH of the mixture, where nothing else is known.
func (w *work) extremePH(hazard string) []Reason {
	if !w.ph.Known() {
		return nil
	}
	r := Reason{About: hazard, Seen: "pH " + w.ph.Text(), Rule: "extreme pH, no test of the mixture; acid or alkaline reserve not considered"}
	low, high := w.regime.must(hazard, "pH at most"), w.regime.must(hazard, "pH at least")
	switch {
	case atMost(w.ph.Is(), low.is):
		r.Relation, r.Threshold, r.Ref = below, low.text, low.ref
	case atLeast(w.ph.Is(), high.is):
		r.Relation, r.Threshold, r.Ref = above, high.text, high.ref
	default:
		return nil
	}
	return []Reason{r}
}
