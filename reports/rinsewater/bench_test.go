package rinsewater_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/rinsewater"
)

// year is Brook Lane with three entries of work and of samples on each weekday of a year.
func year() string {
	rows := strings.Builder{}
	rows.WriteString(brook)
	for day := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() == 2026; day = day.AddDate(0, 0, 1) {
		if day.Weekday() == time.Saturday || day.Weekday() == time.Sunday {
			continue
		}
		on := day.Format("2006-01-02")
		for n := range 3 {
			fmt.Fprintf(&rows, "work %s | cycle=C | area=%d m² | loads=%d | drainage=vertical, poorly drained\n", on, 10+n, 20+n)
			fmt.Fprintf(&rows, "sample %s | sample=%s-%d | point=out | pollutant=Ni | result=1.%d mg/L | type=composite\n", on, on, n, n)
		}
	}
	return rows.String()
}

func BenchmarkYear(b *testing.B) {
	shop := shopOf(b, chemicals.Day("2026-12-31"), year())
	found := findingsOf(b, shop, quantity.Metric)
	for b.Loop() {
		rinsewater.Build(shop, found, letterhead.Setting{Program: "bathwarden test", Units: quantity.US})
	}
}
