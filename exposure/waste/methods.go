package waste

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Methods are the methods of this package.
func Methods() []working.Method {
	return []working.Method{totalsMethod(), sludgeMethod(), reagentsMethod()}
}

// solid reads the content of a solid, in mg/kg or % w/w.
func solid(in *working.Inputs, name string) working.Estimate[quantity.SolidsConcentration] {
	return working.Read(in, name, func(text string) (quantity.SolidsConcentration, string, error) {
		var s quantity.Stated[quantity.SolidsConcentration]
		err := s.UnmarshalText([]byte(text))
		if err == nil {
			return s.Is(), s.String(), nil
		}
		var share quantity.Stated[quantity.MassShare]
		if share.UnmarshalText([]byte(text)) == nil {
			return quantity.SolidsConcentration(share.Is().Percent()*1e4) * quantity.MilligramPerKilogram, share.String(), nil
		}
		return 0, "", err
	})
}

func totalsMethod() working.Method {
	return working.Method{
		Name: "waste.totals",
		Help: "the most that a leachate can hold, from the total content",
		Inputs: []working.Param{
			{Name: "total", What: "content of a waste that is all solid", Example: "80 mg/kg", Optional: true},
			{Name: "liquid", What: "of a mixed waste, instead of total", Example: "160 L", Optional: true},
			{Name: "liquid_concentration", What: "content of the liquid", Example: "0.5 mg/L", Optional: true},
			{Name: "solid", What: "of a mixed waste", Example: "40 kg", Optional: true},
			{Name: "solid_concentration", What: "content of the solid", Example: "80 mg/kg", Optional: true},
			{Name: "level", What: "of the leachate, for the screen", Example: "5.0 mg/L", Optional: true},
			{Name: "element", What: "whose level of 40 CFR 261.24 is taken, instead of level", Example: "Pb", Optional: true},
		},
		Outputs: []working.Result{
			{Name: "leachate", What: "at most"},
			{Name: "screen", What: "what follows for the leachate test", Optional: true},
		},
		Solve: solveTotals,
	}
}

func solveTotals(in *working.Inputs) (working.Outputs, error) {
	w := Totals{
		Total:               solid(in, "total"),
		Liquid:              working.Quantity[quantity.Volume](in, "liquid"),
		LiquidConcentration: working.Quantity[quantity.EffluentConcentration](in, "liquid_concentration"),
		Solid:               working.Quantity[quantity.Mass](in, "solid"),
		SolidConcentration:  solid(in, "solid_concentration"),
		Level:               working.Quantity[quantity.EffluentConcentration](in, "level"),
	}
	element := in.Word("element")
	if err := in.Err(); err != nil {
		return nil, err
	}
	if element.Known() {
		if w.Level.Known() {
			return nil, &working.Fault{Where: "element", What: "both a level and an element are given", Mend: "give one of them"}
		}
		w.Level = Level(element.Is())
	}
	r, err := w.Solve()
	return working.Outputs{
		{Name: "leachate", Value: working.Figure(r.Leachate, "mg/L", "mg/L")},
		{Name: "screen", Value: working.Word(r.Screen)},
	}, err
}

func sludgeMethod() working.Method {
	return working.Method{
		Name: "waste.sludge",
		Help: "hydroxide sludge of metals, dry and as filter cake",
		Inputs: []working.Param{
			{Name: "metals", What: "that are precipitated", Example: "{Cu: 2 kg, Cr3: 0.5 kg}"},
			{Name: "solids", What: "dry share of the cake", Example: "30 %", Optional: true},
			{Name: "other", What: "other dry solids: inerts of lime, gypsum, polymer", Example: "0.8 kg", Optional: true},
		},
		Outputs: []working.Result{
			{Name: "dry", What: "dry mass"},
			{Name: "cake", What: "with its water"},
		},
		Solve: solveSludge,
	}
}

func solveSludge(in *working.Inputs) (working.Outputs, error) {
	s := Sludge{
		Metals: metals(in),
		Other:  working.Quantity[quantity.Mass](in, "other"),
		Solids: in.Share("solids"),
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := s.Solve()
	return working.Outputs{
		{Name: "dry", Value: working.Figure(r.Dry, "kg", "lb")},
		{Name: "cake", Value: working.Figure(r.Cake, "kg", "lb")},
	}, err
}

func metals(in *working.Inputs) []Metal {
	var all []Metal
	for _, p := range working.Pairs[quantity.Mass](in, "metals") {
		all = append(all, Metal{Name: p.Name, Mass: p.Value})
	}
	return all
}

func reagentsMethod() working.Method {
	return working.Method{
		Name: "waste.reagents",
		Help: "reagents that metals, acid, chromium(VI) and cyanide take",
		Inputs: []working.Param{
			{Name: "reagent", What: "alkali, reducer, oxidiser; one of each at most", Example: "sodium hydroxide; sodium metabisulfite"},
			{Name: "metals", What: "that are precipitated", Example: "{Cu: 2 kg, Ni: 1.5 kg}", Optional: true},
			{Name: "acid", What: "free acid; sulfuric acid, or by name", Example: "{sulfuric acid: 3 kg}", Optional: true},
			{Name: "chromium6", What: "chromium(VI), as Cr", Example: "0.5 kg", Optional: true},
			{Name: "cyanide", What: "as CN", Example: "0.2 kg", Optional: true},
			{Name: "product", What: "of the acid: sodium sulfate or sodium bisulfate", Example: "sodium sulfate", Optional: true},
			{Name: "cyanide_to", What: "cyanate, or nitrogen for both stages", Example: "cyanate", Optional: true},
		},
		Outputs: []working.Result{{Name: "amounts", What: "of the pure reagents"}},
		Solve:   solveReagents,
	}
}

func solveReagents(in *working.Inputs) (working.Outputs, error) {
	r := Reagents{
		Metals:    metals(in),
		Chromium6: working.Quantity[quantity.Mass](in, "chromium6"),
		Cyanide:   working.Quantity[quantity.Mass](in, "cyanide"),
	}
	for _, p := range working.PairsOr[quantity.Mass](in, "acid", "sulfuric acid") {
		r.Acids = append(r.Acids, Acid{Name: p.Name, Mass: p.Value})
	}
	for _, name := range in.Words("reagent") {
		if name.Known() {
			r.With = append(r.With, name.Is())
		}
	}
	product := in.Word("product", products[SodiumSulfate:]...)
	to := in.Word("cyanide_to", "cyanate", "nitrogen")
	if err := in.Err(); err != nil {
		return nil, err
	}
	if product.Known() {
		r.Product, _ = ParseProduct(product.Is()) // it is one of the words
	}
	r.Complete = to.Known() && to.Is() == "nitrogen"
	result, err := r.Solve()
	var amounts working.Outputs
	for _, a := range result.Amounts {
		amounts = append(amounts, working.Output{Name: a.Name, Value: working.Figure(a.Mass, "kg", "lb")})
	}
	return working.Outputs{{Name: "amounts", Value: working.Named(amounts)}}, err
}
