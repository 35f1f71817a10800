package plating

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
)

func TestTheFaradayConstantIsTheProductOfItsParts(t *testing.T) {
	const elementaryCharge, avogadro = 1.602176634e-19, 6.02214076e23 // exact since the SI of 2019
	e, err := readFaraday(Published())
	require.NoError(t, err)
	assert.InEpsilon(t, elementaryCharge*avogadro, e.Is(), 1e-10)
}

func TestFaultsInTheTable(t *testing.T) {
	const head = "of,figure,value,document,place,year,standing\n"
	for rows, want := range map[string]string{
		"": `constants.csv: the Faraday constant is missing`,
		",Faraday constant,96485,,,,from memory\n": `constants.csv line 2: `,
	} {
		_, err := readFaraday(working.Table{Name: "constants.csv", File: head + rows})
		assert.ErrorContains(t, err, want)
	}
}
