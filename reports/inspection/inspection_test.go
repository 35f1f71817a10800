package inspection_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/exposure"
	"bathwarden/reports/inspection"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/text"
)

func TestAnEmptyBookMakesAPacketOfGaps(t *testing.T) {
	shop, err := chemicals.NewShop("2026-06-30", chemicals.YearTo("2026-06-30"), chemicals.LastEntry{}, nil)
	require.NoError(t, err)
	found := inspection.Findings{Gaps: exposure.Gaps(shop, nil, nil)}
	var got bytes.Buffer
	require.NoError(t, text.Write(&got, inspection.Build(shop, found, letterhead.Setting{Program: "test"}), 110))
	for _, want := range []string{
		"nothing is recorded of the shop itself", "No permit is recorded.", "Nobody is recorded.", "No check is recorded in the period.",
		"Emergency phone", "not known: not recorded",
	} {
		assert.Contains(t, got.String(), want)
	}
}
