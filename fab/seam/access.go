package seam

import (
	"fmt"

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

func (s *finder) inBox(m int, p space.Vec) bool {
	b := s.boxes[m]
	return p.X >= b.Lo.X && p.X <= b.Hi.X && p.Y >= b.Lo.Y && p.Y <= b.Hi.Y && p.Z >= b.Lo.Z && p.Z <= b.Hi.Z
}

// blocked says of each seam whose torch is stopped by a member that is in before the seam is welded.
func (s *finder) blocked() {
	in := make([]int, len(s.f.Members)) // stage in which each member is fitted
	for m := range in {
		in[m] = len(s.out.Stages)
	}
	for _, j := range s.out.Joints {
		if j.Kind == "loose" {
			continue
		}
		for _, m := range j.Index {
			in[m] = min(in[m], j.Stage)
		}
	}
	for i := range s.out.Seams {
		x := &s.out.Seams[i]
		if x.Blocker < 0 {
			continue
		}
		if in[x.Blocker] > x.Stage {
			x.Tight = ""
			continue
		}
		s.problem(s.where(&s.f.Joints[x.Joint]), text.Caution, "seam-tight", "seam %s: %s; weld it before that is fitted, or leave it out (sides)", x.ID, x.Tight)
	}
}
