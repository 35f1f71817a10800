package rinse_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/rinse"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", rinse.Methods())
}
