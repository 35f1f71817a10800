package sewer

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// taken is a row for each sample: what its results have in common.
func (s *Sections) taken() doc.Table {
	t := doc.Table{
		Name: "samples", Empty: templates.Sewer.NoTaken,
		Columns: []doc.Column{
			{Name: "sample", Head: "Sample"}, {Name: "date", Head: "Date"}, {Name: "time", Head: "Time"}, {Name: "point", Head: "Point"},
			{Name: "type", Head: "Type"}, {Name: "by", Head: "For"}, {Name: "sampler", Head: "Taken by"}, {Name: "flow", Head: "Flow"},
		},
	}
	seen := map[string]bool{}
	for _, r := range s.found.Results.Results {
		is := r.Is
		row := []doc.Cell{
			doc.Text{Is: is.Name.String()}, letterhead.Day(r.Date, ""), letterhead.Words(is.Time.String()), doc.Text{Is: is.Point.String()},
			letterhead.Words(string(is.Type)), doc.Text{Is: onBehalf(r)}, letterhead.Words(is.Sampler.String()), letterhead.Written(is.Flow, ""),
		}
		key := fmt.Sprint(row)
		if seen[key] {
			continue
		}
		seen[key] = true
		t.Rows = append(t.Rows, row)
	}
	return OnePlace(t, "point")
}

func onBehalf(r exposure.Result) string {
	if r.Own {
		return "the shop"
	}
	return "the authority"
}

func (s *Sections) results() doc.Table {
	t := doc.Table{
		Name: "results", Empty: templates.Sewer.NoResults,
		Columns: []doc.Column{
			{Name: "sample", Head: "Sample"}, {Name: "pollutant", Head: "Pollutant"},
			{Name: "result", Head: "Result", Numeric: true}, {Name: "reporting", Head: "Reported from", Numeric: true},
			{Name: "over", Head: "Over"}, {Name: "method", Head: "Method"}, {Name: "analysed", Head: "Analysed"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, r := range s.found.Results.Results {
		is := r.Is
		over := overLimits(r)
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: is.Name.String()}, doc.Text{Is: string(r.Pollutant)},
			doc.Text{Is: is.Result.String(), Emphasis: Over(over != "")}, letterhead.Written(is.ReportingLimit, ""), letterhead.Words(over),
			letterhead.Words(is.Method.String()), letterhead.Day(is.Analysed, "not recorded"), letterhead.Entry(r.Entry),
		})
	}
	return t
}

// analyses is a row for each laboratory and day on which its results of a
// sample came.
func (s *Sections) analyses() doc.Table {
	t := doc.Table{
		Name: "analyses", Empty: templates.Sewer.NoResults,
		Columns: []doc.Column{
			{Name: "sample", Head: "Sample"}, {Name: "pollutants", Head: "Analysed for"}, {Name: "laboratory", Head: "Laboratory"}, {Name: "analyst", Head: "Analyst"},
			{Name: "received", Head: "Received"},
		},
	}
	at := map[[4]string]int{}
	for _, r := range s.found.Results.Results {
		is := r.Is
		key := [4]string{is.Name.Meaning(), is.Laboratory.Meaning(), is.Analyst.Meaning(), is.Received.Meaning()}
		if i, known := at[key]; known {
			t.Rows[i][1] = doc.Text{Is: t.Rows[i][1].String() + ", " + string(r.Pollutant)}
			continue
		}
		at[key] = len(t.Rows)
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: is.Name.String()}, doc.Text{Is: string(r.Pollutant)}, known(is.Laboratory.String()), known(is.Analyst.String()), known(is.Received.String()),
		})
	}
	return t
}

func known(text string) doc.Cell {
	if text == "" {
		return doc.Blank{Why: "not recorded"}
	}
	return doc.Text{Is: text}
}

// overLimits names the limits of its day that a result is over.
func overLimits(r exposure.Result) string {
	var over []string
	for _, a := range r.Against {
		if a.Verdict == exposure.ResultOver && a.Limit.Origin != exposure.LimitForComparison {
			text := string(a.Limit.Rule) + " " + a.Limit.Text
			if len(a.Limit.If) > 0 {
				text += ", if it binds"
			}
			if !slices.Contains(over, text) {
				over = append(over, text)
			}
		}
	}
	return strings.Join(over, "; ")
}

// versusDay is a day's value beside the estimate of the same day, mg/L.
type versusDay struct {
	day       chemicals.Day
	pollutant string
	own       bool
	sample    float64
	less      bool
	decimals  int
	estimate  exposure.Spread
}

func (s *Sections) versus(point chemicals.Name) []versusDay {
	use := s.use(point)
	if use == nil {
		return nil
	}
	days := map[chemicals.Day]exposure.PointDay{}
	for _, d := range use.Days {
		days[d.Day] = d
	}
	var all []versusDay
	for _, d := range s.found.Results.Days {
		m := slices.Index(use.Metals, string(d.Pollutant))
		on, worked := days[d.Day]
		if d.Point.Meaning() != point.Meaning() || m < 0 || !worked || !d.Concentration.Known() {
			continue
		}
		estimate, ok := on.MilligramsPerLitre(m)
		if !ok {
			continue
		}
		v := d.Concentration.Is().MilligramsPerLitre()
		one := versusDay{day: d.Day, pollutant: string(d.Pollutant), own: d.Own, sample: v, less: s.noneFound(d.Entries), decimals: Number(v).Decimals, estimate: estimate}
		if len(d.Entries) == 1 {
			one.decimals = s.decimals(d.Entries[0], one.decimals)
		}
		all = append(all, one)
	}
	return all
}

func (s *Sections) versusTable(p chemicals.Held[chemicals.Point], number int) doc.Table {
	t := doc.Table{
		Name: versusName(number), Caption: p.Is.Name.String(), Empty: templates.Sewer.NoVersus,
		Columns: []doc.Column{
			{Name: "pollutant", Head: "Pollutant"}, {Name: "day", Head: "Sampled"}, {Name: "by", Head: "For"}, {Name: "found", Head: "Was"},
			{Name: "sample", Head: "Sample", Unit: "mg/L", Numeric: true}, {Name: "low", Head: "Estimate, low", Unit: "mg/L", Numeric: true},
			{Name: "estimate", Head: "likely", Unit: "mg/L", Numeric: true}, {Name: "high", Head: "high", Unit: "mg/L", Numeric: true},
			{Name: "ratio", Head: "Sample of estimate", Numeric: true, Formula: "{sample}/{estimate}"},
		},
	}
	for _, v := range s.versus(p.Is.Name) {
		by := "the shop"
		if !v.own {
			by = "the authority"
		}
		found := "found"
		if v.less {
			found = "not found"
		}
		row := append([]doc.Cell{
			doc.Text{Is: v.pollutant}, letterhead.Day(v.day, ""), doc.Text{Is: by}, doc.Text{Is: found}, doc.Number{Is: v.sample, Decimals: v.decimals, Below: v.less},
		}, Spread(v.estimate)...)
		ratio := doc.Cell(doc.Blank{Why: "no ratio"})
		if likely := v.estimate[working.Likely]; likely > 0 {
			n := Live(Number(v.sample / likely))
			n.Below = v.less
			ratio = n
		}
		t.Rows = append(t.Rows, append(row, ratio))
	}
	return t
}
