package exposure

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
)

// drainWords are those by which an incident is taken to have reached the sewer.
var drainWords = []string{"drain", "sewer", "outfall"}

// wentToDrain reports whether an incident's words name a drain or a point.
func wentToDrain(shop *chemicals.Shop, i chemicals.Happened[chemicals.Incident]) bool {
	words := chemicals.Fold(i.Is.Went.String())
	if slices.ContainsFunc(drainWords, func(w string) bool { return strings.Contains(words, w) }) {
		return true
	}
	for _, p := range chemicals.On[chemicals.Point](shop, i.Date) {
		if slices.Contains(strings.FieldsFunc(words, func(r rune) bool { return strings.ContainsRune(" ,;.:()", r) }), p.Is.Name.Meaning()) || p.Is.Title.Known() && strings.Contains(words, chemicals.Fold(p.Is.Title.String())) {
			return true
		}
	}
	return false
}

// incidents start a clock of 403.12(f) each, if by their words they went to a
// drain. Notice is due at once, for which the rule gives no span: the clock says
// how long after the incident it was given.
func (r clockRoom) incidents() []ClockRun {
	var all []ClockRun
	slug := publishedLimits().slug
	for _, i := range chemicals.Events[chemicals.Incident](r.m.shop) {
		if !inUnitedStates(r.m.shop, i.Date) || !wentToDrain(r.m.shop, i) {
			continue
		}
		start := chemicals.Moment{Day: i.Date, Clock: i.Is.Time}
		c := ClockRun{
			Duty: ClockSlug, About: "incident " + i.Is.Name.String(), Entries: []int64{i.Entry}, Start: start, StartFrom: "seen", Due: start, Ref: slug.ref,
			Caveats: []working.Caveat{working.Caveat(fmt.Sprintf("by its words it went to %q; 40 CFR 403.12(f) asks for notice %s of what could cause problems, slugs among it", i.Is.Went, slug.text))},
		}
		r.closeSlug(&c, i)
		all = append(all, c)
	}
	return all
}

func (r clockRoom) closeSlug(c *ClockRun, i chemicals.Happened[chemicals.Incident]) {
	told, ok := r.told(i.Date, func(about string) bool { return isAbout(about, i.Is.Name, i.Entry) })
	if !ok {
		c.close(r, 0, r.time(c.Start))
		if i.Date == r.m.shop.AsOf {
			c.State, c.Late = ClockOpen, 0
		}
		return
	}
	c.ClosedAt = chemicals.Moment{Day: told.Date, Clock: told.Is.Time}
	at := r.time(c.ClosedAt)
	c.ClosedBy, c.State, c.Late = told.Entry, ClockClosed, at.Sub(r.time(c.Start))
	if !told.Is.Time.Known() || !i.Is.Time.Known() {
		c.Caveats = append(c.Caveats, "the book does not say at what times it was seen and notice was given; how long it took is known to the day only")
	}
}
