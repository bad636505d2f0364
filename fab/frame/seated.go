package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
)

// seatChords is the number of chords that the curve of a saddle is cut into.
const seatChords = 72

// seated finds the contact of a saddle with its header: a curve, given as chords, with the angle between the two
// surfaces at each. The outline of the contact is the curve; it is not flat.
func (b *builder) seated(i, j int) []Contact {
	var out []Contact
	for _, pair := range [][2]int{{i, j}, {j, i}} {
		m, h := &b.f.Members[pair[1]], &b.f.Members[pair[0]]
		for e := range m.Ends {
			end := &m.Ends[e]
			if end.Saddle == nil || len(end.Meets) == 0 || end.Meets[0] != pair[0] && (end.Saddle.Also == nil || len(end.Meets) < 2 || end.Meets[1] != pair[0]) {
				continue
			}
			saddle := end.Saddle
			if end.Meets[0] != pair[0] {
				saddle = end.Saddle.Also
			}
			from, to := h.Tips()
			curve := m.SaddleCurve(e, seatChords)
			_, dir := m.out(e)
			mid := space.Centroid(curve)
			c := Contact{Members: pair, Ends: [2]int{-1, e}, Outline: curve, AreaMM2: space.Area(curve), GapMM: end.GapMM}
			out2 := dir.Sub(saddle.Dir.Mul(dir.Dot(saddle.Dir))).Unit()
			c.Plane = space.Plane{Point: mid, Normal: out2.Mul(-1)} // out of the header, towards the branch
			on := 0
			for k, p := range curve {
				q := curve[(k+1)%len(curve)]
				at := p.Lerp(q, 0.5)
				if x, _, _ := h.Local(at); x < from-touch || x > to+touch || end.Saddle.over(at, dir) != saddle {
					continue
				}
				on++
				rad := at.Sub(saddle.At)
				hn := rad.Sub(saddle.Dir.Mul(rad.Dot(saddle.Dir))).Unit()
				c.Edges = append(c.Edges, Edge{From: p, To: q, DihedralDeg: 180 - hn.AngleDeg(m.side(at)), Faces: [2]space.Vec{hn, m.side(at)}, Round: true})
			}
			if on > 0 {
				out = append(out, c)
			}
		}
	}
	return out
}

// side gives the outward normal of a member's side at a point of its skin.
func (m *Member) side(p space.Vec) space.Vec {
	_, y, z := m.Local(p)
	if m.Section.Round {
		return m.Depth.Mul(y).Add(m.Width.Mul(z)).Unit()
	}
	if math.Abs(y)/m.Section.DepthMM > math.Abs(z)/m.Section.WidthMM {
		return m.Depth.Mul(math.Copysign(1, y))
	}
	return m.Width.Mul(math.Copysign(1, z))
}
