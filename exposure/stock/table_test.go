package stock

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
)

func TestSharesHaveSources(t *testing.T) {
	s, err := readShares(Published())
	require.NoError(t, err)
	assert.True(t, s.ofTotal.Ref().Known() && s.ofLargest.Ref().Known())
}

func TestFaultsInTheTable(t *testing.T) {
	_, err := readShares(working.Table{Name: "containment.csv", File: "of,figure,value,document,place,year,standing\nrule,share of the total,0.1,a,b,,law in force\nrule,half,50 %,a,b,,law in force\n"})
	require.Error(t, err)
	assert.Equal(t, []string{
		`containment.csv line 2: "0.1" does not say that it is a share`,
		`containment.csv line 3: the figure half is not read by anything`,
		`containment.csv: a share is missing`,
	}, strings.Split(err.Error(), "\n"))
}
