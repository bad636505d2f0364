package frame

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// meetMM is how near two ends must lie to count as one corner, in mm: coordinates are often typed to the 1/16 in.
const meetMM = 1.6

// neighbour is a member at an end of another one.
type neighbour struct {
	member int
	end    int         // whose end lies there; -1: its side
	plane  space.Plane // the face that is reached first, facing back along the member that comes
	t      float64     // distance along the centre line, from its other end, at which the face is reached
}

// cutEnds cuts the ends of the [[member]]s.
func (b *builder) cutEnds() {
	if len(b.named) == 0 {
		return
	}
	b.solids = make([]body, len(b.f.Members))
	for i := range b.f.Members {
		b.solids[i] = b.body(i)
	}
	g := newGrid(b.f.Members)
	for i := range b.f.Members {
		g.walk(&b.f.Members[i], b.solids[i].box, func(c [3]int32) { g.cells[c] = append(g.cells[c], int32(i)) })
	}
	ends := make(map[[2]int]End, 2*len(b.named))
	for i := range b.f.Members {
		if j := b.named[i]; j != nil {
			for e := range j.Ends {
				ends[[2]int{i, e}] = b.cutEnd(g, i, e, j)
			}
		}
	}
	for i := range b.f.Members { // all at once, so that no cut depends on the order
		for e := range 2 {
			if end, ok := ends[[2]int{i, e}]; ok {
				b.f.Members[i].Ends[e] = end
			}
		}
	}
}

// out gives the end point of the centre line and the direction in which the member ends there.
func (m *Member) out(e int) (at, dir space.Vec) {
	if e == 0 {
		return m.A, m.Axis.Mul(-1)
	}
	return m.B, m.Axis
}

func (b *builder) cutEnd(g *grid, i, e int, j *job.Member) End {
	m := &b.f.Members[i]
	at, dir := m.out(e)
	square := squareEnd(m, e)
	fail := func(format string, args ...any) End {
		b.problem(j.Where.In("ends"), text.Error, CodeCut, "%s, %s end: %s", m.Name, [2]string{"first", "second"}[e], fmt.Sprintf(format, args...))
		b.trouble[i] = true
		return square
	}
	switch kind := EndKind(j.Ends[e]); kind {
	case Square, Free:
		square.Kind = kind
		return square
	case Level:
		if math.Abs(dir.Z) < 0.05 {
			return fail("it runs level, or nearly so; a level cut would run along it: use plumb or square")
		}
		return End{Kind: Level, Planes: []space.Plane{{Point: at, Normal: space.Vec{Z: math.Copysign(1, dir.Z)}}}}
	case Plumb:
		h := math.Hypot(dir.X, dir.Y)
		if h < 0.05 {
			return fail("it stands upright, or nearly so; a plumb cut would run along it: use level or square")
		}
		return End{Kind: Plumb, Planes: []space.Plane{{Point: at, Normal: space.Vec{X: dir.X / h, Y: dir.Y / h}}}}
	}
	corners, sides := b.neighbours(g, i, e)
	switch EndKind(j.Ends[e]) {
	case Mitre:
		if len(corners) == 0 {
			return fail("there is no other member's end to mitre with within %s of x %s, y %s, z %s: let another [[member]] end there, or use auto, butt or square", b.tape(meetMM), b.tape(at.X), b.tape(at.Y), b.tape(at.Z))
		}
		return b.planesOf(i, e, corners, nil)
	case Butt:
		if len(sides) == 0 {
			square.Kind = Butt
			return square
		}
		first := sides[0]
		for _, s := range sides {
			if s.t < first.t {
				first = s
			}
		}
		return b.onto(i, e, first)
	case Point:
		if len(sides)+len(corners) < 2 {
			return fail("a point needs two members that meet in the corner; %d found: end it in a corner, or use auto", len(sides)+len(corners))
		}
		return b.planesOf(i, e, corners, sides)
	case Cope:
		for _, s := range sides {
			if b.f.Members[s.member].Section.Open() {
				return b.copeOnto(i, e, s)
			}
		}
		return fail("a cope fits into an angle or channel, and none is met here: use auto, butt or square")
	}
	var auto []neighbour
	for _, c := range corners {
		if k := b.otherEnd(c); k == "auto" || k == string(Mitre) {
			auto = append(auto, c)
		}
	}
	switch {
	case len(auto) == 0 && len(sides) == 1:
		return b.onto(i, e, sides[0])
	case len(auto)+len(sides) > 0:
		return b.planesOf(i, e, auto, sides)
	}
	return square
}

// otherEnd gives what the job says of the end that is met.
func (b *builder) otherEnd(n neighbour) string {
	if j := b.named[n.member]; j != nil && n.end >= 0 {
		return j.Ends[n.end]
	}
	return ""
}

// neighbours finds what an end meets: the ends of other [[member]]s at the same point, and the sides of members that its
// last stretch runs into or touches.
func (b *builder) neighbours(g *grid, i, e int) (corners, sides []neighbour) {
	m := &b.f.Members[i]
	at, dir := m.out(e)
	reach := math.Hypot(m.Section.DepthMM, m.Section.WidthMM)
	for _, k := range g.near(at, reach+meetMM, b.solids) {
		if k == i {
			continue
		}
		o := &b.f.Members[k]
		if b.named[k] != nil {
			hit := -1
			for q := range 2 {
				if p, _ := o.out(q); p.Dist(at) <= meetMM {
					hit = q
				}
			}
			if hit >= 0 {
				corners = append(corners, neighbour{member: k, end: hit})
				if kind := b.named[k].Ends[hit]; kind == "auto" || kind == string(Mitre) || kind == string(Butt) || kind == string(Point) {
					continue // it is cut to this one
				}
			}
		}
		if k > i && b.named[k] != nil && b.comesTo(k, i) {
			continue // of two that end in each other the later one is cut to the earlier
		}
		if n, ok := b.reached(m, at, dir, k); ok {
			sides = append(sides, n)
		}
	}
	return corners, sides
}

// comesTo tells whether an end of member k that is free to be cut lies on or in member i.
func (b *builder) comesTo(k, i int) bool {
	for e, kind := range b.named[k].Ends {
		if kind != "auto" && kind != string(Butt) && kind != string(Point) {
			continue
		}
		at, dir := b.f.Members[k].out(e)
		if _, ok := b.reached(&b.f.Members[k], at, dir, i); ok {
			return true
		}
	}
	return false
}

// reached tells whether the end of a member lies on or in member k, and which face its centre line reaches first.
func (b *builder) reached(m *Member, at, dir space.Vec, k int) (neighbour, bool) {
	const back, beyond = 1.0, 0.5 // the slab at the end that must meet it; an end that stops so short still does
	start := at.Along(dir, -back)
	n := neighbour{member: k, end: -1, t: math.Inf(1)}
	found := false
	for _, part := range b.solids[k].parts {
		hit := false
		for _, outline := range m.Section.Parts {
			base := make([]space.Vec, len(outline))
			for c, v := range outline {
				base[c] = start.Along(m.Depth, v.Y).Along(m.Width, v.Z)
			}
			if m.Axis.Dot(dir) < 0 {
				base = space.Reversed(base)
			}
			last := space.Prism(base, dir, 0, back+beyond)
			if apart(&last, &part) || apart(&part, &last) {
				continue
			}
			if c, ok := last.Common(part); ok && c.Volume() > 1 {
				hit = true
			}
		}
		if !hit {
			continue
		}
		plane, t, ok := facing(&part, start, dir, false)
		if !ok {
			// It may stand on the end of a member; not on an end far off.
			plane, t, ok = facing(&part, start, dir, true)
			ok = ok && t > -2*m.Section.DepthMM
		}
		if !ok {
			continue
		}
		if t < n.t {
			n.t, n.plane = t, plane
		}
		found = true
	}
	n.t += at.Sub(m.A).Dot(dir) - back // measured from A's plane, for all neighbours alike
	return n, found
}

// shallow is the sine of the least angle, 8 degrees, at which a member can be cut to a face: what runs more nearly along it
// is no end on it.
const shallow = 0.139

// facing gives the face of a convex part through which a line enters it: of the faces turned against it the one that it
// crosses last. Cut faces count only where ends is true.
func facing(part *space.Solid, from, dir space.Vec, ends bool) (space.Plane, float64, bool) {
	best, plane, ok := math.Inf(-1), space.Plane{}, false
	for _, f := range part.Facets {
		if (f.Tag < 0 || f.Tag >= tagInternal) && !ends || f.Plane.Normal.Dot(dir) > -shallow {
			continue
		}
		if t, hit := f.Plane.Line(from, dir); hit && t > best {
			best, plane, ok = t, f.Plane, true
		}
	}
	return plane, best, ok
}

// onto cuts an end onto the one side that it meets.
func (b *builder) onto(i, e int, n neighbour) End {
	o := &b.f.Members[n.member]
	if o.Section.Round {
		return End{Kind: Saddled, Saddle: &Saddle{At: o.A, Dir: o.Axis, RadiusMM: o.Section.RadiusMM}, Meets: []int{n.member}}
	}
	return End{Kind: Butt, Planes: []space.Plane{n.plane.Flipped()}, Meets: []int{n.member}}
}

// planesOf cuts an end to several neighbours: the halving plane with each end, the face of each side; planes that cut
// nothing are left out.
func (b *builder) planesOf(i, e int, corners, sides []neighbour) End {
	m := &b.f.Members[i]
	at, dir := m.out(e)
	end := End{Kind: Mitre}
	var of []int
	for _, c := range corners {
		o := &b.f.Members[c.member]
		_, other := o.out(c.end)
		n := dir.Sub(other)
		if n.Len() < 1e-3 {
			j := b.named[i]
			b.problem(j.Where.In([2]string{"from", "to"}[e]), text.Error, CodeCut, "%s and %s end at one place and run the same way: there is no plane between them; give one of them another place, or ends = [\"square\", ...] there", m.Name, o.Name)
			b.trouble[i] = true
			return squareEnd(m, e)
		}
		end.Planes = append(end.Planes, space.Plane{Point: at, Normal: n.Unit()})
		of = append(of, c.member)
	}
	for k := 0; k < len(sides); {
		if len(sides)+len(corners) > 1 && !b.needed(m, e, end.Planes, sides, k) {
			sides = append(append([]neighbour(nil), sides[:k]...), sides[k+1:]...)
			continue
		}
		k++
	}
	for _, s := range sides {
		if b.f.Members[s.member].Section.Round && len(sides)+len(corners) == 1 {
			return b.onto(i, e, s)
		}
		end.Planes = append(end.Planes, s.plane.Flipped())
		of = append(of, s.member)
	}
	keep := b.cutting(m, e, end.Planes)
	var planes []space.Plane
	for k, p := range end.Planes {
		if keep[k] {
			planes = append(planes, p)
			end.meets(of[k])
		}
	}
	end.Planes = planes
	switch {
	case len(planes) > 1:
		end.Kind = Point
	case len(corners) == 0:
		end.Kind = Butt
	case len(end.Meets) > 0 && !among(corners, end.Meets[0]):
		end.Kind = Butt
	}
	return end
}

// needed tells whether an end, cut by the planes of the other sides and by those given, still runs into side k.
func (b *builder) needed(m *Member, e int, planes []space.Plane, sides []neighbour, k int) bool {
	cut := *m
	cut.Ends[e] = End{Planes: append([]space.Plane(nil), planes...)}
	for i, s := range sides {
		if i != k {
			cut.Ends[e].Planes = append(cut.Ends[e].Planes, s.plane.Flipped())
		}
	}
	if len(cut.Ends[e].Planes) == 0 {
		return true
	}
	for i := range b.solids[sides[k].member].parts {
		if b.runsInto(&cut, &b.solids[sides[k].member].parts[i]) {
			return true
		}
	}
	return false
}

// runsInto tells whether a member, cut as it is, is in the place of a solid.
func (b *builder) runsInto(m *Member, t *space.Solid) bool {
	for _, s := range m.Solids() {
		if !apart(&s, t) && !apart(t, &s) {
			if c, ok := s.Common(*t); ok && c.Volume() > 1 {
				return true
			}
		}
	}
	return false
}

func among(ns []neighbour, member int) bool {
	for _, n := range ns {
		if n.member == member {
			return true
		}
	}
	return false
}

// cutting tells which of several planes leave a face on the end.
func (b *builder) cutting(m *Member, e int, planes []space.Plane) []bool {
	keep := make([]bool, len(planes))
	long := m.A.Dist(m.B)
	for _, part := range m.Section.Parts {
		base := m.base(part)
		s, ok := space.Prism(base, m.Axis, -3*long, 4*long), true
		for k, p := range planes {
			if s, ok = s.Clip(p, tagEndA-k); !ok {
				break
			}
		}
		for _, f := range s.Facets {
			for k := range planes {
				if f.Tag == tagEndA-k && space.Area(f.Poly) > 1 {
					keep[k] = true
				}
			}
		}
	}
	return keep
}

// copeOnto cuts an end to fit the profile of the angle or channel that it meets: square to the part reached last, and
// notched round those reached before.
func (b *builder) copeOnto(i, e int, n neighbour) End {
	m := &b.f.Members[i]
	at, dir := m.out(e)
	long := m.A.Dist(m.B)
	start := at.Along(dir, -long)
	type hit struct {
		part  int
		plane space.Plane
		t     float64
	}
	var hits []hit
	last := -1
	o := b.f.Members[n.member].Section
	for k := range b.solids[n.member].parts {
		// Whatever of the profile the end would run into if it went on.
		on := *m
		on.Ends[e].Planes = []space.Plane{{Point: at.Along(dir, math.Hypot(o.DepthMM, o.WidthMM)), Normal: dir}}
		if !b.runsInto(&on, &b.solids[n.member].parts[k]) {
			continue
		}
		p, t, ok := facing(&b.solids[n.member].parts[k], start, dir, false)
		if !ok {
			continue
		}
		hits = append(hits, hit{k, p, t})
		if last < 0 || t > hits[last].t {
			last = len(hits) - 1
		}
	}
	if last < 0 {
		return squareEnd(m, e)
	}
	end := End{Kind: Cope, Planes: []space.Plane{hits[last].plane.Flipped()}, Meets: []int{n.member}}
	for k, h := range hits {
		if k == last || h.t > hits[last].t-space.Near {
			continue
		}
		notch := Notch{h.plane}
		for _, f := range b.solids[n.member].parts[h.part].Facets {
			if f.Tag >= 0 && f.Tag < tagInternal && math.Abs(f.Plane.Normal.Dot(dir)) < 0.5 {
				notch = append(notch, f.Plane)
			}
		}
		end.Notch = append(end.Notch, notch)
	}
	return end
}
