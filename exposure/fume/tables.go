package fume

import (
	_ "embed"
	"errors"
	"strconv"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

//go:embed water_loss.csv
var waterLossFile string

// Published is the table of this package.
func Published() working.Table { return working.Table{Name: "water_loss.csv", File: waterLossFile} }

// equation is Kirman's for one kind of tank: ln E = slope × t − constant.
type equation struct{ constant, slope working.Estimate[float64] }

// point is a reading of the figure.
type point struct {
	temperature working.Estimate[quantity.Temperature]
	evaporation working.Estimate[quantity.Evaporation]
}

type waterLosses struct {
	still, agitated equation
	figure          []point // two of them, the cooler first
}

var published = sync.OnceValue(func() waterLosses {
	w, err := readWaterLosses(Published())
	if err != nil {
		panic("fume: " + err.Error())
	}
	return w
})

func readWaterLosses(t working.Table) (waterLosses, error) {
	rows, err := t.Rows()
	faults := []error{err}
	var w waterLosses
	for _, row := range rows {
		faults = append(faults, w.read(row))
	}
	for name, e := range map[string]equation{"still": w.still, "air agitated": w.agitated} {
		if !e.constant.Known() || !e.slope.Known() {
			faults = append(faults, &working.Fault{Where: t.Name, What: "the equation for " + name + " tanks is not whole"})
		}
	}
	if len(w.figure) != 2 || w.figure[0].temperature.Is() >= w.figure[1].temperature.Is() {
		faults = append(faults, &working.Fault{Where: t.Name, What: "the figure does not have two points, the cooler first"})
	}
	return w, errors.Join(faults...)
}

func (w *waterLosses) read(row working.Row) error {
	if row.Figure == "evaporation" {
		temperature, unread := working.PublishedQuantity[quantity.Temperature](working.Row{Figure: row.Figure, Value: row.Of, Ref: row.Ref, Where: row.Where})
		evaporation, err := working.PublishedQuantity[quantity.Evaporation](row)
		if unread == nil && err == nil {
			w.figure = append(w.figure, point{temperature, evaporation})
		}
		return errors.Join(unread, err)
	}
	e := &w.still
	switch row.Of {
	case "still":
	case "air agitated":
		e = &w.agitated
	default:
		return &working.Fault{Where: row.Where, What: "no tank is " + strconv.Quote(row.Of), Mend: "write still or air agitated"}
	}
	var err error
	switch row.Figure {
	case "constant":
		e.constant, err = working.PublishedNumber(row, "ln(gal/h·ft²)")
	case "slope":
		e.slope, err = working.PublishedNumber(row, "per °F")
	default:
		return &working.Fault{Where: row.Where, What: "the figure " + strconv.Quote(row.Figure) + " is not read by anything", Mend: "write constant, slope or evaporation"}
	}
	return err
}
