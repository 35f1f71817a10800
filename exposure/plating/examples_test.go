package plating_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/plating"
)

func TestExamplesCanBeTyped(t *testing.T) { workingtest.ExamplesCanBeTyped(t, plating.Methods(metals)) }
