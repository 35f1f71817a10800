package discharge

import (
	_ "embed"
	"errors"
	"math/big"
	"strings"
	"sync"

	"bathwarden/chemicals/working"
)

//go:embed noncompliance.csv
var noncomplianceFile string

// Published is the table of this package.
func Published() working.Table {
	return working.Table{Name: "noncompliance.csv", File: noncomplianceFile}
}

// criteria are the figures of 40 CFR 403.8(f)(2)(viii)(A) and (B).
type criteria struct {
	chronic, technical working.Estimate[float64] // least shares, in percent
	factor             working.Estimate[float64] // of every pollutant that has none of its own
	factors            map[string]working.Estimate[float64]
}

var published = sync.OnceValue(func() criteria {
	c, err := readCriteria(Published())
	if err != nil {
		panic("discharge: " + err.Error())
	}
	return c
})

func readCriteria(t working.Table) (criteria, error) {
	rows, err := t.Rows()
	faults := []error{err}
	c := criteria{factors: map[string]working.Estimate[float64]{}}
	for _, row := range rows {
		switch row.Figure {
		case "chronic share":
			c.chronic, err = working.PublishedNumber(row, "%")
		case "technical review share":
			c.technical, err = working.PublishedNumber(row, "%")
		case "technical review factor":
			var factor working.Estimate[float64]
			factor, err = working.PublishedNumber(row, "times the limit")
			if row.Of == "" {
				c.factor = factor
			}
			for name := range strings.SplitSeq(row.Of, ";") {
				c.factors[plainName(name)] = factor
			}
		default:
			err = &working.Fault{Where: row.Where, What: "the figure " + row.Figure + " is not read by anything", Mend: "write chronic share, technical review share or technical review factor"}
		}
		faults = append(faults, err)
	}
	if !c.chronic.Known() || !c.technical.Known() || !c.factor.Known() {
		faults = append(faults, &working.Fault{Where: t.Name, What: "a share or the factor is missing"})
	}
	return c, errors.Join(faults...)
}

func plainName(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// factorFor is the technical review factor of a pollutant; pH has none.
func (c criteria) factorFor(pollutant string) working.Estimate[float64] {
	name := plainName(pollutant)
	if name == "ph" {
		return working.Absent[float64]("40 CFR 403.8(f)(2)(viii)(B) has no factor for pH")
	}
	if own, ok := c.factors[name]; ok && name != "" {
		return own
	}
	return c.factor
}

// exactly is a figure of the table as the decimal that it was written as.
func exactly(e working.Estimate[float64]) *big.Rat {
	number, _, _ := strings.Cut(e.Text(), " ")
	exact, ok := new(big.Rat).SetString(number)
	if !ok {
		panic("discharge: " + e.Text() + " in the table is no decimal")
	}
	return exact
}
