package working_test

import (
	"testing"

	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", working.Methods())
}
