package discharge

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
)

func TestFactorOfAPollutant(t *testing.T) {
	for pollutant, want := range map[string]string{
		"BOD": "1.4 times the limit", "bod5": "1.4 times the limit", "TSS": "1.4 times the limit", "Oil  and grease": "1.4 times the limit", "FOG": "1.4 times the limit",
		"Zn": "1.2 times the limit", "CN total": "1.2 times the limit", "TTO": "1.2 times the limit", "COD": "1.2 times the limit", "": "1.2 times the limit",
	} {
		assert.Equal(t, want, published().factorFor(pollutant).Text(), pollutant)
	}
	for _, name := range []string{"pH", "ph", " PH "} {
		assert.Equal(t, "40 CFR 403.8(f)(2)(viii)(B) has no factor for pH", published().factorFor(name).Why())
	}
}

func TestFaultsInTheTable(t *testing.T) {
	const head = "of,figure,value,document,place,year,standing\n"
	_, err := readCriteria(working.Table{Name: "noncompliance.csv", File: head + ",chronic share,66,a,,,handbook\n,technical review factor,1.2,a,,,handbook\n,acute share,1 %,a,,,handbook\n"})
	require.Error(t, err)
	assert.Equal(t, []string{
		`noncompliance.csv line 2: "66" is not in %`,
		`noncompliance.csv line 3: "1.2" is not in times the limit`,
		`noncompliance.csv line 4: the figure acute share is not read by anything`,
		`noncompliance.csv: a share or the factor is missing`,
	}, strings.Split(err.Error(), "\n"))
}

// Units a decimal apart, and pounds and kilograms, are compared without rounding.
func TestLevelsCompareExactly(t *testing.T) {
	for _, c := range []struct {
		result, limit string
		want          int
	}{
		{"3.132 mg/L", "3.132 mg/L", 0},
		{"3132 µg/L", "3.132 mg/L", 0},
		{"3.132 mg/l", "3132 ug/L", 0},
		{"3132.0000000001 µg/L", "3.132 mg/L", 1},
		{"453.59237 kg/day", "1000 lb/day", 0},
		{"1000 lb/day", "453.59237 kg/day", 0},
		{"0.45359236 kg/day", "1 lb/day", -1},
		{"1e-1 mg/L", "0.1 mg/L", 0},
		{"0e999999999 mg/L", "0 mg/L", 0},
		{"6.0", "6", 0},
	} {
		result, err := ParseResult(c.result)
		require.NoError(t, err, c.result)
		limit, err := ParseLevel(c.limit)
		require.NoError(t, err, c.limit)
		got, err := result.compare(limit)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%s beside %s", c.result, c.limit)
	}
	for _, other := range []string{"1 lb/day", "6.5", "1 mg/m²"} {
		result, err := ParseResult("1 mg/L")
		require.NoError(t, err)
		limit, err := ParseLevel(other)
		require.NoError(t, err)
		_, err = result.compare(limit)
		assert.ErrorContains(t, err, "cannot be put beside the limit", other)
	}
}

func TestWordsReadBack(t *testing.T) {
	for k := Regulated; k <= Dilute; k++ {
		read, err := ParseKind(k.String())
		require.NoError(t, err)
		assert.Equal(t, k, read)
	}
	for as := AtReportingLimit; as <= AtZero; as++ {
		read, err := ParseTreatment(as.String())
		require.NoError(t, err)
		assert.Equal(t, as, read)
	}
	_, err := ParseKind(Kind(0).String())
	assert.ErrorContains(t, err, `"no kind of stream" is not a kind of stream`)
	_, err = ParseTreatment(Treatment(0).String())
	assert.ErrorContains(t, err, `"no treatment of non-detects" is not a treatment of non-detects`)
}

func FuzzParseResult(f *testing.F) {
	for _, text := range []string{"3.2 mg/L", "<0.05 mg/L", "ND", "n.d.", "6.5", "<6.5", "> 3 mg/L", "-1 mg/L", "1e-3 µg/L", "", "<", "0x1p-2", "1_0", "Inf", "0e999999999 mg/L", "<0.0e-999999999 kg/day"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseResult(text)
		if err != nil {
			return
		}
		again, err := ParseResult(r.String())
		require.NoError(t, err, "%q was read as %q", text, r)
		assert.Equal(t, r.String(), again.String())
		assert.Equal(t, r.Less, again.Less)
		assert.Equal(t, r.Level.Known(), again.Level.Known())
		assert.True(t, r.Less || r.Level.Known(), "%q says nothing", text)
	})
}
