package discharge

import (
	"strconv"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Methods are the methods of this package.
func Methods() []working.Method {
	return []working.Method{
		mixMethod(), massMethod(), combinedMethod(), cyanideMethod(), bleedMethod(), productionMethod(),
		noncomplianceMethod(), meanMethod(),
	}
}

// effluent reads a concentration in mg/L or µg/L or, where a bath is poured
// in, as g/L or oz/gal.
func effluent(in *working.Inputs, name string) working.Estimate[quantity.EffluentConcentration] {
	return working.Read(in, name, func(text string) (quantity.EffluentConcentration, string, error) {
		var s quantity.Stated[quantity.EffluentConcentration]
		err := s.UnmarshalText([]byte(text))
		if err == nil {
			return s.Is(), s.String(), nil
		}
		var bath quantity.Stated[quantity.BathConcentration]
		if bath.UnmarshalText([]byte(text)) == nil {
			if grams, byMass := bath.Is().GramsPerLitre(); byMass {
				return quantity.EffluentConcentration(grams*1000) * quantity.MilligramPerLitre, bath.String(), nil
			}
		}
		return 0, "", err
	})
}

func mixMethod() working.Method {
	return working.Method{
		Name: "discharge.mix",
		Help: "mean concentration of streams that join",
		Inputs: []working.Param{{
			Name: "streams", What: "each with its flow and concentration", Example: "[{flow: 10 gal/min, concentration: 0.3 mg/L}]",
			Fields: []working.Param{
				{Name: "flow", What: "of the stream", Example: "10 gal/min"},
				{Name: "concentration", What: "of the pollutant", Example: "0.3 mg/L"},
			},
		}},
		Outputs: []working.Result{
			{Name: "concentration", What: "weighted by flow"},
			{Name: "flow", What: "together"},
		},
		Solve: solveMix,
	}
}

func solveMix(in *working.Inputs) (working.Outputs, error) {
	var m Mix
	for _, s := range in.Records("streams") {
		m.Streams = append(m.Streams, Stream{Flow: working.Quantity[quantity.Flow](s, "flow"), Concentration: effluent(s, "concentration")})
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := m.Solve()
	return working.Outputs{
		{Name: "concentration", Value: working.Figure(r.Concentration, "mg/L", "mg/L")},
		{Name: "flow", Value: working.Figure(r.Flow, "L/min", "gal/min")},
	}, err
}

func massMethod() working.Method {
	return working.Method{
		Name: "discharge.mass",
		Help: "mass that a flow carries in a time, or the concentration that a mass allows",
		Inputs: []working.Param{
			{Name: "flow", What: "of the water", Example: "20 m³/day"},
			{Name: "concentration", What: "of the pollutant; or mass_rate", Example: "0.31 mg/L", Optional: true},
			{Name: "mass_rate", What: "that may be discharged, instead of the concentration", Example: "0.5 lb/day", Optional: true},
			{Name: "safety_factor", What: "share of the mass that is kept back", Example: "10 %", Optional: true},
		},
		Outputs: []working.Result{
			{Name: "mass_rate", What: "mass in a time"},
			{Name: "concentration", What: "in the flow"},
		},
		Solve: solveMass,
	}
}

func solveMass(in *working.Inputs) (working.Outputs, error) {
	m := Mass{
		Flow:          working.Quantity[quantity.Flow](in, "flow"),
		Concentration: effluent(in, "concentration"),
		MassRate:      working.Quantity[quantity.MassRate](in, "mass_rate"),
		SafetyFactor:  in.Share("safety_factor"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := m.Solve()
	return working.Outputs{
		{Name: "mass_rate", Value: working.Figure(r.MassRate, "kg/day", "lb/day")},
		{Name: "concentration", Value: working.Figure(r.Concentration, "mg/L", "mg/L")},
	}, err
}

func combinedMethod() working.Method {
	return working.Method{
		Name: "discharge.combined",
		Help: "alternative limit of streams that are treated together",
		Inputs: []working.Param{
			{
				Name: "streams", What: "each regulated, unregulated or dilute", Example: "[{kind: regulated, flow: 30000 gal/day, limit: 2.61 mg/L}]",
				Fields: []working.Param{
					{Name: "kind", What: "regulated, unregulated or dilute", Example: "regulated"},
					{Name: "flow", What: "average of the day", Example: "30000 gal/day"},
					{Name: "limit", What: "of a regulated stream", Example: "2.61 mg/L", Optional: true},
				},
			},
			{Name: "detection_limit", What: "of the method of analysis", Example: "0.02 mg/L", Optional: true},
		},
		Outputs: []working.Result{{Name: "limit", What: "of all streams together"}},
		Solve:   solveCombined,
	}
}

func solveCombined(in *working.Inputs) (working.Outputs, error) {
	c := Combined{DetectionLimit: effluent(in, "detection_limit")}
	for i, s := range in.Records("streams") {
		joined := Joined{Flow: working.Quantity[quantity.Flow](s, "flow")}
		if kind := s.Word("kind", kinds[Regulated:]...); kind.Known() {
			joined.Kind, _ = ParseKind(kind.Is()) // it is one of the words
		}
		if limit := working.Quantity[quantity.Release](s, "limit"); limit.Known() {
			if !joined.limit(limit) {
				return nil, streamFault("stream "+strconv.Itoa(i+1)+" has a limit for each processed area, "+limit.Text(), "work out its mass with discharge.production, and give that")
			}
		}
		c.Streams = append(c.Streams, joined)
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := c.Solve()
	if r.MassLimit.Known() {
		return working.Outputs{{Name: "limit", Value: working.Figure(r.MassLimit, "kg/day", "lb/day")}}, err
	}
	return working.Outputs{{Name: "limit", Value: working.Figure(r.Limit, "mg/L", "mg/L")}}, err
}

// limit takes the limit of a stream in the form it was written in, if that is a
// concentration or a mass in a time.
func (j *Joined) limit(e working.Estimate[quantity.Release]) bool {
	if v, ok := e.Is().Concentration(); ok {
		j.Limit = known(v, e.Origin(), e.Ref(), e.Text())
		return true
	}
	v, ok := e.Is().MassRate()
	if ok {
		j.MassLimit = known(v, e.Origin(), e.Ref(), e.Text())
	}
	return ok
}

func cyanideMethod() working.Method {
	return working.Method{
		Name: "discharge.cyanide",
		Help: "limit on cyanide where the final effluent is sampled",
		Inputs: []working.Param{
			{Name: "limit", What: "on cyanide", Example: "1.20 mg/L"},
			{Name: "cyanide_flow", What: "of the stream that bears cyanide", Example: "4000 gal/day"},
			{Name: "flow", What: "of the final effluent", Example: "24000 gal/day"},
		},
		Outputs: []working.Result{{Name: "limit", What: "in the final effluent"}},
		Solve: func(in *working.Inputs) (working.Outputs, error) {
			y := Cyanide{
				Limit:       effluent(in, "limit"),
				CyanideFlow: working.Quantity[quantity.Flow](in, "cyanide_flow"),
				Flow:        working.Quantity[quantity.Flow](in, "flow"),
			}
			if err := in.Err(); err != nil {
				return nil, err
			}
			r, err := y.Solve()
			return working.Outputs{{Name: "limit", Value: working.Figure(r.Limit, "mg/L", "mg/L")}}, err
		},
	}
}

func bleedMethod() working.Method {
	return working.Method{
		Name: "discharge.bleed",
		Help: "flow at which a spent bath may go to treatment",
		Inputs: []working.Param{
			{Name: "limit", What: "after treatment", Example: "2.61 mg/L"},
			{Name: "flow", What: "through treatment", Example: "20 gal/min"},
			{Name: "removal", What: "of the treatment", Example: "95 %"},
			{Name: "base", What: "concentration of the other water before treatment", Example: "15 mg/L"},
			{Name: "bath", What: "what the bath holds of the pollutant", Example: "50 g/L"},
			{Name: "base_flow", What: "of the other water, if less than flow", Example: "19 gal/min", Optional: true},
		},
		Outputs: []working.Result{{Name: "flow", What: "of the bath, at most"}},
		Solve: func(in *working.Inputs) (working.Outputs, error) {
			b := Bleed{
				Limit:    effluent(in, "limit"),
				Flow:     working.Quantity[quantity.Flow](in, "flow"),
				BaseFlow: working.Quantity[quantity.Flow](in, "base_flow"),
				Removal:  in.Share("removal"),
				Base:     effluent(in, "base"),
				Bath:     working.Quantity[quantity.BathConcentration](in, "bath"),
			}
			if err := in.Err(); err != nil {
				return nil, err
			}
			r, err := b.Solve()
			return working.Outputs{{Name: "flow", Value: working.Figure(r.Flow, "L/h", "gal/h")}}, err
		},
	}
}

func productionMethod() working.Method {
	return working.Method{
		Name: "discharge.production",
		Help: "mass and concentration that a limit for each processed area allows",
		Inputs: []working.Param{
			{Name: "limit_per_area", What: "for each processed area", Example: "160 mg/m²"},
			{Name: "area_rate", What: "area processed in a time", Example: "120 m²/day"},
			{Name: "flow", What: "for the concentration", Example: "20 m³/day", Optional: true},
			{Name: "operations", What: "that count the area, one by one", Example: "3", Optional: true},
		},
		Outputs: []working.Result{
			{Name: "mass_rate", What: "that may be discharged"},
			{Name: "concentration", What: "in the flow", Optional: true},
		},
		Solve: func(in *working.Inputs) (working.Outputs, error) {
			p := Production{
				LimitPerArea: working.Quantity[quantity.MassPerArea](in, "limit_per_area"),
				AreaRate:     working.Quantity[quantity.AreaRate](in, "area_rate"),
				Flow:         working.Quantity[quantity.Flow](in, "flow"),
				Operations:   in.Count("operations"),
			}
			if err := in.Err(); err != nil {
				return nil, err
			}
			r, err := p.Solve()
			return working.Outputs{
				{Name: "mass_rate", Value: working.Figure(r.MassRate, "kg/day", "lb/day")},
				{Name: "concentration", Value: working.Figure(r.Concentration, "mg/L", "mg/L")},
			}, err
		},
	}
}
