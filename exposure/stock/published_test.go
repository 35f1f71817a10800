package stock_test

import (
	"testing"

	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/stock"
)

func TestPublished(t *testing.T) {
	workingtest.RunPublished(t, "testdata/published", stock.Methods())
}
