package exposure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/exposure"
)

const acid = `
product - | product=Acid | form=liquid | density=1.5 g/mL
stock 2026-01-10 | product=Acid | location=A | container size=10 L | containers=4
receipt 2026-01-10 | product=Acid | container size=10 L | containers=1
receipt 2026-02-01 | product=Acid | container size=10 L | containers=2
addition 2026-02-01 | product=Acid | tank=T | amount=4 L
addition 2026-03-01 | product=Acid | tank=T | amount=3 kg
`

func TestAmountIsTheCountAndWhatMovedSince(t *testing.T) {
	for _, c := range []struct {
		asOf chemicals.Day
		kg   float64
		why  string
	}{
		{"2026-01-10", 60, "the count; a receipt of its day is in it"},
		{"2026-01-31", 60, "nothing moved"},
		{"2026-02-01", 84, "20 L came, 4 L went: 56 L"},
		{"2026-03-01", 81, "3 kg went"},
	} {
		holdings := exposure.Holdings(shopOf(t, c.asOf, acid), tables(t))
		require.Len(t, holdings, 1)
		assert.True(t, holdings[0].Today.MassKnown)
		assert.InDelta(t, c.kg, holdings[0].Today.Mass.Kilograms(), 1e-9, "%s: %s", c.asOf, c.why)
	}
}

func TestAmountBeforeTheFirstCountIsNotKnown(t *testing.T) {
	holdings := exposure.Holdings(shopOf(t, "2026-01-09", `
product - | product=Acid | form=liquid | density=1.5 g/mL
receipt 2026-01-05 | product=Acid | container size=10 L | containers=1`), tables(t))
	assert.Empty(t, holdings[0].Counts)
	assert.Empty(t, holdings[0].PeakDay)
}

func TestPeakStandsBeforeTheUseOfItsDay(t *testing.T) {
	h := exposure.Holdings(shopOf(t, "2026-06-30", acid), tables(t))[0]
	assert.EqualValues(t, "2026-02-01", h.PeakDay)
	assert.InDelta(t, 90, h.Peak.Mass.Kilograms(), 1e-9, "60 L stood there before 4 L were used")
	assert.EqualValues(t, "2026-01-10", h.Covered)
}

func TestANewCountStartsAnew(t *testing.T) {
	h := exposure.Holdings(shopOf(t, "2026-06-30", `
product - | product=Acid | form=liquid | density=1.5 g/mL
stock 2026-01-10..2026-03-31 | product=Acid | location=A | container size=10 L | containers=4
addition 2026-02-01 | product=Acid | tank=T | amount=4 L
stock 2026-04-01 | product=Acid | location=A | container size=10 L | containers=2`), tables(t))[0]
	assert.InDelta(t, 30, h.Today.Mass.Kilograms(), 1e-9)
	assert.InDelta(t, 60, h.Peak.Mass.Kilograms(), 1e-9)
	assert.EqualValues(t, "2026-04-01", h.Counted)
	assert.Empty(t, h.Moves)
}

func TestVolumeWithoutDensityHasNoMass(t *testing.T) {
	h := exposure.Holdings(shopOf(t, "2026-06-30", `
product - | product=Acid | form=liquid
stock 2026-01-10 | product=Acid | location=A | container size=10 L | containers=4
addition 2026-02-01 | product=Acid | tank=T | amount=4 L`), tables(t))[0]
	assert.False(t, h.Today.MassKnown)
	require.True(t, h.Today.VolumeKnown)
	assert.InDelta(t, 36, h.Today.Volume.Litres(), 1e-9)
	assert.Equal(t, "L", h.Unit)

	mixed := exposure.Holdings(shopOf(t, "2026-06-30", `
product - | product=Acid | form=liquid
stock 2026-01-10 | product=Acid | location=A | container size=10 L | containers=4
addition 2026-02-01 | product=Acid | tank=T | amount=4 kg`), tables(t))[0]
	assert.False(t, mixed.Today.MassKnown || mixed.Today.VolumeKnown, "litres less kilograms is neither")
}

func TestBelowZeroNamesTheEntries(t *testing.T) {
	shop := shopOf(t, "2026-06-30", `
product - | product=Salt | form=solid
stock 2026-01-10 | product=Salt | location=A | container size=25 kg | containers=1
addition 2026-02-01 | product=Salt | tank=T | amount=20 kg
addition 2026-03-01 | product=Salt | tank=T | amount=6 kg
receipt 2026-04-01 | product=Salt | container size=25 kg | containers=1`)
	h := exposure.Holdings(shop, tables(t))
	assert.False(t, h[0].Today.Negative())
	require.Len(t, h[0].Below, 2)
	gaps := exposure.Gaps(shop, h, nil)
	assert.Contains(t, whats(gaps), "more was used than was there by 2026-03-01: entries 3, 4")
}

func whats(gaps []exposure.Gap) []string {
	var all []string
	for _, g := range gaps {
		all = append(all, g.What)
	}
	return all
}
