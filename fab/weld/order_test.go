package weld

import (
	"errors"
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/space"
)

func layoutOf(t testing.TB, toml string) (seam.Layout, *job.Job) {
	t.Helper()
	j := frametest.Read(t, toml)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	l, _ := seam.Find(f, j, j.Welder)
	return l, j
}

// moments gives when each task of a kind at a joint begins and ends.
func moments(p *Plan, kind Kind, joint string) (from, to float64) {
	from = math.Inf(1)
	for _, e := range p.Schedule.Entries {
		if e.Kind == kind && e.Joint == joint {
			from, to = math.Min(from, e.Start.Seconds()), math.Max(to, e.End.Seconds())
		}
	}
	return from, to
}

func TestWorkersOrderOfJoints(t *testing.T) {
	l, j := layoutOf(t, rack)
	p, err := Make(Input{Layout: l, Welder: j.Welder, Order: places(t, l, "J9", "J2", "lower.x1 + lower.bar2")})
	if err != nil {
		t.Fatal(err)
	}
	check(t, p)
	if !p.OwnOrder {
		t.Error("the plan does not say that the order is the worker's")
	}
	names := []string{"J9", "J2", ""}
	for _, x := range l.Joints {
		if x.Members[0] == "lower.x1" && x.Members[1] == "lower.bar2" {
			names[2] = x.ID
		}
	}
	for i := 1; i < len(names); i++ {
		_, tacked := moments(p, Tack, names[i-1])
		if fit, _ := moments(p, Fit, names[i]); fit < tacked {
			t.Errorf("%s is set at %g s, %s tacked at %g s", names[i], fit, names[i-1], tacked)
		}
		if a, _ := moments(p, Arc, names[i-1]); true {
			if b, _ := moments(p, Arc, names[i]); b < a {
				t.Errorf("%s is welded at %g s, %s at %g s", names[i], b, names[i-1], a)
			}
		}
	}
}

// TestOrderAroundALeg: a corner's underside is welded before the leg is set on it; that does not keep the corner as a whole
// from coming after a bar, whose own underside waits for the legs.
func TestOrderAroundALeg(t *testing.T) {
	l, j := layoutOf(t, strings.Replace(rack, "[welder]", "[[legs]]\nunder = \"lower\"\nsection = \"rail\"\nlength = 20\n[welder]", 1))
	early := ""
	for _, s := range l.Seams {
		if len(s.Before) > 0 {
			early = l.Joints[s.Joint].ID
		}
	}
	if early == "" {
		t.Fatal("no corner waits for its leg")
	}
	p, err := Make(Input{Layout: l, Welder: j.Welder, Order: places(t, l, "lower.x2 + lower.bar2", early)})
	if err != nil {
		t.Fatal(err)
	}
	check(t, p)
}

func TestImpossibleOrderIsRefusedByName(t *testing.T) {
	const two = `
[[rectangle]]
name = "upper"
section = "rail"
length = 96
width = 48
above = "lower"
clear = 20
[[posts]]
from = "lower"
to = "upper"
section = "rail"
at = "corners"
`
	l, j := layoutOf(t, strings.Replace(rack, "[welder]", two+"[welder]", 1))
	first, second := "", ""
	for _, x := range l.Joints {
		switch l.Stages[x.Stage].Key {
		case "lower":
			first = x.ID
		case "joined":
			second = x.ID
		}
	}
	_, err := Make(Input{Layout: l, Welder: j.Welder, Order: places(t, l, second, first)})
	var own *OrderError
	if !errors.As(err, &own) || own.Where.Line != 2 || !strings.Contains(own.What, `belongs to the stage "lower", the other to "joined", which comes later`) {
		t.Errorf("%v", err)
	}
	if _, err := Make(Input{Layout: l, Welder: j.Welder, Order: places(t, l, first, second)}); err != nil {
		t.Error(err)
	}
	// a seam that no torch reaches once the other bar is in
	close := strings.Replace(rack, "count = 5\nstand = \"flat\"\nset = \"bottom\"", "at = [\"20in\", \"22-1/4in\", \"60in\"]\nstand = \"edge\"", 1)
	l, j = layoutOf(t, close)
	var early, late string
	for _, s := range l.Seams {
		if s.Early != "" {
			early, late = l.Joints[s.Joint].ID, l.Joints[s.Before[0]].ID
		}
	}
	if early == "" {
		t.Fatal("no seam is out of reach")
	}
	p, err := Make(Input{Layout: l, Welder: j.Welder})
	if err != nil {
		t.Fatal(err)
	}
	check(t, p)
	for _, e := range p.Schedule.Entries {
		if e.Task >= 0 && p.Docket.Tasks[e.Task].Kind == Arc {
			for _, s := range l.Seams {
				if s.ID == p.Docket.Tasks[e.Task].Seam && s.Early != "" {
					if !strings.Contains(p.Docket.Tasks[e.Task].What, s.Early) {
						t.Errorf("%s does not say that it comes %s", s.ID, s.Early)
					}
					for _, k := range s.Before {
						if fit, _ := moments(p, Fit, l.Joints[k].ID); fit < e.End.Seconds() {
							t.Errorf("%s is welded until %v, %s set at %g s", s.ID, e.End, l.Joints[k].ID, fit)
						}
					}
				}
			}
		}
	}
	_, err = Make(Input{Layout: l, Welder: j.Welder, Order: places(t, l, late, early)})
	if !errors.As(err, &own) || !strings.Contains(own.What, "cannot come after") || !strings.Contains(own.What, "is welded before") {
		t.Errorf("%s before %s: %v", late, early, err)
	}
}

// TestBowOfAWholeSeam holds the lever and the shrinkage volume against the published bow of a member with one seam along all
// of it: 0.005 A d L^2 / I.
func TestBowOfAWholeSeam(t *testing.T) {
	const in = 25.4
	l := seam.Layout{
		Bars: []seam.Bar{{Name: "beam", Centre: space.Vec{X: 60 * in}, Axis: space.Vec{X: 1}, Depth: space.Vec{Z: 1}, Width: space.Vec{Y: 1},
			LengthMM: 120 * in, AreaMM2: 3 * in * in, IDepthMM4: 8 * in * in * in * in, IWidthMM4: 3 * in * in * in * in, Group: "b"},
			{Name: "strip", Group: "b"}},
		Stages: []seam.Stage{{Kind: seam.Bench, Group: "b", Key: "b", Seams: []int{0}}},
		Seams:  []seam.Seam{{ID: "J1.1", Members: [2]int{0, 1}, From: space.Vec{Z: 2 * in}, To: space.Vec{X: 120 * in, Z: 2 * in}, WeldMM: 120 * in, Type: seam.Fillet}},
	}
	area := 0.03 * in * in
	p := &Plan{Layout: l, Seams: []SeamPlan{{Arc: 1, AreaMM2: area}}}
	got := first(p.bends())
	if want := -Bowing(area, 2*in, 120*in, 8*in*in*in*in).Value; math.Abs(got[1]-want) > 1e-9*math.Abs(want) {
		t.Errorf("%g mm, the formula gives %g", got[1], want)
	}
	if got[0] != 0 || got[2] != 0 {
		t.Errorf("a seam on the neutral axis bows nothing that way: %v", got)
	}
}

// TestBalanceAboutTheNeutralAxis: a frame with bars in the middle of its rails has seams on both sides of it. The planned
// order keeps it straighter on the way than joint after joint, and straighter than an order that does not look at the bow.
func TestBalanceAboutTheNeutralAxis(t *testing.T) {
	p := planOf(t, strings.Replace(rack, `set = "bottom"`, `set = "centre"`, 1))
	check(t, p)
	blind := p.Docket
	blind.Tasks = append([]Task(nil), p.Docket.Tasks...)
	for i := range blind.Tasks {
		blind.Tasks[i].Bend = Bend{}
	}
	s, err := blind.Best(DefaultEffort)
	if err != nil {
		t.Fatal(err)
	}
	q := *p
	q.Schedule = s
	without := q.bows()
	for i, b := range p.Pull.Bows {
		t.Logf("%s: left %.3f mm along %s towards %s; strays %.3f mm, without regard to it %.3f, joint by joint %.3f", p.Layout.Stages[b.Stage].Name, b.EndMM, b.Along, b.Way, b.Sway, without[i].Sway, b.Plain)
		if b.Sway > b.Plain+1e-9 || b.Sway > without[i].Sway+1e-9 {
			t.Errorf("%s strays more (%.3f mm) than joint by joint (%.3f) or without regard to it (%.3f)", p.Layout.Stages[b.Stage].Name, b.Sway, b.Plain, without[i].Sway)
		}
		for k, v := range b.End {
			if math.Abs(v-without[i].End[k]) > 1e-9 {
				t.Errorf("the end depends on the order: %v, %v", b.End, without[i].End)
			}
		}
	}
	if p.Schedule.Elapsed > s.Elapsed {
		t.Logf("it takes %v, %v without regard to the bow", p.Schedule.Elapsed, s.Elapsed)
	}
	for _, f := range p.BowFigures() {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
}

func first(bend, _ []Bend) Bend { return bend[0] }

func TestLever(t *testing.T) {
	for _, c := range []struct{ a, b, l, want float64 }{
		{50, 50, 100, 25}, {0, 0, 100, 0}, {20, 20, 100, 10}, {80, 80, 100, 10}, {0, 100, 100, 12.5}, {0, 50, 100, 12.5}, {-10, -10, 100, 0},
	} {
		if got := lever(c.a, c.b, c.l); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("lever(%g, %g, %g) = %g, want %g", c.a, c.b, c.l, got, c.want)
		}
	}
}
