package hazard

import (
	"slices"
	"strings"

	"bathwarden/chemicals/source"
)

// supplements adds what stands beside the classes: gases that acid or water
// sets free (EUH029, 031, 032), corrosion of the airways (EUH071), sensitisers
// below their limit (EUH208). CLP Annex II. The US rule has no such statements:
// the same facts are hazards not otherwise classified.
//
// Left out: other EUH statements of an ingredient, which are named in a caveat;
// how much gas a mixture gives.
func (w *work) supplements() {
	for _, c := range w.parts {
		for _, s := range c.Supplements {
			w.supplement(c, s)
		}
		for _, l := range c.Limits {
			other := func(s Supplement) bool { return s.Code == l.Supplement }
			if l.Supplement != "" && !slices.ContainsFunc(c.Supplements, other) {
				w.supplement(c, Supplement{l.Supplement, l.Ref})
			}
		}
	}
	w.elicitation()
}

// gasCodes tell of gas that is set free.
var gasCodes = []string{"EUH029", "EUH031", "EUH032"}

func (w *work) supplement(c Component, s Supplement) {
	switch {
	case c.High == 0:
	case slices.Contains(gasCodes, s.Code):
		w.gas(c, s)
	case s.Code == "EUH071":
		w.airways(c, s)
	case w.regime == EU:
		w.caveat(c.Name + " bears " + s.Code + "; no rule here says from which content a mixture does")
	}
}

func (w *work) gas(c Component, s Supplement) {
	r := Reason{About: "gas", Seen: c.content(), Rule: "bears " + s.Code + "; the law gives no general limit", From: refs(s.Ref)}
	if w.regime != EU {
		if t, ok := w.regime.find(s.Code, "hazard not otherwise classified"); ok {
			r.Ref = t.ref
			w.added(Added{Text: "Hazard not otherwise classified: " + statementText(s.Code, w.regime), Reason: r})
		}
		return
	}
	r.Ref = w.regime.must(s.Code, "any content in a mixture classified for some hazard").ref
	for _, l := range c.Limits {
		if l.Supplement == s.Code {
			r.Relation, r.Threshold, r.Rule = above, shown(l.Low), "specific limit for "+s.Code
			if !atLeast(c.High, l.Low) {
				return
			}
		}
	}
	if len(w.result.Findings) == 0 {
		w.caveat(c.Name + " bears " + s.Code + ", which stands only on mixtures classified for some hazard")
		return
	}
	w.added(Added{Code: s.Code, Text: statementText(s.Code, w.regime), Reason: r})
}

// airways passes EUH071 on where the mixture corrodes skin or is toxic by
// inhalation.
func (w *work) airways(c Component, s Supplement) {
	t := EU.must("EUH071", "relevant from")
	_, corrosive := w.result.Has("Skin Corr.")
	inhaled := slices.ContainsFunc(w.result.Findings, func(f Finding) bool { return f.Route == Inhaled })
	if w.regime == UN || !atLeast(c.High, t.is) || !corrosive && !inhaled {
		return
	}
	r := Reason{About: "airways", Seen: c.content(), Relation: above, Threshold: t.text, Rule: "bears EUH071, and the mixture is corrosive or toxic by inhalation; the limit is ours", Ref: t.ref, From: refs(s.Ref)}
	if w.regime == US {
		w.added(Added{Text: statementText(s.Code, w.regime), Reason: r})
		return
	}
	w.added(Added{Code: s.Code, Text: statementText(s.Code, w.regime), Reason: r})
}

// added records a supplement once; further reasons of the same are left out.
func (w *work) added(a Added) {
	same := func(b Added) bool { return a.Code == b.Code && a.Text == b.Text }
	if !slices.ContainsFunc(w.result.Supplements, same) {
		w.result.Supplements = append(w.result.Supplements, a)
	}
}

// elicitation names sensitisers from a tenth of their limit, in a mixture that
// is not itself classified as sensitising.
func (w *work) elicitation() {
	if w.regime != EU {
		return
	}
	var names, seen []string
	var from []source.Ref
	var last threshold
	for _, hazard := range []string{"Skin Sens.", "Resp. Sens."} {
		if _, classified := w.result.Has(hazard); classified {
			continue
		}
		for _, c := range w.parts {
			own, ok := c.worst(hazard)
			if !ok {
				continue
			}
			t := w.elicitationLimit(c, own, hazard)
			if c.High > 0 && atLeast(c.High, t.is) && !slices.Contains(names, c.Name) {
				names, seen = append(names, c.Name), append(seen, c.content()+" (from "+t.text+")")
				from, last = append(from, own.Ref), t
			}
		}
	}
	if len(names) > 0 {
		text := strings.Replace(statementText("EUH208", EU), "<name of sensitising substance>", strings.Join(names, ", "), 1)
		w.added(Added{Code: "EUH208", Text: text, Reason: Reason{About: "sensitisers", Seen: strings.Join(seen, ", "), Rule: "below the limit of the class, at or above that for EUH208", Ref: last.ref, From: refs(from...)}})
	}
}

func (w *work) elicitationLimit(c Component, own Known, hazard string) threshold {
	t := w.regime.must(own.Name, "EUH208")
	tenth := w.regime.must("specific limit", "EUH208, a tenth of it below")
	for _, l := range c.bands(w.regime, hazard) {
		if l.Low < tenth.is*(1-slack) {
			const part = 10
			t.is, t.ref = l.Low/part, tenth.ref
			t.text = shown(t.is)
		}
	}
	return t
}
