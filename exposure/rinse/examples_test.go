package rinse_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/rinse"
)

func TestExamplesCanBeTyped(t *testing.T) { workingtest.ExamplesCanBeTyped(t, rinse.Methods()) }
