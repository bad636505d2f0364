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

// SaddleReach gives how far the curve of a saddled end reaches along the axis from A: the least and the greatest x.
func (m *Member) SaddleReach(e int) (least, most float64) { return m.rimReach(e, nil, m.A, m.Axis) }

// SeatReach gives how far the curve of a saddled end reaches along the header h from its A. ok is false where the end does
// not stand on it.
func (m *Member) SeatReach(e int, h *Member) (least, most float64, ok bool) {
	c := m.Ends[e].Saddle.on(h)
	if c == nil {
		return 0, 0, false
	}
	least, most = m.rimReach(e, c, h.A, h.Axis)
	return least, most, least <= most
}

// on gives the cylinder of a saddle that is the round member h; nil where none is.
func (s *Saddle) on(h *Member) *Saddle {
	for ; s != nil; s = s.Also {
		if space.LineDist(s.At, h.A, h.Axis) < touch && math.Abs(s.Dir.Dot(h.Axis)) > 1-1e-9 {
			return s
		}
	}
	return nil
}

// rimReach gives the least and the greatest distance from `from` along `along` of the points of a saddled end's curve;
// where only is not nil, of those on that cylinder of a corner. The curve is walked in steps, and each of its turns
// sought between the steps beside it, so that nothing hangs on where the steps fall on the section: there may be several,
// since the curve has a kink where the member's skin passes the header's flank.
func (m *Member) rimReach(e int, only *Saddle, from, along space.Vec) (least, most float64) {
	const steps = 360
	s := m.Ends[e].Saddle
	_, dir := m.out(e)
	flanks := m.flanks(s, dir)
	// at gives the distance of the curve at share t of the rim; beside a flank of a round member, where it is all noise,
	// nothing.
	at := func(t float64) (float64, bool) {
		y, z := m.Section.rim(t)
		p := m.Place(0, y, z)
		c := s.over(p, dir)
		if only != nil && c != only {
			return 0, false
		}
		if m.Section.Round && len(flanks) > 0 {
			f, on := c.flank(p, dir)
			for k := range flanks {
				if on && f.out.Dot(flanks[k].out) > 0 {
					return 0, false
				}
			}
		}
		d, _ := c.enters(p, dir)
		return p.Along(dir, d).Sub(from).Dot(along), true
	}
	var xs [steps]float64
	var on [steps]bool
	for i := range xs {
		xs[i], on[i] = at(float64(i) / steps)
	}
	least, most = math.Inf(1), math.Inf(-1)
	for _, sign := range []float64{-1, 1} {
		value := func(i int) float64 {
			if i = (i + steps) % steps; on[i] {
				return sign * xs[i]
			}
			return math.Inf(-1)
		}
		best := math.Inf(-1)
		for i := range xs {
			v := value(i)
			if !on[i] || v < value(i-1) || v < value(i+1) {
				continue
			}
			best = max(best, v, peak(func(t float64) float64 {
				if x, ok := at(t); ok {
					return sign * x
				}
				return math.Inf(-1)
			}, float64(i-1)/steps, float64(i+1)/steps))
		}
		if sign < 0 {
			least = -best
		} else {
			most = best
		}
	}
	for _, f := range flanks {
		if only == nil || f.of == only {
			x := f.at.Sub(from).Dot(along)
			least, most = min(least, x), max(most, x)
		}
	}
	return least, most
}

// passing is where a line of a member's skin passes a header's axis, and the way there from the axis.
type passing struct {
	of      *Saddle
	at, out space.Vec
}

// flanks gives where lines of a member's skin, along dir, touch the flank of a header that is as wide as the member. The
// curve comes to a feather edge there, whose end is like that of a root: header and member a nanometre out of line move it
// by thousandths of a millimetre. What lies within touch of the flank is taken to touch it, so that the tip hangs on the
// angle between the two alone.
func (m *Member) flanks(s *Saddle, dir space.Vec) []passing {
	var out []passing
	try := func(y, z float64) {
		p := m.Place(0, y, z)
		if f, on := s.over(p, dir).flank(p, dir); on {
			out = append(out, f)
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

// flank gives where a line from p along dir is nearest to the header's axis; on tells whether it lies on the header's flank
// there.
func (s *Saddle) flank(p, dir space.Vec) (f passing, on bool) {
	w := p.Sub(s.At)
	w = w.Sub(s.Dir.Mul(w.Dot(s.Dir)))
	q := dir.Sub(s.Dir.Mul(dir.Dot(s.Dir)))
	a := q.Dot(q)
	if a < 1e-12 {
		return f, false
	}
	d := -w.Dot(q) / a
	f = passing{s, p.Along(dir, d), w.Add(q.Mul(d))}
	return f, math.Abs(f.out.Len()-s.RadiusMM) <= touch
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
