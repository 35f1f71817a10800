package hazard

import (
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Methods are the methods of this package.
func Methods() []working.Method {
	return []working.Method{mixtureMethod(), labelMethod(), aquaticMethod()}
}

func mixtureMethod() working.Method {
	return working.Method{
		Name: "hazard.mixture",
		Help: "classes and label elements of a mixture from its ingredients",
		Inputs: []working.Param{
			{Name: "regime", What: "us, eu or un", Example: "eu"},
			{Name: "ph", What: "of the mixture", Example: "1.5", Optional: true},
			{Name: "density", What: "of the mixture, for contents by volume", Example: "1.18 g/mL", Optional: true},
			{Name: "remainder", What: "what the components leave of the whole: unknown or water", Example: "water", Optional: true},
			{Name: "components", What: "the ingredients", Example: `[{name: acid, fraction: "12 %", classes: [Skin Corr. 1B]}]`, Fields: componentFields()},
		},
		Outputs: []working.Result{
			{Name: "classes", What: "hazard classes, in the abbreviations of CLP Annex VI"},
			{Name: "signal", What: "signal word, or none"},
			{Name: "pictograms", What: "codes of the pictograms"},
			{Name: "statements", What: "codes of the hazard statements, words where there is no code"},
			{Name: "texts", What: "words of the statements"},
			{Name: "oral", What: "acute toxicity estimate of the mixture", Optional: true},
			{Name: "dermal", What: "acute toxicity estimate of the mixture", Optional: true},
			{Name: "vapour", What: "acute toxicity estimate of the mixture", Optional: true},
			{Name: "mist", What: "acute toxicity estimate of the mixture", Optional: true},
			{Name: "unknown_oral", What: "share of unknown acute toxicity"},
			{Name: "unknown_dermal", What: "share of unknown acute toxicity"},
			{Name: "unknown_vapour", What: "share of unknown acute toxicity"},
			{Name: "unknown_mist", What: "share of unknown acute toxicity"},
			{Name: "aquatic_acute", What: "sums against 25 %, by category"},
			{Name: "aquatic_chronic", What: "sums against 25 %, by category"},
		},
		Solve: solveMixture,
	}
}

func componentFields() []working.Param {
	return []working.Param{
		{Name: "name", What: "of the ingredient", Example: "hydrochloric acid"},
		{Name: "fraction", What: "its content; or low and high", Example: "12 %", Optional: true},
		{Name: "low", What: "least content", Example: "3 %", Optional: true},
		{Name: "high", What: "greatest content, which classes use", Example: "7 %", Optional: true},
		{Name: "published", What: "yes to take what the published tables say of the name", Example: "yes", Optional: true},
		{Name: "classes", What: "its classes, or none", Example: "[Skin Corr. 1B, Acute Tox. 4 (oral)]", Optional: true},
		{Name: "oral", What: "LD50 or estimate", Example: "670 mg/kg", Optional: true},
		{Name: "dermal", What: "LD50 or estimate", Example: "1100 mg/kg", Optional: true},
		{Name: "vapour", What: "LC50 over 4 h or estimate", Example: "2.65 mg/L", Optional: true},
		{Name: "mist", What: "LC50 over 4 h or estimate, of mist or dust", Example: "1.5 mg/L", Optional: true},
		{Name: "m_acute", What: "M-factor", Example: "10", Optional: true},
		{Name: "m_chronic", What: "M-factor", Example: "1", Optional: true},
		{Name: "limits", What: "specific concentration limits", Example: `["STOT RE 2: 0.1 % to 7 %"]`, Optional: true},
		{Name: "not_toxic", What: "yes where it is presumed not acutely toxic, as water", Example: "yes", Optional: true},
		{Name: "ph", What: "of the ingredient as it is, or saturated", Example: "1.8", Optional: true},
		{Name: "not_additive", What: "yes where effects on skin and eye do not add up", Example: "yes", Optional: true},
		{Name: "density", What: "of the ingredient, for contents by volume", Example: "1.84 g/mL", Optional: true},
		{Name: "molar_mass", What: "of the ingredient, for mol/L", Example: "98.08 g/mol", Optional: true},
	}
}

func solveMixture(in *working.Inputs) (working.Outputs, error) {
	m, regime, err := readMixture(in)
	if err != nil {
		return nil, err
	}
	r, err := m.Classify(regime)
	if err != nil {
		return nil, err
	}
	l := r.Label()
	var classes []working.Value
	for _, f := range r.Findings {
		classes = append(classes, working.Word(f.estimate()))
	}
	caveats := l.Caveats
	for _, u := range r.Unknown {
		caveats = append(caveats, working.Caveat(u.String()))
	}
	out := working.Outputs{{Name: "classes", Value: working.List(classes...)}}
	out = append(out, l.outputs(append(caveats, r.Caveats...))...)
	for _, form := range forms {
		out = append(out, working.Output{Name: string(form), Value: working.Number(r.Estimates[form], form.unit())})
	}
	for _, form := range forms {
		out = append(out, working.Output{Name: "unknown_" + string(form), Value: share(r.UnknownBy(form))})
	}
	return append(out,
		working.Output{Name: "aquatic_acute", Value: shares(r.AcuteSums)},
		working.Output{Name: "aquatic_chronic", Value: shares(r.ChronicSums)}), nil
}

func share(v float64) working.Value {
	return working.Number(working.Given(source.Value[float64]{Is: v, Origin: source.Computed}, shown(v)), "%")
}

func shares(sums []float64) working.Value {
	values := make([]working.Value, len(sums))
	for i, v := range sums {
		values[i] = share(v)
	}
	return working.List(values...)
}

// estimate is a class with its reasons as steps.
func (f Finding) estimate() working.Estimate[string] {
	name := f.Class.String()
	var last working.Estimate[string]
	for _, r := range f.Reasons {
		terms := []working.Term{word(r.Seen).As("seen", r.About)}
		if r.Threshold != "" {
			terms = append(terms, working.Given(source.Value[string]{Is: r.Threshold, Origin: source.Published, Ref: r.Ref}, r.Threshold).As("limit", r.Relation))
		}
		if last.Known() {
			terms = append(terms, last.As("and", "by another rule"))
		}
		last = working.Compute(working.Formula{Line: r.Rule, Ref: r.Ref}, func(working.Case) string { return name }, terms...)
	}
	return last
}

func word(text string) working.Estimate[string] {
	return working.Given(source.Value[string]{Is: text, Origin: source.Computed}, text)
}

// outputs are the elements of a label; its notes are steps of the signal word.
func (l Label) outputs(caveats []working.Caveat) working.Outputs {
	signal := l.Signal
	if signal == "" {
		signal = "none"
	}
	is := word(signal)
	for _, n := range l.Notes {
		is = working.Compute(working.Formula{Line: n.Text, Ref: n.Ref}, func(working.Case) string { return signal }, is.As("signal", "signal word"))
	}
	var pictograms, codes, texts []working.Value
	for _, p := range l.Pictograms {
		pictograms = append(pictograms, working.Word(word(p.Code)))
	}
	for _, s := range l.Statements {
		code := s.Code
		if code == "" {
			code = s.Text
		}
		codes, texts = append(codes, working.Word(word(code))), append(texts, working.Word(word(s.Text)))
	}
	return working.Outputs{
		{Name: "signal", Value: working.Word(is.WithCaveats(caveats...))},
		{Name: "pictograms", Value: working.List(pictograms...)},
		{Name: "statements", Value: working.List(codes...)},
		{Name: "texts", Value: working.List(texts...)},
	}
}

func labelMethod() working.Method {
	return working.Method{
		Name: "hazard.label",
		Help: "signal word, pictograms and hazard statements of classes",
		Inputs: []working.Param{
			{Name: "regime", What: "us, eu or un", Example: "eu"},
			{Name: "classes", What: "hazard classes", Example: "[Skin Corr. 1B, Acute Tox. 4 (oral)]"},
		},
		Outputs: []working.Result{
			{Name: "signal", What: "signal word, or none"},
			{Name: "pictograms", What: "codes of the pictograms"},
			{Name: "statements", What: "codes of the hazard statements"},
			{Name: "texts", What: "words of the statements"},
		},
		Solve: solveLabel,
	}
}

func solveLabel(in *working.Inputs) (working.Outputs, error) {
	regime := readRegime(in)
	read := &reader{in: in}
	read.readClasses()
	if err := read.err(); err != nil {
		return nil, err
	}
	var classes []Class
	for _, k := range read.routes(nil) {
		classes = append(classes, k.Class)
	}
	var added []Added
	for _, s := range read.more {
		if regime != EU {
			read.caveats = append(read.caveats, working.Caveat(s.Code+" is no statement of regime "+string(regime)+" and is left off"))
		} else if _, ok := texts().Statement(s.Code); ok {
			added = append(added, Added{Code: s.Code, Text: statementText(s.Code, regime)})
		} else {
			read.fault("classes", &working.Fault{What: s.Code + " is no statement known here", Mend: "check the code"})
		}
	}
	if err := read.err(); err != nil {
		return nil, err
	}
	l := NewLabel(regime, classes, added...)
	return l.outputs(append(read.caveats, l.Caveats...)), nil
}

func aquaticMethod() working.Method {
	return working.Method{
		Name: "hazard.aquatic",
		Help: "aquatic categories and M-factors of one substance from its tests",
		Inputs: []working.Param{
			{Name: "acute", What: "lowest LC50 or EC50", Example: "0.3 mg/L", Optional: true},
			{Name: "chronic", What: "lowest NOEC or EC10", Example: "0.06 mg/L", Optional: true},
			{Name: "rapidly_degradable", What: "yes or no", Example: "no", Optional: true},
			{Name: "log_kow", What: "partition between octanol and water", Example: "3.2", Optional: true},
			{Name: "bcf", What: "bioconcentration factor", Example: "120", Optional: true},
		},
		Outputs: []working.Result{
			{Name: "acute", What: "acute category, or none"},
			{Name: "chronic", What: "chronic category, or none"},
			{Name: "m_acute", What: "M-factor", Optional: true},
			{Name: "m_chronic", What: "M-factor", Optional: true},
		},
		Solve: solveAquatic,
	}
}

func solveAquatic(in *working.Inputs) (working.Outputs, error) {
	read := &reader{in: in}
	a := Aquatic{Acute: read.dose("acute", Vapour), Chronic: read.dose("chronic", Vapour), LogKow: in.Number("log_kow"), BCF: in.Number("bcf")}
	rapid := in.YesNo("rapidly_degradable")
	a.RapidlyDegrades = rapid.Known() && rapid.Is()
	if err := read.err(); err != nil {
		return nil, err
	}
	r := a.Solve()
	return working.Outputs{
		{Name: "acute", Value: orNone(r.Acute)},
		{Name: "chronic", Value: orNone(r.Chronic)},
		{Name: "m_acute", Value: working.Number(r.MAcute, "")},
		{Name: "m_chronic", Value: working.Number(r.MChronic, "")},
	}, nil
}

// orNone is a category, or none with the reason as its caveat.
func orNone(e working.Estimate[string]) working.Value {
	if !e.Known() {
		return working.Word(word("none").WithCaveats(working.Caveat(e.Why())))
	}
	return working.Word(e)
}

// statedOf is an optional quantity as it was written.
func statedOf[Q quantity.Quantity[Q]](in *working.Inputs, name string) quantity.Stated[Q] {
	var s quantity.Stated[Q]
	if e := working.Quantity[Q](in, name); e.Known() {
		if err := s.UnmarshalText([]byte(e.Text())); err != nil {
			panic("hazard: " + err.Error()) // it was read from the same text
		}
	}
	return s
}
