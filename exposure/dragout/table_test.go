package dragout

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
)

func TestTheTableIsInOrder(t *testing.T) {
	f, err := readFilms(Published())
	require.NoError(t, err)
	for i, d := range f.published[1:] {
		before := f.published[i]
		if orientation(before.drainage) == orientation(d.drainage) {
			assert.Less(t, before.film.Is(), d.film.Is(), "better drained work comes first: %s", d.drainage)
		}
	}
	assert.Less(t, f.published[len(f.published)-1].least.Is(), f.published[len(f.published)-1].most.Is())
}

func TestFaultsInTheTable(t *testing.T) {
	_, err := readFilms(working.Table{Name: "f.csv", File: "of,figure,value,document,place,year,standing\n" +
		"a,film,2,d,,,handbook\n" + "b,\"film, least\",2 L/m²,d,,,handbook\n" + "c,colour,2 L/m²,d,,,handbook\n" + "withdrawal,coefficient,0.02 m,d,,,paper\n"})
	require.Error(t, err)
	assert.Equal(t, []string{
		`f.csv line 2: "2" has no unit`,
		`f.csv line 4: the figure "colour" is not read by anything`,
		`f.csv line 5: "0.02 m" is not in cm/√(cm/s·P·cm³/g)`,
		`f.csv: the coefficient of withdrawal is missing`,
		`f.csv: the film that stays is missing`,
		`f.csv: a has neither a film nor both ends of a range`,
		`f.csv: b has neither a film nor both ends of a range`,
	}, strings.Split(err.Error(), "\n"))
}
