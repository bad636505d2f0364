package frame_test

import (
	"fmt"
	"math"
	"testing"

	"bench.example/soapstone/fab/frame"
)

const gate = `
title = "Yard gate, south slip"
[section.frame]
shape = "square-tube"
size = "1-1/2 x 1-1/2 x 14ga"
[section.picket]
shape = "flat"
size = "1 x 1/4"
[[rectangle]]
name = "gate"
section = "frame"
length = "60in"
width = "48in"
plane = "xz"
[[crossbars]]
on = "gate"
section = "picket"
gap = "4in"
stand = "flat"
set = "centre"
run = "width"
[[item]]
name = "wheel"
qty = 2
mass = "4lb"
price = 11.50
`

const brace = `
title = "Yard gate, south slip"
[section.frame]
shape = "square-tube"
size = "1-1/2 x 1-1/2 x 14ga"
[[rectangle]]
name = "gate"
section = "frame"
length = "60in"
width = "48in"
plane = "xz"
[[member]]
name = "brace"
section = "frame"
from = ["3/4", "3/4", "3/4"]
to = ["59-1/4", "3/4", "47-1/4"]
`

func TestGatePickets(t *testing.T) {
	f := sound(t, gate)
	// 57 clear, bars of 1, gaps of at most 4: n >= (57-4)/5 = 10.6, so 11 bars and 12 gaps of 46/12.
	if n := f.Index("gate.bar11"); n < 0 || f.Index("gate.bar12") >= 0 {
		t.Error("11 pickets")
	}
	if got := f.Length(f.Index("gate.bar1")); got != inches(45) {
		t.Error(got)
	}
	a, b := f.Members[f.Index("gate.bar1")].A, f.Members[f.Index("gate.bar2")].A
	if gap := (b.X-a.X)/25.4 - 1; math.Abs(gap-46.0/12) > 1e-9 {
		t.Error("gap", gap)
	}
}

func TestGateBrace(t *testing.T) {
	f := sound(t, brace)
	m := &f.Members[f.Index("brace")]
	for e := range m.Ends {
		if m.Ends[e].Kind != frame.Point || len(m.Ends[e].Planes) != 2 || len(m.Ends[e].Meets) != 2 {
			t.Errorf("end %d: %+v", e, m.Ends[e])
		}
	}
	for _, j := range f.Joints {
		t.Log(j.ID, j.Kind, f.Members[j.Members[0]].Name, f.Members[j.Members[1]].Name, len(j.Contacts))
	}
	if len(f.Joints) != 8 {
		t.Errorf("%d joints", len(f.Joints))
	}
	// By hand: between the inner corners (1.5, 1.5) and (58.5, 46.5) run 57 and 45; the tips lie in those corners.
	if want := math.Hypot(57, 45); math.Abs(f.LengthMM(f.Index("brace"))/25.4-want) > 0.2 {
		t.Errorf("brace is %v long", f.LengthMM(f.Index("brace"))/25.4)
	}
}

func members(section string, lines ...string) string {
	s := "[section.s]\n" + section + "\n"
	for _, l := range lines {
		s += "[[member]]\nsection = \"s\"\n" + l + "\n"
	}
	return s
}

const box2 = "shape = \"square-tube\"\nsize = \"2 x 2 x 11ga\""

// TestBuilt checks what auto makes of the ends.
func TestAuto(t *testing.T) {
	f := sound(t, members(box2,
		"name = \"a\"\nfrom = [0,0,0]\nto = [40,0,0]",
		"name = \"b\"\nfrom = [40,0,0]\nto = [40,30,0]",
		"name = \"c\"\nfrom = [40,30,0]\nto = [0,30,0]",
		"name = \"d\"\nfrom = [0,30,0]\nto = [0,0,0]",
		"name = \"e\"\nfrom = \"a@20in\"\nto = \"c\"",
		"name = \"f\"\nfrom = [10,0,0]\nto = [0,10,0]",
	))
	for _, c := range []struct {
		name   string
		a, b   frame.EndKind
		length float64
	}{
		{"a", frame.Mitre, frame.Mitre, 42}, {"b", frame.Mitre, frame.Mitre, 32}, {"e", frame.Butt, frame.Butt, 28},
		{"f", frame.Butt, frame.Butt, math.Sqrt2*10 - math.Sqrt2*2 + 2},
	} {
		i := f.Index(c.name)
		m := &f.Members[i]
		if m.Ends[0].Kind != c.a || m.Ends[1].Kind != c.b || math.Abs(f.LengthMM(i)/25.4-c.length) > 1e-9 {
			t.Errorf("%s: %s %s, %v long, not %v", c.name, m.Ends[0].Kind, m.Ends[1].Kind, f.LengthMM(i)/25.4, c.length)
		}
	}
	if len(f.Joints) != 8 {
		t.Errorf("%d joints", len(f.Joints))
	}
}

// TestCorners: three tubes meet at each corner of a cube and of a tetrahedron; each ends in a point of two cuts.
func TestCorners(t *testing.T) {
	cube := []string{}
	for i, e := range [][2][3]int{
		{{0, 0, 0}, {1, 0, 0}}, {{0, 1, 0}, {1, 1, 0}}, {{0, 0, 1}, {1, 0, 1}}, {{0, 1, 1}, {1, 1, 1}},
		{{0, 0, 0}, {0, 1, 0}}, {{1, 0, 0}, {1, 1, 0}}, {{0, 0, 1}, {0, 1, 1}}, {{1, 0, 1}, {1, 1, 1}},
		{{0, 0, 0}, {0, 0, 1}}, {{1, 0, 0}, {1, 0, 1}}, {{0, 1, 0}, {0, 1, 1}}, {{1, 1, 0}, {1, 1, 1}},
	} {
		cube = append(cube, fmt.Sprintf("name = \"m%d\"\nfrom = [%d,%d,%d]\nto = [%d,%d,%d]", i, 30*e[0][0], 30*e[0][1], 30*e[0][2], 30*e[1][0], 30*e[1][1], 30*e[1][2]))
	}
	f := sound(t, members(box2, cube...))
	for i := range f.Members {
		m := &f.Members[i]
		for e := range m.Ends {
			if m.Ends[e].Kind != frame.Point || len(m.Ends[e].Planes) != 2 {
				t.Errorf("%s: %s %d", m.Name, m.Ends[e].Kind, len(m.Ends[e].Planes))
			}
			for _, p := range m.Ends[e].Planes {
				if a := p.Normal.AngleDeg(m.Axis.Mul(float64(2*e - 1))); math.Abs(a-45) > 1e-9 {
					t.Errorf("%s is cut at %v", m.Name, a)
				}
			}
		}
		if math.Abs(f.LengthMM(i)/25.4-32) > 1e-9 {
			t.Errorf("%s is %v long", m.Name, f.LengthMM(i)/25.4)
		}
	}
	if len(f.Joints) != 24 {
		t.Errorf("%d joints", len(f.Joints))
	}
}

// TestSaddle: a brace between two round rails; its length along the top line is what lies between the rails' flanks.
func TestSaddle(t *testing.T) {
	f := sound(t, `
[section.s]
shape = "round-tube"
size = "1-1/2 x 11ga"
[section.h]
shape = "round-tube"
size = "2 x 11ga"
[[member]]
name = "a"
section = "h"
from = [0,0,0]
to = [60,0,0]
ends = ["free", "free"]
[[member]]
name = "b"
section = "h"
from = [0,40,0]
to = [60,40,0]
ends = ["free", "free"]
[[member]]
name = "c"
section = "s"
from = "a@20in"
to = "b@20in"
`)
	i := f.Index("c")
	m := &f.Members[i]
	if m.Ends[0].Kind != frame.Saddled || m.Ends[1].Kind != frame.Saddled {
		t.Fatal(m.Ends[0].Kind, m.Ends[1].Kind)
	}
	// Square on: the tips lie beside the headers' flanks, sqrt(1 - 0.75^2) from their axes.
	if want := 40 - 2*math.Sqrt(1-0.5625); math.Abs(f.LengthMM(i)/25.4-want) > 1e-3 {
		t.Errorf("%v long, not %v", f.LengthMM(i)/25.4, want)
	}
	if len(f.Joints) != 2 || f.Joints[0].Kind != frame.Tee || f.Joints[0].Members[1] != i {
		t.Fatal(f.Joints)
	}
	var length float64
	for _, e := range f.Joints[0].Contacts[0].Edges {
		length += e.LengthMM()
		if e.DihedralDeg < 89.9 || e.DihedralDeg > 140 {
			t.Error("dihedral", e.DihedralDeg)
		}
	}
	if length < math.Pi*1.5*25.4 || length > 1.2*math.Pi*1.5*25.4 {
		t.Error("seam", length)
	}
}

// TestTetrahedron: six tubes along the edges of a regular tetrahedron. Edges meet at 60 degrees, so every cut stands 60
// degrees off square, and the two cuts of a point 60 degrees to each other.
func TestTetrahedron(t *testing.T) {
	h := 40 / math.Sqrt2
	v := [][3]float64{{h, h, h}, {h, -h, -h}, {-h, h, -h}, {-h, -h, h}}
	var ms []string
	for i := range v {
		for k := range i {
			ms = append(ms, fmt.Sprintf("name = \"m%d%d\"\nfrom = [%.6f, %.6f, %.6f]\nto = [%.6f, %.6f, %.6f]", i, k, v[i][0], v[i][1], v[i][2], v[k][0], v[k][1], v[k][2]))
		}
	}
	f, problems := build(t, members("shape = \"round-tube\"\nsize = \"1-1/2 x 11ga\"", ms...))
	for _, p := range problems {
		t.Error(p)
	}
	for i := range f.Members {
		m := &f.Members[i]
		for e := range m.Ends {
			ps := m.Ends[e].Planes
			if m.Ends[e].Kind != frame.Point || len(ps) != 2 {
				t.Fatalf("%s: %s, %d planes", m.Name, m.Ends[e].Kind, len(ps))
			}
			dir := m.Axis.Mul(float64(2*e - 1))
			for _, p := range ps {
				// Coordinates are rounded to the nanometre: good to 1e-7 degrees on edges of a metre and a half.
				// The faces are equilateral triangles: edges meet at 60 degrees.
				if a := p.Normal.AngleDeg(dir); math.Abs(a-60) > 1e-6 {
					t.Errorf("%s: cut %v from square", m.Name, a)
				}
			}
			if a := ps[0].Normal.AngleDeg(ps[1].Normal); math.Abs(a-60) > 1e-6 {
				t.Errorf("%s: the cuts stand at %v", m.Name, a)
			}
		}
	}
	if len(f.Joints) != 12 { // three at each of four corners
		t.Errorf("%d joints", len(f.Joints))
	}
	noOverlap(t, f, 60, 3)
}

// TestRoundRails: bars between round rails are saddled, and their joints are found.
func TestRoundRails(t *testing.T) {
	f := sound(t, `
[section.pipe]
shape = "pipe"
size = "1-1/4 sch40"
[section.bar]
shape = "round-bar"
size = "3/4"
[[rectangle]]
name = "f"
section = "pipe"
length = 60
width = 30
[[crossbars]]
on = "f"
section = "bar"
count = 3
set = "centre"
`)
	n := 0
	for _, j := range f.Joints {
		if j.Kind == frame.Tee {
			n++
		}
	}
	if n != 6 || len(f.Joints) != 10 {
		t.Errorf("%d joints, %d tees", len(f.Joints), n)
	}
	// From flank to flank: 30 - 1.66 between the axes, less twice sqrt(0.83^2 - 0.375^2) at the tips.
	want := 30 - 1.66 - 2*math.Sqrt(0.83*0.83-0.375*0.375)
	if got := f.LengthMM(f.Index("f.bar1")) / 25.4; math.Abs(got-want) > 1e-4 {
		t.Errorf("%v, not %v", got, want)
	}
}

// TestPlanes: the same frame in every plane is cut from the same lengths, and one above another keeps its clear height.
func TestPlanes(t *testing.T) {
	for _, plane := range []string{"xy", "xz", "yz"} {
		for _, corner := range []string{"mitre", "butt-long", "butt-short"} {
			f := sound(t, rail+fmt.Sprintf(`
[[rectangle]]
name = "f"
section = "rail"
length = 60
width = 30
plane = %q
corner = %q
at = [7, -3, 11]
[[crossbars]]
on = "f"
section = "rail"
spacing = "16in"
stand = "flat"
set = "centre"
[[rectangle]]
name = "g"
section = "rail"
length = 60
width = 30
plane = %q
above = "f"
clear = 12
`, plane, corner, plane))
			// 58.5 between the end sides' centres in steps of at most 16: four steps, three bars.
			if f.Index("f.bar3") < 0 || f.Index("f.bar4") >= 0 {
				t.Errorf("%s: %d members", plane, len(f.Members))
			}
			if got := f.Length(f.Index("f.bar2")); got != inches(27) {
				t.Errorf("%s: bar %v", plane, got)
			}
			high := map[string]float64{"xy": 2.5, "xz": 30, "yz": 30}[plane]
			if z := f.Rects[1].Corner.Z / 25.4; math.Abs(z-11-high-12) > 1e-9 {
				t.Errorf("%s: the upper one at %v", plane, z)
			}
			for i := range f.Members[:7] {
				for _, s := range f.Members[i].Solids() {
					if b := s.Box(); b.Lo.X < 7*25.4-1e-6 || b.Lo.Y < -3*25.4-1e-6 || b.Lo.Z < 11*25.4-1e-6 {
						t.Errorf("%s: %s reaches beyond the low corner: %v", plane, f.Members[i].Name, b.Lo)
					}
				}
			}
			noOverlap(t, f, 40, 2)
		}
	}
}

// TestCopedMember: an angle strut coped into an angle rail.
func TestCopedMember(t *testing.T) {
	f := sound(t, `
units = "mm"
[section.a]
shape = "angle"
size = "50 x 50 x 5"
[[member]]
name = "rail"
section = "a"
from = [0, 0, 0]
to = [1000, 0, 0]
ends = ["free", "free"]
[[member]]
name = "strut"
section = "a"
from = [500, -20, 0]
to = [500, -400, 0]
ends = ["cope", "free"]
`)
	m := &f.Members[f.Index("strut")]
	if m.Ends[0].Kind != frame.Cope || len(m.Ends[0].Notch) != 1 {
		t.Fatalf("%+v", m.Ends[0])
	}
	if len(f.Joints) != 1 {
		t.Errorf("%d joints", len(f.Joints))
	}
	noOverlap(t, f, 500, 2)
}

// TestJoin3: two braces that meet on a rail are cut to it and to each other.
func TestBracesOnARail(t *testing.T) {
	f := sound(t, members(box2,
		"name = \"rail\"\nfrom = [0,0,0]\nto = [80,0,0]\nends = [\"free\", \"free\"]",
		"name = \"l\"\nfrom = [40,0,0]\nto = [15,0,30]\nends = [\"auto\", \"free\"]",
		"name = \"r\"\nfrom = [40,0,0]\nto = [65,0,30]\nends = [\"auto\", \"free\"]",
	))
	for _, n := range []string{"l", "r"} {
		if e := f.Members[f.Index(n)].Ends[0]; e.Kind != frame.Point || len(e.Planes) != 2 {
			t.Errorf("%s: %s %d", n, e.Kind, len(e.Planes))
		}
	}
	if len(f.Joints) != 3 {
		t.Errorf("%d joints", len(f.Joints))
	}
	noOverlap(t, f, 300, 2)
}

// TestUnequalMitre is told.
func TestUnequalMitre(t *testing.T) {
	_, problems := build(t, `
[section.s]
shape = "square-tube"
size = "2 x 2 x 11ga"
[section.t]
shape = "square-tube"
size = "1-1/2 x 1-1/2 x 11ga"
[[member]]
name = "a"
section = "s"
from = [0,0,0]
to = [40,0,0]
ends = ["free", "auto"]
[[member]]
name = "b"
section = "t"
from = [40,0,0]
to = [40,30,0]
ends = ["auto", "free"]
`)
	if len(problems) != 1 || problems[0].Code != frame.CodeFaces {
		t.Error(problems)
	}
}

// TestRoundOnFlat: round pickets on the face of two flat rails, and two pipes side by side, touch along lines: two flare
// seams each.
func TestRoundOnFlat(t *testing.T) {
	f := sound(t, `
[section.rail]
shape = "flat"
size = "2 x 1/4"
[section.picket]
shape = "round-bar"
size = "1/2"
[[member]]
name = "low"
section = "rail"
from = [0, 0, 4]
to = [40, 0, 4]
ends = ["free", "free"]
[[member]]
name = "high"
section = "rail"
from = [0, 0, 30]
to = [40, 0, 30]
ends = ["free", "free"]
[[member]]
name = "p1"
section = "picket"
from = [5, "-3/8", 0]
to = [5, "-3/8", 36]
ends = ["free", "free"]
[[member]]
name = "p2"
section = "picket"
from = [5, "-7/8", 10]
to = [5, "-7/8", 20]
ends = ["free", "free"]
`)
	if len(f.Joints) != 3 {
		t.Fatalf("%d joints", len(f.Joints))
	}
	for k, want := range []float64{2, 2, 10} {
		j := f.Joints[k]
		if j.Kind != frame.Lap || len(j.Contacts) != 1 || len(j.Contacts[0].Edges) != 2 {
			t.Errorf("%s: %s, %d contacts", j.ID, j.Kind, len(j.Contacts))
			continue
		}
		for _, e := range j.Contacts[0].Edges {
			if !e.Flare || math.Abs(e.LengthMM()/25.4-want) > 1e-9 {
				t.Errorf("%s: %+v", j.ID, e)
			}
		}
	}
}
