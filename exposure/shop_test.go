package exposure_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/shoptest"
)

// shopOf is a shop of the records of shoptest.
func shopOf(t testing.TB, asOf chemicals.Day, rows string) *chemicals.Shop {
	t.Helper()
	shop, err := chemicals.NewShop(asOf, chemicals.YearTo(asOf), chemicals.LastEntry{}, shoptest.Records(t, asOf, rows))
	require.NoError(t, err)
	return shop
}

func tables(t testing.TB) *reference.Set {
	t.Helper()
	set, err := reference.Tables()
	require.NoError(t, err)
	return set
}
