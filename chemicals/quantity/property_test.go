package quantity

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// written is a quantity that somebody might write: six digits at most.
type written struct {
	kind  kind
	thing *thing
	unit  *unit
	value float64
}

func (w written) symbol() string {
	if w.thing.note == nil {
		return w.unit.symbol
	}
	return w.thing.note.join(w.unit.symbol, w.thing.note.example)
}

func (w written) text() string { return Plain(w.value) + " " + w.symbol() }

// slack is how far a reading may be off: twelve digits of the value, or of the
// number that the scale adds.
func (w written) slack() float64 {
	offset := 0.
	if w.unit.scale != nil {
		offset = 500
	}
	return 1e-12 * max(math.Abs(w.value), offset)
}

// eachUnit runs check for values of every unit of every type.
func eachUnit(t *testing.T, check func(t *rapid.T, w written)) {
	for _, k := range kinds {
		for _, th := range k.things {
			for i := range th.units {
				w := written{kind: k, thing: th, unit: &th.units[i]}
				t.Run(k.name+" in "+w.unit.symbol, func(t *testing.T) {
					rapid.Check(t, func(t *rapid.T) {
						w.value = believable(t, w)
						check(t, w)
					})
				})
			}
		}
	}
}

// believable draws across the orders of magnitude that the thing allows.
func believable(t *rapid.T, w written) float64 {
	low, high := w.unit.of(w.thing.least), w.unit.of(w.thing.most)
	if s := w.unit.scale; s != nil && s.ends != "" {
		low, high = s.least, s.most
	}
	size := math.Pow(10, -rapid.Float64Range(0, 9).Draw(t, "orders below the most"))
	v := low + (high-low)*size
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil || rounded < low || rounded > high {
		t.Skip("rounded out of bounds")
	}
	return rounded
}

func TestPrintThenParse(t *testing.T) {
	eachUnit(t, func(t *rapid.T, w written) {
		q, err := w.kind.parse(w.text())
		require.NoError(t, err)
		require.Same(t, w.thing, q.measure().thing)
		v, err := In(q, w.symbol())
		require.NoError(t, err)
		require.InDelta(t, w.value, v, w.slack())

		back, err := w.kind.parse(Print(q, w.symbol(), 15))
		require.NoError(t, err)
		require.Same(t, w.thing, back.measure().thing)
		again, err := In(back, w.symbol())
		require.NoError(t, err)
		require.InDelta(t, w.value, again, w.slack()+1e-12) // no more than twelve decimals are printed
	})
}

func TestStatedKeepsItsText(t *testing.T) {
	eachUnit(t, func(t *rapid.T, w written) {
		blank := rapid.StringOfN(rapid.SampledFrom([]rune{' ', '\t', '\u00a0'}), 1, 3, -1).Draw(t, "blank")
		s := w.kind.stated()
		require.NoError(t, s.UnmarshalText([]byte(blank+strings.ReplaceAll(w.text(), " ", blank)+blank)))
		require.True(t, s.Known())
		require.Equal(t, w.text(), s.String())

		stored, err := s.MarshalText()
		require.NoError(t, err)
		again := w.kind.stated()
		require.NoError(t, again.UnmarshalText(stored))
		require.Equal(t, s, again)
	})
}

func TestMeaningIsTheSameInEveryUnit(t *testing.T) {
	eachUnit(t, func(t *rapid.T, w written) {
		s := w.kind.stated()
		require.NoError(t, s.UnmarshalText([]byte(w.text())))
		q, err := w.kind.parse(w.text())
		require.NoError(t, err)
		base := q.measure().base
		if atRoundingEdge(base) || w.unit.scale != nil {
			return // not the same to twelve digits after a change of unit
		}
		for i := range w.thing.units {
			other := written{kind: w.kind, thing: w.thing, unit: &w.thing.units[i]}
			if other.unit.scale != nil {
				continue
			}
			restated, err := w.kind.state(q.measure(), other.symbol())
			if err != nil {
				continue // too small a figure in the other unit
			}
			require.Equal(t, s.Meaning(), restated.Meaning(), "%s stated as %s", w.text(), restated)
		}
	})
}

// atRoundingEdge finds values whose twelfth digit hangs on the last bits.
func atRoundingEdge(v float64) bool {
	const d = 2e-14
	return strconv.FormatFloat(v*(1-d), 'g', 12, 64) != strconv.FormatFloat(v*(1+d), 'g', 12, 64)
}

func TestConvertThereAndBack(t *testing.T) {
	eachUnit(t, func(t *rapid.T, w written) {
		if w.thing == &temperatureDifference {
			return // not converted
		}
		for _, to := range convertsTo(w.thing) {
			there, err := Convert(w.text(), to, Bridge{})
			if err != nil {
				continue // beyond belief for the other kind
			}
			require.NotEmpty(t, there.Formula)
			back, err := Convert(Plain(there.Value)+" "+to, w.symbol(), Bridge{})
			if there.Value != 0 && math.Abs(there.Value) < smallest {
				continue
			}
			require.NoError(t, err, "%s is %s %s", w.text(), Plain(there.Value), to)
			slack := 1e-12 * max(math.Abs(w.value), 500)
			if w.thing.dimension != temperatureOf && w.thing.dimension != densityOf {
				slack = 1e-12 * math.Abs(w.value)
			}
			require.InDelta(t, w.value, back.Value, slack, "%s by way of %s", w.text(), to)
		}
	})
}

func TestConvertOverABridgeThereAndBack(t *testing.T) {
	for _, c := range []struct{ kind, from, to string }{
		{"Mass", "lb", "gal"}, {"MassShare", "% w/w", "g/L"}, {"MassShare", "% w/w", "mol/L"},
		{"MassShare", "% w/w", "N (1/3 H3PO4)"}, {"BathConcentration", "mL/L", "oz/gal"},
		{"BathConcentration", "mL/L", "mol/L"}, {"BathConcentration", "oz/gal", "N (1/2 H2SO4)"},
		{"EffluentConcentration", "µg/L", "mol/L"}, {"SolidsConcentration", "mg/kg", "mg/L"},
		{"AirConcentration", "ppm", "mg/m³"}, {"AirConcentration", "µg/m³", "ppm"},
	} {
		t.Run(c.from+" to "+c.to, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				var b Bridge
				var err error
				b.Density, err = State(GramPerMillilitre*Density(rapid.Float64Range(0.7, 2).Draw(t, "density")), "g/mL")
				require.NoError(t, err)
				b.MolarMass, err = State(GramPerMole*MolarMass(rapid.Float64Range(20, 400).Draw(t, "molar mass")), "g/mol")
				require.NoError(t, err)
				b.Temperature, err = State(DegreeCelsius*Temperature(rapid.Float64Range(-20, 90).Draw(t, "temperature")), "°C")
				require.NoError(t, err)

				value := rapid.Float64Range(0.001, 20).Draw(t, "value")
				there, err := Convert(Plain(value)+" "+c.from, c.to, b)
				require.NoError(t, err)
				require.NotEmpty(t, there.Used)
				back, err := Convert(Plain(there.Value)+" "+c.to, c.from, b)
				require.NoError(t, err)
				require.InEpsilon(t, value, back.Value, 1e-11)
			})
		})
	}
}

// figures that reports print: anything a shop computes, and awkward halves.
var anyFigure = rapid.OneOf(
	rapid.Float64Range(-1e12, 1e12),
	rapid.Float64Range(-1, 1),
	rapid.Map(rapid.IntRange(-2000000, 2000000), func(i int) float64 { return float64(i) / 2000 }),
)

// fifteenDigits is v as a spreadsheet has it, without this package's help.
func fifteenDigits(t require.TestingT, v float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(v, 'g', 15, 64))
	require.True(t, ok)
	return r
}

func TestFixedRoundsHalvesAwayFromZero(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, decimals := anyFigure.Draw(t, "v"), rapid.IntRange(0, 12).Draw(t, "decimals")
		// floor(|v| × 10^d + 1/2), in whole numbers
		scaled := new(big.Rat).Abs(fifteenDigits(t, v))
		power := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil)
		scaled.Mul(scaled, new(big.Rat).SetInt(power)).Add(scaled, big.NewRat(1, 2))
		want := new(big.Int).Quo(scaled.Num(), scaled.Denom())
		if v < 0 {
			want.Neg(want)
		}

		got := Fixed(v, decimals)
		whole, fraction, _ := strings.Cut(got, ".")
		require.Len(t, fraction, decimals)
		digits, ok := new(big.Int).SetString(whole+fraction, 10)
		require.True(t, ok, got)
		require.Zero(t, want.Cmp(digits), "%v with %d decimals is %s", v, decimals, got)
		require.False(t, strings.HasPrefix(got, "-") && digits.Sign() == 0, "a negative zero: %s", got)
	})
}

func TestSignificantShowsSoManyDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, digits := anyFigure.Draw(t, "v"), rapid.IntRange(1, 15).Draw(t, "digits")
		if math.Abs(v) < 1e-4 {
			t.Skip("cut off at twelve decimals")
		}
		got := Significant(v, digits)
		whole, fraction, _ := strings.Cut(strings.TrimPrefix(got, "-"), ".")
		shown := len(strings.TrimLeft(whole+fraction, "0"))
		switch {
		case len(fraction) == 12:
			require.LessOrEqual(t, shown, digits, got)
		case shown > digits:
			require.Empty(t, fraction, got)
		default:
			require.Equal(t, digits, shown, "%v", v)
		}
		back, err := strconv.ParseFloat(got, 64)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(back-v), 0.5*math.Pow10(-len(fraction))+1e-14*math.Abs(v), got)
	})
}

func TestPlainIsShortAndExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.OneOf(anyFigure, rapid.Float64Range(-1e300, 1e300), rapid.Float64Range(-1e-300, 1e-300)).Draw(t, "v")
		got := Plain(v)
		require.NotContains(t, got, "e")
		require.NotEqual(t, "-0", got)
		whole, fraction, pointed := strings.Cut(strings.TrimPrefix(got, "-"), ".")
		require.False(t, pointed && strings.HasSuffix(fraction, "0"), got)
		require.LessOrEqual(t, len(strings.TrimRight(strings.TrimLeft(whole+fraction, "0"), "0")), 15, got)
		exact, ok := new(big.Rat).SetString(got)
		require.True(t, ok)
		back, _ := exact.Float64()
		want, _ := fifteenDigits(t, v).Float64()
		require.Equal(t, want, back+0, "%v", v)
		require.Equal(t, got, Plain(back))
	})
}
