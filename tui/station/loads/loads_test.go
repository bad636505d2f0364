package loads

import (
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
)

const rack = `
title = "Kayak rack"
units = "in"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
sticks = [ {length = "20ft", price = 34.50} ]
try = ["3 x 2 x .120"]
[[rectangle]]
name = "lower"
section = "rail"
length = 96
width = 48
at = [0, 0, 24]
[[crossbars]]
on = "lower"
section = "rail"
count = 3
[[legs]]
under = "lower"
section = "rail"
length = 24
[[load]]
on = "lower"
load = "20psf"
case = "snow"
[[load]]
on = "lower.x1"
load = "300lb"
at = 48
case = "man"
[[support]]
at = "legs"
[lift]
by = ["hand", "sling"]
people = 4
[access]
door = ["20in", "40in"]
[welder]
process = "GMAW"
amps = 100
volts = 18
duty = "30% at 130A"
travel = "10ipm"
fillet = "1/8"
`

func desk(t *testing.T) *station.Desk {
	t.Helper()
	p := plan.Build(t.Context(), plan.Input{Job: frametest.Read(t, rack), Steel: frametest.Catalogue(), Effort: -1})
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	return &station.Desk{Look: look.New(termenv.Ascii, look.Dark, true), Plan: p, Work: work.New()}
}

func screen(s *Loads, d *station.Desk, w, h int) string { return strings.Join(s.View(d, w, h), "\n") }

// TestWorstFirstInEveryCase: the list begins with the member worked hardest in the case shown, and s goes round the cases.
func TestWorstFirstInEveryCase(t *testing.T) {
	d, s := desk(t), New()
	cases := d.Plan.Loads.Cases
	for round := range len(cases) + 2 {
		view := screen(s, d, 120, 40)
		for k := 1; k < len(s.order); k++ {
			if s.use(d, s.order[k]) > s.use(d, s.order[k-1])+1e-12 {
				t.Fatalf("round %d: %s before one that is worked harder", round, d.Plan.Loads.Members[s.order[k-1]].Name)
			}
		}
		in := round % (len(cases) + 1)
		want := "the worst of all cases"
		if in > 0 {
			want = "case " + cases[in-1].Name
			if worst := d.Plan.Loads.Members[s.order[0]].Name; cases[in-1].Utilisation > 0 && worst != cases[in-1].Worst {
				t.Errorf("%s: %s stands first, the worst is %s", want, worst, cases[in-1].Worst)
			}
		}
		if !strings.Contains(view, want) {
			t.Errorf("round %d does not say %q:\n%s", round, want, view)
		}
		s.Press(d, "s")
	}
}

// TestLiftIsTold: weight, legs, hands, slings, turns, the way out, supports, welds and other sizes stand behind space.
func TestLiftIsTold(t *testing.T) {
	d, s := desk(t), New()
	s.Press(d, "space")
	view := screen(s, d, 160, 400)
	for _, want := range []string{"Weight and balance", "on its legs", "By hand", "By sling", "Turns at the bench", "at the far edge", "Getting it there", "bolted, across", "What stands on the supports", "Welds, hardest first", "Other sizes of rail", "nobody under it", "cribbing"} {
		if !strings.Contains(view, want) {
			t.Errorf("nothing is said of %q", want)
		}
	}
	if len(s.Figures(d)) == 0 {
		t.Error("no working behind it")
	}
	for _, size := range [][2]int{{50, 15}, {80, 24}, {200, 60}} {
		for range 30 {
			if lines := s.View(d, size[0], size[1]); len(lines) == 0 {
				t.Error("an empty screen")
			}
			s.Press(d, "pgdown")
		}
	}
}
