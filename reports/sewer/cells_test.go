package sewer_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/sewer"
)

func TestUnitsGoTogether(t *testing.T) {
	for _, system := range []quantity.System{quantity.Metric, quantity.US} {
		u := sewer.UnitsOf(system)
		// A flow over an hour is the volume that Hourly says.
		flow, err := quantity.Parse[quantity.Flow]("1 " + u.Flow)
		assert.NoError(t, err)
		assert.InEpsilon(t, u.Hourly, flow.LitresPerHour()/u.InLitres(), 1e-12, u.Flow)
		// A film on the area that PerArea says is one unit of volume.
		film, err := quantity.Parse[quantity.Film]("1 " + u.Film)
		assert.NoError(t, err)
		area, err := quantity.Parse[quantity.Area]("1 " + u.Area)
		assert.NoError(t, err)
		assert.InEpsilon(t, u.InLitres(), film.LitresPerSquareMetre()*area.SquareMetres()*u.PerArea, 1e-9, u.Film)
	}
}

func TestTheLitresAreOneInput(t *testing.T) {
	d := doc.New(doc.Head{}, doc.Foot{}, "ask")
	u := sewer.UnitsOf(quantity.US)
	assert.Equal(t, u.Litres(d), u.Litres(d))
	assert.Len(t, d.Inputs, 1)
	assert.InEpsilon(t, 3.785411784, d.Inputs[0].Value, 1e-12)
}

// The low case of a chain may come to more than the high one.
func TestASpreadIsPrintedInOrder(t *testing.T) {
	assert.Equal(t, "3.00 (1.00 to 5.00)", sewer.Between(exposure.Spread{3, 5, 1}))
	assert.Equal(t, "3.00", sewer.Between(exposure.Spread{3, 3, 3}))
	low, likely, high := sewer.Ordered(exposure.Spread{6, 2, 4})
	assert.Equal(t, []float64{2, 6, 6}, []float64{low, likely, high})
}

func TestChainsAreNamedFromFirstToLast(t *testing.T) {
	for want, tanks := range map[string][]chemicals.Name{"": nil, "R1": {"R1"}, "R1–R3": {"R1", "R2", "R3"}} {
		assert.Equal(t, want, sewer.Chain(tanks))
	}
}

func TestAColumnThatSaysOneThingMovesToTheCaption(t *testing.T) {
	table := func(points ...string) doc.Table {
		t := doc.Table{Columns: []doc.Column{{Name: "point"}, {Name: "n"}}}
		for _, p := range points {
			t.Rows = append(t.Rows, []doc.Cell{doc.Text{Is: p}, doc.Number{Is: 1}})
		}
		return t
	}
	one := sewer.OnePlace(table("out", "out"), "point")
	assert.Equal(t, "out", one.Caption)
	assert.Len(t, one.Columns, 1)
	assert.Len(t, one.Rows[1], 1)
	assert.Len(t, sewer.OnePlace(table("out", "other"), "point").Columns, 2)
	assert.Len(t, sewer.OnePlace(table(), "point").Columns, 2)
}
