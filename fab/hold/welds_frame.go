package hold

import (
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/seam"
)

// WeldGroups gathers the seams of each joint: those that hold each member but the one that runs through. Seams that are
// only tacked do not count.
func WeldGroups(l *seam.Layout, f *frame.Frame) []WeldGroup {
	var out []WeldGroup
	for ji := range l.Joints {
		q := &l.Joints[ji]
		if len(q.Index) < 2 || len(q.Seams) == 0 {
			continue
		}
		for _, member := range q.Index[1:] {
			g := WeldGroup{Joint: q.ID, Member: member}
			for _, si := range q.Seams {
				s := &l.Seams[si]
				if s.TackOnly || s.Members[0] != member && s.Members[1] != member || !(s.LengthMM > 0) {
					continue
				}
				share := 1.0
				if s.WeldMM > 0 {
					share = min(1, s.WeldMM/s.LengthMM)
				}
				throat := s.ThroatMM
				if throat == 0 {
					throat = 0.7071 * s.LegMM
				}
				g.Lines = append(g.Lines, WeldLine{vec(s.From), vec(s.To), throat, share})
			}
			if len(g.Lines) > 0 {
				out = append(out, g)
			}
		}
	}
	return out
}
