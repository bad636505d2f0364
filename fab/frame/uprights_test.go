package frame_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
)

const rack = `
title = "Kayak rack, north boathouse"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
[section.post]
shape = "square-tube"
size = "1-1/2 x 1-1/2 x 11ga"
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
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
count = 5
stand = "flat"
[[posts]]
from = "lower"
to = "upper"
section = "post"
at = "corners"
inset = "1/4"
[[legs]]
under = "lower"
section = "post"
surface = "slip"
at = "corners"
inset = "1/4"
pad = "foot"
[surface.slip]
chord = "60in"
rise = "3in"
centre = "24in"
top = "-9in"
slope = "1:40"
[[plate]]
name = "foot"
size = "4 x 4 x 1/4"
`

// TestRackFeet checks the feet of the built-in example by hand.
func TestRackFeet(t *testing.T) {
	f := sound(t, rack)
	if len(f.Feet) != 4 {
		t.Fatalf("%d feet", len(f.Feet))
	}
	// By hand, in inches. The slipway's radius is 60^2/(8*3) + 3/2 = 151.5. A leg's centre stands 1/4 + 3/4 = 1 from the
	// frame's outer faces, so 23 from the crown: it is sin A = 23/151.5 off, A = 8.7321 deg, and lies
	// 151.5 - sqrt(151.5^2 - 23^2) = 1.7561 under the crown. Along x the ground rises 1/40 for one: 1.4321 deg.
	across := math.Asin(23/151.5) * 180 / math.Pi
	if got := f.Feet[1].AcrossDeg; math.Abs(got+8.7321) > 0.00005 { // worked to four decimals
		t.Errorf("the ground falls %v degrees across, by hand -8.7321", got)
	}
	for i, foot := range f.Feet {
		name := f.Members[foot.Member].Name
		left := i%2 == 0 // low y
		want := -across
		if left {
			want = across
		}
		if math.Abs(foot.AcrossDeg-want) > 1e-9 || math.Abs(foot.AlongDeg-math.Atan(1.0/40)*180/math.Pi) > 1e-9 {
			t.Errorf("%s: %v across, %v along", name, foot.AcrossDeg, foot.AlongDeg)
		}
		// The slope of the cut is the root of the squares: tan = sqrt((23/149.744)^2 + (1/40)^2).
		run := math.Sqrt(151.5*151.5 - 23*23)
		if want := math.Hypot(23/run, 1.0/40); math.Abs(foot.RiseRun-want) > 1e-12 {
			t.Errorf("%s: rise:run %v, not %v", name, foot.RiseRun, want)
		}
		// Ground under the leg's centre line: -9 - 1.7561 + x/40 with x = 1 or 95; the pad of 1/4 stands square to it.
		x := 1.0
		if i >= 2 {
			x = 95
		}
		drop := 151.5 - run
		ground := -9 - drop + x/40
		centre := -(ground + 0.25*math.Sqrt(1+foot.RiseRun*foot.RiseRun)) // length along the centre line, from z = 0
		// The tip lies lower by what the plane falls over half the section both ways.
		tip := centre + 0.75*(23/run+1.0/40)
		if math.Abs(foot.LengthMM/25.4-tip) > 1e-9 {
			t.Errorf("%s: %v in long, by hand %v", name, foot.LengthMM/25.4, tip)
		}
	}
	for i, want := range []string{"lower.leg1", "lower.leg2", "lower.leg3", "lower.leg4"} {
		if got := f.Members[f.Feet[i].Member].Name; got != want {
			t.Errorf("foot %d is %s's", i, got)
		}
	}
	if n := len(f.Plates); n != 4 {
		t.Errorf("%d pads", n)
	}
	for _, p := range []string{"lower.post1", "lower.post4"} {
		if got := f.Length(f.Index(p)); got != inches(24) {
			t.Errorf("%s is %v long", p, got)
		}
	}
	// 8 corners, 10 bar ends, 4 posts on 2 frames at a corner of 2 sides each, 4 legs the same.
	if n := len(f.Joints); n != 8+10+16+8 {
		for _, j := range f.Joints {
			t.Log(j.ID, j.Kind, f.Members[j.Members[0]].Name, f.Members[j.Members[1]].Name)
		}
		t.Errorf("%d joints", n)
	}
}

func TestPostsThrough(t *testing.T) {
	f := sound(t, rail+`
[section.post]
shape = "square-tube"
size = "2 x 2 x 11ga"
[[rectangle]]
name = "low"
section = "rail"
length = "60in"
width = "30in"
corner = "posts"
[[rectangle]]
name = "mid"
section = "rail"
length = "60in"
width = "30in"
corner = "posts"
above = "low"
clear = "12in"
[[rectangle]]
name = "high"
section = "rail"
length = "60in"
width = "30in"
corner = "posts"
above = "mid"
clear = "12in"
[[posts]]
from = "low"
to = "high"
section = "post"
through = true
`)
	for name, want := range map[string]float64{"low.post1": 12*2 + 3*2.5, "mid.x1": 56, "high.y2": 26} {
		if got := f.Length(f.Index(name)); got != inches(want) {
			t.Errorf("%s is %v long, not %v in", name, got, want)
		}
	}
	if n := len(f.Joints); n != 24 {
		t.Errorf("%d joints", n)
	}
}

func TestUprightProblems(t *testing.T) {
	_, problems := build(t, strings.Replace(rack, `inset = "1/4"`, `inset = "0"`, 1))
	if len(problems) != 1 || problems[0].Code != frame.CodeRadius || !strings.Contains(problems[0].Message, `inset = "1/4"`) {
		t.Error("flush posts stand on the rails' radius", problems)
	}
	_, problems = build(t, strings.Replace(rack, `top = "-9in"`, `top = "2in"`, 1))
	if len(problems) != 1 || problems[0].Code != frame.CodeNoRoom {
		t.Error("the ground is over the frame", problems)
	}
}

// TestPostsOnPipe: posts between two frames of pipe are saddled onto the sides that they stand over.
func TestPostsOnPipe(t *testing.T) {
	toml := `
[section.pipe]
shape = "pipe"
size = "1-1/4 sch40"
[[rectangle]]
name = "low"
section = "pipe"
length = 60
width = 30
[[rectangle]]
name = "high"
section = "pipe"
length = 60
width = 30
above = "low"
clear = 20
[[posts]]
from = "low"
to = "high"
section = "pipe"
at = %s
`
	f := sound(t, fmt.Sprintf(toml, `[[20, 0.83], [40, 29.17]]`))
	// Equal pipes: each saddle is as deep as the radius, from crown to flank, so the post is the clear height and two radii.
	if got := f.LengthMM(f.Index("low.post1")) / 25.4; math.Abs(got-21.66) > 1e-6 {
		t.Error(got)
	}
	if len(f.Joints) != 12 {
		t.Errorf("%d joints", len(f.Joints))
	}
	_, problems := build(t, fmt.Sprintf(toml, `"corners"`))
	if len(problems) != 0 { // saddled to both, see TestPostsOnRoundCorners
		t.Error(problems)
	}
	_, problems = build(t, fmt.Sprintf(toml, `[[20, 5]]`))
	if len(problems) < 2 || problems[0].Code != frame.CodeShape {
		t.Error(problems)
	}
}

// TestScribed: with `over` the last leg is left long, to be scribed when the others stand; its own length is as drawn.
func TestScribed(t *testing.T) {
	f := sound(t, strings.Replace(rack, "pad = \"foot\"", "pad = \"foot\"\nover = \"1in\"", 1))
	for i, foot := range f.Feet {
		m := &f.Members[foot.Member]
		if want := map[bool]float64{true: 25.4}[i == 3]; m.OverMM != want || (m.CutFit == "") {
			t.Errorf("%s: over %v, %q", m.Name, m.OverMM, m.CutFit)
		}
	}
}

// TestLegsUnderPosts: a leg that stands under a through post of another size is no mitre, and needs no warning.
func TestLegsUnderPosts(t *testing.T) {
	f := sound(t, `
[section.rail]
shape = "square-tube"
size = "1 x 1 x 16ga"
[section.post]
shape = "square-tube"
size = "2 x 2 x 11ga"
[section.leg]
shape = "square-tube"
size = "1-1/2 x 1-1/2 x 11ga"
[[rectangle]]
name = "low"
section = "rail"
length = 40
width = 30
corner = "posts"
[[rectangle]]
name = "high"
section = "rail"
length = 40
width = 30
corner = "posts"
above = "low"
clear = 20
[[posts]]
from = "low"
to = "high"
section = "post"
through = true
[[legs]]
under = "low"
section = "leg"
length = 10
`)
	n := 0
	for _, j := range f.Joints {
		if f.Members[j.Members[1]].Role == frame.Leg && f.Members[j.Members[0]].Role == frame.Post && j.Kind == frame.Corner {
			n++
		}
	}
	if n != 4 {
		t.Errorf("%d legs stand on posts", n)
	}
}

// TestThroughPostsBetweenCorners: both ways out that the refusal of through posts between the corners names can be built.
func TestThroughPostsBetweenCorners(t *testing.T) {
	upper := "[[rectangle]]\nname = \"g\"\nsection = \"rail\"\nlength = \"60in\"\nwidth = \"30in\"\nabove = \"f\"\nclear = \"20in\"\n"
	posts := "[[posts]]\nfrom = \"f\"\nto = \"g\"\nsection = \"post\"\n"
	const post = "[section.post]\nshape = \"square-tube\"\nsize = \"1-1/2 x 11ga\"\n"
	beside := sound(t, base60+post+upper+posts+"per_side = 3\nthrough = true\ninset = \"1-1/2\"")
	if n := len(beside.Members); n != 14 || beside.Length(beside.Index("f.post3")) != inches(25) {
		t.Errorf("%d members", n)
	}
	on := strings.Replace(base60, "width = \"30in\"", "width = \"30in\"\ncorner = \"posts\"", 1)
	split := sound(t, on+post+upper+"corner = \"posts\"\n"+posts+"at = \"corners\"\nthrough = true\n"+posts+"at = [[\"30in\", \"3/4\"], [\"30in\", \"29-1/4\"]]")
	if n := len(split.Members); n != 14 || split.Length(split.Index("f.post5")) != inches(20) || split.Length(split.Index("f.x1")) != inches(57) {
		t.Errorf("%d members, %v", n, split.Length(split.Index("f.post5")))
	}
}
