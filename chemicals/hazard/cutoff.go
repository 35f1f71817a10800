package hazard

import (
	"slices"
	"strings"

	"bathwarden/chemicals/source"
)

// singleHazards are those that one ingredient decides, without adding.
var singleHazards = []string{"Resp. Sens.", "Skin Sens.", "Muta.", "Carc.", "Repr.", "Lact.", "STOT SE", "STOT RE"}

// cutOffs finds sensitisers, mutagens, carcinogens, toxins of reproduction and
// of target organs: one ingredient at or above the limit of its class gives
// the class to the mixture, nothing is added. HCS A.4 to A.9, CLP and UN GHS
// 3.4 to 3.9.
//
// Left out: Category 2 for 1 to 10 % of a STOT 1 ingredient under the US rule,
// which takes animal data alone and guidance values to support it.
func (w *work) cutOffs() {
	for _, hazard := range singleHazards {
		for _, c := range w.parts {
			w.cutOff(c, hazard)
		}
	}
}

func (w *work) cutOff(c Component, hazard string) {
	for _, own := range c.classes(hazard) {
		for _, t := range w.limits(c, own, hazard) {
			if c.High == 0 || !atLeast(c.High, t.is) {
				continue
			}
			class := classOf(t.figure, "")
			if t.figure == own.Name {
				class.Code = own.Code
			}
			w.found(class, Reason{
				About: hazard, Seen: c.content() + " (" + own.Name + ")", Relation: above, Threshold: t.text,
				Rule: t.rule("one ingredient is enough"), Ref: t.ref, From: refs(own.Ref),
			})
		}
	}
}

// limits are from which content an ingredient of a class gives which class: its
// specific limits, and the general ones for lesser classes than those.
func (w *work) limits(c Component, own Known, hazard string) []threshold {
	bands := c.bands(w.regime, hazard)
	var all []threshold
	for _, l := range bands {
		if l.Class.Name == own.Name {
			all = append(all, l.threshold(l.Low))
		}
	}
	if end, ok := endOf(bands); ok && own.stricter(end.Class) && !slices.ContainsFunc(bands, func(l Limit) bool { return l.Class.Name == own.Name }) {
		t := end.threshold(end.Below)
		t.figure = own.Name
		all = append(all, t)
	}
	for _, t := range w.regime.cutOffs(own.Name) {
		lesser := len(bands) == 0 || bands[len(bands)-1].Class.stricter(classOf(t.figure, ""))
		if lesser {
			all = append(all, t)
		}
	}
	return all
}

// targetOrgans3 sums the ingredients of STOT SE 3, those that irritate the
// airways (H335) and those that make drowsy (H336) apart. The general limit is
// advisory in every regime.
func (w *work) targetOrgans3() {
	for _, code := range []string{"H335", "H336"} {
		class := Class{Name: "STOT SE 3", Code: code}
		if r, ok := w.sumOf3(class); ok {
			w.found(class, r)
		}
	}
}

func (w *work) sumOf3(class Class) (Reason, bool) {
	hazard, total := class.Hazard(), 0.0
	var names, parts []string
	var from []source.Ref
	var last threshold
	for _, c := range w.parts {
		if _, ok := c.worst(hazard); !ok || c.High == 0 {
			continue
		}
		t, cut := w.regime.must("STOT SE 3", "STOT SE 3"), w.regime.must("STOT SE 3", "relevant from").is
		if bands := c.bands(w.regime, hazard); len(bands) > 0 {
			t = bands[0].threshold(bands[0].Low)
			cut = min(cut, t.is)
		}
		if !atLeast(c.High, cut) {
			continue
		}
		total += c.High / max(t.is, smallest)
		names, parts = append(names, c.content()), append(parts, shown(c.High)+" / "+t.text)
		from, last = append(from, t.ref), t
	}
	if !atLeast(total, 1) {
		return Reason{}, false
	}
	r := Reason{About: "STOT SE 3, " + code3[class.Code], Seen: names[0], Relation: above, Threshold: last.text, Rule: last.rule("limit for STOT SE 3, a matter of judgement"), Ref: last.ref, From: refs(from...)}
	if len(parts) > 1 {
		r.Seen, r.Threshold = strings.Join(names, ", ")+": "+strings.Join(parts, " + ")+" = "+figure(total), "1"
		r.Rule = "each content over its limit; a matter of judgement"
	}
	return r, true
}

var code3 = map[string]string{"H335": "irritation of the airways", "H336": "narcotic effects"}
