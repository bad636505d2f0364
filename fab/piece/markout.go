package piece

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
)

// Sides of a piece as it lies with the face of its numbers towards you.
const (
	front  = "front"
	back   = "back"
	top    = "top"
	bottom = "bottom"
)

// sideNone keeps what looks out halfway between two sides of a round piece from being named by noise.
const sideNone = 1e-4

// side names the side of a piece that looks along out (over depth and width), as it lies with the face towards you.
func side(out space.Vec2, face string) string {
	up, towards := out.Y, out.Z // across the depth you see the side at greater width
	if face == width {
		up, towards = out.Z, -out.Y
	}
	switch {
	case math.Abs(towards) >= math.Abs(up)-sideNone && towards > 0:
		return front
	case math.Abs(towards) >= math.Abs(up)-sideNone:
		return back
	case up > 0:
		return top
	}
	return bottom
}

// Side names the side of a piece that looks along out (over its depth and width) as it lies with the face across towards
// you: front, back, top or bottom.
func Side(out space.Vec2, across string) string {
	n := math.Hypot(out.Y, out.Z)
	return side(space.Vec2{Y: out.Y / n, Z: out.Z / n}, across)
}

// faceOf gives the face that a side belongs to: one that spans the depth looks along the width.
func faceOf(out space.Vec2) string {
	if math.Abs(out.Z) >= math.Abs(out.Y) {
		return depth
	}
	return width
}

// place is a place to be marked, in a member's own frame.
type place struct {
	from, to float64 // from its first tip
	out      space.Vec2
	member   int // the neighbour; -1: a hole
	hole     *frame.Hole
	hangs    Tip // of the member's own first and second tip
}

// places gathers where the neighbours of every member land on its sides.
func (g *gatherer) places() [][]place {
	f := g.f
	named := map[string]*job.Member{}
	for i := range g.job.Members {
		named[g.job.Members[i].Name] = &g.job.Members[i]
	}
	out := make([][]place, len(f.Members))
	for j := range f.Joints {
		for _, c := range f.Joints[j].Contacts {
			for s, i := range c.Members {
				if c.Ends[s] >= 0 {
					continue
				}
				m := &f.Members[i]
				n := c.Plane.Normal
				if s == 1 {
					n = n.Mul(-1)
				}
				first, _ := m.Tips()
				p := place{from: math.Inf(1), to: math.Inf(-1), member: c.Members[1-s], out: space.Vec2{Y: n.Dot(m.Depth), Z: n.Dot(m.Width)}}
				for _, v := range c.Outline {
					x := v.Sub(m.A).Dot(m.Axis) - first
					p.from, p.to = min(p.from, x), max(p.to, x)
				}
				if o := &f.Members[p.member]; c.Ends[1-s] >= 0 && o.Ends[c.Ends[1-s]].Saddle != nil {
					if lo, hi, ok := o.SeatReach(c.Ends[1-s], m); ok { // the outline is of chords
						p.from, p.to = lo-first, hi-first
					}
				}
				if j, e := named[f.Members[p.member].Name], c.Ends[1-s]; j != nil && e >= 0 {
					if at := [2]job.Place{j.From, j.To}[e]; at.On == m.Name && at.AlongGiven {
						p.hangs = FirstTip
					}
				}
				// Parts of one neighbour on one face are one place.
				merged := false
				for k := range out[i] {
					q := &out[i][k]
					if q.member == p.member && q.out.Y*p.out.Y+q.out.Z*p.out.Z > 0.999 && q.to > p.from-1 && q.from < p.to+1 {
						q.from, q.to, merged = min(q.from, p.from), max(q.to, p.to), true
					}
				}
				if !merged {
					out[i] = append(out[i], p)
				}
			}
		}
	}
	for i := range f.Members {
		m := &f.Members[i]
		for k := range m.Holes {
			h := &m.Holes[k]
			o := space.Vec2{Z: 1}
			if h.Face == width {
				o = space.Vec2{Y: 1}
			}
			out[i] = append(out[i], place{from: h.AtMM, to: h.AtMM, out: o, member: -1, hole: h, hangs: FirstTip})
		}
	}
	return out
}

// layMM is how far two places may lie apart and be laid out by one mark: a quarter of a fine scriber's line.
const layMM = 0.05

// laid gives a member's places as the piece lies when it was moved by m, from its first tip on.
func laid(ps []place, m frame.Motion, length float64, face string) []place {
	out := make([]place, len(ps))
	for i, p := range ps {
		p.out = m.Apply(p.out)
		if m.Turned {
			p.from, p.to, p.hangs = length-p.to, length-p.from, p.hangs.other()
		}
		out[i] = p
	}
	slices.SortStableFunc(out, func(p, q place) int { return order(p.list(face), q.list(face)) })
	return out
}

func (p *place) sideNumber(face string) int {
	return slices.Index([]string{front, top, back, bottom}, side(p.out, face))
}

func (p *place) list(face string) []float64 {
	k := []float64{p.from, p.to, float64(p.sideNumber(face))}
	if p.hole != nil {
		k = append(k, p.hole.SizeMM)
	}
	return k
}

// alike tells whether two lists of places are laid out by the same marks.
func alike(ps, qs []place, face string) bool {
	return pairOff(ps, qs, func(p, q place) bool {
		if (p.hole == nil) != (q.hole == nil) || p.hole != nil && math.Abs(p.hole.SizeMM-q.hole.SizeMM) > sameMM {
			return false
		}
		return math.Abs(p.from-q.from) <= layMM && math.Abs(p.to-q.to) <= layMM && p.sideNumber(face) == q.sideNumber(face)
	})
}

// ways gives how a member of a group may be laid down so that it lies as the group is shown. A round piece without anything
// that tells its roll is rolled so that one of its places comes upright: how it lies in the frame is nothing to it.
func (x *group) ways(s *shape, ps []place) []frame.Motion {
	const most = 32
	ways := s.onto(&x.shape, most)
	if _, told := s.strongest(); !s.section.Round || told || len(ps) == 0 {
		return ways
	}
	var out []frame.Motion
	for _, m := range ways {
		for i := range ps {
			for _, roll := range rolls(m.Apply(ps[i].out), space.Vec2{Y: 1}) {
				out = append(out, m.Then(roll))
			}
		}
		if len(out) >= most {
			break
		}
	}
	return out
}

// markOut lays out every piece: where its neighbours land, holes, vents. Members of one mark that are laid out alike, in
// one of the ways in which the piece is the same, share their marks; what differs is listed behind, named by member.
func (g *gatherer) markOut() {
	all := g.places()
	markOf := make([]string, len(g.f.Members))
	for i := range g.groups {
		for _, k := range g.groups[i].piece.Indices {
			markOf[k] = g.groups[i].piece.Mark
		}
	}
	for i := range g.groups {
		x := &g.groups[i]
		face := x.piece.Across
		var variants [][]place
		var members [][]string
	next:
		for _, k := range x.piece.Indices {
			m := &g.f.Members[k]
			s := shapeOf(m)
			var bestLaid []place
			for _, way := range x.ways(&s, all[k]) {
				l := laid(all[k], way, s.length, face)
				for n := range variants {
					if alike(l, variants[n], face) {
						members[n] = append(members[n], m.Name)
						continue next
					}
				}
				if bestLaid == nil || before(l, bestLaid, face) {
					bestLaid = l
					if len(variants) == 0 {
						x.way, x.piece.Way = way, way
					}
				}
			}
			variants, members = append(variants, bestLaid), append(members, []string{m.Name})
		}
		for n, ps := range variants {
			for _, p := range ps {
				x.piece.MarksOut = append(x.piece.MarksOut, g.markFor(&x.piece, p, markOf, members[n], len(variants) > 1))
			}
		}
		for _, h := range x.shape.holes {
			if len(x.piece.Indices) == 0 {
				x.piece.MarksOut = append(x.piece.MarksOut, Mark{AtMM: h.x, ToMM: h.x, Face: faceOf(h.out), Side: side(h.out, x.piece.Across),
					What: g.holeText(h.size, h.through), Hangs: FirstTip})
			}
		}
		g.vent(x)
		sortMarks(x.piece.MarksOut)
	}
}

// sortMarks puts marks in the order in which the tape meets them, those of some members only behind the rest.
func sortMarks(ms []Mark) {
	sort.SliceStable(ms, func(a, b int) bool {
		p, q := &ms[a], &ms[b]
		return slices.Compare(p.For, q.For) < 0 || slices.Equal(p.For, q.For) && p.AtMM < q.AtMM-sameMM
	})
}

// before tells whether one way to lay places out comes before another: places nearer to the first tip, sides in their order.
func before(ps, qs []place, face string) bool {
	for i := range ps {
		if c := order(ps[i].list(face), qs[i].list(face)); c != 0 {
			return c < 0
		}
	}
	return false
}

func (g *gatherer) holeText(sizeMM float64, through bool) string {
	t := "hole " + g.drill(sizeMM)
	if through {
		t += ", through both walls"
	}
	return t
}

// drill prints a drill's size, finer than the tape.
func (g *gatherer) drill(mm float64) string {
	if g.job.Tape.Metric() {
		return measure.HalfMM.Print(measure.FromMM(mm))
	}
	return measure.Sixtyfourths.Print(measure.FromMM(mm))
}

func (g *gatherer) markFor(x *Piece, p place, markOf []string, members []string, several bool) Mark {
	m := Mark{AtMM: clear(p.from), ToMM: clear(p.to), Face: faceOf(p.out), Side: side(p.out, x.Across), Hangs: p.hangs}
	if p.member >= 0 {
		m.Member = g.f.Members[p.member].Name
		m.What = fmt.Sprintf("%s: %s", markOf[p.member], m.Member)
	} else {
		m.What = g.holeText(p.hole.SizeMM, p.hole.Through)
	}
	if several {
		m.For = members
		m.What += " on " + members[0]
		if n := len(members); n > 1 {
			m.What += fmt.Sprintf(" and %d more", n-1)
		}
	}
	return m
}

// clear takes the noise of float64 off a length: a hundredth of a nanometre.
func clear(mm float64) float64 {
	r := math.Round(mm*1e8) / 1e8
	if r == 0 {
		return 0
	}
	return r
}

// ventMM is the hole that lets hot gas out of a tube while its last end is welded shut (common practice: 1/8 in; a tube
// that will be galvanised needs larger ones at both ends, by the galvaniser's table).
const ventMM = 3.175

// vent marks a vent hole in a tube both of whose ends are welded shut and that has no other hole.
func (g *gatherer) vent(x *group) {
	if len(x.piece.Indices) == 0 || !x.shape.section.Hollow || len(x.shape.holes) > 0 {
		return
	}
	for _, k := range x.piece.Indices {
		if !g.closed[k][0] || !g.closed[k][1] {
			return
		}
	}
	m := &g.f.Members[x.piece.Indices[0]]
	// On the lowest side, so that no rain stands in it; behind what stands nearest to the second end there.
	low, out := math.Inf(1), space.Vec2{}
	for _, o := range []space.Vec2{{Y: -1}, {Y: 1}, {Z: -1}, {Z: 1}} {
		d := m.Depth.Mul(o.Y).Add(m.Width.Mul(o.Z))
		if d.Z < low-1e-9 {
			low, out = d.Z, x.way.Apply(o)
		}
	}
	length := x.piece.Length.MM()
	at := length - 2*max(m.Section.DepthMM, m.Section.WidthMM)
	sd := side(out, x.piece.Across)
	for moved := true; moved; {
		moved = false
		for _, o := range x.piece.MarksOut {
			if o.Side == sd && at > o.AtMM-10 && at < o.ToMM+10 {
				at, moved = o.AtMM-15, true
			}
		}
	}
	if at < length*0.1 {
		at = length / 2
	}
	x.piece.MarksOut = append(x.piece.MarksOut, Mark{AtMM: clear(at), ToMM: clear(at), Face: faceOf(out), Side: sd, Vent: true,
		What: fmt.Sprintf("vent %s, drilled before the last end is welded shut", g.drill(ventMM))})
}

// shut tells for each end of each member whether a contact covers most of its cut face, so that the weld closes it.
func shut(f *frame.Frame) [][2]bool {
	area := make([][2]float64, len(f.Members))
	for j := range f.Joints {
		for _, c := range f.Joints[j].Contacts {
			for s, i := range c.Members {
				if e := c.Ends[s]; e >= 0 {
					area[i][e] += c.AreaMM2
				}
			}
		}
	}
	out := make([][2]bool, len(f.Members))
	for i := range out {
		m := &f.Members[i]
		for e := range out[i] {
			out[i][e] = area[i][e] > 0.9*m.Section.DepthMM*m.Section.WidthMM || m.Ends[e].Saddle != nil && area[i][e] > 0
		}
	}
	return out
}
