package stock_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/stock"
)

func run(t *testing.T, volumes ...string) (working.Outputs, error) {
	t.Helper()
	m, err := working.Find(stock.Methods(), "stock.containment")
	require.NoError(t, err)
	written, err := working.ParseArguments(volumes)
	require.NoError(t, err)
	return m.Run(written)
}

func TestListsOnTheCommandLine(t *testing.T) {
	for _, form := range []string{"volumes=12 x 55 gal; 275 gal", "volumes=[12 x 55 gal, 275 gal]", "volumes=6 × 55 gal; 275 gal; 6x55 gal;"} {
		out, err := run(t, form)
		require.NoError(t, err, form)
		required, _ := out.Output("required")
		margin, _ := out.Output("with_margin")
		assert.Equal(t, "275.0 gal", required.Text(quantity.US), form)
		assert.Equal(t, "302.5 gal", margin.Text(quantity.US), form)
		require.Len(t, out.Caveats(), 1, form)
		assert.Contains(t, out.Caveats()[0], "40 CFR 264.175 binds storage under a permit")
	}
}

func TestTheRuleStandsWhereTheCustomAsksForLess(t *testing.T) {
	out, err := run(t, "volumes=12 x 55 gal")
	require.NoError(t, err)
	margin, _ := out.Output("with_margin")
	assert.Equal(t, "66.00 gal", margin.Text(quantity.US))
	require.Len(t, out.Caveats(), 2)
	assert.Contains(t, out.Caveats()[1], "the custom of 110 % of the largest container asks for no more than the rule")
}

func TestWorking(t *testing.T) {
	out, err := run(t, "volumes=12 x 55 gal")
	require.NoError(t, err)
	var got []string
	for _, s := range out.Steps() {
		got = append(got, s.Formula+": "+s.Result)
	}
	assert.Equal(t, []string{
		"ΣV: 2498 L", "max(V): 208.2 L",
		"required = the greater of s × ΣV and max(V): 249.8 L",
		"with margin = the greater of p × max(V) and required: 249.8 L",
	}, got)
	assert.Equal(t, "12 × 55 gal", out.Steps()[0].Inputs[0].Value)
	assert.Equal(t, "published: 40 CFR 264.175, (b)(3), law in force", out.Steps()[2].Inputs[0].Known())
}

func TestBadInputs(t *testing.T) {
	for argument, want := range map[string]string{
		"volumes=55":     `volumes 1: "55" has no unit`,
		"volumes=55 kg":  `volumes 1: "55 kg" is a mass; wanted is a volume`,
		"volumes=[]":     `volumes: no container is named`,
		"volumes=":       `volumes: it has no value`,
		"volume=55 gal":  "volumes: it is not given\nvolume: \"volume\" is not an input",
		"volumes=12 x":   `volumes 1: "12 x" has the unknown unit "x"`,
		"volumes=-5 gal": `volumes 1: "-5 gal" is negative`,
	} {
		_, err := run(t, argument)
		assert.EqualError(t, err, want, argument)
	}
	_, err := stock.Containment{}.Solve()
	assert.EqualError(t, err, "volumes: no container is named")
}

// The rule by its own words, for any containers.
func TestContainment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		litres := rapid.SliceOfN(rapid.Float64Range(0.1, 1e5), 1, 40).Draw(t, "litres")
		var c stock.Containment
		total, largest := 0.0, 0.0
		for _, l := range litres {
			c.Volumes = append(c.Volumes, working.Given(source.Value[quantity.Volume]{Is: quantity.Volume(l) * quantity.Litre}, ""))
			total, largest = total+l, max(largest, l)
		}
		r, err := c.Solve()
		require.NoError(t, err)
		required := r.Required.Is().Litres()
		assert.GreaterOrEqual(t, required, largest*(1-1e-9))
		assert.GreaterOrEqual(t, required, total/10*(1-1e-9))
		assert.True(t, required <= largest*(1+1e-9) || required <= total/10*(1+1e-9))
		assert.InEpsilon(t, max(required, 1.1*largest), r.WithMargin.Is().Litres(), 1e-9)
	})
}
