package working

import (
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
)

// Methods are the methods of this package.
func Methods() []Method { return []Method{conversion()} }

// conversion gives a quantity in another unit. Between mass, volume and amount
// of substance it goes by c = n × M, c = share × ρ, m = V × ρ and, for gases,
// ppm = c × Vm / M with the molar volume of 29 CFR 1910.1000 Table Z-1 (24.45
// L/mol at 25 °C and 760 torr), taken to the temperature by the gas law.
//
// Left out: what changes density with temperature, and gases away from the
// pressure of 760 torr.
func conversion() Method {
	return Method{
		Name: "convert",
		Help: "a quantity in another unit",
		Inputs: []Param{
			{Name: "value", What: "the quantity", Example: "53 oz/gal"},
			{Name: "to", What: "the unit wanted", Example: "g/L"},
			{Name: "molar_mass", What: "of the substance, between mass and amount", Example: "58.69 g/mol", Optional: true},
			{Name: "density", What: "of the liquid, between mass and volume", Example: "1.18 g/mL", Optional: true},
			{Name: "temperature", What: "of the air, for ppm", Example: "25 °C", Optional: true},
		},
		Outputs: []Result{{Name: "value", What: "the same in the unit wanted"}},
		Solve:   convert,
	}
}

func convert(in *Inputs) (Outputs, error) {
	value, to := in.Word("value"), in.Word("to")
	bridge := quantity.Bridge{
		MolarMass:   stated[quantity.MolarMass](in, "molar_mass"),
		Density:     stated[quantity.Density](in, "density"),
		Temperature: stated[quantity.Temperature](in, "temperature"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	converted, err := quantity.Convert(value.Is(), to.Is(), bridge)
	if err != nil {
		return nil, inputAtFault(err, value.Is(), to.Is())
	}
	terms := []Term{value.As("value", "as given")}
	var caveats []Caveat
	for _, used := range converted.Used {
		symbol, what, _ := strings.Cut(used, " = ")
		t := Given(source.Value[string]{Is: what}, what).As(symbol, "")
		if strings.HasSuffix(what, ", assumed") {
			t.input.Origin = source.Assumed
			caveats = append(caveats, Caveat("no temperature is given; "+used))
		}
		terms = append(terms, t)
	}
	figure := Compute(Formula{Line: converted.Formula, Unit: converted.Unit}, func(Case) float64 { return converted.Value }, terms...)
	return Outputs{{"value", Number(figure.WithCaveats(caveats...), converted.Unit)}}, nil
}

// inputAtFault places a refusal at the input that is refused whatever the other
// one is; what only the two together give stays the method's.
func inputAtFault(err error, value, to string) error {
	same := func(value, to string) bool {
		_, other := quantity.Convert(value, to, quantity.Bridge{})
		return other != nil && other.Error() == err.Error()
	}
	switch {
	case same(value, "L") && same(value, "g"):
		return faultAt("value", err)
	case same("1 L", to) && same("1 g", to):
		return faultAt("to", err)
	}
	return err
}

// stated reads an optional quantity with its text.
func stated[Q quantity.Quantity[Q]](in *Inputs, name string) quantity.Stated[Q] {
	var s quantity.Stated[Q]
	if e := Quantity[Q](in, name); e.Known() {
		if err := s.UnmarshalText([]byte(e.Text())); err != nil {
			panic("working: " + err.Error()) // it was read from the same text
		}
	}
	return s
}
