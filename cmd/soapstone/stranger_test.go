package main

import (
	"strings"
	"testing"
)

// TestWrongCommandIsNamed holds what a mistyped command gets: the command that was meant, whatever stands behind it.
func TestWrongCommandIsNamed(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"chekc", "rack.toml"}, `"chekc" is neither a command nor a job file; is soapstone check meant?`},
		{[]string{"plna"}, "is soapstone plan meant?"},
		{[]string{"boathouse"}, "see soapstone --help"},
		{[]string{"a.toml", "b.toml"}, "one job at a time"},
	} {
		if status, _, errs := call(t, c.args...); status != exitUse || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit %d, %q; wanted %q", c.args, status, errs, c.want)
		}
	}
}

// TestExplainFindsByWord asks for figures by words of their names.
func TestExplainFindsByWord(t *testing.T) {
	job := writeJob(t, frameJob("", ""))
	for word, want := range map[string]string{"weight": "mass.steel", "Mass of a metre": "section.rail.mass"} {
		if status, _, errs := call(t, "explain", job, word); status != exitUse || !strings.Contains(errs, want) {
			t.Errorf("%s: exit %d, %q; wanted %s to be near it", word, status, errs, want)
		}
	}
}

// TestSteepCutAsksForTheSwing: a cut that many saws do not reach is told where the job does not say what its saw does.
func TestSteepCutAsksForTheSwing(t *testing.T) {
	steep := frameJob(`
[[rectangle]]
name = "upper"
section = "rail"
length = "96in"
width = "48in"
above = "lower"
clear = "12in"
`, `
[[posts]]
from = "lower"
to = "upper"
section = "rail"
at = "corners"
[[member]]
name = "brace"
section = "rail"
from = "lower.x1@10in"
to = "upper.x1@60in"
`)
	for _, c := range []struct {
		job  string
		want bool
	}{{frameJob("", ""), false}, {steep, true}, {steep + "[saw]\nkerf = \"1/16in\"\nswing = [-60, 60]\n", false}} {
		status, out, errs := call(t, "plan", writeJob(t, c.job))
		if got := strings.Contains(out, "swing is left out"); status != 0 || got != c.want {
			t.Errorf("exit %d, told %v, wanted %v: %s\n%s", status, got, c.want, errs, c.job)
		}
	}
}

// TestFloorNeedsNoArc: the reference marks nothing of a surface as needed that a flat floor does without.
func TestFloorNeedsNoArc(t *testing.T) {
	_, out, _ := call(t, "help", "job")
	_, out, _ = strings.Cut(out, "[surface.NAME]")
	out, _, _ = strings.Cut(out, "\n\n")
	if out == "" || strings.Contains(out, "  * ") {
		t.Errorf("the reference of a surface:\n%s", out)
	}
	status, _, errs := call(t, "check", writeJob(t, frameJob("", "\n[surface.floor]\nchord = \"8ft\"\n")))
	if status != exitJob || !strings.Contains(errs, "surface.floor.rise: rise is missing") {
		t.Errorf("exit %d: %s", status, errs)
	}
}
