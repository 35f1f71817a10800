package doc

import "time"

// Chart is a figure over time: what was found, what was allowed, and what was
// estimated. A page draws it; a workbook draws it from the cells of its table
// (Figures), and the terminal prints the days that matter (Summary). What is
// drawn can be read without colour.
type Chart struct {
	Name  string // as a table's: lower-case words joined by _, unique among the tables of the document
	Title string
	Axis  string // what is measured: "Nickel at the outfall"
	Unit  string // of all its figures; they need none of their own
	Cites []int
	// First and Last are the days it covers; zero for those of its figures.
	// Limits and estimates are cut at them, a point beyond them widens the chart.
	First, Last Date
	Dots        []Dots
	Steps       []Steps
	Bands       []Band
	Empty       string // what to print in place of a chart without points and estimates
}

// Dots are single figures, each of a day: samples.
type Dots struct {
	Name   string // "sample"
	Points []Point
}

// Point is one of them. With Value.Below set nothing was found: the point
// stands hollow at the limit from which it would have been reported.
type Point struct {
	Day   Date
	Value Number
}

// Steps are a figure that holds from a day on: a limit.
type Steps struct {
	Name   string // "daily maximum"
	Levels []Level
	Cites  []int
}

// Level is the height of a step. The levels are in the order of their days.
type Level struct {
	From  Date // zero: from the chart's first day
	To    Date // zero: to the next level, or the chart's last day
	Value Number
}

// Band is a range over time with what is likely in its middle: an estimate.
type Band struct {
	Name  string // "estimate from the work done"
	Spans []Span
}

// Span is the range over some days, or over one. The spans are in the order of
// their days and share none.
type Span struct {
	From, To          Date // zero To: one day
	Low, Likely, High Number
}

func (Chart) block() {}

// IsZero says that d is no day.
func (d Date) IsZero() bool { return d.Year == 0 && d.Month == 0 && d.Day == 0 }

// firstDay and lastDay are the ends of the years 0 to 9999, as Count gives them.
const firstDay, lastDay = -719528, 2932896

// Count is the days from 1970-01-01 to d, which lies in the years 0 to 9999.
func (d Date) Count() int {
	days := time.Date(max(0, min(9999, d.Year)), time.Month(d.Month), d.Day, 0, 0, 0, 0, time.UTC).Unix() / secondsPerDay
	return int(max(firstDay, min(lastDay, days)))
}

// DayOf is the day that lies count days after 1970-01-01.
func DayOf(count int) Date {
	t := time.Unix(int64(count)*secondsPerDay, 0).UTC()
	return Date{Year: t.Year(), Month: int(t.Month()), Day: t.Day()}
}

const secondsPerDay = 24 * 60 * 60

// Drawn says that the chart has a figure to draw besides limits.
func (c Chart) Drawn() bool {
	for _, d := range c.Dots {
		if len(d.Points) > 0 {
			return true
		}
	}
	for _, b := range c.Bands {
		if len(b.Spans) > 0 {
			return true
		}
	}
	return false
}

// Stretch is days in a row, both ends among them, at one height or in one range.
type Stretch struct {
	First, Last int // as Count gives them
	Low, High   Number
	Likely      Number
}

// Stretches are the levels cut at the days from first to last, each up to the
// day before the next.
func (s Steps) Stretches(first, last int) []Stretch {
	var all []Stretch
	for i, l := range s.Levels {
		one := Stretch{First: first, Last: last, Low: l.Value, Likely: l.Value, High: l.Value}
		if !l.From.IsZero() {
			one.First = max(first, l.From.Count())
		}
		if !l.To.IsZero() {
			one.Last = min(last, l.To.Count())
		}
		if i+1 < len(s.Levels) && !s.Levels[i+1].From.IsZero() {
			one.Last = min(one.Last, s.Levels[i+1].From.Count()-1)
		}
		if one.First <= one.Last {
			all = append(all, one)
		}
	}
	return all
}

// Stretches are the spans cut at the days from first to last.
func (b Band) Stretches(first, last int) []Stretch {
	var all []Stretch
	for _, s := range b.Spans {
		one := Stretch{First: s.From.Count(), Last: s.last(), Low: s.Low, Likely: s.Likely, High: s.High}
		one.First, one.Last = max(first, one.First), min(last, one.Last)
		if one.First <= one.Last {
			all = append(all, one)
		}
	}
	return all
}

func (s Span) last() int {
	if s.To.IsZero() {
		return s.From.Count()
	}
	return s.To.Count()
}
