package frame_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/text"
)

const rail = `
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
`

func build(t testing.TB, toml string) (*frame.Frame, []text.Problem) {
	t.Helper()
	j := frametest.Read(t, toml)
	return frame.Build(j, frametest.Sections(t, j))
}

func sound(t testing.TB, toml string) *frame.Frame {
	t.Helper()
	f, problems := build(t, toml)
	for _, p := range problems {
		t.Error(p.Long())
	}
	return f
}

// TestRectangleBars is the frame of the shop's first sketch: 96 x 48 with five bars.
func TestRectangleBars(t *testing.T) {
	for _, c := range []struct {
		corner, stand string
		long, short   float64 // in
		bar           float64
		joints, seams int
	}{
		{"mitre", "edge", 96, 48, 45, 14, 0},
		{"mitre", "flat", 96, 48, 43, 14, 0},
		{"butt-long", "edge", 96, 45, 45, 14, 0},
		{"butt-short", "edge", 93, 48, 45, 14, 0},
		{"butt-long", "flat", 96, 43, 43, 14, 0},
	} {
		t.Run(c.corner+" "+c.stand, func(t *testing.T) {
			f := sound(t, rail+fmt.Sprintf(`
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
corner = %q
stand = %q
[[crossbars]]
on = "lower"
section = "rail"
count = 5
stand = %q
`, c.corner, c.stand, c.stand))
			for i, want := range map[string]float64{"lower.x1": c.long, "lower.x2": c.long, "lower.y1": c.short, "lower.y2": c.short, "lower.bar1": c.bar, "lower.bar5": c.bar} {
				// Whole inches on the axes must come out to the nanometre.
				if got := f.Length(f.Index(i)); got != inches(want) {
					t.Errorf("%s is %d nm long, not %d", i, got, inches(want))
				}
			}
			if len(f.Joints) != c.joints {
				t.Errorf("%d joints, not %d", len(f.Joints), c.joints)
			}
			for _, j := range f.Joints {
				var names []string
				for _, m := range j.Members {
					names = append(names, f.Members[m].Name)
				}
				want := frame.Corner
				if strings.Contains(names[1], "bar") {
					want = frame.Tee
				}
				if j.Kind != want {
					t.Errorf("%s %v is a %s, not a %s", j.ID, names, j.Kind, want)
				}
			}
		})
	}
}

// TestCover: the mitre's top edge runs under the post that comes later for as long as the post stands over it: from 1/4
// in, where the post's corner is, to the inner corner.
func TestCover(t *testing.T) {
	f := sound(t, rack)
	var free, covered float64
	for _, j := range f.Joints {
		if f.Members[j.Members[0]].Name != "lower.x1" || f.Members[j.Members[1]].Name != "lower.y1" {
			continue
		}
		for _, e := range j.Contacts[0].Edges {
			if !e.Flush {
				continue
			}
			if e.Hidden {
				t.Error("nothing stands there before", e)
			}
			if e.Covered {
				covered += e.LengthMM() / 25.4
			} else {
				free += e.LengthMM() / 25.4
			}
		}
	}
	// Top (post) and bottom (leg) alike: 1/4 of the 1-1/2 in free.
	if math.Abs(free-2*math.Sqrt2/4) > 0.01 || math.Abs(covered-2*math.Sqrt2*1.25) > 0.01 {
		t.Errorf("%v free, %v covered", free, covered)
	}
}
