package doc

import (
	"math"
	"strconv"
	"time"
)

// Axes are the scales of a chart, chosen here so that page and workbook draw
// the same picture.
type Axes struct {
	Title       string // of the values, with unit and kind of scale
	Log         bool
	Low, High   float64
	Step        float64 // between ticks: a difference, or a factor where Log
	Ticks       []Tick
	First, Last int // days, as Date.Count gives them
	Days        []Tick
}

// Tick is a mark on an axis. The label of a day may have its year below, in a
// second line.
type Tick struct {
	At    float64
	Label string
}

const (
	mostSteps   = 6     // between the ticks of the values
	mostDays    = 13    // ticks of days
	leastDays   = 14    // that a chart spans
	decades     = 100   // from the least to the largest figure, beyond which the scale is logarithmic
	mostDecades = 8     // ticks of a logarithmic scale
	beyond      = 1e100 // no scale goes further
)

// Axes chooses the scales. That of the values starts at zero, unless all are
// above zero and the largest is more than a hundred times the least: then it is
// logarithmic, and says so.
func (c Chart) Axes() Axes {
	a := Axes{Title: c.Axis}
	if c.Unit != "" {
		a.Title += " [" + c.Unit + "]"
	}
	a.First, a.Last = c.days()
	a.Days = dayTicks(a.First, a.Last)
	low, high := c.values(a.First, a.Last)
	if a.Log = low > 0 && high/low > decades; a.Log {
		a.Title += ", logarithmic scale"
		a.decades(low, high)
		return a
	}
	a.Step = even(max(high, -low, high-low) / mostSteps)
	for low < 0 && (high-min(low, 0))/a.Step > mostSteps { // zero is among the ticks
		a.Step = even(a.Step * 1.01)
	}
	from, to := math.Floor(min(low, 0)/a.Step), math.Ceil(max(high, 0)/a.Step)
	if from == to {
		to++
	}
	a.Low, a.High = from*a.Step, to*a.Step
	for i := from; i <= to; i++ {
		a.Ticks = append(a.Ticks, Tick{At: i * a.Step, Label: tickLabel(i*a.Step, a.Step)})
	}
	return a
}

// even is the least of 1, 2 and 5 times a power of ten that is not below v.
func even(v float64) float64 {
	if !(v > 1/beyond) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, n := range []float64{1, 2, 5} {
		if v <= n*power*(1+1e-9) {
			return n * power
		}
	}
	return 10 * power
}

// decades sets a logarithmic scale. It ends at 1, 2 or 5 times a power of ten
// where it is short, and has its ticks there.
func (a *Axes) decades(low, high float64) {
	from, to := math.Floor(math.Log10(low)), math.Ceil(math.Log10(high)-1e-9)
	step := max(1, math.Ceil((to-from)/mostDecades))
	a.Step = math.Pow(10, step)
	a.Low, a.High = math.Pow(10, from), math.Pow(10, from+step*math.Ceil((to-from)/step))
	for e := from; e <= from+step*math.Ceil((to-from)/step); e += step {
		at := math.Pow(10, e)
		a.Ticks = append(a.Ticks, Tick{At: at, Label: tickLabel(at, at)})
	}
}

// tickLabel is a round number with the digits that its step asks for.
func tickLabel(v, step float64) string {
	if text := Format(v, Significant(step, 1)); len(text) <= 9 && (step >= 1e-6 || v == 0) {
		return text
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// values are the least and the largest figure that is drawn.
func (c Chart) values(first, last int) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	take := func(n Number) {
		if math.IsNaN(n.Is) || math.IsInf(n.Is, 0) {
			_ = n.String() // which refuses it
		}
		v := max(-beyond, min(beyond, n.Is))
		low, high = min(low, v), max(high, v)
	}
	for _, d := range c.Dots {
		for _, p := range d.Points {
			take(p.Value)
		}
	}
	for _, s := range c.stretches(first, last) {
		take(s.Low)
		take(s.High)
		take(s.Likely)
	}
	if low > high {
		return 0, 0
	}
	return low, high
}

func (c Chart) stretches(first, last int) []Stretch {
	var all []Stretch
	for _, s := range c.Steps {
		all = append(all, s.Stretches(first, last)...)
	}
	for _, b := range c.Bands {
		all = append(all, b.Stretches(first, last)...)
	}
	return all
}

// days are the first and the last day drawn.
func (c Chart) days() (first, last int) {
	first, last = math.MaxInt, math.MinInt
	take := func(day int) { first, last = min(first, day), max(last, day) }
	for _, d := range c.Dots {
		for _, p := range d.Points {
			take(p.Day.Count())
		}
	}
	if c.First.IsZero() || c.Last.IsZero() {
		for _, b := range c.Bands {
			for _, s := range b.Spans {
				take(s.From.Count())
				take(s.last())
			}
		}
	}
	for _, end := range []Date{c.First, c.Last} {
		if !end.IsZero() {
			take(end.Count())
		}
	}
	if first > last {
		first, last = c.levels()
	}
	if short := leastDays - 1 - (last - first); short > 0 {
		first = max(firstDay, min(first-short/2, lastDay-leastDays+1))
		last = first + leastDays - 1
	}
	return first, last
}

// levels are the days on which limits change, for a chart of nothing else.
func (c Chart) levels() (first, last int) {
	first, last = math.MaxInt, math.MinInt
	for _, s := range c.Steps {
		for _, l := range s.Levels {
			for _, end := range []Date{l.From, l.To} {
				if !end.IsZero() {
					first, last = min(first, end.Count()), max(last, end.Count())
				}
			}
		}
	}
	if first > last {
		return 0, 0
	}
	return first, last
}

// dayTicks are months, or years where the time is long, or days where it is
// short.
func dayTicks(first, last int) []Tick {
	from := DayOf(first)
	if last-first < 62 {
		return shortTicks(first, last)
	}
	var ticks []Tick
	for _, months := range []int{1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200, 6000, 12000, 60000} {
		if (last-first)*12/365/months >= mostDays {
			continue
		}
		month := (from.Year*12 + from.Month - 1) / months * months
		year := math.MinInt
		for ; ; month += months {
			at := Date{Year: month / 12, Month: month%12 + 1, Day: 1}
			if at.Count() > last || at.Year > 9999 {
				return ticks
			}
			if at.Count() < first {
				continue
			}
			tick := Tick{At: float64(at.Count()), Label: time.Month(at.Month).String()[:3]}
			switch {
			case months >= 12:
				tick.Label = strconv.Itoa(at.Year)
			case at.Year != year:
				tick.Label += "\n" + strconv.Itoa(at.Year)
			}
			year = at.Year
			ticks = append(ticks, tick)
		}
	}
	return ticks
}

func shortTicks(first, last int) []Tick {
	var ticks []Tick
	step := 1
	for _, days := range []int{1, 2, 7, 14} {
		if step = days; (last-first)/days < mostDays-3 {
			break
		}
	}
	year := math.MinInt
	for at := first; at <= last; at += step {
		day := DayOf(at)
		tick := Tick{At: float64(at), Label: strconv.Itoa(day.Day) + " " + time.Month(day.Month).String()[:3]}
		if day.Year != year {
			tick.Label += "\n" + strconv.Itoa(day.Year)
		}
		year = day.Year
		ticks = append(ticks, tick)
	}
	return ticks
}
