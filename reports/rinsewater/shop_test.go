package rinsewater_test

import (
	"fmt"
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
	"bathwarden/reports/rinsewater"
)

// brook is a small shop with one line: nickel behind an activator, with a rinse,
// a still rinse and a counterflow, and a treatment that takes out part of it.
const brook = `
shop - | name=Brook Lane Plating (invented) | first day=2026-01-01 | hours per day=8 h | days per year=240 | regime=us | currency=USD | time zone=America/Chicago | construction start=1979-05-01 | job shop=yes
answer - | question=process water over 38000 L a day | answer=no
tank - | tank=A | title=Activator | purpose=activate | working volume=200 L | line=L | position=1 | drains to=haul
tank - | tank=RA | purpose=rinse | working volume=200 L | line=L | position=2 | drains to=T
tank - | tank=N | title=Bright nickel | purpose=plate | plates=Ni | valence=2 | cathode efficiency=95 % | working volume=1000 L | temperature=60 °C | heated hours=10 h | length=2 m | width=0.8 m | agitation=air | line=L | position=3 | drains to=haul
tank - | tank=S | purpose=rinse | working volume=200 L | line=L | position=4 | drains to=T
tank - | tank=R1 | purpose=rinse | working volume=200 L | line=L | position=5 | drains to=T
tank - | tank=R2 | purpose=rinse | working volume=200 L | line=L | position=6 | drains to=R1
tank - | tank=H | purpose=hold | working volume=1000 L | line=W | position=2 | drains to=haul
tank - | tank=T | purpose=treat | working volume=500 L | line=W | position=1 | drains to=out
point - | point=out | title=The outfall | body=sewer
bath - | tank=A | ingredient=Cu | concentration=2 g/L
bath - | tank=N | ingredient=Ni | concentration=80 g/L
rinse - | tank=RA | arrangement=running | fed from=mains | flow=5 L/min | wanted=500 | mixing=80 %
rinse - | tank=S | arrangement=still | wanted=8 g/L Ni
rinse - | tank=R1 | arrangement=running | fed from=R2 | wanted=37 mg/L Ni
rinse - | tank=R2 | arrangement=running | fed from=mains | flow=4 L/min
removal - | tank=T | pollutant=Ni | removal=90 %
removal - | tank=T | pollutant=Cu | removal=50 %
cycle - | cycle=C | step=1 | tank=A
cycle - | cycle=C | step=2 | tank=RA
cycle - | cycle=C | step=3 | tank=N
cycle - | cycle=C | step=4 | tank=S
cycle - | cycle=C | step=5 | tank=R1
cycle - | cycle=C | step=6 | tank=R2
limit - | point=out | pollutant=Ni | rule=daily maximum | basis=concentration | document=permit | value=3.0 mg/L
limit 2026-03-01 | point=out | pollutant=Ni | rule=daily maximum | basis=concentration | document=permit | value=2.5 mg/L
limit - | point=out | pollutant=Ni | rule=daily maximum | basis=mass per day | document=permit | value=20 g/day
limit - | point=out | pollutant=Zn | rule=monthly average | basis=concentration | document=permit | value=1.4 mg/L
limit - | point=out | pollutant=pH | rule=minimum | basis=none | document=permit | value=6.0
monitoring 2026-01-01 | point=out | pollutant=Ni | sample type=composite | every=month | document=permit
other-water - | name=cooling | point=out | kind=dilute | flow=1 L/min | hours=8 h
meter - | meter=main | serves=shop | unit=1 L
price - | item=water | amount=1.60 USD/m³
price - | item=sewer | amount=2.40 USD/m³
price - | item=haul | amount=0.60 USD/L
price - | item=Ni | amount=28 USD/kg
stream - | stream=sludge | title=Filter cake | codes=F006
water 2026-02-01 | meter=main | reading=0
work 2026-02-02 | cycle=C | area=20 m² | loads=40 | drainage=vertical, poorly drained
sample 2026-02-02 | sample=S1 | time=15:00 | point=out | pollutant=Ni | result=1.20 mg/L | reporting limit=0.02 mg/L | type=composite | sampler=A. Example | method=EPA 200.7 | laboratory=Lab (invented) | analysed=2026-02-06 | received=2026-02-09 10:00 | flow=4320 L/day
sample 2026-02-02 | sample=S1 | time=15:00 | point=out | pollutant=Zn | result=<0.05 mg/L | reporting limit=0.05 mg/L | type=composite | analysed=2026-02-06 | received=2026-02-09 10:00
sample 2026-02-02 | sample=S2 | time=15:05 | point=out | pollutant=pH | result=8.7 | type=grab
work 2026-02-03 | cycle=C | area=30 m² | loads=60 | drainage=vertical, poorly drained
dump 2026-02-03 | tank=S | volume=200 L | to=T
water 2026-02-27 | meter=main | reading=9000
work 2026-03-03 | cycle=C | area=25 m² | loads=50 | drainage=vertical, poorly drained
sample 2026-03-03 | sample=S3 | time=15:00 | point=out | pollutant=Ni | result=2.70 mg/L | reporting limit=0.02 mg/L | type=composite | received=2026-03-10 14:30
level 2026-03-20 | tank=H | volume=400 L
waste 2026-03-25 | stream=sludge | event=shipped | amount=200 kg | container=drum 1 | manifest=000000001XXX (invented) | receiver=Hauler (invented)
`

// shopOf is a shop of the records of shoptest.
func shopOf(t testing.TB, asOf chemicals.Day, rows string) *chemicals.Shop {
	t.Helper()
	records := shoptest.Records(t, asOf, rows)
	shop, err := chemicals.NewShop(asOf, chemicals.YearTo(asOf), chemicals.LastEntry{Entry: int64(len(records)), Hash: strings.Repeat("0a", 32)}, records)
	require.NoError(t, err)
	return shop
}

// findingsOf walks a shop as the command does.
func findingsOf(t testing.TB, shop *chemicals.Shop, units quantity.System) rinsewater.Findings {
	t.Helper()
	tables, err := reference.Tables()
	require.NoError(t, err)
	water := exposure.WaterOf(shop, tables)
	found := rinsewater.Findings{
		Water: water, Results: exposure.ResultsOf(shop, tables, water.ProcessFlow(), 0), Balances: water.Balances(exposure.Holdings(shop, tables)),
		Meters: water.Meters(), Evaporations: water.Evaporations(), Treatments: water.Treatments(),
	}
	found.Combined = water.CombinedLimits(found.Results.Limits)
	found.Plan = water.PlanOf(units, exposure.Tanks(shop, tables), exposure.CeilingsOf(found.Results.Limits, water.Metals))
	found.Gaps = append(water.AllGaps(), found.Results.Gaps...)
	return found
}

func build(t testing.TB, shop *chemicals.Shop, units quantity.System) *doc.Document {
	t.Helper()
	return rinsewater.Build(shop, findingsOf(t, shop, units), letterhead.Setting{Program: "bathwarden test", Tables: strings.Repeat("0b", 32), Units: units})
}

// table finds a table of a paper by its name.
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

// cell is the cell of a column in the row whose first cells read as given.
func cell(t testing.TB, in doc.Table, column string, first ...string) doc.Cell {
	t.Helper()
	for _, row := range in.Rows {
		match := true
		for i, want := range first {
			match = match && row[i].String() == want
		}
		if !match {
			continue
		}
		for i, c := range in.Columns {
			if c.Name == column {
				return row[i]
			}
		}
	}
	require.Fail(t, fmt.Sprintf("table %s has no row %q with a column %q", in.Name, first, column))
	return nil
}
