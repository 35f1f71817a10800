package exposure

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// standardCourse follows the order in which the rules are asked: whether process
// water reaches the point, 40 CFR 433.10(a), 433.10(b), who takes the water,
// 433.10(c) with 413.01, and in part 413 the subparts and their sizes.
type standardCourse struct {
	facts   *standardFacts
	taken   []standardAnswer
	missing standardFact // where the course stopped; 0 where it came to its end
	reading StandardReading
}

// ask answers a fact and writes its reason down; ok is false where the course
// must stop.
func (c *standardCourse) ask(fact standardFact) (yes, ok bool) {
	if yes, ok = c.facts.known[fact]; ok {
		if why := c.facts.reasons[fact]; why.Says != "" {
			c.reading.Reasons = append(c.reading.Reasons, why)
		}
		return yes, true
	}
	for _, t := range c.taken {
		if t.of == fact {
			words := standardWords[fact]
			says := words.no
			if t.yes {
				says = words.yes
			}
			c.reading.Reasons = append(c.reading.Reasons, StandardReason{Says: "taken: " + says + "; " + words.missing, Fact: words.fact})
			return t.yes, true
		}
	}
	c.missing = fact
	return false, false
}

func (c *standardCourse) end(says string, sets ...StandardSet) {
	c.reading.Says, c.reading.Sets = says, sets
}

func (c *standardCourse) because(says, document, place string) {
	c.reading.Reasons = append(c.reading.Reasons, StandardReason{Says: says, Ref: lawRef(document, place)})
}

func (c *standardCourse) run() {
	us, ok := c.ask(factUnitedStates)
	switch {
	case !ok:
	case us:
		c.unitedStates()
	default:
		c.end("no federal rule of the United States; the permit and the national law decide, and the German AbwV Anhang 40 and the BREF stand beside them for comparison", europeanSets...)
	}
}

// europeanSets are put beside a permit for comparison; they bind nobody by
// themselves here.
var europeanSets = []StandardSet{"AbwV 40 D", "AbwV 40 D electroless nickel", "AbwV 40 D by cadmium used", "AbwV 40 C", "BREF STM"}

func (c *standardCourse) unitedStates() {
	if reached, known := c.facts.known[factProcessWater]; known && !reached {
		c.ask(factProcessWater)
		c.end("no limits of 40 CFR 413 or 433 at this point: no process water reaches it")
		return
	}
	if does, ok := c.ask(factOperation); !ok {
		return
	} else if !does {
		c.end("neither 40 CFR 413 nor 433: none of the six operations of 433.10(a) is done")
		return
	}
	if other, ok := c.ask(factOtherCategory); !ok {
		return
	} else if other {
		c.because("water under another category is under that part", "40 CFR 433", "433.10(b)")
		c.end("the part of the other category, which the book does not name")
		return
	}
	point := c.facts.point
	c.reading.Reasons = append(c.reading.Reasons, StandardReason{Says: fmt.Sprintf("%s leaves to a %s", point.Is.Name, point.Is.Body), Fact: "point, body", Entry: point.Entry})
	switch point.Is.Body {
	case chemicals.Stream:
		c.stream()
	case chemicals.Sewer:
		c.sewer()
	case chemicals.Hauler:
		c.because("water that is hauled is discharged where the hauler brings it", "40 CFR 403", "403.5(b)(8)")
		c.end("no limits of 40 CFR 413 or 433 at this point: the water is hauled")
	}
}

func (c *standardCourse) stream() {
	isNew, ok := c.ask(factNewSource)
	switch {
	case !ok:
	case isNew:
		c.because("direct discharge of a new source, job shops included", "40 CFR 433", "433.16")
		c.end("new source to a stream: 40 CFR 433.16 (NSPS)", "433 NSPS")
	default:
		bpt := LimitFigures("433 BPT")[0].Ref
		bpt.Place = "433.13, 433.14"
		c.reading.Reasons = append(c.reading.Reasons, StandardReason{Says: "direct discharge of an existing source, job shops included", Ref: bpt})
		c.end("existing source to a stream: 40 CFR 433.13 (BPT) and 433.14 (BAT)", "433 BPT", "433 BAT")
	}
}

func (c *standardCourse) sewer() {
	if isNew, ok := c.ask(factNewSource); !ok {
		return
	} else if isNew {
		c.because("a new source to a sewer, job shops included", "40 CFR 433", "433.17")
		c.end("new source to a sewer: 40 CFR 433.17 (PSNS)", "433 PSNS")
		return
	}
	jobShop, ok := c.ask(factJobShop)
	if !ok {
		return
	}
	if jobShop {
		c.because("existing job shops to a sewer are under part 413", "40 CFR 433", "433.10(c)")
		c.part413("existing job shop to a sewer")
		return
	}
	if _, makes := c.facts.boards(); makes {
		independent, ok := c.ask(factIndependent)
		if !ok {
			return
		}
		if independent {
			c.because("existing independent board makers to a sewer are under part 413", "40 CFR 433", "433.10(c)")
			c.part413("existing independent board maker to a sewer")
			return
		}
	}
	c.because("an existing captive shop to a sewer", "40 CFR 433", "433.15")
	c.because("part 413 does not bind a facility that must meet all of 433.15", "40 CFR 413", "413.01(a)")
	c.end("existing captive shop to a sewer: 40 CFR 433.15 (PSES)", "433 PSES")
}

// The two sizes of part 413, as the sets of limits.csv are named.
const (
	underLargeFlow = "under 38000 L/day"
	fromLargeFlow  = "from 38000 L/day"
)

// part413 finds the subparts by what is done, and their size.
func (c *standardCourse) part413(who string) {
	subparts := c.subparts()
	if c.missing != 0 {
		return
	}
	large, ok := c.ask(factLargeFlow)
	if !ok {
		return
	}
	size := underLargeFlow
	if large {
		size = fromLargeFlow
	}
	var sets []StandardSet
	for _, sub := range subparts {
		sets = append(sets, StandardSet("413 "+sub+" "+size))
	}
	says := fmt.Sprintf("%s: 40 CFR 413, subpart %s, %s", who, strings.Join(subparts, ", "), size)
	c.end(says, sets...)
}

func (c *standardCourse) subparts() []string {
	var subs []string
	electroplates := false
	for _, op := range c.facts.operations {
		if op.subpart != "" {
			subs = append(subs, op.subpart)
			continue
		}
		electroplates = true
	}
	if electroplates {
		precious, ok := c.ask(factPrecious)
		if !ok {
			return nil
		}
		if precious {
			subs = append(subs, "B")
		}
		if c.facts.common || !precious {
			subs = append(subs, "A")
		}
	}
	if _, makes := c.facts.boards(); makes {
		subs = append(subs, "H")
	}
	slices.Sort(subs)
	return slices.Compact(subs)
}
