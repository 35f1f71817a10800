package exposure

import (
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// choices are the limits that may stand in for those of the readings.
func (f *standardFacts) choices(readings []StandardReading) []StandardChoice {
	var all []StandardChoice
	seen := map[StandardSet]bool{}
	for _, r := range readings {
		for _, set := range r.Sets {
			if !seen[set] {
				seen[set] = true
				for _, c := range f.choicesOf(set) {
					all = addChoice(all, c, set)
				}
			}
		}
	}
	return all
}

// addChoice adds a choice, or its set to a choice with the same figures.
func addChoice(all []StandardChoice, c StandardChoice, set StandardSet) []StandardChoice {
	same := func(a, b LimitFigure) bool {
		return a.Pollutant == b.Pollutant && a.Rule == b.Rule && a.Text == b.Text
	}
	for i := range all {
		if all[i].Title == c.Title && slices.EqualFunc(all[i].Figures, c.Figures, same) {
			all[i].For = append(all[i].For, set)
			return all
		}
	}
	c.For = []StandardSet{set}
	return append(all, c)
}

func (f *standardFacts) choicesOf(set StandardSet) []StandardChoice {
	switch set {
	case "433 PSES", "433 PSNS", "433 BAT":
		return f.amenable(set)
	}
	subpart, large := strings.CutSuffix(string(set), " "+fromLargeFlow)
	if !large {
		var small bool
		if subpart, small = strings.CutSuffix(string(set), " "+underLargeFlow); !small {
			return nil
		}
	}
	choices := f.byArea(StandardSet(subpart + " by area"))
	if large {
		choices = append(choices, f.lime(StandardSet(subpart+" with lime"))...)
	}
	return append(choices, f.thirtyDay(set)...)
}

// condition takes an answer into a choice; it is false where the answer rules
// the choice out.
func (f *standardFacts) condition(c *StandardChoice, question string, wanted bool) bool {
	a, ok := f.answers[plainPollutant(question)]
	yes, reads := yesOrNo(a.Is.Answer)
	if !ok || !reads {
		c.Open = append(c.Open, "the book has no answer to \""+question+"\"")
		return true
	}
	c.Known = append(c.Known, StandardReason{Says: question + ": " + a.Is.Answer.String(), Fact: "answer \"" + question + "\"", Entry: a.Entry})
	return yes == wanted
}

func (f *standardFacts) amenable(set StandardSet) []StandardChoice {
	c := StandardChoice{
		Title: "amenable cyanide in place of total cyanide", Condition: "the plant treats cyanide and the control authority agrees",
		Figures: LimitFigures(set + " with cyanide treatment"),
	}
	if !f.condition(&c, "cyanide treatment", true) {
		return nil
	}
	return []StandardChoice{f.agreed(c, "the control authority's consent")}
}

func (f *standardFacts) byArea(set StandardSet) []StandardChoice {
	c := StandardChoice{Title: "limits by area processed in place of concentrations", Condition: "by prior agreement with the treatment works; each operation counts its area", Figures: LimitFigures(set)}
	if len(c.Figures) == 0 {
		return nil
	}
	return []StandardChoice{f.agreed(c, "an agreement with the treatment works")}
}

func (f *standardFacts) lime(set StandardSet) []StandardChoice {
	c := StandardChoice{
		Title:     "lead, cadmium, cyanide, suspended solids and pH in place of a limit for each metal",
		Condition: "no strong chelators, hexavalent chromium reduced, then neutralised with lime, and the control authority concurs",
		Figures:   LimitFigures(set),
	}
	if len(c.Figures) == 0 || !f.condition(&c, "strong chelators", false) {
		return nil
	}
	return []StandardChoice{f.agreed(c, "neutralising with lime, and the control authority's consent")}
}

func (f *standardFacts) thirtyDay(set StandardSet) []StandardChoice {
	c := StandardChoice{
		Title: "thirty-day averages in place of four-day averages", Condition: "an integrated facility whose water joins a stream with thirty-day averages",
		Figures: ThirtyDayFigures(set),
	}
	if !f.condition(&c, "integrated facility", true) {
		return nil
	}
	return []StandardChoice{f.agreed(c, "whether the other stream has thirty-day averages")}
}

// agreed adds what no answer of the book can show.
func (f *standardFacts) agreed(c StandardChoice, what string) StandardChoice {
	c.Open = append(c.Open, "the book does not show "+what)
	if len(c.Figures) > 0 {
		c.Ref = c.Figures[0].Ref
	}
	return c
}

// comparesOnly reports whether a set is there for comparison and binds nobody.
func comparesOnly(set StandardSet) bool {
	return strings.HasPrefix(string(set), "AbwV") || strings.HasPrefix(string(set), "BREF")
}

// inUnitedStates reports whether a rule of 40 CFR 403 may bind the shop on a
// day: where the book does not say whose rules apply, it may.
func inUnitedStates(shop *chemicals.Shop, day chemicals.Day) bool {
	firms := chemicals.On[chemicals.Firm](shop, day)
	return len(firms) == 0 || firms[len(firms)-1].Is.Regime != chemicals.Europe
}
