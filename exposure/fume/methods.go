package fume

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Methods are the methods of this package.
func Methods() []working.Method {
	return []working.Method{{
		Name: "fume.water_loss",
		Help: "water that a heated tank loses to the room, as the range of two sources",
		Inputs: []working.Param{
			{Name: "temperature", What: "of the tank", Example: "60 °C"},
			{Name: "area", What: "of its surface", Example: "2 m²"},
			{Name: "agitated", What: "by air", Example: "no"},
		},
		Outputs: []working.Result{
			{Name: "low", What: "by the source that gives less"},
			{Name: "high", What: "by the source that gives more"},
		},
		Solve: solveWaterLoss,
	}}
}

func solveWaterLoss(in *working.Inputs) (working.Outputs, error) {
	d := WaterLoss{
		Temperature: working.Quantity[quantity.Temperature](in, "temperature"),
		Area:        working.Quantity[quantity.Area](in, "area"),
		Agitated:    in.YesNo("agitated"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := d.Solve()
	return working.Outputs{
		{Name: "low", Value: working.Figure(r.Low, "L/h", "gal/h")},
		{Name: "high", Value: working.Figure(r.High, "L/h", "gal/h")},
	}, err
}
