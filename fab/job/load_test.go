package job_test

import (
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

const loaded = `
units = "in"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x .120"
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
[[load]]
on = ["lower bars", "lower.x1"]
load = "20psf"
case = "snow"
factor = 1.6
[[load]]
on = "lower.y1"
load = "150lb"
at = "24in"
dir = "+x"
[[load]]
on = "lower"
load = "600lb"
total = true
case = "kayaks"
[[support]]
at = "lower corners"
[[support]]
at = ["lower.x1@24in"]
fix = "all"
[[support]]
at = ["lower.x2"]
spring = {z = "200N/mm"}
[[combination]]
name = "road"
cases = {kayaks = 1, snow = 0.5}
ride = "49 CFR 393.102(a)(2)"
forward = "-y"
[check]
sag = "L/360"
[[bolts]]
at = "lower legs"
size = "3/8-16"
grade = 5
stack = ["1/4 tab", "1/8 rubber", 0.12, "1 1/4 block"]
price = 0.45
box = 100
box_price = 28
[lift]
by = ["hand", "sling"]
people = 4
picks = ["lower.x1@24in"]
[access]
door = ["32in", "80in"]
lift = "300lb"
`

func TestLoadTables(t *testing.T) {
	j, ps := job.Read("t.toml", []byte(loaded))
	for _, p := range ps {
		t.Errorf("%s", p.Long())
	}
	if len(j.Loads) != 3 || len(j.Supports) != 3 || len(j.Combinations) != 1 || len(j.Bolts) != 1 {
		t.Fatalf("%d loads, %d supports, %d combinations, %d bolts", len(j.Loads), len(j.Supports), len(j.Combinations), len(j.Bolts))
	}
	l := j.Loads[0]
	if l.Load.Kind != measure.AreaLoad || math.Abs(l.Load.Value-20*measure.PsfMPa) > 1e-15 || l.Factor != 1.6 || l.Case != "snow" || !l.Rides || l.On[0].Text != "lower bars" || l.On[1].Line != 12 {
		t.Errorf("%+v", l)
	}
	if l := j.Loads[1]; l.Rides || l.Dir != [3]float64{1, 0, 0} || !l.AtGiven || l.At != 24*measure.Inch {
		t.Errorf("%+v", l)
	}
	if s := j.Supports[0]; s.Fix != [6]bool{true, true, true} {
		t.Errorf("%+v", s)
	}
	if s := j.Supports[2]; s.Fix != [6]bool{} || s.Spring != [3]float64{0, 0, 200} {
		t.Errorf("%+v", s)
	}
	if c := j.Combinations[0]; len(c.Cases) != 2 || c.Cases[0].Case != "kayaks" || c.Weight != 1 || c.Forward != [3]float64{0, -1, 0} {
		t.Errorf("%+v", c)
	}
	if j.Check.SagOver != 360 || j.Lift.People != 4 || j.Access.Door[1] != 80*measure.Inch {
		t.Errorf("%+v %+v %+v", j.Check, j.Lift, j.Access)
	}
	b := j.Bolts[0]
	if b.Grade != "5" || len(b.Stack) != 4 || b.Stack[0] != (job.Ply{Thick: measure.Inch / 4, What: "tab"}) || b.Stack[2].Thick != 120*measure.Mil || b.Stack[3].Thick != 5*measure.Inch/4 || b.Box != 100 || b.Flat != 2 {
		t.Errorf("%+v", b)
	}
}

func TestBrokenLoadTables(t *testing.T) {
	for _, c := range []struct{ old, with, want string }{
		{`load = "20psf"`, `load = "-20psf"`, "zero or more"},
		{`load = "20psf"`, `load = "20"`, "unit is missing"},
		{`factor = 1.6`, `factor = -1.6`, "zero or more"},
		{`at = "24in"`, `to = "24in"`, "point load takes at"},
		{`dir = "+x"`, `dir = [0, 0, 0]`, "no direction"},
		{`dir = "+x"`, `dir = "sideways"`, "sideways"},
		{`total = true`, "total = true\nat = 3", "goes without at"},
		{`fix = "all"`, `fix = "xq"`, "none of the letters"},
		{`fix = "all"`, `fix = ""`, "holds nothing"},
		{`{z = "200N/mm"}`, `{z = "200N"}`, "no stiffness"},
		{`{kayaks = 1, snow = 0.5}`, `{kayak = 1}`, "no [[load]] has case"},
		{`ride = "49 CFR 393.102(a)(2)"`, `ride = "bumpy"`, "bumpy"},
		{`sag = "L/360"`, `sag = "little"`, "no limit of sag"},
		{`stack = ["1/4 tab", "1/8 rubber", 0.12, "1 1/4 block"]`, `stack = ["tab 1/4"]`, "does not begin with a thickness"},
		{`stack = ["1/4 tab", "1/8 rubber", 0.12, "1 1/4 block"]`, ``, "stack is missing"},
		{`box = 100`, ``, "box and box_price go together"},
		{`by = ["hand", "sling"]`, `by = "crane"`, "none of hand, sling, jack"},
		{`people = 4`, "people = 4\nangle = 20", "30 degrees"},
		{`on = "lower.y1"`, ``, "on is missing"},
		{`door = ["32in", "80in"]`, `door = "32in"`, "list"},
	} {
		if !strings.Contains(loaded, c.old) {
			t.Fatalf("the test has no %q", c.old)
		}
		_, ps := job.Read("t.toml", []byte(strings.Replace(loaded, c.old, c.with, 1)))
		found := false
		for _, p := range ps {
			found = found || p.Severity == text.Error && strings.Contains(p.Message, c.want) && p.Line > 0
		}
		if !found {
			t.Errorf("%q: %v, want something on %q", c.with, ps, c.want)
		}
	}
}
