package chemicals

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
)

// Level is a value that a limit sets: a concentration, a mass in a time or for
// an area, a temperature, or a bare number for pH.
type Level struct {
	text        string
	release     quantity.Stated[quantity.Release]
	temperature quantity.Stated[quantity.Temperature]
	bare        Figure
}

// UnmarshalText reads a level; a bare number is a pH.
func (l *Level) UnmarshalText(text []byte) error {
	tidy := strings.Join(strings.Fields(string(text)), " ")
	read := Level{text: tidy}
	if tidy == "" {
		*l = read
		return nil
	}
	if v, err := strconv.ParseFloat(tidy, 64); err == nil && !math.IsNaN(v) {
		var ph PH
		if err := ph.UnmarshalText([]byte(tidy)); err != nil {
			return &Problem{What: strconv.Quote(tidy) + " has no unit, and is not a pH", Mend: `write the unit: "0.31 mg/L"; only a pH stands bare`}
		}
		read.bare = ph.Figure
		*l = read
		return nil
	}
	if read.temperature.UnmarshalText([]byte(tidy)) == nil {
		read.text = read.temperature.String()
		*l = read
		return nil
	}
	if err := read.release.UnmarshalText([]byte(tidy)); err != nil {
		return err
	}
	read.text = read.release.String()
	*l = read
	return nil
}

func (l Level) String() string { return l.text }
func (l Level) Known() bool    { return l.text != "" }
func (Level) Example() string  { return "0.31 mg/L" }

// Meaning is the same text for every way to write the same level.
func (l Level) Meaning() string {
	return l.release.Meaning() + l.temperature.Meaning() + l.bare.Meaning()
}

// Release is l if it is a concentration or a mass.
func (l Level) Release() (quantity.Release, bool) { return l.release.Is(), l.release.Known() }

// Temperature is l if it is one.
func (l Level) Temperature() (quantity.Temperature, bool) {
	return l.temperature.Is(), l.temperature.Known()
}

// PH is l if it is a bare number.
func (l Level) PH() (float64, bool) { return l.bare.Is(), l.bare.Known() }

// phName is the pollutant that has no unit.
const phName Name = "pH"

// fits refuses a bare number as the level of anything but a pH, and a unit for
// that.
func (l Level) fits(column string, pollutant Name) error {
	_, bare := l.PH()
	switch is := pollutant.Meaning() == phName.Meaning(); {
	case !l.Known() || is == bare:
		return nil
	case is:
		return &Problem{Where: column, What: strconv.Quote(l.String()) + " is no pH", Mend: `write a pH as a bare number: "7.4"`}
	}
	return &Problem{Where: column, What: fmt.Sprintf("%q has no unit, and only a pH stands without one; the pollutant is %s", l, pollutant), Mend: fmt.Sprintf("write the unit: %q", l.String()+" mg/L")}
}

// Finding is what a laboratory reports: a level, "<0.05 mg/L" for less than
// can be reported, or "ND" for not detected.
type Finding struct {
	Less bool // than Level, or not detected at all
	Level
}

const notDetected = "ND"

// UnmarshalText reads a finding.
func (f *Finding) UnmarshalText(text []byte) error {
	tidy := strings.Join(strings.Fields(string(text)), " ")
	if strings.EqualFold(tidy, notDetected) || strings.EqualFold(tidy, "n.d.") {
		*f = Finding{Less: true, Level: Level{text: notDetected}}
		return nil
	}
	if strings.HasPrefix(tidy, ">") {
		return &Problem{What: strconv.Quote(tidy) + " only says that there is more", Mend: "record the value that the laboratory found after dilution, or the upper end of its range"}
	}
	rest, less := strings.CutPrefix(tidy, "<")
	read := Finding{Less: less}
	if err := read.Level.UnmarshalText([]byte(rest)); err != nil {
		return err
	}
	switch {
	case less && !read.Level.Known():
		return &Problem{What: `"<" says less than nothing`, Mend: `write the reporting limit behind it: "<0.05 mg/L"`}
	case less && !read.release.Known():
		return &Problem{What: strconv.Quote(tidy) + " is not a concentration", Mend: `write a pH or a temperature as measured, without "<"`}
	case less:
		read.text = "<" + read.text
	}
	*f = read
	return nil
}

// Meaning is the same text for every way to write the same finding.
func (f Finding) Meaning() string {
	if f.text == notDetected {
		return notDetected
	}
	if f.Less {
		return "<" + f.Level.Meaning()
	}
	return f.Level.Meaning()
}

// Wanted is what a rinse is to reach: a ratio by which it dilutes what clings
// to the work, or a concentration of a metal in the last stage.
type Wanted struct {
	text          string
	ratio         Figure
	Metal         Name // with a concentration
	concentration quantity.Stated[quantity.BathConcentration]
}

// UnmarshalText reads "1000" as a ratio, "37 mg/L Ni" as a concentration.
func (w *Wanted) UnmarshalText(text []byte) error {
	tidy := strings.Join(strings.Fields(string(text)), " ")
	read := Wanted{text: tidy}
	cut := strings.LastIndex(tidy, " ")
	if cut < 0 {
		var err error
		const most = 1e9
		if read.ratio, err = figure(tidy, "", read.Example(), 1, most); err != nil {
			return &Problem{What: strconv.Quote(tidy) + " is neither a ratio nor a concentration of a metal", Mend: `write a ratio over 1, such as "1000", or "37 mg/L Ni"`}
		}
		*w = read
		return nil
	}
	if err := read.Metal.UnmarshalText([]byte(tidy[cut+1:])); err != nil {
		return err
	}
	if err := read.concentration.UnmarshalText([]byte(tidy[:cut])); err != nil {
		return &Problem{What: strconv.Quote(tidy) + " is neither a ratio nor a concentration of a metal", Mend: `write a ratio over 1, such as "1000", or "37 mg/L Ni"`}
	}
	if v, ok := read.concentration.Is().GramsPerLitre(); !ok || v <= 0 {
		return &Problem{What: strconv.Quote(tidy) + " is not a mass of a metal per volume", Mend: `write it as "37 mg/L Ni" or "0.005 oz/gal Ni"`}
	}
	read.text = read.concentration.String() + " " + read.Metal.String()
	*w = read
	return nil
}

func (w Wanted) String() string { return w.text }
func (w Wanted) Known() bool    { return w.text != "" }
func (Wanted) Example() string  { return "1000" }

// Meaning is the same text for every way to write the same wish.
func (w Wanted) Meaning() string {
	return w.ratio.Meaning() + w.concentration.Meaning() + w.Metal.Meaning()
}

// Ratio is w if it is a ratio.
func (w Wanted) Ratio() (float64, bool) { return w.ratio.Is(), w.ratio.Known() }

// MilligramsPerLitre is w if it is a concentration of its Metal.
func (w Wanted) MilligramsPerLitre() (float64, bool) {
	v, _ := w.concentration.Is().GramsPerLitre()
	return v * 1000, w.concentration.Known()
}

// Number is a bare number from zero up, such as the running total that a meter
// shows.
type Number struct{ Figure }

// UnmarshalText reads a bare number.
func (n *Number) UnmarshalText(text []byte) (err error) {
	const most = 1e12
	n.Figure, err = figure(string(text), "", n.Example(), 0, most)
	return err
}

// Example is a text that would be read.
func (Number) Example() string { return "184250" }
