package sewer_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/shoptest"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/sewer"
)

// line is an invented line: a nickel bath, a counterflow of two behind it, a
// treatment, a point with limits of a permit and of the federal rules.
const line = `
shop - | name=Fernhollow Finishing | first day=2025-01-01 | hours per day=8 h | days per year=250 | regime=us | currency=USD | construction start=1995-03-01 | job shop=yes
tank - | tank=N | purpose=plate | plates=Ni | working volume=1000 L | line=L | position=1 | drains to=haul
tank - | tank=R1 | purpose=rinse | working volume=200 L | line=L | position=2 | drains to=T
tank - | tank=R2 | purpose=rinse | working volume=200 L | line=L | position=3 | drains to=R1
tank - | tank=T | purpose=treat | working volume=500 L | line=W | position=1 | drains to=out
point - | point=out | title=to the sewer | body=sewer
bath - | tank=N | ingredient=Ni | concentration=80 g/L
rinse - | tank=R1 | arrangement=running | fed from=R2
rinse - | tank=R2 | arrangement=running | fed from=mains | flow=4 L/min
removal - | tank=T | pollutant=Ni | removal=99 %
cycle - | cycle=NC | step=1 | tank=N
cycle - | cycle=NC | step=2 | tank=R1
cycle - | cycle=NC | step=3 | tank=R2
film - | tank=N | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed
other-water - | name=boiler | point=out | kind=dilute | flow=1 L/min | hours=8 h
limit - | point=out | pollutant=Ni | rule=daily maximum | basis=concentration | document=permit | value=2.00 mg/L
limit - | point=out | pollutant=Ni | rule=daily maximum | basis=mass per day | document=permit | value=12 g/day
limit - | point=out | pollutant=pH | rule=minimum | basis=none | document=permit | value=5.5
monitoring 2026-01-01 | point=out | pollutant=Ni | every=month | sample type=composite
work 2026-02-02 | cycle=NC | area=20 m² | loads=40 | drainage=vertical, well drained
work 2026-02-03 | cycle=NC | area=30 m² | loads=60 | drainage=vertical, well drained
work 2026-03-04 | cycle=NC | area=25 m² | loads=50 | drainage=vertical, well drained
`

// over is a result over the limit of the permit, and one in which less was found.
const over = `
sample 2026-02-03 | sample=S1 | point=out | pollutant=Ni | result=2.51 mg/L | type=composite | received=2026-02-09 10:00
sample 2026-02-03 | sample=P1 | point=out | pollutant=pH | result=7.5 | type=grab
sample 2026-03-04 | sample=S2 | point=out | pollutant=Ni | result=1.20 mg/L | type=composite | received=2026-03-10 10:00
`

// shopOf is a shop of the records of shoptest.
func shopOf(t testing.TB, rows string) *chemicals.Shop {
	t.Helper()
	const asOf = "2026-03-31"
	records := shoptest.Records(t, asOf, rows)
	shop, err := chemicals.NewShop(asOf, chemicals.YearTo(asOf), chemicals.LastEntry{Entry: int64(len(records)), Hash: strings.Repeat("0a", 32)}, records)
	require.NoError(t, err)
	return shop
}

func findings(t testing.TB, shop *chemicals.Shop) sewer.Findings {
	t.Helper()
	set, err := reference.Tables()
	require.NoError(t, err)
	w := exposure.WaterOf(shop, set)
	results := exposure.ResultsOf(shop, set, w.ProcessFlow(), 0)
	plan := w.PlanOf(quantity.Metric, exposure.Tanks(shop, set), exposure.CeilingsOf(results.Limits, w.Metals))
	return sewer.Findings{Water: w, Results: results, Combined: w.CombinedLimits(results.Limits), Treatments: w.Treatments(), Holds: plan.Holds}
}

// paper has every section of the package.
func paper(shop *chemicals.Shop, found sewer.Findings, units quantity.System) *doc.Document {
	set := letterhead.Setting{Program: "bathwarden test", Tables: strings.Repeat("0b", 32), Units: units}
	d := letterhead.New("sewer", "Waste water", "What is asked at the sewer.", shop, set)
	s := sewer.On(d, shop, found, set)
	s.Page()
	s.Rules()
	s.Monitoring()
	s.Waters(2)
	s.Treatment(2)
	s.Holds(2)
	s.Shipments(2)
	s.Certificate()
	return d
}

func build(t testing.TB, rows string, units quantity.System) (*doc.Document, sewer.Findings) {
	t.Helper()
	shop := shopOf(t, rows)
	found := findings(t, shop)
	return paper(shop, found, units), found
}

func table(t testing.TB, d *doc.Document, name string) doc.Table {
	t.Helper()
	for _, block := range d.Content {
		if table, ok := block.(doc.Table); ok && table.Name == name {
			return table
		}
	}
	require.Fail(t, "no table "+name)
	return doc.Table{}
}

// at is the column of a name.
func at(t testing.TB, in doc.Table, column string) int {
	t.Helper()
	for i, c := range in.Columns {
		if c.Name == column {
			return i
		}
	}
	require.Fail(t, "no column "+column+" in "+in.Name)
	return -1
}
