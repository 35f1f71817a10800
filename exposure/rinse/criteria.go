package rinse

import (
	_ "embed"
	"errors"
	"strconv"
	"strings"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

//go:embed criteria.csv
var criteriaFile string

// Published is the table of this package.
func Published() working.Table { return working.Table{Name: "criteria.csv", File: criteriaFile} }

// Criterion is what the trade asks of a rinse: a ratio between two ends, which
// are the same where one figure is printed, or the most that a rinse may hold,
// or water for each volume of drag-out. The others are absent. None of them is
// a limit that binds; what the next bath and the work bear decides.
type Criterion struct {
	Rinse       string // after which bath or before which step
	Least, Most working.Estimate[float64]
	Holds       working.Estimate[quantity.BathConcentration]
	Water       working.Estimate[float64]
}

type span struct{ Least, Most working.Estimate[float64] }

type tables struct {
	criteria []Criterion
	spray    span
}

var published = sync.OnceValue(func() tables {
	t, err := readCriteria(Published())
	if err != nil {
		panic("rinse: " + err.Error())
	}
	return t
})

// Criteria are those of the table, in its order.
func Criteria() []Criterion { return append([]Criterion(nil), published().criteria...) }

func readCriteria(t working.Table) (tables, error) {
	rows, err := t.Rows()
	faults := []error{err}
	var all tables
	for _, row := range rows {
		faults = append(faults, all.read(row))
	}
	if !all.spray.Least.Known() || !all.spray.Most.Known() {
		faults = append(faults, &working.Fault{Where: t.Name, What: "the effect of a spray is missing"})
	}
	for _, c := range all.criteria {
		if c.Least.Known() != c.Most.Known() {
			faults = append(faults, &working.Fault{Where: t.Name, What: c.Rinse + " has one end of a ratio only", Mend: "write both, or ratio"})
		}
	}
	return all, errors.Join(faults...)
}

func (t *tables) read(row working.Row) error {
	if row.Of == "spray" {
		return t.spray.read(row)
	}
	if row.Figure == "rinse" {
		holds, err := working.PublishedQuantity[quantity.BathConcentration](row)
		t.criteria = append(t.criteria, Criterion{Rinse: row.Of, Holds: holds})
		return err
	}
	v, err := working.PublishedNumber(row, "to 1")
	switch row.Figure {
	case "ratio":
		t.criteria = append(t.criteria, Criterion{Rinse: row.Of, Least: v, Most: v})
	case "ratio, least":
		t.criteria = append(t.criteria, Criterion{Rinse: row.Of, Least: v})
	case "ratio, most":
		return errors.Join(err, t.most(row, v))
	case "water for each volume of drag-out":
		t.criteria = append(t.criteria, Criterion{Rinse: row.Of, Water: v})
	default:
		return unread(row)
	}
	return err
}

// most ends the range that the row before began.
func (t *tables) most(row working.Row, v working.Estimate[float64]) error {
	last := len(t.criteria) - 1
	if last < 0 || t.criteria[last].Rinse != row.Of {
		return &working.Fault{Where: row.Where, What: "the most stands without the least", Mend: "write the least in the line before"}
	}
	t.criteria[last].Most = v
	return nil
}

func (s *span) read(row working.Row) error {
	v, err := working.PublishedNumber(row, "of 1")
	_, end, _ := strings.Cut(row.Figure, ", ")
	switch end {
	case "least":
		s.Least = v
	case "most":
		s.Most = v
	default:
		return unread(row)
	}
	return err
}

func unread(row working.Row) error {
	return &working.Fault{Where: row.Where, What: "the figure " + strconv.Quote(row.Figure) + " is not read by anything", Mend: "write ratio, rinse, or water for each volume of drag-out"}
}
