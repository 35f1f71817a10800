package fume_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/fume"
)

func TestExamplesCanBeTyped(t *testing.T) { workingtest.ExamplesCanBeTyped(t, fume.Methods()) }
