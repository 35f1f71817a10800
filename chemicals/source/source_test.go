package source_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/source"
)

func TestStandingsReadWhatTheyPrint(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range source.Standings() {
		again, err := source.ParseStanding(s.String())
		require.NoError(t, err)
		assert.Equal(t, s, again)
		assert.False(t, seen[s.String()], "two standings print %q", s)
		seen[s.String()] = true
	}
	assert.Equal(t, "no standing", source.Standing(0).String())
	_, err := source.ParseStanding("hearsay")
	assert.ErrorContains(t, err, `standing "hearsay" is not one of: law in force;`)
	_, err = source.ParseStanding("")
	assert.Error(t, err, "no standing is not a standing")
}

func TestRefPrintsWhatIsKnown(t *testing.T) {
	for want, ref := range map[string]source.Ref{
		"40 CFR 433, 433.17, 2015, law in force":  {Document: "40 CFR 433", Place: "433.17", Year: 2015, Standing: source.LawInForce},
		"from memory":                             {Standing: source.FromMemory},
		"record book, entry 7, shop's own record": source.Entry(7),
	} {
		assert.Equal(t, want, ref.String())
		assert.True(t, ref.Known())
	}
	assert.False(t, source.Ref{}.Known())
}
