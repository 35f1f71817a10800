package rinse

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

var stillMethod = working.Method{
	Name: "rinse.still",
	Help: "what still rinses come to hold, load by load",
	Inputs: []working.Param{
		{Name: "volume", What: "of each rinse", Example: "200 L"},
		{Name: "drag_in", What: "solution that one load brings", Example: "150 mL"},
		{Name: "loads", What: "from clean rinses", Example: "40"},
		{Name: "tanks", What: "rinses in a row", Example: "1"},
		{Name: "bath", What: "concentration in the bath before them", Example: "70 g/L"},
		{Name: "target", What: "in the last rinse, a concentration or a share of the bath, to learn the loads to it", Example: "10 %", Optional: true},
	},
	Outputs: []working.Result{
		{Name: "concentrations", What: "after the loads, from the first rinse to the last"},
		{Name: "loads_to_target", What: "loads to the target, not rounded: the next whole load passes it", Optional: true},
	},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		d := Still{
			Volume: working.Quantity[quantity.Volume](in, "volume"), DragIn: dragIn(in),
			Loads: in.Count("loads"), Tanks: in.Count("tanks"), Bath: working.Quantity[quantity.BathConcentration](in, "bath"),
		}
		d.Share = target(in, &d.Target)
		if err := in.Err(); err != nil {
			return nil, err
		}
		r, err := d.Solve()
		return working.Outputs{
			{Name: "concentrations", Value: concentrations(r.Concentrations)},
			{Name: "loads_to_target", Value: working.Number(r.LoadsToTarget, "")},
		}, err
	},
}

var dayMethod = working.Method{
	Name: "rinse.day",
	Help: "a day of loads through a counterflow that is clean at its start",
	Inputs: []working.Param{
		{Name: "volume", What: "of each stage", Example: "200 L"},
		{Name: "stages", What: "rinses in a row", Example: "2"},
		{Name: "drag_in", What: "solution that one load brings", Example: "150 mL"},
		{Name: "loads", What: "in the day", Example: "40"},
		{Name: "flow", What: "of fresh water into the last stage", Example: "4 L/min"},
		{Name: "hours", What: "over which the loads are spread", Example: "8 h"},
		{Name: "bath", What: "concentration in the bath before them", Example: "70 g/L"},
	},
	Outputs: []working.Result{
		{Name: "concentrations", What: "right after the last load, from the first stage to the last"},
		{Name: "turnover", What: "time in which the flow is the volume of one stage", Optional: true},
	},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		d := Day{
			Volume: working.Quantity[quantity.Volume](in, "volume"), Stages: in.Count("stages"), DragIn: dragIn(in), Loads: in.Count("loads"),
			Flow: working.Quantity[quantity.Flow](in, "flow"), Hours: hours(in, "hours"), Bath: working.Quantity[quantity.BathConcentration](in, "bath"),
		}
		if err := in.Err(); err != nil {
			return nil, err
		}
		r, err := d.Solve()
		return working.Outputs{
			{Name: "concentrations", Value: concentrations(r.Concentrations)},
			{Name: "turnover", Value: working.Figure(r.Turnover, "min", "min")},
		}, err
	},
}

var dipMethod = working.Method{
	Name:   "rinse.dip",
	Help:   "a rinse that the work goes through before and after the bath",
	Inputs: []working.Param{{Name: "bath", What: "concentration in the bath", Example: "70 g/L"}},
	Outputs: []working.Result{
		{Name: "rinse", What: "concentration that the rinse comes to"},
		{Name: "returned", What: "share of the drag-out that goes back into the bath"},
	},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		d := Dip{Bath: working.Quantity[quantity.BathConcentration](in, "bath")}
		if err := in.Err(); err != nil {
			return nil, err
		}
		r, err := d.Solve()
		return working.Outputs{
			{Name: "rinse", Value: working.Figure(r.Rinse, "", "")},
			{Name: "returned", Value: working.Number(r.Returned, "%")},
		}, err
	},
}

var sprayMethod = working.Method{
	Name: "rinse.spray",
	Help: "a rinse by spray, in one pass",
	Inputs: []working.Param{
		{Name: "drag_out", What: "solution that the work brings", Example: "2 L/h"},
		{Name: "water", What: "sprayed", Example: "10 L/h"},
		{Name: "effect", What: "of the spray on this work, 0.3 to 1 by its shape", Example: "0.5"},
	},
	Outputs: []working.Result{{Name: "ratio", What: "how many times weaker the drag-out becomes"}},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		d := Spray{DragOut: working.Quantity[quantity.Flow](in, "drag_out"), Water: working.Quantity[quantity.Flow](in, "water"), Effect: in.Number("effect")}
		if err := in.Err(); err != nil {
			return nil, err
		}
		r, err := d.Solve()
		return working.Outputs{{Name: "ratio", Value: working.Number(r.Ratio, "")}}, err
	},
}

var returnMethod = working.Method{
	Name: "rinse.return",
	Help: "share of the drag-out that returns to a bath as its water evaporates",
	Inputs: []working.Param{
		{Name: "drag_out", What: "solution that the work takes from the bath", Example: "2 L/h"},
		{Name: "evaporation", What: "of the bath", Example: "10 L/h"},
		{Name: "stages", What: "rinses in a row, fed with what evaporates", Example: "2"},
	},
	Outputs: []working.Result{{Name: "recovered", What: "share of the drag-out that gets back"}},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		d := Return{DragOut: working.Quantity[quantity.Flow](in, "drag_out"), Evaporation: working.Quantity[quantity.Flow](in, "evaporation"), Stages: in.Count("stages")}
		if err := in.Err(); err != nil {
			return nil, err
		}
		r, err := d.Solve()
		return working.Outputs{{Name: "recovered", Value: working.Number(r.Recovered, "%")}}, err
	},
}

var costMethod = working.Method{
	Name: "rinse.cost",
	Help: "water of a year and its cost",
	Inputs: []working.Param{
		{Name: "flow", What: "of water", Example: "4 L/min"},
		{Name: "hours_per_day", What: "that it runs", Example: "8 h"},
		{Name: "days_per_year", What: "that it runs", Example: "250"},
		{Name: "price", What: "of water and sewer together", Example: "4.10 USD/m³"},
	},
	Outputs: []working.Result{{Name: "volume", What: "a year"}, {Name: "cost", What: "a year"}},
	Solve: func(in *working.Inputs) (working.Outputs, error) {
		d := Cost{
			Flow: working.Quantity[quantity.Flow](in, "flow"), HoursPerDay: hours(in, "hours_per_day"),
			DaysPerYear: days(in, "days_per_year"), Price: working.Quantity[quantity.MoneyPerVolume](in, "price"),
		}
		if err := in.Err(); err != nil {
			return nil, err
		}
		r, err := d.Solve()
		return working.Outputs{
			{Name: "volume", Value: working.Figure(r.Volume, "m³", "gal")},
			{Name: "cost", Value: working.Figure(r.Cost, "", "")},
		}, err
	},
}
