package chemicals_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

func TestParsePeriod(t *testing.T) {
	for text, want := range map[string]string{
		"2026-02":                "2026-02-01 to 2026-02-28",
		"2028-02":                "2028-02-01 to 2028-02-29",
		"2026-H1":                "2026-01-01 to 2026-06-30",
		"2026-H2":                "2026-07-01 to 2026-12-31",
		"2026":                   "2026-01-01 to 2026-12-31",
		"2026-03-05..2026-03-05": "2026-03-05 to 2026-03-05",
	} {
		got, err := chemicals.ParsePeriod(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got.String())
	}
	for text, want := range map[string]string{
		"":                       `"" is not a period`,
		"2026-13":                `"2026-13" names the month 13, which no year has`,
		"2026-Q1":                `"2026-Q1" is not a period`,
		"2026-03-05..2026-03-04": `the period from "2026-03-05" to "2026-03-04" has no days`,
		"2026-03-05..":           `the period from "2026-03-05" to "" has no days`,
		"1626":                   `"1626-01-01" is too far from today`,
	} {
		_, err := chemicals.ParsePeriod(text)
		assert.EqualError(t, err, want)
	}
}

func TestYearTo(t *testing.T) {
	for last, first := range map[chemicals.Day]chemicals.Day{
		"2026-09-30": "2025-10-01",
		"2024-02-29": "2023-03-01",
		"2025-02-28": "2024-03-01",
	} {
		assert.Equal(t, chemicals.Period{First: first, Last: last}, chemicals.YearTo(last))
	}
}
