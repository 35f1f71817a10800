package dragout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/chemicals/working/workingtest"
	"bathwarden/exposure/dragout"
)

func run(t require.TestingT, name string, arguments ...string) (working.Outputs, error) {
	return workingtest.Run(t, dragout.Methods(), name, arguments...)
}

func text(t require.TestingT, out working.Outputs, name string) string {
	return workingtest.Text(t, out, name, quantity.US)
}

func TestFilms(t *testing.T) {
	const vertical, horizontal = "vertical, ", "horizontal, "
	for _, c := range []struct {
		drainage          string
		likely, low, high float64 // gal/1000 ft²
		caveats           int
	}{
		{vertical + "well drained", 0.4, 0.4, 2, 2},
		{vertical + "poorly drained", 2, 0.4, 4, 1},
		{vertical + "very poorly drained", 4, 2, 4, 2},
		{horizontal + "well drained", 0.8, 0.8, 10, 2},
		{horizontal + "very poorly drained", 10, 0.8, 10, 2},
		{"Cup shaped, very poorly drained", 16, 8, 24, 2},
	} {
		film, err := dragout.Film(c.drainage)
		require.NoError(t, err)
		for at, want := range map[working.Case]float64{working.Likely: c.likely, working.Low: c.low, working.High: c.high} {
			got, err := quantity.In(film.At(at), "gal/1000 ft²")
			require.NoError(t, err)
			assert.InEpsilon(t, want, got, 1e-12, "%s, case %d", c.drainage, at)
		}
		assert.Len(t, film.Caveats(), c.caveats, c.drainage)
		assert.Equal(t, source.Published, film.Origin())
		assert.Equal(t, source.Handbook, film.Ref().Standing)
	}
	assert.Len(t, dragout.Drainages(), 6)
}

func TestTheEndsOfTheTableSayThatTheyBoundNothing(t *testing.T) {
	for drainage, want := range map[string]string{
		"vertical, well drained":          "the film may be less",
		"vertical, very poorly drained":   "the film may be more",
		"horizontal, well drained":        "the film may be less",
		"horizontal, very poorly drained": "the film may be more",
		"cup shaped, very poorly drained": "8 gal/1000 ft² to 24 gal/1000 ft² or more: there is no upper bound",
	} {
		film, err := dragout.Film(drainage)
		require.NoError(t, err)
		assert.Contains(t, fmt.Sprint(film.Caveats()), want, drainage)
	}
}

func TestNoFilmForABarrel(t *testing.T) {
	film, err := dragout.Film("barrel")
	assert.Equal(t, `no film is published for "barrel"`, film.Why())
	require.Len(t, workingtest.Faults(err), 1)
	assert.Contains(t, workingtest.Faults(err)[0], `drainage: "barrel" has no published film | measure the drag-out, or give one of: vertical, well drained; vertical, poorly drained; `)
}

func TestAreaByDrainage(t *testing.T) {
	out, err := run(t, "dragout.area", "area=1000 ft²", "drainage=vertical, poorly drained")
	require.NoError(t, err)
	assert.Equal(t, "2.000 gal (low 0.4000 gal, high 4.000 gal)", text(t, out, "volume"))
	require.Len(t, out.Caveats(), 1)
	assert.Contains(t, out.Caveats()[0], "a drag-out measured in the shop takes its place")
}

func TestFilmAtTheSpeedsOfTheTrade(t *testing.T) {
	for speed, want := range map[quantity.Speed]string{1: "0.019", 5: "0.043", 10: "0.060", 20: "0.085", 30: "0.104"} {
		r, err := dragout.ByWithdrawal{
			Withdrawal: workingtest.Given(speed * quantity.CentimetrePerSecond), Viscosity: workingtest.Given(quantity.MillipascalSecond), Density: workingtest.Given(1.1 * quantity.GramPerMillilitre),
		}.Solve()
		require.NoError(t, err)
		assert.Equal(t, want, quantity.Fixed(r.Film.Is().LitresPerSquareMetre(), 3), "%v cm/s", float64(speed))
		assert.Len(t, r.Film.Caveats(), 2, "%v cm/s", float64(speed))
	}
	out, err := run(t, "dragout.film", "withdrawal=0.1 cm/s", "viscosity=1 mPa·s", "density=1.1 kg/L")
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(out.Caveats()), "thinner than what the same paper finds still on the work after full drainage, 0.010 L/m²")
}

func TestAdditionsByVolume(t *testing.T) {
	out, err := run(t, "dragout.additions", "added=5 L", "bath=50 mL/L")
	require.NoError(t, err)
	assert.Equal(t, "26.42 gal", text(t, out, "volume"))
	assert.Equal(t, "absent: area is not given", text(t, out, "film"))
	out, err = run(t, "dragout.additions", "added=1 lb", "bath=16 oz/gal", "area=1000 ft²")
	require.NoError(t, err)
	assert.Equal(t, "1.000 gal", text(t, out, "volume"))
	assert.Equal(t, "1.000 gal/1000 ft²", text(t, out, "film"))
	assert.Contains(t, fmt.Sprint(out.Caveats()), "leaves by drag-out only")
}

func TestRiseInAnyUnit(t *testing.T) {
	for _, c := range [][]string{
		{"volume=1000 L", "bath=100 g/L", "rise=1 g/L"}, {"volume=1 m³", "bath=100 g/L", "rise=1000 mg/L"}, {"volume=1000 L", "bath=100 g/L", "rise=1000000 µg/L"},
		{"volume=1000 L", "bath=10 % v/v", "rise=1 mL/L"}, {"volume=1000 L", "bath=2 mol/L", "rise=0.02 mol/L"},
		{"volume=1000 L", "bath=102 g/L", "rise=1 g/L", "start=2 g/L"},
	} {
		out, err := run(t, "dragout.rise", append(c, "loads=10")...)
		require.NoError(t, err, c)
		assert.Equal(t, "1.006 L", text(t, out, "per_load"), c)
		assert.Equal(t, "1.000 L", text(t, out, "linear"), c)
		clean := strings.Contains(fmt.Sprint(out.Caveats()), "taken to have held none of it before the first load")
		assert.Equal(t, len(c) == 3, clean, c)
	}
	out, err := run(t, "dragout.rise", "volume=1000 L", "bath=100 g/L", "rise=0 mg/L", "loads=3")
	require.NoError(t, err)
	assert.Contains(t, fmt.Sprint(out.Caveats()), "too small for the measurement")
}

// What N loads of d leave in a still rinse gives d back, from any start; the
// linear form is less.
func TestRiseInvertsTheStillRinse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume := rapid.Float64Range(5, 5000).Draw(t, "volume")
		d := volume * math.Exp(rapid.Float64Range(-12, 0).Draw(t, "ln(d/V)"))
		loads := rapid.IntRange(1, 60).Draw(t, "loads")
		const bath = 200.0
		start := rapid.Float64Range(0, 100).Draw(t, "start")
		held := start
		for range loads {
			held = (volume*held + d*bath) / (volume + d)
		}
		if bath-held < 1e-3*bath {
			return // too near to the bath to tell the loads from it
		}
		r, err := dragout.ByRise{
			Volume: workingtest.Given(quantity.Volume(volume) * quantity.Litre), Bath: workingtest.Given(quantity.GramsPerLitre(bath)),
			Rise: workingtest.Given(quantity.GramsPerLitre(held - start)), Start: workingtest.Given(quantity.GramsPerLitre(start)), Loads: workingtest.Given(loads),
		}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, d, r.PerLoad.Is().Litres(), 1e-6)
		assert.LessOrEqual(t, r.Linear.Is(), r.PerLoad.Is())
	})
}

// Twice the area is twice the volume; four times the speed twice the film.
func TestScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.1, 50).Draw(t, "k")
		film := workingtest.Given(quantity.Film(rapid.Float64Range(1e-3, 1).Draw(t, "film")))
		one, err := dragout.ByArea{Area: workingtest.Given(3 * quantity.SquareMetre), Film: film}.Solve()
		require.NoError(t, err)
		more, err := dragout.ByArea{Area: workingtest.Given(quantity.Area(3*k) * quantity.SquareMetre), Film: film}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, k, float64(more.Volume.Is()/one.Volume.Is()), 1e-9)
		assert.InEpsilon(t, 3*film.Is().LitresPerSquareMetre(), one.Volume.Is().Litres(), 1e-9)

		pull := dragout.ByWithdrawal{Withdrawal: workingtest.Given(10 * quantity.CentimetrePerSecond), Viscosity: workingtest.Given(2 * quantity.MillipascalSecond), Density: workingtest.Given(1.2 * quantity.GramPerMillilitre)}
		slow, err := pull.Solve()
		require.NoError(t, err)
		pull.Withdrawal = workingtest.Given(quantity.Speed(10*k) * quantity.CentimetrePerSecond)
		fast, err := pull.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, math.Sqrt(k), float64(fast.Film.Is()/slow.Film.Is()), 1e-9)
	})
}

// Additions and area agree: what an area carries out is what has to be added.
func TestAdditionsInvertArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		film := rapid.Float64Range(1e-3, 1).Draw(t, "film")
		area, strength := rapid.Float64Range(1, 5000).Draw(t, "area"), rapid.Float64Range(1, 400).Draw(t, "g/L")
		r, err := dragout.ByAdditions{
			Added: workingtest.Given(quantity.OfMass(quantity.Mass(area*film*strength) * quantity.Gram)), Bath: workingtest.Given(quantity.GramsPerLitre(strength)),
			Area: workingtest.Given(quantity.Area(area) * quantity.SquareMetre),
		}.Solve()
		require.NoError(t, err)
		assert.InEpsilon(t, film, r.Film.Is().LitresPerSquareMetre(), 1e-9)
	})
}

func TestBadInputs(t *testing.T) {
	for _, c := range []struct {
		method    string
		arguments []string
		want      []string
	}{
		{"dragout.area", []string{"area=3 m²"}, []string{`film: it is not given | give film="2.0 gal/1000 ft²", or drainage="vertical, well drained"`}},
		{"dragout.area", []string{"area=3 m²", "film=1 L/m²", "drainage=vertical, well drained"}, []string{`drainage: both a film and a drainage are given | give one of them`}},
		{"dragout.area", []string{"area=3 m", "film=1 L"}, []string{
			`area: "3 m" is a length; wanted is an area | write it as "14 m²"`,
			`film: "1 L" is a volume; wanted is a drag-out per area | write it as "0.08 L/m²"`,
		}},
		{"dragout.film", []string{"withdrawal=0 cm/s", "viscosity=0 cP", "density=1 g/mL"}, []string{
			`withdrawal: work that is not withdrawn carries nothing out | give the speed out of the bath: withdrawal="10 cm/s"`,
			`viscosity: no liquid has a viscosity of zero | give the bath's: viscosity="1.2 cP"`,
		}},
		{"dragout.additions", []string{"added=5 L", "bath=0 g/L", "area=0 m²"}, []string{
			`area: an area of zero has no film | give the area of the work, or leave it out`,
			`bath: a bath that holds none of the ingredient loses none | give its concentration in the bath: bath="30 g/L"`,
			`bath: the addition is 5 L and the bath is 0 g/L, which do not go together without a density or a molar mass | give a mass with g/L or oz/gal, a volume with mL/L or % v/v`,
		}},
		{"dragout.additions", []string{"added=5 kg", "bath=2 mol/L"}, []string{
			`bath: the addition is 5 kg and the bath is 2 mol/L, which do not go together without a density or a molar mass | give a mass with g/L or oz/gal, a volume with mL/L or % v/v`,
		}},
		{"dragout.rise", []string{"volume=0 L", "bath=0 g/L", "rise=1 mL/L", "loads=0"}, []string{
			`volume: a rinse without volume holds nothing | give the volume of the rinse: volume="200 L"`,
			`rise: 1 mL/L is on another basis than the bath, 0 g/L | give both in the same unit`,
			`loads: no load shows no drag-out | give the loads over which the rinse rose: loads="20"`,
			`bath: a bath that holds none of it cannot make the rinse rise | give its concentration in the bath: bath="70 g/L"`,
		}},
		{"dragout.rise", []string{"volume=1 L", "bath=2 g/L", "rise=2 g/L", "loads=1"}, []string{`rise: the rinse cannot become as strong as the bath by drag-out | check the rise and the concentration in the bath`}},
		{"dragout.rise", []string{"volume=1 L", "bath=2 g/L", "rise=1 g/L", "loads=1", "start=2 g/L"}, []string{`start: the rinse was as strong as the bath before the first load | check both concentrations`}},
		{"dragout.rise", []string{"volume=1", "bath=2", "rise=1 ppm", "loads=1.5", "start="}, []string{
			`volume: "1" has no unit | write it as "120 L"`,
			`bath: "2" has no unit | write it as "350 g/L"`,
			`rise: "1 ppm" does not say parts of what | write what was measured: mg/L in water, mg/kg in a solid, ppm only for air; here as in "350 g/L"`,
			`start: it has no value | give start="0.2 g/L", or leave it out`,
			`loads: "1.5" is not a whole number from zero up | write it in digits, without a unit: "2"`,
		}},
	} {
		_, err := run(t, c.method, c.arguments...)
		assert.Equal(t, c.want, workingtest.Faults(err), "%s %v", c.method, c.arguments)
	}
}

// What is not known stays so, with its reason, and is no fault.
func TestUnknownIsNotZero(t *testing.T) {
	area, err := dragout.ByArea{Area: working.Absent[quantity.Area]("no area is recorded"), Film: workingtest.Given(quantity.LitrePerSquareMetre)}.Solve()
	require.NoError(t, err)
	assert.Equal(t, "no area is recorded", area.Volume.Why())
	_, err = dragout.ByWithdrawal{Density: workingtest.Given(quantity.Density(0))}.Solve()
	assert.EqualError(t, err, "density: no liquid has a density of zero")
	film, err := dragout.ByWithdrawal{}.Solve()
	require.NoError(t, err)
	assert.False(t, film.Film.Known())
	additions, err := dragout.ByAdditions{Area: workingtest.Given(quantity.SquareMetre)}.Solve()
	require.NoError(t, err)
	assert.False(t, additions.Volume.Known() || additions.Film.Known())
	rise, err := dragout.ByRise{Rise: workingtest.Given(quantity.GramsPerLitre(1)), Start: workingtest.Given(quantity.GramsPerLitre(1))}.Solve()
	require.NoError(t, err)
	assert.False(t, rise.PerLoad.Known() || rise.Linear.Known())
}

func TestBoundsGoThrough(t *testing.T) {
	film, err := dragout.Film("vertical, poorly drained")
	require.NoError(t, err)
	r, err := dragout.ByArea{Area: workingtest.Given(1000 * quantity.SquareFoot), Film: film}.Solve()
	require.NoError(t, err)
	require.True(t, r.Volume.Spread())
	assert.InEpsilon(t, 10, float64(r.Volume.At(working.High)/r.Volume.At(working.Low)), 1e-12)
}

func TestJSON(t *testing.T) {
	workingtest.JSON(t, dragout.Methods(), map[string][]string{
		"dragout.area":      {"area=14 m²", "drainage=vertical, well drained"},
		"dragout.film":      {"withdrawal=10 cm/s", "viscosity=1.2 cP", "density=1.15 g/mL"},
		"dragout.additions": {"added=12 kg", "bath=30 g/L", "area=140 m²"},
		"dragout.rise":      {"volume=200 L", "bath=70 g/L", "rise=1.4 g/L", "loads=20"},
	})
}
