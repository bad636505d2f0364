package weld

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/text"
)

// inner gives a frame with four rails inside a ring of four, drawn one by one, and a brace between two of them that stands
// first in the job.
func inner(over string) string {
	brace := "[[member]]\nname = \"brace\"\nsection = \"rail\"\nfrom = [0, 10, 0]\nto = [60, 25, 0]\n" + over + "\n"
	rail := func(name, from, to, ends string) string {
		return fmt.Sprintf("[[member]]\nname = %q\nsection = \"rail\"\nfrom = %s\nto = %s\nends = %s\n", name, from, to, ends)
	}
	return brace + rail("left", "[0, 0, 0]", "[0, 40, 0]", `["square", "square"]`) + rail("right", "[60, 0, 0]", "[60, 40, 0]", `["square", "square"]`) +
		rail("low", "[0, 2, 0]", "[60, 2, 0]", `["auto", "auto"]`) + rail("high", "[0, 38, 0]", "[60, 38, 0]", `["auto", "auto"]`)
}

const tools = `
units = "in"
[section.rail]
shape = "square-tube"
size = "1-1/2 x 14ga"
[welder]
process = "GMAW"
amps = 90
volts = 17
duty = "60% at 140A"
fillet = "1/8"
travel = "10ipm"
`

// setLate says what is wrong where a member that is cut to fit is set before a joint of its stage that does not wait for
// it is tacked, or has a pass before it is tacked itself. It also counts the joints that it looked at.
func setLate(p *Plan) (looked int, wrong string) {
	for i := range p.Layout.Joints {
		j := &p.Layout.Joints[i]
		if len(j.ToFit) == 0 || len(j.Seams) == 0 {
			continue
		}
		fit, _ := moments(p, Fit, j.ID)
		_, tacked := moments(p, Tack, j.ID)
		if from, _ := moments(p, Arc, j.ID); from < tacked {
			return looked, fmt.Sprintf("a pass of %s at %v, tacked at %v", j.ID, from, tacked)
		}
		for k := range p.Layout.Joints {
			o := &p.Layout.Joints[k]
			if k == i || len(o.Seams) == 0 || o.Stage > j.Stage || len(o.ToFit) > 0 || afterSeam(&p.Layout, k) {
				continue
			}
			looked++
			if _, until := moments(p, Tack, o.ID); until > fit {
				return looked, fmt.Sprintf("%s of what is cut to fit is set at %v, %s is tacked until %v", j.ID, fit, o.ID, until)
			}
		}
	}
	return looked, ""
}

// afterSeam tells whether a joint is set only after a seam of the same stage.
func afterSeam(l *seam.Layout, joint int) bool {
	return slices.ContainsFunc(l.Seams, func(s seam.Seam) bool { return slices.Contains(s.Before, joint) })
}

// TestCutToFitIsSetLast: a brace that is cut to fit is measured between members that are tacked and square, though it
// stands first in the job; without `over` it comes in its turn.
func TestCutToFitIsSetLast(t *testing.T) {
	p := planOf(t, tools+inner(`over = "1/2"`))
	check(t, p)
	n, wrong := setLate(p)
	if wrong != "" || n < 8 { // two joints of the brace, four others
		t.Errorf("%d pairs, %s", n, wrong)
	}
	var last string
	for _, e := range p.Schedule.Entries {
		if e.Task < 0 {
			continue
		}
		x := &p.Docket.Tasks[e.Task]
		if x.Kind == Fit {
			if strings.Contains(x.What, "cut to fit: brace") && !strings.HasPrefix(last, "square") && !strings.Contains(last, "cut to fit") {
				t.Errorf("%s after %q: the frame is not squared before the brace is measured", x.What, last)
			}
			last = x.What
			if strings.HasPrefix(x.ID, "square") {
				last = "square"
			}
		}
	}
	if !strings.Contains(last, "cut to fit: brace") {
		t.Errorf("set last: %q", last)
	}
	l, j := layoutOf(t, tools+inner(`over = "1/2"`))
	if _, err := Make(Input{Layout: l, Welder: j.Welder, Order: places(t, l, "brace + left", "left + low")}); err == nil || !strings.Contains(err.Error(), "brace is cut to fit") {
		t.Errorf("an order that sets the brace first: %v", err)
	}
	l, j = layoutOf(t, tools+inner(""))
	p, err := Make(Input{Layout: l, Welder: j.Welder, Order: places(t, l, "brace + left", "left + low")})
	if err != nil {
		t.Fatal(err)
	}
	check(t, p)
}

// TestBraceToALegWaitsForTheLeg: a brace cut to fit between a rail and a leg is set at neither before the leg stands.
func TestBraceToALegWaitsForTheLeg(t *testing.T) {
	const legs = `
[[rectangle]]
name = "top"
section = "rail"
length = 50
width = 30
at = [0, 0, 0]
[[legs]]
under = "top"
section = "rail"
length = 24
[[member]]
name = "brace"
section = "rail"
from = ["3/4", "3/4", -16]
to = [15, "3/4", "3/4"]
`
	for _, over := range []string{"", `over = "1/4"`} {
		p := planOf(t, tools+legs+over)
		check(t, p)
		stages := map[int]bool{}
		for _, j := range p.Layout.Joints {
			if slices.Contains(j.Members, "brace") && len(j.Seams) > 0 {
				stages[j.Stage] = true
			}
		}
		if over == "" {
			if len(stages) != 2 {
				t.Fatalf("stages %v: without over the brace is set at the rail first, or the test tests nothing", stages)
			}
			continue
		}
		n, wrong := setLate(p)
		if wrong != "" || n < 8 || len(stages) != 1 {
			t.Errorf("%d pairs, %s, stages %v", n, wrong, stages)
		}
	}
}

// TestRandomCutToFit: whatever members of random frames are cut to fit, there is an order, and it sets them last.
func TestRandomCutToFit(t *testing.T) {
	built, pairs := 0, 0
	for k := range 60 {
		r := rand.New(rand.NewPCG(uint64(k), 71))
		j := frametest.Read(t, randomJob(r))
		f, problems := frame.Build(j, frametest.Sections(t, j))
		if slices.ContainsFunc(problems, func(p text.Problem) bool { return p.Severity == text.Error }) {
			continue
		}
		for i := range f.Members {
			if r.IntN(4) == 0 {
				f.Members[i].OverMM = 6
			}
		}
		l, _ := seam.Find(f, j, j.Welder)
		p, err := Make(Input{Layout: l, Welder: j.Welder, Effort: &Effort{Nodes: 200, Moves: 5_000}})
		if err != nil {
			t.Fatalf("job %d: %v", k, err)
		}
		check(t, p)
		n, wrong := setLate(p)
		if wrong != "" {
			t.Fatalf("job %d: %s", k, wrong)
		}
		built, pairs = built+1, pairs+n
	}
	if built < 20 || pairs < 200 {
		t.Errorf("%d jobs, %d pairs: too few to tell anything", built, pairs)
	}
}
