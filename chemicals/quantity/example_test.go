package quantity_test

import (
	"fmt"

	"bathwarden/chemicals/quantity"
)

func ExampleParse() {
	bath, err := quantity.Parse[quantity.BathConcentration]("46.7 oz/gal")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(quantity.Print(bath, "g/L", 3))
	// Output: 350 g/L
}

func ExampleParse_refused() {
	_, err := quantity.Parse[quantity.EffluentConcentration]("0,31 mg/L")
	if refusal, ok := err.(*quantity.Refusal); ok {
		fmt.Println(refusal.What)
		fmt.Println(refusal.Mend)
	}
	// Output:
	// "0,31 mg/L" has a comma in its number
	// write "0.31", with a point as the decimal mark
}

func ExampleStated() {
	var tank quantity.Stated[quantity.Volume]
	if err := tank.UnmarshalText([]byte("380 gal")); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s (%s)\n", tank, quantity.Print(tank.Is(), quantity.Unit(tank.Is(), quantity.Metric), 3))
	// Output: 380 gal (1438 L)
}

func ExampleConvert() {
	var bridge quantity.Bridge
	if err := bridge.MolarMass.UnmarshalText([]byte("36.46 g/mol")); err != nil {
		fmt.Println(err)
		return
	}
	c, err := quantity.Convert("5 ppm", "mg/m³", bridge)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(quantity.Significant(c.Value, 3), c.Unit)
	fmt.Println(c.Formula)
	fmt.Println(c.Used)
	// Output:
	// 7.46 mg/m³
	// c = ppm × M / Vm
	// [M = 36.46 g/mol Vm = 24.45 L/mol at 25 °C, assumed]
}
