package hazard

import (
	"slices"
	"strconv"
	"strings"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// acuteToxicity estimates each route from the ingredients:
//
//	100 / ATE = Σ (C / ATE)          unknown ingredients up to 10 %
//	(100 − U) / ATE = Σ (C / ATE)    above
//
// C and U in % w/w, U the ingredients at 1 % and more of which nothing is known
// by the route, ATE in mg/kg (oral, dermal) or mg/L over four hours (vapour,
// mist). HCS A.1.3.6, CLP and UN GHS 3.1.3.6. An ingredient of a known category
// without an estimate counts with the converted one of its category. The sum of
// the contents is never brought to 100.
//
// Left out: gases, effects of one ingredient on another.
func (w *work) acuteToxicity() {
	unknown := map[Route]float64{}
	for _, form := range forms {
		sum := w.routeSum(form)
		unknown[form] = sum.unknown
		estimate := sum.estimate(w.regime)
		w.result.Estimates[form] = estimate
		w.doubts(sum)
		if estimate.Known() {
			w.acuteClass(form, estimate, sum)
		}
	}
	w.statesUnknown(unknown)
}

// dosed is an ingredient that counts in the sum.
type dosed struct {
	Component
	ate  float64
	text string
	ref  source.Ref
}

// routeSum is what the ingredients give by one route.
type routeSum struct {
	form    Route
	counted []dosed
	unknown float64
}

func (w *work) routeSum(form Route) routeSum {
	sum := routeSum{form: form}
	from := w.regime.must("unknown ingredients", "counted from")
	for _, c := range w.parts {
		d, known := w.dose(c, form)
		switch {
		case !known && atLeast(c.High, from.is):
			sum.unknown += c.High
		case known && d.ate > 0 && w.relevant(d, form):
			sum.counted = append(sum.counted, d)
		}
	}
	return sum
}

// dose is what an ingredient counts with by one route: nothing where it is
// known not to be in a category, and not known where nothing is said.
func (w *work) dose(c Component, form Route) (d dosed, known bool) {
	d.Component = c
	if own := c.Doses[form]; own.Known() {
		passed := own.Above && atLeast(own.Is, w.top(form))
		if !passed && atMost(own.Is, w.countedUpTo(form)) {
			d.ate, d.text, d.ref = own.Is, own.Text, own.Ref
		}
		return d, true
	}
	for _, k := range c.Classes {
		if k.Kind() != "Acute Tox." || !k.Route.covers(form) || k.Route == Inhaled && c.dosedInhaled() {
			continue
		}
		if t, ok := w.regime.find(k.Name, string(form)+", converted"); ok && (d.ate == 0 || t.is < d.ate) {
			d.ate, d.text, d.ref = t.is, t.text+", converted from "+k.String(), t.ref
		}
	}
	return d, d.ate > 0 || c.NotToxic || c.Classified || (form == Vapour || form == Mist) && c.dosedInhaled()
}

// dosedInhaled reports whether the ingredient has an estimate in either form.
func (c Component) dosedInhaled() bool { return c.Doses[Vapour].Known() || c.Doses[Mist].Known() }

// top is the limit of the last category that every regime has.
func (w *work) top(form Route) float64 {
	return w.regime.must("Acute Tox. 4", string(form)+", up to").is
}

// countedUpTo is the greatest estimate that enters the sum.
func (w *work) countedUpTo(form Route) float64 {
	if t, ok := w.regime.find("known estimate", string(form)+", counted up to"); ok {
		return t.is
	}
	if t, ok := w.regime.find("Acute Tox. 5", string(form)+", up to"); ok {
		return t.is
	}
	return w.top(form)
}

// category is the one that an estimate falls into.
func (w *work) category(form Route, ate float64) (threshold, bool) {
	for _, category := range "12345" {
		t, ok := w.regime.find("Acute Tox. "+string(category), string(form)+", up to")
		if ok && atMost(ate, t.is) {
			return t, true
		}
	}
	return threshold{}, false
}

// relevant: below its cut-off an ingredient counts only if it alone would put
// the mixture into a category.
func (w *work) relevant(d dosed, form Route) bool {
	category, ok := w.category(form, d.ate)
	if !ok { // counted above Category 4
		category.of = "Acute Tox. 4"
	}
	if atLeast(d.High, w.regime.must(category.of, "relevant from").is) {
		return true
	}
	return d.High > 0 && atMost(d.ate/d.High, w.top(form))
}

// estimate works the sum out.
func (s routeSum) estimate(r Regime) working.Estimate[float64] {
	if len(s.counted) == 0 {
		if s.unknown > 0 {
			return working.Absent[float64]("no ingredient has an estimate or a category, " + s.form.String() + ", and " + shown(s.unknown) + " is unknown")
		}
		return working.Absent[float64]("no ingredient is in a category, " + s.form.String())
	}
	sum, counted := 0.0, 0.0
	var terms []working.Term
	for i, d := range s.counted {
		sum += d.High / d.ate
		counted += d.High
		number := strconv.Itoa(i + 1)
		terms = append(terms,
			working.Given(source.Value[float64]{Is: d.High}, shown(d.High)).As("C"+number, d.Name),
			working.Given(source.Value[float64]{Is: d.ate, Ref: d.ref, Origin: origin(d.ref)}, d.text).As("ATE"+number, d.Name))
	}
	rule := r.must("mixture", "estimate from ingredients")
	line, whole := rule.text, 1.0
	if left := r.must("unknown ingredients", "left in the sum up to"); s.unknown > left.is*(1+slack) {
		// Of ranges the upper contents may be more than the whole together.
		line, whole, rule.ref = "(100 − U) / ATE = Σ (C / ATE)", max(1-s.unknown, counted), left.ref
		terms = append(terms, working.Given(source.Value[float64]{Is: s.unknown}, shown(s.unknown)).As("U", "of unknown toxicity, "+s.form.String()))
	}
	return working.Compute(working.Formula{Line: line, Unit: s.form.unit(), Ref: rule.ref}, func(working.Case) float64 { return whole / sum }, terms...)
}

func origin(ref source.Ref) source.Origin {
	if ref.Known() {
		return source.Published
	}
	return 0
}

func (w *work) acuteClass(form Route, estimate working.Estimate[float64], sum routeSum) {
	t, ok := w.category(form, estimate.Is())
	if !ok {
		return
	}
	var names []string
	var from []source.Ref
	for _, d := range sum.counted {
		names = append(names, d.content()+" at "+d.text)
		from = append(from, d.ref)
	}
	w.found(classOf(t.of, form.route()), Reason{
		About: "acute toxicity, " + form.String(), Seen: "the estimate " + figure(estimate.Is()) + " " + form.unit(), Relation: below, Threshold: t.text,
		Rule: "from " + strings.Join(names, ", "), Ref: t.ref, From: refs(from...),
	})
}

// doubts are what weakens an estimate.
func (w *work) doubts(sum routeSum) {
	for _, d := range sum.counted {
		if own := d.Doses[sum.form]; own.Above {
			w.caveat(d.Name + " was tested only up to " + strings.TrimLeft(own.Text, "<>=≥ ") + "; that dose is taken as its estimate, " + sum.form.String())
		}
		formless := func(k Known) bool { return k.Kind() == "Acute Tox." && k.Route == Inhaled }
		if sum.form.route() == Inhaled && !d.dosedInhaled() && slices.ContainsFunc(d.Classes, formless) {
			w.caveat("in which form " + d.Name + " is inhaled is not stated; it is counted as vapour and as mist")
		}
	}
}

// statesUnknown gathers routes of which the same share is unknown.
func (w *work) statesUnknown(unknown map[Route]float64) {
	for _, form := range forms {
		share := unknown[form]
		if share == 0 {
			continue
		}
		at := slices.IndexFunc(w.result.Unknown, func(u UnknownShare) bool { return u.Share == share })
		if at < 0 {
			w.result.Unknown = append(w.result.Unknown, UnknownShare{Share: share})
			at = len(w.result.Unknown) - 1
		}
		w.result.Unknown[at].Routes = append(w.result.Unknown[at].Routes, form)
	}
}
