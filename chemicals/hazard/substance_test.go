package hazard_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/reference"
)

func TestEverySubstanceOfTheTablesClassifies(t *testing.T) {
	set, err := reference.Tables()
	require.NoError(t, err)
	for _, s := range set.Substances() {
		for _, r := range hazard.Regimes() {
			for _, share := range []float64{1, 0.3, 0.03, 0.001} {
				c := hazard.FromSubstance(s, share, share)
				got := classify(t, r, hazard.Mixture{Components: []hazard.Component{c, hazard.Water(1 - share)}})
				label := got.Label()
				if s.Classification != nil && share == 1 && r == hazard.EU {
					for _, own := range c.Classes {
						_, has := got.Has(own.Kind())
						assert.True(t, has, "%s itself is not %s: got %v", s.ID, own.Class, names(got.Classes()))
					}
				}
				for _, group := range [][]hazard.Statement{label.Statements, label.Precautions().Prevention, label.Precautions().Response, label.Precautions().Storage, label.Precautions().Disposal} {
					for _, statement := range group {
						assert.NotEmpty(t, statement.Text, statement.Code)
					}
				}
			}
		}
	}
}

func TestWhatTheTablesSayOfASubstance(t *testing.T) {
	nitric := published(t, "nitric-acid", 10)
	assert.Equal(t, hazard.StrongAcid, nitric.Strength)
	assert.InEpsilon(t, 2.65, nitric.Doses[hazard.Vapour].Is, 1e-12)
	assert.Equal(t, hazard.StrongBase, published(t, "sodium-hydroxide", 1).Strength)
	assert.Equal(t, hazard.NotAdditive, published(t, "citric-acid", 1).Strength)
	assert.Equal(t, hazard.Additive, published(t, "nickel-sulfate-hexahydrate", 1).Strength)
	assert.Contains(t, nitric.Limits[0].Ref.String(), "Annex VI, Table 3, from memory", "a recalled limit says where to confirm it")

	nickel := published(t, "nickel-sulfate-hexahydrate", 1)
	for _, k := range nickel.Classes {
		if k.Code == "H332" {
			assert.Equal(t, hazard.Mist, k.Route)
		}
	}
	t.Run("water is known, a metal is not", func(t *testing.T) {
		assert.True(t, published(t, "water", 100).NotToxic)
		metal := published(t, "nickel", 100)
		r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{metal}})
		assert.Contains(t, r.String(), "nickel: the tables have no classification of it")
		assert.InDelta(t, 1, r.UnknownBy(hazard.Oral), 1e-12)
	})
	t.Run("not classified is known", func(t *testing.T) {
		r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{published(t, "ammonium-sulfate", 100)}})
		assert.Empty(t, r.Findings)
		assert.Empty(t, r.Unknown)
	})
	t.Run("a strong acid without a pH of the mixture", func(t *testing.T) {
		r := classify(t, hazard.EU, hazard.Mixture{Components: []hazard.Component{published(t, "hydrochloric-acid", 12), hazard.Water(0.88)}})
		assert.Equal(t, []string{"Skin Irrit. 2", "Eye Irrit. 2", "STOT SE 3"}, names(r.Classes()))
		assert.Contains(t, r.String(), "a pH of 2 or below or 11.5 or above would make it Skin Corr. 1")
	})
}
