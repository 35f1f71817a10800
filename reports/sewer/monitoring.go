package sewer

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// Monitoring appends the self-monitoring of the period as a form: what was due,
// every sample with its results, averages, shares, clocks, and what a signatory
// has to fill in.
func (s *Sections) Monitoring() {
	w := templates.Sewer
	s.doc.Section(1, w.Monitoring)
	s.doc.Add(doc.Paragraph{Text: w.MonitoringNote})
	s.doc.Section(2, w.Due)
	s.doc.Add(doc.Paragraph{Text: w.DueNote}, s.due())
	s.doc.Section(2, w.Taken)
	s.doc.Add(s.taken())
	s.doc.Section(2, w.Results)
	s.doc.Add(doc.Paragraph{Text: w.ResultsNote}, s.results())
	s.doc.Section(2, w.Versus)
	s.doc.Add(doc.Paragraph{Text: w.VersusNote})
	for i, p := range s.points() {
		s.doc.Add(s.versusTable(p, i+1))
	}
	s.doc.Section(2, w.Averages)
	s.doc.Add(doc.Paragraph{Text: w.AveragesNote + " " + s.treated() + "."}, s.averages())
	s.doc.Section(2, w.Shares)
	s.doc.Add(doc.Paragraph{Text: w.SharesNote}, s.shares())
	s.doc.Section(2, w.Clocks)
	s.doc.Add(doc.Paragraph{Text: w.ClocksNote}, s.clocks("clocks", "", w.NoClocks, func(exposure.ClockRun) bool { return true }))
}

func (s *Sections) treated() string {
	if s.found.Results.Treatment == 0 {
		return "none declared"
	}
	return s.found.Results.Treatment.String()
}

// dueRow is what was asked for of one pollutant at one point.
type dueRow struct {
	asked  exposure.ResultDue // the latest
	spans  int
	wrong  int
	others int
	missed []string
}

func (s *Sections) due() doc.Table {
	t := doc.Table{
		Name: "sampling_due", Empty: templates.Sewer.NoDue,
		Columns: []doc.Column{
			{Name: "point", Head: "Point"}, {Name: "pollutant", Head: "Pollutant"}, {Name: "every", Head: "One in each"},
			{Name: "type", Head: "Type"}, {Name: "document", Head: "Asked by"}, {Name: "spans", Head: "Spans", Numeric: true},
			{Name: "with", Head: "With a sample", Numeric: true, Formula: "{spans}-{missed}"},
			{Name: "missed", Head: "Without", Numeric: true}, {Name: "which", Head: "No sample found for"},
			{Name: "wrong", Head: "Of another type", Numeric: true},
		},
	}
	for _, r := range s.dueRows() {
		is := r.asked.Monitoring.Is
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: is.Point.String()}, doc.Text{Is: string(r.asked.Pollutant)}, doc.Text{Is: string(is.Every)}, letterhead.Words(string(is.Type)),
			letterhead.Words(is.Document.String()), doc.Number{Is: float64(r.spans)}, Live(doc.Number{Is: float64(r.spans - len(r.missed))}),
			doc.Number{Is: float64(len(r.missed)), Emphasis: Caution(len(r.missed) > 0)}, letterhead.Words(strings.Join(r.missed, ", ")),
			doc.Number{Is: float64(r.wrong), Emphasis: Caution(r.wrong > 0)},
		})
	}
	return t
}

func (s *Sections) dueRows() []*dueRow {
	var rows []*dueRow
	for _, d := range s.found.Results.Due {
		i := slices.IndexFunc(rows, func(r *dueRow) bool { return r.asked.Monitoring.Entry == d.Monitoring.Entry })
		if i < 0 {
			i = len(rows)
			rows = append(rows, &dueRow{})
		}
		r := rows[i]
		r.asked = d
		r.spans++
		if len(d.WrongType) > 0 {
			r.wrong++
		}
		if d.Missed() {
			r.missed = append(r.missed, spanName(d.Span))
		}
	}
	return rows
}

// spanName is a month by its name, any other span by its days.
func spanName(p chemicals.Period) string {
	first := p.First.Time()
	if first.Day() == 1 && p.Last == chemicals.DayOf(first.AddDate(0, 1, -1)) {
		return first.Format("2006-01")
	}
	if p.First == p.Last {
		return p.First.String()
	}
	return p.String()
}

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
	return t
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
			{Name: "sample", Head: "Sample"}, {Name: "date", Head: "Sampled"}, {Name: "pollutant", Head: "Pollutant"},
			{Name: "result", Head: "Result", Numeric: true}, {Name: "reporting", Head: "Reported from", Numeric: true},
			{Name: "over", Head: "Over"}, {Name: "method", Head: "Method"}, {Name: "laboratory", Head: "Laboratory, analyst"},
			{Name: "analysed", Head: "Analysed"}, {Name: "received", Head: "Received"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, r := range s.found.Results.Results {
		is := r.Is
		over := overLimits(r)
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: is.Name.String()}, letterhead.Day(r.Date, ""), doc.Text{Is: string(r.Pollutant)},
			doc.Text{Is: is.Result.String(), Emphasis: Over(over != "")}, letterhead.Written(is.ReportingLimit, ""), letterhead.Words(over),
			letterhead.Words(is.Method.String()), letterhead.Words(laboratory(is)), letterhead.Day(is.Analysed, ""),
			letterhead.Words(is.Received.String()), letterhead.Entry(r.Entry),
		})
	}
	return t
}

func laboratory(is chemicals.Sample) string {
	return strings.Trim(is.Laboratory.String()+", "+is.Analyst.String(), ", ")
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
		ratio := doc.Cell(doc.Blank{Why: "nothing is estimated"})
		if likely := v.estimate[working.Likely]; likely > 0 {
			n := Live(Number(v.sample / likely))
			n.Below = v.less
			ratio = n
		}
		t.Rows = append(t.Rows, append(row, ratio))
	}
	return t
}

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
	return t
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
	return t
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

// clocks are those that are wanted, with their state.
func (s *Sections) clocks(name, caption, none string, wanted func(exposure.ClockRun) bool) doc.Table {
	t := doc.Table{
		Name: name, Caption: caption, Empty: none,
		Columns: []doc.Column{
			{Name: "about", Head: "About"}, {Name: "over", Head: "Over"}, {Name: "duty", Head: "What is due"},
			{Name: "start", Head: "Known from"}, {Name: "due", Head: "Due"}, {Name: "state", Head: "By the record"},
		},
	}
	for _, c := range s.found.Results.Clocks {
		if !wanted(c) {
			continue
		}
		var over []string
		for _, l := range c.Over {
			over = append(over, string(l.Rule)+" "+l.Text)
		}
		state := doc.Text{Is: c.State.String() + ": " + c.Says(), Emphasis: Caution(c.State == exposure.ClockOpen || c.State == exposure.ClockClosedLate)}
		if c.State == exposure.ClockOverdue {
			state.Emphasis = doc.Over
		}
		for _, caveat := range c.Caveats {
			state.Is += "; " + string(caveat)
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: c.About + entriesText(c.Entries)}, letterhead.Words(strings.Join(over, "; ")), doc.Text{Is: c.Duty.String(), Cites: Cite(s.doc, c.Ref)},
			doc.Text{Is: c.Start.String() + ", " + c.StartFrom}, doc.Text{Is: c.Due.String()}, state,
		})
	}
	return t
}

func entriesText(entries []int64) string {
	var all []string
	for _, e := range entries {
		all = append(all, strconv.FormatInt(e, 10))
	}
	switch len(all) {
	case 0:
		return ""
	case 1:
		return " (entry " + all[0] + ")"
	}
	return " (entries " + strings.Join(all, ", ") + ")"
}

// Certificate appends what a signatory fills in.
func (s *Sections) Certificate() {
	w := templates.Sewer
	s.doc.Section(2, w.Certify)
	s.doc.Add(doc.Paragraph{Text: w.CertifyNote}, doc.Fields{Items: []doc.Field{
		{Label: w.Statement, Value: doc.Blank{Why: w.Look}},
		{Label: "Period", Value: doc.Text{Is: s.shop.Period.String()}},
		{Label: "Mean flow of a day", Value: s.flow()},
		{Label: "Highest flow of a day", Value: s.highestFlow()},
	}}, doc.SignOff{Statement: w.Statement + ":", Roles: []string{w.Signatory}})
}

// flow is the mean of the days with water, over all points.
func (s *Sections) flow() doc.Cell {
	return s.flowOf(func(p exposure.PointUse) quantity.Volume {
		if p.Whole.Days == 0 {
			return 0
		}
		return p.Whole.Water / quantity.Volume(p.Whole.Days)
	})
}

func (s *Sections) highestFlow() doc.Cell {
	return s.flowOf(func(p exposure.PointUse) quantity.Volume {
		var most quantity.Volume
		for _, d := range p.Days {
			most = max(most, d.Water)
		}
		return most
	})
}

func (s *Sections) flowOf(of func(exposure.PointUse) quantity.Volume) doc.Cell {
	var said []string
	if s.found.Water != nil {
		for _, p := range s.found.Water.Points {
			said = append(said, p.Point.Is.Name.String()+": "+quantity.Print(of(p), s.Units.Volume, 4)+", "+measuredHow(p))
		}
	}
	if len(said) == 0 {
		return doc.Blank{Why: "no water is known to leave at any point"}
	}
	return doc.Text{Is: strings.Join(said, "; ")}
}

func measuredHow(p exposure.PointUse) string {
	if p.Meter.Known() {
		return "by meter " + p.Meter.String()
	}
	return "by flows and hours"
}
