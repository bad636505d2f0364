package piece_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
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

// TestAsMeasured: on a piece that was measured in its place holes and named places keep their distance from the tip that
// the job gives them from, whichever end is shown first; where another neighbour lands is left to be found.
func TestAsMeasured(t *testing.T) {
	toml := func(from, to, ends, z string) string {
		return rail + fmt.Sprintf(`
[[member]]
name = "b"
section = "rail"
from = %s
to = %s
ends = %s
over = "1/2"
holes = [ {at = "10in", size = "1/2"} ]
[[member]]
name = "named"
section = "rail"
from = "b@20in"
to = [20, 30, 0]
ends = ["auto", "free"]
[[member]]
name = "placed"
section = "rail"
from = [30, 0, %s]
to = [30, 30, %s]
ends = ["auto", "free"]
`, from, to, ends, z, z)
	}
	for _, c := range []struct {
		name, toml   string
		reversed     bool
		hole, namedW float64 // so much farther from the first tip shown, of a quarter of an inch longer
	}{
		{"as built", toml("[0, 0, 0]", "[60, 0, 0]", `["free", "free"]`, "0"), false, 0, 0},
		{"turned", toml("[0, 0, 0]", "[60, 0, 6]", `["free", "plumb"]`, "3"), true, 6.35, 6.35},
	} {
		ps := pieces(t, c.toml)
		x := &ps[0]
		if x.Way.Turned != c.reversed || len(x.MarksOut) != 3 {
			t.Fatalf("%s: turned %v, %+v", c.name, x.Way.Turned, x.MarksOut)
		}
		one := x.AsMeasured(x.Length + measure.Inch/4)
		if one.Length != x.Length+measure.Inch/4 || len(one.MarksOut) != 3 {
			t.Errorf("%s: %v", c.name, one)
		}
		for i, m := range one.MarksOut {
			was, more := x.MarksOut[i], 0.0
			switch m.Member {
			case "":
				more = c.hole
			case "named":
				more = c.namedW
			case "placed":
				if !strings.Contains(m.What, "mark it where it lands") {
					t.Errorf("%s: %+v", c.name, m)
				}
			}
			if math.Abs(m.AtMM-was.AtMM-more) > 1e-6 || math.Abs(m.ToMM-was.ToMM-more) > 1e-6 {
				t.Errorf("%s: %s at %v, drawn %v", c.name, m.What, m.AtMM, was.AtMM)
			}
		}
		if same := x.AsMeasured(x.Length); fmt.Sprint(same.MarksOut) != fmt.Sprint(x.MarksOut) {
			t.Errorf("%s: measured as drawn: %v", c.name, same.MarksOut)
		}
	}
}
