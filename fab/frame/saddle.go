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
