package chemicals_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

func TestEveryKindReadsItsOwnExamples(t *testing.T) {
	for _, k := range chemicals.Kinds() {
		t.Run(k.Name, func(t *testing.T) {
			body := chemicals.Body{}
			for _, c := range k.Columns {
				assert.NotEmpty(t, c.Help, "%s has no help", c.Name)
				body[c.Name] = c.Example
			}
			tidy, err := k.Check(body)
			require.NoError(t, err)
			assert.Len(t, tidy, len(k.Columns))
			again, err := k.Check(tidy)
			require.NoError(t, err)
			assert.Equal(t, tidy, again, "the text form is not stable")
			assert.True(t, k.Same(tidy, again))
			_, err = chemicals.NewShop("2026-12-31", chemicals.Period{First: "2026-01-01", Last: "2026-12-31"}, chemicals.LastEntry{},
				[]chemicals.Record{{Entry: 1, Kind: k, Body: tidy, From: k.Day(tidy)}})
			require.NoError(t, err)
		})
	}
}

func TestColumnsThatReferToAKindNameOneThatStandsBefore(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range chemicals.Kinds() {
		for _, c := range k.Columns {
			if c.Of != "" && c.Of != k.Name {
				assert.True(t, seen[c.Of], "%s.%s refers to %q", k.Name, c.Name, c.Of)
			}
		}
		seen[k.Name] = true
	}
}
