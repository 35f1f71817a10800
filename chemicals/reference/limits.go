package reference

import (
	"fmt"
	"strings"
	"time"

	"bathwarden/chemicals/quantity"
)

// ExposureLimit is one occupational limit of one authority for the air at
// work.
type ExposureLimit struct {
	Authority Authority
	Kind      LimitKind
	Is        quantity.Stated[quantity.AirConcentration] // not Known where Without says why
	Without   Without
	As        Species // what it is measured as; the zero Species for the substance itself
	Period    quantity.Stated[quantity.Duration]
	Form      string // of the dust or mist: "respirable", "fume"; empty where not stated
	Skin      bool   // skin notation
	// Carcinogen is the authority's own mark, which NIOSH prints as Ca.
	Carcinogen bool
	Status     string    // "binding" or "indicative" in the European Union
	From       time.Time // the first day it is known to hold; zero where not stated
	Sourced
}

// Authority sets limits.
type Authority string

// The authorities.
const (
	OSHA  Authority = "OSHA"  // permissible exposure limits, the law in the US
	NIOSH Authority = "NIOSH" // recommended limits, and IDLH values
	EU    Authority = "EU"
	UK    Authority = "UK"
)

// LimitKind tells over what a limit is taken. The kinds are not alternatives:
// each that is set holds.
type LimitKind string

// The kinds.
const (
	TWA         LimitKind = "TWA"     // average over a shift
	STEL        LimitKind = "STEL"    // average over a short while
	Ceiling     LimitKind = "ceiling" // never above
	Peak        LimitKind = "peak"    // above the ceiling for a stated time
	IDLH        LimitKind = "IDLH"    // immediately dangerous to life or health
	ActionLevel LimitKind = "action level"
)

// Without is why a limit has no figure.
type Without string

// The reasons. NoLimit: the authority has set none for the substance.
const (
	NoLimit        Without = "none"
	LowestFeasible Without = "lowest feasible"
)

// LimitsOn are the limits that hold on a day. Of figures that one authority
// has set for the same kind, species and form, the one that began last holds:
// an authority replaces its own figure, and papers that print the old one are
// only late. A figure whose beginning is not stated is taken as the oldest.
func (s *Substance) LimitsOn(day time.Time) []ExposureLimit {
	var hold []ExposureLimit
	at := map[string]int{}
	for _, limit := range s.Limits {
		if limit.From.After(day) {
			continue
		}
		same := limit.replaces()
		i, ok := at[same]
		switch {
		case !ok:
			at[same] = len(hold)
			hold = append(hold, limit)
		case limit.From.After(hold[i].From):
			hold[i] = limit
		}
	}
	return hold
}

// replaces is the same text for the figures of which one replaces another.
func (e ExposureLimit) replaces() string {
	return strings.Join([]string{string(e.Authority), string(e.Kind), e.As.Name, e.Form}, "\x00")
}

func (l *loader) loadLimits() {
	for _, r := range l.table("oels", "substances", "authority", "kind", "value", "as", "period", "form",
		"skin", "carcinogen", "status", "from", "note", "source", "confirm in") {
		limit := ExposureLimit{
			Authority: word(r, "authority", OSHA, NIOSH, EU, UK),
			Kind:      word(r, "kind", TWA, STEL, Ceiling, Peak, IDLH, ActionLevel),
			As:        r.as(), Period: stated[quantity.Duration](r, "period"), Form: r.text("form"),
			Skin: r.yes("skin"), Carcinogen: r.yes("carcinogen"),
			Status: word(r, "status", "", "binding", "indicative"), From: r.from(), Sourced: r.sourced(),
		}
		switch reason := Without(r.text("value")); reason {
		case NoLimit, LowestFeasible:
			limit.Without = reason
		default:
			limit.Is = mustState[quantity.AirConcentration](r, "value")
		}
		for _, id := range r.list("substances") {
			s := r.substanceNamed(id)
			if s == nil {
				continue
			}
			r.once(append([]string{id}, r.texts([]string{"authority", "kind", "as", "form", "from"})...)...)
			s.Limits = append(s.Limits, limit)
			r.fact(s, limit.what(), r.text("value"), limit.Sourced)
		}
		r.must("substances")
	}
}

func (e ExposureLimit) what() string {
	words := []string{string(e.Authority) + " " + string(e.Kind)}
	if e.As.Name != "" {
		words[0] += " as " + e.As.Name
	}
	for _, more := range []string{e.Period.String(), e.Form, e.Status} {
		if more != "" {
			words = append(words, more)
		}
	}
	if e.Skin {
		words = append(words, "skin")
	}
	if e.Carcinogen {
		words = append(words, "carcinogen")
	}
	if !e.From.IsZero() {
		words = append(words, "from "+e.From.Format(time.DateOnly))
	}
	return strings.Join(words, ", ")
}

func (r row) as() Species {
	name := r.text("as")
	if name == "" {
		return Species{}
	}
	species, ok := r.loader.set.limitSpecies(name)
	if !ok {
		r.fault(fmt.Sprintf("as %q is neither an element nor a species", name), "add it to data/species.csv or mend it")
	}
	return species
}

// from reads the beginning of a figure, as closely as it is known.
func (r row) from() time.Time {
	text := r.text("from")
	if text == "" {
		return time.Time{}
	}
	for _, layout := range []string{time.DateOnly, "2006-01", "2006"} {
		if day, err := time.Parse(layout, text); err == nil {
			return day
		}
	}
	r.fault(fmt.Sprintf("from %q is not a date", text), `write it as "2025-01-18", "2018-06" or "2013"`)
	return time.Time{}
}
