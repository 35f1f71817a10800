package rinse

import "math"

// filled is what the j-th still rinse holds after a number of loads, as a part
// of the bath, when each load exchanges the part p of every rinse. It is the
// chance of at least j successes before the loads-th failure, and holds between
// whole loads too. p is below one half, so that the sums end soon.
//
// The sum of the first j terms is taken from 1 where that keeps the digits, the
// sum of all others where it does not.
func filled(p, loads float64, j int) float64 {
	if loads == 0 {
		return 0
	}
	empty := math.Exp(loads * math.Log1p(-p))
	term, head := empty, 0.0
	for i := range j {
		head += term
		term *= (loads + float64(i)) / float64(i+1) * p
	}
	if head <= 0.5 {
		return 1 - head
	}
	tail := 0.0
	for i := float64(j); term > tail*1e-17; i++ {
		tail += term
		term *= (loads + i) / (i + 1) * p
	}
	return tail
}

// loadsFor is the number of loads, not rounded, after which the n-th rinse holds
// a share below 1 of the bath; p is over 0. What a rinse holds grows with the
// loads, so the root is between two doublings.
func loadsFor(share, p float64, n int) float64 {
	if share == 0 {
		return 0
	}
	high := 1.0
	for filled(p, high, n) < share {
		high *= 2
	}
	low := 0.0
	for {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			return middle
		}
		if filled(p, middle, n) < share {
			low = middle
			continue
		}
		high = middle
	}
}
