package plating_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/plating"
)

func run(t require.TestingT, name string, arguments ...string) (working.Outputs, error) {
	return workingtest.Run(t, plating.Methods(metals), name, arguments...)
}

func TestBadInputs(t *testing.T) {
	whole := "give the electrons that deposit one atom, from 1 to 8: 2 for nickel(II)"
	for _, c := range []struct {
		method    string
		arguments []string
		want      []string
	}{
		{"plating.deposit", []string{"metal=Ni", "valence=2", "efficiency=95 %"}, []string{`charge: it is not given | give charge="400 A·h", or current="20 A" and time="1 h"`}},
		{"plating.deposit", []string{"metal=Ni", "valence=2", "efficiency=95 %", "current=20 A"}, []string{`time: a current is given without a time | give time="1 h"`}},
		{"plating.deposit", []string{"metal=Ni", "valence=2", "efficiency=95 %", "time=1 h"}, []string{`current: a time is given without a current | give current="20 A"`}},
		{"plating.deposit", []string{"metal=Ni", "valence=2", "efficiency=95 %", "charge=1 A·h", "time=1 h"}, []string{`charge: both a charge and a current or time are given | give the charge, or current and time`}},
		{"plating.deposit", []string{"metal=Xx", "valence=0", "efficiency=95 %", "charge=1 A·h", "area=0 m²"}, []string{
			`metal: no molar mass is known for it: "Xx" is not in the table | give a metal of the tables by its symbol, or its molar_mass`,
			`valence: a valence of 0 deposits nothing | ` + whole,
			`area: an area of zero has no thickness | give the area that was plated, or leave it out`,
		}},
		{"plating.deposit", []string{"metal=Ni", "valence=9", "efficiency=95 %", "charge=1 A·h"}, []string{`valence: a valence of 9 deposits nothing | ` + whole}},
		{"plating.deposit", []string{"metal=Ni", "valence=-2", "efficiency=0.95", "charge=1", "area=1 m"}, []string{
			`valence: "-2" is not a whole number from zero up | write it in digits, without a unit: "2"`,
			`charge: "1" has no unit | write it as "400 A·h"`,
			`efficiency: "0.95" does not say that it is a share | write the share in percent; 0.95 of the whole is "95 %"`,
			`area: "1 m" is a length; wanted is an area | write it as "14 m²"`,
		}},
		{"plating.deposit", []string{"metal=Ni", "valance=2", "charge=1 A·h"}, []string{
			`valence: it is not given | give valence="2"`,
			`efficiency: it is not given | give efficiency="95 %"`,
			`valance: "valance" is not an input | did you mean "valence"?`,
		}},
		{"plating.charge", []string{"metal=Ni", "valence=2", "efficiency=0 %"}, []string{
			`thickness: it is not given | give thickness="10 µm" and the area, or mass="12 g"`,
			`efficiency: at an efficiency of zero no charge deposits anything | give the cathode efficiency of the bath: efficiency="95 %"`,
		}},
		{"plating.charge", []string{"metal=Ni", "valence=2", "efficiency=95 %", "thickness=1 mil"}, []string{`area: a thickness is given without an area | give area="14 dm²"`}},
		{"plating.charge", []string{"metal=Ni", "valence=2", "efficiency=95 %", "thickness=1 mil", "mass=2 g"}, []string{`mass: both a mass and a thickness or area are given | give thickness and area, or the mass`}},
		{"plating.charge", []string{"metal=Re", "molar_mass=186.21 g/mol", "valence=7", "efficiency=5 %", "thickness=1 µm", "area=1 dm²", "current=0 A", "time=0 h"}, []string{
			`density: no density is known for Re, and a thickness needs one | give density="8.9 g/mL"`,
			`time: both a current and a time are given | give the current to learn the time, or the time to learn the current`,
			`current: a current of zero takes for ever | give the current, or leave it out`,
			`time: in no time no current deposits anything | give the time, or leave it out`,
		}},
	} {
		_, err := run(t, c.method, c.arguments...)
		assert.Equal(t, c.want, workingtest.Faults(err), c.arguments)
	}
}

func TestStructsRefuseWhatIsNotGiven(t *testing.T) {
	_, err := plating.Deposit{}.Solve()
	got := workingtest.Faults(err)
	require.Len(t, got, 4)
	for i, where := range []string{"metal: ", "valence: ", "efficiency: ", "charge: "} {
		assert.Contains(t, got[i], where)
	}
	negative := working.Given(source.Value[float64]{Is: -0.1}, "-10 %")
	_, err = plating.Charge{Efficiency: negative}.Solve()
	assert.Contains(t, workingtest.Faults(err), `efficiency: it is negative | give the cathode efficiency of the bath: efficiency="95 %"`)
}

func TestThicknessIsAbsentWithItsReason(t *testing.T) {
	arguments := []string{"metal=Re", "molar_mass=186.21 g/mol", "valence=7", "efficiency=5 %", "charge=1 A·h"}
	for _, c := range []struct {
		more []string
		want string
	}{
		{nil, `"Re" is not in the table and its density is not given; area is not given`},
		{[]string{"area=1 dm²"}, `"Re" is not in the table and its density is not given`},
		{[]string{"density=21.0 g/mL"}, `area is not given`},
	} {
		out, err := run(t, "plating.deposit", append(arguments, c.more...)...)
		require.NoError(t, err)
		thickness, _ := out.Output("thickness")
		assert.False(t, thickness.Known())
		assert.Equal(t, c.want, thickness.Why())
		assert.Empty(t, out.Caveats())
	}
}

func TestCaveats(t *testing.T) {
	out, err := run(t, "plating.deposit", "metal=Ni", "valence=2", "efficiency=101 %", "charge=1 A·h", "area=1 dm²")
	require.NoError(t, err)
	require.Len(t, out.Caveats(), 2)
	assert.Contains(t, out.Caveats()[0], "over 100 %")
	assert.Contains(t, out.Caveats()[1], "average over the area")

	out, err = run(t, "plating.charge", "metal=Ni", "valence=2", "efficiency=100 %", "mass=1 g")
	require.NoError(t, err)
	assert.Empty(t, out.Caveats())
}

func TestWorkingIsShownWhole(t *testing.T) {
	out, err := run(t, "plating.deposit", "metal=Ni", "valence=2", "current=20 A", "time=60 min", "efficiency=95 %", "area=14 dm²")
	require.NoError(t, err)
	var got []string
	for _, s := range out.Steps() {
		got = append(got, s.Formula+" = "+s.Result)
		for _, in := range s.Inputs {
			got = append(got, "  "+in.Symbol+" "+in.Value+", "+in.Known())
		}
	}
	assert.Equal(t, []string{
		"Q = I × t = 20.00 A·h",
		"  I 20 A, given",
		"  t 60 min, given",
		"m = Q × η × M / (z × F) = 20.80 g",
		"  Q 20.00 A·h, computed",
		"  η 95 %, given",
		"  M 58.693 g/mol, published: atomic masses as in the IUPAC abridged standard atomic masses, conventional values, 2021, from memory",
		"  z 2, given",
		"  F 96485.33212 C/mol, published: CODATA recommended values of the fundamental physical constants, 2018 adjustment; exact since the SI of 2019, e × N_A; read in a reprint, 2018, handbook",
		"d = m / (ρ × A) = 16.70 µm",
		"  m 20.80 g, computed: C. L. Wadhwa, Generation, Distribution and Utilization of Electrical Energy, chapter 8, example 5, handbook",
		"  ρ 8.9 g/mL, published: from memory",
		"  A 14 dm², given",
	}, got)
}

func TestBoundsGoThrough(t *testing.T) {
	efficiency := working.Given(source.Value[float64]{Is: 0.95}, "").Between(0.93, 0.97, "93 to 97 %")
	d := deposit()
	d.Efficiency = efficiency
	r, err := d.Solve()
	require.NoError(t, err)
	require.True(t, r.Mass.Spread() && r.Thickness.Spread())
	assert.InEpsilon(t, 0.97/0.93, float64(r.Thickness.At(working.High)/r.Thickness.At(working.Low)), 1e-12)
	assert.False(t, r.Charge.Spread())
}

func deposit() plating.Deposit {
	return plating.Deposit{
		Metal: plating.Metal{
			Symbol:    "Ni",
			MolarMass: workingtest.Given(58.693 * quantity.GramPerMole),
			Density:   workingtest.Given(8.9 * quantity.GramPerMillilitre),
		},
		Valence:    workingtest.Given(2),
		Charge:     workingtest.Given(10 * quantity.AmpereHour),
		Efficiency: workingtest.Given(0.95),
		Area:       workingtest.Given(1 * quantity.SquareMetre),
	}
}

// What a charge deposits takes that charge.
func TestDepositAndChargeInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := deposit()
		d.Valence = workingtest.Given(rapid.IntRange(1, 8).Draw(t, "valence"))
		d.Metal.MolarMass = workingtest.Given(quantity.MolarMass(rapid.Float64Range(6, 240).Draw(t, "molar mass")))
		d.Metal.Density = workingtest.Given(quantity.Density(rapid.Float64Range(0.5, 22.6).Draw(t, "density")))
		d.Charge = workingtest.Given(quantity.Charge(rapid.Float64Range(1e-3, 1e6).Draw(t, "charge")))
		d.Efficiency = workingtest.Given(rapid.Float64Range(0.01, 1.2).Draw(t, "efficiency"))
		d.Area = workingtest.Given(quantity.Area(rapid.Float64Range(1e-4, 1e3).Draw(t, "area")))
		put, err := d.Solve()
		require.NoError(t, err)
		current := quantity.Current(rapid.Float64Range(1e-3, 1e5).Draw(t, "current"))
		taken, err := plating.Charge{
			Metal: d.Metal, Valence: d.Valence, Efficiency: d.Efficiency, Area: d.Area, Thickness: put.Thickness, Current: workingtest.Given(current),
		}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, d.Charge.Is().Coulombs(), taken.Charge.Is().Coulombs(), 1e-9)
		assert.InEpsilon(t, put.Mass.Is().Grams(), taken.Mass.Is().Grams(), 1e-9)

		again := d
		again.Charge, again.Current, again.Time = working.Estimate[quantity.Charge]{}, workingtest.Given(current), taken.Time
		put2, err := again.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, put.Mass.Is().Grams(), put2.Mass.Is().Grams(), 1e-9)

		over, err := plating.Charge{Metal: d.Metal, Valence: d.Valence, Efficiency: d.Efficiency, Mass: put.Mass, Time: taken.Time}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, current.Amperes(), over.Current.Is().Amperes(), 1e-9)
	})
}

// Twice the charge is twice the mass; twice the valence half of it; twice the
// area the same mass and half the thickness.
func TestDepositScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.1, 50).Draw(t, "k")
		valence := rapid.IntRange(1, 4).Draw(t, "valence")
		d := deposit()
		d.Valence = workingtest.Given(valence)
		one, err := d.Solve()
		require.NoError(t, err)
		more, valent, wide := d, d, d
		more.Charge = workingtest.Given(d.Charge.Is() * quantity.Charge(k))
		valent.Valence = workingtest.Given(2 * valence)
		wide.Area = workingtest.Given(d.Area.Is() * quantity.Area(k))
		for _, c := range []struct {
			d               plating.Deposit
			mass, thickness float64
		}{{more, k, k}, {valent, 0.5, 0.5}, {wide, 1, 1 / k}} {
			r, err := c.d.Solve()
			require.NoError(t, err)
			assert.InEpsilon(t, c.mass, float64(r.Mass.Is()/one.Mass.Is()), 1e-9)
			assert.InEpsilon(t, c.thickness, float64(r.Thickness.Is()/one.Thickness.Is()), 1e-9)
		}
	})
}

func TestFaradayConstantIsChargeTimesAvogadro(t *testing.T) {
	// Both are exact in the SI of 2019.
	const elementary, avogadro = 1.602176634e-19, 6.02214076e23
	out, err := run(t, "plating.charge", "metal=Ag", "molar_mass=100 g/mol", "valence=1", "mass=100 g", "efficiency=100 %")
	require.NoError(t, err)
	m, err := working.Find(plating.Methods(metals), "plating.charge")
	require.NoError(t, err)
	text, err := m.JSON(out, quantity.Metric)
	require.NoError(t, err)
	var read struct {
		Outputs map[string]struct{ Value float64 }
	}
	require.NoError(t, json.Unmarshal(text, &read))
	assert.InEpsilon(t, elementary*avogadro, read.Outputs["charge"].Value*3600, 1e-9)
}

func TestJSON(t *testing.T) {
	workingtest.JSON(t, plating.Methods(metals), map[string][]string{
		"plating.deposit": {"metal=Ni", "valence=2", "charge=400 A·h", "efficiency=95 %", "area=14 m²"},
		"plating.charge":  {"metal=Rh", "valence=3", "thickness=0.25 µm", "area=0.5 ft²", "efficiency=60 %", "current=1 A"},
	})
}
