package rinse

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Methods are the methods of this package.
func Methods() []working.Method {
	return []working.Method{
		runningMethod, counterflowMethod, separateMethod, stillMethod, dayMethod,
		dipMethod, sprayMethod, returnMethod, costMethod,
	}
}

// flowInputs are what the running rinses take alike.
func flowInputs(more ...working.Param) []working.Param {
	return append(append([]working.Param{
		{Name: "drag_out", What: "solution that the work brings", Example: "2 L/h"},
	}, more...), []working.Param{
		{Name: "water", What: "fresh water, to learn the ratio", Example: "10 L/min", Optional: true},
		{Name: "ratio", What: "wanted, to learn the water", Example: "1000", Optional: true},
		{Name: "bath", What: "concentration in the bath, to learn those of the rinses", Example: "70 g/L", Optional: true},
		{Name: "target", What: "wanted in the last rinse, a concentration or a share of the bath, instead of the ratio", Example: "37 mg/L", Optional: true},
		{Name: "mixing", What: "share of the ideal ratio that the rinse reaches; full where left out", Example: "80 %", Optional: true},
	}...)
}

var stagesInput = working.Param{Name: "stages", What: "rinses in a row", Example: "2"}

// readAsked reads what flowInputs declares.
func readAsked(in *working.Inputs) (asked, error) {
	a := asked{
		dragOut: working.Quantity[quantity.Flow](in, "drag_out"),
		water:   working.Quantity[quantity.Flow](in, "water"),
		ratio:   in.Number("ratio"),
		bath:    working.Quantity[quantity.BathConcentration](in, "bath"),
		mixing:  in.Share("mixing"),
	}
	share := target(in, &a.target)
	if err := in.Err(); err != nil {
		return a, err
	}
	if !share.Known() {
		return a, nil
	}
	switch {
	case a.ratio.Known():
		return a, &working.Fault{Where: "target", What: "both a ratio and a target are given", Mend: "give one of them"}
	case share.Is() == 0 || share.Is() > 1:
		return a, &working.Fault{Where: "target", What: share.Text() + " of the bath is no target for a rinse", Mend: `give what the last rinse may hold, over 0 % and at most 100 % of the bath: target="0.1 %"`}
	}
	a.ratio = working.Compute(working.Formula{Line: "r = 1 / x"}, func(c working.Case) float64 {
		return 1 / share.At(c)
	}, share.As("x", "wanted in the rinse as a share of the bath"))
	return a, nil
}

var runningMethod = working.Method{
	Name:   "rinse.running",
	Help:   "one running rinse: the ratio that a flow reaches, or the flow that a ratio takes",
	Inputs: flowInputs(),
	Outputs: []working.Result{
		{Name: "ratio", What: "how many times weaker than the bath the rinse is"},
		{Name: "water", What: "fresh water"},
		{Name: "rinse", What: "concentration in the rinse", Optional: true},
	},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		a, err := readAsked(in)
		if err != nil {
			return nil, err
		}
		r, err := Running{DragOut: a.dragOut, Water: a.water, Ratio: a.ratio, Bath: a.bath, Target: a.target, Mixing: a.mixing}.Solve()
		return working.Outputs{
			{Name: "ratio", Value: working.Number(r.Ratio, "")},
			{Name: "water", Value: working.Figure(r.Water, "L/h", "gal/h")},
			{Name: "rinse", Value: rinseFigure(r.Rinse)},
		}, err
	},
}

var counterflowMethod = working.Method{
	Name:   "rinse.counterflow",
	Help:   "rinses in a row, the water running against the work: the ratio, or the water it takes",
	Inputs: flowInputs(stagesInput),
	Outputs: []working.Result{
		{Name: "water", What: "fresh water into the last rinse"},
		{Name: "water_root", What: "the same by the usual rule, drag-out × ratio^(1/stages)"},
		{Name: "ratio", What: "how many times weaker than the bath the last rinse is"},
		{Name: "stages", What: "concentrations, from the first rinse to the last", Optional: true},
	},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		stages := in.Count("stages")
		a, err := readAsked(in)
		if err != nil {
			return nil, err
		}
		r, err := Counterflow{DragOut: a.dragOut, Stages: stages, Water: a.water, Ratio: a.ratio, Bath: a.bath, Target: a.target, Mixing: a.mixing}.Solve()
		return working.Outputs{
			{Name: "water", Value: working.Figure(r.Water, "L/h", "gal/h")},
			{Name: "water_root", Value: working.Figure(r.WaterRoot, "L/h", "gal/h")},
			{Name: "ratio", Value: working.Number(r.Ratio, "")},
			{Name: "stages", Value: concentrations(r.Stages)},
		}, err
	},
}

var separateMethod = working.Method{
	Name:   "rinse.separate",
	Help:   "rinses in a row, each with fresh water of its own: the ratio, or the water it takes",
	Inputs: flowInputs(stagesInput),
	Outputs: []working.Result{
		{Name: "water", What: "fresh water of all rinses together"},
		{Name: "ratio", What: "how many times weaker than the bath the last rinse is"},
		{Name: "each", What: "fresh water of one rinse"},
		{Name: "stages", What: "concentrations, from the first rinse to the last", Optional: true},
	},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		stages := in.Count("stages")
		a, err := readAsked(in)
		if err != nil {
			return nil, err
		}
		r, err := Separate{DragOut: a.dragOut, Stages: stages, Water: a.water, Ratio: a.ratio, Bath: a.bath, Target: a.target, Mixing: a.mixing}.Solve()
		return working.Outputs{
			{Name: "water", Value: working.Figure(r.Water, "L/h", "gal/h")},
			{Name: "ratio", Value: working.Number(r.Ratio, "")},
			{Name: "each", Value: working.Figure(r.Each, "L/h", "gal/h")},
			{Name: "stages", Value: concentrations(r.Stages)},
		}, err
	},
}

// concentrations are those of rinses in a row; no value where none is known.
func concentrations(all []working.Estimate[quantity.BathConcentration]) working.Value {
	if len(all) == 0 {
		return working.Figure(working.Absent[quantity.BathConcentration]("bath is not given"), "", "")
	}
	values := make([]working.Value, len(all))
	for i, c := range all {
		values[i] = rinseFigure(c)
	}
	return working.List(values...)
}

// rinseFigure is a concentration in a rinse, by mass in mg/L.
func rinseFigure(c working.Estimate[quantity.BathConcentration]) working.Value {
	if !c.Known() {
		return working.Figure(c, "", "")
	}
	if _, byMass := c.Is().GramsPerLitre(); byMass {
		return working.Figure(c, "mg/L", "mg/L")
	}
	unit := quantity.Unit(c.Is(), quantity.Metric)
	return working.Figure(c, unit, unit)
}
