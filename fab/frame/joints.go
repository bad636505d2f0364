package frame

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// Tolerances of the search for joints, in mm. Lengths of a job are exact, so that what touches does so to float64's noise;
// only what was typed rounded (a 45-degree brace with coordinates to the 1/64 in) needs more.
const (
	touch  = 0.02 // faces nearer than this touch
	sliver = 1000 // mm3: less steel than that is no member
	pierce = 0.05 // solids deeper in each other than this run through each other
)

// maxCrossings bounds the search in a job whose members all stand in one another.
const maxCrossings = 5000

// body makes the solids of member i anew.
func (b *builder) body(i int) body {
	m := &b.f.Members[i]
	parts := m.Solids()
	box := space.EmptyBox()
	for _, s := range parts {
		box = box.Join(s.Box())
	}
	grow := touch
	for e := range m.Ends {
		grow = max(grow, m.Ends[e].GapMM+touch)
		if m.Ends[e].Saddle != nil {
			grow = max(grow, touch+m.Section.RadiusMM)
		}
	}
	return body{parts, box.Grown(grow)}
}

// join finds all joints and clashes.
func (b *builder) join() {
	ms := b.f.Members
	b.solids = make([]body, len(ms))
	for i := range ms {
		b.solids[i] = b.body(i)
		var volume float64
		if ms[i].Role == Single {
			for _, s := range b.solids[i].parts {
				volume += s.Volume()
			}
		}
		if len(b.solids[i].parts) == 0 || ms[i].Role == Single && volume < sliver {
			b.trouble[i] = true
			b.problem(ms[i].Where.Cut(), text.Error, CodeNoRoom, "nothing is left of %s between its two cuts: make it longer, or cut its ends less steeply", ms[i].Name)
		}
	}
	g := newGrid(ms)
	b.crossings = nil
	g.pairs(ms, b.solids, func(i, j int) { b.pair(i, j) })
	b.clashes()
	b.order()
	b.hide(g)
}

// pair looks at two members.
func (b *builder) pair(i, j int) {
	if len(b.crossings) >= maxCrossings {
		return // the frame is beyond repair; do not go on for minutes
	}
	p, q := &b.f.Members[i], &b.f.Members[j]
	var contacts []Contact
	for _, s := range b.solids[i].parts {
		for _, t := range b.solids[j].parts {
			contacts = b.touching(contacts, i, j, &s, &t)
		}
	}
	contacts = append(contacts, b.seated(i, j)...)
	contacts = b.tangent(contacts, i, j)
	if len(contacts) > 0 {
		b.addJoint(i, j, contacts)
	}
	if p.Lap || q.Lap || b.trouble[i] || b.trouble[j] || saddled(p, j) || saddled(q, i) {
		return
	}
	for _, s := range b.solids[i].parts {
		for _, t := range b.solids[j].parts {
			if apart(&s, &t) || apart(&t, &s) {
				continue
			}
			if c, ok := s.Common(t); ok && c.Volume() > 1 && !p.hollowed(&c) && !q.hollowed(&c) {
				b.clash(i, j, &c)
				return
			}
		}
	}
}

// hollowed tells whether a convex solid lies wholly in what a saddle of the member takes away: its solids are square there.
func (m *Member) hollowed(c *space.Solid) bool {
	for e := range m.Ends {
		s := m.Ends[e].Saddle
		if s == nil {
			continue
		}
		in := true
		for _, f := range c.Facets {
			for _, v := range f.Poly {
				in = in && space.LineDist(v, s.At, s.Dir) < s.RadiusMM+touch
			}
		}
		if in {
			return true
		}
	}
	return false
}

func saddled(m *Member, on int) bool {
	for e := range m.Ends {
		if m.Ends[e].Saddle != nil {
			for _, k := range m.Ends[e].Meets {
				if k == on {
					return true
				}
			}
		}
	}
	return false
}

// apart tells whether a face of s has all of t in front of it, but for what counts as touching.
func apart(s, t *space.Solid) bool {
next:
	for _, f := range s.Facets {
		for _, g := range t.Facets {
			for _, v := range g.Poly {
				if f.Plane.Dist(v) < -pierce {
					continue next
				}
			}
		}
		return true
	}
	return false
}

// crossing is two members in one place.
type crossing struct {
	i, j int
	at   space.Vec
}

func (b *builder) clash(i, j int, c *space.Solid) {
	box := c.Box()
	b.crossings = append(b.crossings, crossing{i, j, box.Lo.Lerp(box.Hi, 0.5)})
}

// clashes reports the crossings, gathered by the member that has most of them, so that one misplaced brace is one message.
func (b *builder) clashes() {
	count := make([]int, len(b.f.Members))
	for _, c := range b.crossings {
		count[c.i]++
		count[c.j]++
	}
	by := map[int][]crossing{}
	var order []int
	for _, c := range b.crossings {
		k := c.j
		if count[c.i] > count[c.j] {
			k = c.i
		}
		if by[k] == nil {
			order = append(order, k)
		}
		by[k] = append(by[k], c)
	}
	sort.Ints(order)
	for _, k := range order {
		m := &b.f.Members[k]
		names := make([]string, 0, len(by[k]))
		for _, c := range by[k] {
			names = append(names, b.f.Members[c.i+c.j-k].Name)
		}
		where, at := m.placed(), by[k][0].at
		if where.Line == 0 {
			where = b.f.Members[by[k][0].i].placed()
		}
		first := ""
		if len(names) > 1 {
			first = ", the first"
		}
		b.problem(where, text.Error, CodeClash, "%s runs through %s%s near x %s, y %s, z %s: move one, shorten one, or say lap = true where that is meant", m.Name, listed(names), first,
			b.tape(at.X), b.tape(at.Y), b.tape(at.Z))
	}
}

// listed names a few members: "a, b and 7 more".
func listed(names []string) string {
	const most = 5
	n := len(names)
	switch {
	case n == 1:
		return names[0]
	case n > most+1:
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), n-most)
	}
	return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
}

// touching finds the faces in which two convex solids touch.
func (b *builder) touching(out []Contact, i, j int, s, t *space.Solid) []Contact {
	p, q := &b.f.Members[i], &b.f.Members[j]
	for fi := range s.Facets {
		f := &s.Facets[fi]
		ef := endOf(f.Tag)
		if f.Tag >= tagInternal || ef < 0 && p.Section.Round {
			continue
		}
		for gi := range t.Facets {
			g := &t.Facets[gi]
			if f.Plane.Normal.Dot(g.Plane.Normal) > -1+1e-8 {
				continue
			}
			eg := endOf(g.Tag)
			if g.Tag >= tagInternal || eg < 0 && q.Section.Round {
				continue
			}
			gap := 0.0
			if ef >= 0 {
				gap += p.Ends[ef].GapMM
			}
			if eg >= 0 {
				gap += q.Ends[eg].GapMM
			}
			d := f.Plane.Dist(space.Centroid(g.Poly))
			if d < -touch || d > gap+touch {
				continue
			}
			if ef >= 0 && eg >= 0 && gap > 0 {
				gap = d
			}
			c, ok := contact(i, j, f, g, ef, eg, d)
			if !ok {
				continue
			}
			b.edges(&c, s, t, f, g)
			out = append(out, c)
		}
	}
	return out
}

// contact makes the contact of two facets: the covered member first, the one cut last second.
func contact(i, j int, f, g *space.Facet, ef, eg int, d float64) (Contact, bool) {
	// Both faces on the plane of the covered one.
	plane := f.Plane
	poly := space.Reversed(g.Poly)
	for k := range poly {
		poly[k] = poly[k].Along(plane.Normal, -plane.Dist(poly[k]))
	}
	over := space.Overlap(poly, f.Poly, plane.Normal)
	if over == nil {
		return Contact{}, false
	}
	area := space.Area(over)
	if area < 1 { // a square millimetre is no joint
		return Contact{}, false
	}
	c := Contact{Members: [2]int{i, j}, Ends: [2]int{ef, eg}, Plane: plane, Outline: over, AreaMM2: area, GapMM: max(0, d)}
	if c.GapMM < touch {
		c.GapMM = 0
	}
	return c, true
}

// swap turns a contact round.
func (c *Contact) swap() {
	c.Members[0], c.Members[1] = c.Members[1], c.Members[0]
	c.Ends[0], c.Ends[1] = c.Ends[1], c.Ends[0]
	c.Plane = c.Plane.Flipped()
	c.Outline = space.Reversed(c.Outline)
	for i, j := 0, len(c.Edges)-1; i < j; i, j = i+1, j-1 {
		c.Edges[i], c.Edges[j] = c.Edges[j], c.Edges[i]
	}
	for i := range c.Edges {
		e := &c.Edges[i]
		e.From, e.To = e.To, e.From
		e.Faces[0], e.Faces[1] = e.Faces[1], e.Faces[0]
	}
}

// edges says of each edge of a contact which faces stand on its air side and at what angle.
func (b *builder) edges(c *Contact, s, t *space.Solid, f, g *space.Facet) {
	n := c.Plane.Normal
	for k, from := range c.Outline {
		to := c.Outline[(k+1)%len(c.Outline)]
		dir := to.Sub(from).Unit()
		out := dir.Cross(n)
		e := Edge{From: from, To: to}
		ai, fi, inner := beside(s, f, n, out, from, to, 0)
		aj, fj, inner2 := beside(t, g, n.Mul(-1), out, from, to, c.GapMM)
		if inner || inner2 {
			continue // it lies within the member
		}
		e.DihedralDeg = ai + aj
		e.Faces = [2]space.Vec{fi, fj}
		e.Flush = math.Abs(e.DihedralDeg-180) < 0.5
		r := max(b.falls(c.Members[0], c.Ends[0], f, from, to, dir, n), b.falls(c.Members[1], c.Ends[1], g, from, to, dir, n))
		if r > 0 {
			e.Flare, e.FlareMM = true, r
		}
		c.Edges = append(c.Edges, e)
	}
}

// beside gives, for one of the two solids at an edge of the contact, the angle from the contact's outward direction `out`
// down to its exposed face, and that face's normal: 0 where the touching face f itself goes on beyond the edge. n is f's
// normal. inner tells that the solid goes on there as another part of the same member.
func beside(s *space.Solid, f *space.Facet, n, out, from, to space.Vec, gap float64) (deg float64, normal space.Vec, inner bool) {
	for i := range s.Facets {
		a := &s.Facets[i]
		if a == f || math.Abs(a.Plane.Dist(from)) > touch+gap || math.Abs(a.Plane.Dist(to)) > touch+gap || a.Plane.Normal.Dot(out) <= 1e-9 {
			continue
		}
		if math.Abs(a.Plane.Normal.Dot(n)) > 1-1e-9 {
			continue
		}
		// The face leaves the edge square to its normal, away from n.
		sin, cos := a.Plane.Normal.Dot(out), a.Plane.Normal.Dot(n)
		// The direction in the face, (cos of the angle along out, -sin along n), is square to (sin, cos).
		return math.Atan2(sin, cos) * 180 / math.Pi, a.Plane.Normal, a.Tag >= tagInternal
	}
	return 0, n, false
}

// falls gives the corner radius with which a tube's side face falls away under an edge along it; 0 where it does not.
func (b *builder) falls(i, end int, f *space.Facet, from, to, dir, n space.Vec) float64 {
	m := &b.f.Members[i]
	r := m.Section.RadiusMM
	if end >= 0 || r <= 0 || m.Section.Round || math.Abs(dir.Dot(m.Axis)) < 0.99 {
		return 0
	}
	across := m.Axis.Cross(n)
	at := from.Lerp(to, 0.5).Sub(m.A).Dot(across)
	half := m.Section.DepthMM / 2
	if math.Abs(across.Dot(m.Width)) > 0.5 {
		half = m.Section.WidthMM / 2
	}
	if half-math.Abs(at) < r-space.Near {
		return r
	}
	return 0
}

// addJoint adds the joint of two members with its contacts.
func (b *builder) addJoint(i, j int, contacts []Contact) {
	// The member whose end is cut to the other stands last; of two ends, or two sides, the later one.
	last := 0
	for _, c := range contacts {
		switch {
		case c.Ends[0] >= 0 && c.Ends[1] < 0:
			last--
		default:
			last++
		}
	}
	if last < 0 {
		i, j = j, i
		for k := range contacts {
			contacts[k].swap()
		}
	}
	joint := Joint{Members: []int{i, j}, Kind: Lap, Contacts: cancel(contacts)}
	var mid space.Vec
	var area float64
	for _, c := range contacts {
		mid = mid.Add(space.Centroid(c.Outline).Mul(c.AreaMM2))
		area += c.AreaMM2
		joint.GapMM = max(joint.GapMM, c.GapMM)
		switch {
		case c.Ends[0] >= 0 && c.Ends[1] >= 0:
			joint.Kind = Corner
		case (c.Ends[0] >= 0 || c.Ends[1] >= 0) && joint.Kind == Lap:
			joint.Kind = Tee
			if b.atTip(c.Members[0], c.Ends[0], &c) && b.atTip(c.Members[1], c.Ends[1], &c) {
				joint.Kind = Corner
			}
		}
	}
	joint.At = mid.Mul(1 / area)
	b.f.Joints = append(b.f.Joints, joint)
}

// atTip tells whether a contact lies at an end of the member: it is its cut, or its outline reaches its tip.
func (b *builder) atTip(i, end int, c *Contact) bool {
	if end >= 0 {
		return true
	}
	m := &b.f.Members[i]
	from, to := m.Tips()
	for _, v := range c.Outline {
		x := v.Sub(m.A).Dot(m.Axis)
		if x < from+touch || x > to-touch {
			return true
		}
	}
	return false
}

// cancel takes out of the contacts of one joint the edges that two of them share: there the member goes on.
func cancel(cs []Contact) []Contact {
	for i := range cs {
		for j := range cs {
			if i == j || cs[i].Plane.Normal.Dot(cs[j].Plane.Normal) < 1-1e-9 || math.Abs(cs[i].Plane.Dist(cs[j].Plane.Point)) > touch {
				continue
			}
			var kept []Edge
			for _, e := range cs[i].Edges {
				kept = append(kept, without(e, cs[j].Outline)...)
			}
			cs[i].Edges = kept
		}
	}
	return cs
}

// without gives what is left of an edge where the rim of another outline does not run along it.
func without(e Edge, outline []space.Vec) []Edge {
	left := []Edge{e}
	dir := e.To.Sub(e.From).Unit()
	for k, p := range outline {
		q := outline[(k+1)%len(outline)]
		if q.Sub(p).Unit().Dot(dir) > -1+1e-9 || space.LineDist(p, e.From, dir) > touch {
			continue
		}
		a, z := q.Sub(e.From).Dot(dir), p.Sub(e.From).Dot(dir)
		var next []Edge
		for _, l := range left {
			from, to := l.From.Sub(e.From).Dot(dir), l.To.Sub(e.From).Dot(dir)
			if z <= from+touch || a >= to-touch {
				next = append(next, l)
				continue
			}
			if a > from+touch {
				r := l
				r.To = e.From.Along(dir, a)
				next = append(next, r)
			}
			if z < to-touch {
				r := l
				r.From = e.From.Along(dir, z)
				next = append(next, r)
			}
		}
		left = next
	}
	return left
}

// order sorts the joints as they are assembled, by their later member, then the earlier one, and names them.
func (b *builder) order() {
	key := func(j *Joint) (int, int) { return max(j.Members[0], j.Members[1]), min(j.Members[0], j.Members[1]) }
	sort.SliceStable(b.f.Joints, func(x, y int) bool {
		a1, a2 := key(&b.f.Joints[x])
		b1, b2 := key(&b.f.Joints[y])
		return a1 < b1 || a1 == b1 && a2 < b2
	})
	for i := range b.f.Joints {
		b.f.Joints[i].ID = fmt.Sprintf("J%d", i+1)
	}
}
