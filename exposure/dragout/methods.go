package dragout

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Methods are the methods of this package.
func Methods() []working.Method {
	return []working.Method{areaMethod, filmMethod, additionsMethod, riseMethod}
}

var areaMethod = working.Method{
	Name: "dragout.area",
	Help: "solution that leaves a bath on an area of work",
	Inputs: []working.Param{
		{Name: "area", What: "wetted, of the work", Example: "14 m²"},
		{Name: "film", What: "volume on each area; or drainage", Example: "2.0 gal/1000 ft²", Optional: true},
		{Name: "drainage", What: "how the work hangs and drains, for the published film", Example: "vertical, well drained", Optional: true},
	},
	Outputs: []working.Result{{Name: "volume", What: "of solution"}},
	Solve:   solveArea,
}

func solveArea(in *working.Inputs) (working.Outputs, error) {
	d := ByArea{Area: working.Quantity[quantity.Area](in, "area"), Film: working.Quantity[quantity.Film](in, "film")}
	drainage := in.Word("drainage", Drainages()...)
	if err := in.Err(); err != nil {
		return nil, err
	}
	switch {
	case d.Film.Known() && drainage.Known():
		return nil, &working.Fault{Where: "drainage", What: "both a film and a drainage are given", Mend: "give one of them"}
	case drainage.Known():
		film, err := Film(drainage.Is())
		if err != nil {
			return nil, err
		}
		d.Film = film
	case !d.Film.Known():
		return nil, &working.Fault{Where: "film", What: "it is not given", Mend: `give film="2.0 gal/1000 ft²", or drainage="vertical, well drained"`}
	}
	r, err := d.Solve()
	return working.Outputs{{Name: "volume", Value: working.Figure(r.Volume, "L", "gal")}}, err
}

var filmMethod = working.Method{
	Name: "dragout.film",
	Help: "film on work as it is withdrawn from a bath",
	Inputs: []working.Param{
		{Name: "withdrawal", What: "speed out of the bath", Example: "10 cm/s"},
		{Name: "viscosity", What: "of the bath", Example: "1.2 cP"},
		{Name: "density", What: "of the bath", Example: "1.15 g/mL"},
	},
	Outputs: []working.Result{{Name: "film", What: "volume on each wetted area"}},
	Solve:   solveFilm,
}

func solveFilm(in *working.Inputs) (working.Outputs, error) {
	d := ByWithdrawal{
		Withdrawal: working.Quantity[quantity.Speed](in, "withdrawal"),
		Viscosity:  working.Quantity[quantity.Viscosity](in, "viscosity"),
		Density:    working.Quantity[quantity.Density](in, "density"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := d.Solve()
	return working.Outputs{{Name: "film", Value: working.Figure(r.Film, "L/m²", "gal/1000 ft²")}}, err
}

var additionsMethod = working.Method{
	Name: "dragout.additions",
	Help: "drag-out from what had to be added of an ingredient that leaves by drag-out only",
	Inputs: []working.Param{
		{Name: "added", What: "of the ingredient, over a time", Example: "12 kg"},
		{Name: "bath", What: "its concentration in the bath", Example: "30 g/L"},
		{Name: "area", What: "of the work in that time, for the film", Example: "140 m²", Optional: true},
	},
	Outputs: []working.Result{
		{Name: "volume", What: "of solution, over that time"},
		{Name: "film", What: "volume on each area", Optional: true},
	},
	Solve: solveAdditions,
}

func solveAdditions(in *working.Inputs) (working.Outputs, error) {
	d := ByAdditions{
		Added: working.Quantity[quantity.Amount](in, "added"),
		Bath:  working.Quantity[quantity.BathConcentration](in, "bath"),
		Area:  working.Quantity[quantity.Area](in, "area"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := d.Solve()
	return working.Outputs{
		{Name: "volume", Value: working.Figure(r.Volume, "L", "gal")},
		{Name: "film", Value: working.Figure(r.Film, "L/m²", "gal/1000 ft²")},
	}, err
}

var riseMethod = working.Method{
	Name: "dragout.rise",
	Help: "drag-out of one load from the rise of a still rinse",
	Inputs: []working.Param{
		{Name: "volume", What: "of the still rinse", Example: "200 L"},
		{Name: "bath", What: "concentration in the bath before it", Example: "70 g/L"},
		{Name: "rise", What: "of the same in the rinse, over the loads", Example: "1.4 g/L"},
		{Name: "loads", What: "that went through the rinse", Example: "20"},
		{Name: "start", What: "in the rinse before the first load; clean where left out", Example: "0.2 g/L", Optional: true},
	},
	Outputs: []working.Result{
		{Name: "per_load", What: "drag-out of one load"},
		{Name: "linear", What: "the same without what each load takes away again"},
	},
	Solve: solveRise,
}

func solveRise(in *working.Inputs) (working.Outputs, error) {
	d := ByRise{
		Volume: working.Quantity[quantity.Volume](in, "volume"),
		Bath:   working.Quantity[quantity.BathConcentration](in, "bath"),
		Rise:   working.Quantity[quantity.BathConcentration](in, "rise"),
		Start:  working.Quantity[quantity.BathConcentration](in, "start"),
		Loads:  in.Count("loads"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := d.Solve()
	return working.Outputs{
		{Name: "per_load", Value: working.Figure(r.PerLoad, "L", "L")},
		{Name: "linear", Value: working.Figure(r.Linear, "L", "L")},
	}, err
}
