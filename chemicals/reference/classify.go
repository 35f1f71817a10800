package reference

import (
	"fmt"
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
)

// classification is that of the row's substance, nil where there is none.
func (r row) classification() (*Substance, *Classification) {
	s := r.substance()
	if s == nil {
		return nil, nil
	}
	if s.Classification == nil {
		r.fault(fmt.Sprintf("%s has no row in data/classifications.csv", s.ID), "add one")
	}
	return s, s.Classification
}

func (l *loader) loadClassifications() {
	rows := l.table("classifications", "*substance", "basis", "classified", "index", "confidence", "source", "confirm in")
	for _, r := range rows {
		l.loadClassification(r)
	}
	l.loadClasses()
	l.loadClassLimits()
	l.loadFactors()
	for _, r := range l.table("supplements", "*substance", "*code", "source", "confirm in") {
		if s, c := r.classification(); c != nil {
			more := Supplement{Code: r.code(), Sourced: r.sourced()}
			c.Supplements = append(c.Supplements, more)
			r.fact(s, "supplemental statement", more.Code, more.Sourced)
		}
	}
	for _, r := range rows {
		r.countClasses()
	}
}

func (r row) countClasses() {
	s, ok := r.loader.byID[r.text("substance")]
	if !ok || s.Classification == nil {
		return
	}
	if count := len(s.Classification.Classes); (count > 0) != (r.text("classified") == "yes") {
		r.fault(fmt.Sprintf("classified is %q, and %d classes are given", r.text("classified"), count), "mend the one or the other")
	}
}

func (l *loader) loadClassification(r row) {
	s := r.substance()
	if s == nil {
		return
	}
	c := &Classification{
		Basis: word(r, "basis", Harmonised, Typical), Index: r.text("index"),
		Confidence: word(r, "confidence", "", High, Medium, Low), Sourced: r.sourced(),
	}
	s.Classification = c
	what, value := "classification, typical", "see the classes"
	switch {
	case c.Basis == Harmonised && !validIndex(c.Index):
		r.fault(fmt.Sprintf("index number %q does not have its check digit", c.Index), "look it up again")
	case c.Basis == Typical && c.Index != "":
		r.fault("an index number without a harmonised classification", "mend the basis or take it out")
	}
	if c.Basis == Harmonised {
		what, value = "classification, harmonised", "index "+c.Index
	}
	if word(r, "classified", "yes", "no") == "no" {
		value = "not classified"
	}
	known := c.Sourced
	if c.Confidence != "" {
		known.Note = "confidence " + string(c.Confidence)
	}
	r.fact(s, what, value, known)
}

func (l *loader) loadClasses() {
	for _, r := range l.table("classes", "*substance", "*class", "*code", "minimum", "marks", "note", "source", "confirm in") {
		s, c := r.classification()
		if c == nil {
			continue
		}
		class := Class{Class: r.class(), Code: r.text("code"), Minimum: r.yes("minimum"), Marks: word(r, "marks", "", "**", "***"), Sourced: r.sourced()}
		c.Classes = append(c.Classes, class)
		value := class.Class
		if class.Minimum {
			value += " *"
		}
		value += ", " + class.Code
		if class.Marks != "" {
			value += " " + class.Marks
		}
		r.fact(s, "class", value, class.Sourced)
	}
}

func (l *loader) loadClassLimits() {
	for _, r := range l.table("class_limits", "*substance", "*class", "*code", "low", "below", "source", "confirm in") {
		s, c := r.classification()
		if c == nil {
			continue
		}
		limit := ClassLimit{
			Code: r.code(), Low: mustState[quantity.MassShare](r, "low"), Below: stated[quantity.MassShare](r, "below"), Sourced: r.sourced(),
		}
		if r.text("class") != "" || !strings.HasPrefix(limit.Code, "EUH") {
			limit.Class = r.class()
		}
		value := strings.TrimSpace(limit.Class+" "+limit.Code) + " from " + limit.Low.String()
		if limit.Below.Known() {
			value += " to below " + limit.Below.String()
			if limit.Below.Is() <= limit.Low.Is() {
				r.fault(fmt.Sprintf("below %q is not above low %q", limit.Below, limit.Low), "mend the one or the other")
			}
		}
		c.Limits = append(c.Limits, limit)
		r.fact(s, "specific concentration limit", value, limit.Sourced)
	}
}

func (l *loader) loadFactors() {
	for _, r := range l.table("m_factors", "*substance", "*hazard", "factor", "source", "confirm in") {
		s, c := r.classification()
		if c == nil {
			continue
		}
		m := MFactor{Hazard: word(r, "hazard", AquaticAcute, AquaticChronic), Sourced: r.sourced()}
		factor, err := strconv.Atoi(r.text("factor"))
		if err != nil || strings.Trim(r.text("factor"), "0") != "1" {
			r.fault(fmt.Sprintf("factor %q is not a power of ten", r.text("factor")), "write 1, 10, 100 ...")
		}
		m.Factor = factor
		c.MFactors = append(c.MFactors, m)
		r.fact(s, "M-factor, "+string(m.Hazard), r.text("factor"), m.Sourced)
	}
	for _, r := range l.table("estimates", "*substance", "*route", "estimate", "note", "source", "confirm in") {
		if s, c := r.classification(); c != nil {
			e := ToxicityEstimate{Route: word(r, "route", "inhalation, vapour"), Is: mustState[quantity.AirConcentration](r, "estimate"), Sourced: r.sourced()}
			c.Estimates = append(c.Estimates, e)
			r.fact(s, "acute toxicity estimate, "+e.Route, e.Is.String(), e.Sourced)
		}
	}
}
