package frame_test

import (
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

const pipeRack = `
[section.pipe]
shape = "round-tube"
size = "1-1/2 x 11ga"
[[rectangle]]
name = "low"
section = "pipe"
length = 40
width = 30
corner = "CORNER"
[[rectangle]]
name = "high"
section = "pipe"
length = 40
width = 30
above = "low"
clear = 20
corner = "CORNER"
[[posts]]
from = "low"
to = "high"
section = "pipe"
`

// TestPostsOnRoundCorners: over the corner of two round rails a post is saddled to both: every point of its rim lies on one
// of the rails, outside neither, and both make a joint with it, along their own part of the curve.
func TestPostsOnRoundCorners(t *testing.T) {
	for _, corner := range []string{"mitre", "butt-long", "butt-short"} {
		f, problems := build(t, strings.ReplaceAll(pipeRack, "CORNER", corner))
		for _, p := range problems {
			t.Errorf("%s: %v", corner, p)
		}
		posts := 0
		for i := range f.Members {
			m := &f.Members[i]
			if m.Role != frame.Post {
				continue
			}
			posts++
			for e := range m.Ends {
				curve := m.SaddleCurve(e, 144)
				on := map[int]int{}
				for _, p := range curve {
					nearest := math.Inf(1)
					for k := range f.Members {
						h := &f.Members[k]
						if h.Role != frame.Side {
							continue
						}
						if inside(h, p, 1e-6) {
							t.Fatalf("%s: %s end %d enters %s at %v", corner, m.Name, e, h.Name, p)
						}
						// On the skin of this rail, where the rail is: its steel just under the point.
						d := math.Abs(space.LineDist(p, h.A, h.Axis) - h.Section.RadiusMM)
						if d < 1e-6 {
							in := h.A.Along(h.Axis, p.Sub(h.A).Dot(h.Axis))
							if inside(h, p.Lerp(in, 1e-3), -1e-6) {
								on[k]++
							}
						}
						nearest = min(nearest, d)
					}
					if nearest > 1e-6 {
						t.Errorf("%s: %s end %d: %v lies %v mm off every rail", corner, m.Name, e, p, nearest)
					}
				}
				if len(on) != 2 {
					t.Errorf("%s: %s end %d rests on %v", corner, m.Name, e, on)
				}
				joints := 0
				for _, j := range f.Joints {
					for _, c := range j.Contacts {
						if c.Members[1] == i && c.Ends[1] == e {
							joints++
							for _, x := range c.Edges {
								h := &f.Members[c.Members[0]]
								if d := math.Abs(space.LineDist(x.From, h.A, h.Axis) - h.Section.RadiusMM); d > 1.5 { // a chord's end may lie on the other rail
									t.Errorf("%s: a seam of %s with %s runs %v mm off it", corner, m.Name, h.Name, d)
								}
							}
						}
					}
				}
				if joints != 2 {
					t.Errorf("%s: %s end %d has %d contacts, want one with each rail", corner, m.Name, e, joints)
				}
			}
		}
		if posts != 4 {
			t.Fatalf("%d posts", posts)
		}
	}
}

// TestRailsOnRoundPosts: rails that end at round through posts are saddled to them and make joints, whatever the rail.
func TestRailsOnRoundPosts(t *testing.T) {
	for _, rail := range []string{"shape = \"round-tube\"\nsize = \"1-1/2 x 11ga\"", "shape = \"rect-tube\"\nsize = \"1-1/2 x 1 x 14ga\""} {
		toml := "[section.rail]\n" + rail + "\n[section.pole]\nshape = \"round-tube\"\nsize = \"2 x 11ga\"\n"
		for _, at := range []string{"name = \"low\"\nat = [0, 0, 0]", "name = \"high\"\nabove = \"low\"\nclear = 20"} {
			toml += "[[rectangle]]\nsection = \"rail\"\nlength = 40\nwidth = 30\ncorner = \"posts\"\n" + at + "\n"
		}
		toml += "[[posts]]\nfrom = \"low\"\nto = \"high\"\nsection = \"pole\"\nthrough = true\n"
		f, problems := build(t, toml)
		for _, p := range problems {
			t.Error(p)
		}
		if len(f.Joints) != 16 {
			t.Errorf("%d joints, want each of eight rails with two poles", len(f.Joints))
		}
		noOverlap(t, f, 200, 3)
		for i := range f.Members {
			m := &f.Members[i]
			if m.Role != frame.Side {
				continue
			}
			for e := range m.Ends {
				if m.Ends[e].Kind != frame.Saddled || len(m.Ends[e].Meets) != 1 || f.Members[m.Ends[e].Meets[0]].Role != frame.Post {
					t.Errorf("%s end %d: %+v", m.Name, e, m.Ends[e])
				}
			}
		}
	}
}
