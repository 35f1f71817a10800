package hazard

import (
	"slices"
	"strings"
)

// physicalKinds come from tests on the mixture, not from its ingredients.
var physicalKinds = []string{"Flam. Liq.", "Flam. Sol.", "Self-heat.", "Water-react.", "Ox. Liq.", "Ox. Sol.", "Met. Corr."}

// physical takes a physical class only from a specific limit or where an
// ingredient is the whole; all else is a caveat, because such classes are
// tested.
func (w *work) physical() {
	for _, kind := range physicalKinds {
		for _, c := range w.parts {
			if own, ok := c.worst(kind); ok && c.High > 0 {
				w.physicalClass(c, own, kind)
			}
		}
	}
	_, declared := w.result.Has("Met. Corr.")
	if extreme := w.extremePH("skin"); len(extreme) > 0 && !declared {
		w.caveat(extreme[0].Seen + " " + extreme[0].Relation + " " + extreme[0].Threshold + ": likely to corrode metals, not tested (our judgement, no rule)")
	}
}

func (w *work) physicalClass(c Component, own Known, kind string) {
	bands := c.bands(w.regime, kind)
	for _, l := range bands {
		if atLeast(c.High, l.Low) {
			t := l.threshold(l.Low)
			w.found(l.Class, Reason{About: kind, Seen: c.content(), Relation: above, Threshold: t.text, Rule: t.rule("limit for " + l.Class.String()), Ref: t.ref, From: refs(own.Ref)})
		}
	}
	switch {
	case len(bands) > 0 || !own.in(w.regime):
	case atLeast(c.High, 1):
		w.found(own.Class, Reason{About: kind, Seen: c.Name + " is the whole", Rule: "class of the ingredient", Ref: own.Ref})
	default:
		w.caveat(c.Name + " is " + own.String() + "; whether the mixture is must be tested, and no test is known")
	}
}

// gaps says what is not known and what another look might change.
func (w *work) gaps() {
	for _, c := range w.parts {
		for _, text := range c.Caveats {
			w.caveat(c.Name + ": " + string(text))
		}
		if c.silent() && c.High > 0 && !w.assumed(c) {
			w.caveat("nothing is known of " + c.content() + ": it could give any class")
		}
		w.weakCutOff(c)
	}
	w.unknownPH()
	w.corrosiveByInhalation()
	if upper := w.ranges(); upper != "" {
		w.caveat("contents given as ranges count at their upper end: " + upper)
	}
}

// assumed reports whether the ingredient has a pH or strength alone.
func (w *work) assumed(c Component) bool { return c.PH.Known() || c.Strength != Additive }

func (w *work) ranges() string {
	var names []string
	for _, c := range w.parts {
		if c.High > c.Low {
			names = append(names, c.Name+" "+shown(c.Low)+" to "+shown(c.High))
		}
	}
	return strings.Join(names, ", ")
}

// weakCutOff tells where a specific limit, which the regime does not have, would
// give a class that was not found. Evidence below a cut-off must be used: HCS
// A.0.4.3.
func (w *work) weakCutOff(c Component) {
	if w.regime.specificLimits() {
		return
	}
	for _, l := range c.Limits {
		if l.Supplement != "" || c.High == 0 || !atLeast(c.High, l.Low) || l.Below > 0 && c.High >= l.Below || !l.Class.in(w.regime) {
			continue
		}
		class := l.Class.under(w.regime)
		met := slices.ContainsFunc(w.result.Findings, func(f Finding) bool {
			return f.Hazard() == class.Hazard() && (f.Kind() == class.Kind() || !class.stricter(f.Class))
		})
		if !met {
			w.caveat(c.Name + " at " + shown(c.High) + " is at or above its specific limit of " + shown(l.Low) + " for " + class.String() + " in the European Union; this regime has none, but evidence of hazard below a cut-off must be used")
		}
	}
}

// unknownPH: a strong acid or base may bring the mixture to a pH that alone
// makes it corrosive.
func (w *work) unknownPH() {
	if _, corrosive := w.result.Has("Skin Corr."); corrosive || w.ph.Known() {
		return
	}
	for _, c := range w.parts {
		strength, _ := w.strength(c, "skin")
		if c.High > 0 && (strength == StrongAcid || strength == StrongBase) {
			low, high := w.regime.must("skin", "pH at most"), w.regime.must("skin", "pH at least")
			w.caveat("the pH of the mixture is not known; with " + c.Name + " in it, a pH of " + low.text + " or below or " + high.text + " or above would make it Skin Corr. 1")
		}
	}
}

// corrosiveByInhalation: of corrosive mixtures that can be breathed in without
// data the European Union asks for EUH071.
func (w *work) corrosiveByInhalation() {
	_, corrosive := w.result.Has("Skin Corr.")
	known := w.result.Estimates[Vapour].Known() || w.result.Estimates[Mist].Known()
	has := slices.ContainsFunc(w.result.Supplements, func(a Added) bool { return a.Code == "EUH071" })
	if w.regime == EU && corrosive && !known && !has {
		w.caveat("the mixture is corrosive and nothing is known of its toxicity by inhalation: where it can be breathed in (sparged, sprayed, heated), EUH071 is asked for")
	}
}
