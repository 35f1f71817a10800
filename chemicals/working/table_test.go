package working_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

const columns = "of,figure,value,document,place,year,standing\n"

func TestTableIsRead(t *testing.T) {
	rows, err := working.ReadTable(strings.NewReader(columns+
		"Ni,density,8.9 g/mL,a handbook,table 1,1990,handbook\n"+
		",constant,96485.33212 C/mol,,,,from memory\n"+
		",share,10 %,a rule,(b)(3),,law in force\n"), "table.csv")
	require.NoError(t, err)
	require.Len(t, rows, 3)

	density, err := working.PublishedQuantity[quantity.Density](rows[0])
	require.NoError(t, err)
	assert.Equal(t, 8.9, density.Is().GramsPerMillilitre())
	assert.Equal(t, "8.9 g/mL", density.Text())
	assert.Equal(t, source.Published, density.Origin())
	assert.Equal(t, handbook, density.Ref())

	constant, err := working.PublishedNumber(rows[1], "C/mol")
	require.NoError(t, err)
	assert.Equal(t, 96485.33212, constant.Is())
	assert.Equal(t, "96485.33212 C/mol", constant.Text())

	share, err := working.PublishedShare(rows[2])
	require.NoError(t, err)
	assert.Equal(t, 0.1, share.Is())

	_, err = working.PublishedNumber(rows[0], "C/mol")
	assert.Equal(t, []string{`table.csv line 2: "8.9 g/mL" is not in C/mol | write the unit behind the number`}, messages(err))
	_, err = working.PublishedQuantity[quantity.Mass](rows[0])
	assert.Equal(t, []string{`table.csv line 2: "8.9 g/mL" is a density; wanted is a mass | write it as "25 kg"`}, messages(err))
}

func TestFaultsInTables(t *testing.T) {
	_, err := working.ReadTable(strings.NewReader(columns+
		"Ni,density,,a,b,,handbook\n"+
		"Ni,density,8.9 g/mL,a,b,MCM,handbook\n"+
		"Ni,density,8.9 g/mL,a,b,,hearsay\n"+
		"Ni,mass,8.9 g/mL,a,b,,handbook\n"+
		"Ni,mass,8.8 g/mL,a,b,,handbook\n"), "table.csv")
	got := messages(err)
	require.Len(t, got, 4)
	assert.Equal(t, `table.csv line 2: figure or value is empty | write both`, got[0])
	assert.Equal(t, `table.csv line 3: the year is "MCM" | write it in digits, or leave it empty`, got[1])
	assert.Contains(t, got[2], `table.csv line 4: standing "hearsay" is not one of`)
	assert.Equal(t, `table.csv line 6: the value stands twice | keep one line for each value and source`, got[3])

	_, err = working.ReadTable(strings.NewReader("of,figure\n"), "table.csv")
	assert.Equal(t, []string{`table.csv line 1: the columns are not those of a table of values | write of,figure,value,document,place,year,standing`}, messages(err))
	_, err = working.ReadTable(strings.NewReader(columns+"a,b\n"), "table.csv")
	require.Len(t, messages(err), 1)
	assert.Contains(t, messages(err)[0], "give every line 7 cells")
}
