package frame

import (
	"math"

	"bench.example/soapstone/fab/space"
)

// stripShare is how much of a round member's radius the strip reaches to each side of the line along which it touches: it
// is drawn and marked so wide, and its two long edges are where the flare welds run.
const stripShare = 0.3

// tangent finds where a round member lies along a flat face or along another round one: it touches along a line, which is
// given as a narrow strip with a flare along each side.
func (b *builder) tangent(out []Contact, i, j int) []Contact {
	p, q := &b.f.Members[i], &b.f.Members[j]
	if saddled(p, j) || saddled(q, i) {
		return out
	}
	switch {
	case p.Section.Round && q.Section.Round:
		return b.sideBySide(out, i, j)
	case p.Section.Round:
		return b.onFlat(out, i, j)
	case q.Section.Round:
		return b.onFlat(out, j, i)
	}
	return out
}

// onFlat finds the faces of member j along which the round member i lies.
func (b *builder) onFlat(out []Contact, i, j int) []Contact {
	r := &b.f.Members[i]
	from, to := r.Tips()
	for _, s := range b.solids[j].parts {
		for _, f := range s.Facets {
			n := f.Plane.Normal
			if f.Tag >= tagInternal || math.Abs(n.Dot(r.Axis)) > 1e-6 || math.Abs(f.Plane.Dist(r.A)-r.Section.RadiusMM) > touch {
				continue
			}
			if c, ok := strip(r, from, to, f.Plane, f.Poly); ok {
				c.Members, c.Ends = [2]int{j, i}, [2]int{endOf(f.Tag), -1}
				out = append(out, c)
			}
		}
	}
	return out
}

// sideBySide finds whether two round members lie along each other.
func (b *builder) sideBySide(out []Contact, i, j int) []Contact {
	p, q := &b.f.Members[i], &b.f.Members[j]
	if math.Abs(math.Abs(p.Axis.Dot(q.Axis))-1) > 1e-9 {
		return out
	}
	off := q.A.Sub(p.A)
	off = off.Sub(p.Axis.Mul(off.Dot(p.Axis)))
	if d := off.Len(); d < 1 || math.Abs(d-p.Section.RadiusMM-q.Section.RadiusMM) > touch {
		return out
	}
	n := off.Unit()
	plane := space.Plane{Point: p.A.Along(n, p.Section.RadiusMM), Normal: n}
	across := p.Axis.Cross(n).Mul(q.Section.RadiusMM)
	lo, hi := q.Tips()
	var face []space.Vec
	for _, c := range [][2]float64{{lo, -1}, {hi, -1}, {hi, 1}, {lo, 1}} {
		v := q.Place(c[0], 0, 0).Add(across.Mul(c[1]))
		face = append(face, v.Along(n, -plane.Dist(v)))
	}
	if space.Normal(face).Dot(n) < 0 {
		face = space.Reversed(face)
	}
	from, to := p.Tips()
	if c, ok := strip(p, from, to, plane, face); ok {
		c.Members, c.Ends = [2]int{i, j}, [2]int{-1, -1}
		out = append(out, c)
	}
	return out
}

// strip makes the contact of a round member with a face on the plane.
func strip(r *Member, from, to float64, plane space.Plane, face []space.Vec) (Contact, bool) {
	half := stripShare * r.Section.RadiusMM
	across := plane.Normal.Cross(r.Axis)
	var line []space.Vec
	for _, c := range [][2]float64{{from, -half}, {to, -half}, {to, half}, {from, half}} {
		v := r.Place(c[0], 0, 0).Along(across, c[1])
		line = append(line, v.Along(plane.Normal, -plane.Dist(v)))
	}
	over := space.Overlap(line, face, plane.Normal)
	if over == nil || space.Area(over) < 1 {
		return Contact{}, false
	}
	if space.Normal(over).Dot(plane.Normal) < 0 {
		over = space.Reversed(over)
	}
	c := Contact{Plane: plane, Outline: over, AreaMM2: space.Area(over)}
	for k, a := range over {
		e := over[(k+1)%len(over)]
		dir := e.Sub(a).Unit()
		if math.Abs(dir.Dot(r.Axis)) < 0.99 {
			continue // the strip's ends are no seams
		}
		out := dir.Cross(plane.Normal)
		c.Edges = append(c.Edges, Edge{From: a, To: e, DihedralDeg: 90, Faces: [2]space.Vec{plane.Normal, out}, Flare: true, FlareMM: r.Section.RadiusMM})
	}
	return c, true
}
