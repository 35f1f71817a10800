package waste_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/waste"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", waste.Methods())
}
