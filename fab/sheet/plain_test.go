package sheet

import (
	"context"
	"strings"
	"testing"
	"unicode"

	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/plan"
)

const stand = `
title = "Stand \u001b[31mred"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
grade = "A500-B"
try = ["2 x 1 x .083"]
sticks = [ {length = "20ft", price = 34.50} ]
[[rectangle]]
name = "top"
section = "rail"
length = "60in"
width = "30in"
at = [0, 0, "33in"]
[[legs]]
under = "top"
section = "rail"
length = "33in"
at = "corners"
inset = "1/4"
[[load]]
on = ["top"]
load = "60psf"
[[support]]
at = ["legs"]
[[bolts]]
at = ["top legs"]
size = "3/8-16"
stack = ["1/4"]
[lift]
by = ["hand", "sling", "jack"]
[welder]
process = "FCAW-S"
amps = 110
volts = 19
duty = "30% at 130A"
travel = "9ipm"
fillet = "1/8"
`

func TestPlain(t *testing.T) {
	j := frametest.Read(t, stand)
	p := plan.Build(context.Background(), plan.Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	s := Plain(p)
	last := 0
	for _, head := range []string{"Pieces", "Buy", "Sticks", "At the saw", "Mark-out", "Squaring up", "At the booth", "Weight and balance", "Loads", "Which section", "Bolts", "Lifting and turning"} {
		at := strings.Index(s, "\n"+head)
		if at < last {
			t.Errorf("%q does not stand where it should (%d, after %d)", head, at, last)
		}
		last = max(last, at)
	}
	for _, caution := range []string{SawCaution, "licensed engineer", "fire watch", "nobody under the load"} {
		if !strings.Contains(s, caution) {
			t.Errorf("the caution %q is missing", caution)
		}
	}
	for _, r := range s {
		if unicode.IsControl(r) && r != '\n' {
			t.Fatalf("control character %U in the text", r)
		}
	}
	if strings.Contains(s, "%!") {
		t.Error("a figure was printed by the wrong verb")
	}
}

func TestWords(t *testing.T) {
	for _, c := range []struct{ why, got, want string }{
		{"square", Degrees(0), "0"}, {"no negative zero", Degrees(-0.001), "0"}, {"half", Degrees(22.5), "22.5"}, {"hundredth", Degrees(4.724), "4.72"},
		{"scale of the blade", Swing(45, true), "45 left"}, {"scale of square", Swing(-30, false), "30 right"}, {"blade at square", Swing(0, true), "90"},
		{"seconds", Span(40), "40 s"}, {"hours", Span(5400), "1 h 30 min"}, {"mitred", Shape("A", 45, 45), `/A\`}, {"parallel", Shape("A", 30, -30), `/A/`},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.why, c.got, c.want)
		}
	}
}
