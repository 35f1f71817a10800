package dragout_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/dragout"
)

func TestExamplesCanBeTyped(t *testing.T) { workingtest.ExamplesCanBeTyped(t, dragout.Methods()) }
