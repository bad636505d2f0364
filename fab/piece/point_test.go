package piece_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/piece"
)

// TestPointTip: the tip of a brace's point, its two cuts, and when angles alone tell where to cut.
func TestPointTip(t *testing.T) {
	const corner = rail + `
[[member]]
name = "sill"
section = "rail"
from = [0, 0, 0]
to = [60, 0, 0]
ends = ["free", "free"]
[[member]]
name = "stud"
section = "rail"
from = [0, 0, 1.25]
to = [0, 0, 40]
ends = ["auto", "free"]
[[member]]
name = "brace"
section = "rail"
from = [%g, %g, %g]
to = [%g, 0, %g]
ends = ["point", "free"]
`
	for _, c := range []struct {
		x, y, z, tx, tz float64
		over            float64 // of the tip, in inches; below 0: none
	}{
		// Its centre line starts in the corner (1.25, 1.25): the tip lies in the middle of the 2-1/2 in.
		{1.25, 0, 1.25, 31.25, 31.25, 1.25},
		{1.25, 0, 1.25, 41.25, 21.25, 1.25},
		// Parallel to it at 1/2 in: by 1/2 in nearer to one edge. (0.5 / cos 45 along the axis of the frame.)
		{1.25, 0, 1.25 + math.Sqrt2/2, 31.25, 31.25 + math.Sqrt2/2, 0.75},
	} {
		toml := fmt.Sprintf(corner, c.x, c.y, c.z, c.tx, c.tz)
		for _, p := range gather(t, toml) {
			if p.Members[0] != "brace" {
				continue
			}
			e := &p.Ends[0]
			if e.Kind != frame.Point {
				e = &p.Ends[1]
			}
			if e.Kind != frame.Point || len(e.Then) != 2 {
				t.Fatalf("%+v: no point of two cuts: %+v", c, p.Ends)
			}
			// As it lies either edge may be the bottom. A ten-thousandth of a millimetre is the noise of typed places.
			if d := math.Min(math.Abs(e.TipMM/25.4-c.over), math.Abs(2.5-e.TipMM/25.4-c.over)); d > 4e-6 {
				t.Errorf("%+v: tip %g in over the bottom edge, want %g or %g", c, e.TipMM/25.4, c.over, 2.5-c.over)
			}
			if e.Template {
				t.Errorf("%+v: two angles and the tip's height tell all; no template is needed", c)
			}
			rise := math.Atan2(c.tz-c.z, c.tx-c.x) * 180 / math.Pi
			a, b := math.Abs(e.Then[0].MiterDeg), math.Abs(e.Then[1].MiterDeg)
			if math.Abs(min(a, b)-min(rise, 90-rise)) > 1e-6 || math.Abs(max(a, b)-max(rise, 90-rise)) > 1e-6 {
				t.Errorf("%+v: cuts of %g and %g degrees, want %g and %g", c, a, b, rise, 90-rise)
			}
		}
	}
}

// tetrahedron is a regular one of six members.
func tetrahedron(section string) string {
	v := [][3]float64{{0, 0, 0}, {1000, 0, 0}, {500, 500 * math.Sqrt(3), 0}, {500, 500 / math.Sqrt(3), 1000 * math.Sqrt(2.0/3)}}
	s := "units = \"mm\"\n[saw]\nkerf = 2\n" + section
	for i := range v {
		for k := range i {
			s += fmt.Sprintf("[[member]]\nname = \"m%d%d\"\nsection = \"s\"\nfrom = [%.6f, %.6f, %.6f]\nto = [%.6f, %.6f, %.6f]\n", i, k, v[i][0], v[i][1], v[i][2], v[k][0], v[k][1], v[k][2])
		}
	}
	return s
}

// TestRoundTetrahedron: the six edges of a regular tetrahedron of round tube are one piece, whatever their roll; each of
// its cuts stands at 60 degrees from square, since edges meet at 60. Its tips are where the line of two planes leaves the
// circle: both planes' normals lie 60 degrees off the axis, and their leans 2*asin(1/(2*sin 60)) apart.
func TestRoundTetrahedron(t *testing.T) {
	ps := gather(t, tetrahedron("[section.s]\nshape = \"round-tube\"\nsize = \"48 x 3\"\n"))
	if len(ps) != 1 || ps[0].Qty != 6 {
		t.Fatalf("%d pieces, the first %d times", len(ps), ps[0].Qty)
	}
	// In its own section the planes are x = 24/cot.. : lean tan 60 along two directions apart by the tetrahedron's dihedral
	// angle, acos(1/3). On the circle the nearer of the two reaches farthest halfway between them.
	half := math.Acos(1.0/3) / 2
	want := 1000 + 2*24*math.Tan(math.Pi/3)*math.Cos(half)
	if got := ps[0].Length.MM(); math.Abs(got-want) > 1e-4 {
		t.Errorf("length %.5f mm, want %.5f", got, want)
	}
	for _, e := range ps[0].Ends {
		for _, c := range e.Then {
			if math.Abs(c.SwingDeg-60) > 1e-5 {
				t.Errorf("swing %g, want 60", c.SwingDeg)
			}
		}
		if !e.Template {
			t.Error("a point whose cuts lean both ways needs its template")
		}
	}
}

// TestCompoundPointTold: what is said of a point's compound cut is that cut, not the square one off the stick.
func TestCompoundPointTold(t *testing.T) {
	j := frametest.Read(t, tetrahedron("[section.s]\nshape = \"square-tube\"\nsize = \"40 x 3\"\n"))
	f, _ := frame.Build(j, frametest.Sections(t, j))
	_, problems := piece.Gather(f, j)
	told := 0
	for _, p := range problems {
		if p.Code != piece.CodeCompound {
			continue
		}
		told++
		if !strings.Contains(p.Message, "a cut of a point leans both ways") || !strings.Contains(p.Message, "one swing of 60.0") {
			t.Error(p.Message)
		}
	}
	if told == 0 {
		t.Error("nothing is said")
	}
}

// TestTypedPlaces: places typed to a few decimals leave leans of a hundred-thousandth where none is meant. They make no cut
// that leans both ways.
func TestTypedPlaces(t *testing.T) {
	j := frametest.Read(t, rail+`
[[member]]
name = "a"
section = "rail"
from = [0, 0, 0.0001]
to = [42.4264, 0, 42.4265]
ends = ["free", "auto"]
[[member]]
name = "b"
section = "rail"
from = [42.4264, 0, 42.4265]
to = [84.8528, 0.0002, 0]
ends = ["auto", "free"]
`)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	ps, problems := piece.Gather(f, j)
	for _, p := range problems {
		if p.Code == piece.CodeCompound {
			t.Error(p.Message)
		}
	}
	for i := range ps {
		for _, e := range ps[i].Ends {
			if e.BevelDeg != 0 {
				t.Errorf("%s: bevel %g", ps[i].Mark, e.BevelDeg)
			}
		}
	}
}
