package bolt

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/hold"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
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
[[legs]]
under = "lower"
section = "post"
length = "24in"
at = "corners"
[[load]]
on = ["lower.x1", "lower.x2"]
load = "40plf"
case = "wind"
dir = "+y"
[[support]]
at = "lower legs"
[[combination]]
name = "wind"
cases = {wind = 1}
`

const feet = `
[[bolts]]
at = "lower legs"
each = 2
size = "3/8-16"
grade = 5
stack = ["1/4 tab", "1/4 pad", "1/8 shell"]
edge = "3/4"
price = 0.45
box = 25
box_price = 7
nut_price = 0.1
washer_price = 0.05
`

func planned(t testing.TB, toml string) ([]Set, *hold.Answer, []text.Problem) {
	t.Helper()
	j := frametest.Read(t, toml)
	f, ps := frame.Build(j, frametest.Sections(t, j))
	pieces, qs := piece.Gather(f, j)
	m, rs := hold.FromFrame(f, j, pieces)
	for _, p := range append(append(ps, qs...), rs...) {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	a, err := hold.Analyse(m)
	if err != nil {
		t.Fatal(err)
	}
	sets, problems := Plan(Input{f, j, spot.NewNames(f, pieces, j.Units), a})
	for i := range sets {
		for _, x := range sets[i].Figures {
			if err := x.Check(); err != nil {
				t.Error(err)
			}
		}
	}
	if _, err := json.Marshal(Hardware(sets)); err != nil {
		t.Error(err)
	}
	return sets, a, problems
}

func TestFeetBolts(t *testing.T) {
	sets, a, ps := planned(t, rack+feet)
	if len(ps) > 0 || len(sets) != 1 {
		t.Fatal(ps)
	}
	s := sets[0]
	if len(s.Places) != 4 || s.Qty != 8 {
		t.Fatalf("%d places, %d bolts", len(s.Places), s.Qty)
	}
	if want := (.25 + .25 + .125 + 2*.080 + .337 + 2./16) * 25.4; math.Abs(s.Bolt.Need.Value-want) > 1e-9 || s.Bolt.StockMM != 1.25*25.4 {
		t.Errorf("needs %.3f (by hand %.3f), bought %.2f", s.Bolt.Need.Value, want, s.Bolt.StockMM)
	}
	// Side load: each foot's reactions, split over two bolts; the windward feet lift.
	shear, lifted := 0.0, 0
	for _, p := range s.Places {
		shear += 2 * p.Load.ShearN
		if p.Load.TensionN > 0 {
			lifted++
		}
		if p.Case != "wind" {
			t.Errorf("%+v", p)
		}
	}
	side := 0.0
	for _, r := range a.Cases[0].Reactions {
		side += math.Hypot(r.Force[0], r.Force[1])
	}
	if math.Abs(shear-side) > 1e-6*side || lifted != 2 {
		t.Errorf("shear %g of %g, %d feet lift", shear, side, lifted)
	}
	if s.Strength.Use.Value <= 0 || s.Strength.Use.Value > 1 {
		t.Errorf("use %g", s.Strength.Use.Value)
	}
	// 8 bolts: 3.60 singly; a box of 25 costs 7.
	for _, b := range s.Buy {
		switch b.What {
		case "bolt":
			if b.Price.Float() != 3.6 || b.Boxes != 0 || b.Single != 8 {
				t.Errorf("%+v", b)
			}
		case "flat washer":
			if b.Qty != 16 || b.Name != "3/8 SAE flat washer" || b.Price.Float() != .8 {
				t.Errorf("%+v", b)
			}
		case "nut":
			if b.Qty != 8 {
				t.Errorf("%+v", b)
			}
		}
	}
	sets, _, _ = planned(t, rack+strings.Replace(feet, "each = 2", "each = 7", 1))
	if b := sets[0].Buy[0]; b.Qty != 28 || b.Boxes != 1 || b.Single != 3 || math.Abs(b.Price.Float()-8.35) > 1e-9 || math.Abs(b.Loose.Float()-12.6) > 1e-9 {
		t.Errorf("%+v", b)
	}
}

func TestBoltProblems(t *testing.T) {
	for _, c := range []struct{ old, with, want string }{
		{`size = "3/8-16"`, `size = "11/32-16"`, "no such bolt"},
		{`grade = 5`, `grade = "8.8"`, "which comes in"},
		{`edge = "3/4"`, `edge = "3/8"`, "too near"},
		{`at = "lower legs"`, `at = "upper legs"`, "upper legs"},
		{`"1/8 shell"`, `"30in block"`, "threaded rod"},
	} {
		_, _, ps := planned(t, rack+strings.Replace(feet, c.old, c.with, 1))
		found := false
		for _, p := range ps {
			found = found || p.Severity == text.Error && strings.Contains(p.Message, c.want) && p.Line > 0
		}
		if !found {
			t.Errorf("%s: %v, want %q", c.with, ps, c.want)
		}
	}
	sets, _, _ := planned(t, rack+feet+"into = \"concrete\"\n")
	found := false
	for _, c := range sets[0].Cautions {
		found = found || strings.Contains(c, "maker's chart")
	}
	if !found {
		t.Error("anchors into concrete without the caution")
	}
}

func TestEdgesAndBearing(t *testing.T) {
	for size, want := range map[string]float64{"1/2": .75, "3/4": 1, "7/8": 1.125, "1": 1.25, "1-1/4": 1.625} {
		got, _ := mustSize(t, size).MinEdgeMM()
		outside.Check(t, outside.Case{Field: "hardware", Source: "ANSI/AISC 360-16, Table J3.4, p. 16.1-131", What: size + " least edge distance, in", Got: got / inch, Want: want, Abs: 1e-9, Why: "rounding"})
	}
	for size, want := range map[string]float64{"M16": 22, "M22": 28, "M27": 34, "M30": 38} {
		got, _ := mustSize(t, size).MinEdgeMM()
		outside.Check(t, outside.Case{Field: "hardware", Source: "ANSI/AISC 360-16, Table J3.4M", What: size + " least edge distance, mm", Got: got, Want: want})
	}
	s := mustSize(t, "1/2-13")
	g, err := ParseGrade("5", s)
	if err != nil {
		t.Fatal(err)
	}
	x := s.Strength(g, Load{}, .25*inch, .75*inch, .5625*inch, 58*6.894757293168, "t.")
	if got, want := 2*x.Bearing.Value/1000/lbf, 8.156; math.Abs(got-want) > .01 { // three decimals
		t.Errorf("%s: %.10g, worked out %.10g", "tear-out, kip nominal", got, want)
	}
}

// TestAnchorsGiveTheirPlaces: with holes in the pads each anchor has its place, and the loads go out with them.
func TestAnchorsGiveTheirPlaces(t *testing.T) {
	const pad = "[[plate]]\nname = \"foot\"\nsize = \"4 x 4 x 1/4\"\nholes = [ {at = [1, 1], size = \"7/16\"}, {at = [3, 3], size = \"7/16\"} ]\n"
	toml := strings.Replace(rack, "length = \"24in\"\nat", "length = \"24in\"\npad = \"foot\"\nat", 1) + pad +
		"[[bolts]]\nat = \"lower legs\"\neach = 2\nsize = \"3/8-16\"\nstack = [\"1/4\"]\ninto = \"concrete\"\n"
	sets, _, ps := planned(t, toml)
	if len(ps) > 0 || len(sets) != 1 || len(sets[0].Places) != 4 {
		t.Fatalf("%v, %+v", ps, sets)
	}
	for i := range sets[0].Places {
		p := &sets[0].Places[i]
		if len(p.Holes) != 2 || math.Abs(p.Apart()-math.Hypot(50.8, 50.8)) > 1e-6 || math.Abs(p.EdgeMM-25.4) > 1e-6 {
			t.Errorf("%s: %v, %g mm apart, %g mm to the edge", p.Name, p.Holes, p.Apart(), p.EdgeMM)
		}
		mid := p.Holes[0].Lerp(p.Holes[1], 0.5)
		if math.Hypot(mid.X-p.At.X, mid.Y-p.At.Y) > 1e-6 { // under the middle of its leg
			t.Errorf("%s at %v, its holes about %v", p.Name, p.At, mid)
		}
		if w := p.Words(measure.Sixteenths); !strings.Contains(w, "each pulled with "+measure.Sixteenths.Force(p.Load.TensionN)+",") || !strings.Contains(w, "apart") {
			t.Error(w)
		}
	}
	if c := strings.Join(sets[0].Cautions, " "); !strings.Contains(c, "maker's chart and licensed practice") {
		t.Errorf("nothing defers the anchor's choice: %s", c)
	}
	_, _, ps = planned(t, strings.Replace(toml, "each = 2", "each = 3", 1))
	if len(ps) != 1 || !strings.Contains(ps[0].Message, "has 2 holes for 3 bolts") {
		t.Errorf("%v", ps)
	}
	_, _, ps = planned(t, strings.Replace(toml, "[1, 1]", "[\"3/8\", 1]", 1))
	if len(ps) != 1 || !strings.Contains(ps[0].Message, "from its plate's edge") {
		t.Errorf("%v", ps)
	}
}
