package hold

import (
	"errors"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/hold/stiffness"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/text"
)

const rack = `
title = "Kayak rack, boathouse slipway"
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

func modelOf(t testing.TB, toml string) (*frame.Frame, *Model, []text.Problem) {
	t.Helper()
	j := frametest.Read(t, toml)
	f, ps := frame.Build(j, frametest.Sections(t, j))
	for _, p := range ps {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	pieces, ps := piece.Gather(f, j)
	for _, p := range ps {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	m, ps := FromFrame(f, j, pieces)
	return f, m, ps
}

func analysed(t testing.TB, toml string) (*frame.Frame, *Model, *Answer) {
	t.Helper()
	f, m, ps := modelOf(t, toml)
	for _, p := range ps {
		if p.Severity == text.Error {
			t.Fatal(p.Long())
		}
	}
	a, err := Analyse(m)
	if err != nil {
		t.Fatal(err)
	}
	return f, m, a
}

func totals(c CaseAnswer) (force Vec) {
	for _, r := range c.Reactions {
		for d := range force {
			force[d] += r.Force[d]
		}
	}
	return force
}

func TestRackStandsOnItsLegs(t *testing.T) {
	f, _, a := analysed(t, rack+`
[[load]]
on = "lower bars"
load = "30plf"
case = "kayaks"
[[support]]
at = "lower legs"
[[combination]]
name = "weight"
[[combination]]
name = "kayaks"
weight = 0
cases = {kayaks = 1}
[[combination]]
name = "road"
cases = {kayaks = 1}
ride = "49 CFR 393.102(a)(2)"
`)
	kg := 0.0
	for i := range f.Members {
		kg += f.Members[i].MassKG()
	}
	if got := totals(a.Cases[0])[2]; math.Abs(got-kg*measure.Gravity) > 1e-6*got {
		t.Errorf("the feet carry %.2f N, the steel weighs %.2f", got, kg*measure.Gravity)
	}
	bars := 0.0
	for i := range f.Members {
		if f.Members[i].Role == frame.Bar {
			bars += f.LengthMM(i)
		}
	}
	live := 30 * measure.PlfNPerMM * bars
	if got := totals(a.Cases[1])[2]; math.Abs(got-live) > 1e-6*live {
		t.Errorf("the feet carry %.2f N of %.2f", got, live)
	}
	if len(a.Cases) != 7 {
		t.Fatalf("%d cases", len(a.Cases))
	}
	forward := totals(a.Cases[2])
	if want := -0.435 * (live + kg*measure.Gravity); math.Abs(forward[0]-want) > 1e-6*live {
		t.Errorf("braking pushes %.2f N, want %.2f", forward[0], want)
	}
	if !strings.Contains(a.Cases[2].Source, "393.102") || a.Cases[2].Name != "road, forward" {
		t.Errorf("%+v", a.Cases[2].Name)
	}
	// The rack is symmetric: each foot carries a quarter.
	for _, r := range a.Cases[1].Reactions {
		if math.Abs(r.Force[2]-live/4) > 0.02*live {
			t.Errorf("%s carries %.1f of %.1f", r.Name, r.Force[2], live)
		}
	}
	if a.Worst < 0 || a.Members[a.Worst].Use.Value <= 0 {
		t.Errorf("worst %d", a.Worst)
	}
	for _, m := range a.Members {
		if err := m.Figure.Check(); err != nil {
			t.Error(err)
		}
		if m.SagCase >= 0 {
			if err := m.SagFigure.Check(); err != nil {
				t.Error(err)
			}
		}
	}
}

func TestLoadsFindTheirBars(t *testing.T) {
	_, _, a := analysed(t, rack+`
[[load]]
on = "lower"
load = "20psf"
case = "snow"
[[load]]
on = ["lower.x1", "lower.x2"]
load = "600lb"
total = true
case = "boats"
[[load]]
on = "lower.bar2"
load = "150lb"
case = "man"
at = "6in"
[[combination]]
name = "snow"
weight = 0
cases = {snow = 1}
[[combination]]
name = "boats"
weight = 0
cases = {boats = 1}
[[combination]]
name = "man"
weight = 0
cases = {man = 1}
`)
	if snow := totals(a.Cases[0])[2] / measure.PoundN; math.Abs(snow-20*8*4) > 1e-6*640 {
		t.Errorf("snow %.3f lb", snow)
	}
	if boats := totals(a.Cases[1])[2] / measure.PoundN; math.Abs(boats-600) > 1e-3 {
		t.Errorf("boats %.4f lb", boats)
	}
	if man := totals(a.Cases[2])[2] / measure.PoundN; math.Abs(man-150) > 1e-6 {
		t.Errorf("man %.4f lb", man)
	}
}

func TestLoadProblems(t *testing.T) {
	for _, c := range []struct{ tables, want string }{
		{"[[load]]\non = \"lower.bar9\"\nload = \"10lb\"\n", "no member"},
		{"[[load]]\non = \"upper\"\nload = \"10lb\"\n", "upper"},
		{"[[load]]\non = \"lower posts\"\nload = \"10lb\"\n", "no lower posts"},
		{"[[load]]\non = \"lower.leg1\"\nload = \"10psf\"\ndir = \"+x\"\n", "give width"},
		{"[[load]]\non = \"lower.x1\"\nload = \"10lb\"\nat = \"20ft\"\n", "beyond its end"},
		{"[[load]]\non = [\"lower.x1\", \"lower.x1\"]\nload = \"10lb\"\n", "named twice"},
		{"[[support]]\nat = \"lower.x1@20ft\"\n", "is not on it"},
		{"[[support]]\nat = \"lowr legs\"\n", "lowr legs"},
	} {
		_, _, ps := modelOf(t, rack+c.tables)
		found := false
		for _, p := range ps {
			found = found || p.Severity == text.Error && strings.Contains(p.Message, c.want) && p.Line > 0
		}
		if !found {
			t.Errorf("%s%v, want %q", c.tables, ps, c.want)
		}
	}
	// Without legs and without supports the analysis says so.
	_, m, _ := modelOf(t, strings.Split(rack, "[[legs]]")[0]+"[[load]]\non = \"lower.x1\"\nload = \"10lb\"\n")
	if _, err := Analyse(m); err == nil || !strings.Contains(err.Error(), "nothing supports") {
		t.Errorf("unsupported: %v", err)
	}
	// Held at one place only about nothing: it turns, and the joint is named.
	_, m, _ = modelOf(t, rack+"[[support]]\nat = \"lower.leg1\"\n[[load]]\non = \"lower.x1\"\nload = \"10lb\"\n")
	_, err := Analyse(m)
	if me := (*stiffness.MechanismError)(nil); err == nil || !strings.Contains(err.Error(), "can move") || !errors.As(err, &me) {
		t.Errorf("on one foot: %v", err)
	}
}

// TestAreaLoadReachesTheOuterFaces: however the bars lie and the corners are made, an area load on a rectangle is the load
// times its outside area.
func TestAreaLoadReachesTheOuterFaces(t *testing.T) {
	const bars = "[[crossbars]]\non = \"lower\"\nsection = \"rail\"\ncount = 3\nstand = \"flat\"\nset = \"top\"\n"
	if !strings.Contains(rack, bars) {
		t.Fatal("the rack has other bars")
	}
	lb := func(toml, on, more string) float64 {
		_, _, a := analysed(t, toml+"[[load]]\non = "+on+"\nload = \"20psf\"\ncase = \"snow\"\n"+more+"\n[[combination]]\nname = \"snow\"\nweight = 0\ncases = {snow = 1}\n")
		return totals(a.Cases[0])[2] / measure.PoundN
	}
	with := func(s string) string { return strings.Replace(rack, bars, s, 1) }
	corner := func(toml, how string) string {
		return strings.Replace(toml, "at = [0, 0, 24]", "at = [0, 0, 24]\ncorner = \""+how+"\"", 1)
	}
	lengthwise := "[[crossbars]]\non = \"lower\"\nsection = \"rail\"\ncount = 2\nrun = \"length\"\n"
	uneven := "[[crossbars]]\non = \"lower\"\nsection = \"rail\"\nat = [\"11in\", \"30in\", \"71in\"]\nfit = \"1/8in\"\n"
	gap := (96 - 2*1.5 - 3*2.5) / 4 // bars of 2-1/2 flat between rails of 1-1/2, in
	for _, c := range []struct {
		name, toml, on, more string
		want                 float64 // lb
	}{
		{"mitred, the rectangle", rack, `"lower"`, "", 640},
		{"butt-long", corner(rack, "butt-long"), `"lower"`, "", 640},
		{"butt-short", corner(rack, "butt-short"), `"lower"`, "", 640},
		{"without bars", with(""), `"lower"`, "", 640},
		{"bars along the length", with(lengthwise), `"lower"`, "", 640},
		{"uneven bars with a gap", with(uneven), `"lower"`, "", 640},
		{"its bars alone carry all of it", rack, `"lower bars"`, "", 640},
		{"uneven bars alone", with(uneven), `"lower bars"`, "", 640},
		{"its sides alone", with(""), `"lower sides"`, "", 640},
		{"the long sides", with(""), `["lower.x1", "lower.x2"]`, "", 640},
		{"bars and one rail", rack, `["lower bars", "lower.x1"]`, "", 640},
		{"one bar of three: half way to its neighbours", rack, `"lower.bar2"`, "", 20 * (gap + 2.5) / 12 * 48 / 12},
		{"factor", rack, `"lower"`, "factor = 1.6", 1024},
		{"width says otherwise", rack, `"lower.bar2"`, `width = "12in"`, 20 * 1 * 45. / 12},
		{"half of each bar", rack, `"lower bars"`, "to = \"22-1/2in\"", 320},
	} {
		if got := lb(c.toml, c.on, c.more); math.Abs(got-c.want) > 1e-6*c.want {
			t.Errorf("%s: %.4f lb, want %.4f", c.name, got, c.want)
		}
	}
}
