package recordbook

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const shopOf2026 = "shop\nname|first day\nFernhollow Finishing|2026-01-01"

// A row without a first day begins on the shop's, and cannot have ended before.
func TestARowThatEndsBeforeTheShopBeginsIsRefused(t *testing.T) {
	const want = ": it ends on 2025-12-31, before it begins on 2026-01-01"
	tests := map[string]struct {
		before []string
		load   []string
		where  string
	}{
		"new":                       {[]string{shopOf2026}, []string{"tank\ntank|purpose|until\nB5|plate|2025-12-31"}, "tank.csv line 2, until"},
		"in one load with the shop": {nil, []string{"tank\ntank|purpose|until\nB5|plate|2025-12-31", shopOf2026}, "tank.csv line 2, until"},
		"a row that stands":         {[]string{shopOf2026, twoTanks}, []string{"tank\ntank|until\nB5|2025-12-31"}, "tank.csv line 2, until"},
		"by its number":             {[]string{shopOf2026, twoTanks}, []string{"tank\nentry|until\n2|2025-12-31"}, "tank.csv line 2, until"},
		"its first day is cleared": {
			[]string{shopOf2026, "tank\ntank|purpose|from|until\nB5|plate|2025-02-01|2025-12-31"},
			[]string{"tank\nentry|from\n2|"},
			"tank.csv line 2",
		},
		"a row of a list": {[]string{shopOf2026, twoTanks}, []string{"bath\ntank|ingredient|concentration|until\nB5|Ni|70 g/L|2025-12-31"}, "bath.csv line 2, until"},
		"beside other faults": {
			[]string{shopOf2026},
			[]string{"tank\ntank|purpose|until|location\nB5|plate|2025-12-31|nowhere"},
			"tank.csv line 2, until",
		},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := newStory(t)
			for _, one := range test.before {
				s.load(one)
			}
			said := s.refused(test.load...)
			assert.Equal(t, test.where+want, said[0])
			assert.Equal(t, name == "beside other faults", len(said) > 1, "%q", said)
		})
	}
}

func TestACorrectionCannotEndARowBeforeTheShopBegins(t *testing.T) {
	s := newStory(t)
	s.load(shopOf2026, twoTanks)
	_, err := s.Correct(2, map[string]string{"until": "2025-12-31"}, s.author())
	assert.Equal(t, []string{"until: it ends on 2025-12-31, before it begins on 2026-01-01"}, faults(t, err))
	_, err = s.Correct(2, map[string]string{"until": "2026-01-01"}, s.author())
	require.NoError(t, err, "it may hold for one day")
	_, err = s.Correct(3, map[string]string{"until": "2025-12-31", "from": "2025-11-01"}, s.author())
	require.NoError(t, err, "a row may have a first day before the shop's")
}

func TestTheShopsFirstDayCannotPassTheEndOfARow(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	s.load("tank\nentry|until\n1|2025-06-30")
	const want = "entry 3: tank B5 ends on 2025-06-30 and would begin on the shop's first day, which becomes 2026-01-01"
	assert.Equal(t, []string{want}, s.refused(shopOf2026))
	s.load("shop\nname|first day\nFernhollow Finishing|2025-01-01")
	_, err := s.Correct(4, map[string]string{"first day": "2026-01-01"}, s.author())
	assert.Equal(t, []string{want}, faults(t, err))
	s.load(shopOf2026, "tank\nentry|from\n3|2025-01-01")
}
