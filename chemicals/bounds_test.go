package chemicals_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

// exampleBody is a row that reads, with one column as given.
func exampleBody(k *chemicals.Kind, column, value string) chemicals.Body {
	body := chemicals.Body{}
	for _, c := range k.Columns {
		body[c.Name] = c.Example
	}
	body[column] = value
	return body
}

func TestMoreThanADayHolds(t *testing.T) {
	for _, c := range []struct{ kind, column, most, over, what, mend string }{
		{"shop", "hours per day", "24 h", "24.5 h", `"24.5 h" is more than the 24 hours of a day`, `write the hours of one working day, such as "8 h"`},
		{"tank", "heated hours", "1440 min", "1441 min", `"1441 min" is more than the 24 hours of a day`, `write the hours of one working day, such as "8 h"`},
		{"rinse", "hours", "24 h", "25 h", `"25 h" is more than the 24 hours of a day`, `write the hours of one working day, such as "8 h"`},
		{"other-water", "hours", "1 day", "40 h", `"40 h" is more than the 24 hours of a day`, `write the hours of one working day, such as "8 h"`},
		{"work", "area", "100000 m²", "100001 m²", `"100001 m²" is more than 100000 m², which no job shop finishes on a day`, "look at the number and its unit: dm², ft² or in² may be meant"},
	} {
		k, err := chemicals.KindOf(c.kind)
		require.NoError(t, err)
		_, err = k.Check(exampleBody(k, c.column, c.most))
		assert.NoError(t, err, "%s %s", c.kind, c.most)
		_, err = k.Check(exampleBody(k, c.column, ""))
		assert.NoError(t, err, "%s without %s", c.kind, c.column)
		_, err = k.Check(exampleBody(k, c.column, c.over))
		var problem *chemicals.Problem
		require.True(t, errors.As(err, &problem), "%s %s: %v", c.kind, c.over, err)
		assert.Equal(t, chemicals.Problem{Where: c.column, What: c.what, Mend: c.mend}, *problem)
	}
}

// No column of hours a day is left without its check.
func TestEveryColumnOfHoursEndsWithTheDay(t *testing.T) {
	found := 0
	for _, k := range chemicals.Kinds() {
		for _, c := range k.Columns {
			if c.Name != "hours" && c.Name != "hours per day" && c.Name != "heated hours" {
				continue
			}
			found++
			_, err := k.Check(exampleBody(k, c.Name, "24.1 h"))
			assert.Error(t, err, "%s, %s", k.Name, c.Name)
		}
	}
	assert.Equal(t, 4, found)
}
