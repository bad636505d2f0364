package weld

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/seam"
	"bench.example/soapstone/fab/text"
)

// randomJob writes a job of one or two frames with bars, posts and legs.
func randomJob(r *rand.Rand) string {
	var b strings.Builder
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	fmt.Fprintf(&b, "title = \"random\"\nunits = \"in\"\n")
	fmt.Fprintf(&b, "[section.rail]\nshape = \"rect-tube\"\nsize = %q\nfinish = %q\n", pick("2-1/2 x 1-1/2 x 11ga", "3 x 2 x 11ga", "2 x 1 x 14ga"), pick("oiled", "scale", "primed", "galvanised", "bright"))
	fmt.Fprintf(&b, "[section.post]\nshape = \"square-tube\"\nsize = %q\n", pick("1-1/2 x 11ga", "2 x 11ga", "1 x 14ga"))
	fmt.Fprintf(&b, "[section.bar]\n%s\n", pick("shape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"", "shape = \"round-tube\"\nsize = \"1 x 14ga\"", "shape = \"flat\"\nsize = \"1-1/4 x 3/16\"", "shape = \"angle\"\nsize = \"1 x 1 x 1/8\""))
	frames := []string{"lower"}
	fmt.Fprintf(&b, "[[rectangle]]\nname = \"lower\"\nsection = \"rail\"\nlength = %d\nwidth = %d\nplane = %q\ncorner = %q\nstand = %q\n", 40+r.IntN(60), 20+r.IntN(30), pick("xy", "xy", "xy", "xz", "yz"), pick("mitre", "mitre", "butt-long", "butt-short"), pick("edge", "flat"))
	flat := strings.Contains(b.String(), `plane = "xy"`)
	if flat && r.IntN(2) == 0 {
		frames = append(frames, "upper")
		fmt.Fprintf(&b, "[[rectangle]]\nname = \"upper\"\nsection = \"rail\"\nlength = 40\nwidth = 20\nabove = \"lower\"\nclear = %d\n", 10+r.IntN(20))
	}
	for _, f := range frames {
		if r.IntN(3) > 0 {
			fmt.Fprintf(&b, "[[crossbars]]\non = %q\nsection = \"bar\"\ncount = %d\nstand = %q\nset = %q\nrun = %q\n", f, 1+r.IntN(4), pick("flat", "edge"), pick("bottom", "centre", "top"), pick("width", "length"))
		}
	}
	if len(frames) == 2 {
		fmt.Fprintf(&b, "[[posts]]\nfrom = \"lower\"\nto = \"upper\"\nsection = \"post\"\nat = %q\n", pick("corners", "inside-corners"))
	}
	if flat && r.IntN(2) == 0 {
		fmt.Fprintf(&b, "[[legs]]\nunder = \"lower\"\nsection = \"post\"\nlength = %d\nat = %q\n", 8+r.IntN(30), pick("corners", "inside-corners"))
	}
	fmt.Fprintf(&b, "[welder]\nprocess = %q\namps = %d\nvolts = 19\nduty = [\"20%% at 130A\", \"%d%% at 80A\"]\n%s\nfillet = \"1/8\"\n", pick("SMAW", "GMAW", "FCAW-S", "FCAW-G", "GTAW"), 60+r.IntN(71), 30+r.IntN(60), pick(`travel = "9ipm"`, `deposit = "1.1lb/h"`, `travel = "2ipm"`))
	return b.String()
}

// TestRandomJobs plans random frames from end to end: every seam is laid once in one stage, facing up or aside, and the
// schedule holds all the rules.
func TestRandomJobs(t *testing.T) {
	n := 40
	if os.Getenv("SOAK") != "" {
		n = 2000
	}
	built, joints, seams, turns, proven, worst := 0, 0, 0, 0, 0, 0.0
	for k := range n {
		toml := randomJob(rand.New(rand.NewPCG(uint64(k), 5)))
		j := frametest.Read(t, toml)
		f, problems := frame.Build(j, frametest.Sections(t, j))
		if slices.ContainsFunc(problems, func(p text.Problem) bool { return p.Severity == text.Error }) {
			continue // bars that run into posts, and the like
		}
		l, _ := seam.Find(f, j, j.Welder)
		p, err := Make(Input{Layout: l, Welder: j.Welder, Effort: &Effort{Nodes: 200, Moves: 20_000}})
		if err != nil {
			t.Fatalf("job %d: %v\n%s", k, err, toml)
		}
		where := make([]int, len(l.Seams))
		for _, st := range l.Stages {
			for _, x := range st.Seams {
				where[x]++
				if d := l.Seams[x].Out.Dot(st.Up); d < -0.3-1e-9 {
					t.Errorf("job %d: seam %s faces down in %s (%.2f)", k, l.Seams[x].ID, st.Name, d)
				}
			}
		}
		for x, s := range l.Seams {
			if want := 1; s.Skipped != "" && where[x] != 0 || s.Skipped == "" && where[x] != want {
				t.Errorf("job %d: seam %s lies in %d stages", k, s.ID, where[x])
			}
		}
		check(t, p)
		if t.Failed() {
			t.Fatalf("job %d:\n%s", k, toml)
		}
		if p.Schedule.Proven {
			proven++
		} else {
			worst = max(worst, float64(p.Schedule.Elapsed-p.Schedule.Bound)/float64(p.Schedule.Bound))
		}
		built, joints, seams, turns = built+1, joints+len(l.Joints), seams+len(l.Seams), turns+l.Turns
	}
	t.Logf("%d jobs built, %d joints, %d seams, %d turns; %d schedules proven quickest, worst gap of the others %.1f %%", built, joints, seams, turns, proven, 100*worst)
	if built < n/3 {
		t.Errorf("only %d of %d jobs could be built", built, n)
	}
}
