package exposure

// change is what a way of the plan changes in the shop.
type change struct {
	rinse  string  // first tank of a rinse
	feed   string  // its tank that fresh water enters
	flow   float64 // L of fresh water on a working day instead of now; below zero: as now
	stages int     // more of them
	still  *trial  // ahead of the rinse
	haul   bool    // its water is held and hauled
	dump   dumpTo  // dumps that no longer go where they go now
	toBath string  // where they go instead; empty: haul
}

// trial is a still rinse that the shop does not have.
type trial struct {
	pool   pool
	every  int // days with work between two emptyings
	worked int
	toBath bool // what it holds goes back into the bath; else it is hauled
	bath   string
}

func (c *change) litres(now float64) float64 {
	if c.flow >= 0 {
		return c.flow
	}
	return now
}

// onRinse is what is tried out on a rinse, nil for nothing.
func (w *walker) onRinse(first string) *change {
	for _, c := range w.changes {
		if c.rinse == first && first != "" {
			return c
		}
	}
	return nil
}

func (w *walker) onFeed(tank string) *change {
	for _, c := range w.changes {
		if c.feed == tank && tank != "" {
			return c
		}
	}
	return nil
}

func (w *walker) onDump(of dumpTo) *change {
	for _, c := range w.changes {
		if c.dump == of && of.point != "" {
			return c
		}
	}
	return nil
}

// changed is a chain with what is tried out on it.
func (w *walker) changed(ch chain) chain {
	c := w.onRinse(ch.tanks[0])
	if c == nil {
		return ch
	}
	ch.more = c.stages
	if c.flow >= 0 {
		ch.flow = c.flow
	}
	return ch
}

// ahead takes work through the still rinse that is tried out ahead of a rinse.
func (w *walker) ahead(first string, c carry) carry {
	tried := w.onRinse(first)
	if tried == nil || tried.still == nil || c.volume == (Spread{}) {
		return c
	}
	t := tried.still
	if t.pool.mass == nil {
		t.pool.mass = w.masses()
	}
	c.mass, _ = t.pool.take(c)
	t.bath = c.bath
	return c
}

// turnTrials ends a working day of the still rinses that are tried out: each is
// emptied when it is due.
func (w *walker) turnTrials() {
	for _, c := range w.changes {
		if c.still != nil && c.still.pool.mass != nil {
			w.turnTrial(c.still)
		}
	}
}

func (w *walker) turnTrial(t *trial) {
	if t.worked++; t.worked < t.every {
		return
	}
	t.worked = 0
	if w.booking {
		if t.toBath {
			w.account(t.bath).returned.add(t.pool.mass)
		} else {
			w.hauled.add(t.pool.mass)
		}
	}
	t.pool.mass = w.masses()
}
