package exposure

import (
	"cmp"
	"slices"
	"time"

	"bathwarden/chemicals"
)

// ResultDue is one calendar span in which the book asks for a sample. Spans are
// those that end within the period and by the as-of day, and in which the same
// was asked for from the first day to the last; the span itself may begin
// before the period. Weeks run from Monday to Sunday. Where one is asked for on
// each day, those with work are looked at, for the book does not say on which
// others there was a discharge.
type ResultDue struct {
	Monitoring chemicals.Held[chemicals.Monitoring] // as it stands on the span's last day
	Pollutant  LimitPollutant
	Span       chemicals.Period
	Samples    []int64 // entries of the shop's own
	WrongType  []int64 // of Samples, those of another type than asked for, or of none
	Authority  []int64 // entries of the authority's; whether one stands for the shop's own, the authority says
}

// Missed reports whether no sample of the shop's own is recorded in the span.
func (d ResultDue) Missed() bool { return len(d.Samples) == 0 }

type dueKey struct {
	point     string
	pollutant LimitPollutant
}

func (m *monitor) due() []ResultDue {
	taken := map[dueKey][]*Result{}
	for _, r := range m.results {
		key := dueKey{r.point, r.Pollutant}
		taken[key] = append(taken[key], r)
	}
	asked := map[dueKey][]chemicals.Held[chemicals.Monitoring]{}
	for _, h := range chemicals.Facts[chemicals.Monitoring](m.shop) {
		key := dueKey{h.Is.Point.Meaning(), m.pollutant(h.Is.Pollutant)}
		asked[key] = append(asked[key], h)
	}
	var all []ResultDue
	for key, rows := range asked {
		slices.SortStableFunc(rows, func(a, b chemicals.Held[chemicals.Monitoring]) int { return cmp.Compare(a.From, b.From) })
		for _, every := range everyOf(rows) {
			for _, span := range m.spans(every) {
				if row, ok := asks(rows, every, span); ok {
					all = append(all, dueIn(row, key.pollutant, span, taken[key]))
				}
			}
		}
	}
	slices.SortFunc(all, func(a, b ResultDue) int {
		return cmp.Or(cmp.Compare(a.Monitoring.Is.Point, b.Monitoring.Is.Point), cmp.Compare(a.Pollutant, b.Pollutant), cmp.Compare(a.Span.First, b.Span.First), cmp.Compare(a.Span.Last, b.Span.Last))
	})
	return all
}

func everyOf(rows []chemicals.Held[chemicals.Monitoring]) []chemicals.Every {
	var all []chemicals.Every
	for _, h := range rows {
		if !slices.Contains(all, h.Is.Every) {
			all = append(all, h.Is.Every)
		}
	}
	return all
}

// asks finds the row of a span's last day, if rows with one interval cover the
// span without a break.
func asks(rows []chemicals.Held[chemicals.Monitoring], every chemicals.Every, span chemicals.Period) (chemicals.Held[chemicals.Monitoring], bool) {
	covered := span.First // the first day that is not covered
	for _, h := range rows {
		if h.Is.Every != every || h.From > covered || h.Until.Known() && h.Until < covered {
			continue
		}
		if !h.Until.Known() || h.Until >= span.Last {
			return h, true
		}
		covered = h.Until.Add(1)
	}
	return chemicals.Held[chemicals.Monitoring]{}, false
}

func dueIn(row chemicals.Held[chemicals.Monitoring], pollutant LimitPollutant, span chemicals.Period, taken []*Result) ResultDue {
	d := ResultDue{Monitoring: row, Pollutant: pollutant, Span: span}
	for _, r := range taken {
		switch {
		case !span.Holds(r.Date):
		case !r.Own:
			d.Authority = append(d.Authority, r.Entry)
		default:
			d.Samples = append(d.Samples, r.Entry)
			if row.Is.Type != "" && r.Is.Type != row.Is.Type {
				d.WrongType = append(d.WrongType, r.Entry)
			}
		}
	}
	return d
}

// spans are the calendar spans that end within the period, by the as-of day.
func (m *monitor) spans(every chemicals.Every) []chemicals.Period {
	last := min(m.shop.Period.Last, m.shop.AsOf)
	if every == chemicals.EachDay {
		return m.workDays(last)
	}
	var all []chemicals.Period
	for day := m.shop.Period.First; day <= last; {
		span := spanOf(every, day)
		if span.Last <= last {
			all = append(all, span)
		}
		day = span.Last.Add(1)
	}
	return all
}

func (m *monitor) workDays(last chemicals.Day) []chemicals.Period {
	var all []chemicals.Period
	for _, w := range chemicals.Events[chemicals.Work](m.shop) {
		day := chemicals.Period{First: w.Date, Last: w.Date}
		if m.shop.Period.Holds(w.Date) && w.Date <= last && (len(all) == 0 || all[len(all)-1] != day) {
			all = append(all, day)
		}
	}
	return all
}

// spanOf is the calendar span that a day lies in.
func spanOf(every chemicals.Every, day chemicals.Day) chemicals.Period {
	t := day.Time()
	if every == chemicals.EachWeek {
		first := t.AddDate(0, 0, -(int(t.Weekday())+6)%7)
		return chemicals.Period{First: chemicals.DayOf(first), Last: chemicals.DayOf(first.AddDate(0, 0, 6))}
	}
	months := map[chemicals.Every]int{chemicals.EachMonth: 1, chemicals.EachQuarter: 3, chemicals.EachHalf: 6, chemicals.EachYear: 12}[every]
	month := int(t.Month()) - 1
	first := time.Date(t.Year(), time.Month(month-month%months+1), 1, 0, 0, 0, 0, time.UTC)
	return chemicals.Period{First: chemicals.DayOf(first), Last: chemicals.DayOf(first.AddDate(0, months, -1))}
}
