package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
)

// SaddleCurve gives the rim of a saddled end in space, n points round the section's outside: where lines along the member
// meet the header's cylinder first. A line that passes the header by ends beside its axis.
func (m *Member) SaddleCurve(e, n int) []space.Vec {
	s := m.Ends[e].Saddle
	dir := m.Axis // from the member's body towards the header
	if e == 0 {
		dir = dir.Mul(-1)
	}
	out := make([]space.Vec, 0, n)
	for i := range n {
		y, z := m.Section.rim(float64(i) / float64(n))
		p := m.Place(0, y, z)
		t, _ := s.first(p, dir)
		out = append(out, p.Along(dir, t))
	}
	return out
}

// rim gives the point of the section's sharp outline at share t of a turn, from +depth towards +width.
func (s *Section) rim(t float64) (y, z float64) {
	sin, cos := space.SinCosDeg(360 * t)
	if s.Round {
		return s.RadiusMM * cos, s.RadiusMM * sin
	}
	// The ray from the middle to the box.
	h, b := s.DepthMM/2, s.WidthMM/2
	f := math.Inf(1)
	if cos != 0 {
		f = min(f, h/math.Abs(cos))
	}
	if sin != 0 {
		f = min(f, b/math.Abs(sin))
	}
	return f * cos, f * sin
}

// over gives the cylinder of a corner that a line from p along dir meets first; of a single saddle itself.
func (s *Saddle) over(p, dir space.Vec) *Saddle {
	if s.Also == nil || s.Split.Dist(p) <= 0 {
		return s
	}
	if s.Through {
		t, hit := s.enters(p, dir)
		if u, also := s.Also.enters(p, dir); hit && (!also || t <= u) {
			return s
		}
	}
	return s.Also
}

// first gives the distance from p along the unit vector dir at which the saddle is met; where it is passed by, the
// distance to the point nearest to the axis, and hit is false.
func (s *Saddle) first(p, dir space.Vec) (t float64, hit bool) { return s.over(p, dir).enters(p, dir) }

// enters is first for this cylinder alone.
func (s *Saddle) enters(p, dir space.Vec) (t float64, hit bool) {
	w := p.Sub(s.At)
	w = w.Sub(s.Dir.Mul(w.Dot(s.Dir)))
	d := dir.Sub(s.Dir.Mul(dir.Dot(s.Dir)))
	a, b, c := d.Dot(d), w.Dot(d), w.Dot(w)-s.RadiusMM*s.RadiusMM
	if a < 1e-12 {
		return 0, false
	}
	if disc := b*b - a*c; disc > 0 {
		return (-b - math.Sqrt(disc)) / a, true
	}
	return -b / a, false
}

// Reach gives the distance from p along the unit vector dir at which a line meets the header; where it passes the header
// by, to the point beside its axis.
func (s *Saddle) Reach(p, dir space.Vec) float64 {
	t, _ := s.first(p, dir)
	return t
}

// SaddleReach gives how far the curve of a saddled end reaches along the axis from A: the least and the greatest x. The
// curve is walked in steps, and the two places sought between the steps beside the least and the greatest, so that the
// tip does not hang on where the steps fall on the section.
func (m *Member) SaddleReach(e int) (least, most float64) {
	const steps = 360
	s := m.Ends[e].Saddle
	dir := m.Axis
	if e == 0 {
		dir = dir.Mul(-1)
	}
	flanks := m.flanks(s, dir)
	sign := 1.0
	if e == 0 {
		sign = -1
	}
	// at gives x on the curve at share t of the rim; of a line on the flank nothing.
	at := func(t float64) (float64, bool) {
		y, z := m.Section.rim(t)
		p := m.Place(0, y, z)
		c := s.over(p, dir)
		if len(flanks) > 0 {
			if _, on := c.flank(p, dir); on {
				return 0, false
			}
		}
		d, _ := c.enters(p, dir)
		return sign * d, true
	}
	lo, hi := -1, -1
	least, most = math.Inf(1), math.Inf(-1)
	for i := range steps {
		x, ok := at(float64(i) / steps)
		if ok && x < least {
			least, lo = x, i
		}
		if ok && x > most {
			most, hi = x, i
		}
	}
	between := func(i int, sign float64) float64 {
		if i < 0 {
			return math.Inf(-1)
		}
		return peak(func(t float64) float64 {
			if x, ok := at(t); ok {
				return sign * x
			}
			return math.Inf(-1)
		}, float64(i-1)/steps, float64(i+1)/steps)
	}
	least, most = min(least, -between(lo, -1)), max(most, between(hi, 1))
	for _, d := range flanks {
		least, most = min(least, sign*d), max(most, sign*d)
	}
	return least, most
}

// flanks gives the distances from A along dir at which lines of a member's skin touch the flank of a header that is as wide
// as the member. The curve comes to a feather edge there, whose end is like that of a root: header and member a nanometre
// out of line move it by thousandths of a millimetre. What lies within touch of the flank is taken to touch it, so that the
// tip hangs on the angle between the two alone.
func (m *Member) flanks(s *Saddle, dir space.Vec) []float64 {
	var out []float64
	try := func(y, z float64) {
		p := m.Place(0, y, z)
		if d, on := s.over(p, dir).flank(p, dir); on {
			out = append(out, d)
		}
	}
	if !m.Section.Round {
		for _, c := range m.Section.corners() {
			try(c.Y, c.Z)
		}
		return out
	}
	for c := s; c != nil; c = c.Also {
		across := c.Dir.Cross(dir) // the two lines that pass the header's axis farthest off
		y, z := across.Dot(m.Depth), across.Dot(m.Width)
		if n := math.Hypot(y, z); n > 1e-6 {
			y, z = y/n*m.Section.RadiusMM, z/n*m.Section.RadiusMM
			try(y, z)
			try(-y, -z)
		}
	}
	return out
}

// flank gives the distance from p along dir at which a line is nearest to the header's axis; on tells whether it lies on
// the header's flank there.
func (s *Saddle) flank(p, dir space.Vec) (d float64, on bool) {
	w := p.Sub(s.At)
	w = w.Sub(s.Dir.Mul(w.Dot(s.Dir)))
	q := dir.Sub(s.Dir.Mul(dir.Dot(s.Dir)))
	a := q.Dot(q)
	if a < 1e-12 {
		return 0, false
	}
	d = -w.Dot(q) / a
	return d, math.Abs(w.Add(q.Mul(d)).Len()-s.RadiusMM) <= touch
}

// peak gives the greatest value between a and b of a function that rises to it and falls behind it: thirds are left off
// until float64 tells nothing more apart.
func peak(f func(float64) float64, a, b float64) float64 {
	for range 90 { // (2/3)^90 is 1e-16
		if c, d := a+(b-a)/3, b-(b-a)/3; f(c) < f(d) {
			a = c
		} else {
			b = d
		}
	}
	return f((a + b) / 2)
}
