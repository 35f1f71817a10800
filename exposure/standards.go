package exposure

import (
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Standard is which published limits bind a point on a day, as 40 CFR 413 and
// 433 sort shops. Where a fact is missing there are several readings, one for
// each way in which it may turn out. The control authority decides.
//
// Not covered: whether the water is already under another category (433.10(b)),
// unless the book answers "other category"; limits that the authority derives by
// the combined wastestream formula; standards of a state.
type Standard struct {
	Point    chemicals.Held[chemicals.Point]
	Day      chemicals.Day
	Readings []StandardReading // never empty
	Missing  []StandardMissing // facts that the book does not say and the readings part on
	Choices  []StandardChoice  // limits that may stand in for others, on a condition
	Caveats  []working.Caveat
}

// Decided reports whether the book leaves one reading only.
func (s Standard) Decided() bool { return len(s.Readings) == 1 }

// StandardReading is one way to read the rules.
type StandardReading struct {
	If      []string      // "the shop is a job shop", for each fact that the book does not say; empty in the only reading
	Sets    []StandardSet // that bind; none where no federal limits for metal finishing do
	Says    string        // "new source to a sewer: 40 CFR 433.17"
	Reasons []StandardReason
}

// StandardReason is one step of a decision.
type StandardReason struct {
	Says  string     // "construction began on 1979-05-01, not after 1982-08-31: an existing source"
	Fact  string     // "shop, construction start"; empty where the step turns on the rule alone
	Entry int64      // of the fact, 0 if there is none
	Ref   source.Ref // of the rule; none where the step is a fact of the book alone
}

// StandardMissing is a fact that the book does not say.
type StandardMissing struct {
	Fact string // "shop, construction start"
	What string // "the book does not say when construction began"
	Mend string
}

// StandardChoice is limits that may stand in for others of a reading.
type StandardChoice struct {
	For       []StandardSet // whose limits they may stand in for
	Title     string        // "amenable cyanide in place of total cyanide"
	Condition string        // in words
	Known     []StandardReason
	Open      []string // what the book does not say of the condition
	Figures   []LimitFigure
	Ref       source.Ref
}

// StandardAt decides which published limits bind a point on a day. flow is the
// process water of a day, absent where it is not known.
func StandardAt(shop *chemicals.Shop, point chemicals.Held[chemicals.Point], day chemicals.Day, flow working.Estimate[quantity.Flow]) Standard {
	facts := standardFactsOn(shop, point, day, flow)
	s := Standard{Point: point, Day: day, Caveats: facts.caveats}
	s.Readings, s.Missing = facts.readings(nil)
	s.Choices = facts.choices(s.Readings)
	return s
}

// StandardsOf decides for every point that the shop has on the as-of day.
func StandardsOf(shop *chemicals.Shop, flow working.Estimate[quantity.Flow]) []Standard {
	var all []Standard
	for _, p := range chemicals.On[chemicals.Point](shop, shop.AsOf) {
		all = append(all, StandardAt(shop, p, shop.AsOf, flow))
	}
	return all
}

// standardAnswer is what a reading takes for a fact that the book does not say.
type standardAnswer struct {
	of  standardFact
	yes bool
}

// readings follows the rules; on a fact that is missing it follows both ways.
// A fact that makes no difference is left out again.
func (f *standardFacts) readings(taken []standardAnswer) ([]StandardReading, []StandardMissing) {
	c := standardCourse{facts: f, taken: taken}
	c.run()
	if c.missing == 0 {
		return []StandardReading{c.reading}, nil
	}
	yes, missingYes := f.readings(append(slices.Clone(taken), standardAnswer{c.missing, true}))
	no, missingNo := f.readings(append(slices.Clone(taken), standardAnswer{c.missing, false}))
	words := standardWords[c.missing]
	if len(yes) == 1 && len(no) == 1 && slices.Equal(yes[0].Sets, no[0].Sets) {
		same := no[0]
		same.Reasons = append(slices.Clone(c.reading.Reasons), StandardReason{Says: words.missing + ", which makes no difference here", Fact: words.fact})
		return []StandardReading{same}, nil
	}
	for i := range yes {
		yes[i].If = append([]string{words.yes}, yes[i].If...)
	}
	for i := range no {
		no[i].If = append([]string{words.no}, no[i].If...)
	}
	missing := []StandardMissing{{Fact: words.fact, What: words.missing, Mend: words.mend}}
	for _, m := range append(missingYes, missingNo...) {
		if !slices.Contains(missing, m) {
			missing = append(missing, m)
		}
	}
	return append(yes, no...), missing
}
