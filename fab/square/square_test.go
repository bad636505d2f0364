package square_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/square"
)

const rack = `
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
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
[[posts]]
from = "lower"
to = "upper"
section = "rail"
inset = "1/4"
`

func TestTargets(t *testing.T) {
	j := frametest.Read(t, rack)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	ts := square.Targets(f)
	if len(ts) != 2 || math.Abs(ts[0].DiagonalMM/25.4-math.Sqrt(96*96+48*48)) > 1e-9 {
		t.Error(ts)
	}
	b := square.Bodies(f)
	// By hand: 96 x 48 x (24 + 2*2.5) high.
	if want := math.Sqrt(96*96 + 48*48 + 29*29); len(b) != 1 || math.Abs(b[0].DiagonalMM[3]/25.4-want) > 1e-9 {
		t.Error(b, want)
	}
	steps := square.Steps(f, measure.Sixteenths)
	if s := steps[4]; !strings.Contains(s.Do, `107-5/16"+`) || !strings.Contains(s.Do, "half the difference") {
		t.Error(s)
	}
	if last := steps[len(steps)-1]; !strings.Contains(last.Do, "111-3/16\"") {
		t.Error(last)
	}
}

// TestRack: any frame racked by a known slide is told that slide, and pulling the longer diagonal to its target squares it.
func TestRack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l, w := rapid.Float64Range(100, 6000).Draw(r, "l"), rapid.Float64Range(100, 6000).Draw(r, "w")
		long, short := max(l, w), min(l, w)
		deg := rapid.Float64Range(-20, 20).Draw(r, "lean")
		s := short * math.Sin(deg*math.Pi/180)
		h := short * math.Cos(deg*math.Pi/180)
		d1, d2 := math.Hypot(long+s, h), math.Hypot(long-s, h)
		k, err := square.RackOf(l, w, d1, d2)
		if err != nil {
			r.Fatal(err)
		}
		// Diagonals of some metres are good to 1e-12 of their squares; their difference divided by the long side to 1e-8 mm.
		if math.Abs(k.SkewMM-s) > 1e-7 || math.Abs(k.SkewDeg-deg) > 1e-6 || math.Abs(k.TargetMM-k.DiagonalMM) > 1e-7 {
			r.Fatalf("%+v for a slide of %v, %v deg", k, s, deg)
		}
	})
}

func TestCheck(t *testing.T) {
	x := square.Target{Name: "lower", LengthMM: 48 * 25.4, WidthMM: 36 * 25.4, DiagonalMM: 60 * 25.4}
	v, err := x.Check(square.Measured{D1: 60.1997 * 25.4, D2: 59.7997 * 25.4}, square.Tolerance{Class: "A"}, measure.Sixteenths)
	if err != nil || v.Within || v.Longer != 1 || len(v.Notes) != 0 || math.Abs(v.LimitMM-4.5*0.9144) > 1e-9 {
		t.Error(v, err)
	}
	v, _ = x.Check(square.Measured{D1: 60 * 25.4, D2: 60 * 25.4, Sides: [4]float64{1219.2, 1215, 914.4, 914.4}}, square.Tolerance{DiffMM: 1}, measure.Sixteenths)
	if !v.Within || len(v.Notes) != 1 {
		t.Error("sides that differ", v)
	}
	if _, err := x.Check(square.Measured{D1: 1, D2: 1}, square.Tolerance{Class: "B"}, measure.Sixteenths); err == nil {
		t.Error("impossible diagonals")
	}
	if _, err := x.Check(square.Measured{D1: 1524, D2: 1524}, square.Tolerance{Class: "E"}, measure.Sixteenths); err == nil {
		t.Error("no class E for angles")
	}
}

// TestISO13920 checks rows of the tables at their edges.
func TestISO13920(t *testing.T) {
	src := "ISO 13920:1996 Table "
	for _, c := range []struct {
		class string
		mm    float64
		want  float64
	}{{"A", 20, 1}, {"B", 100, 2}, {"C", 400, 4}, {"C", 401, 6}, {"D", 1000, 9}, {"B", 1500, 4}, {"A", 3000, 4}, {"D", 21000, 40}} {
		got, _ := square.LengthTolerance(c.class, c.mm)
		outside.Check(t, outside.Case{Field: "geometry", Source: src + "1", What: fmt.Sprintf("class %s, %g mm", c.class, c.mm), Got: got, Want: c.want})
	}
	for _, c := range []struct {
		class        string
		mm           float64
		minutes, mm1 float64
	}{{"A", 400, 20, 6}, {"A", 401, 15, 4.5}, {"B", 1000, 30, 9}, {"B", 1001, 20, 6}, {"C", 300, 60, 18}, {"C", 700, 45, 13}, {"D", 300, 90, 26}, {"D", 2000, 60, 18}} {
		deg, perM, _ := square.AngleTolerance(c.class, c.mm)
		outside.Check(t, outside.Case{Field: "geometry", Source: src + "2", What: fmt.Sprintf("class %s, %g mm, minutes", c.class, c.mm), Got: deg * 60, Want: c.minutes})
		outside.Check(t, outside.Case{Field: "geometry", Source: src + "2", What: fmt.Sprintf("class %s, %g mm, mm a metre", c.class, c.mm), Got: perM, Want: c.mm1})
	}
}

func ExampleRackOf() {
	r, _ := square.RackOf(48, 36, 60.1997, 59.7997)
	fmt.Printf("slid by %.4f, both diagonals should measure %.4f\n", r.SkewMM, r.TargetMM)
	// Output: slid by 0.2500, both diagonals should measure 60.0000
}
