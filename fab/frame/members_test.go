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
