package exposure

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// standardFact is a fact that the decision turns on, all of them answered by
// yes or no.
type standardFact int

const (
	factUnitedStates standardFact = iota + 1
	factOtherCategory
	factOperation
	factNewSource
	factJobShop
	factIndependent
	factPrecious
	factLargeFlow
	factProcessWater // asked only where it is known
)

// standardWords are the words of a fact.
var standardWords = map[standardFact]struct{ fact, missing, mend, yes, no string }{
	factUnitedStates: {"shop, regime", "the book does not say whose rules apply", "record shop, regime", "the shop is under the rules of the United States", "the shop is under those of the European Union"},
	factOperation: {
		"tanks, purpose", "the book does not say whether one of the six operations of 433.10(a) is done", "record the tanks with their purposes, and answer \"printed circuit boards\"",
		"one of the six operations is done", "none of the six operations is done",
	},
	factNewSource:   {"shop, construction start", "the book does not say when construction began", "record shop, construction start", "construction began after the day that parts new sources", "construction began by then"},
	factJobShop:     {"shop, job shop", "the book does not say whether it is a job shop", "record shop, job shop: yes where it owns at most half of what it finishes", "it is a job shop", "it is not a job shop"},
	factIndependent: {"answer \"independent board maker\"", "the book does not say whether its printed circuit boards are made mainly for sale to others", "record an answer to \"independent board maker\"", "its boards are made mainly for sale to others", "its boards are not made mainly for sale to others"},
	factPrecious:    {"answer \"precious metals line\"", "the book does not say which metals are plated", "record tank, plates, or an answer to \"precious metals line\"", "precious metals are plated", "no precious metals are plated"},
	factLargeFlow: {
		"answer \"process water over 38000 L a day\"", "the book does not say how much process water there is on a day", "record the flows of the rinses, or an answer to \"process water over 38000 L a day\"",
		"there are 38000 L/day of process water or more", "there is less than 38000 L/day of process water",
	},
}

// standardFacts are the facts on a day, with how each is known.
type standardFacts struct {
	point      chemicals.Held[chemicals.Point]
	known      map[standardFact]bool
	reasons    map[standardFact]StandardReason
	operations []operation
	common     bool // a metal that is not precious is plated, or may be
	answers    map[string]chemicals.Held[chemicals.Answer]
	caveats    []working.Caveat
}

// operation is one of the six of 433.10(a) with the subpart of part 413.
type operation struct {
	name    string
	subpart string // empty for electroplating, which the metal sorts
	tank    chemicals.Held[chemicals.Tank]
}

func standardFactsOn(shop *chemicals.Shop, point chemicals.Held[chemicals.Point], day chemicals.Day, flow working.Estimate[quantity.Flow]) *standardFacts {
	f := &standardFacts{point: point, known: map[standardFact]bool{}, reasons: map[standardFact]StandardReason{}, answers: map[string]chemicals.Held[chemicals.Answer]{}}
	for _, a := range chemicals.On[chemicals.Answer](shop, day) {
		f.answers[plainPollutant(a.Is.Question.String())] = a
	}
	if firms := chemicals.On[chemicals.Firm](shop, day); len(firms) > 0 {
		f.firm(firms[len(firms)-1])
	}
	f.tanks(chemicals.On[chemicals.Tank](shop, day))
	f.answered(factOtherCategory, "other category", "water already under another category of effluent rules: %s")
	if _, ok := f.known[factOtherCategory]; !ok {
		f.set(factOtherCategory, false, StandardReason{})
		f.caveats = append(f.caveats, "water that is already under another category of effluent rules (parts 420, 421, 461, 463 to 469, 471) is under that part, 40 CFR 433.10(b); no record shows it, an answer to \"other category\" would")
	}
	f.answered(factIndependent, "independent board maker", "boards made mainly for sale to others: %s")
	f.flow(flow)
	f.processWater(shop, day)
	return f
}

func (f *standardFacts) set(fact standardFact, yes bool, why StandardReason) {
	f.known[fact], f.reasons[fact] = yes, why
}

// answered takes a fact from an answer of the book.
func (f *standardFacts) answered(fact standardFact, question, says string) {
	a, ok := f.answers[plainPollutant(question)]
	if !ok {
		return
	}
	yes, ok := yesOrNo(a.Is.Answer)
	if !ok {
		f.caveats = append(f.caveats, working.Caveat(fmt.Sprintf("the answer %q to %q in entry %d says neither yes nor no; it is taken as not given", a.Is.Answer, question, a.Entry)))
		return
	}
	f.set(fact, yes, StandardReason{Says: fmt.Sprintf(says, a.Is.Answer), Fact: "answer \"" + question + "\"", Entry: a.Entry})
}

// yesOrNo reads the first word of an answer.
func yesOrNo(text chemicals.Text) (yes, ok bool) {
	first, _, _ := strings.Cut(chemicals.Fold(text.String()), " ")
	first = strings.TrimRight(first, ",;.:")
	return first == "yes", first == "yes" || first == "no"
}

func (f *standardFacts) firm(firm chemicals.Held[chemicals.Firm]) {
	if r := firm.Is.Regime; r != "" {
		f.set(factUnitedStates, r == chemicals.UnitedStates, StandardReason{Says: "the shop is under the rules of regime " + string(r), Fact: "shop, regime", Entry: firm.Entry})
	}
	if start := firm.Is.ConstructionStart; start.Known() {
		after := publishedLimits().newSource
		isNew := start > chemicals.Day(after.text)
		says := fmt.Sprintf("construction began on %s, not after %s: an existing source", start, after.text)
		if isNew {
			says = fmt.Sprintf("construction began on %s, after %s: a new source", start, after.text)
		}
		f.set(factNewSource, isNew, StandardReason{Says: says, Fact: "shop, construction start", Entry: firm.Entry, Ref: after.ref})
	}
	if is := firm.Is.JobShop; is != "" {
		says := "it owns more than half of what it finishes: a captive shop"
		if is == chemicals.Yes {
			says = "it owns at most half of what it finishes, by area and year: a job shop"
		}
		f.set(factJobShop, is == chemicals.Yes, StandardReason{Says: says, Fact: "shop, job shop", Entry: firm.Entry, Ref: lawRef("40 CFR 433", "433.11(c)")})
	}
}

// lawRef is a paragraph of the edition of the code that limits.csv was read from.
func lawRef(document, place string) source.Ref {
	return source.Ref{Document: document, Place: place, Year: publishedLimits().grabs.ref.Year, Standing: source.LawInForce}
}

// purposes are the tank purposes that are one of the six operations. Whether
// passivating and electropolishing are, the authority says; they are not taken
// for it.
var purposes = map[chemicals.Purpose]operation{
	chemicals.Strike:      {name: "electroplating"},
	chemicals.Plate:       {name: "electroplating"},
	chemicals.Electroless: {name: "electroless plating", subpart: "G"},
	chemicals.Anodize:     {name: "anodizing", subpart: "D"},
	chemicals.Coat:        {name: "coating", subpart: "E"},
	chemicals.Etch:        {name: "chemical etching and milling", subpart: "F"},
}

const boards = "printed circuit boards"

func (f *standardFacts) tanks(tanks []chemicals.Held[chemicals.Tank]) {
	var metalless, precious []chemicals.Held[chemicals.Tank]
	for _, t := range tanks {
		op, ok := purposes[t.Is.Purpose]
		if !ok {
			continue
		}
		op.tank = t
		f.operations = append(f.operations, op)
		switch {
		case op.subpart != "":
		case !t.Is.Plates.Known():
			metalless = append(metalless, t)
		case isPrecious(t.Is.Plates):
			precious = append(precious, t)
		default:
			f.common = true
		}
	}
	f.plated(metalless, precious)
	if _, makes := f.boards(); makes {
		a := f.answers[boards]
		f.set(factOperation, true, StandardReason{Says: "printed circuit boards are made", Fact: "answer \"" + boards + "\"", Entry: a.Entry, Ref: lawRef("40 CFR 433", "433.10(a)")})
	}
	answered, _ := f.boards()
	switch {
	case len(f.operations) > 0:
		f.set(factOperation, true, f.operationsReason())
	case len(tanks) > 0 && answered && !f.known[factOperation]:
		f.set(factOperation, false, StandardReason{Says: "no tank is for electroplating, electroless plating, anodizing, coating, or chemical etching, and no printed circuit boards are made", Fact: "tanks, purpose", Ref: lawRef("40 CFR 433", "433.10(a)")})
	}
}

// boards reports whether it is answered that boards are made, and whether they are.
func (f *standardFacts) boards() (answered, makes bool) {
	a, ok := f.answers[boards]
	if !ok {
		return false, false
	}
	yes, ok := yesOrNo(a.Is.Answer)
	return ok, yes
}

func (f *standardFacts) operationsReason() StandardReason {
	var parts []string
	for i, op := range f.operations {
		if slices.ContainsFunc(f.operations[:i], func(o operation) bool { return o.name == op.name }) {
			continue
		}
		parts = append(parts, fmt.Sprintf("%s (tank %s, entry %d)", op.name, op.tank.Is.Name, op.tank.Entry))
	}
	return StandardReason{Says: "of the six operations it does: " + strings.Join(parts, "; "), Fact: "tanks, purpose", Entry: f.operations[0].tank.Entry, Ref: lawRef("40 CFR 433", "433.10(a)")}
}

func isPrecious(metal chemicals.Name) bool {
	return slices.ContainsFunc(publishedLimits().precious.words(), func(symbol string) bool { return strings.EqualFold(symbol, metal.String()) })
}

// plated settles whether precious metals are plated.
func (f *standardFacts) plated(metalless, precious []chemicals.Held[chemicals.Tank]) {
	const question = "precious metals line"
	f.answered(factPrecious, question, "a line for precious metals: %s")
	if len(precious) > 0 {
		if yes, ok := f.known[factPrecious]; ok && !yes {
			f.caveats = append(f.caveats, working.Caveat(fmt.Sprintf("entry %d answers that there is no precious metals line, and tank %s plates %s by entry %d; the tank was followed", f.reasons[factPrecious].Entry, precious[0].Is.Name, precious[0].Is.Plates, precious[0].Entry)))
		}
		says := fmt.Sprintf("tank %s plates %s, a precious metal", precious[0].Is.Name, precious[0].Is.Plates)
		f.set(factPrecious, true, StandardReason{Says: says, Fact: "tank, plates", Entry: precious[0].Entry, Ref: publishedLimits().precious.ref})
	}
	switch _, ok := f.known[factPrecious]; {
	case len(metalless) > 0:
		f.common = true
	case !ok:
		f.set(factPrecious, false, StandardReason{Says: "no tank plates a precious metal", Fact: "tank, plates", Ref: publishedLimits().precious.ref})
	}
}

// flow settles on which side of the boundary the process water of a day is. An
// answer of the book goes before the flow that was worked out.
func (f *standardFacts) flow(flow working.Estimate[quantity.Flow]) {
	const question = "process water over 38000 L a day"
	boundary := publishedLimits().largeFlow
	f.answered(factLargeFlow, question, "38000 L of process water a day or more: %s")
	if !flow.Known() {
		return
	}
	large := func(at working.Case) bool { return flow.At(at) >= boundary.Is() }
	agrees := large(working.Low) == large(working.High) && large(working.Low) == large(working.Likely)
	if answer, ok := f.known[factLargeFlow]; ok {
		if !agrees || answer != large(working.Likely) {
			f.caveats = append(f.caveats, working.Caveat(fmt.Sprintf("entry %d answers the question %q, and the flow worked out is %s; the answer was followed", f.reasons[factLargeFlow].Entry, question, flow.Text())))
		}
		return
	}
	if !agrees {
		f.caveats = append(f.caveats, working.Caveat("the process water of a day, "+flow.Text()+", lies on both sides of "+boundary.Text()))
		return
	}
	says := fmt.Sprintf("process water of %s, under %s", flow.Text(), boundary.Text())
	if large(working.Likely) {
		says = fmt.Sprintf("process water of %s, not under %s", flow.Text(), boundary.Text())
	}
	f.set(factLargeFlow, large(working.Likely), StandardReason{Says: says, Fact: "process water of a day", Ref: boundary.Ref()})
}
