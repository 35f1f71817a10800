package waste

import (
	"errors"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Screen is what the totals say about the leachate test. They never say that a
// waste is not hazardous.
type Screen string

// The answers.
const (
	MaySkip Screen = "leachate test may be skipped for it"
	MustRun Screen = "leachate test must be run for it"
)

// Totals is the total content of one constituent in a waste: all of it solid,
// or a liquid and a solid apart.
type Totals struct {
	Total               working.Estimate[quantity.SolidsConcentration] // of a waste that is all solid
	Liquid              working.Estimate[quantity.Volume]
	LiquidConcentration working.Estimate[quantity.EffluentConcentration]
	Solid               working.Estimate[quantity.Mass]
	SolidConcentration  working.Estimate[quantity.SolidsConcentration]
	Level               working.Estimate[quantity.EffluentConcentration] // of the leachate, for the screen
}

// TotalsResult is the most that the leachate can hold. Screen is absent without
// a level.
type TotalsResult struct {
	Leachate working.Estimate[quantity.EffluentConcentration]
	Screen   working.Estimate[Screen]
}

const (
	// oneConstituent weakens every screen.
	oneConstituent working.Caveat = "the screen is for one constituent; every other one of 40 CFR 261.24, the other characteristics and the lists of 261.31 to 261.33 are looked at apart, and the generator determines what the waste is"
	// ownExtract is the rule for a waste that is nearly all liquid.
	ownExtract working.Caveat = "a waste with less than 0.5 % of filterable solids is its own extract: what its filtered liquid holds is held against the level (40 CFR 261.24(a), Method 1311)"
)

// Solve gives the concentration of the leachate if all that is there went into
// it.
//
//	leachate = C / 20
//	leachate = (V × CV + m × Cm) / (V + 20 × m)
//
// C total content of a solid waste in mg/kg, 20 L of extraction fluid for each
// kg; V volume of the liquid, m mass of the solid, CV and Cm their contents.
//
// Source: EPA SW-846 Method 1311, section 1.2. Range: any content. Below the
// level the test may be skipped; at or above it nothing is shown and it must be
// run. Left out: volatile constituents and oily wastes, for which the method
// asks for more.
func (w Totals) Solve() (TotalsResult, error) {
	if err := w.faults(); err != nil {
		return TotalsResult{}, err
	}
	leachate := w.leachate()
	return TotalsResult{Leachate: leachate, Screen: screen(leachate, w.Level)}, nil
}

func (w Totals) leachate() working.Estimate[quantity.EffluentConcentration] {
	rule := totalsRule()
	if w.Total.Known() {
		return working.Compute(working.Formula{Line: "leachate = C / r", Unit: "mg/L", Ref: rule.ratio.Ref()},
			func(c working.Case) quantity.EffluentConcentration {
				return quantity.EffluentConcentration(w.Total.At(c).MilligramsPerKilogram()/rule.ratio.At(c)) * quantity.MilligramPerLitre
			}, w.Total.As("C", "total content"), rule.ratio.As("r", "fluid for each solid"))
	}
	leachate := working.Compute(working.Formula{Line: "leachate = (V × CV + m × Cm) / (V + r × m)", Unit: "mg/L", Ref: rule.ratio.Ref()},
		func(c working.Case) quantity.EffluentConcentration {
			litres, kilograms := w.Liquid.At(c).Litres(), w.Solid.At(c).Kilograms()
			held := litres*w.LiquidConcentration.At(c).MilligramsPerLitre() + kilograms*w.SolidConcentration.At(c).MilligramsPerKilogram()
			return quantity.EffluentConcentration(held/(litres+rule.ratio.At(c)*kilograms)) * quantity.MilligramPerLitre
		},
		w.Liquid.As("V", "liquid"), w.LiquidConcentration.As("CV", "content of the liquid"),
		w.Solid.As("m", "solid"), w.SolidConcentration.As("Cm", "content of the solid"), rule.ratio.As("r", "fluid for each solid"))
	// A litre of the liquid is about a kilogram; the caveat asks for no more.
	if leachate.Known() && w.Solid.Is().Kilograms() < rule.own.Is()*(w.Liquid.Is().Litres()+w.Solid.Is().Kilograms()) {
		leachate = leachate.WithCaveats(ownExtract)
	}
	return leachate
}

// screen takes the high case: the test may be skipped only where no reading of
// the content reaches the level.
func screen(leachate, level working.Estimate[quantity.EffluentConcentration]) working.Estimate[Screen] {
	// A part in 10¹² less, so that 100 mg/kg reaches 5 mg/L in binary too.
	const slack = 1 - 1e-12
	return working.Compute(working.Formula{Line: "leachate below the level, or at or over it", Likely: true}, func(working.Case) Screen {
		if highest(leachate) >= lowest(level)*slack {
			return MustRun
		}
		return MaySkip
	}, leachate.As("leachate", "at most"), level.As("level", "of the leachate")).WithCaveats(oneConstituent)
}

func (w Totals) faults() error {
	mixed := w.Liquid.Known() || w.LiquidConcentration.Known() || w.Solid.Known() || w.SolidConcentration.Known()
	if w.Total.Known() && mixed {
		return &working.Fault{Where: "total", What: "both a total and the parts of a mixed waste are given", Mend: "give total for a waste that is all solid, or liquid and solid with their contents"}
	}
	if !w.Total.Known() && !mixed {
		return &working.Fault{Where: "total", What: "it is not given", Mend: `give total="80 mg/kg", or liquid, liquid_concentration, solid and solid_concentration`}
	}
	if w.Total.Known() {
		return nil
	}
	var faults []error
	for _, part := range []struct {
		name  string
		known bool
		mend  string
	}{
		{"liquid", w.Liquid.Known(), `give liquid="160 L"`},
		{"liquid_concentration", w.LiquidConcentration.Known(), `give liquid_concentration="0.5 mg/L"`},
		{"solid", w.Solid.Known(), `give solid="40 kg"`},
		{"solid_concentration", w.SolidConcentration.Known(), `give solid_concentration="80 mg/kg"`},
	} {
		if !part.known {
			faults = append(faults, &working.Fault{Where: part.name, What: "a mixed waste is given without it", Mend: part.mend})
		}
	}
	if w.Liquid.Known() && w.Solid.Known() && lowest(w.Liquid)+quantity.Volume(lowest(w.Solid)) == 0 {
		faults = append(faults, &working.Fault{Where: "liquid", What: "there is neither liquid nor solid", Mend: "give how much there is of each"})
	}
	return errors.Join(faults...)
}

// rule is the content of totals.csv.
type rule struct {
	ratio, own working.Estimate[float64]
	levels     map[string]working.Estimate[quantity.EffluentConcentration]
}

var totalsRule = sync.OnceValue(func() rule {
	r, err := readTotals(Published()[1])
	if err != nil {
		panic("waste: " + err.Error())
	}
	return r
})

func readTotals(t working.Table) (rule, error) {
	rows, err := t.Rows()
	faults := []error{err}
	r := rule{levels: map[string]working.Estimate[quantity.EffluentConcentration]{}}
	for _, row := range rows {
		switch row.Figure {
		case "liquid for each solid":
			r.ratio, err = working.PublishedNumber(row, "L/kg")
		case "solids of a waste that is its own extract":
			r.own, err = working.PublishedShare(row)
		case "level of the leachate":
			r.levels[row.Of], err = working.PublishedQuantity[quantity.EffluentConcentration](row)
		default:
			err = &working.Fault{Where: row.Where, What: "the figure " + row.Figure + " is not read by anything", Mend: "write level of the leachate"}
		}
		faults = append(faults, err)
	}
	if !r.ratio.Known() || !r.own.Known() {
		faults = append(faults, &working.Fault{Where: t.Name, What: "the fluid for each solid, or the solids of an own extract, are missing"})
	}
	return r, errors.Join(faults...)
}

// Level is the level of 40 CFR 261.24 for the leachate of an element, absent
// for the elements that have none.
func Level(element string) working.Estimate[quantity.EffluentConcentration] {
	if level, ok := totalsRule().levels[element]; ok {
		return level
	}
	return working.Absent[quantity.EffluentConcentration]("40 CFR 261.24 has no level for " + element)
}

func known[Q any](v Q, ref source.Ref, text string) working.Estimate[Q] {
	return working.Given(source.Value[Q]{Is: v, Origin: source.Published, Ref: ref}, text)
}
