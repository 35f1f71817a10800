package plating_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/plating"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", plating.Methods())
}
