package hazard_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
)

func run(t *testing.T, method string, arguments ...string) (working.Outputs, error) {
	return workingtest.Run(t, hazard.Methods(), method, arguments...)
}

func text(t *testing.T, out working.Outputs, name string) string {
	return workingtest.Text(t, out, name, quantity.Metric)
}

func mixture(t *testing.T, regime, components string, more ...string) working.Outputs {
	out, err := run(t, "hazard.mixture", append([]string{"regime=" + regime, "components=" + components}, more...)...)
	require.NoError(t, err)
	return out
}

func TestWaysToStateAnIngredient(t *testing.T) {
	for _, c := range []struct{ components, classes string }{
		{"[{name: a, fraction: 5 %, classes: [Skin Corr. 1B]}]", "Skin Corr. 1B; Eye Dam. 1"},
		{`[{name: a, fraction: 5 % w/w, classes: "Skin Corr. 1B; H314"}]`, "Skin Corr. 1B; Eye Dam. 1"},
		{"[{name: a, fraction: 5 %, classes: [H314]}]", "Skin Corr. 1; Eye Dam. 1"},
		{`[{name: a, fraction: 25 %, classes: "Acute Tox. 4; H302; Skin Irrit. 2; H315"}]`, "Acute Tox. 4 (oral); Skin Irrit. 2"},
		{"[{name: a, low: 3 %, high: 7 %, classes: [Skin Corr. 1B]}]", "Skin Corr. 1B; Eye Dam. 1"},
		{"[{name: a, high: 7 %, classes: [Skin Corr. 1B]}]", "Skin Corr. 1B; Eye Dam. 1"},
		{"[{name: a, fraction: 3-7 %, classes: [Skin Corr. 1B]}]", "Skin Corr. 1B; Eye Dam. 1"},
		{"[{name: a, fraction: 3 % to 7 % w/w, classes: [Skin Corr. 1B]}]", "Skin Corr. 1B; Eye Dam. 1"},
		{"[{name: a, fraction: 60 g/L, classes: [Skin Corr. 1B]}]", "Skin Corr. 1B; Eye Dam. 1"},
		{"[{name: a, fraction: 50 mL/L, density: 1.84 g/mL, classes: [Skin Corr. 1B]}]", "Skin Corr. 1B; Eye Dam. 1"},
		{`[{name: a, fraction: 4 %, classes: none, limits: "Skin Irrit. 2; H315: 3 %"}]`, "Skin Irrit. 2"},
		{"[{name: a, fraction: 1 %, ph: 1.5}]", "Skin Corr. 1; Eye Dam. 1"},
		{"[{name: a, fraction: 1 %, classes: [Skin Corr. 1A], not_additive: yes}]", "Skin Corr. 1; Eye Dam. 1"},
		{"[{name: a, fraction: 100 %, classes: [Acute Tox. 4], oral: 670 mg/kg}]", "Acute Tox. 4 (oral)"},
		{"[{name: a, fraction: 100 %, classes: [Acute Tox. 4]}]", "Acute Tox. 4 (oral); Acute Tox. 4 (dermal); Acute Tox. 4 (inhalation)"},
		{"[{name: sodium hydroxide, fraction: 3 %, published: yes}]", "Skin Corr. 1B; Eye Dam. 1"},
		{"[{name: sodium hydroxide, fraction: 3 %}]", ""},
		{"[{name: water, fraction: 100 %}]", ""},
	} {
		assert.Equal(t, c.classes, text(t, mixture(t, "eu", c.components), "classes"), c.components)
	}
}

func TestGivenBesidePublished(t *testing.T) {
	out := mixture(t, "eu", "[{name: nitric acid, fraction: 30 %, published: yes, mist: 1.2 mg/L}, {name: water, fraction: 70 %}]")
	assert.Equal(t, "8.833 mg/L", text(t, out, "vapour"), "the published estimate stays")
	assert.Equal(t, "4.000 mg/L", text(t, out, "mist"))
	out = mixture(t, "eu", "[{name: nitric acid, fraction: 30 %, published: yes, vapour: 2.1 mg/L}, {name: water, fraction: 70 %}]")
	assert.Equal(t, "7.000 mg/L", text(t, out, "vapour"), "the given one takes its place")
	out = mixture(t, "eu", `[{name: bleach, fraction: 6 %, classes: [Skin Corr. 1B], limits: ["EUH031: 5 %"]}, {name: water, fraction: 94 %}]`)
	assert.Equal(t, "H314; EUH031", text(t, out, "statements"))
}

func TestWhatTheComponentsLeaveUnsaid(t *testing.T) {
	components := "[{name: a, fraction: 50 %, oral: 500 mg/kg}]"
	unknown := mixture(t, "eu", components)
	assert.Equal(t, "500.0 mg/kg", text(t, unknown, "oral"), "the rest is unknown and leaves the whole")
	assert.Equal(t, "50.00 %", text(t, unknown, "unknown_oral"))
	assert.Contains(t, caveats(unknown), "the components leave 50 % of the whole unsaid; it counts as unknown unless remainder says water")
	water := mixture(t, "eu", components, "remainder=water")
	assert.Equal(t, "1000 mg/kg", text(t, water, "oral"))
	assert.Equal(t, "0 %", text(t, water, "unknown_oral"))
	assert.Equal(t, "1000 mg/kg", text(t, mixture(t, "eu", "[{name: a, fraction: 50 %, oral: 500 mg/kg}, {name: Water, fraction: 50 %}]"), "oral"))
}

func caveats(out working.Outputs) string {
	all := ""
	for _, c := range out.Caveats() {
		all += string(c) + "\n"
	}
	return all
}

func TestStatementsOfTheMixture(t *testing.T) {
	out := mixture(t, "eu", "[{name: cyanide, fraction: 1 %, classes: [Acute Tox. 1 (dermal), EUH032]}, {name: water, fraction: 99 %}]")
	assert.Equal(t, "H311; EUH032", text(t, out, "statements"))
	assert.Equal(t, "Toxic in contact with skin; Contact with acids liberates very toxic gas.", text(t, out, "texts"))
	out = mixture(t, "us", "[{name: cyanide, fraction: 1 %, classes: [Acute Tox. 1 (dermal), EUH032]}, {name: water, fraction: 99 %}]")
	assert.Equal(t, "H311; Hazard not otherwise classified: Contact with acids liberates very toxic gas.", text(t, out, "statements"))
	none := mixture(t, "eu", "[{name: water, fraction: 100 %}]")
	assert.Equal(t, "none", text(t, none, "signal"))
	assert.Empty(t, text(t, none, "pictograms"))
}

func TestLabelMethod(t *testing.T) {
	out, err := run(t, "hazard.label", "regime=eu", "classes=Skin Corr. 1B; Eye Dam. 1; Acute Tox. 4; H302; EUH031")
	require.NoError(t, err)
	assert.Equal(t, "Danger", text(t, out, "signal"))
	assert.Equal(t, "GHS05; GHS07", text(t, out, "pictograms"))
	assert.Equal(t, "H302; H314; EUH031", text(t, out, "statements"))
	out, err = run(t, "hazard.label", "regime=us", "classes=EUH031")
	require.NoError(t, err)
	assert.Contains(t, caveats(out), "EUH031 is no statement of regime us and is left off")
	out, err = run(t, "hazard.label", "regime=us", "classes=none")
	require.NoError(t, err)
	assert.Equal(t, "none", text(t, out, "signal"))
}

func TestBadInputs(t *testing.T) {
	for _, c := range []struct{ components, want string }{
		{"[{name: a}]", `components 1, fraction: no content is given`},
		{"[{name: a, fraction: 5}]", `components 1, fraction: "5" has no unit`},
		{"[{name: a, fraction: 120 %}]", `components 1, fraction: "120 %" comes to 120 % of the whole`},
		{"[{name: a, fraction: 50 mL/L}]", `components 1, fraction: going from a volume share of a bath to "g/L" needs a density of the ingredient`},
		{"[{name: a, fraction: 5 %, high: 7 %}]", `components 1, fraction: both fraction and low or high are given`},
		{"[{name: a, low: 5 %}]", `components 1, fraction: no content is given`},
		{"[{name: a, low: 9 %, high: 7 %}]", `components 1, low: it is above the greatest content`},
		{"[{name: a, fraction: 60 %}, {name: b, fraction: 60 %}]", `components: together they are 120 %, more than the whole`},
		{"[{name: a, fraction: 5 %, classes: [Fire 3]}]", `components 1, classes 1: "Fire 3" is no hazard class known here`},
		{"[{name: a, fraction: 5 %, classes: [H300]}]", `components 1, classes 1: H300 stands for several classes`},
		{"[{name: a, fraction: 5 %, oral: 670}]", `components 1, oral: "670" is not in mg/kg`},
		{"[{name: a, fraction: 5 %, vapour: 5 mg/kg}]", `components 1, vapour: "5 mg/kg" is not in mg/L`},
		{"[{name: a, fraction: 5 %, m_acute: 5}]", `components 1, m_acute: 5 is no M-factor`},
		{"[{name: a, fraction: 5 %, m_chronic: 0}]", `components 1, m_chronic: 0 is no M-factor`},
		{`[{name: a, fraction: 5 %, limits: ["Carc. 2"]}]`, `components 1, limits 1: "Carc. 2" is not a class and its limit parted by a colon`},
		{"[{name: a, fraction: 5 %, ph: 70}]", `components 1, ph: 70 is beyond belief for a pH`},
		{"[{name: natriumhydroxide, fraction: 5 %, published: yes}]", `components 1, name: the published tables have no "natriumhydroxide"`},
		{"[{name: a, fraction: 5 %, colour: red}]", `components 1, colour: "colour" is not an input`},
		{"[]", `components: there are none, and no pH`},
	} {
		_, err := run(t, "hazard.mixture", "regime=eu", "components="+c.components)
		assert.ErrorContains(t, err, c.want, c.components)
	}
	_, err := run(t, "hazard.mixture", "regime=mars", "components=[{name: a, fraction: 5 %}]")
	assert.ErrorContains(t, err, `regime: "mars" is not a word known here`)
	_, err = run(t, "hazard.mixture", "regime=eu", "ph=70", "components=[{name: a, fraction: 5 %}, {name: b, fraction: 5}]")
	assert.ErrorContains(t, err, "ph: 70 is beyond belief")
	assert.ErrorContains(t, err, `components 2, fraction: "5" has no unit`, "all faults at once")
	_, err = run(t, "hazard.label", "regime=eu", "classes=EUH999")
	assert.ErrorContains(t, err, "EUH999 is no statement known here")
	_, err = run(t, "hazard.aquatic", "acute=5 mg/kg")
	assert.ErrorContains(t, err, `acute: "5 mg/kg" is not in mg/L`)
}

// The golden file shows a whole bath with its working, as it is printed.
func TestABathFromTheTables(t *testing.T) {
	golden(t, "watts.json", mixture(t, "eu", `[{name: nickel sulfate hexahydrate, fraction: 300 g/L, published: yes}, {name: nickel chloride hexahydrate, fraction: 45 g/L, published: yes}, {name: boric acid, fraction: 40 g/L, published: yes}]`,
		"density=1.2 kg/L", "ph=4", "remainder=water"))
}

func golden(t *testing.T, name string, out working.Outputs) {
	m, err := working.Find(hazard.Methods(), "hazard.mixture")
	require.NoError(t, err)
	got, err := m.JSON(out, quantity.Metric)
	require.NoError(t, err)
	workingtest.Golden(t, filepath.Join("testdata", name), got)
}
