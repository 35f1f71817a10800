package sheet_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/sheet"
	"bathwarden/chemicals/workbook"
)

func props() workbook.Props {
	return workbook.Props{
		Title: "Record book", Creator: "Fernhollow Finishing", Program: "bathwarden test",
		Day: time.Date(2026, 3, 31, 0, 0, 0, 0, time.UTC),
	}
}

// analyses is a table of many rows.
func analyses(t testing.TB, rows int) []sheet.Table {
	k, err := chemicals.KindOf("analysis")
	require.NoError(t, err)
	table := sheet.Table{Kind: k}
	for i := range rows {
		day := chemicals.Day("2026-01-01").Add(i % 365)
		body := chemicals.Body{
			"date": string(day), "tank": fmt.Sprintf("B%d", i%40), "ingredient": "nickel sulfate",
			"concentration": fmt.Sprintf("%d.%d g/L", 200+i%100, i%10),
		}
		table.Records = append(table.Records, chemicals.Record{Entry: int64(i + 1), Kind: k, Body: body, From: day})
	}
	return []sheet.Table{table}
}

const manyRows = 100_000

func BenchmarkLoadCSV(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "book")
	require.NoError(b, sheet.WriteFolder(dir, analyses(b, manyRows)))
	for b.Loop() {
		rows, err := sheet.Load(dir)
		require.NoError(b, err)
		require.Len(b, rows, manyRows)
	}
}

func BenchmarkLoadWorkbook(b *testing.B) {
	path := filepath.Join(b.TempDir(), "book.xlsx")
	var out bytes.Buffer
	require.NoError(b, sheet.WriteWorkbook(&out, analyses(b, manyRows), props()))
	require.NoError(b, os.WriteFile(path, out.Bytes(), 0o600))
	for b.Loop() {
		rows, err := sheet.Load(path)
		require.NoError(b, err)
		require.Len(b, rows, manyRows)
	}
}

func BenchmarkWriteWorkbook(b *testing.B) {
	tables := analyses(b, manyRows)
	for b.Loop() {
		require.NoError(b, sheet.WriteWorkbook(&bytes.Buffer{}, tables, props()))
	}
}
