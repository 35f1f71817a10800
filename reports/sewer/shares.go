package sewer

import (
	"slices"
	"strings"

	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func (s *Sections) averages() doc.Table {
	t := doc.Table{
		Name: "averages", Empty: templates.Sewer.NoAverages,
		Columns: []doc.Column{
			{Name: "point", Head: "Point"}, {Name: "pollutant", Head: "Pollutant"}, {Name: "rule", Head: "Rule"},
			{Name: "first", Head: "First"}, {Name: "last", Head: "Last"}, {Name: "days", Head: "Days", Numeric: true},
			{Name: "average", Head: "Average", Unit: "mg/L", Numeric: true}, {Name: "low", Head: "Non-detects as nothing", Unit: "mg/L", Numeric: true},
			{Name: "limit", Head: "Strictest limit"},
		},
	}
	for _, a := range s.found.Results.Averages {
		average, low := doc.Cell(doc.Blank{Why: a.Concentration.Why()}), doc.Cell(doc.Blank{})
		if a.Concentration.Known() {
			n := Figure(a.Concentration.Is(), "mg/L")
			n.Below = s.noneFound(a.Entries)
			n.Emphasis = Over(slices.ContainsFunc(a.Against, func(g exposure.ResultAgainst) bool {
				return g.Verdict == exposure.ResultOver && g.Limit.Origin != exposure.LimitForComparison
			}))
			average = n
			if a.Concentration.Spread() {
				low = Figure(a.Concentration.At(working.Low), "mg/L")
			}
		}
		limit := doc.Cell(doc.Blank{})
		for _, g := range a.Against {
			if g.Limit.Strictest {
				limit = doc.Text{Is: g.Limit.Text, Cites: Cite(s.doc, g.Limit.Ref)}
			}
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: a.Point.String()}, doc.Text{Is: string(a.Pollutant)}, doc.Text{Is: string(a.Rule)}, letterhead.Day(a.Span.First, ""),
			letterhead.Day(a.Span.Last, ""), doc.Number{Is: float64(len(a.Days))}, average, low, limit,
		})
	}
	return OnePlace(t, "point")
}

func (s *Sections) shares() doc.Table {
	t := doc.Table{
		Name: "noncompliance_shares", Empty: templates.Sewer.NoShares,
		Columns: []doc.Column{
			{Name: "point", Head: "Point"}, {Name: "pollutant", Head: "Pollutant"}, {Name: "limit", Head: "Limit"},
			{Name: "from", Head: "From"}, {Name: "results", Head: "Results", Numeric: true}, {Name: "authority", Head: "Of them the authority's", Numeric: true},
			{Name: "over", Head: "Over the limit", Numeric: true}, {Name: "share", Head: "Share", Unit: "%", Numeric: true, Formula: "100*{over}/{results}"},
			{Name: "level", Head: "Review level"}, {Name: "beyond", Head: "Over it", Numeric: true},
			{Name: "part", Head: "Share", Unit: "%", Numeric: true, Formula: "100*{beyond}/{results}"},
			{Name: "reached", Head: "Reaches the share of the rule"},
		},
	}
	for _, h := range s.found.Results.Shares {
		t.Rows = append(t.Rows, s.share(h))
	}
	return OnePlace(t, "point")
}

func (s *Sections) share(h exposure.ResultShare) []doc.Cell {
	row := []doc.Cell{
		doc.Text{Is: h.Limit.Point.String()}, doc.Text{Is: string(h.Limit.Pollutant)}, doc.Text{Is: string(h.Limit.Rule) + " " + h.Limit.Text},
		letterhead.Day(h.Window.First, ""),
	}
	if h.Fault != nil || h.Shares.Results == 0 {
		why := "nothing was counted"
		if h.Fault != nil {
			why = h.Fault.Error()
		}
		return append(append(row, doc.Blank{Why: why}), Blanks(7)...)
	}
	count := func(n int) doc.Number { return doc.Number{Is: float64(n)} }
	percent := func(n int) doc.Number {
		return Live(doc.Number{Is: 100 * float64(n) / float64(h.Shares.Results), Decimals: 1})
	}
	row = append(row, count(h.Results), count(h.Authority), count(h.Shares.Over), percent(h.Shares.Over))
	if h.Shares.TechnicalLevel.Known() {
		row = append(row, doc.Text{Is: h.Shares.TechnicalLevel.Text(), Cites: Cite(s.doc, h.Shares.TechnicalLevel.Ref())}, count(h.Shares.OverTechnical), percent(h.Shares.OverTechnical))
	} else {
		row = append(row, doc.Blank{Why: h.Shares.TechnicalLevel.Why()}, doc.Blank{}, doc.Blank{})
	}
	return append(row, s.reached(h))
}

// reached says which of the two shares of the rule is reached.
func (s *Sections) reached(h exposure.ResultShare) doc.Cell {
	var said []string
	yes := false
	for _, test := range []struct {
		name string
		is   working.Estimate[bool]
	}{{"chronic", h.Shares.Chronic}, {"technical review", h.Shares.Technical}} {
		switch {
		case !test.is.Known() && test.is.Why() != "" && h.Shares.Undetermined > 0:
			said = append(said, test.name+": hangs on non-detects")
		case test.is.Known() && test.is.Is():
			said, yes = append(said, test.name), true
		}
	}
	if len(said) == 0 {
		return doc.Text{Is: "neither", Cites: Cite(s.doc, h.Shares.ChronicShare.Ref())}
	}
	return doc.Text{Is: strings.Join(said, "; "), Emphasis: Over(yes), Cites: Cite(s.doc, h.Shares.ChronicShare.Ref())}
}
