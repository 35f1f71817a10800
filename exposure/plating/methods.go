package plating

import (
	"strconv"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Methods are the methods of this package, with the metals of a table.
func Methods(metals Metals) []working.Method {
	return []working.Method{metals.depositMethod(), metals.chargeMethod()}
}

func metalInputs() []working.Param {
	return []working.Param{
		{Name: "metal", What: "element symbol", Example: "Ni"},
		{Name: "valence", What: "electrons that deposit one atom", Example: "2"},
		{Name: "efficiency", What: "cathode efficiency", Example: "95 %"},
		{Name: "molar_mass", What: "instead of the one in the table", Example: "58.69 g/mol", Optional: true},
		{Name: "density", What: "instead of the one in the table", Example: "8.9 g/mL", Optional: true},
	}
}

func (metals Metals) depositMethod() working.Method {
	return working.Method{
		Name: "plating.deposit",
		Help: "mass and mean thickness that a charge deposits",
		Inputs: append(metalInputs(),
			working.Param{Name: "charge", What: "charge passed; or current and time", Example: "400 A·h", Optional: true},
			working.Param{Name: "current", What: "with time, instead of the charge", Example: "20 A", Optional: true},
			working.Param{Name: "time", What: "with current, instead of the charge", Example: "1 h", Optional: true},
			working.Param{Name: "area", What: "plated, for the thickness", Example: "14 dm²", Optional: true}),
		Outputs: []working.Result{
			{Name: "mass", What: "of the deposit"},
			{Name: "thickness", What: "mean over the area", Optional: true},
			{Name: "charge", What: "charge passed"},
		},
		Solve: metals.solveDeposit,
	}
}

func (metals Metals) solveDeposit(in *working.Inputs) (working.Outputs, error) {
	d := Deposit{
		Metal:      metals.of(in),
		Valence:    in.Count("valence"),
		Charge:     working.Quantity[quantity.Charge](in, "charge"),
		Current:    working.Quantity[quantity.Current](in, "current"),
		Time:       working.Quantity[quantity.Duration](in, "time"),
		Efficiency: in.Share("efficiency"),
		Area:       working.Quantity[quantity.Area](in, "area"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := d.Solve()
	return working.Outputs{
		{Name: "mass", Value: working.Figure(r.Mass, "g", "oz")},
		{Name: "thickness", Value: working.Figure(r.Thickness, "µm", "mil")},
		{Name: "charge", Value: working.Figure(r.Charge, "A·h", "A·h")},
	}, err
}

func (metals Metals) chargeMethod() working.Method {
	return working.Method{
		Name: "plating.charge",
		Help: "charge that a deposit takes, and the time or the current",
		Inputs: append(metalInputs(),
			working.Param{Name: "thickness", What: "mean over the area; or mass", Example: "10 µm", Optional: true},
			working.Param{Name: "area", What: "to be plated, with the thickness", Example: "14 dm²", Optional: true},
			working.Param{Name: "mass", What: "instead of thickness and area", Example: "12 g", Optional: true},
			working.Param{Name: "current", What: "to learn the time", Example: "20 A", Optional: true},
			working.Param{Name: "time", What: "to learn the current", Example: "15 min", Optional: true}),
		Outputs: []working.Result{
			{Name: "charge", What: "to pass"},
			{Name: "time", What: "at the current", Optional: true},
			{Name: "current", What: "over the time", Optional: true},
			{Name: "mass", What: "of the deposit"},
		},
		Solve: metals.solveCharge,
	}
}

func (metals Metals) solveCharge(in *working.Inputs) (working.Outputs, error) {
	d := Charge{
		Metal:      metals.of(in),
		Valence:    in.Count("valence"),
		Thickness:  working.Quantity[quantity.Length](in, "thickness"),
		Area:       working.Quantity[quantity.Area](in, "area"),
		Mass:       working.Quantity[quantity.Mass](in, "mass"),
		Efficiency: in.Share("efficiency"),
		Current:    working.Quantity[quantity.Current](in, "current"),
		Time:       working.Quantity[quantity.Duration](in, "time"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := d.Solve()
	return working.Outputs{
		{Name: "charge", Value: working.Figure(r.Charge, "A·h", "A·h")},
		{Name: "time", Value: working.Figure(r.Time, "min", "min")},
		{Name: "current", Value: working.Figure(r.Current, "A", "A")},
		{Name: "mass", Value: working.Figure(r.Mass, "g", "oz")},
	}, err
}

// of looks the metal up in the table; a molar mass or density that is
// given takes the place of the published one, and makes do for a metal that
// the table lacks.
func (metals Metals) of(in *working.Inputs) Metal {
	symbol := in.Word("metal")
	molarMass := working.Quantity[quantity.MolarMass](in, "molar_mass")
	density := working.Quantity[quantity.Density](in, "density")
	if !symbol.Known() {
		return Metal{MolarMass: molarMass, Density: density}
	}
	m, found := metals(symbol.Is())
	if !found {
		why := strconv.Quote(symbol.Is()) + " is not in the table"
		m = Metal{
			Symbol:    symbol.Is(),
			MolarMass: working.Absent[quantity.MolarMass](why),
			Density:   working.Absent[quantity.Density](why + " and its density is not given"),
		}
	}
	if molarMass.Known() {
		m.MolarMass = molarMass
	}
	if density.Known() {
		m.Density = density
	}
	return m
}
