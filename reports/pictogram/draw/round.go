package main

import "math"

// quarter is the length of the control arms, in radii, with which a cubic
// curve comes nearest to a quarter of a circle: 4/3 (sqrt 2 - 1).
const quarter = 0.5522847498

func (r *reader) circle(c point, radius float64) outline {
	k := quarter * radius
	o := outline{start: r.turn(point{c.x, c.y - radius})}
	for _, n := range [][]float64{
		{c.x + k, c.y - radius, c.x + radius, c.y - k, c.x + radius, c.y},
		{c.x + radius, c.y + k, c.x + k, c.y + radius, c.x, c.y + radius},
		{c.x - k, c.y + radius, c.x - radius, c.y + k, c.x - radius, c.y},
		{c.x - radius, c.y - k, c.x - k, c.y - radius, c.x, c.y - radius},
	} {
		o.steps = append(o.steps, r.step(n))
	}
	return o
}

// bar paints two circles and what their outer tangents hold between them.
func (r *reader) bar(a point, ra float64, b point, rb float64) {
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length <= math.Abs(ra-rb) {
		r.paint(r.circle(a, ra))
		r.paint(r.circle(b, rb))
		return
	}
	// The tangent points lie this far round from the line of centres.
	along, open := math.Atan2(b.y-a.y, b.x-a.x), math.Acos((ra-rb)/length)
	on := func(c point, radius, angle float64) point {
		return point{c.x + radius*math.Cos(angle), c.y + radius*math.Sin(angle)}
	}
	side := outline{start: r.turn(on(a, ra, along-open))}
	for _, p := range []point{on(b, rb, along-open), on(b, rb, along+open), on(a, ra, along+open)} {
		side.steps = append(side.steps, step{r.turn(p)})
	}
	// Shapes of their own: the rasteriser would let outlines that run against
	// one another cancel out.
	r.paint(r.circle(a, ra))
	r.paint(r.circle(b, rb))
	r.paint(side)
}
