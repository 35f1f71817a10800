package discharge_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/discharge"
)

func TestExamplesCanBeTyped(t *testing.T) { workingtest.ExamplesCanBeTyped(t, discharge.Methods()) }
