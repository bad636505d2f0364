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
	const steps = 180
	_, dir := m.out(e)
	w := m.passing(m.Ends[e].Saddle, dir)
	x0, xy, xz, xt := m.A.Sub(from).Dot(along), m.Depth.Dot(along), m.Width.Dot(along), dir.Dot(along)
	// at gives the distance of the curve at a point of the rim; beside a flank of a round member, where it is all noise,
	// nothing.
	at := func(y, z float64) (float64, bool) {
		c := w.over(y, z)
		if only != nil && c.of != only {
			return 0, false
		}
		if off := c.off(y, z); m.Section.Round && (c.flank[0] && off < 0 || c.flank[1] && off > 0) && math.Abs(math.Abs(off)-c.of.RadiusMM) <= touch {
			return 0, false
		}
		return x0 + xy*y + xz*z + xt*c.reach(y, z), true
	}
	var xs [steps]float64
	var on [steps]bool
	for i := range xs {
		xs[i], on[i] = at(m.Section.rim(float64(i) / steps))
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
				if x, ok := at(m.Section.rim(t)); ok {
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
	for _, k := range m.kinks(w) {
		if c := w.over(k.Y, k.Z); c == k.of && (only == nil || c.of == only) {
			x := x0 + xy*k.Y + xz*k.Z + xt*c.beside(k.Y, k.Z)
			least, most = min(least, x), max(most, x)
		}
	}
	return least, most
}

// passing is how lines along a member pass by a header, by the point (y, z) of the section that they go through: how far
// from its axis, and where along the line that is; both grow evenly over the section.
type passing struct {
	of             *Saddle
	off0, offY     float64
	offZ           float64
	at0, atY, atZ  float64
	sin            float64 // of the angle between the two
	flank          [2]bool // the section reaches to the header's flank and not beyond, on the lower and the upper side
	beyond         float64 // of a corner of two: how far over the plane between them, likewise
	beyondY        float64
	beyondZ        float64
	through, other bool
}

// passings are of the cylinders of one saddle.
type passings []passing

func (m *Member) passing(s *Saddle, dir space.Vec) passings {
	var out passings
	for c := s; c != nil; c = c.Also {
		w := passing{of: c, off0: math.Inf(1)}
		across := c.Dir.Cross(dir)
		if n := across.Len(); n > 1e-6 {
			across = across.Mul(1 / n)
			q := dir.Sub(c.Dir.Mul(dir.Dot(c.Dir))).Mul(-1 / (n * n))
			d := m.A.Sub(c.At)
			w.off0, w.offY, w.offZ = d.Dot(across), m.Depth.Dot(across), m.Width.Dot(across)
			w.at0, w.atY, w.atZ = d.Dot(q), m.Depth.Dot(q), m.Width.Dot(q)
			w.sin = n
		}
		lo, hi := w.extent(m.Section)
		w.flank = [2]bool{math.Abs(lo+c.RadiusMM) <= touch, math.Abs(hi-c.RadiusMM) <= touch}
		if s.Also != nil && c == s {
			n := s.Split.Normal
			w.beyond, w.beyondY, w.beyondZ, w.through, w.other = s.Split.Dist(m.A), n.Dot(m.Depth), n.Dot(m.Width), s.Through, true
		}
		out = append(out, w)
	}
	return out
}

// extent gives how far off the header's axis the section's lines pass at most, to either side.
func (w *passing) extent(s *Section) (lo, hi float64) {
	if s.Round {
		r := s.RadiusMM * math.Hypot(w.offY, w.offZ)
		return w.off0 - r, w.off0 + r
	}
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, c := range s.corners() {
		lo, hi = min(lo, w.off(c.Y, c.Z)), max(hi, w.off(c.Y, c.Z))
	}
	return lo, hi
}

func (w *passing) off(y, z float64) float64 { return w.off0 + w.offY*y + w.offZ*z }

// beside gives where along the line it passes the axis, reach where it enters the cylinder; a line that passes it by ends
// beside its axis.
func (w *passing) beside(y, z float64) float64 { return w.at0 + w.atY*y + w.atZ*z }

func (w *passing) reach(y, z float64) float64 {
	t, off := w.beside(y, z), w.off(y, z)
	if in := w.of.RadiusMM*w.of.RadiusMM - off*off; in > 0 {
		t -= math.Sqrt(in) / w.sin
	}
	return t
}

// over is Saddle.over.
func (w passings) over(y, z float64) *passing {
	s := &w[0]
	if !s.other || s.beyond+s.beyondY*y+s.beyondZ*z <= 0 {
		return s
	}
	if also := &w[1]; !s.through || math.Abs(s.off(y, z)) >= s.of.RadiusMM || math.Abs(also.off(y, z)) < also.of.RadiusMM && s.reach(y, z) > also.reach(y, z) {
		return also
	}
	return s
}

// kink is a point of the section's rim at which a line along the member touches a header's flank.
type kink struct {
	of   *passing
	Y, Z float64
}

// kinks gives the points of the rim whose lines touch a header's flank, where the curve may have its tip. Where the member
// is as wide as its header the curve comes to a feather edge there, whose end is like that of a root: header and member a
// nanometre out of line move it by thousandths of a millimetre. What lies within touch of the flank is taken to touch it,
// so that the tip hangs on the angle between the two alone.
func (m *Member) kinks(w passings) []kink {
	var out []kink
	corners := m.Section.corners()
	for i := range w {
		c := &w[i]
		if c.sin == 0 {
			continue
		}
		for side, flank := range []float64{-c.of.RadiusMM, c.of.RadiusMM} {
			if m.Section.Round {
				// offY, offZ is a unit vector: header and section stand square to the same direction.
				r := m.Section.RadiusMM
				u := flank - c.off0
				if c.flank[side] {
					u = math.Copysign(r, float64(side)-0.5)
				}
				if math.Abs(u) <= r {
					v := math.Sqrt(r*r - u*u)
					out = append(out, kink{c, u*c.offY - v*c.offZ, u*c.offZ + v*c.offY}, kink{c, u*c.offY + v*c.offZ, u*c.offZ - v*c.offY})
				}
				continue
			}
			for k, a := range corners {
				b := corners[(k+1)%len(corners)]
				d, e := c.off(a.Y, a.Z)-flank, c.off(b.Y, b.Z)-flank
				if math.Abs(d) <= touch {
					out = append(out, kink{c, a.Y, a.Z})
				}
				if d*e < 0 {
					t := d / (d - e)
					out = append(out, kink{c, a.Y + t*(b.Y-a.Y), a.Z + t*(b.Z-a.Z)})
				}
			}
		}
	}
	return out
}

// peak gives the greatest value between a and b of a function that rises to it and falls behind it: thirds are left off
// until the last lies within a hundred-millionth of the way, which tells nothing any more where it is level.
func peak(f func(float64) float64, a, b float64) float64 {
	for range 45 { // (2/3)^45 is 1e-8
		if c, d := a+(b-a)/3, b-(b-a)/3; f(c) < f(d) {
			a = c
		} else {
			b = d
		}
	}
	return f((a + b) / 2)
}
