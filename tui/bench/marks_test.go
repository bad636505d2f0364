package bench

import (
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/plan"
)

// TestMarksAcrossEdits: after an edit from outside that puts a rectangle in front, what is cut stays cut under its mark, the
// others keep theirs, and a restart says the same.
func TestMarksAcrossEdits(t *testing.T) {
	d := newSmall(t)
	d.press("4")
	d.cutOne()
	d.cutOne()
	marks := func() map[string]string {
		out := map[string]string{}
		for i := range d.m.desk.Plan.Pieces {
			x := &d.m.desk.Plan.Pieces[i]
			out[plan.Identity(x)] = x.Mark
		}
		return out
	}
	was, cuts := marks(), d.cuts()
	d.file.data = []byte(strings.Replace(small, "[[rectangle]]", "[[rectangle]]\nname = \"top\"\nsection = \"rail\"\nlength = \"50in\"\nwidth = \"20in\"\nat = [0, 0, \"30in\"]\n[[rectangle]]", 1))
	d.pass(1e9)
	d.see("the job file was changed outside", "come in")
	now := marks()
	for id, m := range was {
		if now[id] != m {
			t.Errorf("%s was %s, now %q", id, m, now[id])
		}
	}
	if d.cuts() != cuts || len(now) != len(was)+2 {
		t.Fatalf("%d cuts, were %d; kinds %v", d.cuts(), cuts, now)
	}
	d.press("1")
	d.see("2 of 11 pieces")
	d.start(termenv.Ascii, true, stations()...)
	d.size(100, 30)
	for id, m := range marks() {
		if now[id] != m {
			t.Errorf("after a restart %s is %s, was %s", id, m, now[id])
		}
	}
	d.see("2 of 11 pieces")
	d.press("4")
	for d.cuts() < 11 {
		d.cutOne()
	}
	d.see("Every piece is cut")
}
