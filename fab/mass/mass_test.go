package mass

import (
	"math"
	"testing"

	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/text"
	"pgregory.net/rapid"
)

const gate = `
units = "in"
[section.rail]
shape = "flat"
size = "2 x 1/4"
[[rectangle]]
name = "gate"
section = "rail"
length = "60in"
width = "40in"
plane = "xz"
corner = "butt-long"
[[plate]]
name = "tab"
size = "4 x 4 x 1/4"
at = ["gate.x1@30in"]
[[item]]
name = "hinge"
qty = 2
mass = "3lb"
at = ["gate.y1"]
[[item]]
name = "chain"
mass = "1lb"
[[piece]]
mark = "L"
section = "rail"
length = "10in"
qty = 3
`

func weighed(t testing.TB, toml string, extra ...Extra) (*frame.Frame, Sheet) {
	t.Helper()
	j := frametest.Read(t, toml)
	f, ps := frame.Build(j, frametest.Sections(t, j))
	pieces, qs := piece.Gather(f, j)
	for _, p := range append(ps, qs...) {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	return f, Weigh(f, j, pieces, extra)
}

func TestHandSums(t *testing.T) {
	f, s := weighed(t, gate, Extra{Kind: Weld, Name: "J1.1", KG: 0.1, At: space.Vec{X: 10}, Placed: true})
	rho := 7850 * math.Pow(.0254, 3)
	side := 2 * .25 * rho
	members := 0.0
	for i := range f.Members {
		members += f.LengthMM(i) / 25.4 * side
	}
	tab := 4 * 4 * .25 * rho
	lb := measure.PoundKG
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
			t.Errorf("%s: %.9g, by hand %.9g", what, got, want)
		}
	}
	near("steel", s.Steel.KG, members+tab)
	near("whole", s.Whole.KG, members+tab+7*lb+0.1)
	near("loose", s.Loose, 30*side)
	near("unplaced", s.Unplaced, lb)
	for _, p := range s.Figures("mass.") {
		if err := p.Check(); err != nil {
			t.Error(err)
		}
	}
	total := 0.0
	for _, l := range s.ByKind {
		total += l.KG
	}
	near("kinds", total, s.Whole.KG+s.Loose)
	for _, l := range s.BySection {
		if l.Name == "rail" {
			near("section", l.KG, members+30*side)
		}
	}
	size := s.Whole.Bounds.Hi.Sub(s.Whole.Bounds.Lo)
	if size.X < 60*25.4-1e-6 || size.Z < 40*25.4-1e-6 {
		t.Errorf("bounds %+v", s.Whole.Bounds)
	}
}

// TestRodAndPlate: inertia of single bodies against their formulas.
func TestRodAndPlate(t *testing.T) {
	_, s := weighed(t, `
units = "mm"
[section.bar]
shape = "flat"
size = "60 x 10"
[[member]]
name = "rod"
section = "bar"
from = [0, 0, 0]
to = [2000, 0, 0]
ends = ["square", "square"]
`)
	kg := 60 * 10 * 2000 * SteelKGPerMM3
	// A rectangular prism: m (a^2 + b^2)/12.
	in := s.Steel.Inertia
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"about its own axis", in.XX, kg * (60*60 + 10*10) / 12}, {"about y", in.YY, kg * (2000*2000 + 60*60) / 12}, {"about z", in.ZZ, kg * (2000*2000 + 10*10) / 12}} {
		if got, want := c.got, c.want; math.Abs(got-want) > 1e-9*math.Abs(want) { // rounding
			t.Errorf("%s: %.10g, worked out %.10g", "flat bar 60 x 10 x 2000, moment of inertia "+c.what+", kg mm2", got, want)
		}
	}
	if c := s.Steel.Centre; math.Abs(c.X-1000) > 1e-9 || math.Abs(c.Y) > 1e-9 || math.Abs(c.Z) > 1e-9 {
		t.Errorf("centre %+v", c)
	}
}

func TestShares(t *testing.T) {
	// Two points, 8 ft and 2 ft from the middle of mass: 2,000 and 8,000 lb of 10,000.
	kg := 10000 * measure.PoundKG
	sh, ok := Shares(kg, space.Vec{X: 8}, []space.Vec{{X: 0}, {X: 10}})
	if !ok {
		t.Fatal("two points in a line with the centre")
	}
	outside.Check(t, outside.Case{Field: "lift", Source: `sling maker, "Center of gravity and sling loading"`, What: "far point, lb", Got: sh[0].N / measure.PoundN, Want: 2000, Rel: 1e-9, Why: "rounding"})
	outside.Check(t, outside.Case{Field: "lift", Source: `sling maker, "Center of gravity and sling loading"`, What: "near point, lb", Got: sh[1].N / measure.PoundN, Want: 8000, Rel: 1e-9, Why: "rounding"})
	if _, ok := Shares(1, space.Vec{Y: 50}, []space.Vec{{X: 0}, {X: 10}}); ok {
		t.Error("a centre beside the line of two points was held")
	}
	if _, ok := Shares(1, space.Vec{}, nil); ok {
		t.Error("nothing held it")
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 7).Draw(t, "n")
		num := rapid.Float64Range(-1000, 1000)
		var pts []space.Vec
		for range n {
			pts = append(pts, space.Vec{X: num.Draw(t, "x"), Y: num.Draw(t, "y")})
		}
		balanced(t, pts, space.Vec{X: num.Draw(t, "cx"), Y: num.Draw(t, "cy")})
	})
}

// balanced: where the points hold the centre, the shares add up to the weight, and their middle is under it: to rounding,
// or, for points in a line or in one place, within the millimetre that Shares allows.
func balanced(t rapid.TB, pts []space.Vec, c space.Vec) {
	t.Helper()
	sh, ok := Shares(7, c, pts)
	if !ok {
		return
	}
	var f, mx, my, big float64
	for _, s := range sh {
		f += s.N
		mx += s.N * s.At.X
		my += s.N * s.At.Y
		big = math.Max(big, math.Abs(s.N))
	}
	w := 7 * measure.Gravity
	// Sums of terms of up to 1000 mm and big N, over differences of places that keep 10 digits at a micrometre's distance.
	slack := 1e-6 * big * 1000
	if breadth(pts) < 0.1 {
		slack += w // 1 mm
	}
	if math.Abs(f-w) > 1e-8*big || math.Hypot(mx-w*c.X, my-w*c.Y) > slack {
		t.Fatalf("shares %v do not balance %g at %v: off by %g N, %g and %g N mm", sh, w, c, f-w, mx-w*c.X, my-w*c.Y)
	}
}

// breadth is the least distance, mm, between two parallels to a side of the points that hold them all.
func breadth(pts []space.Vec) float64 {
	least := math.Inf(1)
	for i, p := range pts {
		for _, q := range pts[i+1:] {
			d := q.Sub(p)
			l := math.Hypot(d.X, d.Y)
			if l == 0 {
				continue
			}
			lo, hi := 0.0, 0.0
			for _, r := range pts {
				h := (d.X*(r.Y-p.Y) - d.Y*(r.X-p.X)) / l
				lo, hi = math.Min(lo, h), math.Max(hi, h)
			}
			least = math.Min(least, hi-lo)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// TestSharesNearALine keeps cases that the property found. The first is seed 6815185428153796471: the test was wrong to
// want balance to 1 N mm where the points lie in a line to a hundredth of a millimetre, with the centre up to 1 mm beside
// it. In the second, found when that was allowed for, Shares was wrong: it took the scatter across the line for a slope,
// and so took a centre 1.002 mm beside the line for one within a millimetre.
func TestSharesNearALine(t *testing.T) {
	balanced(t, []space.Vec{{X: 1, Y: 120.9375}, {X: 0.015625, Y: 0.5}, {X: 0.0078125, Y: -1}}, space.Vec{X: 1, Y: 1})
	line := []space.Vec{{X: 0.00390625, Y: 214.96875}, {X: 0.009765625, Y: 1}, {X: 0.001953125, Y: 1}}
	c := space.Vec{X: 1.0068359375, Y: 1}
	balanced(t, line, c)
	if _, ok := Shares(7, c, line); ok {
		t.Error("a centre 1.001 mm beside the line was held")
	}
	// Points a ten-thousandth of a millimetre apart are one: they carry no moment, and their shares stay those of the weight.
	near := []space.Vec{{X: 999.7}, {X: 999.7001}, {X: 999.7}, {X: 999.7, Y: 0.0001}}
	c = space.Vec{X: 1000.2, Y: 0.3}
	balanced(t, near, c)
	sh, ok := Shares(7, c, near)
	for _, s := range sh {
		if quarter := 7 * measure.Gravity / 4; !ok || math.Abs(s.N-quarter) > 1e-9*quarter {
			t.Errorf("held %v: a share of %g N, want a quarter, %g", ok, s.N, quarter)
		}
	}
}

// Paint on every member in proportion to its weight moves no centre, and turns the frame's inertia up in the same proportion.
func TestPaintByMember(t *testing.T) {
	f, bare := weighed(t, gate)
	var coat []Extra
	for i := range f.Members {
		coat = append(coat, Extra{Kind: Paint, Name: "primer", Member: f.Members[i].Name, KG: 0.02 * f.Members[i].MassKG()})
	}
	coat = append(coat, Extra{Kind: Paint, Name: "spilt", Member: "no such member", KG: 1})
	_, s := weighed(t, gate, coat...)
	members := 0.0
	for i := range f.Members {
		members += f.Members[i].MassKG()
	}
	if got := s.Whole.KG - bare.Whole.KG; math.Abs(got-0.02*members-1) > 1e-9 {
		t.Errorf("paint adds %g kg, want %g", got, 0.02*members+1)
	}
	if s.Unplaced-bare.Unplaced != 1 || s.Steel.KG != bare.Steel.KG {
		t.Errorf("unplaced %g more (want 1), steel %g, was %g", s.Unplaced-bare.Unplaced, s.Steel.KG, bare.Steel.KG)
	}
	only := func(s Sheet, k ...Kind) Body {
		return body(s.Parts, func(p Part) bool { return p.Placed && (p.Kind == k[0] || len(k) > 1 && p.Kind == k[1]) })
	}
	a, b := only(s, Member), only(s, Member, Paint)
	if d := a.Centre.Dist(b.Centre); d > 1e-9 {
		t.Errorf("the centre moved by %g mm", d)
	}
	if r := b.Inertia.XX / a.Inertia.XX; math.Abs(r-1.02) > 1e-9 {
		t.Errorf("inertia grew by %g, want 1.02", r)
	}
}
