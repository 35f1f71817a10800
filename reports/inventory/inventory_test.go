package inventory_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/inventory"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/text"
)

var update = flag.Bool("update", false, "write the golden files anew")

// record is one row: kind, first day or date, and column=value pairs.
type record struct {
	kind, day string
	values    string
}

func shop(t *testing.T, asOf chemicals.Day, records ...record) *chemicals.Shop {
	t.Helper()
	var all []chemicals.Record
	for i, r := range records {
		kind, err := chemicals.KindOf(r.kind)
		require.NoError(t, err)
		body := chemicals.Body{}
		if kind.Nature == chemicals.Event {
			body[chemicals.DateColumn] = r.day
		}
		for _, pair := range strings.Split(r.values, "|") {
			column, value, _ := strings.Cut(strings.TrimSpace(pair), "=")
			body[column] = value
		}
		tidy, err := kind.Check(body)
		require.NoError(t, err, r.values)
		all = append(all, chemicals.Record{Entry: int64(i + 1), Kind: kind, Body: tidy, From: chemicals.Day(r.day)})
	}
	s, err := chemicals.NewShop(asOf, chemicals.YearTo(asOf), chemicals.LastEntry{Entry: int64(len(records)), Hash: strings.Repeat("0a", 32)}, all)
	require.NoError(t, err)
	return s
}

func build(t *testing.T, s *chemicals.Shop, units quantity.System) *doc.Document {
	t.Helper()
	tables, err := reference.Tables()
	require.NoError(t, err)
	found := inventory.Findings{Holdings: exposure.Holdings(s, tables), Tanks: exposure.Tanks(s, tables)}
	found.Gaps = exposure.Gaps(s, found.Holdings, found.Tanks)
	return inventory.Build(s, found, letterhead.Setting{Program: "bathwarden test", Tables: strings.Repeat("0b", 32), Units: units})
}

func small(t *testing.T) *chemicals.Shop {
	return shop(t, "2026-06-30",
		record{"shop", "", "name=Brook Lane Plating (invented) | regime=us"},
		record{"product", "", "product=Muriatic | form=liquid | density=1.18 g/mL | sheet date=2018-01-01"},
		record{"product-content", "", "product=Muriatic | substance=hydrochloric acid | low=30 % w/w | high=32 % w/w"},
		record{"product-hazard", "", "product=Muriatic | class=Skin Corr. | category=1B"},
		record{"product", "", "product=Mystery | form=liquid"},
		record{"stock", "2026-01-10", "product=Muriatic | location=shelf | container size=15 gal | containers=2"},
		record{"stock", "2026-01-10", "product=Mystery | location=shelf | container size=1 gal | containers=3"},
		record{"tank", "", "tank=N1 | title=Bright nickel | purpose=plate | working volume=100 gal | temperature=140 °F | line=A"},
		record{"tank", "", "tank=N2 | purpose=activate | line=A"},
		record{"bath", "", "tank=N1 | ingredient=nickel sulfate hexahydrate | concentration=300 g/L"},
		record{"bath", "", "tank=N2 | ingredient=Muriatic | concentration=10 % v/v"},
		record{"addition", "2026-02-01", "tank=N2 | product=Muriatic | amount=2 gal"},
		record{"analysis", "2026-06-20", "tank=N1 | ingredient=Ni | concentration=60 g/L"},
	)
}

func TestSmallShop(t *testing.T) {
	for name, units := range map[string]quantity.System{"metric": quantity.Metric, "us": quantity.US} {
		var got bytes.Buffer
		require.NoError(t, text.Write(&got, build(t, small(t), units), 110))
		golden := filepath.Join("testdata", "small_"+name+".txt")
		if *update {
			require.NoError(t, os.WriteFile(golden, got.Bytes(), 0o644))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		assert.Equal(t, string(want), got.String())
	}
}

func TestAnEmptyBookMakesAPaperOfGaps(t *testing.T) {
	var got bytes.Buffer
	require.NoError(t, text.Write(&got, build(t, shop(t, "2026-06-30"), quantity.Metric), 110))
	assert.Contains(t, got.String(), "nothing is recorded of the shop itself")
	assert.Contains(t, got.String(), "No product is recorded.")
	assert.NotContains(t, got.String(), " 0 kg")
}

func table(t *testing.T, d *doc.Document, name string) doc.Table {
	t.Helper()
	for _, block := range d.Content {
		if table, ok := block.(doc.Table); ok && table.Name == name {
			return table
		}
	}
	require.Fail(t, "no table "+name)
	return doc.Table{}
}

func TestUnknownIsNeverANumber(t *testing.T) {
	d := build(t, small(t), quantity.Metric)
	for _, row := range table(t, d, "amounts").Rows {
		if row[0].String() != "Mystery" {
			continue
		}
		for i, column := range table(t, d, "amounts").Columns {
			if n, ok := row[i].(doc.Number); ok && column.Unit == "kg" {
				assert.Equal(t, "gal", n.Unit, "%s stands in kilograms without a density", column.Name)
			}
		}
	}
	for _, row := range table(t, d, "baths").Rows {
		if row[0].String() == "N2" {
			assert.Equal(t, doc.Blank{Why: "no working volume of N2 is recorded"}, row[len(row)-1])
		}
	}
}
