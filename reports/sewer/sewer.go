// Package sewer holds what the papers on waste water have alike: the page for
// whoever looks at a point of discharge, the rules that bind there, the record
// of monitoring, other waters, treatment, hold tanks and what was shipped.
//
// It arranges findings of package exposure. What it works out itself stands as
// a formula in the workbook. It passes no verdict: a figure stands beside the
// limit and its source, a record is found or not found; the control authority
// decides.
package sewer

import (
	"bathwarden/chemicals"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
)

// Findings is what the sections on waste water show.
type Findings struct {
	Water      *exposure.Water
	Results    exposure.ResultSet
	Combined   []exposure.CombinedLimit
	Treatments []exposure.Treatment
	Holds      []exposure.HoldUse
}

// Sections appends sections on waste water to a paper.
type Sections struct {
	Units Units

	doc     *doc.Document
	shop    *chemicals.Shop
	found   Findings
	byEntry map[int64]*exposure.Result
}

// On gives the sections for a paper.
func On(d *doc.Document, shop *chemicals.Shop, found Findings, set letterhead.Setting) *Sections {
	s := &Sections{Units: UnitsOf(set.Units), doc: d, shop: shop, found: found, byEntry: map[int64]*exposure.Result{}}
	for i, r := range found.Results.Results {
		s.byEntry[r.Entry] = &found.Results.Results[i]
	}
	return s
}

// points are those of the shop on the as-of day.
func (s *Sections) points() []chemicals.Held[chemicals.Point] {
	var all []chemicals.Held[chemicals.Point]
	for _, standard := range s.found.Results.Standards {
		all = append(all, standard.Point)
	}
	return all
}

// use is what left at a point by the estimate, nil for nothing.
func (s *Sections) use(point chemicals.Name) *exposure.PointUse {
	if s.found.Water == nil {
		return nil
	}
	for i, p := range s.found.Water.Points {
		if p.Point.Is.Name.Meaning() == point.Meaning() {
			return &s.found.Water.Points[i]
		}
	}
	return nil
}
