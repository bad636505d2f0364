package piece_test

import (
	"fmt"
	"strings"
	"testing"

	"bench.example/soapstone/fab/piece"
)

func marks(p *piece.Piece) string {
	var ls []string
	for _, m := range p.MarksOut {
		ls = append(ls, fmt.Sprintf("%.6g-%.6g %s %s %s", m.AtMM/25.4, m.ToMM/25.4, m.Face, m.Side, m.What))
	}
	return strings.Join(ls, "\n")
}

// TestMarkOut: five bars in equal gaps of 85.5/6 = 14.25; on edge their 1-1/2 stands on the inner face, which is the one
// away from the tips.
func TestMarkOut(t *testing.T) {
	ps := gather(t, rail+`
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
[[crossbars]]
on = "lower"
section = "rail"
count = 5
`)
	expect(t, marks(&ps[0]), `
15.75-17.25 depth top C: lower.bar1
31.5-33 depth top C: lower.bar2
47.25-48.75 depth top C: lower.bar3
63-64.5 depth top C: lower.bar4
78.75-80.25 depth top C: lower.bar5
91-91 width back vent 1/8", drilled before the last end is welded shut`)
	expect(t, marks(&ps[2]), `40-40 width bottom vent 1/8", drilled before the last end is welded shut`)
}

// TestMarkOutDiffers: bars that are not symmetrical land at other places on the second side, unless it is turned: a
// mitred side can be.
func TestMarkOutDiffers(t *testing.T) {
	for corner, want := range map[string]string{
		"mitre":     "9.25-10.75 depth bottom B: f.bar1\n29.25-30.75 depth bottom B: f.bar2",
		"butt-long": "",
	} {
		ps := gather(t, rail+fmt.Sprintf(`
[[rectangle]]
name = "f"
section = "rail"
length = "60in"
width = "30in"
corner = %q
[[crossbars]]
on = "f"
section = "rail"
at = ["10in", "30in"]
`, corner))
		t.Log(marks(&ps[0]), want)
		for _, m := range ps[0].MarksOut {
			if len(m.For) > 0 {
				t.Errorf("%s: both sides can be laid out alike: %v", corner, m)
			}
		}
	}
}

func TestHoles(t *testing.T) {
	ps := gather(t, rail+`
[[member]]
name = "a"
section = "rail"
from = [0, 0, 0]
to = [40, 0, 0]
ends = ["free", "free"]
holes = [ {at = "3in", face = "depth", size = "13/32"}, {at = "37in", face = "width", size = "13/32", through = true} ]
[[member]]
name = "b"
section = "rail"
from = [0, 20, 0]
to = [40, 20, 0]
ends = ["free", "free"]
roll = 180
holes = [ {at = "3in", face = "depth", size = "13/32"}, {at = "37in", face = "width", size = "13/32", through = true} ]
[[member]]
name = "mirror"
section = "rail"
from = [0, 40, 0]
to = [40, 40, 0]
ends = ["free", "free"]
holes = [ {at = "3in", face = "depth", size = "13/32"}, {at = "37in", face = "width", size = "1/2", through = true} ]
`)
	if len(ps) != 2 || ps[0].Qty != 2 {
		t.Error(list(ps))
	}
	expect(t, marks(&ps[0]), "3-3 depth front hole 13/32\"\n37-37 width top hole 13/32\", through both walls")
}
