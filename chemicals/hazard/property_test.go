package hazard_test

import (
	"fmt"
	"math/rand"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/reference"
)

// pool are the ingredients that properties are tried on: all substances of the
// tables, some with estimates, one of which nothing is known.
func pool(t *testing.T) []hazard.Component {
	set, err := reference.Tables()
	assert.NoError(t, err)
	all := []hazard.Component{
		hazard.Unknown(0), dosed(t, 0, hazard.Oral, "670 mg/kg"), dosed(t, 0, hazard.Oral, "3450 mg/kg"),
		dosed(t, 0, hazard.Dermal, "40 mg/kg"), dosed(t, 0, hazard.Mist, "0.3 mg/L"), part(t, 0, "STOT SE 1", "STOT RE 1", "Skin Irrit. 2", "Eye Irrit. 2B"),
	}
	for _, s := range set.Substances() {
		all = append(all, hazard.FromSubstance(s, 0, 0))
	}
	return all
}

// mixtures draws up to six ingredients that together are less than the whole.
func mixtures(t *testing.T) *rapid.Generator[[]hazard.Component] {
	from := pool(t)
	return rapid.Custom(func(t *rapid.T) []hazard.Component {
		var parts []hazard.Component
		left := 0.98
		for i := range rapid.IntRange(1, 6).Draw(t, "ingredients") {
			c := rapid.SampledFrom(from).Draw(t, "ingredient")
			c.Name = fmt.Sprint(i, " ", c.Name)
			c.High = rapid.SampledFrom([]float64{0.00005, 0.0005, 0.001, 0.004, 0.01, 0.03, 0.05, 0.11, 0.26}).Draw(t, "content")
			if c.High > left {
				continue
			}
			c.Low, left = c.High, left-c.High
			parts = append(parts, c)
		}
		if len(parts) == 0 {
			parts = append(parts, hazard.Water(0.5))
		}
		return parts
	})
}

func withWater(parts []hazard.Component) hazard.Mixture {
	return hazard.Mixture{Components: append(slices.Clone(parts), hazard.Water(hazard.Remainder(parts)))}
}

// noWorse reports the first class of after that before does not have, or has
// in a lesser category.
func noWorse(before, after []hazard.Class) string {
	for _, d := range hazard.Compare(before, after) {
		if d.Direction == hazard.ComputedOnly || d.Direction == hazard.ComputedStricter {
			return d.String()
		}
	}
	return ""
}

func TestWaterNeverWorsensAClass(t *testing.T) {
	draw := mixtures(t)
	rapid.Check(t, func(t *rapid.T) {
		parts, r := draw.Draw(t, "mixture"), rapid.SampledFrom(hazard.Regimes()).Draw(t, "regime")
		thin := rapid.Float64Range(0.05, 0.999).Draw(t, "thinned to")
		thinner := slices.Clone(parts)
		for i := range thinner {
			thinner[i].Low *= thin
			thinner[i].High *= thin
		}
		before, after := classify(t, r, withWater(parts)), classify(t, r, withWater(thinner))
		assert.Empty(t, noWorse(before.Classes(), after.Classes()))
	})
}

func TestMoreOfAnIngredientNeverBettersAClass(t *testing.T) {
	draw := mixtures(t)
	rapid.Check(t, func(t *rapid.T) {
		parts, r := draw.Draw(t, "mixture"), rapid.SampledFrom(hazard.Regimes()).Draw(t, "regime")
		more := slices.Clone(parts)
		more[0].High += hazard.Remainder(parts) / 2
		more[0].Low = more[0].High
		assert.Empty(t, noWorse(classify(t, r, withWater(more)).Classes(), classify(t, r, withWater(parts)).Classes()))
	})
}

func TestTheOrderOfIngredientsDoesNotMatter(t *testing.T) {
	draw := mixtures(t)
	rapid.Check(t, func(t *rapid.T) {
		parts, r := draw.Draw(t, "mixture"), rapid.SampledFrom(hazard.Regimes()).Draw(t, "regime")
		m := withWater(parts)
		other := hazard.Mixture{Components: slices.Clone(m.Components)}
		rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed"))).Shuffle(len(other.Components), func(i, j int) {
			other.Components[i], other.Components[j] = other.Components[j], other.Components[i]
		})
		assert.Equal(t, classify(t, r, m).String(), classify(t, r, other).String())
	})
}

func TestEveryClassHasItsReasonAndSource(t *testing.T) {
	draw := mixtures(t)
	rapid.Check(t, func(t *rapid.T) {
		parts, r := draw.Draw(t, "mixture"), rapid.SampledFrom(hazard.Regimes()).Draw(t, "regime")
		for _, f := range classify(t, r, withWater(parts)).Findings {
			assert.NotEmpty(t, f.Reasons)
			for _, reason := range f.Reasons {
				assert.NotEmpty(t, reason.Seen)
				assert.NotEmpty(t, reason.Rule)
				assert.True(t, reason.Ref.Known(), reason.String())
			}
		}
	})
}
