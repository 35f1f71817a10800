package hazard_test

import (
	"testing"

	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/working/workingtest"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", hazard.Methods())
}
