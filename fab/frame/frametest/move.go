package frametest

import (
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

// Move gives the frame with every point moved by at and every direction by dir; where mirror is true the two turn left to
// right, and the width of each section is turned round so that its own frame stays right-handed (for tube).
func Move(f *frame.Frame, at, dir func(space.Vec) space.Vec, mirror bool) *frame.Frame {
	g := *f
	g.Members = append([]frame.Member(nil), f.Members...)
	plane := func(p space.Plane) space.Plane { return space.Plane{Point: at(p.Point), Normal: dir(p.Normal)} }
	for i := range g.Members {
		m := &g.Members[i]
		m.A, m.B, m.Axis, m.Depth, m.Width = at(m.A), at(m.B), dir(m.Axis), dir(m.Depth), dir(m.Width)
		if mirror {
			m.Width = m.Width.Mul(-1)
		}
		for e := range m.Ends {
			end := &m.Ends[e]
			end.Planes = append([]space.Plane(nil), end.Planes...)
			for k := range end.Planes {
				end.Planes[k] = plane(end.Planes[k])
			}
			notches := end.Notch
			end.Notch = nil
			for _, n := range notches {
				var moved frame.Notch
				for _, p := range n {
					moved = append(moved, plane(p))
				}
				end.Notch = append(end.Notch, moved)
			}
			if s := end.Saddle; s != nil {
				c := *s
				c.At, c.Dir, c.Split = at(s.At), dir(s.Dir), space.Plane{Point: at(s.Split.Point), Normal: dir(s.Split.Normal)}
				if a := s.Also; a != nil {
					c.Also = &frame.Saddle{At: at(a.At), Dir: dir(a.Dir), RadiusMM: a.RadiusMM}
				}
				end.Saddle = &c
			}
		}
	}
	g.Joints = append([]frame.Joint(nil), f.Joints...)
	for i := range g.Joints {
		cs := g.Joints[i].Contacts
		g.Joints[i].Contacts = nil
		for _, c := range cs {
			c.Plane = plane(c.Plane)
			out := make([]space.Vec, len(c.Outline))
			for k, v := range c.Outline {
				out[k] = at(v)
			}
			c.Outline = out
			g.Joints[i].Contacts = append(g.Joints[i].Contacts, c)
		}
	}
	return &g
}
