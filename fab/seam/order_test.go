package seam

import (
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/text"
)

func keys(l Layout) (out []string) {
	for _, st := range l.Stages {
		out = append(out, st.Key)
	}
	return out
}

func faults(problems []text.Problem) (out []text.Problem) {
	for _, p := range problems {
		if p.Severity == text.Error {
			out = append(out, p)
		}
	}
	return out
}

func TestOwnOrderOfStages(t *testing.T) {
	f, planned, _ := layout(t, full)
	if got := keys(planned); !slices.Equal(got, []string{"lower", "upper", "joined", "turned over"}) {
		t.Fatalf("stages %v", got)
	}
	_, own, problems := layout(t, full+"\n[sequence]\nstages = [\"Upper\", \"lower\"]\n")
	if got := keys(own); !slices.Equal(got, []string{"upper", "lower", "joined", "turned over"}) || !own.Reordered || planned.Reordered || len(faults(problems)) > 0 {
		t.Fatalf("stages %v, %v", got, faults(problems))
	}
	// nothing but the order differs: each joint and seam lies in the stage of the same name as before, in the same position
	for k := range own.Seams {
		a, b := planned.Seams[k], own.Seams[k]
		if planned.Stages[a.Stage].Key != own.Stages[b.Stage].Key || a.Position != b.Position || a.Skipped != b.Skipped {
			t.Errorf("seam %s: %s %s, was %s %s", a.ID, own.Stages[b.Stage].Key, b.Position, planned.Stages[a.Stage].Key, a.Position)
		}
	}
	for i, st := range own.Stages {
		for _, k := range st.After {
			if k >= i {
				t.Errorf("%s waits for %s, which comes later", st.Key, own.Stages[k].Key)
			}
		}
		for _, k := range st.Joints {
			if own.Joints[k].Stage != i {
				t.Errorf("joint %s", own.Joints[k].ID)
			}
		}
	}
	_ = f
	for _, c := range []struct{ stages, want string }{
		{`"joined", "upper"`, `"upper" cannot come after "joined"`},
		{`"turned over", "joined"`, "joined before it is turned"},
		{`"mezzanine"`, `the stages are, in the planned order: "lower", "upper", "joined", "turned over"`},
	} {
		_, l, problems := layout(t, full+"\n[sequence]\nstages = ["+c.stages+"]\n")
		ps := faults(problems)
		if len(ps) != 1 || !strings.Contains(ps[0].Message, c.want) || ps[0].Line == 0 || l.Reordered {
			t.Errorf("%s: %v", c.stages, ps)
		}
	}
}

func TestOwnOrderOfJoints(t *testing.T) {
	_, l, _ := layout(t, full)
	read := func(list string) ([]Place, []text.Problem) {
		_, l2, _ := layout(t, full)
		j := frametest.Read(t, full+"\n[sequence]\njoints = ["+list+"]\n")
		return l2.Sequence(j.Sequence.Joints)
	}
	out, ps := read(`"J3", "lower.x1 + lower.y1", "J5.2"`)
	if len(ps) > 0 || len(out) != 3 || len(out[0].Joints) != 1 || l.Joints[out[0].Joints[0]].ID != "J3" || len(out[1].Joints) != 1 || len(out[2].Seams) != 1 {
		t.Fatalf("%+v, %v", out, ps)
	}
	out, ps = read(`"lower.x1"`)
	if len(ps) > 0 || len(out) != 1 || len(out[0].Joints) < 3 {
		t.Errorf("all joints of a member: %+v, %v", out, ps)
	}
	for _, c := range []struct{ list, want string }{
		{`"J999"`, "is no joint, seam, member or mark that is welded here"},
		{`"lower.x1 + upper.x1"`, "is no joint"},
		{`"lower.x1", "lower.x1 + lower.y1"`, "comes twice"},
		{`"J1", "J1.1"`, "comes twice"},
	} {
		if _, ps := read(c.list); len(ps) != 1 || !strings.Contains(ps[0].Message, c.want) || ps[0].Line == 0 || ps[0].Severity != text.Error {
			t.Errorf("%s: %v", c.list, ps)
		}
	}
}

// ladder has two bars that stand close: what lies between them can only be welded while the other is not in.
const ladder = `
units = "in"
[section.rail]
shape = "rect-tube"
size = "3 x 2 x 11ga"
[[rectangle]]
name = "low"
section = "rail"
length = 60
width = 30
stand = "flat"
[[crossbars]]
on = "low"
section = "rail"
at = ["20in", "23in", "45in"]
stand = "edge"
[welder]
process = "GMAW"
amps = 100
volts = 18
duty = "30% at 130A"
travel = "10ipm"
`

func TestSeamsOutOfReachComeFirst(t *testing.T) {
	f, l, problems := layout(t, ladder)
	early, tight := 0, 0
	between := func(s Seam) bool { // on the facing sides of the two close bars
		m := s.Middle()
		return m.X > 20*25.4+1 && m.X < 23*25.4-1 && s.Out.X*s.Out.X > 0.2
	}
	want := 0
	for _, s := range l.Seams {
		if between(s) {
			want++
		}
		if s.Early != "" {
			early++
			if !between(s) || len(s.Before) == 0 {
				t.Errorf("seam %s at %v waits for nothing that it must: %s %v", s.ID, s.Middle(), s.Early, s.Before)
			}
			for _, k := range s.Before {
				if !slices.Contains(l.Joints[k].Members, "low.bar1") && !slices.Contains(l.Joints[k].Members, "low.bar2") {
					t.Errorf("seam %s before joint %s of %v", s.ID, l.Joints[k].ID, l.Joints[k].Members)
				}
			}
		}
		if strings.Contains(s.Tight, "torch's way") {
			tight++
		}
	}
	t.Logf("%d seams between the bars, %d are welded before the other bar is in, %d stay out of reach", want, early, tight)
	// of the two bars one is set and welded first: half of what lies between them can be reached, the other half not
	if want == 0 || early != want/2 || tight != want-early {
		t.Errorf("%d between, %d early, %d tight", want, early, tight)
	}
	n := 0
	for _, p := range problems {
		if p.Code == "seam-tight" {
			n++
		}
	}
	if n != tight {
		t.Errorf("%d cautions for %d seams", n, tight)
	}
	_ = f
}

func TestOrderHasNoCircle(t *testing.T) {
	o := newOrder(4)
	o.add(0, 1)
	o.add(1, 2)
	if !o.leads(0, 2) || o.leads(2, 0) || !o.leads(3, 3) {
		t.Error("0 leads to 1 leads to 2")
	}
}
