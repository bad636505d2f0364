package seam

import (
	"math"
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
	"pgregory.net/rapid"
)

const rack = `
title = "Kayak rack"
units = "in"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
finish = "oiled"
sticks = [ {length = "20ft", price = 34.50} ]
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
corner = "mitre"
stand = "edge"
[[crossbars]]
on = "lower"
section = "rail"
count = 5
stand = "flat"
set = "bottom"
[welder]
process = "FCAW-S"
amps = 110
volts = 19
duty = "30% at 130A"
window = "10m"
wire = "0.030in"
travel = "9ipm"
fillet = "1/8"
`

const full = `
title = "Kayak rack, north boathouse"
units = "in"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
finish = "oiled"
[section.post]
shape = "square-tube"
size = "1-1/2 x 11ga"
[section.arm]
shape = "round-tube"
size = "1 x .083"
[surface.slip]
chord = "60in"
rise = "3in"
centre = "24in"
top = "-9in"
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
at = [0, 0, 0]
[[rectangle]]
name = "upper"
section = "rail"
length = "96in"
width = "48in"
above = "lower"
clear = "24in"
[[crossbars]]
on = "lower"
section = "rail"
count = 3
stand = "flat"
[[posts]]
from = "lower"
to = "upper"
section = "post"
at = "corners"
[[legs]]
under = "lower"
section = "post"
surface = "slip"
at = "corners"
[[crossbars]]
on = "upper"
section = "arm"
count = 2
[welder]
process = "FCAW-S"
amps = 110
volts = 19
duty = "30% at 130A"
window = "10m"
wire = "0.030in"
travel = "9ipm"
fillet = "1/8"
`

func layout(t testing.TB, toml string) (*frame.Frame, Layout, []text.Problem) {
	t.Helper()
	j := frametest.Read(t, toml)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	l, problems := Find(f, j, j.Welder)
	for i, s := range l.Seams {
		if s.Skipped == "" && !slices.Contains(l.Stages[s.Stage].Seams, i) {
			t.Errorf("seam %s is not in its stage", s.ID)
		}
		if err := s.Area().Check(); err != nil {
			t.Error(err)
		}
		if s.LengthMM <= 0 || s.WeldMM <= 0 || s.LegMM <= 0 || s.Passes < 1 {
			t.Errorf("seam %s: %+v", s.ID, s)
		}
	}
	return f, l, problems
}

func count(l Layout, of func(Seam) bool) int {
	n := 0
	for _, s := range l.Seams {
		if of(s) {
			n++
		}
	}
	return n
}

func TestFlatRack(t *testing.T) {
	_, l, problems := layout(t, rack)
	if len(problems) != 0 {
		t.Errorf("problems: %v", problems)
	}
	if len(l.Joints) != 14 || len(l.Seams) != 56 || len(l.Stages) != 2 || l.Turns != 1 {
		t.Fatalf("%d joints, %d seams, %d stages, %d turns", len(l.Joints), len(l.Seams), len(l.Stages), l.Turns)
	}
	if b, o := len(l.Stages[0].Seams), len(l.Stages[1].Seams); b != 42 || o != 14 {
		t.Errorf("%d seams on the bench, %d turned over", b, o)
	}
	// a mitred corner of 2-1/2 x 1-1/2 on edge: two flush grooves across the mitre, the heel outside, the fillet inside
	var lengths []float64
	var types []Type
	for _, k := range l.Joints[0].Seams {
		lengths, types = append(lengths, l.Seams[k].LengthMM), append(types, l.Seams[k].Type)
	}
	slices.Sort(lengths)
	slices.Sort(types)
	want := []float64{38.1 * math.Sqrt2, 38.1 * math.Sqrt2, 63.5, 63.5}
	for i := range want {
		if math.Abs(lengths[i]-want[i]) > 1e-6 { // geometry in floats
			t.Errorf("corner seams %v, want %v", lengths, want)
		}
	}
	if !slices.Equal(types, []Type{Fillet, OutsideCorner, SquareGroove, SquareGroove}) {
		t.Errorf("corner seams %v", types)
	}
	// a crossbar flush with the rail's round lower edge has one flare bevel, welded flat after the turn
	if n := count(l, func(s Seam) bool {
		return s.Type == FlareBevel && s.Stage == 1 && s.Position == Flat && math.Abs(s.RadiusMM-6.096) < 1e-9
	}); n != 10 {
		t.Errorf("%d flare bevels", n)
	}
	if n := count(l, func(s Seam) bool { return s.Position == Overhead }); n != 0 {
		t.Errorf("%d seams overhead", n)
	}
	for _, j := range l.Joints {
		if j.Tacks < 2 {
			t.Errorf("joint %s has %d tacks", j.ID, j.Tacks)
		}
	}
}

func TestRackOnLegs(t *testing.T) {
	f, l, _ := layout(t, full)
	if n := count(l, func(s Seam) bool { return s.Skipped != "" }); n != 0 {
		t.Errorf("%d seams left out", n)
	}
	if l.Turns != 1 {
		t.Errorf("%d turns", l.Turns)
	}
	// the upper frame lies underside up, because posts come to stand on its lower mitres
	for _, s := range l.Stages {
		if s.Group == "upper" && s.Up.Z != -1 || s.Group == "lower" && s.Up.Z != 1 {
			t.Errorf("%s: up is %v", s.Name, s.Up)
		}
	}
	// a mitre on which a post or leg comes to stand is dressed; under a leg it is welded before the leg is fitted
	covered, early := 0, 0
	for _, s := range l.Seams {
		if len(s.CoveredBy) == 0 {
			continue
		}
		covered++
		if !s.Dress {
			t.Errorf("seam %s under %s is not dressed", s.ID, f.Members[s.CoveredBy[0]].Name)
		}
		for _, k := range s.Before {
			early++
			if l.Joints[k].Stage != s.Stage {
				t.Errorf("seam %s before joint %s of another stage", s.ID, l.Joints[k].ID)
			}
		}
	}
	if covered != 12 || early != 8 { // 4 corners x (post below, post above, leg); each leg has two joints
		t.Errorf("%d covered, %d early", covered, early)
	}
	// round bars: each end in quarters of the circle
	round := 0.0
	for _, s := range l.Seams {
		if s.Round || strings.Contains(l.Joints[s.Joint].Members[1], "upper.bar") {
			round += s.LengthMM
		}
	}
	circle := 48 * 25.4 * math.Sin(math.Pi/48) // chords of the inscribed polygon of 48 sides
	if math.Abs(round-4*circle) > 0.01 {
		t.Errorf("round seams %.2f mm, want %.2f", round, 4*circle)
	}
	for _, st := range l.Stages {
		for _, k := range st.Seams {
			if l.Seams[k].Out.Dot(st.Up) < below {
				t.Errorf("seam %s faces down in %s", l.Seams[k].ID, st.Name)
			}
		}
	}
}

// TestAngleCorner: the two legs of an angle touch in two areas, the seam across the mitre of the flat leg is one.
func TestAngleCorner(t *testing.T) {
	_, l, _ := layout(t, `
title = "Rim"
units = "mm"
[section.rim]
shape = "angle"
size = "45 x 45 x 5"
[[rectangle]]
name = "top"
section = "rim"
length = 1650
width = 720
corner = "mitre"
heel = "out-top"
[welder]
process = "GMAW"
volts = 19
amps = 110
duty = "30% at 130A"
travel = "9ipm"
`)
	long := count(l, func(s Seam) bool { return s.Type == SquareGroove && math.Abs(s.LengthMM-45*math.Sqrt2) < 0.02 })
	outer := count(l, func(s Seam) bool { return s.Type == OutsideCorner && math.Abs(s.LengthMM-45) < 0.02 })
	if long != 4 || outer != 4 || len(l.Joints) != 4 { // of the lower side only the leg inside the other is bare: 40 sqrt 2
		t.Errorf("%d joints, %d seams across the mitre's top, %d heels", len(l.Joints), long, outer)
		for _, s := range l.Seams {
			t.Logf("%s %s %.2f %v %v", s.ID, s.Type, s.LengthMM, s.From, s.To)
		}
	}
}

func TestOverrides(t *testing.T) {
	_, l, problems := layout(t, rack+`
[[joint]]
between = ["lower.x1", "lower.bar3"]
sides = 3
fillet = "3/16"
dress = true
[[joint]]
between = ["lower.x2", "lower.bar1"]
pattern = "1/2-1"
passes = 2
[[joint]]
between = ["lower.x2", "lower.bar2"]
fillet = "1/16"
gap = "1/4"
[[joint]]
between = ["lower.x1", "lower.bar5"]
tack = true
`)
	find := func(a, b string) Joint {
		for _, j := range l.Joints {
			if slices.Equal(j.Members, []string{a, b}) {
				return j
			}
		}
		t.Fatalf("no joint %s %s", a, b)
		return Joint{}
	}
	j := find("lower.x1", "lower.bar3")
	if len(j.Seams) != 3 {
		t.Errorf("%d seams with sides = 3", len(j.Seams))
	}
	for _, k := range j.Seams {
		s := l.Seams[k]
		if !s.Dress || s.Type == Fillet && math.Abs(s.LegMM-4.7625) > 1e-9 || s.Type == FlareBevel {
			t.Errorf("seam %s: dress %v, leg %g, %s", s.ID, s.Dress, s.LegMM, s.Type)
		}
	}
	for _, k := range find("lower.x2", "lower.bar1").Seams {
		s := l.Seams[k]
		beads, weld := Pattern{12.7, 25.4}.On(s.LengthMM)
		if s.Passes != 2 || s.Beads != beads || s.WeldMM != weld || s.WeldMM >= s.LengthMM {
			t.Errorf("seam %s: %+v", s.ID, s)
		}
	}
	for _, k := range find("lower.x1", "lower.bar5").Seams {
		if !l.Seams[k].TackOnly {
			t.Errorf("seam %s is welded", l.Seams[k].ID)
		}
	}
	codes := map[string]int{}
	for _, p := range problems {
		codes[p.Code]++
		if p.Severity != text.Caution {
			t.Errorf("%s: %s", p.Severity, p.Message)
		}
	}
	if codes["fillet-small"] == 0 || codes["gap-wide"] == 0 || codes["bead-short"] == 0 {
		t.Errorf("cautions: %v", codes)
	}
}

// TestFilletOverTheEdge: a leg of 3/16 in along the edge of a strap of 1/8 in is more than the edge holds; on a strap of
// 1/4 in it is not.
func TestFilletOverTheEdge(t *testing.T) {
	for _, c := range []struct {
		thick string
		want  int
	}{{"1/8", 1}, {"1/4", 0}} {
		_, l, problems := layout(t, `
units = "in"
[section.rail]
shape = "rect-tube"
size = "3 x 2 x 3/16"
[section.strap]
shape = "flat"
size = "2 x `+c.thick+`"
[[member]]
name = "rail"
section = "rail"
from = [0, 0, 0]
to = [40, 0, 0]
[[member]]
name = "strap"
section = "strap"
from = [20, -10, `+map[string]string{"1/8": "1.5625", "1/4": "1.625"}[c.thick]+`]
to = [20, 10, `+map[string]string{"1/8": "1.5625", "1/4": "1.625"}[c.thick]+`]
roll = 90
[welder]
process = "GMAW"
amps = 100
volts = 18
duty = "30% at 130A"
travel = "10ipm"
fillet = "3/16"
`)
		n := 0
		for _, p := range problems {
			if p.Code == "fillet-large" {
				n = 1
			}
		}
		if n != c.want || len(l.Seams) == 0 {
			t.Errorf("strap of %s: %d seams, %d cautions, want %d: %v", c.thick, len(l.Seams), n, c.want, problems)
		}
	}
}

func TestTypesAndPositions(t *testing.T) {
	for _, c := range []struct {
		e    frame.Edge
		want Type
	}{
		{frame.Edge{DihedralDeg: 90}, Fillet}, {frame.Edge{DihedralDeg: 45}, Fillet}, {frame.Edge{DihedralDeg: 135}, Fillet},
		{frame.Edge{DihedralDeg: 150}, Bevel}, {frame.Edge{DihedralDeg: 180, Flush: true}, SquareGroove}, {frame.Edge{DihedralDeg: 175}, SquareGroove},
		{frame.Edge{DihedralDeg: 270}, OutsideCorner}, {frame.Edge{DihedralDeg: 180, Flush: true, Flare: true}, FlareBevel},
	} {
		if got := TypeOf(c.e); got != c.want {
			t.Errorf("%+v: %s, want %s", c.e, got, c.want)
		}
	}
	x, up := space.Vec{X: 1}, space.Vec{Z: 1}
	for _, c := range []struct {
		dir, out space.Vec
		want     Position
	}{
		{x, up, Flat}, {x, space.Vec{Y: 0.7071, Z: 0.7071}, Horizontal}, {x, space.Vec{Y: 1}, Horizontal}, {x, space.Vec{Y: 0.7071, Z: -0.7071}, Overhead},
		{x, space.Vec{Z: -1}, Overhead}, {up, space.Vec{Y: 1}, Vertical}, {space.Vec{X: 0.7071, Z: 0.7071}, space.Vec{Y: 1}, Vertical},
		{space.Vec{X: 0.985, Z: 0.17}, up, Flat}, {x.Mul(-1), up, Flat},
	} {
		if got := PositionOf(c.dir, c.out.Unit(), up); got != c.want {
			t.Errorf("along %v, out %v: %s, want %s", c.dir, c.out, got, c.want)
		}
	}
}

func TestPatterns(t *testing.T) {
	for _, c := range []struct {
		text string
		want Pattern
	}{
		{"2-6", Pattern{50.8, 152.4}}, {"1-1/2-6", Pattern{38.1, 152.4}}, {"50mm-150mm", Pattern{50, 150}}, {"2in-6in", Pattern{50.8, 152.4}}, {"1/2-1", Pattern{12.7, 25.4}},
		{"2-6-1/2", Pattern{50.8, 165.1}},
	} {
		got, err := ParsePattern(c.text, measure.In)
		if err != nil || math.Abs(got.LengthMM-c.want.LengthMM) > 1e-9 || math.Abs(got.PitchMM-c.want.PitchMM) > 1e-9 {
			t.Errorf("%q: %+v (%v), want %+v", c.text, got, err, c.want)
		}
	}
	for _, s := range []string{"", "2", "6-2", "2-", "-6", "a-b", "0-6", "2-2"} {
		if p, err := ParsePattern(s, measure.In); err == nil {
			t.Errorf("%q is accepted as %+v", s, p)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		bead := rapid.Float64Range(5, 100).Draw(t, "bead")
		p := Pattern{bead, bead + rapid.Float64Range(1, 200).Draw(t, "more")}
		length := rapid.Float64Range(1, 3000).Draw(t, "length")
		n, weld := p.On(length)
		if weld > length+1e-9 || weld < math.Min(length, bead)-1e-9 || n < 1 {
			t.Fatalf("%d beads, %g of %g", n, weld, length)
		}
		if n > 1 && (length-bead)/float64(n-1) > p.PitchMM+1e-6 {
			t.Fatalf("%d beads on %g: centres %g apart, pitch %g", n, length, (length-bead)/float64(n-1), p.PitchMM)
		}
	})
}

func BenchmarkFind(b *testing.B) {
	j := frametest.Read(b, full)
	f, _ := frame.Build(j, frametest.Sections(b, j))
	for b.Loop() {
		Find(f, j, j.Welder)
	}
}
