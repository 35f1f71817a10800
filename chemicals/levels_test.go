package chemicals_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

func TestFindings(t *testing.T) {
	for text, want := range map[string]struct {
		written string
		less    bool
	}{
		"0.31 mg/L":    {"0.31 mg/L", false},
		"310 µg/L":     {"310 µg/L", false},
		"<0.05 mg/L":   {"<0.05 mg/L", true},
		"< 0.05  mg/L": {"<0.05 mg/L", true},
		"nd":           {"ND", true},
		"7.4":          {"7.4", false},
		"31 °C":        {"31 °C", false},
		"12 g/day":     {"12 g/day", false},
	} {
		var f chemicals.Finding
		require.NoError(t, f.UnmarshalText([]byte(text)), text)
		assert.Equal(t, want.written, f.String())
		assert.Equal(t, want.less, f.Less, text)
		var again chemicals.Finding
		require.NoError(t, again.UnmarshalText([]byte(f.String())))
		assert.Equal(t, f.Meaning(), again.Meaning())
	}
}

func TestFindingsThatMeanTheSame(t *testing.T) {
	var milligrams, micrograms, less chemicals.Finding
	require.NoError(t, milligrams.UnmarshalText([]byte("0.31 mg/L")))
	require.NoError(t, micrograms.UnmarshalText([]byte("310 µg/L")))
	require.NoError(t, less.UnmarshalText([]byte("<0.31 mg/L")))
	assert.Equal(t, milligrams.Meaning(), micrograms.Meaning())
	assert.NotEqual(t, milligrams.Meaning(), less.Meaning())
}

func TestFindingsThatAreRefused(t *testing.T) {
	for text, want := range map[string]string{
		"0.31 g":    "is a mass",
		"-1 mg/L":   "-1",
		"0,31 mg/L": "comma",
		"NaN":       "NaN",
		"31":        "has no unit",
		">4 mg/L":   "only says that there is more",
		"<":         "less than nothing",
		"<7.4":      "not a concentration",
		"<<1 mg/L":  "<1",
		"1 ppm":     "ppm",
		"trace":     "trace",
	} {
		var f chemicals.Finding
		assert.ErrorContains(t, f.UnmarshalText([]byte(text)), want, text)
	}
}

func TestWishesOfRinses(t *testing.T) {
	var ratio, metal chemicals.Wanted
	require.NoError(t, ratio.UnmarshalText([]byte("1000")))
	r, ok := ratio.Ratio()
	assert.True(t, ok)
	assert.InDelta(t, 1000, r, 0)
	require.NoError(t, metal.UnmarshalText([]byte("0.005 oz/gal Ni")))
	c, ok := metal.MilligramsPerLitre()
	assert.True(t, ok)
	assert.InDelta(t, 37.4, c, 0.1, "as printed beside 0.005 oz/gal in the rinse criteria")
	assert.Equal(t, chemicals.Name("Ni"), metal.Metal)
	for _, text := range []string{"0.5", "-3", "clean", "5 mL/L Ni", "0 mg/L Ni", "40 mg/L", "1,000"} {
		var w chemicals.Wanted
		assert.Error(t, w.UnmarshalText([]byte(text)), text)
	}
}

func TestMomentsAndClocks(t *testing.T) {
	var m, n chemicals.Moment
	require.NoError(t, m.UnmarshalText([]byte("2026-03-05 9:30")))
	assert.Equal(t, "2026-03-05 09:30", m.String())
	require.NoError(t, n.UnmarshalText([]byte("2026-03-06")))
	assert.InDelta(t, 14.5, n.Time().Sub(m.Time()).Hours(), 0)
	for _, text := range []string{"2026-02-30 10:00", "2026-03-05 24:10", "10:00", "2026-03-05 10:00 pm"} {
		assert.Error(t, m.UnmarshalText([]byte(text)), text)
	}
	for _, text := range []string{"25:00", "noon", "7", "-1:00"} {
		var c chemicals.Clock
		assert.Error(t, c.UnmarshalText([]byte(text)), text)
	}
}

func TestOnlyAPHStandsBare(t *testing.T) {
	for name, c := range map[string]struct{ kind, pollutant, value, want string }{
		"a metal without unit":       {"sample", "Ni", "5", `result: "5" has no unit, and only a pH stands without one; the pollutant is Ni`},
		"a pH with one":              {"sample", "ph", "7 mg/L", `result: "7 mg/L" is no pH`},
		"a pH":                       {"sample", "pH", "7.4", ""},
		"a metal":                    {"sample", "Ni", "<5 mg/L", ""},
		"a limit without unit":       {"limit", "Ni", "5", `value: "5" has no unit, and only a pH stands without one; the pollutant is Ni`},
		"a limit on pH":              {"limit", "pH", "5.0", ""},
		"a temperature, not in mg/L": {"limit", "temperature", "40 °C", ""},
	} {
		kind, err := chemicals.KindOf(c.kind)
		require.NoError(t, err)
		body := chemicals.Body{"point": "out", "pollutant": c.pollutant}
		if c.kind == "sample" {
			body["date"], body["sample"], body["result"] = "2026-03-04", "S1", c.value
		} else {
			body["rule"], body["basis"], body["document"], body["value"] = "maximum", "none", "permit", c.value
		}
		_, err = kind.Check(body)
		if c.want == "" {
			assert.NoError(t, err, name)
			continue
		}
		assert.EqualError(t, err, c.want, name)
	}
}

func TestWordsThatHoldCommasArePartedBySemicolons(t *testing.T) {
	assert.Equal(t, "yes, no", chemicals.Words([]string{"yes", "no"}))
	assert.Equal(t, "vertical, well drained; barrel", chemicals.Words([]string{"vertical, well drained", "barrel"}))
}
