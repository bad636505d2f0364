package seam

import (
	"fmt"
	"slices"

	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
)

// torch is how far out of a seam a torch and hand need free space, mm (common practice).
var torch = []float64{20, 45, 70, 100}

// access looks along each seam's torch for a member that stands in the way.
func (s *finder) access() {
	for i := range s.out.Seams {
		x := &s.out.Seams[i]
		mid := x.Middle()
	member:
		for m := range s.solids {
			if m == x.Members[0] || m == x.Members[1] {
				continue
			}
			for _, d := range torch {
				p := mid.Along(x.Out, d)
				if !s.inBox(m, p) {
					continue
				}
				for _, solid := range s.solids[m] {
					if solid.Contains(p, 0) {
						x.Blocker = m
						x.Tight = fmt.Sprintf("%s stands %.0f mm before it", s.f.Members[m].Name, d)
						break member
					}
				}
			}
		}
	}
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

// blocked looks at each seam whose torch is stopped by another member, or on which one comes to stand. Where that is fitted
// in a later stage nothing is lost; in the same stage a covered seam is welded before it is fitted; where it is in already
// the seam cannot be welded, and the worker is told.
func (s *finder) blocked() {
	in := make([]int, len(s.f.Members)) // stage in which each member is fitted
	for m := range in {
		in[m] = len(s.out.Stages)
	}
	for _, j := range s.out.Joints {
		if len(j.Seams) == 0 {
			continue
		}
		for _, m := range j.Index {
			in[m] = min(in[m], j.Stage)
		}
	}
	for i := range s.out.Seams {
		x := &s.out.Seams[i]
		for _, m := range x.CoveredBy {
			name := s.f.Members[m].Name
			switch {
			case in[m] < x.Stage:
				x.Skipped = name + " stands on it by then"
			case in[m] == x.Stage:
				for k, j := range s.out.Joints {
					if j.Stage == x.Stage && len(j.Seams) > 0 && k != x.Joint && slices.Contains(j.Index, m) {
						x.Before = append(x.Before, k)
					}
				}
			}
		}
		if x.Skipped != "" {
			st := &s.out.Stages[x.Stage]
			st.Seams = slices.DeleteFunc(st.Seams, func(k int) bool { return k == i })
			x.Before = nil
			s.problem(s.where(&s.f.Joints[x.Joint]), text.Caution, "seam-covered", "seam %s is left out: %s", x.ID, x.Skipped)
			continue
		}
		if x.Blocker < 0 {
			continue
		}
		if in[x.Blocker] > x.Stage || len(x.Before) > 0 && slices.Contains(x.CoveredBy, x.Blocker) {
			x.Tight = ""
			continue
		}
		s.problem(s.where(&s.f.Joints[x.Joint]), text.Caution, "seam-tight", "seam %s: %s; weld it before that is fitted, or leave it out (sides)", x.ID, x.Tight)
	}
}
