package doc

import (
	"cmp"
	"slices"
	"sort"
	"strconv"
)

// Figures is all that the chart draws, as a table: a row for each day with a
// point, for the first and last day of each level and span, and for the first
// without one, so that lines through its cells are the steps and the band. What
// was not found stands in a column of its own.
func (c Chart) Figures() Table {
	s := c.spread()
	t := Table{Name: c.Name, Caption: c.caption(), Empty: c.Empty, Columns: []Column{{Name: "day", Head: "Day"}}}
	add := func(part string, i int, head string) {
		t.Columns = append(t.Columns, Column{Name: part + strconv.Itoa(i+1), Head: head, Unit: c.Unit, Numeric: true})
	}
	for i, d := range c.Dots {
		add("dots", i, d.Name)
		if d.AnyBelow() {
			add("below", i, d.Name+", not found: reported from")
		}
	}
	for i, d := range c.Steps {
		add("steps", i, d.Name)
	}
	for i, b := range c.Bands {
		for _, part := range []string{"low", "likely", "high"} {
			add(part, i, b.Name+", "+part)
		}
	}
	for _, day := range s.turns() {
		for n := range max(1, s.most(day)) {
			t.Rows = append(t.Rows, s.row(day, n))
		}
	}
	return t
}

// Summary is what the terminal prints of a chart: the days with a point and
// those on which a limit changes; of an estimate alone, the days on which it
// does, and not more than one in a month where there are many.
func (c Chart) Summary() Table {
	s := c.spread()
	t := Table{Name: c.Name, Caption: c.caption(), Empty: c.Empty, Columns: []Column{{Name: "day", Head: "Day"}}}
	add := func(part string, i int, head string) {
		t.Columns = append(t.Columns, Column{Name: part + strconv.Itoa(i+1), Head: head, Unit: c.Unit, Numeric: true})
	}
	for i, d := range c.Dots {
		add("dots", i, d.Name)
	}
	for i, b := range c.Bands {
		add("likely", i, b.Name+", likely (low to high)")
	}
	for i, d := range c.Steps {
		add("steps", i, d.Name)
	}
	for _, day := range s.telling() {
		for n := range max(1, s.most(day)) {
			t.Rows = append(t.Rows, s.brief(day, n))
		}
	}
	return t
}

// caption is the title, and what is measured.
func (c Chart) caption() string {
	if c.Axis == "" || c.Axis == c.Title {
		return c.Title
	}
	return c.Title + " (" + c.Axis + ")"
}

// AnyBelow says that one of the points was not found.
func (d Dots) AnyBelow() bool {
	return slices.ContainsFunc(d.Points, func(p Point) bool { return p.Value.Below })
}

// spread is a chart's figures by their days.
type spread struct {
	chart  Chart
	points []map[int][]Number // for each of the dots
	steps  [][]Stretch
	bands  [][]Stretch
}

func (c Chart) spread() spread {
	s := spread{chart: c}
	first, last := c.days()
	for _, d := range c.Dots {
		days := map[int][]Number{}
		for _, p := range d.Points {
			days[p.Day.Count()] = append(days[p.Day.Count()], p.Value)
		}
		s.points = append(s.points, days)
	}
	for _, d := range c.Steps {
		s.steps = append(s.steps, ordered(d.Stretches(first, last)))
	}
	for _, b := range c.Bands {
		s.bands = append(s.bands, ordered(b.Stretches(first, last)))
	}
	return s
}

func ordered(all []Stretch) []Stretch {
	slices.SortStableFunc(all, func(a, b Stretch) int { return cmp.Compare(a.First, b.First) })
	return all
}

// most is how many points the dots with most have on a day.
func (s spread) most(day int) int {
	n := 0
	for _, days := range s.points {
		n = max(n, len(days[day]))
	}
	return n
}

// turns are the days on which a line through the figures begins, bends or ends.
func (s spread) turns() []int {
	days := map[int]bool{}
	for _, points := range s.points {
		for day := range points {
			days[day] = true
		}
	}
	_, last := s.chart.days()
	for _, all := range slices.Concat(s.steps, s.bands) {
		for _, one := range all {
			days[one.First], days[one.Last] = true, true
			if _, goesOn := at(all, one.Last+1); !goesOn && one.Last < last {
				days[one.Last+1] = true // a blank, where a line is to break off
			}
		}
	}
	return inOrder(days)
}

func inOrder(days map[int]bool) []int {
	var all []int
	for day := range days {
		all = append(all, day)
	}
	slices.Sort(all)
	return all
}

// mostSpans is how many spans the summary of an estimate alone tells one by one.
const mostSpans = 31

// telling are the days of the summary.
func (s spread) telling() []int {
	days := map[int]bool{}
	for _, points := range s.points {
		for day := range points {
			days[day] = true
		}
	}
	if len(days) == 0 {
		for _, all := range s.bands {
			months := map[[2]int]bool{}
			for _, one := range all {
				d := DayOf(one.First)
				if month := [2]int{d.Year, d.Month}; len(all) <= mostSpans || !months[month] {
					days[one.First], months[month] = true, true
				}
			}
		}
	}
	for _, all := range s.steps {
		for i, one := range all {
			if i > 0 {
				days[one.First] = true
			}
		}
	}
	return inOrder(days)
}

// at is the stretch that a day lies in.
func at(all []Stretch, day int) (Stretch, bool) {
	i := sort.Search(len(all), func(i int) bool { return all[i].First > day }) - 1
	if i < 0 || all[i].Last < day {
		return Stretch{}, false
	}
	return all[i], true
}

// row is the n-th row of a day.
func (s spread) row(day, n int) []Cell {
	row := []Cell{DayOf(day)}
	for i, points := range s.points {
		found, below := Cell(Blank{}), Cell(Blank{})
		if all := points[day]; n < len(all) {
			if all[n].Below {
				below = all[n].bare()
			} else {
				found = all[n].bare()
			}
		}
		if row = append(row, found); s.chart.Dots[i].AnyBelow() {
			row = append(row, below)
		}
	}
	for i, all := range s.steps {
		row = append(row, level(all, day, s.chart.Steps[i].Cites))
	}
	for _, all := range s.bands {
		if one, ok := at(all, day); ok {
			row = append(row, one.Low.bare(), one.Likely.bare(), one.High.bare())
		} else {
			row = append(row, Blank{}, Blank{}, Blank{})
		}
	}
	return row
}

// brief is the n-th row of a day in the summary.
func (s spread) brief(day, n int) []Cell {
	row := []Cell{DayOf(day)}
	for _, points := range s.points {
		if all := points[day]; n < len(all) {
			row = append(row, all[n].bare())
		} else {
			row = append(row, Blank{})
		}
	}
	for _, all := range s.bands {
		if one, ok := at(all, day); ok {
			row = append(row, Text{Is: one.Likely.bare().String() + " (" + one.Low.bare().String() + " to " + one.High.bare().String() + ")"})
		} else {
			row = append(row, Blank{})
		}
	}
	for i, all := range s.steps {
		row = append(row, level(all, day, s.chart.Steps[i].Cites))
	}
	return row
}

// level is a limit's height on a day, with the limit's sources.
func level(all []Stretch, day int, cites []int) Cell {
	if one, ok := at(all, day); ok {
		n := one.Likely.bare()
		n.Cites = slices.Concat(n.Cites, cites)
		return n
	}
	return Blank{}
}

// bare is the figure without the unit, which its column names.
func (n Number) bare() Number {
	n.Unit = ""
	return n
}
