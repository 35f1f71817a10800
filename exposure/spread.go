package exposure

import (
	"slices"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// Spread is a sum in its three cases, by working.Case: low goes with low and
// high with high through every step of the walk.
type Spread [3]float64

var cases = [...]working.Case{working.Likely, working.Low, working.High}

func (s *Spread) add(t Spread) {
	for c := range s {
		s[c] += t[c]
	}
}

func (s Spread) times(f float64) Spread {
	for c := range s {
		s[c] *= f
	}
	return s
}

func (s Spread) by(t Spread) Spread {
	for c := range s {
		s[c] *= t[c]
	}
	return s
}

// plus is s with t, and none where they end each other but for floating point.
func (s Spread) plus(t Spread) Spread {
	for c := range s {
		if sum := s[c] + t[c]; sum > s[c]*hair {
			s[c] = sum
		} else {
			s[c] = 0
		}
	}
	return s
}

func (s Spread) minus(t Spread) Spread {
	for c := range s {
		s[c] -= t[c]
	}
	return s
}

// Highest is the greatest of the cases: through a chain the low case may come to
// more than the high one.
func (s Spread) Highest() float64 { return max(s[0], s[1], s[2]) }

// same is a figure that is known to the point.
func same(v float64) Spread { return Spread{v, v, v} }

// spreadOf reads an estimate's three cases with a reader of its unit.
func spreadOf[Q any](e working.Estimate[Q], read func(Q) float64) Spread {
	var s Spread
	for _, c := range cases {
		s[c] = read(e.At(c))
	}
	return s
}

func asIs(v float64) float64 { return v }

func gramsOf(e working.Estimate[quantity.BathConcentration]) Spread {
	var s Spread
	for _, c := range cases {
		s[c] = grams(e, c)
	}
	return s
}

// masses are spreads in g, by the index of their metal.
type masses []Spread

func (m masses) add(n masses) {
	for i := range n {
		m[i].add(n[i])
	}
}

func (m masses) times(f Spread) masses {
	out := make(masses, len(m))
	for i := range m {
		out[i] = m[i].by(f)
	}
	return out
}

// none reports whether nothing is in m.
func (m masses) none() bool {
	for i := range m {
		if m[i] != (Spread{}) {
			return false
		}
	}
	return true
}

// sender is a tank that sends metal with its water, or that is dumped.
type sender struct {
	tank string
	dump bool
}

// senders is metal by who sent it.
type senders map[sender]masses

// add adds metal from a tank; who sends none is no sender.
func (s senders) add(from sender, mass masses) {
	if mass.none() {
		return
	}
	if s[from] == nil {
		s[from] = make(masses, len(mass))
	}
	s[from].add(mass)
}

// addAll adds what other senders sent.
func (s senders) addAll(others senders) {
	for from, mass := range others {
		s.add(from, mass)
	}
}

// plus is m with n.
func (m masses) plus(n masses) masses {
	out := slices.Clone(m)
	out.add(n)
	return out
}

func (m masses) minus(n masses) masses {
	out := make(masses, len(m))
	for i := range m {
		out[i] = m[i].minus(n[i])
	}
	return out
}
