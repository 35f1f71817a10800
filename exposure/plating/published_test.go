package plating_test

import (
	"testing"

	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure"
	"bathwarden/exposure/plating"
)

// metals are those of the published tables, which cmd joins to the methods.
func metals(symbol string) (plating.Metal, bool) {
	tables, err := reference.Tables()
	if err != nil {
		panic(err)
	}
	return exposure.PlatingMetals(tables)(symbol)
}

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", plating.Methods(metals))
}
