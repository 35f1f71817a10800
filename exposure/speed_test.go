package exposure_test

import (
	"fmt"
	"strings"
	"testing"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/exposure"
)

// bigShop is a shop of 300 tanks in lines of ten, each with two baths, a still
// rinse and counterflows, and a year of daily work through each.
func bigShop(b *testing.B, days int) *chemicals.Shop {
	b.Helper()
	var rows strings.Builder
	rows.WriteString("shop - | name=Test Shop | first day=2025-04-01 | hours per day=8 h | days per year=250 | regime=us | currency=USD\n")
	rows.WriteString("tank - | tank=T | purpose=treat | working volume=5000 L | drains to=out\npoint - | point=out | body=sewer\n")
	rows.WriteString("removal - | tank=T | pollutant=Ni | removal=90 %\nremoval - | tank=T | pollutant=Cu | removal=90 %\n")
	for line := range 30 {
		purposes := []string{"strike", "rinse", "rinse", "plate", "rinse", "rinse", "rinse", "clean", "rinse", "rinse"}
		for i, purpose := range purposes {
			drains := "T"
			if purpose != "rinse" {
				drains = "haul"
			}
			fmt.Fprintf(&rows, "tank - | tank=L%d-%d | purpose=%s | working volume=400 L | line=L%d | position=%d | drains to=%s\n", line, i, purpose, line, i, drains)
			fmt.Fprintf(&rows, "cycle - | cycle=C%d | step=%d | tank=L%d-%d\n", line, i+1, line, i)
		}
		fmt.Fprintf(&rows, "bath - | tank=L%d-0 | ingredient=Cu | concentration=40 g/L\nbath - | tank=L%d-3 | ingredient=Ni | concentration=80 g/L\n", line, line)
		fmt.Fprintf(&rows, "rinse - | tank=L%d-1 | arrangement=running | fed from=L%d-2\nrinse - | tank=L%d-2 | arrangement=running | fed from=mains | flow=4 L/min\n", line, line, line)
		fmt.Fprintf(&rows, "rinse - | tank=L%d-4 | arrangement=still\nrinse - | tank=L%d-5 | arrangement=running | fed from=L%d-6\nrinse - | tank=L%d-6 | arrangement=running | fed from=mains | flow=4 L/min\n", line, line, line, line)
		fmt.Fprintf(&rows, "rinse - | tank=L%d-8 | arrangement=running | fed from=L%d-9\nrinse - | tank=L%d-9 | arrangement=running | fed from=mains | flow=4 L/min\n", line, line, line)
	}
	first := chemicals.Day("2025-04-01")
	for day := range days {
		for line := range 30 {
			for n := range 5 {
				fmt.Fprintf(&rows, "work %s | cycle=C%d | area=%d m² | loads=20 | drainage=vertical, poorly drained\n", first.Add(day), line, 5+n+line)
			}
			if day%5 == 0 {
				fmt.Fprintf(&rows, "analysis %s | tank=L%d-3 | ingredient=Ni | concentration=%d g/L\n", first.Add(day), line, 70+day%15)
			}
		}
	}
	return shopOf(b, "2026-03-31", rows.String())
}

// BenchmarkBigShop is the walk and the plan of a year for 300 tanks and 37,500
// entries of work, as ten years of 500,000 entries have them.
func BenchmarkBigShop(b *testing.B) {
	shop := bigShop(b, 250)
	set, err := reference.Tables()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		water := exposure.WaterOf(shop, set)
		water.PlanOf(quantity.Metric, exposure.Tanks(shop, set), nil)
	}
}
