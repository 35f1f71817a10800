package exposure

import (
	"cmp"
	"fmt"
	"slices"

	"bathwarden/chemicals"
)

// Training is what the record says of one person and one topic.
type Training struct {
	Person chemicals.Held[chemicals.Person]
	Topic  string
	Last   *chemicals.Happened[chemicals.Training] // nil: no record found
	Lapsed bool                                    // older than the table of ages allows
}

// Trainings lists for every person who works here on the as-of day the topics
// in which anybody was trained, with the last record of each.
func Trainings(shop *chemicals.Shop) []Training {
	last := map[string]*chemicals.Happened[chemicals.Training]{}
	topics := map[string]string{} // by meaning, as first written
	for _, e := range chemicals.Events[chemicals.Training](shop) {
		topic := chemicals.Fold(e.Is.Topic.String())
		if _, seen := topics[topic]; !seen {
			topics[topic] = e.Is.Topic.String()
		}
		last[e.Is.Person.Meaning()+"\t"+topic] = &e
	}
	var all []Training
	for _, p := range chemicals.On[chemicals.Person](shop, shop.AsOf) {
		for topic, words := range topics {
			t := Training{Person: p, Topic: words, Last: last[p.Is.Name.Meaning()+"\t"+topic]}
			t.Lapsed = t.Last != nil && StaleAges().Training.Past(t.Last.Date, shop.AsOf)
			all = append(all, t)
		}
	}
	slices.SortFunc(all, func(a, b Training) int {
		return cmp.Or(cmp.Compare(a.Person.Is.Name, b.Person.Is.Name), cmp.Compare(a.Topic, b.Topic))
	})
	return all
}

// Round is a check that is made again and again: one item at one place.
type Round struct {
	Item, Place string
	Checks      []chemicals.Happened[chemicals.Check] // of the period
	Usual       int                                   // median days from one to the next; 0 for fewer than three checks
	Longest     int                                   // days
	From, To    chemicals.Day                         // the checks on both sides of the longest gap; To may be the as-of day
}

// Missed reports whether the longest gap is at least twice the usual one.
func (r Round) Missed() bool { return r.Usual > 0 && r.Longest >= 2*r.Usual }

// Rounds finds the checks of the period by item and place, with their gaps; the
// days from the last check to the as-of day are a gap too.
func Rounds(shop *chemicals.Shop) []Round {
	byItem := map[string]*Round{}
	for _, e := range chemicals.Events[chemicals.Check](shop) {
		if !shop.Period.Holds(e.Date) {
			continue
		}
		key := chemicals.Fold(e.Is.Item.String()) + "\t" + chemicals.Fold(e.Is.Place.String())
		if byItem[key] == nil {
			byItem[key] = &Round{Item: e.Is.Item.String(), Place: e.Is.Place.String()}
		}
		byItem[key].Checks = append(byItem[key].Checks, e)
	}
	var rounds []Round
	for _, r := range byItem {
		r.gaps(min(shop.AsOf, shop.Period.Last))
		rounds = append(rounds, *r)
	}
	slices.SortFunc(rounds, func(a, b Round) int {
		return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Place, b.Place))
	})
	return rounds
}

func (r *Round) gaps(until chemicals.Day) {
	var gaps []int
	note := func(from, to chemicals.Day) {
		if days := to.Since(from); days > r.Longest {
			r.Longest, r.From, r.To = days, from, to
		}
	}
	for i, c := range r.Checks {
		if i == 0 {
			continue
		}
		gaps = append(gaps, c.Date.Since(r.Checks[i-1].Date))
		note(r.Checks[i-1].Date, c.Date)
	}
	if len(gaps) < 2 {
		return
	}
	note(r.Checks[len(r.Checks)-1].Date, until)
	slices.Sort(gaps)
	r.Usual = gaps[len(gaps)/2]
}

// Paper is a paper that the shop holds, on the as-of day.
type Paper struct {
	chemicals.Held[chemicals.Paper]
	Left    int // days to its last day, negative when it is over; 0 where it has none
	Expired bool
	Soon    bool // ends within the days of the table of ages
}

// Papers lists the papers that the book names on the as-of day.
func Papers(shop *chemicals.Shop) []Paper {
	var all []Paper
	for _, h := range chemicals.On[chemicals.Paper](shop, shop.AsOf) {
		p := Paper{Held: h}
		if h.Is.Expires.Known() {
			p.Left = h.Is.Expires.Since(shop.AsOf)
			p.Expired = p.Left < 0
			p.Soon = !p.Expired && p.Left <= StaleAges().Paper.Days
		}
		all = append(all, p)
	}
	slices.SortFunc(all, func(a, b Paper) int { return cmp.Compare(a.Is.Name, b.Is.Name) })
	return all
}

// DutyGaps lists what trainings, checks and papers leave open.
func DutyGaps(shop *chemicals.Shop, trainings []Training, rounds []Round, papers []Paper) []Gap {
	var gaps []Gap
	for _, t := range trainings {
		where := "person " + t.Person.Is.Name.String()
		switch {
		case t.Last == nil:
			gaps = append(gaps, Gap{Where: where, What: "no record found of training in " + t.Topic, Mend: "record training, or note why it is not needed", Entry: t.Person.Entry})
		case t.Lapsed:
			gaps = append(gaps, Gap{Where: where, What: fmt.Sprintf("the last training in %s is of %s", t.Topic, t.Last.Date), Mend: "train again and record it", Entry: t.Last.Entry})
		}
	}
	for _, r := range rounds {
		if r.Missed() {
			gaps = append(gaps, Gap{
				Where: "check " + r.Item, What: fmt.Sprintf("no record found from %s to %s at %s; the usual interval is %d days", r.From, r.To, r.Place, r.Usual),
				Mend: "record the check if it was made; note why if it was not", Entry: r.Checks[len(r.Checks)-1].Entry,
			})
		}
	}
	for _, p := range papers {
		where := "paper " + p.Is.Name.String()
		switch {
		case p.Expired:
			gaps = append(gaps, Gap{Where: where, What: fmt.Sprintf("it ended on %s", p.Is.Expires), Mend: "renew it and record the new one", Entry: p.Entry})
		case p.Soon:
			gaps = append(gaps, Gap{Where: where, What: fmt.Sprintf("it ends on %s, in %d days", p.Is.Expires, p.Left), Mend: "apply for the next one", Entry: p.Entry})
		}
	}
	return sorted(gaps)
}
