package fume

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
)

func TestTheCaveatsNameTheReadingsOfTheTable(t *testing.T) {
	w, err := readWaterLosses(Published())
	require.NoError(t, err)
	assert.Equal(t, "80 °F", w.figure[0].temperature.Text())
	assert.Equal(t, "180 °F", w.figure[1].temperature.Text())
	assert.Contains(t, string(interpolated), "80 and 180 °F")
	assert.Contains(t, string(oneSource), "80 to 180 °F")
}

func TestFaultsInTheTable(t *testing.T) {
	const head = "of,figure,value,document,place,year,standing\n"
	_, err := readWaterLosses(working.Table{Name: "w.csv", File: head +
		"still,constant,7.2,a,,,handbook\nstill,tilt,1 per °F,a,,,handbook\nboiling,slope,1 per °F,a,,,handbook\n" +
		"hot,evaporation,0.1 gal/h·ft²,a,,,handbook\nair agitated,slope,1 per °F,a,,,handbook\nair agitated,constant,1 ln(gal/h·ft²),a,,,handbook\n"})
	require.Error(t, err)
	assert.Equal(t, []string{
		`w.csv line 2: "7.2" is not in ln(gal/h·ft²)`,
		`w.csv line 3: the figure "tilt" is not read by anything`,
		`w.csv line 4: no tank is "boiling"`,
		`w.csv line 5: "hot" does not start with a number`,
		`w.csv: the equation for still tanks is not whole`,
		`w.csv: the figure does not have two points, the cooler first`,
	}, strings.Split(err.Error(), "\n"))
}
