package sewer

import (
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// Page appends what an inspector of a sewer asks first: for each point one
// table of limits, results, estimates, and the notices that are open.
func (s *Sections) Page() {
	w := templates.Sewer
	s.doc.FreshSection(1, w.Page)
	s.doc.Add(s.open(), doc.Paragraph{Text: w.PageNote})
	points := s.points()
	if len(points) == 0 {
		s.doc.Add(doc.Notice{Text: w.NoPoints, Emphasis: doc.Caution})
	}
	for i, p := range points {
		s.doc.Add(s.page(p, i+1))
	}
}

// open lists what is open after results over a limit and incidents.
func (s *Sections) open() doc.Block {
	var items []doc.Text
	for _, c := range s.found.Results.Clocks {
		if !isOpen(c) {
			continue
		}
		items = append(items, doc.Text{Is: c.About + ", " + c.Duty.String() + ": " + c.Says(), Emphasis: openMark(c), Cites: Cite(s.doc, c.Ref)})
	}
	if len(items) == 0 {
		return doc.Paragraph{Text: templates.Sewer.NoOpenNotices}
	}
	return doc.List{Items: items}
}

func isOpen(c exposure.ClockRun) bool {
	return c.State == exposure.ClockOpen || c.State == exposure.ClockOverdue
}

func (s *Sections) page(p chemicals.Held[chemicals.Point], number int) doc.Table {
	title := p.Is.Name.String()
	if p.Is.Title.Known() {
		title += ": " + p.Is.Title.String()
	}
	t := doc.Table{
		Name: TableName("limits_and_results", number), Caption: title, Empty: templates.Sewer.NoLimits,
		Columns: []doc.Column{
			{Name: "pollutant", Head: "Pollutant"}, {Name: "rule", Head: "Strictest rule, and who sets it"},
			{Name: "limit", Head: "Limit", Numeric: true}, {Name: "latest", Head: "Latest", Numeric: true}, {Name: "on", Head: "Sampled"},
			{Name: "highest", Head: "Highest", Numeric: true},
			{Name: "low", Head: "Estimate: low", Numeric: true}, {Name: "high", Head: "high", Numeric: true}, {Name: "worst", Head: "worst", Numeric: true},
			{Name: "ratio", Head: "Sample / est.", Numeric: true, Formula: versusFormula(number)},
		},
	}
	for _, l := range s.strictest(p.Is.Name) {
		t.Rows = append(t.Rows, s.limitRow(l))
	}
	for _, metal := range s.unlimited(p.Is.Name) {
		t.Rows = append(t.Rows, s.unlimitedRow(p.Is.Name, metal))
	}
	return t
}

// versusFormula is the sum of the samples in which something was found over the
// sum of the estimates of the same days, from the table that puts them side by side.
func versusFormula(number int) string {
	from := versusName(number)
	sum := func(column string) string {
		return "SUMPRODUCT(--({" + from + ":pollutant}={pollutant}),--({" + from + ":found}=\"found\"),{" + from + ":" + column + "})"
	}
	return sum("sample") + "/" + sum("estimate")
}

func versusName(number int) string { return TableName("samples_and_estimate", number) }

// strictest are the strictest limits at a point that bind in every reading and
// that a result can be put beside, by pollutant, rule and basis.
func (s *Sections) strictest(point chemicals.Name) []exposure.LimitInForce {
	var all []exposure.LimitInForce
	for _, l := range s.found.Results.Limits { // the strictest of each kind first
		if l.Point.Meaning() != point.Meaning() || len(l.If) > 0 || l.Origin == exposure.LimitForComparison || l.Apart != "" {
			continue
		}
		if n := len(all); n == 0 || all[n-1].Pollutant != l.Pollutant || all[n-1].Rule != l.Rule || all[n-1].Basis != l.Basis {
			all = append(all, l)
		}
	}
	return all
}

// unlimited are the metals that are estimated to leave at a point and on which
// no limit is known.
func (s *Sections) unlimited(point chemicals.Name) []string {
	var all []string
	use := s.use(point)
	if use == nil {
		return nil
	}
	for m, metal := range use.Metals {
		limited := slices.ContainsFunc(s.found.Results.Limits, func(l exposure.LimitInForce) bool {
			return l.Point.Meaning() == point.Meaning() && string(l.Pollutant) == metal && l.Apart == ""
		})
		if !limited && use.Whole.Grams[m] != (exposure.Spread{}) {
			all = append(all, metal)
		}
	}
	return all
}

func (s *Sections) limitRow(l exposure.LimitInForce) []doc.Cell {
	value, unit, _ := strings.Cut(l.Value.String(), " ")
	limit := doc.Cell(doc.Blank{Why: templates.Sewer.NotCompared})
	if is, ok := inUnit(l.Value, unit); ok {
		limit = doc.Number{Is: is, Decimals: decimalsOf(value)}
	}
	row := []doc.Cell{
		doc.Text{Is: withUnit(string(l.Pollutant), unit), Emphasis: s.openOn(l.Point, l.Pollutant)}, doc.Text{Is: shortRule.Replace(string(l.Rule)) + ", " + setBy(l), Cites: Cite(s.doc, l.Ref)}, limit,
	}
	found := s.measured(l, unit)
	if len(found) == 0 {
		row = append(row, doc.Text{Is: "none"}, doc.Blank{}, doc.Blank{})
	} else {
		latest, furthest := found[len(found)-1], furthest(found, l.Rule == chemicals.Minimum)
		row = append(row, latest.number(), letterhead.Day(latest.day, ""), furthest.number())
	}
	row = append(row, s.estimated(l, unit)...)
	return append(row, s.ratio(l.Point, string(l.Pollutant), l.Basis))
}

func (s *Sections) unlimitedRow(point chemicals.Name, metal string) []doc.Cell {
	row := []doc.Cell{doc.Text{Is: metal, Emphasis: s.openOn(point, exposure.LimitPollutant(metal))}, doc.Text{Is: templates.Sewer.NoLimitKnown}, doc.Blank{}}
	alone := exposure.LimitInForce{Point: point, Pollutant: exposure.LimitPollutant(metal), Rule: chemicals.DailyMaximum, Basis: chemicals.ByConcentration}
	row = append(append(row, Blanks(3)...), s.estimated(alone, usualUnit)...)
	return append(row, s.ratio(point, metal, chemicals.ByConcentration))
}

// usualUnit is that of rows which name none.
const usualUnit = "mg/L"

// withUnit names a pollutant with the unit of its row, where it is not the
// usual one.
func withUnit(pollutant, unit string) string {
	if unit == "" || unit == usualUnit {
		return pollutant
	}
	return pollutant + ", " + unit
}

// shortRule shortens the words of rules so that a row of the page is one line.
var shortRule = strings.NewReplacer("maximum", "max.", "average", "av.", "instantaneous", "inst.")

// setBy says who sets a limit.
func setBy(l exposure.LimitInForce) string {
	if l.Entry != 0 {
		return l.Document.String()
	}
	return l.Ref.Document
}

// inUnit reads a level in a unit; a pH has none.
func inUnit(l chemicals.Level, unit string) (float64, bool) {
	if v, ok := l.PH(); ok {
		return v, unit == ""
	}
	var q quantity.Any
	if v, ok := l.Temperature(); ok {
		q = v
	} else if r, ok := l.Release(); ok {
		if c, ok := r.Concentration(); ok {
			q = c
		} else if m, ok := r.MassRate(); ok {
			q = m
		} else if m, ok := r.MassPerArea(); ok {
			q = m
		}
	}
	if q == nil {
		return 0, false
	}
	v, err := quantity.In(q, unit)
	return v, err == nil
}

// decimalsOf are those that were written.
func decimalsOf(number string) int {
	_, decimals, _ := strings.Cut(number, ".")
	return len(decimals)
}

// estimated is what the work of the period gives by the estimate: the mean, low
// and high, and the high estimate of the worst day, set of four days or month,
// as the rule of the limit takes it.
func (s *Sections) estimated(l exposure.LimitInForce, unit string) []doc.Cell {
	use := s.use(l.Point)
	m := -1
	if use != nil {
		m = slices.Index(use.Metals, string(l.Pollutant))
	}
	if m < 0 || l.Basis != chemicals.ByConcentration && l.Basis != chemicals.ByDay {
		return Blanks(3)
	}
	mean, ok := estimateIn(use.Whole, m, l.Basis, unit)
	if !ok {
		return append([]doc.Cell{doc.Blank{Why: "no water"}}, Blanks(2)...)
	}
	worst := doc.Cell(doc.Blank{Why: "fewer than four days"}) // of days and months there is one where there is a mean
	if span, ok := use.Worst(m, l.Rule, l.Basis); ok {
		is, _ := estimateIn(span, m, l.Basis, unit)
		worst = Number(is.Highest())
	}
	low, _, high := Ordered(mean)
	return []doc.Cell{Number(low), Number(high), worst}
}

// estimateIn is the estimate of a span in the unit of a limit.
func estimateIn(span exposure.PointSpan, metal int, basis chemicals.Basis, unit string) (exposure.Spread, bool) {
	is, ok := span.On(basis, metal)
	for c := range is {
		if basis == chemicals.ByDay {
			is[c] = In(quantity.MassRate(is[c])*quantity.GramPerDay, unit)
		}
	}
	return is, ok
}

// ratio is that of the samples in which something was found to the estimates of
// the same days.
func (s *Sections) ratio(point chemicals.Name, metal string, basis chemicals.Basis) doc.Cell {
	if basis != chemicals.ByConcentration {
		return doc.Blank{}
	}
	samples, estimates := 0.0, 0.0
	for _, v := range s.versus(point) {
		if v.pollutant == metal && !v.less {
			samples, estimates = samples+v.sample, estimates+v.estimate[working.Likely]
		}
	}
	if estimates == 0 {
		return doc.Blank{}
	}
	return Live(Number(samples / estimates))
}

// openOn marks a pollutant on which a notice or repeated sampling is open.
func (s *Sections) openOn(point chemicals.Name, pollutant exposure.LimitPollutant) doc.Emphasis {
	mark := doc.Normal
	for _, c := range s.found.Results.Clocks {
		if c.Point.Meaning() == point.Meaning() && c.Pollutant == pollutant && isOpen(c) {
			mark = max(mark, openMark(c))
		}
	}
	return mark
}

func openMark(c exposure.ClockRun) doc.Emphasis {
	if c.State == exposure.ClockOverdue {
		return doc.Over
	}
	return doc.Caution
}
