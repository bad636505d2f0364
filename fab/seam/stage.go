package seam

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

// below is the sine under the horizon beyond which a seam counts as facing down: on the bench no torch reaches it, and
// standing it would be overhead.
const below = -0.3

// part is a connected part of the frame.
type part struct {
	members []int
	joints  []int
}

// stages decides how the frame lies while each joint is fitted and each seam is welded.
//
// Each rectangle with its crossbars is a sub-frame: it is fitted, tacked and welded flat on the bench. Then whatever joins
// sub-frames is put in, the frame standing as drawn; legs wait for the turn, because they stand by themselves on the frame
// turned over. What still faces down is welded after one turn of the whole, rather than after a turn of each sub-frame.
//
// A sub-frame may lie on the bench with its underside up: so that a seam on which a post comes to stand from below is
// welded before the post is in, or because then no turn is needed at all.
func (s *finder) stages() {
	for body, p := range s.parts() {
		best := s.stagesOf(body, p, false)
		if flipped := s.stagesOf(body, p, true); turns(flipped) < turns(best) {
			best = flipped
		}
		base := len(s.out.Stages)
		for _, st := range best {
			for k := range st.After {
				st.After[k] += base
			}
			s.out.Stages = append(s.out.Stages, st)
		}
	}
	s.reorder()
	s.out.Turns = turns(s.out.Stages)
	for i := range s.out.Stages {
		st := &s.out.Stages[i]
		for _, k := range st.Seams {
			x := &s.out.Seams[k]
			x.Stage = i
			x.Position = PositionOf(x.To.Sub(x.From).Unit(), x.Out, st.Up)
		}
		for _, k := range st.Joints {
			s.out.Joints[k].Stage = i
		}
	}
	s.again()
	s.blocked()
}

func turns(stages []Stage) int {
	n := 0
	for _, st := range stages {
		if st.Turn {
			n++
		}
	}
	return n
}

// again marks the joints at which a member is set that another joint of the same stage has just set at the same place.
func (s *finder) again() {
	for i := range s.out.Joints {
		j := &s.out.Joints[i]
		for k := range i {
			o := s.out.Joints[k]
			if len(o.Seams) == 0 || len(j.Seams) == 0 || o.Stage != j.Stage {
				continue
			}
			for _, m := range j.Index {
				x := s.f.Members[m].Section
				if slices.Contains(o.Index, m) && o.At.Dist(j.At) < 1.5*math.Max(x.DepthMM, x.WidthMM) {
					j.Again = true
				}
			}
		}
	}
}

func (s *finder) parts() []part {
	root := make([]int, len(s.f.Members))
	for i := range root {
		root[i] = i
	}
	var find func(int) int
	find = func(i int) int {
		if root[i] != i {
			root[i] = find(root[i])
		}
		return root[i]
	}
	for _, j := range s.out.Joints {
		if len(j.Seams) == 0 {
			continue
		}
		for _, m := range j.Index[1:] {
			a, b := find(j.Index[0]), find(m)
			root[max(a, b)] = min(a, b)
		}
	}
	byRoot := map[int]*part{}
	var order []int
	for m := range s.f.Members {
		r := find(m)
		if byRoot[r] == nil {
			byRoot[r] = &part{}
			order = append(order, r)
		}
		byRoot[r].members = append(byRoot[r].members, m)
	}
	for k, j := range s.out.Joints {
		if len(j.Seams) > 0 {
			p := byRoot[find(j.Index[0])]
			p.joints = append(p.joints, k)
		}
	}
	var out []part
	sort.Ints(order)
	for _, r := range order {
		if len(byRoot[r].joints) > 0 {
			out = append(out, *byRoot[r])
		}
	}
	return out
}

// group gives the sub-frame of a joint: the rectangle that all its members belong to, "" where there is none.
func (s *finder) group(j Joint) string {
	g := ""
	for _, m := range j.Index {
		x := s.f.Members[m]
		if x.Group == "" || x.Role != frame.Side && x.Role != frame.Bar || g != "" && x.Group != g {
			return ""
		}
		g = x.Group
	}
	return g
}

// benchUp gives the direction of a sub-frame's plane that points up on the bench.
func (s *finder) benchUp(group string) space.Vec {
	for _, r := range s.f.Rects {
		if r.Name == group {
			return r.N
		}
	}
	return space.Vec{Z: 1}
}

// stagesOf gives the stages of one part; flip: sub-frames lie with their underside up where they may. After counts from the
// part's own first stage.
func (s *finder) stagesOf(body int, p part, flip bool) []Stage {
	up := space.Vec{Z: 1}
	groups := []string{}
	ofGroup := map[string][]int{}
	var joining, legs []int
	for _, k := range p.joints {
		j := s.out.Joints[k]
		g := s.group(j)
		switch {
		case g != "":
			if ofGroup[g] == nil {
				groups = append(groups, g)
			}
			ofGroup[g] = append(ofGroup[g], k)
		case s.isLeg(j):
			legs = append(legs, k)
		default:
			joining = append(joining, k)
		}
	}
	var out []Stage
	var later []int // seams left for the next stages
	var before []int
	add := func(st Stage) {
		st.Body = body
		st.After = append([]int(nil), before...)
		if st.Kind == Bench { // sub-frames do not wait for each other, but for the one bench
			st.After = nil
			if st.Turn {
				st.After = []int{len(out) - 1}
			}
		}
		before = append(before, len(out))
		out = append(out, st)
	}
	lone := len(joining) == 0 && len(groups) == 1
	for _, g := range groups {
		n := s.benchUp(g)
		var seams []int
		coveredUp, coveredDown := 0, 0
		for _, k := range ofGroup[g] {
			for _, x := range s.out.Joints[k].Seams {
				seams = append(seams, x)
				if s.coveredByJoining(s.out.Seams[x]) {
					switch d := s.out.Seams[x].Out.Dot(n); {
					case d < below:
						coveredDown++
					case d > -below:
						coveredUp++
					}
				}
			}
		}
		st := Stage{Kind: Bench, Group: g, Up: n, Joints: ofGroup[g], Name: g + ", flat on the bench"}
		if !lone && coveredUp == 0 && (flip || coveredDown > 0) {
			st.Up, st.Name = n.Mul(-1), g+", flat on the bench, underside up"
		}
		left := s.take(&st, seams, st.Up)
		add(st)
		if coveredUp > 0 && coveredDown > 0 { // posts above and below: both faces are needed before they are in
			over := Stage{Kind: Bench, Group: g, Up: st.Up.Mul(-1), Turn: true, Name: g + ", turned over on the bench"}
			left = s.take(&over, left, over.Up)
			add(over)
		}
		later = append(later, left...)
	}
	if lone {
		up = s.benchUp(groups[0])
	}
	if len(joining) > 0 || len(groups) > 1 && len(later) > 0 && flip {
		st := Stage{Kind: Joined, Up: up, Joints: joining, Name: "joined, standing as drawn"}
		if len(groups) == 0 {
			st.Name = "set up on the bench"
		}
		for _, k := range joining {
			later = append(later, s.out.Joints[k].Seams...)
		}
		later = s.take(&st, later, up)
		add(st)
	}
	// the turn; sub-frames standing on edge may leave seams that neither way is up
	for turn := 0; len(later) > 0 || len(legs) > 0; turn++ {
		st := Stage{Kind: Over, Up: up.Mul(-1), Turn: true, Name: "turned over"}
		switch {
		case turn == 1: // seams on top of what was fitted upside down
			st.Up, st.Name = up, "set on its feet again"
		case turn > 1: // a side that only another turn brings up
			st.Up, st.Name = s.out.Seams[later[0]].Out, fmt.Sprintf("turned again (%d)", turn+1)
		}
		st.Joints = legs
		for _, k := range legs {
			later = append(later, s.out.Joints[k].Seams...)
		}
		legs = nil
		later = s.take(&st, later, st.Up)
		add(st)
	}
	return out
}

// coveredByJoining tells whether a member that joins sub-frames, and no leg, comes to stand on the seam.
func (s *finder) coveredByJoining(x Seam) bool {
	for _, m := range x.CoveredBy {
		if s.f.Members[m].Role != frame.Leg {
			return true
		}
	}
	return false
}

// take moves into the stage those of the seams that face up in it, and gives the others back.
func (s *finder) take(st *Stage, seams []int, up space.Vec) []int {
	var left []int
	for _, x := range seams {
		if s.out.Seams[x].Out.Dot(up) >= below {
			st.Seams = append(st.Seams, x)
		} else {
			left = append(left, x)
		}
	}
	return left
}

// isLeg tells whether a joint holds a leg, or a member cut to fit that meets one elsewhere: it is measured when the leg
// stands, so that none of its ends is set before.
func (s *finder) isLeg(j Joint) bool {
	for _, m := range j.Index {
		if s.f.Members[m].Role == frame.Leg || s.f.Members[m].OverMM > 0 && s.meetsLeg(m) {
			return true
		}
	}
	return false
}

func (s *finder) meetsLeg(m int) bool {
	return slices.ContainsFunc(s.out.Joints, func(j Joint) bool {
		return len(j.Seams) > 0 && slices.Contains(j.Index, m) && slices.ContainsFunc(j.Index, func(k int) bool { return s.f.Members[k].Role == frame.Leg })
	})
}

// tackEvery is how far apart the tacks of a long joint lie at most, mm: every 2-3 in on thin stock, twice that where the
// edge is stiff (common practice).
const tackEvery = 150.0

// tacks places the tacks of each joint: two at least, on opposite seams that are open in the joint's stage, four where it
// has as many, more on long seams.
func (s *finder) tacks() {
	for i := range s.out.Joints {
		j := &s.out.Joints[i]
		var open []int
		for _, k := range j.Seams {
			if s.out.Seams[k].Stage == j.Stage {
				open = append(open, k)
			}
		}
		if len(open) == 0 {
			open = j.Seams
		}
		if len(open) > 4 {
			open = []int{open[0], open[len(open)/4], open[len(open)/2], open[3*len(open)/4]}
		}
		for _, k := range open {
			x := s.out.Seams[k]
			n := max(1, int(math.Floor(x.LengthMM/tackEvery)))
			for t := range n {
				j.TackAt = append(j.TackAt, x.From.Lerp(x.To, (float64(t)+0.5)/float64(n)))
			}
		}
		if len(open) == 1 && len(j.TackAt) == 1 { // one seam: a tack near each end
			x := s.out.Seams[open[0]]
			j.TackAt = []space.Vec{x.From.Lerp(x.To, 0.15), x.From.Lerp(x.To, 0.85)}
		}
		j.Tacks = len(j.TackAt)
	}
}
