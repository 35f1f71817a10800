package fume_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/fume"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", fume.Methods())
}
