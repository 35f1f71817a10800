package rinse_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
	"bathwarden/exposure/rinse"
)

// What the help shows as an example of an input can be typed.
func TestExamplesCanBeTyped(t *testing.T) {
	for _, m := range rinse.Methods() {
		for _, p := range m.Inputs {
			written, err := working.ParseArguments([]string{p.Name + "=" + p.Example})
			require.NoError(t, err)
			_, err = m.Run(written)
			if err != nil {
				assert.NotContains(t, "\n"+err.Error(), "\n"+p.Name+": ", m.Name)
			}
		}
	}
}
