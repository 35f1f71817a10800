package exposure

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed limits.csv
var limitsFile string

// limitsTable holds the published limits on waste water: 40 CFR parts 413 and
// 433, the prohibitions of 40 CFR 403.5(b), and for comparison in the European
// Union the German AbwV Anhang 40 and the ranges of the BREF; and the times and
// counts of 40 CFR 403 that monitoring turns on.
func limitsTable() working.Table { return working.Table{Name: "limits.csv", File: limitsFile} }

// StandardSet names published limits that hold together, in the words of
// limits.csv: "433 PSNS", "413 A from 38000 L/day".
type StandardSet string

// LimitFigure is one published limit.
type LimitFigure struct {
	Set       StandardSet
	Pollutant LimitPollutant
	Rule      chemicals.Rule
	Basis     chemicals.Basis
	Value     chemicals.Level // of a range the upper end; not known where the figure is of another kind
	Text      string          // as published: "3.98 mg/L", "0.2 to 2.0 mg/L", "0.3 kg/t"
	Range     bool            // what good installations reach, not a limit
	Ref       source.Ref
}

// limitTable is limits.csv, read.
type limitTable struct {
	sets         map[StandardSet][]LimitFigure
	as           map[StandardSet]sameFigures // subparts whose concentrations are those of another
	thirtyDay    map[string]LimitFigure      // by the pair of daily maximum and four-day average, "0.6/0.4 mg/L"
	newSource    limitWord
	largeFlow    working.Estimate[quantity.Flow]
	precious     limitWord
	totalMetals  limitWord
	fourDays     limitCount
	reprint      limitWord
	grabs        limitWord
	notice       working.Estimate[quantity.Duration]
	repeated     working.Estimate[quantity.Duration]
	slug         limitWord
	monthly      limitCount
	noncompliant limitCount
}

// sameFigures is a subpart whose figures another one has too.
type sameFigures struct {
	subpart string
	ref     source.Ref
}

// limitWord is a row whose value is words, parted by semicolons where several.
type limitWord struct {
	text string
	ref  source.Ref
}

func (w limitWord) words() []string { return strings.Split(w.text, "; ") }

type limitCount struct {
	is  int
	ref source.Ref
}

// publishedLimits reads the table. It panics on a damaged one, which is a fault
// of the program.
var publishedLimits = sync.OnceValue(func() *limitTable {
	t, err := readLimits(limitsTable())
	if err != nil {
		panic("exposure: " + err.Error())
	}
	return t
})

func readLimits(table working.Table) (*limitTable, error) {
	rows, err := table.Rows()
	if err != nil {
		return nil, err
	}
	t := &limitTable{sets: map[StandardSet][]LimitFigure{}, as: map[StandardSet]sameFigures{}, thirtyDay: map[string]LimitFigure{}}
	for _, row := range rows {
		if err := t.row(row); err != nil {
			return nil, fmt.Errorf("%s: %w", row.Where, err)
		}
	}
	return t, nil
}

func (t *limitTable) row(row working.Row) error {
	if set, rule, ok := strings.Cut(row.Figure, ": "); ok {
		figure, err := limitFigure(StandardSet(set), rule, row)
		t.sets[figure.Set] = append(t.sets[figure.Set], figure)
		return err
	}
	switch row.Figure {
	case "413.04 thirty-day average":
		figure, err := limitFigure("413.04", string(chemicals.MonthlyAverage), row)
		t.thirtyDay[row.Of] = figure
		return err
	case "concentrations":
		t.as[StandardSet(row.Of)] = sameFigures{strings.TrimPrefix(row.Value, "as "), row.Ref}
		return nil
	}
	return t.single(row)
}

// single reads a figure of which there is one.
func (t *limitTable) single(row working.Row) (err error) {
	word := limitWord{row.Value, row.Ref}
	switch row.Of + ", " + row.Figure {
	case "new source, construction begun after":
		t.newSource = word
		_, err = chemicals.ParseDay(row.Value)
	case "process water of a day, from which 40 CFR 413 sets limits for each metal":
		t.largeFlow, err = working.PublishedQuantity[quantity.Flow](row)
	case "precious metals, which they are":
		t.precious = word
	case "total metals, which are summed":
		t.totalMetals = word
	case "four-day average, monitoring days":
		t.fourDays, err = countOf(row, "days")
	case "four-day average, how less than weekly samples are averaged":
		t.reprint = word
	case "grab samples, what they are for":
		t.grabs = word
	case "notice of a violation, time from becoming aware":
		t.notice, err = working.PublishedQuantity[quantity.Duration](row)
	case "results of the repeated sampling, time from becoming aware":
		t.repeated, err = working.PublishedQuantity[quantity.Duration](row)
	case "discharge that could cause problems, time to the notice":
		t.slug = word
	case "authority's sampling, months in a row from which it counts as monthly":
		t.monthly, err = countOf(row, "months")
	case "significant noncompliance, months that are looked at":
		t.noncompliant, err = countOf(row, "months")
	default:
		return fmt.Errorf("%q of %q is no figure that is known here", row.Figure, row.Of)
	}
	return err
}

func countOf(row working.Row, unit string) (limitCount, error) {
	e, err := working.PublishedNumber(row, unit)
	if err != nil {
		return limitCount{}, err
	}
	return limitCount{int(e.Is()), row.Ref}, nil
}

func limitFigure(set StandardSet, rule string, row working.Row) (LimitFigure, error) {
	f := LimitFigure{Set: set, Pollutant: LimitPollutant(row.Of), Rule: chemicals.Rule(rule), Text: row.Value, Ref: row.Ref, Basis: chemicals.NoBasis}
	text := row.Value
	if rule == "range" {
		_, upper, ok := strings.Cut(text, " to ")
		if !ok {
			return f, fmt.Errorf("%q is not a range", text)
		}
		f.Rule, f.Range, text = chemicals.Maximum, true, upper
	}
	if _, known := limitRules[f.Rule]; !known {
		return f, fmt.Errorf("%q is not a rule of a limit", rule)
	}
	if err := f.Value.UnmarshalText([]byte(text)); err != nil {
		f.Value = chemicals.Level{} // kg for each tonne used, a dilution factor: printed, compared with nothing
		return f, nil
	}
	f.Basis = limitBasis(f.Value)
	return f, nil
}

// limitRules are the rules, and which value of theirs is the stricter: true
// where the greater one is.
var limitRules = map[chemicals.Rule]bool{
	chemicals.DailyMaximum: false, chemicals.Instantaneous: false, chemicals.MonthlyAverage: false,
	chemicals.FourDayAverage: false, chemicals.Maximum: false, chemicals.Minimum: true,
}

// limitBasis is the basis that a value is on.
func limitBasis(l chemicals.Level) chemicals.Basis {
	r, ok := l.Release()
	if !ok {
		return chemicals.NoBasis
	}
	if _, ok := r.Concentration(); ok {
		return chemicals.ByConcentration
	}
	if _, ok := r.MassRate(); ok {
		return chemicals.ByDay
	}
	return chemicals.ByArea
}

// LimitFigures are the published limits of a set, in the order of limits.csv.
// A subpart of part 413 without figures of its own has those of subpart A.
func LimitFigures(set StandardSet) []LimitFigure {
	t := publishedLimits()
	if figures, ok := t.sets[set]; ok {
		return figures
	}
	for sub, as := range t.as {
		rest, ok := strings.CutPrefix(string(set), string(sub)+" ")
		if !ok || !strings.HasSuffix(rest, "38000 L/day") { // of the mass limits no source says that they are the same
			continue
		}
		figures := slices.Clone(t.sets[StandardSet(as.subpart+" "+rest)])
		for i := range figures {
			figures[i].Set, figures[i].Ref = set, as.ref
		}
		return figures
	}
	return nil
}

// ThirtyDayFigures are the averages of 40 CFR 413.04 that stand in for the
// four-day averages of a set where its water joins a stream with thirty-day
// averages.
func ThirtyDayFigures(set StandardSet) []LimitFigure {
	daily := map[LimitPollutant]LimitFigure{}
	for _, f := range LimitFigures(set) {
		if f.Rule == chemicals.DailyMaximum {
			daily[f.Pollutant] = f
		}
	}
	var figures []LimitFigure
	for _, f := range LimitFigures(set) {
		if f.Rule != chemicals.FourDayAverage {
			continue
		}
		first, _, _ := strings.Cut(daily[f.Pollutant].Text, " ")
		if thirty, ok := publishedLimits().thirtyDay[first+"/"+f.Text]; ok {
			thirty.Pollutant, thirty.Set = f.Pollutant, set
			figures = append(figures, thirty)
		}
	}
	return figures
}
