package discharge_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/discharge"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", discharge.Methods())
}
