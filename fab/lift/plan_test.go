package lift

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/mass"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/spot"
	"bench.example/soapstone/fab/text"
)

const rack = `
units = "in"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
[section.post]
shape = "square-tube"
size = "2 x 2 x .120"
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
at = [0, 0, 24]
[[crossbars]]
on = "lower"
section = "rail"
count = 3
stand = "flat"
set = "top"
[[legs]]
under = "lower"
section = "post"
length = "24in"
at = "corners"
`

func planned(t testing.TB, toml string, layout *seam.Layout) (*Answer, []text.Problem) {
	t.Helper()
	j := frametest.Read(t, toml)
	f, ps := frame.Build(j, frametest.Sections(t, j))
	pieces, qs := piece.Gather(f, j)
	for _, p := range append(ps, qs...) {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	s := mass.Weigh(f, j, pieces, nil)
	a, problems := Plan(Input{f, j, spot.NewNames(f, pieces, j.Units), &s, layout})
	for _, x := range a.Figures {
		if err := x.Check(); err != nil {
			t.Error(err)
		}
	}
	if _, err := json.Marshal(a.JSON()); err != nil {
		t.Error(err)
	}
	return a, problems
}

func TestRackByHand(t *testing.T) {
	a, ps := planned(t, rack+"[lift]\nby = \"hand\"\n", nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	h := a.Hand
	if h.Fewest != int(math.Ceil(a.MassKG/(51*measure.PoundKG))) || h.People != h.Fewest {
		t.Errorf("%d people for %.1f kg", h.Fewest, a.MassKG)
	}
	// Symmetric: level, each end carries half; tilted, the lower one more.
	if math.Abs(h.Ends[0].LowKG-a.MassKG/2) > 1e-6*a.MassKG {
		t.Errorf("level: %+v of %.2f", h.Ends[0], a.MassKG)
	}
	for i := 1; i < len(h.Ends); i++ {
		if h.Ends[i].LowKG <= h.Ends[i-1].LowKG || math.Abs(h.Ends[i].LowKG+h.Ends[i].HighKG-a.MassKG) > 1e-9 {
			t.Errorf("tilt %g: %+v", h.Ends[i].TiltDeg, h.Ends[i])
		}
	}
	// 8 + 48/2 in out is beyond 25 in: nobody lifts it alone.
	if h.Single == nil || h.Single.Possible {
		t.Errorf("one person: %+v", h.Single)
	}
	_, ps = planned(t, rack+"[lift]\nby = \"hand\"\npeople = 1\n", nil)
	if len(ps) != 1 || ps[0].Severity != text.Warning || !strings.Contains(ps[0].Message, "1 people") {
		t.Errorf("one person: %v", ps)
	}
}

func TestRackBySling(t *testing.T) {
	a, ps := planned(t, rack+"[lift]\nby = \"sling\"\n", nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	s := a.Sling
	if !s.Proposed || len(s.Picks) != 4 || !s.Hangs || !s.Under {
		t.Fatalf("%+v", s)
	}
	w := a.MassKG * measure.Gravity
	share := 0.0
	for _, p := range s.Picks {
		share += p.ShareN
		if math.Abs(p.AngleDeg-60) > 1e-6 || math.Abs(p.TensionN-w/2/math.Sin(math.Pi/3)) > 1e-6*w {
			t.Errorf("%+v", p)
		}
		hook := space.Vec{X: a.Centre.X, Y: a.Centre.Y, Z: p.At.Z + s.HookMM}
		if math.Abs(hook.Dist(p.At)-p.LegMM) > 1e-6 {
			t.Errorf("leg of %s is %g, the hook is %g away", p.Name, p.LegMM, hook.Dist(p.At))
		}
	}
	if math.Abs(share-w) > 1e-6*w {
		t.Errorf("shares %g of %g", share, w)
	}
	for _, c := range []struct{ tables, want string }{
		{"hook = \"6in\"", "none may run under 30"},
		{"picks = [\"lower.x1@0in\", \"lower.x1@12in\"]", "do not reach round"},
		{"picks = [\"lower.leg1@2in\", \"lower.leg2@2in\", \"lower.leg3@2in\", \"lower.leg4@2in\"]", "turn over"},
		{"picks = [\"upper.x1@2in\"]", "upper"},
	} {
		_, ps := planned(t, rack+"[lift]\nby = \"sling\"\n"+c.tables+"\n", nil)
		found := false
		for _, p := range ps {
			found = found || strings.Contains(p.Message, c.want)
		}
		if !found {
			t.Errorf("%s: %v, want %q", c.tables, ps, c.want)
		}
	}
}

func TestRackByJack(t *testing.T) {
	a, ps := planned(t, rack+"[lift]\nby = \"jack\"\nraise = \"6in\"\n", nil)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	k, w := a.Jack, a.MassKG*measure.Gravity
	if math.Abs(k.JackN-w/2) > 1e-3*w || math.Abs(k.JackN+k.StandsN-w) > 1e-9*w {
		t.Errorf("%+v of %g", k, w)
	}
	if math.Abs(k.TiltDeg-math.Asin(6./94)*180/math.Pi) > .05 || k.TipDeg < 45 || k.Tips || k.Slips {
		t.Errorf("%+v", k)
	}
	found := false
	for _, c := range a.Cautions {
		found = found || strings.Contains(c, "safety strap")
	}
	if !found {
		t.Error("no safety strap called for")
	}
	_, ps = planned(t, rack+"[lift]\nby = \"jack\"\nraise = \"40in\"\n", nil)
	if len(ps) == 0 {
		t.Error("raised by 40 in without a word")
	}
}

func TestTurnsAndAccess(t *testing.T) {
	layout := &seam.Layout{Stages: []seam.Stage{{Kind: seam.Bench, Name: "lower, flat", Group: "lower"}, {Kind: seam.Over, Name: "lower, turned over", Group: "lower", Turn: true}, {Kind: seam.Over, Name: "whole, turned over", Turn: true}}}
	a, ps := planned(t, rack+"[access]\ndoor = [\"32in\", \"80in\"]\ntrailer = [\"5ft\", \"6ft\"]\nlift = \"60lb\"\n", layout)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	if len(a.Turns) != 2 || a.Turns[0].MassKG >= a.Turns[1].MassKG || a.Turns[1].Hands < 2 || math.Abs(a.Turns[1].MassKG-a.MassKG) > 1e-9 {
		t.Errorf("%+v of %g", a.Turns, a.MassKG)
	}
	p := a.Access
	if *p.Door != true || *p.Trailer || *p.Lift || p.Parts < 2 || len(p.Splits) != p.Parts-1 {
		t.Errorf("door %v trailer %v lift %v, %+v", *p.Door, *p.Trailer, *p.Lift, p)
	}
	a, _ = planned(t, rack+"[access]\ndoor = [\"20in\", \"40in\"]\n", layout)
	if *a.Access.Door {
		t.Errorf("%+v", a.Access)
	}
}

// TestTurnOfARealLayout: legs that are set after the turn are not turned, each leg's share adds up to the weight, and the
// hands hold what the moments say.
func TestTurnOfARealLayout(t *testing.T) {
	j := frametest.Read(t, rack)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	layout, _ := seam.Find(f, j, nil)
	a, ps := planned(t, rack, &layout)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	legs := 0.0
	for i := range f.Members {
		if f.Members[i].Role == frame.Leg {
			legs += f.Members[i].MassKG()
		}
	}
	if legs == 0 || len(a.Turns) == 0 {
		t.Fatalf("%g kg of legs, %d turns", legs, len(a.Turns))
	}
	x := a.Turns[0]
	if math.Abs(x.MassKG+legs-a.MassKG) > 1e-9 {
		t.Errorf("%.3f kg are turned, %.3f with the %.3f of legs", x.MassKG, a.MassKG, legs)
	}
	if x.Hands < 2 || x.AboutN <= 0 || x.AboutN > x.MassKG*measure.Gravity/2+1e-9 || x.LongMM < 1000 || math.Abs(x.OffMM) > x.LongMM/2 {
		t.Errorf("%+v", x)
	}
	sum := 0.0
	for _, s := range a.Stands {
		sum += s.N
	}
	if len(a.Stands) != 4 || math.Abs(sum-a.MassKG*measure.Gravity) > 1e-9*sum {
		t.Errorf("%+v: %g N of %g", a.Stands, sum, a.MassKG*measure.Gravity)
	}
	for _, g := range a.Figures {
		if err := g.Check(); err != nil {
			t.Error(err)
		}
	}
	said := strings.Join(a.Cautions, " ")
	for _, want := range []string{"cribbing", "pad every edge", "nobody under"} {
		if !strings.Contains(said, want) {
			t.Errorf("nothing is said of %q", want)
		}
	}
}
