package hazard_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/hazard"
)

func classes(t *testing.T, texts ...string) []hazard.Class {
	var all []hazard.Class
	for _, text := range texts {
		found, err := hazard.ParseClass(text)
		require.NoError(t, err)
		all = append(all, found...)
	}
	return all
}

func signs(l hazard.Label) []string {
	all := []string{}
	for _, p := range l.Pictograms {
		all = append(all, p.Code)
	}
	return all
}

func codes(statements []hazard.Statement) []string {
	all := []string{}
	for _, s := range statements {
		all = append(all, s.Code)
	}
	return all
}

func TestSignsAndStatements(t *testing.T) {
	for _, c := range []struct {
		regime     hazard.Regime
		classes    []string
		signal     string
		signs      []string
		statements []string
	}{
		{"eu", []string{"Skin Corr. 1B", "Eye Dam. 1", "Acute Tox. 4 (oral)"}, "Danger", []string{"GHS05", "GHS07"}, []string{"H302", "H314"}},
		{"us", []string{"Skin Corr. 1B", "Eye Dam. 1", "Acute Tox. 4 (oral)"}, "Danger", []string{"GHS05", "GHS07"}, []string{"H302", "H314", "H318"}},
		{"un", []string{"Skin Corr. 1B", "Eye Dam. 1"}, "Danger", []string{"GHS05"}, []string{"H314"}},
		{"eu", []string{"Eye Dam. 1", "Skin Irrit. 2"}, "Danger", []string{"GHS05"}, []string{"H315", "H318"}},
		{"eu", []string{"Eye Dam. 1", "Skin Sens. 1"}, "Danger", []string{"GHS05", "GHS07"}, []string{"H317", "H318"}},
		{"eu", []string{"Resp. Sens. 1", "Skin Sens. 1", "Skin Irrit. 2", "Eye Irrit. 2"}, "Danger", []string{"GHS08"}, []string{"H315", "H317", "H319", "H334"}},
		{"eu", []string{"Carc. 2", "Skin Sens. 1"}, "Warning", []string{"GHS07", "GHS08"}, []string{"H317", "H351"}},
		{"eu", []string{"Acute Tox. 3 (oral)", "Acute Tox. 4 (dermal)", "STOT SE 3"}, "Danger", []string{"GHS06"}, []string{"H301", "H312", "H335"}},
		{"us", []string{"Acute Tox. 3 (oral)", "Acute Tox. 4 (dermal)"}, "Danger", []string{"GHS06"}, []string{"H301", "H312"}},
		{"us", []string{"Acute Tox. 3 (oral)", "Acute Tox. 4 (dermal)", "STOT SE 3"}, "Danger", []string{"GHS06", "GHS07"}, []string{"H301", "H312", "H335"}},
		{"eu", []string{"Acute Tox. 1 (oral)", "Acute Tox. 2 (dermal)", "Acute Tox. 2 (inhalation)"}, "Danger", []string{"GHS06"}, []string{"H300+H310+H330"}},
		{"eu", []string{"Aquatic Acute 1", "Aquatic Chronic 1"}, "Warning", []string{"GHS09"}, []string{"H410"}},
		{"eu", []string{"Aquatic Acute 1", "Aquatic Chronic 2"}, "Warning", []string{"GHS09"}, []string{"H400", "H411"}},
		{"eu", []string{"Aquatic Chronic 2"}, "", []string{"GHS09"}, []string{"H411"}},
		{"eu", []string{"Aquatic Chronic 3"}, "", []string{}, []string{"H412"}},
		{"us", []string{"Aquatic Acute 1"}, "", []string{}, []string{}},
		{"un", []string{"Aquatic Acute 2", "Aquatic Chronic 2"}, "", []string{"GHS09"}, []string{"H411"}},
		{"eu", []string{"Skin Corr. 1A", "Skin Irrit. 2"}, "Danger", []string{"GHS05"}, []string{"H314"}},
		{"us", []string{"Eye Irrit. 2B"}, "Warning", []string{}, []string{"H320"}},
		{"eu", []string{"Eye Irrit. 2B"}, "Warning", []string{"GHS07"}, []string{"H319"}},
		{"un", []string{"Skin Irrit. 3", "Acute Tox. 5 (oral)"}, "Warning", []string{}, []string{"H303", "H316"}},
		{"us", []string{"Carc. 1A; H350i"}, "Danger", []string{"GHS08"}, []string{"H350"}},
		{"eu", []string{"Lact."}, "", []string{}, []string{"H362"}},
		{"us", []string{"Flam. Liq. 4"}, "Warning", []string{}, []string{"H227"}},
		{"eu", []string{"Ox. Sol. 1", "Met. Corr. 1"}, "Danger", []string{"GHS03", "GHS05"}, []string{"H271", "H290"}},
		{"eu", nil, "", []string{}, []string{}},
	} {
		l := hazard.NewLabel(c.regime, classes(t, c.classes...))
		assert.Equal(t, c.signal, l.Signal, "%s %v", c.regime, c.classes)
		assert.Equal(t, c.signs, signs(l), "%s %v", c.regime, c.classes)
		assert.Equal(t, c.statements, codes(l.Statements), "%s %v", c.regime, c.classes)
	}
}

func TestCorrosionOfMetalsAloneKeepsTheSignForIrritation(t *testing.T) {
	l := hazard.NewLabel(hazard.EU, classes(t, "Met. Corr. 1", "Skin Irrit. 2"))
	assert.Equal(t, []string{"GHS05", "GHS07"}, signs(l))
	assert.Len(t, l.Caveats, 1)
	assert.Contains(t, l.Caveats[0], "our judgement")
}

func TestClassesOfAnotherRegimeAreLeftOffAloud(t *testing.T) {
	l := hazard.NewLabel(hazard.EU, classes(t, "Acute Tox. 5 (oral)", "Flam. Liq. 4"))
	assert.Empty(t, l.Statements)
	assert.Len(t, l.Caveats, 2)
	assert.EqualValues(t, "Acute Tox. 5 (oral) is no class of regime eu and is left off", l.Caveats[0])
}

func TestNotesNameTheRule(t *testing.T) {
	l := hazard.NewLabel(hazard.EU, classes(t, "Skin Corr. 1B", "Eye Dam. 1", "Skin Sens. 1", "Resp. Sens. 1"))
	require.Len(t, l.Notes, 2)
	assert.Equal(t, "GHS08 takes the place of GHS07 for Skin Sens. 1", l.Notes[0].Text)
	assert.Equal(t, "H314 covers H318", l.Notes[1].Text)
	assert.Equal(t, "Article 27", l.Notes[1].Ref.Place)
}

func TestUSWording(t *testing.T) {
	eu, us := hazard.NewLabel(hazard.EU, classes(t, "Flam. Liq. 3")), hazard.NewLabel(hazard.US, classes(t, "Flam. Liq. 3"))
	assert.Equal(t, "Flammable liquid and vapour", eu.Statements[0].Text)
	assert.Equal(t, "Flammable liquid and vapor", us.Statements[0].Text)
}

func TestPrecautions(t *testing.T) {
	p := hazard.NewLabel(hazard.EU, classes(t, "Skin Corr. 1B", "Eye Dam. 1", "Acute Tox. 3 (oral)", "Acute Tox. 4 (inhalation)")).Precautions()
	assert.Equal(t, []string{"P260", "P264", "P270", "P271", "P280"}, codes(p.Prevention), "P260 takes the place of P261")
	assert.Equal(t, []string{"P301+P330+P331", "P303+P361+P353", "P304+P340", "P305+P351+P338", "P310", "P321", "P363"}, codes(p.Response), "without P312, P330 and P301+P310")
	assert.Equal(t, []string{"P405"}, codes(p.Storage))
	assert.Equal(t, []string{"P501"}, codes(p.Disposal))

	un := hazard.NewLabel(hazard.UN, classes(t, "Skin Corr. 1B")).Precautions()
	assert.Equal(t, []string{"P301+P330+P331", "P302+P361+P354", "P304+P340", "P305+P354+P338", "P316", "P321", "P363"}, codes(un.Response), "the set of Revision 10")

	us := hazard.NewLabel(hazard.US, classes(t, "Skin Corr. 1B")).Precautions()
	assert.Contains(t, us.Caveats[0], "tables C.4 of 29 CFR 1910.1200 were not read")
	assert.Contains(t, hazard.NewLabel(hazard.EU, classes(t, "Self-heat. 1")).Precautions().Caveats[0], "no precautionary statements for Self-heat. 1")
	assert.Empty(t, hazard.NewLabel(hazard.EU, nil).Precautions())
}

func TestCompare(t *testing.T) {
	var got []string
	for _, d := range hazard.Compare(
		classes(t, "Skin Irrit. 2", "Eye Dam. 1", "Carc. 2", "Repr. 1", "Acute Tox. 4 (oral)", "Met. Corr. 1"),
		classes(t, "Skin Corr. 1B", "Eye Dam. 1", "Repr. 1B", "Acute Tox. 4 (dermal)", "Carc. 1A")) {
		got = append(got, d.String())
	}
	assert.Equal(t, []string{
		"Met. Corr.: declared Met. Corr. 1, computed nothing: declared, not computed",
		"acute toxicity, oral: declared Acute Tox. 4 (oral), computed nothing: declared, not computed",
		"acute toxicity, dermal: declared nothing, computed Acute Tox. 4 (dermal): computed, not declared",
		"skin: declared Skin Irrit. 2, computed Skin Corr. 1B: computed stricter than declared",
		"Carc.: declared Carc. 2, computed Carc. 1A: computed stricter than declared",
		"Repr.: declared Repr. 1, computed Repr. 1B: the same category, one with its letter",
	}, got)
	assert.Equal(t, hazard.DeclaredStricter, hazard.Compare(classes(t, "Skin Corr. 1A"), classes(t, "Skin Corr. 1B"))[0].Direction)
	assert.Empty(t, hazard.Compare(classes(t, "Skin Corr. 1B"), classes(t, "Skin Corr. 1B")))
}
