package rinse

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

func TestEveryCriterionIsOneOfThreeAndHasASource(t *testing.T) {
	_, err := readCriteria(Published())
	require.NoError(t, err)
	recalled := 0
	for _, c := range Criteria() {
		kinds := 0
		for _, known := range []bool{c.Least.Known() && c.Most.Known(), c.Holds.Known(), c.Water.Known()} {
			if known {
				kinds++
			}
		}
		assert.Equal(t, 1, kinds, c.Rinse)
		ref := c.Least.Ref()
		if !c.Least.Known() {
			ref = source.Ref{Document: c.Holds.Ref().Document + c.Water.Ref().Document, Standing: source.Handbook}
		}
		assert.True(t, ref.Known() && (ref.Document != "" || ref.Standing == source.FromMemory), c.Rinse)
		if ref.Standing == source.FromMemory {
			recalled++
		}
		if c.Least.Known() {
			assert.LessOrEqual(t, c.Least.Is(), c.Most.Is(), c.Rinse)
		}
	}
	assert.LessOrEqual(t, recalled, 5, "recalled criteria may only become fewer")
}

// The limits of the last rinse as they are often copied, in mg/L.
func TestTheFinalRinseInMetricUnits(t *testing.T) {
	got := map[string]string{}
	for _, c := range Criteria() {
		if c.Holds.Known() {
			got[c.Rinse] = quantity.Print(c.Holds.Is(), "mg/L", 3)
		}
	}
	assert.Equal(t, map[string]string{
		"final rinse, metal or cyanide": "37.4 mg/L", "final rinse, chromium": "15.0 mg/L",
		"Watts nickel, dissolved solids": "40.0 mg/L", "precision cleaning, residue": "3.00 mg/L",
	}, got)
}

func TestFaultsInTheTable(t *testing.T) {
	_, err := readCriteria(working.Table{Name: "c.csv", File: "of,figure,value,document,place,year,standing\n" +
		"a,ratio,1000,d,,,handbook\n" + "b,\"ratio, most\",5 to 1,d,,,handbook\n" + "c,\"ratio, least\",5 to 1,d,,,handbook\n" +
		"d,rinse,5 ppm,d,,,handbook\n" + "e,colour,5 to 1,d,,,handbook\n" + "spray,\"effect, least\",1 of 1,,,,from memory\n" + "spray,effect,1 of 1,,,,from memory\n"})
	require.Error(t, err)
	assert.Equal(t, []string{
		`c.csv line 2: "1000" is not in to 1`,
		`c.csv line 3: the most stands without the least`,
		`c.csv line 5: "5 ppm" does not say parts of what`,
		`c.csv line 6: the figure "colour" is not read by anything`,
		`c.csv line 8: the figure "effect" is not read by anything`,
		`c.csv: the effect of a spray is missing`,
		`c.csv: c has one end of a ratio only`,
	}, strings.Split(err.Error(), "\n"))
}
