package quantity

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// FuzzParse reads any text as every type. What is read is finite and within
// bounds, and means the same when its own text is read again; what is not read
// is refused with both parts.
func FuzzParse(f *testing.F) {
	for _, k := range kinds {
		f.Add(k.stated().Example())
	}
	for _, text := range []string{"", "5", "1,5 L", "-0 °C", "32 °F", "145 °Bé", "2 N (1/2 H₂SO₄)", "5e-16 L", "1/2 gal", "5 \xb5m", "５ L", "12 USD / m3"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range kinds {
			s := k.stated()
			if err := s.UnmarshalText([]byte(text)); err != nil {
				refused(t, err)
				continue
			}
			if !s.Known() {
				continue
			}
			if !utf8.ValidString(s.String()) || len(s.String()) > longest+1 || s.Unit() == "" {
				t.Errorf("%s reads %q", k.name, text)
			}
			again := k.stated()
			if err := again.UnmarshalText([]byte(s.String())); err != nil || again.Meaning() != s.Meaning() {
				t.Errorf("%s: %q means %q, read again %q (%v)", k.name, text, s.Meaning(), again.Meaning(), err)
			}
			q, err := k.parse(s.String())
			if err != nil {
				t.Fatalf("%s: %q: %v", k.name, s, err)
			}
			if m := q.measure(); !Finite(q) || !within(m.base, m.thing.least, m.thing.most) {
				t.Errorf("%s: %q is %v", k.name, text, m.base)
			}
		}
	})
}

func refused(t *testing.T, err error) {
	t.Helper()
	var refusal *Refusal
	if !errors.As(err, &refusal) || refusal.What == "" || refusal.Mend == "" || !utf8.ValidString(refusal.What+refusal.Mend) {
		t.Errorf("refused with %#v", err)
	}
}

// FuzzConvert converts any value from any unit to any other, with and without
// what bridges; text and goal, where they are not empty, stand for the value and
// for the unit to convert to. A value is finite and leads back to where it came
// from; a refusal has both parts.
func FuzzConvert(f *testing.F) {
	var symbols []string
	for _, t := range every {
		symbols = append(symbols, t.symbols()...)
	}
	symbols = append(symbols, "N (1/1 H2SO4)", "N (1/1 HCl)", "EUR/kg", "K", "N", "ppb")
	index := func(symbol string) uint16 { return uint16(max(0, slices.Index(symbols, symbol))) }
	f.Add("", "", 350., index("g/L"), index("oz/gal"), 0., 0., 0.)
	f.Add("", "", 20., index("°C"), index("°F"), 0., 0., 0.)
	f.Add("", "", 35., index("°Bé"), index("g/mL"), 0., 0., 0.)
	f.Add("", "", 5., index("ppm"), index("mg/m³"), 0., 36.46, 60.)
	f.Add("", "", 12., index("% w/w"), index("N (1/2 H2SO4)"), 1.18, 98.08, 0.)
	f.Add("", "", 4.1, index("USD/m³"), index("USD/gal"), 0., 0., 0.)
	f.Add("55 C", "F", 0., uint16(0), uint16(0), 0., 0., 0.)
	f.Add("2 N (1/2 H2SO4)", "mol/l", 0., uint16(0), uint16(0), 0., 0., 0.)
	f.Fuzz(func(t *testing.T, text, goal string, value float64, from, to uint16, density, molarMass, temperature float64) {
		if math.IsNaN(value) || math.IsInf(value, 0) {
			return
		}
		if text == "" {
			text = Plain(value) + " " + symbols[int(from)%len(symbols)]
		}
		if goal == "" {
			goal = symbols[int(to)%len(symbols)]
		}
		var b Bridge // what cannot be stated stays unknown
		b.Density, _ = State(Density(density), "g/mL")
		b.MolarMass, _ = State(MolarMass(molarMass), "g/mol")
		b.Temperature, _ = State(Temperature(temperature), "°C")
		c, err := Convert(text, goal, b)
		if err != nil {
			refused(t, err)
			return
		}
		if math.IsNaN(c.Value) || math.IsInf(c.Value, 0) || c.Formula == "" {
			t.Fatalf("%q to %q: %+v", text, goal, c)
		}
		leadsBack(t, text, c, b)
	})
}

func leadsBack(t *testing.T, text string, c Conversion, b Bridge) {
	t.Helper()
	number, symbol, err := split(text, "")
	if err != nil {
		t.Fatalf("%q was converted and has no number: %v", text, err)
	}
	back, err := Convert(Plain(c.Value)+" "+c.Unit, symbol, b)
	if err != nil {
		if c.Unit != "N" && math.Abs(c.Value) >= smallest {
			t.Errorf("%q is %v %s, which does not lead back: %v", text, c.Value, c.Unit, err)
		}
		return
	}
	slack := 1e-11 * math.Abs(number)
	if strings.ContainsAny(c.Unit+symbol, "°℃℉CFB") {
		slack = 1e-11 * max(math.Abs(number), 500) // the scales add to the number
	}
	if math.Abs(back.Value-number) > slack {
		t.Errorf("%q is %v %s, which is %v %s", text, c.Value, c.Unit, back.Value, symbol)
	}
}
