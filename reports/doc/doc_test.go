package doc_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/source"
	"bathwarden/reports/doc"
)

func TestNoPaperWithoutItsDeferral(t *testing.T) {
	assert.PanicsWithValue(t, "doc: a document needs its deferral", func() { doc.New(doc.Head{}, doc.Foot{}, "") })
}

func TestSectionsAreNumbered(t *testing.T) {
	d := doc.New(doc.Head{}, doc.Foot{}, "ask")
	for _, level := range []int{1, 2, 2, 3, 1, 2} {
		d.Section(level, "x")
	}
	var numbers []string
	for _, b := range d.Content {
		numbers = append(numbers, b.(doc.Heading).Number)
	}
	assert.Equal(t, []string{"1", "1.1", "1.2", "1.2.1", "2", "2.1"}, numbers)
	assert.Panics(t, func() { d.Section(4, "x") })
}

func TestASourceHasOneNumber(t *testing.T) {
	d := doc.New(doc.Head{}, doc.Foot{}, "ask")
	one, two := source.Ref{Document: "a"}, source.Ref{Document: "a", Place: "b"}
	assert.Equal(t, []int{1, 2, 1}, []int{d.Cite(one), d.Cite(two), d.Cite(one)})
	assert.Equal(t, []source.Ref{one, two}, d.Sources)
}

func TestCells(t *testing.T) {
	for want, cell := range map[string]doc.Cell{
		"2.68":                 doc.Number{Is: 2.675, Decimals: 2},
		"12 gal":               doc.Number{Is: 12, Unit: "gal"},
		"0.0":                  doc.Number{Is: -0.04, Decimals: 1},
		"2026-03-01":           doc.Date{Year: 2026, Month: 3, Day: 1},
		"not known: no scales": doc.Blank{Why: "no scales"},
		"":                     doc.Blank{},
	} {
		assert.Equal(t, want, cell.String())
	}
	assert.Panics(t, func() { _ = doc.Number{Is: math.NaN()}.String() })
}
