package exposure_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// boiler is the blowdown that captive says to join behind treatment.
const boiler = "joins=behind treatment | "

// By hand: 5760 L of process water and 240 L of dilute water before treatment
// make 3.98 mg/L of nickel 3.98 × 5760/6000 mg/L.
func TestOtherWaterByWhereItJoins(t *testing.T) {
	for name, c := range map[string]struct {
		joins  string
		waters string // in words; empty where none is taken in
		behind string
		gap    bool
	}{
		"before":        {"joins=before treatment | ", "boiler (dilute, 1 L/min)", "", false},
		"behind":        {boiler, "", "boiler (dilute, 1 L/min)", false},
		"not said":      {"", "boiler (dilute, 1 L/min; taken to join before treatment because the book does not say)", "", true},
		"own standards": {"joins=before treatment | kind=regulated | ", "", "", false},
	} {
		t.Run(name, func(t *testing.T) {
			rows := strings.Replace(captive, boiler, c.joins, 1)
			if strings.Contains(c.joins, "kind=") {
				rows = strings.Replace(rows, "kind=dilute | ", "", 1)
			}
			w, limits := of(t, rows)
			combined := w.CombinedLimits(limits)
			if c.waters == "" {
				assert.Empty(t, combined)
			} else {
				assert.Len(t, combined, 17, "the limits of 433.15(a)")
			}
			for _, l := range combined {
				assert.Equal(t, []string{c.waters}, l.Waters)
				if l.Limit.Pollutant == "Ni" && l.Limit.Text == "3.98 mg/L" {
					assert.InDelta(t, 3.98*5760/6000, l.Result.Is().MilligramsPerLitre(), 1e-12)
				}
			}
			var behind []string
			for _, b := range w.BehindTreatment(limits) {
				behind = append(behind, b.Waters...)
			}
			assert.Equal(t, c.behind, strings.Join(behind, "; "))
			var gap bool
			for _, g := range w.AllGaps() {
				gap = gap || g.Where == "other-water boiler" && g.Mend == "record joins"
			}
			assert.Equal(t, c.gap, gap)
		})
	}
}

// One water before treatment, one behind it: only the first lowers the limit.
func TestOnlyWaterBeforeTreatmentCounts(t *testing.T) {
	w, limits := of(t, captive+"other-water - | name=cooling | point=out | kind=dilute | joins=before treatment | flow=3 L/min | hours=8 h\n")
	combined := w.CombinedLimits(limits)
	require.NotEmpty(t, combined)
	for _, l := range combined {
		release, _ := l.Limit.Value.Release()
		is, _ := release.Concentration()
		assert.InDelta(t, is.MilligramsPerLitre()*5760/7200, l.Result.Is().MilligramsPerLitre(), 1e-12, "3 L/min over 8 h are 1440 L")
		assert.Equal(t, []string{"cooling (dilute, 3 L/min)"}, l.Waters)
	}
}

// Each point has its own process water: 1920 L behind the copper go to another
// point, and 3840 L and the boiler's 240 L are left.
func TestEachPointHasItsOwnProcessWater(t *testing.T) {
	rows := strings.NewReplacer(boiler, "joins=before treatment | ", "position=2 | drains to=out", "position=2 | drains to=north", "point - | point=out | body=sewer\n", "point - | point=out | body=sewer\npoint - | point=north | body=sewer\n").Replace(captive)
	w, limits := of(t, rows)
	found := false
	for _, l := range w.CombinedLimits(limits) {
		assert.Equal(t, "out", l.Limit.Point.String(), "no other water joins at the other point")
		if l.Limit.Pollutant == "Ni" && l.Limit.Text == "3.98 mg/L" {
			assert.InDelta(t, 3.98*3840/4080, l.Result.Is().MilligramsPerLitre(), 1e-12)
			found = true
		}
	}
	assert.True(t, found)
}
