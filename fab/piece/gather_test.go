package piece_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
)

const rail = `
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
`

func gather(t testing.TB, toml string) []piece.Piece {
	t.Helper()
	j := frametest.Read(t, toml)
	f, problems := frame.Build(j, frametest.Sections(t, j))
	for _, p := range problems {
		t.Error(p.Long())
	}
	ps, problems := piece.Gather(f, j)
	for _, p := range problems {
		if p.Severity != text.Caution {
			t.Error(p.Long())
		}
	}
	return ps
}

// line writes a piece as a cut list does: "A 2 x 96 [45, 45] width".
func line(p *piece.Piece) string {
	s := fmt.Sprintf("%s %d x %.7g [%.4g, %.4g]", p.Mark, p.Qty, p.Length.Inches(), p.Ends[0].MiterDeg, p.Ends[1].MiterDeg)
	for e, x := range p.Ends {
		if x.BevelDeg != 0 {
			s += fmt.Sprintf(" bevel%d %.4g", e+1, x.BevelDeg)
		}
	}
	s += " " + p.Ends[0].Across
	if p.Ends[1].Across != p.Ends[0].Across {
		s += "/" + p.Ends[1].Across
	}
	if p.Hand != "" {
		s += " " + p.Hand
	}
	return s
}

func list(ps []piece.Piece) string {
	var ls []string
	for i := range ps {
		ls = append(ls, line(&ps[i]))
	}
	return strings.Join(ls, "\n")
}

func expect(t *testing.T, got, want string) {
	t.Helper()
	if want = strings.TrimSpace(want); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestRectangle(t *testing.T) {
	for _, c := range []struct{ corner, stand, want string }{
		{"mitre", "edge", "A 2 x 96 [45, 45] width\nB 2 x 48 [45, 45] width\nC 5 x 45 [0, 0] depth"},
		{"mitre", "flat", "A 2 x 96 [45, 45] depth\nB 2 x 48 [45, 45] depth\nC 5 x 43 [0, 0] depth"},
		{"butt-long", "edge", "A 2 x 96 [0, 0] depth\nB 7 x 45 [0, 0] depth"},
	} {
		expect(t, list(gather(t, rail+fmt.Sprintf(`
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
`, c.corner, c.stand, c.stand))), c.want)
	}
}

// TestLoose checks that loose pieces keep what is written, and join what they equal where they have no mark.
func TestLoose(t *testing.T) {
	expect(t, list(gather(t, rail+`
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
[[piece]]
section = "rail"
length = "48in"
qty = 3
ends = [-45, -45]
across = "width"
[[piece]]
mark = "T"
section = "rail"
length = "57in"
qty = 4
ends = [0, 45]
[[piece]]
mark = "B"
section = "rail"
length = "30in"
ends = [30, -30]
[[piece]]
section = "rail"
length = "30in"
ends = [-30, 30]
qty = 2
`)), `
A 2 x 96 [45, 45] width
C 5 x 48 [45, 45] width
T 4 x 57 [0, 45] depth
B 1 x 30 [30, -30] depth
D 2 x 30 [-30, 30] depth
`)
}

// TestLegHands: feet that fall both ways make two hands of a tube; the legs at one end are of one length.
func TestLegHands(t *testing.T) {
	ps := gather(t, rail+`
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
[section.post]
shape = "square-tube"
size = "1-1/2 x 1-1/2 x 11ga"
[[legs]]
under = "lower"
section = "post"
surface = "slip"
inset = "1/4"
[surface.slip]
chord = "60in"
rise = "3in"
centre = "24in"
top = "-9in"
slope = "1:40"
`)
	expect(t, list(ps), `
A 2 x 96 [45, 45] width
B 2 x 48 [45, 45] width
C-L 1 x 10.865 [8.732, 0] bevel1 -1.416 depth left
C-R 1 x 10.865 [8.732, 0] bevel1 1.416 depth right
D-L 1 x 8.514999 [8.732, 0] bevel1 -1.416 depth left
D-R 1 x 8.514999 [8.732, 0] bevel1 1.416 depth right`)
	if ps[2].Mirror != "C-R" || ps[5].Mirror != "D-L" {
		t.Error("hands name each other")
	}
}

// TestAngleHands: the sides of a mitred angle rim are their own mirror images; an angle with one square end, or a hole in
// one leg, has a hand.
func TestAngleHands(t *testing.T) {
	ps := gather(t, `
units = "mm"
tape = "1mm"
[section.rim]
shape = "angle"
size = "50 x 40 x 5"
[[rectangle]]
name = "top"
section = "rim"
length = 1200
width = 600
[[member]]
name = "left"
section = "rim"
from = [0, 0, 500]
to = [300, 0, 500]
ends = ["free", "free"]
holes = [ {at = 50, face = "depth", size = 9} ]
[[member]]
name = "right"
section = "rim"
from = [0, 200, 500]
to = [300, 200, 500]
ends = ["free", "free"]
holes = [ {at = 250, face = "depth", size = 9} ]
[[member]]
name = "both"
section = "rim"
from = [0, 300, 500]
to = [300, 300, 500]
ends = ["free", "free"]
holes = [ {at = 50, face = "depth", size = 9}, {at = 250, face = "depth", size = 9} ]
`)
	var ls []string
	for i := range ps {
		ls = append(ls, line(&ps[i]))
	}
	want := []string{"A 2 x 47.24409 [45, 45] width", "B 2 x 23.62205 [45, 45] width"}
	for i, w := range want {
		if ls[i] != w {
			t.Errorf("%s, not %s", ls[i], w)
		}
	}
	if len(ps) != 5 || ps[2].Hand == "" || ps[3].Hand == "" || ps[2].Hand == ps[3].Hand || ps[2].Mirror != ps[3].Mark || ps[4].Hand != "" {
		t.Error(list(ps))
	}
}

// TestPoint: a brace into both corners of a gate comes off the stick square and gets two cuts at each tip, one for each
// side; their angles from square add up to 90 degrees.
func TestPoint(t *testing.T) {
	ps := gather(t, rail+`
[[rectangle]]
name = "gate"
section = "rail"
length = "60in"
width = "48in"
plane = "xz"
[[member]]
name = "brace"
section = "rail"
from = ["3/4", "1-1/4", "3/4"]
to = ["59-1/4", "1-1/4", "47-1/4"]
`)
	p := ps[len(ps)-1]
	slope := math.Atan2(46.5, 58.5) * 180 / math.Pi
	for e := range p.Ends {
		x := p.Ends[e]
		if x.MiterDeg != 0 || len(x.Then) != 2 || len(x.Notes) != 1 {
			t.Fatalf("%+v", x)
		}
		a, b := math.Abs(x.Then[0].MiterDeg), math.Abs(x.Then[1].MiterDeg)
		if math.Abs(min(a, b)-slope) > 1e-6 || math.Abs(max(a, b)-(90-slope)) > 1e-6 || x.Then[0].MiterDeg*x.Then[1].MiterDeg > 0 || x.Then[0].BevelDeg != 0 {
			t.Errorf("%+v", x.Then)
		}
	}
}

// TestTubeSeam: with the tube's own seam kept to the inside a piece may be turned about one axis only; the sides of a
// frame are still one mark each, and one mitred end makes a hand of a brace.
func TestTubeSeam(t *testing.T) {
	seam := strings.Replace(rail, "size =", "tube_seam = \"inside\"\nsize =", 1)
	frame := `
[[rectangle]]
name = "f"
section = "rail"
length = "60in"
width = "48in"
`
	ps := gather(t, seam+frame)
	if len(ps) != 2 || ps[0].Qty != 2 || ps[1].Qty != 2 || ps[0].Hand != "" || len(ps[0].Lays) >= len(gather(t, rail+frame)[0].Lays) {
		t.Error(list(ps), ps[0].Lays)
	}
	pair := `
[[piece]]
section = "rail"
length = 40
ends = [45, 0]
across = "depth"
[[piece]]
section = "rail"
length = 40
ends = [-45, 0]
across = "depth"
`
	if ps := gather(t, rail+pair); len(ps) != 1 {
		t.Error(list(ps))
	}
	if ps := gather(t, seam+pair); len(ps) != 2 || ps[0].Hand == "" || ps[0].Hand == ps[1].Hand || ps[0].Mirror != ps[1].Mark {
		t.Error(list(ps))
	}
}
