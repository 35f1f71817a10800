package reference

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where an authority has replaced its own figure, the day decides; where two
// forms of dust have limits, both hold.
func TestLimitsOn(t *testing.T) {
	tests := []struct {
		name, substance, day string
		authority            Authority
		kind                 LimitKind
		want                 []string
	}{
		{"newer profile", "hydrochloric acid", "2026-11-01", NIOSH, IDLH, []string{"45 ppm"}},
		{"before the newer profile", "hydrochloric acid", "2025-07-23", NIOSH, IDLH, []string{"50 ppm"}},
		{"newer recommendation", "chromium trioxide", "2026-11-01", NIOSH, TWA, []string{"0.0002 mg/m³"}},
		{"lead", "lead acetate", "2026-11-01", NIOSH, TWA, []string{"0.05 mg/m³"}},
		{"directive applies", "sodium dichromate", "2025-01-18", EU, TWA, []string{"0.005 mg/m³"}},
		{"day before", "sodium dichromate", "2025-01-17", EU, TWA, []string{"0.010 mg/m³"}},
		{"still in transition", "cadmium oxide", "2027-07-11", EU, TWA, []string{"0.004 mg/m³"}},
		{"after transition", "cadmium oxide", "2027-07-12", EU, TWA, []string{"0.001 mg/m³"}},
		{"two forms", "nickel sulfamate", "2026-11-01", EU, TWA, []string{"0.01 mg/m³", "0.05 mg/m³"}},
		{"one form not yet", "nickel sulfamate", "2024-12-31", EU, TWA, []string{"0.1 mg/m³"}},
		{"two species", "copper cyanide", "2026-11-01", OSHA, TWA, []string{"5 mg/m³", "1 mg/m³"}},
	}
	set := embeddedTables(t)
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s, ok := set.Substance(test.substance)
			require.True(t, ok)
			day, err := time.Parse(time.DateOnly, test.day)
			require.NoError(t, err)
			var got []string
			for _, limit := range s.LimitsOn(day) {
				if limit.Authority == test.authority && limit.Kind == test.kind {
					got = append(got, limit.Is.String())
				}
			}
			assert.ElementsMatch(t, test.want, got)
		})
	}
}

func TestNoLimitIsNotAbsence(t *testing.T) {
	set := embeddedTables(t)
	potash, _ := set.Substance("potassium hydroxide")
	require.NotEmpty(t, potash.Limits)
	assert.Equal(t, NoLimit, potash.Limits[0].Without)
	assert.False(t, potash.Limits[0].Is.Known())

	cadmium, _ := set.Substance("cadmium oxide")
	found := false
	for _, limit := range cadmium.Limits {
		found = found || limit.Without == LowestFeasible
	}
	assert.True(t, found, "the recommendation without a figure")

	nickel, _ := set.Substance("nickel")
	assert.Empty(t, nickel.Limits)
}

func TestLimitMeasuredAsAnIon(t *testing.T) {
	s, _ := embeddedTables(t).Substance("sodium cyanide")
	for _, limit := range s.Limits {
		if limit.Authority == NIOSH && limit.Kind == Ceiling {
			assert.Equal(t, "NIOSH ceiling as CN, 10 min", limit.what())
			assert.Equal(t, "5 mg/m³", limit.Is.String())
			assert.InDelta(t, 10, limit.Period.Is().Minutes(), 1e-9)
			share, known := s.Share(limit.As)
			assert.True(t, known)
			assert.InDelta(t, 0.5309, share, 0.00005)
			return
		}
	}
	t.Fatal("no NIOSH ceiling for sodium cyanide")
}
