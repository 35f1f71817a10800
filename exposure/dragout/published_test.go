package dragout_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/dragout"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", dragout.Methods())
}
