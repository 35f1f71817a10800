package hazard_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/working"
)

func TestWaysToWriteAClass(t *testing.T) {
	for text, want := range map[string][]string{
		"Skin Corr. 1B":                          {"Skin Corr. 1B H314"},
		"skin corr 1b":                           {"Skin Corr. 1B H314"},
		"Skin corrosion/irritation Category 1B":  {"Skin Corr. 1B H314"},
		"Skin corrosion/irritation, category 2":  {"Skin Irrit. 2 H315"},
		"Acute Tox. 4 (oral)":                    {"Acute Tox. 4 (oral) H302"},
		"Acute Tox. 4 oral":                      {"Acute Tox. 4 (oral) H302"},
		"Acute Tox. 4; H302":                     {"Acute Tox. 4 (oral) H302"},
		"Acute Tox. 3 * (H301)":                  {"Acute Tox. 3 (oral) H301"},
		"Acute toxicity - inhalation 3":          {"Acute Tox. 3 (inhalation) H331"},
		"Acute Tox. 2 (vapours)":                 {"Acute Tox. 2 (inhalation, vapour) H330"},
		"Acute Tox. 4 (dust/mist)":               {"Acute Tox. 4 (inhalation, mist) H332"},
		"Acute Tox. 4":                           {"Acute Tox. 4 (oral) H302", "Acute Tox. 4 (dermal) H312", "Acute Tox. 4 (inhalation) H332"},
		"H302":                                   {"Acute Tox. 4 (oral) H302"},
		"H302 + H332":                            {"Acute Tox. 4 (oral) H302", "Acute Tox. 4 (inhalation) H332"},
		"H314":                                   {"Skin Corr. 1 H314"},
		"H319":                                   {"Eye Irrit. 2 H319"},
		"H350i":                                  {"Carc. 1 H350i"},
		"Repr. 1B, H360FD":                       {"Repr. 1B H360FD"},
		"Carcinogenicity 1B":                     {"Carc. 1B H350"},
		"Skin sensitisation 1":                   {"Skin Sens. 1 H317"},
		"Respiratory sensitization, category 1A": {"Resp. Sens. 1A H334"},
		"Flammable liquids 3":                    {"Flam. Liq. 3 H226"},
		"Oxidising liquids 2":                    {"Ox. Liq. 2 H272"},
		"STOT SE 3":                              {"STOT SE 3 H335"},
		"STOT SE 3; H336":                        {"STOT SE 3 (H336) H336"},
		"STOT SE 3 (narcotic effects)":           {"STOT SE 3 (H336) H336"},
		"STOT RE 2 (lungs)":                      {"STOT RE 2 H373"},
		"Lact.":                                  {"Lact. H362"},
		"Aquatic Chronic 2":                      {"Aquatic Chronic 2 H411"},
		"Hazardous to the aquatic environment, acute hazard 1":              {"Aquatic Acute 1 H400"},
		"Specific target organ toxicity, repeated exposure Category 2":      {"STOT RE 2 H373"},
		"Specific target organ toxicity (single exposure), category 1":      {"STOT SE 1 H370"},
		"Serious eye damage/eye irritation, category 2A":                    {"Eye Irrit. 2A H319"},
		"Reproductive toxicity, effects on or via lactation":                {"Lact. H362"},
		"Hazardous to the aquatic environment, long-term hazard category 3": {"Aquatic Chronic 3 H412"},
	} {
		classes, err := hazard.ParseClass(text)
		require.NoError(t, err, text)
		var got []string
		for _, c := range classes {
			got = append(got, c.String()+" "+c.Code)
		}
		assert.Equal(t, want, got, text)
	}
}

func TestTextsThatAreNoClass(t *testing.T) {
	for text, want := range map[string]working.Fault{
		"nonsense":            {What: `"nonsense" is no hazard class known here`, Mend: `write the abbreviation of Annex VI, as in "Skin Corr. 1B" or "Acute Tox. 4 (oral)"`},
		"":                    {What: `"" is no hazard class known here`, Mend: `write the abbreviation of Annex VI, as in "Skin Corr. 1B" or "Acute Tox. 4 (oral)"`},
		"Skin Corr. 3":        {What: `"Skin Corr. 3" is no hazard class known here`, Mend: `write the abbreviation of Annex VI, as in "Skin Corr. 1B" or "Acute Tox. 4 (oral)"`},
		"STOT SE 3 (feet)":    {What: `"STOT SE 3 (feet)" is no hazard class known here`, Mend: `write the abbreviation of Annex VI, as in "Skin Corr. 1B" or "Acute Tox. 4 (oral)"`},
		"Skin Corr. 1B; H315": {What: `"Skin Corr. 1B; H315" names a class and the code of another`, Mend: "Skin Corr. 1B has H314; mend the one or the other"},
		"H300":                {What: "H300 stands for several classes", Mend: "write which one: Acute Tox. 1 (oral), Acute Tox. 2 (oral)"},
		"H228":                {What: "H228 stands for several classes", Mend: "write which one: Flam. Sol. 1, Flam. Sol. 2"},
		"H999":                {What: `"H999" has the code H999, which is not known here`, Mend: `write the abbreviation of Annex VI, as in "Skin Corr. 1B" or "Acute Tox. 4 (oral)"`},
		"H280":                {What: `"H280" has a code that no class here bears`, Mend: `write the abbreviation of Annex VI, as in "Skin Corr. 1B" or "Acute Tox. 4 (oral)"`},
	} {
		_, err := hazard.ParseClass(text)
		fault := new(working.Fault)
		require.ErrorAs(t, err, &fault, text)
		assert.Equal(t, want, *fault)
	}
}

func TestEstimatesAsWritten(t *testing.T) {
	for text, want := range map[string]hazard.Dose{
		"670 mg/kg":               {Is: 670},
		"670 mg/kg bw":            {Is: 670},
		"0.67 g/kg":               {Is: 670},
		"> 2000 mg/kg":            {Is: 2000, Above: true},
		"200 to 2000 mg/kg":       {Is: 200},
		"200-2000 mg/kg":          {Is: 200},
		"200 < LD50 < 2000 mg/kg": {Is: 200},
	} {
		got, err := hazard.ParseDose(hazard.Oral, text)
		require.NoError(t, err, text)
		want.Text = text
		assert.Equal(t, want, got)
	}
	for text, want := range map[string]float64{"2.65 mg/L": 2.65, "2.65 mg/l (4 h)": 2.65, "2650 mg/m³": 2.65} {
		got, err := hazard.ParseDose(hazard.Vapour, text)
		require.NoError(t, err, text)
		assert.InEpsilon(t, want, got.Is, 1e-12, text)
	}
	for text, want := range map[string]string{
		"670":              `"670" is not in mg/kg`,
		"5 mg/L":           `"5 mg/L" is not in mg/kg`,
		"much":             `"much" is no estimate of acute toxicity`,
		"<5 mg/kg":         `"<5 mg/kg" is no estimate of acute toxicity`,
		"0 mg/kg":          `"0 mg/kg" is beyond belief for an estimate`,
		"-5 mg/kg":         `"-5 mg/kg" is no estimate of acute toxicity`,
		"300 to 200 mg/kg": `"300 to 200 mg/kg" does not go from a lower to a higher dose`,
	} {
		_, err := hazard.ParseDose(hazard.Oral, text)
		assert.EqualError(t, err, want)
	}
}

func TestSpecificLimitsAsWritten(t *testing.T) {
	for text, want := range map[string][2]float64{
		"STOT RE 2: 0.1 % to 7 %":                 {0.1, 7},
		"STOT RE 2: 0.1 <= C < 7":                 {0.1, 7},
		"Skin Irrit. 2; H315: 35 % ≤ C < 50 %":    {35, 50},
		"Eye Irrit. 2: 0.1-<1":                    {0.1, 1},
		"Eye Irrit. 2: from 5 % w/w to below 8 %": {5, 8},
		"Carc. 1B: C >= 0.01":                     {0.01, 0},
		"Skin Irrit. 2: from 35":                  {35, 0},
		"Skin Corr. 1A: 5 %":                      {5, 0},
		"Skin Corr. 1A; H314: C ≥ 70 %":           {70, 0},
		"EUH031: >= 5 %":                          {5, 0},
	} {
		got, err := hazard.ParseLimit(text)
		require.NoError(t, err, text)
		require.Len(t, got, 1)
		assert.InDelta(t, want[0]/100, got[0].Low, 1e-12, text)
		assert.InDelta(t, want[1]/100, got[0].Below, 1e-12, text)
	}
	for text, want := range map[string]string{
		"Carc. 1B 0.01 %":         `"Carc. 1B 0.01 %" is not a class and its limit parted by a colon`,
		"Carc. 1B: little":        `"Carc. 1B: little" does not say from which content`,
		"Carc. 1B: 5 g/L":         `"Carc. 1B: 5 g/L" does not say from which content`,
		"Carc. 1B: < 10 %":        `"Carc. 1B: < 10 %" says only up to which content`,
		"Carc. 1B: 300 %":         `"Carc. 1B: 300 %" has 300 %, more than the whole`,
		"STOT RE 2: 7 % to 0.1 %": `"STOT RE 2: 7 % to 0.1 %" does not go from a lower to a higher content`,
		"Fire 2: 5 %":             `"Fire 2" is no hazard class known here`,
	} {
		_, err := hazard.ParseLimit(text)
		assert.EqualError(t, err, want)
	}
}

func FuzzClass(f *testing.F) {
	for _, seed := range []string{"Skin Corr. 1B", "H302+H312", "Acute Tox. 4 (oral); H302", "EUH031", "STOT SE 3 (H336)", "Carc. 1A *", "Lact."} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		classes, err := hazard.ParseClass(text)
		if err != nil {
			return
		}
		for _, r := range hazard.Regimes() {
			hazard.NewLabel(r, classes).Precautions()
		}
		again, err := hazard.ParseClass(classes[0].String())
		require.NoError(t, err)
		assert.Equal(t, classes[0].String(), again[0].String())
	})
}

func FuzzDoseAndLimit(f *testing.F) {
	for _, seed := range []string{"670 mg/kg", "200 < LD50 < 2000 mg/kg", ">5 mg/L", "STOT RE 2: 0.1 % to 7 %", "EUH031: 5 %"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, route := range []hazard.Route{hazard.Oral, hazard.Mist} {
			if d, err := hazard.ParseDose(route, text); err == nil {
				assert.Positive(t, d.Is)
				assert.True(t, d.Known())
			}
		}
		if limits, err := hazard.ParseLimit(text); err == nil {
			for _, l := range limits {
				assert.True(t, l.Low >= 0 && l.Low <= 1 && (l.Below == 0 || l.Below > l.Low), "%+v", l)
			}
		}
	})
}
