package hazard_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/hazard"
)

// Each line: at this content of the ingredient the mixture has the class, just
// below it has what is named last.
func TestOneIngredientIsEnough(t *testing.T) {
	const us, eu, un = hazard.US, hazard.EU, hazard.UN
	for _, c := range []struct {
		regime     hazard.Regime
		ingredient string
		percent    float64
		class      string
		below      string
	}{
		{us, "Resp. Sens. 1", 0.1, "Resp. Sens. 1", ""},
		{eu, "Resp. Sens. 1", 1, "Resp. Sens. 1", ""},
		{us, "Resp. Sens. 1A", 0.1, "Resp. Sens. 1A", ""},
		{eu, "Resp. Sens. 1A", 0.1, "Resp. Sens. 1A", ""},
		{us, "Resp. Sens. 1B", 1, "Resp. Sens. 1B", ""},
		{eu, "Resp. Sens. 1B", 1, "Resp. Sens. 1B", ""},
		{us, "Skin Sens. 1", 0.1, "Skin Sens. 1", ""},
		{eu, "Skin Sens. 1", 1, "Skin Sens. 1", ""},
		{un, "Skin Sens. 1", 0.1, "Skin Sens. 1", ""},
		{us, "Skin Sens. 1A", 0.1, "Skin Sens. 1A", ""},
		{eu, "Skin Sens. 1B", 1, "Skin Sens. 1B", ""},
		{us, "Muta. 1B", 0.1, "Muta. 1B", ""},
		{eu, "Muta. 1A", 0.1, "Muta. 1A", ""},
		{us, "Muta. 2", 1, "Muta. 2", ""},
		{eu, "Muta. 2", 1, "Muta. 2", ""},
		{us, "Carc. 1A", 0.1, "Carc. 1A", ""},
		{eu, "Carc. 1B", 0.1, "Carc. 1B", ""},
		{us, "Carc. 2", 0.1, "Carc. 2", ""},
		{eu, "Carc. 2", 1, "Carc. 2", ""},
		{us, "Repr. 1B", 0.1, "Repr. 1B", ""},
		{eu, "Repr. 1B", 0.3, "Repr. 1B", ""},
		{us, "Repr. 2", 0.1, "Repr. 2", ""},
		{eu, "Repr. 2", 3, "Repr. 2", ""},
		{us, "Lact.", 0.1, "Lact.", ""},
		{eu, "Lact.", 0.3, "Lact.", ""},
		{us, "STOT SE 1", 1, "STOT SE 1", ""},
		{eu, "STOT SE 1", 10, "STOT SE 1", "STOT SE 2"},
		{eu, "STOT SE 1", 1, "STOT SE 2", ""},
		{us, "STOT SE 2", 1, "STOT SE 2", ""},
		{eu, "STOT SE 2", 10, "STOT SE 2", ""},
		{us, "STOT RE 1", 1, "STOT RE 1", ""},
		{eu, "STOT RE 1", 10, "STOT RE 1", "STOT RE 2"},
		{eu, "STOT RE 1", 1, "STOT RE 2", ""},
		{us, "STOT RE 2", 1, "STOT RE 2", ""},
		{eu, "STOT RE 2", 10, "STOT RE 2", ""},
		{us, "STOT SE 3", 20, "STOT SE 3", ""},
		{eu, "STOT SE 3", 20, "STOT SE 3", ""},
		{eu, "STOT SE 3 (narcotic)", 20, "STOT SE 3 (H336)", ""},
	} {
		t.Run(fmt.Sprintf("%s %s %g", c.regime, c.ingredient, c.percent), func(t *testing.T) {
			below := []string{}
			if c.below != "" {
				below = []string{c.below}
			}
			assert.Equal(t, []string{c.class}, found(t, c.regime, part(t, c.percent, c.ingredient)))
			assert.Equal(t, below, found(t, c.regime, part(t, c.percent*0.999, c.ingredient)))
		})
	}
}

func TestNothingIsAddedUpAcrossIngredients(t *testing.T) {
	assert.Empty(t, found(t, hazard.EU, part(t, 0.09, "Carc. 1B"), part(t, 0.09, "Carc. 1A")))
	assert.Empty(t, found(t, hazard.EU, part(t, 6, "STOT RE 2"), part(t, 6, "STOT RE 2")))
}

func TestIrritantsOfTheAirwaysAreAddedAndNarcoticsApart(t *testing.T) {
	assert.Equal(t, []string{"STOT SE 3"}, found(t, hazard.US, part(t, 12, "STOT SE 3"), part(t, 8, "STOT SE 3; H335")))
	assert.Empty(t, found(t, hazard.US, part(t, 12, "STOT SE 3"), part(t, 8, "STOT SE 3; H336")))
	assert.Empty(t, found(t, hazard.US, part(t, 19.5, "STOT SE 3"), part(t, 0.9, "STOT SE 3")), "below the cut-off of 1 % an ingredient does not count")
}

func TestSpecificLimits(t *testing.T) {
	cadmium := func(percent float64) hazard.Component {
		return limited(t, part(t, percent, "Carc. 1B", "STOT RE 1"), "Carc. 1B: 0.01 %", "STOT RE 1: 7 %", "STOT RE 2: 0.1 % to 7 %")
	}
	assert.Equal(t, []string{"Carc. 1B"}, found(t, hazard.EU, cadmium(0.01)))
	assert.Empty(t, found(t, hazard.EU, cadmium(0.0099)))
	assert.Equal(t, []string{"Carc. 1B", "STOT RE 2"}, found(t, hazard.EU, cadmium(6.9)))
	assert.Equal(t, []string{"Carc. 1B", "STOT RE 1"}, found(t, hazard.EU, cadmium(7)))
	assert.Equal(t, []string{"Carc. 1B", "STOT RE 1"}, found(t, hazard.US, cadmium(1)), "the US rule has no specific limits")
	assert.Empty(t, found(t, hazard.US, cadmium(0.05)))

	t.Run("where a band ends the class of the ingredient begins", func(t *testing.T) {
		c := func(percent float64) hazard.Component {
			return limited(t, part(t, percent, "STOT RE 1"), "STOT RE 2: 0.1 % to 7 %")
		}
		assert.Equal(t, []string{"STOT RE 2"}, found(t, hazard.EU, c(6.9)))
		assert.Equal(t, []string{"STOT RE 1"}, found(t, hazard.EU, c(7)))
	})
	t.Run("a limit that would tighten is told where it does not hold", func(t *testing.T) {
		r := classify(t, hazard.US, hazard.Mixture{Components: []hazard.Component{cadmium(0.05), hazard.Water(0.9995)}})
		assert.Contains(t, r.String(), "specific limit of 0.01 % for Carc. 1B")
		assert.NotContains(t, r.String(), "for STOT RE", "0.05 % is below every limit")
	})
	t.Run("a limit of one class is not carried to another", func(t *testing.T) {
		c := limited(t, part(t, 0.5, "Carc. 1B", "Muta. 2"), "Carc. 1B: 0.01 %")
		assert.Equal(t, []string{"Carc. 1B"}, found(t, hazard.EU, c))
	})
	t.Run("the airways", func(t *testing.T) {
		c := func(percent float64) hazard.Component {
			return limited(t, part(t, percent, "STOT SE 3"), "STOT SE 3: 10 %")
		}
		assert.Equal(t, []string{"STOT SE 3"}, found(t, hazard.EU, c(10)))
		assert.Empty(t, found(t, hazard.EU, c(9.9)))
		assert.Equal(t, []string{"STOT SE 3"}, found(t, hazard.EU, c(5), part(t, 10, "STOT SE 3")), "5/10 + 10/20")
		low := limited(t, part(t, 0.5, "STOT SE 3"), "STOT SE 3: 0.5 %")
		assert.Equal(t, []string{"STOT SE 3"}, found(t, hazard.EU, low), "a limit below the cut-off of 1 % is the cut-off")
	})
}

func TestCodesOfTheSameClass(t *testing.T) {
	code := func(r hazard.Regime, parts ...hazard.Component) string {
		return classify(t, r, hazard.Mixture{Components: parts}).Findings[0].Code
	}
	assert.Equal(t, "H360D", code(hazard.EU, part(t, 1, "Repr. 1B; H360D")))
	assert.Equal(t, "H360", code(hazard.EU, part(t, 1, "Repr. 1B; H360D"), part(t, 1, "Repr. 1B; H360F")))
	assert.Equal(t, "H350", code(hazard.US, part(t, 1, "Carc. 1A; H350i")), "the letters are European")
}
