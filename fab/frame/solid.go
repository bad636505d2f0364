package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
)

// Tags of the facets of a member's solids: sides 0, 1, ... within a part, its cuts below.
const (
	tagInternal = 1000 // where one part of the section grows out of another
	tagEndA     = -10  // and -11 for the second plane of a point, ...
	tagEndB     = -20
	tagNotch    = -30
)

// endOf gives the end (0 at A, 1 at B) whose cut a facet is; -1 for a side.
func endOf(tag int) int {
	switch {
	case tag <= tagNotch:
		return (tagNotch - tag) % 2
	case tag <= tagEndB:
		return 1
	case tag <= tagEndA:
		return 0
	}
	return -1
}

// Place gives the point at x along the axis from A, y over the depth, z over the width from the centre line.
func (m *Member) Place(x, y, z float64) space.Vec {
	return m.A.Along(m.Axis, x).Along(m.Depth, y).Along(m.Width, z)
}

// Local gives the x, y, z of Place of a point.
func (m *Member) Local(p space.Vec) (x, y, z float64) {
	d := p.Sub(m.A)
	return d.Dot(m.Axis), d.Dot(m.Depth), d.Dot(m.Width)
}

// Slopes gives a plane in the member's own frame: x = x0 + sy*y + sz*z, x from A along the axis. ok is false for a plane
// along the axis.
func (m *Member) Slopes(p space.Plane) (x0, sy, sz float64, ok bool) {
	a := p.Normal.Dot(m.Axis)
	if math.Abs(a) < 1e-6 {
		return 0, 0, 0, false
	}
	return p.Point.Sub(m.A).Dot(p.Normal) / a, neat(-p.Normal.Dot(m.Depth) / a), neat(-p.Normal.Dot(m.Width) / a), true
}

// neat clears the noise of float64 off a slope that is none.
func neat(v float64) float64 {
	if math.Abs(v) < 1e-12 {
		return 0
	}
	return v
}

// Tips gives where the piece begins and ends along its axis, measured from A: its tips (long points) in mm.
func (m *Member) Tips() (from, to float64) {
	var tip [2]float64
	simple := true
	for e := range m.Ends {
		tip[e], simple = m.tip(e)
		if !simple {
			break
		}
	}
	if simple {
		return tip[0], tip[1]
	}
	from, to = math.Inf(1), math.Inf(-1)
	for _, s := range m.Solids() {
		for _, f := range s.Facets {
			for _, v := range f.Poly {
				x := v.Sub(m.A).Dot(m.Axis)
				from, to = min(from, x), max(to, x)
			}
		}
	}
	for e := range m.Ends {
		if t, ok := m.tip(e); ok { // exact, and right for saddles
			if e == 0 {
				from = t
			} else {
				to = t
			}
		}
	}
	return from, to
}

// tip gives the tip of an end that is a single plane, a saddle, or a point of a round member.
func (m *Member) tip(e int) (float64, bool) {
	end := &m.Ends[e]
	if end.Saddle != nil {
		least, most := m.SaddleReach(e)
		if e == 0 {
			return least, true
		}
		return most, true
	}
	if m.Section.Round && len(end.Planes) > 1 && len(end.Notch) == 0 {
		return m.pointTip(e)
	}
	if len(end.Planes) != 1 || len(end.Notch) > 0 {
		return 0, false
	}
	x0, sy, sz, ok := m.Slopes(end.Planes[0])
	if !ok {
		return 0, false
	}
	least, most := m.Section.reach(sy, sz)
	if e == 0 {
		return x0 + least, true
	}
	return x0 + most, true
}

// Base gives the corners of a part of the section at A.
func (m *Member) base(part []space.Vec2) []space.Vec {
	out := make([]space.Vec, len(part))
	for i, c := range part {
		out[i] = m.Place(0, c.Y, c.Z)
	}
	return out
}

// Solids gives the member as convex solids. A tube is full here: nothing else can be where it is. A saddled end is taken
// square at its tips, as it comes off the saw.
func (m *Member) Solids() []space.Solid {
	var all []space.Solid
	for k, part := range m.Section.Parts {
		base := m.base(part)
		s, ok := m.slanted(base)
		if !ok {
			s, ok = m.clipped(base)
		}
		if !ok {
			continue
		}
		for i := range s.Facets {
			if t := s.Facets[i].Tag; t >= 0 && m.Section.internal(k, t) {
				s.Facets[i].Tag = tagInternal + t
			}
		}
		all = append(all, m.notched(s)...)
	}
	return all
}

// slanted is the quick way for the usual member: one plane at each end, which do not cross within it.
func (m *Member) slanted(base []space.Vec) (space.Solid, bool) {
	n := len(base)
	var x [2][]float64
	for e := range m.Ends {
		if len(m.Ends[e].Planes) != 1 {
			return space.Solid{}, false
		}
		p := m.Ends[e].Planes[0]
		x[e] = make([]float64, n)
		for i, v := range base {
			t, ok := p.Line(v, m.Axis)
			if !ok {
				return space.Solid{}, false
			}
			x[e][i] = t
		}
	}
	near, far := make([]space.Vec, n), make([]space.Vec, n)
	for i, v := range base {
		if x[1][i]-x[0][i] <= space.Near {
			return space.Solid{}, false
		}
		near[i], far[i] = v.Along(m.Axis, x[0][i]), v.Along(m.Axis, x[1][i])
	}
	s := space.Solid{Facets: make([]space.Facet, 0, n+2)}
	for i := range base {
		k := (i + 1) % n
		normal := base[k].Sub(base[i]).Cross(m.Axis).Unit()
		s.Facets = append(s.Facets, space.Facet{Plane: space.Plane{Point: near[i], Normal: normal}, Poly: []space.Vec{near[i], near[k], far[k], far[i]}, Tag: i})
	}
	s.Facets = append(s.Facets,
		space.Facet{Plane: m.Ends[0].Planes[0], Poly: space.Reversed(near), Tag: tagEndA},
		space.Facet{Plane: m.Ends[1].Planes[0], Poly: far, Tag: tagEndB})
	return s, true
}

// clipped is the general way.
func (m *Member) clipped(base []space.Vec) (space.Solid, bool) {
	long := m.A.Dist(m.B)
	reach := 2*long + 20*(m.Section.DepthMM+m.Section.WidthMM)
	s, ok := space.Prism(base, m.Axis, -reach, long+reach), true
	for e, tag := range []int{tagEndA, tagEndB} {
		for k, p := range m.Ends[e].Planes {
			if s, ok = s.Clip(p, tag-k); !ok {
				return s, false
			}
		}
		if len(m.Ends[e].Planes) == 0 {
			x, n := 0.0, m.Axis.Mul(-1)
			if e == 1 {
				x, n = long, m.Axis
			}
			if m.Ends[e].Saddle != nil { // square at its tips
				x, _ = m.tip(e)
			}
			if s, ok = s.Clip(space.Plane{Point: m.Place(x, 0, 0), Normal: n}, tag); !ok {
				return s, false
			}
		}
	}
	return s, ok
}

// notched takes the notches out of a convex part: what is left of it in front of each of the notch's planes in turn.
func (m *Member) notched(s space.Solid) []space.Solid {
	left := []space.Solid{s}
	for e := range m.Ends {
		for _, notch := range m.Ends[e].Notch {
			var next []space.Solid
			for _, part := range left {
				rest := part
				for _, p := range notch {
					if keep, ok := rest.Clip(p.Flipped(), tagNotch-e); ok {
						next = append(next, keep)
					}
					var ok bool
					if rest, ok = rest.Clip(p, tagInternal); !ok {
						break
					}
				}
			}
			left = next
		}
	}
	return left
}
