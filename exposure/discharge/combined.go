package discharge

import (
	"errors"
	"strconv"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Kind says what a stream is for the pollutant in question.
type Kind int

// The kinds. Dilute are boiler blowdown, non-contact cooling water, stormwater,
// demineralizer backwash, sanitary water under no categorical standard, and the
// exempt streams of appendix D of 40 CFR 403.
const (
	Regulated Kind = iota + 1
	Unregulated
	Dilute
)

var kinds = [...]string{Regulated: "regulated", Unregulated: "unregulated", Dilute: "dilute"}

func (k Kind) String() string {
	if k < Regulated || k > Dilute {
		return "no kind of stream"
	}
	return kinds[k]
}

// ParseKind reads the words that String prints.
func ParseKind(text string) (Kind, error) {
	for k := Regulated; k <= Dilute; k++ {
		if k.String() == text {
			return k, nil
		}
	}
	return 0, &working.Fault{What: strconv.Quote(text) + " is not a kind of stream", Mend: "write regulated, unregulated or dilute"}
}

// Joined is a stream that is treated together with others.
type Joined struct {
	Kind      Kind
	Flow      working.Estimate[quantity.Flow]                  // average of a day, over at least 30 days
	Limit     working.Estimate[quantity.EffluentConcentration] // of a regulated stream, or MassLimit
	MassLimit working.Estimate[quantity.MassRate]
}

// Combined is streams that are joined before treatment, at least one of them
// under a categorical limit. All limits are daily maxima, or all are averages
// over the same time.
type Combined struct {
	Streams        []Joined
	DetectionLimit working.Estimate[quantity.EffluentConcentration] // for the rule that the limit must be measurable
}

// CombinedResult is the alternative limit, in the form of the limits that were
// given; the other form is absent.
type CombinedResult struct {
	Limit     working.Estimate[quantity.EffluentConcentration]
	MassLimit working.Estimate[quantity.MassRate]
}

// byConsent weakens every alternative limit.
const byConsent working.Caveat = "40 CFR 403.6(e): the control authority sets an alternative limit, or agrees in writing that the user derives it; flows are averages of the day over at least 30 days, of streams joined before treatment"

// belowDetection says that the limit is of no use.
const belowDetection working.Caveat = "40 CFR 403.6(e)(2): an alternative limit below the analytical detection limit may not be used; the streams are then to be limited apart"

var combinedFormula = source.Ref{Document: "40 CFR 403.6", Place: "(e)(1)", Year: 2015, Standing: source.LawInForce}

// Solve gives the limit of the joined streams by the combined wastestream
// formula.
//
//	CT = (ΣCi × Fi / ΣFi) × (FT − FD) / FT
//	MT = ΣMi × (FT − FD) / ΣFi
//
// Ci or Mi limit and Fi flow of each regulated stream, FD flow of the dilute
// streams, FT flow of all. An unregulated stream counts in FT alone, and so
// bears the same limit in the concentration form.
//
// Source: 40 CFR 403.6(e)(1), law in force. Range: at least one regulated
// stream that flows. Left out: streams that join after treatment, and the
// choice of the authority to treat a dilute stream as unregulated.
func (c Combined) Solve() (CombinedResult, error) {
	if err := c.faults(); err != nil {
		return CombinedResult{}, err
	}
	byKind := map[Kind][]working.Estimate[quantity.Flow]{}
	var all []working.Estimate[quantity.Flow]
	for _, s := range c.Streams {
		byKind[s.Kind] = append(byKind[s.Kind], s.Flow)
		all = append(all, s.Flow)
	}
	sums := flowSums{
		regulated: sumOf(byKind[Regulated], "ΣFi", "Fi", "flow of each regulated stream"),
		dilute:    sumOf(byKind[Dilute], "FD", "F", "flow of each dilute stream"),
		total:     sumOf(all, "FT", "F", "flow of each stream"),
	}
	if sums.regulated.Known() && lowest(sums.regulated) == 0 {
		return CombinedResult{}, &working.Fault{Where: "streams", What: "no regulated stream flows", Mend: "give the flow of the regulated streams"}
	}
	if c.byMass() {
		return CombinedResult{
			Limit:     working.Absent[quantity.EffluentConcentration]("the limits of the streams are masses"),
			MassLimit: c.mass(sums).WithCaveats(byConsent),
		}, nil
	}
	return CombinedResult{
		Limit:     c.measurable(c.concentration(sums, byKind[Regulated])).WithCaveats(byConsent),
		MassLimit: working.Absent[quantity.MassRate]("the limits of the streams are concentrations"),
	}, nil
}

type flowSums struct {
	regulated, dilute, total working.Estimate[quantity.Flow]
}

func (f flowSums) terms() []working.Term {
	return []working.Term{f.regulated.As("ΣFi", "regulated flow"), f.dilute.As("FD", "dilute flow"), f.total.As("FT", "all flow")}
}

func (c Combined) concentration(f flowSums, flows []working.Estimate[quantity.Flow]) working.Estimate[quantity.EffluentConcentration] {
	var limits []working.Estimate[quantity.EffluentConcentration]
	for _, s := range c.Streams {
		if s.Kind == Regulated {
			limits = append(limits, s.Limit)
		}
	}
	terms := append([]working.Term{working.AsList(limits, "Ci", "limit of each regulated stream"), working.AsList(flows, "Fi", "flow of each regulated stream")}, f.terms()...)
	return working.Compute(working.Formula{Line: "CT = (ΣCi × Fi / ΣFi) × (FT − FD) / FT", Unit: "mg/L", Ref: combinedFormula},
		func(at working.Case) quantity.EffluentConcentration {
			var weighed quantity.EffluentConcentration
			for i, limit := range limits {
				weighed += limit.At(at) * quantity.EffluentConcentration(flows[i].At(at)/f.regulated.At(at))
			}
			return weighed * quantity.EffluentConcentration((f.total.At(at)-f.dilute.At(at))/f.total.At(at))
		}, terms...)
}

func (c Combined) mass(f flowSums) working.Estimate[quantity.MassRate] {
	var limits []working.Estimate[quantity.MassRate]
	for _, s := range c.Streams {
		if s.Kind == Regulated {
			limits = append(limits, s.MassLimit)
		}
	}
	terms := append([]working.Term{working.AsList(limits, "Mi", "limit of each regulated stream")}, f.terms()...)
	return working.Compute(working.Formula{Line: "MT = ΣMi × (FT − FD) / ΣFi", Unit: "kg/day", Ref: combinedFormula},
		func(at working.Case) quantity.MassRate {
			var sum quantity.MassRate
			for _, limit := range limits {
				sum += limit.At(at)
			}
			return sum * quantity.MassRate((f.total.At(at)-f.dilute.At(at))/f.regulated.At(at))
		}, terms...)
}

// measurable adds the caveat where the limit cannot be measured.
func (c Combined) measurable(limit working.Estimate[quantity.EffluentConcentration]) working.Estimate[quantity.EffluentConcentration] {
	if limit.Known() && c.DetectionLimit.Known() && lowest(limit) < highest(c.DetectionLimit) {
		return limit.WithCaveats(belowDetection)
	}
	return limit
}

func (c Combined) byMass() bool {
	for _, s := range c.Streams {
		if s.MassLimit.Known() {
			return true
		}
	}
	return false
}

func (c Combined) faults() error {
	var faults []error
	regulated, concentrations, masses := 0, 0, 0
	for i, s := range c.Streams {
		at := "stream " + strconv.Itoa(i+1)
		limited := s.Limit.Known() || s.MassLimit.Known()
		switch {
		case s.Kind < Regulated || s.Kind > Dilute:
			faults = append(faults, streamFault(at+" is of no kind", "give kind as regulated, unregulated or dilute"))
		case s.Kind == Regulated && !limited:
			faults = append(faults, streamFault(at+" is regulated and has no limit", `give its limit: limit: 2.61 mg/L`))
		case s.Kind != Regulated && limited:
			faults = append(faults, streamFault(at+" is "+s.Kind.String()+" and has a limit", "leave its limit out, or write regulated"))
		case s.Kind == Regulated:
			regulated++
		}
		concentrations, masses = concentrations+count(s.Limit.Known()), masses+count(s.MassLimit.Known())
	}
	switch {
	case len(faults) == 0 && regulated == 0:
		faults = append(faults, streamFault("no stream is regulated, so there is no limit to combine", "name the stream that a categorical limit binds"))
	case concentrations > 0 && masses > 0:
		faults = append(faults, streamFault("some limits are concentrations and some are masses", "write all of them as mg/L, or all as lb/day or kg/day"))
	}
	return errors.Join(faults...)
}

func streamFault(what, mend string) error {
	return &working.Fault{Where: "streams", What: what, Mend: mend}
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
