package recordbook

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

// walks are n checks, spread evenly over days.
func walks(n int, first, last chemicals.Day) []chemicals.Row {
	rows := make([]chemicals.Row, n)
	span := last.Since(first) + 1
	for i := range rows {
		rows[i] = modelInput("check", "date", string(first.Add(i*span/n)), "item", fmt.Sprintf("look %d", i), "by", "Ada", "result", "as it should be")
	}
	return rows
}

// plant is a shop of 40 tanks with five ingredients each, and their making up
// anew every quarter of five years.
func plant() []chemicals.Row {
	var rows []chemicals.Row
	for i := range 40 {
		tank := fmt.Sprintf("T%d", i)
		rows = append(rows, modelInput("tank", "tank", tank, "purpose", "plate", "working volume", "800 L"))
		for quarter := range 20 {
			from := chemicals.Day("2021-01-01").Add(quarter * 91)
			for j := range 5 {
				rows = append(rows, modelInput("bath", "tank", tank, "ingredient", fmt.Sprintf("salt %d", j), "concentration", "30 g/L", "from", string(from)))
			}
		}
	}
	return rows
}

func BenchmarkApply(b *testing.B) {
	rows := walks(100_000, "2016-01-01", "2025-12-31")
	for _, of := range []string{"new", "loaded again"} {
		b.Run(of, func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				s := newStory(b)
				if of != "new" {
					_, err := s.Apply(rows, s.author(), false)
					require.NoError(b, err)
				}
				b.StartTimer()
				_, err := s.Apply(rows, s.author(), false)
				require.NoError(b, err)
			}
		})
	}
}

// A year with 5,000 events is read from a book that holds nothing else and from
// one that holds twenty years.
func BenchmarkReadAYear(b *testing.B) {
	for _, earlier := range []int{0, 495_000} {
		b.Run(fmt.Sprint(5_000+earlier), func(b *testing.B) {
			s := newStory(b)
			for _, rows := range [][]chemicals.Row{plant(), walks(earlier, "2006-01-01", "2024-12-31"), walks(5_000, "2025-01-01", "2025-12-31")} {
				_, err := s.Apply(rows, s.author(), false)
				require.NoError(b, err)
			}
			for b.Loop() {
				shop, err := s.Read(Reading{AsOf: "2025-12-31", Period: chemicals.YearTo("2025-12-31"), EventsFrom: "2025-01-01"})
				require.NoError(b, err)
				require.Len(b, chemicals.Events[chemicals.Check](shop), 5_000)
			}
		})
	}
}

// One row more in a book of 500,000 entries.
func BenchmarkRecord(b *testing.B) {
	s := newStory(b)
	_, err := s.Apply(append(plant(), walks(500_000, "2006-01-01", "2025-12-31")...), s.author(), false)
	require.NoError(b, err)
	n := 0
	for b.Loop() {
		n++
		row := modelInput("analysis", "date", "2025-12-31", "tank", "T7", "ingredient", "nickel", "concentration", fmt.Sprintf("%d g/L", n%500+1))
		_, err := s.Apply([]chemicals.Row{row}, s.author(), false)
		require.NoError(b, err)
		row = modelInput("check", "date", "2025-12-31", "item", fmt.Sprintf("another look %d", n))
		_, err = s.Apply([]chemicals.Row{row}, s.author(), false)
		require.NoError(b, err)
	}
}

func BenchmarkVerify(b *testing.B) {
	s := newStory(b)
	_, err := s.Apply(walks(100_000, "2006-01-01", "2025-12-31"), s.author(), false)
	require.NoError(b, err)
	for b.Loop() {
		_, err := s.Verify(b.Context())
		require.NoError(b, err)
	}
}
