package seam

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// torch is how far out of a seam a torch and hand need free space, mm (common practice).
var torch = []float64{20, 45, 70, 100}

// lean is how far the torch may lean from straight out of the corner, degrees: along the seam as when it is drawn or
// pushed, and towards either face (common practice: a few degrees are usual, so much is the least evil).
const (
	leanAlong = 40.0
	leanAside = 20.0
)

// ways are the directions from which a torch may come: straight first.
func ways(x Seam) []space.Vec {
	u := x.To.Sub(x.From).Unit()
	side := x.Out.Cross(u)
	tilt := func(to space.Vec, deg float64) space.Vec {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return x.Out.Mul(cos).Along(to, sin)
	}
	return []space.Vec{x.Out, tilt(u, leanAlong), tilt(u, -leanAlong), tilt(side, leanAside), tilt(side, -leanAside)}
}

// reach is what stands in a torch's way at one place of a seam, for each of the ways.
type reach [][]int

// access looks along each seam's torch for members that stand in the way: at the middle and near both ends.
func (s *finder) access() {
	g := s.grid()
	s.reaches = make([][]reach, len(s.out.Seams))
	for i := range s.out.Seams {
		x := &s.out.Seams[i]
		near := g.near(x.Middle(), x.LengthMM/2+torch[len(torch)-1])
		near = slices.DeleteFunc(near, func(m int) bool { return m == x.Members[0] || m == x.Members[1] })
		if len(near) == 0 {
			continue
		}
		dirs := ways(*x)
		any := false
		var places []reach
		for _, t := range []float64{0.5, 0.15, 0.85} {
			r := make(reach, len(dirs))
			for k, d := range dirs {
				for _, m := range near {
					if at := s.stopped(m, x.From.Lerp(x.To, t), d); at > 0 {
						r[k], any = append(r[k], m), true
						if t == 0.5 && k == 0 && (x.Blocker < 0 || at < x.blockedAt) {
							x.Blocker, x.blockedAt = m, at
						}
					}
				}
			}
			places = append(places, r)
		}
		if any {
			s.reaches[i] = places
		}
	}
}

// stopped gives how far out of a place the member stops a torch, mm; 0 where it does not.
func (s *finder) stopped(m int, from, dir space.Vec) float64 {
	for _, d := range torch {
		p := from.Along(dir, d)
		if !s.inBox(m, p) {
			continue
		}
		for _, solid := range s.solids[m] {
			if solid.Contains(p, 0) {
				return d
			}
		}
	}
	return 0
}

// boxes sorts members into cells of space, so that a large frame is not looked through for every seam.
type cells struct {
	f  *finder
	at map[[3]int][]int
}

const cellMM = 300

func cellOf(v space.Vec) [3]int {
	return [3]int{int(math.Floor(v.X / cellMM)), int(math.Floor(v.Y / cellMM)), int(math.Floor(v.Z / cellMM))}
}

func (s *finder) grid() cells {
	g := cells{s, map[[3]int][]int{}}
	for m, b := range s.boxes {
		if len(s.solids[m]) == 0 {
			continue
		}
		lo, hi := cellOf(b.Lo), cellOf(b.Hi)
		for x := lo[0]; x <= hi[0]; x++ {
			for y := lo[1]; y <= hi[1]; y++ {
				for z := lo[2]; z <= hi[2]; z++ {
					c := [3]int{x, y, z}
					g.at[c] = append(g.at[c], m)
				}
			}
		}
	}
	return g
}

// near gives the members whose boxes come within r of a place, in order.
func (g cells) near(p space.Vec, r float64) []int {
	lo, hi := cellOf(space.Vec{X: p.X - r, Y: p.Y - r, Z: p.Z - r}), cellOf(space.Vec{X: p.X + r, Y: p.Y + r, Z: p.Z + r})
	var out []int
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				for _, m := range g.at[[3]int{x, y, z}] {
					b := g.f.boxes[m]
					if b.Lo.X <= p.X+r && b.Hi.X >= p.X-r && b.Lo.Y <= p.Y+r && b.Hi.Y >= p.Y-r && b.Lo.Z <= p.Z+r && b.Hi.Z >= p.Z-r {
						out = append(out, m)
					}
				}
			}
		}
	}
	sort.Ints(out)
	return slices.Compact(out)
}

// onIt is how far out of a seam a member that stands on it is looked for, mm.
const onIt = 2.0

// standingOn gives the members that come to stand on a seam.
func (s *finder) standingOn(x Seam) []int {
	var on []int
	for m := range s.solids {
		if m == x.Members[0] || m == x.Members[1] {
			continue
		}
	along:
		for _, t := range []float64{0.1, 0.3, 0.5, 0.7, 0.9} {
			p := x.From.Lerp(x.To, t).Along(x.Out, onIt)
			if !s.inBox(m, p) {
				continue
			}
			for _, solid := range s.solids[m] {
				if solid.Contains(p, 0) {
					on = append(on, m)
					break along
				}
			}
		}
	}
	return on
}

func (s *finder) inBox(m int, p space.Vec) bool {
	b := s.boxes[m]
	return p.X >= b.Lo.X && p.X <= b.Hi.X && p.Y >= b.Lo.Y && p.Y <= b.Hi.Y && p.Z >= b.Lo.Z && p.Z <= b.Hi.Z
}

// When a member is in place, seen from a stage.
const (
	absent  = iota // not there yet, or another part of the frame
	fitting        // set in this stage
	there          // set in an earlier one
)

// presence tells for each member in which stage it is set, and of which body it is.
type presence struct {
	s    *finder
	in   []int // stage in which each member is first joined to another; len(Stages): none
	body []int
}

func (s *finder) presence() presence {
	p := presence{s, make([]int, len(s.f.Members)), make([]int, len(s.f.Members))}
	for m := range p.in {
		p.in[m], p.body[m] = len(s.out.Stages), -1
	}
	for _, j := range s.out.Joints {
		if len(j.Seams) == 0 {
			continue
		}
		for _, m := range j.Index {
			p.in[m] = min(p.in[m], j.Stage)
			p.body[m] = s.out.Stages[j.Stage].Body
		}
	}
	return p
}

// at tells whether a member is in place in a stage: on the bench there is only the sub-frame itself.
func (p presence) at(m, stage int) int {
	st := p.s.out.Stages[stage]
	switch {
	case p.body[m] != st.Body || p.in[m] > stage:
		return absent
	case st.Kind == Bench && p.s.f.Members[m].Group != st.Group:
		return absent
	case p.in[m] == stage:
		return fitting
	}
	return there
}

// blocked looks at each seam that a torch does not reach, or on which another member comes to stand. Where that member is
// set in a later stage nothing is lost; in the same stage the seam is welded before it is set, unless the two wait for each
// other; where it is in already the seam cannot be welded, and the worker is told.
func (s *finder) blocked() {
	p := s.presence()
	o := newOrder(len(s.out.Joints))
	for i := range s.out.Seams { // what comes to stand on a seam first: those have no other way
		x := &s.out.Seams[i]
		for _, m := range x.CoveredBy {
			switch p.at(m, x.Stage) {
			case there:
				x.Skipped = s.f.Members[m].Name + " stands on it by then"
			case fitting:
				if !s.before(i, []int{m}, o) {
					x.Skipped = s.f.Members[m].Name + " stands on it, and neither can wait for the other"
				}
			}
		}
		if x.Skipped != "" {
			st := &s.out.Stages[x.Stage]
			st.Seams = slices.DeleteFunc(st.Seams, func(k int) bool { return k == i })
			x.Before, x.Early = nil, ""
			s.problem(s.where(&s.f.Joints[x.Joint]), text.Caution, "seam-covered", "seam %s is left out: %s", x.ID, x.Skipped)
		}
	}
	for i := range s.out.Seams {
		if x := &s.out.Seams[i]; x.Skipped == "" && s.reaches[i] != nil {
			s.tight(i, x, p, o)
		}
	}
}

// tight settles how a seam with something in the torch's way is welded.
func (s *finder) tight(i int, x *Seam, p presence, o *order) {
	straight, now, later := true, []int(nil), []int(nil)
	dirs, up := ways(*x), s.out.Stages[x.Stage].Up
	for _, r := range s.reaches[i] {
		// the way with the least in it: nothing, else what is set in this stage, else what is in already
		best := -1
		var bestNow, bestLater []int
		for k, ms := range r {
			if k > 0 && dirs[k].Dot(up) < below { // the bench or the floor is there
				continue
			}
			var in, coming []int
			for _, m := range ms {
				switch p.at(m, x.Stage) {
				case there:
					in = append(in, m)
				case fitting:
					coming = append(coming, m)
				}
			}
			if best < 0 || len(in) < len(bestNow) || len(in) == len(bestNow) && len(coming) < len(bestLater) {
				best, bestNow, bestLater = k, in, coming
			}
		}
		straight = straight && best == 0
		now, later = append(now, bestNow...), append(later, bestLater...)
	}
	where := s.where(&s.f.Joints[x.Joint])
	slices.Sort(now)
	slices.Sort(later)
	now, later = slices.Compact(now), slices.Compact(later)
	switch {
	case len(now) > 0:
		x.Tight = s.names(now) + " stands in the torch's way and is in before"
	case len(later) > 0 && s.before(i, later, o):
		return
	case len(later) > 0:
		x.Tight = s.names(later) + " stands in the torch's way, and neither can wait for the other"
	case !straight:
		x.Tight = "only with the torch leant over"
		if x.Blocker >= 0 && p.at(x.Blocker, x.Stage) != absent {
			x.Tight = fmt.Sprintf("%s stands %s before it: lean the torch", s.f.Members[x.Blocker].Name, s.j.Tape.Print(measure.FromMM(x.blockedAt)))
		}
		return // awkward, not out of reach
	default:
		return
	}
	s.problem(where, text.Caution, "seam-tight", "seam %s: %s; weld it from another side, or leave it out (sides)", x.ID, x.Tight)
}

// before has seam i welded before the members are set, at whatever joint of the same stage; false where that would be a
// circle.
func (s *finder) before(i int, members []int, o *order) bool {
	x := &s.out.Seams[i]
	var joints []int
	for k, j := range s.out.Joints {
		if j.Stage != x.Stage || len(j.Seams) == 0 || k == x.Joint {
			continue
		}
		for _, m := range members {
			if slices.Contains(j.Index, m) {
				joints = append(joints, k)
				break
			}
		}
	}
	// the member may be part of this very joint's other contacts: then it is in from the start
	for _, m := range members {
		if slices.Contains(s.out.Joints[x.Joint].Index, m) {
			return false
		}
	}
	for _, k := range joints {
		if o.leads(k, x.Joint) {
			return false
		}
	}
	for _, k := range joints {
		o.add(x.Joint, k)
		if !slices.Contains(x.Before, k) {
			x.Before = append(x.Before, k)
		}
	}
	slices.Sort(x.Before)
	if x.Early = "before " + s.names(members) + " is set"; len(members) > 1 {
		x.Early = "before " + s.names(members) + " are set"
	}
	return true
}

func (s *finder) names(members []int) string {
	var list []string
	for _, m := range members {
		list = append(list, s.f.Members[m].Name)
	}
	return strings.Join(list, " and ")
}

// order is what joint is set before what other.
type order struct{ next [][]int }

func newOrder(n int) *order { return &order{make([][]int, n)} }

func (o *order) add(a, b int) {
	if !slices.Contains(o.next[a], b) {
		o.next[a] = append(o.next[a], b)
	}
}

// leads tells whether a comes before b, or is b.
func (o *order) leads(a, b int) bool {
	seen := map[int]bool{}
	stack := []int{a}
	for len(stack) > 0 {
		k := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if k == b {
			return true
		}
		if seen[k] {
			continue
		}
		seen[k] = true
		stack = append(stack, o.next[k]...)
	}
	return false
}
