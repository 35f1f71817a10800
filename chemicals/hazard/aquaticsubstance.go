package hazard

import (
	"strconv"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Aquatic is what tests say of one substance in water, each figure the lowest
// over fish, crustaceans and algae, in mg/L.
type Aquatic struct {
	Acute           Dose // LC50 or EC50
	Chronic         Dose // NOEC or EC10
	RapidlyDegrades bool
	LogKow          working.Estimate[float64]
	BCF             working.Estimate[float64]
}

// AquaticResult is the class of the substance in each term, absent with its
// reason, and the M-factors.
type AquaticResult struct {
	Acute, Chronic   working.Estimate[string]
	MAcute, MChronic working.Estimate[float64]
}

// Solve classifies the substance by the bands of CLP Annex I Tables 4.1.0 and
// 4.1.3 (recalled): acute at or below 1 mg/L; chronic by its own bands for what
// does and does not degrade rapidly; without a chronic figure by the acute one,
// if the substance does not degrade rapidly or builds up (BCF ≥ 500, else log
// Kow ≥ 4). The M-factor grows tenfold with each decade below its band.
//
// Left out: metals, whose solubility decides; Chronic 4.
func (a Aquatic) Solve() AquaticResult {
	r := AquaticResult{
		Acute: working.Absent[string]("no acute figure is given"), Chronic: working.Absent[string]("no chronic figure is given"),
		MAcute: working.Absent[float64]("the substance is not Aquatic Acute 1"), MChronic: working.Absent[float64]("the substance is not Aquatic Chronic 1"),
	}
	if a.Acute.Known() {
		r.Acute = band("Aquatic Acute", "acute value up to", a.Acute)
		if r.Acute.Known() {
			r.MAcute = mFactor("acute value up to", a.Acute)
		}
	}
	a.chronic(&r)
	return r
}

func (a Aquatic) chronic(r *AquaticResult) {
	figure := "chronic value, not rapidly degradable, up to"
	if a.RapidlyDegrades {
		figure = "chronic value, rapidly degradable, up to"
	}
	switch {
	case a.Chronic.Known():
		r.Chronic = band("Aquatic Chronic", figure, a.Chronic)
		if r.Chronic.Known() && r.Chronic.Is() == "Aquatic Chronic 1" {
			r.MChronic = mFactor(figure, a.Chronic)
		}
	case !a.Acute.Known():
	case a.RapidlyDegrades && !a.buildsUp():
		r.Chronic = working.Absent[string]("it degrades rapidly and does not build up, and no chronic figure is given")
	default:
		r.Chronic = band("Aquatic Chronic", "acute value for want of a chronic one, up to", a.Acute)
		if r.Chronic.Known() && r.Chronic.Is() == "Aquatic Chronic 1" {
			r.MChronic = r.MAcute.WithCaveats("no chronic figure is given: the chronic M-factor is the acute one")
		}
	}
}

func (a Aquatic) buildsUp() bool {
	if a.BCF.Known() {
		return atLeast(a.BCF.Is(), must("substance that builds up", "BCF from").is)
	}
	return a.LogKow.Known() && atLeast(a.LogKow.Is(), must("substance that builds up", "log Kow from").is)
}

// band is the first category whose limit the figure does not exceed. A figure
// that is only known to be above another is in no band up to it.
func band(kind, figure string, of Dose) working.Estimate[string] {
	for i := 1; ; i++ {
		category := kind + " " + strconv.Itoa(i)
		limit, ok := find(category, figure)
		if !ok {
			return working.Absent[string](of.Text + " is above every limit of " + kind)
		}
		if atMost(of.Is, limit.is) && !(of.Above && atLeast(of.Is, limit.is)) {
			return working.Compute(working.Formula{Line: "value ≤ limit of the category", Ref: limit.ref}, func(working.Case) string { return category },
				working.Given(source.Value[float64]{Is: of.Is, Ref: of.Ref}, of.Text).As("value", figure),
				working.Given(source.Value[float64]{Is: limit.is, Origin: source.Published, Ref: limit.ref}, limit.text).As("limit", category))
		}
	}
}

// mFactor is 1 in the decade below the limit of the first category, 10 in the
// next, and so on.
func mFactor(figure string, of Dose) working.Estimate[float64] {
	limit := must("M-factor 1", figure)
	return working.Compute(working.Formula{Line: "M = 1 down to a tenth of the limit, then ten times as much for each decade", Ref: limit.ref}, func(working.Case) float64 {
		const decade = 10
		m := 1.0
		for at := limit.is / decade; atMost(of.Is, at); at /= decade {
			m *= decade
		}
		return m
	}, working.Given(source.Value[float64]{Is: of.Is, Ref: of.Ref}, of.Text).As("value", figure),
		working.Given(source.Value[float64]{Is: limit.is, Origin: source.Published, Ref: limit.ref}, limit.text).As("limit", "of the first category"))
}
