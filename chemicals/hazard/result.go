package hazard

import (
	"cmp"
	"slices"
	"strings"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Result is how a mixture is classified under one regime.
type Result struct {
	Regime   Regime
	Findings []Finding // in the order of the classes
	// Estimates are those of the mixture, in mg/kg or mg/L, or absent with the
	// reason.
	Estimates   map[Route]working.Estimate[float64]
	Unknown     []UnknownShare
	Supplements []Added
	AcuteSums   []float64 // of the aquatic hazard, by category, as fractions
	ChronicSums []float64
	Caveats     []working.Caveat
}

// Finding is one class and why the mixture has it.
type Finding struct {
	Class
	Reasons []Reason
}

// Reason is one rule that gives a class.
type Reason struct {
	About     string // "skin"
	Seen      string // "hydrochloric acid 12 % w/w"
	Relation  string // "is at or above"
	Threshold string // "1 %"
	Rule      string // "strong acid: one is enough"
	Ref       source.Ref
	From      []source.Ref // what is known of the ingredients
}

const (
	above = "is at or above"
	below = "is at or below"
)

// String is the reason as a sentence.
func (r Reason) String() string {
	said := strings.Join(slices.DeleteFunc([]string{r.Seen, r.Relation, r.Threshold}, func(s string) bool { return s == "" }), " ")
	known := "as given"
	if r.Ref.Known() {
		known = r.Ref.String()
	}
	return r.About + ": " + said + " (" + r.Rule + "; " + known + ")"
}

// Added is a supplemental statement of the mixture. Under the US rule it has no
// code: it is a hazard not otherwise classified.
type Added struct {
	Code   string
	Text   string // where the mixture gives the words, as EUH208 and the US rule
	Reason Reason
}

// UnknownShare is how much of the mixture is of unknown acute toxicity.
type UnknownShare struct {
	Routes []Route
	Share  float64
}

// String is the statement that label and data sheet carry.
func (u UnknownShare) String() string {
	routes := make([]string, len(u.Routes))
	for i, r := range u.Routes {
		routes[i] = r.String()
	}
	return shown(u.Share) + " of the mixture consists of ingredients of unknown acute toxicity (" + strings.Join(routes, ", ") + ")"
}

// UnknownBy is the share that is unknown by a route.
func (r Result) UnknownBy(route Route) float64 {
	for _, u := range r.Unknown {
		if slices.Contains(u.Routes, route) {
			return u.Share
		}
	}
	return 0
}

// Classes are the classes found.
func (r Result) Classes() []Class {
	all := make([]Class, len(r.Findings))
	for i, f := range r.Findings {
		all[i] = f.Class
	}
	return all
}

// Has reports whether a class of the kind was found, and the finding.
func (r Result) Has(kind string) (Finding, bool) {
	for _, f := range r.Findings {
		if f.Kind() == kind {
			return f, true
		}
	}
	return Finding{}, false
}

// String prints classes with their reasons, supplements, unknowns and caveats.
func (r Result) String() string {
	var b strings.Builder
	for _, f := range r.Findings {
		b.WriteString(f.Class.String() + ", " + f.Code + "\n")
		for _, reason := range f.Reasons {
			b.WriteString("  " + reason.String() + "\n")
		}
	}
	for _, s := range r.Supplements {
		b.WriteString(strings.TrimSpace(s.Code+" "+s.Text) + "\n  " + s.Reason.String() + "\n")
	}
	for _, u := range r.Unknown {
		b.WriteString(u.String() + "\n")
	}
	for _, c := range r.Caveats {
		b.WriteString("caveat: " + string(c) + "\n")
	}
	return b.String()
}

// Classify classifies the mixture. Errors are joined *working.Fault: contents
// that cannot be. What is not known is a caveat of the result.
func (m Mixture) Classify(regime Regime) (Result, error) {
	if err := m.check(); err != nil {
		return Result{}, err
	}
	w := &work{regime: regime, ph: m.PH, parts: m.sorted()}
	w.result = Result{Regime: regime, Estimates: map[Route]working.Estimate[float64]{}}
	w.acuteToxicity()
	w.skin()
	w.eye()
	w.targetOrgans3()
	w.cutOffs()
	w.aquatic()
	w.physical()
	w.supplements()
	w.gaps()
	slices.SortStableFunc(w.result.Findings, func(a, b Finding) int { return a.label().rank - b.label().rank })
	return w.result, nil
}

// work is a classification under way.
type work struct {
	regime Regime
	ph     working.Estimate[float64]
	parts  []Component
	result Result
}

// found records a class. Of two of one hazard the stricter stands; where they
// are the same their reasons stand together.
func (w *work) found(class Class, reasons ...Reason) {
	class = class.under(w.regime)
	at := slices.IndexFunc(w.result.Findings, func(f Finding) bool { return f.Hazard() == class.Hazard() })
	switch {
	case at < 0:
		w.result.Findings = append(w.result.Findings, Finding{class, reasons})
	case class.stricter(w.result.Findings[at].Class):
		w.result.Findings[at] = Finding{class, reasons}
	case class.Name == w.result.Findings[at].Name:
		f := &w.result.Findings[at]
		if f.Code != class.Code {
			f.Code = base(f.Code)
		}
		f.Reasons = append(f.Reasons, reasons...)
	}
}

func (w *work) caveat(text string) {
	if c := working.Caveat(text); !slices.Contains(w.result.Caveats, c) {
		w.result.Caveats = append(w.result.Caveats, c)
	}
}

// refs are sources once each, in a fixed order, without those that say nothing.
func refs(all ...source.Ref) []source.Ref {
	kept := slices.DeleteFunc(slices.Clone(all), func(r source.Ref) bool { return !r.Known() })
	slices.SortFunc(kept, func(a, b source.Ref) int { return cmp.Compare(a.String(), b.String()) })
	return slices.Compact(kept)
}
