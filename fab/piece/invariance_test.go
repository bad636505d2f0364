package piece_test

import (
	"fmt"
	"math"
	"regexp"
	"sort"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
)

// braced draws a rack with legs on a surface that falls both ways and a brace, so that square, mitred, pointed and
// compound ends all occur; and its job.
func braced(t testing.TB, r *rapid.T) (*frame.Frame, *job.Job) {
	n := func(name string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(r, name) }
	section := rapid.SampledFrom([]string{"2-1/2 x 1-1/2 x 11ga", "2 x 1 x 14ga", "3 x 2 x 11ga"}).Draw(r, "section")
	j := frametest.Read(t, fmt.Sprintf(`
[section.rail]
shape = "rect-tube"
size = %q
[section.pipe]
shape = "round-tube"
size = "1-1/2 x 11ga"
[[rectangle]]
name = "a"
section = "rail"
length = %d
width = %d
stand = %q
[[crossbars]]
on = "a"
section = "rail"
count = %d
stand = "flat"
[[legs]]
under = "a"
section = "rail"
surface = "ground"
[surface.ground]
chord = 200
rise = %d
centre = 20
top = -20
slope = "1:%d"
[[member]]
name = "brace"
section = "rail"
from = [%d, 20, %d]
to = [%d, 60, %d]
roll = %d
ends = ["level", "free"]
[[member]]
name = "h1"
section = "pipe"
from = [0, 100, 0]
to = [60, 100, 20]
ends = ["free", "free"]
[[member]]
name = "h2"
section = "pipe"
from = [10, 140, 0]
to = [60, 140, 0]
ends = ["free", "free"]
[[member]]
name = "link"
section = "pipe"
from = "h1@20in"
to = "h2@15in"
`, section, n("length", 30, 90), n("width", 25, 60), rapid.SampledFrom([]string{"edge", "flat"}).Draw(r, "stand"), n("count", 1, 4), n("rise", 1, 30), n("slope", 5, 60),
		n("x", 0, 40), n("z", 40, 60), n("x2", 50, 80), n("z2", 70, 100), n("roll", -90, 90)))
	f, _ := frame.Build(j, frametest.Sections(t, j))
	return f, j
}

// whole writes everything of a cut list that the saw and the bench see. The vent is on the lowest side, so it follows the
// frame's position and is left out.
func whole(ps []piece.Piece) string {
	var b strings.Builder
	for i := range ps {
		p := &ps[i]
		fmt.Fprintf(&b, "%s %v\n", line(p), p.Members)
		for _, m := range p.MarksOut {
			if !m.Vent {
				fmt.Fprintf(&b, "  %.3f %.3f %s %s %s\n", m.AtMM, m.ToMM, m.Face, m.Side, m.What)
			}
		}
	}
	return b.String()
}

// TestMovedFrame: a frame that is moved and turned in space is cut from the same pieces.
func TestMovedFrame(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f, j := braced(t, r)
		before, _ := piece.Gather(f, j)
		axis := space.Vec{X: rapid.Float64Range(-1, 1).Draw(r, "ax"), Y: rapid.Float64Range(-1, 1).Draw(r, "ay"), Z: rapid.Float64Range(0.1, 1).Draw(r, "az")}.Unit()
		turn := rapid.Float64Range(-180, 180).Draw(r, "turn")
		shift := space.Vec{X: rapid.Float64Range(-5000, 5000).Draw(r, "sx"), Y: 300, Z: -700}
		dir := func(v space.Vec) space.Vec { return v.Rotate(axis, turn) }
		at := func(v space.Vec) space.Vec { return v.Rotate(axis, turn).Add(shift) }
		after, _ := piece.Gather(frametest.Move(f, at, dir, false), j)
		if a, b := whole(before), whole(after); a != b {
			r.Fatalf("before\n%s\nturned\n%s", a, b)
		}
		for i := range before {
			// Lengths round to the nanometre; a turn may move them by the noise of float64 across a rounding edge.
			// Where a branch is as wide as its header the saddle's tip is the end of a root: float64's noise of 1e-12 mm in places
			// some metres off is 4e-11 mm2 under the root, 6e-6 mm of length, at each of two ends, before and after.
			tol := measure.Length(1)
			if before[i].Ends[0].Kind == frame.Saddled || before[i].Ends[1].Kind == frame.Saddled {
				tol = 50
			}
			if d := before[i].Length - after[i].Length; d > tol || d < -tol {
				r.Fatalf("%s: %d and %d nm", before[i].Mark, before[i].Length, after[i].Length)
			}
		}
	})
}

var hand = regexp.MustCompile(`-[LR]\b| (left|right)|bevel\d -?[\d.]+`)

// TestMirrorFrame: the mirror image of a frame of tube is cut under the same marks; what has a hand takes the other one.
func TestMirrorFrame(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f, j := braced(t, r)
		before, _ := piece.Gather(f, j)
		flip := func(v space.Vec) space.Vec { return space.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
		after, _ := piece.Gather(frametest.Move(f, flip, flip, true), j)
		plain := func(ps []piece.Piece) string {
			var ls []string
			for i := range ps {
				ls = append(ls, hand.ReplaceAllString(line(&ps[i]), ""))
			}
			sort.Strings(ls)
			return strings.Join(ls, "\n")
		}
		if a, b := plain(before), plain(after); a != b {
			r.Fatalf("before\n%s\nmirrored\n%s", a, b)
		}
		for i := range before {
			p := &before[i]
			for k := range after {
				q := &after[k]
				if q.Members[0] != p.Members[0] {
					continue
				}
				compound := p.Ends[0].BevelDeg != 0 || p.Ends[1].BevelDeg != 0
				if p.Hand == "" && q.Mark != p.Mark {
					r.Fatalf("%s has no hand, yet its mirror image is %s", p.Mark, q.Mark)
				}
				if p.Hand != "" && p.Hand == q.Hand && compound {
					r.Fatalf("%s keeps its hand in the mirror", p.Mark)
				}
				if p.Hand != "" && !compound && p.Ends[0].Across == p.Ends[1].Across && p.Ends[0].Kind != frame.Saddled {
					r.Fatalf("tube %s has a hand: %s", p.Mark, line(p))
				}
			}
		}
	})
}

// hopper makes the sides of a regular hopper, each leaning by tilt from plumb.
func hopper(sides int, tilt float64) string {
	toml := "[section.side]\nshape = \"flat\"\nsize = \"8 x 1/4\"\n"
	at := func(i int) string {
		sin, cos := space.SinCosDeg(360 * float64(i) / float64(sides))
		return fmt.Sprintf("[%.9f, %.9f, 0]", 60*cos, 60*sin)
	}
	for i := range sides {
		toml += fmt.Sprintf("[[member]]\nname = \"s%d\"\nsection = \"side\"\nfrom = %s\nto = %s\nroll = %g\n", i, at(i), at(i+1), tilt)
	}
	return toml
}

// TestHopper checks the compound cuts that the whole way from [[member]]s to pieces gives: of square hoppers by the
// formulas tan(mitre) = sin(tilt), sin(bevel) = cos(tilt) sin(45), worked to three decimals, and of crown moulding, which
// is a hopper upside down, against published settings.
func TestHopper(t *testing.T) {
	end := func(sides int, tilt float64) piece.End {
		ps := gather(t, hopper(sides, tilt))
		if len(ps) != 1 || ps[0].Qty != sides {
			t.Fatal(list(ps))
		}
		for e := range ps[0].Ends {
			x := ps[0].Ends[e]
			if math.Abs(math.Abs(x.MiterDeg)-math.Abs(ps[0].Ends[0].MiterDeg)) > 1e-6 || math.Abs(math.Abs(x.BevelDeg)-math.Abs(ps[0].Ends[0].BevelDeg)) > 1e-6 || x.Across != "depth" {
				t.Errorf("tilt %g, end %d: %v", tilt, e, x)
			}
			// The same plane cut by a swing alone: cos(swing) = cos(mitre) cos(bevel).
			if want := math.Acos(math.Cos(x.MiterDeg*math.Pi/180)*math.Cos(x.BevelDeg*math.Pi/180)) * 180 / math.Pi; math.Abs(x.SwingDeg-want) > 1e-6 {
				t.Errorf("tilt %g: swing %v, not %v", tilt, x.SwingDeg, want)
			}
		}
		return ps[0].Ends[0]
	}
	for _, c := range []struct{ tilt, miter, bevel float64 }{{5, 4.981, 44.782}, {10, 9.851, 44.136}, {15, 14.511, 43.080}, {20, 18.882, 41.641}, {30, 26.565, 37.761}, {45, 35.264, 30.000}} {
		if x := end(4, c.tilt); math.Abs(math.Abs(x.MiterDeg)-c.miter) > 0.0005 || math.Abs(math.Abs(x.BevelDeg)-c.bevel) > 0.0005 {
			t.Errorf("tilt %g: %v", c.tilt, x)
		}
	}
	outside.Check(t, outside.Case{Field: "geometry", Source: "crown molding reference pages and the bevel stop of mitre saws, 38/52 crown: 33.9", What: "four members leaning 38 degrees from plumb: bevel of their ends",
		Got: math.Abs(end(4, 38).BevelDeg), Want: 33.9, Abs: 0.05, Why: "the digits that the source prints"})
	outside.Check(t, outside.Case{Field: "geometry", Source: `"Crown molding: formulas and example calculations" page (spring 38, wall 135)`, What: "eight members leaning 38 degrees from plumb: mitre of their ends",
		Got: math.Abs(end(8, 38).MiterDeg), Want: 14.30638, Abs: 2e-5, Why: "the digits that the source prints"})
}

// TestPitched: rafters at 4:12 meet plumb at the ridge and stand level on the plates.
func TestPitched(t *testing.T) {
	ps := gather(t, rail+`
[[member]]
name = "left"
section = "rail"
from = [0, 0, 0]
to = [72, 0, 24]
ends = ["level", "auto"]
[[member]]
name = "right"
section = "rail"
from = [144, 0, 0]
to = [72, 0, 24]
ends = ["level", "auto"]
`)
	pitch := math.Atan(4.0/12) * 180 / math.Pi // 18.43 deg
	if len(ps) != 1 || ps[0].Qty != 2 {
		t.Fatal(list(ps))
	}
	a, b := math.Abs(ps[0].Ends[0].MiterDeg), math.Abs(ps[0].Ends[1].MiterDeg)
	if math.Abs(max(a, b)-(90-pitch)) > 1e-6 || math.Abs(min(a, b)-pitch) > 1e-6 || ps[0].Ends[0].Across != "depth" {
		t.Error(line(&ps[0]))
	}
	// Length by hand: along the slope 72*1.0541; half the depth times tan of each cut beyond the centre line at the tips.
	want := 72*math.Hypot(1, 1.0/3) + 1.25*(math.Tan(pitch*math.Pi/180)+math.Tan((90-pitch)*math.Pi/180))
	if math.Abs(ps[0].Length.Inches()-want) > 1e-6 {
		t.Errorf("%v, by hand %v", ps[0].Length.Inches(), want)
	}
}
