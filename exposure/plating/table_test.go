package plating

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryMetalHasItsFigures(t *testing.T) {
	table, err := readTable(strings.NewReader(metalsFile))
	require.NoError(t, err)
	require.NotEmpty(t, table.metals)
	assert.True(t, table.faraday.Known())
	for symbol, m := range table.metals {
		assert.True(t, m.MolarMass.Known() && m.Density.Known(), symbol)
		assert.NotZero(t, m.MolarMass.Ref(), symbol)
		assert.NotZero(t, m.Density.Ref(), symbol)
	}
}

func TestFaultsInTheTable(t *testing.T) {
	_, err := readTable(strings.NewReader(`of,figure,value,document,place,year,standing
Ni,density,8.9,,,,from memory
Ni,hardness,300,,,,from memory
`))
	require.Error(t, err)
	assert.Equal(t, []string{
		`metals.csv line 2: "8.9" has no unit`,
		`metals.csv line 3: the figure hardness is not read by anything`,
		`metals.csv: the Faraday constant is missing`,
	}, strings.Split(err.Error(), "\n"))
}
