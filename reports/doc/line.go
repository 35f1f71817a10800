package doc

import "strconv"

// Line is a row of stations in the order of the work, with what flows between
// them. A page draws it; the workbook and the terminal print its table
// (Figures).
type Line struct {
	Name     string // as a table's: lower-case words joined by _, unique among the tables of the document
	Title    string
	Stations []Station // numbered from 1
	Empty    string    // what to print in place of a line without stations
}

// Station is where the work stops. One tank that the work goes into twice is
// two stations.
type Station struct {
	Name     string // "R6"
	Words    string // what it is: "bright nickel, 300 gal"
	Purpose  string // what it does to the work: "plate", "rinse"
	Rinse    bool   // it takes off what the work carries, rather than puts on
	Emphasis Emphasis
	Feeds    []Feed
	CarryOn  Cell   // what the work carries from here to the next station; nil at the last
	DrainsTo string // "pit W1"; empty where nothing is drained from here
	Drain    Cell   // how much; nil where it is not said
}

// Feed is water that comes into a station.
type Feed struct {
	From   int    // number of the station that it comes from; 0 where it is from Source
	Source string // "mains", "deionised water"
	Flow   Cell   // with its unit; a Blank where it is not known
}

func (Line) block() {}

// Origin is where the feed comes from, in words: "mains"; "7 R7".
func (l Line) Origin(f Feed) string {
	if f.From >= 1 && f.From <= len(l.Stations) {
		return l.Label(f.From)
	}
	return f.Source
}

// Label is a station's number and name.
func (l Line) Label(number int) string {
	return strconv.Itoa(number) + " " + l.Stations[number-1].Name
}

// Figures is the line as a table: a row for each station, and one more for
// each further feed of it.
func (l Line) Figures() Table {
	t := Table{Name: l.Name, Caption: l.Title, Empty: l.Empty, Columns: []Column{
		{Name: "number", Head: "No.", Numeric: true},
		{Name: "station", Head: "Station"},
		{Name: "words", Head: "What it is"},
		{Name: "purpose", Head: "Purpose"},
		{Name: "carried", Head: "Carried in by the work", Numeric: true},
		{Name: "feed", Head: "Fed from"},
		{Name: "flow", Head: "Flow", Numeric: true},
		{Name: "drain", Head: "Drains to"},
		{Name: "drained", Head: "Drained", Numeric: true},
	}}
	for i, s := range l.Stations {
		carried := Cell(Blank{})
		if i > 0 {
			carried = orBlank(l.Stations[i-1].CarryOn)
		}
		row := []Cell{
			Number{Is: float64(i + 1)}, Text{Is: s.Name, Emphasis: s.Emphasis}, Text{Is: s.Words}, Text{Is: s.Purpose},
			carried, Blank{}, Blank{}, Text{Is: s.DrainsTo}, orBlank(s.Drain),
		}
		for n, f := range s.Feeds {
			if n > 0 {
				row = []Cell{Number{Is: float64(i + 1)}, Text{Is: s.Name}, Blank{}, Blank{}, Blank{}, nil, nil, Blank{}, Blank{}}
			}
			row[5], row[6] = Text{Is: l.Origin(f)}, orBlank(f.Flow)
			if n < len(s.Feeds)-1 {
				t.Rows = append(t.Rows, row)
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func orBlank(c Cell) Cell {
	if c == nil {
		return Blank{}
	}
	return c
}
