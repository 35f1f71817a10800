// Package dragout works out how much solution the work carries out of a bath.
//
// It covers four ways to know it: from the area of the work and a film on it
// (the film published for how the work hangs and drains, or one that was
// measured), from the speed of withdrawal, from what had to be added to a bath
// that loses an ingredient by drag-out only, and from the rise of a still rinse.
// The published films and constants stand in film.csv with their sources.
//
// Not covered: barrels, for which no figure could be found that can be cited;
// what dripping gives back over time; the bead at the lower edge of the work.
// A drag-out that was measured in the shop is worth more than any figure here.
package dragout

import (
	_ "embed"
	"errors"
	"strconv"
	"strings"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed film.csv
var filmFile string

// Published is the table of this package.
func Published() working.Table { return working.Table{Name: "film.csv", File: filmFile} }

// films are what the table holds.
type films struct {
	published   []drained // as the table has them, better drained ones first within an orientation
	coefficient working.Estimate[float64]
	stays       working.Estimate[quantity.Film]
}

// drained is the film on work that drains in one way. The table has one figure
// for it, or a range.
type drained struct {
	drainage    string
	film        working.Estimate[quantity.Film]
	least, most working.Estimate[quantity.Film]
}

var published = sync.OnceValue(func() films {
	f, err := readFilms(Published())
	if err != nil {
		panic("dragout: " + err.Error())
	}
	return f
})

func readFilms(t working.Table) (films, error) {
	rows, err := t.Rows()
	faults := []error{err}
	var f films
	for _, row := range rows {
		faults = append(faults, f.read(row))
	}
	if !f.coefficient.Known() {
		faults = append(faults, &working.Fault{Where: t.Name, What: "the coefficient of withdrawal is missing"})
	}
	if !f.stays.Known() {
		faults = append(faults, &working.Fault{Where: t.Name, What: "the film that stays is missing"})
	}
	for _, d := range f.published {
		if !d.film.Known() && (!d.least.Known() || !d.most.Known()) {
			faults = append(faults, &working.Fault{Where: t.Name, What: d.drainage + " has neither a film nor both ends of a range"})
		}
	}
	return f, errors.Join(faults...)
}

func (f *films) read(row working.Row) error {
	if row.Figure == "coefficient" {
		c, err := working.PublishedNumber(row, "cm/√(cm/s·P·cm³/g)")
		f.coefficient = c
		return err
	}
	film, err := working.PublishedQuantity[quantity.Film](row)
	switch row.Figure {
	case "film that stays":
		f.stays = film
	case "film":
		f.of(row.Of).film = film
	case "film, least":
		f.of(row.Of).least = film
	case "film, most":
		f.of(row.Of).most = film
	default:
		return &working.Fault{Where: row.Where, What: "the figure " + strconv.Quote(row.Figure) + " is not read by anything", Mend: "write film, or film, least and film, most"}
	}
	return err
}

// of is the entry of a drainage, a new one if it has none.
func (f *films) of(drainage string) *drained {
	for i := range f.published {
		if f.published[i].drainage == drainage {
			return &f.published[i]
		}
	}
	f.published = append(f.published, drained{drainage: drainage})
	return &f.published[len(f.published)-1]
}

// Drainages are the ways to hang and drain for which a film is published.
func Drainages() []string {
	var all []string
	for _, d := range published().published {
		all = append(all, d.drainage)
	}
	return all
}

const (
	asPrinted working.Caveat = "the film is a published figure for how the work hangs and drains; the table names neither bath nor drain time, and a drag-out measured in the shop takes its place"
	noBetter  working.Caveat = "the table has no work of this orientation that drains better: the low figure is the value itself, and the film may be less"
	noWorse   working.Caveat = "the table has no work of this orientation that drains worse: the high figure is the value itself, and the film may be more"
)

// Film is the published film on work that hangs and drains in one of the ways
// of Drainages. Low and high are the films of the neighbours in the table, of
// the same orientation; where it has no neighbour, that end is the value itself
// and a caveat says so.
func Film(drainage string) (working.Estimate[quantity.Film], error) {
	all := published().published
	for i, d := range all {
		if !strings.EqualFold(d.drainage, drainage) {
			continue
		}
		if !d.film.Known() {
			return d.middle(), nil
		}
		return d.between(beside(all, i, i-1), beside(all, i, i+1)), nil
	}
	return working.Absent[quantity.Film]("no film is published for " + strconv.Quote(drainage)), &working.Fault{
		Where: "drainage", What: strconv.Quote(drainage) + " has no published film",
		Mend: "measure the drag-out, or give one of: " + strings.Join(Drainages(), "; "),
	}
}

// beside is the entry at j if it is of the same orientation as that at i, else
// that at i.
func beside(all []drained, i, j int) drained {
	if j < 0 || j >= len(all) || orientation(all[j].drainage) != orientation(all[i].drainage) {
		return all[i]
	}
	return all[j]
}

func orientation(drainage string) string {
	before, _, _ := strings.Cut(drainage, ",")
	return before
}

// between is d with the films of its neighbours as bounds.
func (d drained) between(better, worse drained) working.Estimate[quantity.Film] {
	text := d.film.Text() + " (low " + better.film.Text() + ", high " + worse.film.Text() + ")"
	film := d.film.Between(better.film.Is(), worse.film.Is(), text).WithCaveats(asPrinted)
	if better.drainage == d.drainage {
		film = film.WithCaveats(noBetter)
	}
	if worse.drainage == d.drainage {
		film = film.WithCaveats(noWorse)
	}
	return film
}

// middle is d, for which a range is printed, with the middle as its likely film.
func (d drained) middle() working.Estimate[quantity.Film] {
	low, high := d.least.Is(), d.most.Is()
	likely := (low + high) / 2
	text := quantity.Print(likely, "gal/1000 ft²", 2) + " (low " + d.least.Text() + ", high " + d.most.Text() + ")"
	film := working.Given(source.Value[quantity.Film]{Is: likely, Origin: source.Published, Ref: d.least.Ref()}, text)
	return film.Between(low, high, text).WithCaveats(asPrinted, working.Caveat("for work that is "+d.drainage+" the table prints "+d.least.Text()+" to "+d.most.Text()+" or more: there is no upper bound, and the likely figure is the middle of the two, taken by us"))
}
