package exposure

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// uncounted is a piece of work whose drag-out from some tanks is not known.
type uncounted struct {
	work  chemicals.Happened[chemicals.Work]
	tanks []chemicals.Name
}

func (w *walker) uncounted(work chemicals.Happened[chemicals.Work], tank chemicals.Name) {
	if !w.booking {
		return
	}
	u, ok := w.missing[work.Entry]
	if !ok {
		u = &uncounted{work: work}
		w.missing[work.Entry] = u
	}
	if !slices.Contains(u.tanks, tank) {
		u.tanks = append(u.tanks, tank)
	}
}

// nameUncounted makes a gap of each.
func (w *walker) nameUncounted() {
	for _, u := range w.missing {
		var tanks []string
		for _, t := range u.tanks {
			tanks = append(tanks, t.String())
		}
		w.gap(Gap{
			Where: "work through " + u.work.Is.Cycle.String(), Entry: u.work.Entry,
			What: fmt.Sprintf("that of %s has %s, so its drag-out from %s is not counted", u.work.Date, lacking(u.work.Is), strings.Join(tanks, ", ")),
			Mend: "record the area of the work, or film rows of the tanks with the drag-out of a load",
		})
	}
}

// tour is one entry of work with the volumes that cling to it behind each step.
type tour struct {
	work    chemicals.Happened[chemicals.Work]
	steps   []*stop
	volumes []Spread // L, behind each step
	share   float64  // of the entry that goes the way together
	again   bool     // a further part of an entry that was counted
}

// parts are the loads of a piece of work that is dipped into a rinse before and
// after a bath, each on its way alone: together they would all go in before
// the first came out. Without a count of loads a twentieth goes together.
func (t tour) parts() []tour {
	t.share = 1
	if len(dipAt(t.steps)) == 0 {
		return []tour{t}
	}
	const unsaid = 20
	n := t.work.Is.Loads.Int()
	if n == 0 {
		n = unsaid
	}
	t.share = 1 / float64(n)
	volumes := t.volumes
	t.volumes = make([]Spread, len(volumes))
	for i := range volumes {
		t.volumes[i] = volumes[i].times(t.share)
	}
	all := make([]tour, n)
	for i := range all {
		all[i] = t
		all[i].again = i > 0
	}
	return all
}

// dipAt are the steps at which work comes to a rinse again, one bath after it
// came there first.
func dipAt(steps []*stop) []int {
	var at []int
	for i := 2; i < len(steps); i++ {
		if steps[i].tank == steps[i-2].tank && steps[i].rinse && !steps[i-1].rinse {
			at = append(at, i)
		}
	}
	return at
}

// tour finds the way of a piece of work. It is false where the book cannot
// tell one.
func (w *walker) tour(p *plant, day chemicals.Day, work chemicals.Happened[chemicals.Work]) (tour, bool) {
	steps := p.cycles[work.Is.Cycle.Meaning()]
	if len(steps) == 0 {
		w.gap(Gap{Where: "cycle " + work.Is.Cycle.String(), What: fmt.Sprintf("work of %s went through it, but it has no steps on that day", day), Mend: "record its steps from that day", Entry: work.Entry})
		return tour{}, false
	}
	t := tour{work: work, volumes: make([]Spread, 0, len(steps))}
	var last Spread
	for _, s := range steps {
		if _, stands := p.tanks[s.tank]; !stands {
			w.gap(Gap{Where: "tank " + s.Is.Tank.String(), What: fmt.Sprintf("cycle %s leads through it, but it does not stand on %s", s.Is.Cycle, day), Mend: "record the steps of the cycle without it, or correct its last day", Entry: s.Entry})
			continue
		}
		if volume, own := w.films.volume(p, s, work); own || !s.rinse {
			last = volume
		}
		t.steps, t.volumes = append(t.steps, s), append(t.volumes, last)
	}
	t.wetFirst()
	return t, true
}

// wetFirst lets the work carry out of rinses before its first bath what it will
// carry out of that bath: nothing else is known of it there.
func (t tour) wetFirst() {
	for i, s := range t.steps {
		if s.rinse {
			continue
		}
		for j := range i {
			t.volumes[j] = t.volumes[i]
		}
		return
	}
}
