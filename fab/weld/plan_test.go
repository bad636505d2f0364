package weld

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/seam"
)

const rack = `
title = "Kayak rack"
units = "in"
[section.rail]
shape = "rect-tube"
size = "2-1/2 x 1-1/2 x 11ga"
finish = "oiled"
sticks = [ {length = "20ft", price = 34.50} ]
[[rectangle]]
name = "lower"
section = "rail"
length = "96in"
width = "48in"
corner = "mitre"
stand = "edge"
[[crossbars]]
on = "lower"
section = "rail"
count = 5
stand = "flat"
set = "bottom"
[welder]
process = "FCAW-S"
amps = 110
volts = 19
duty = "30% at 130A"
window = "10m"
wire = "0.030in"
travel = "9ipm"
fillet = "1/8"
`

func planOf(t testing.TB, toml string, chores ...Chore) *Plan {
	t.Helper()
	j := frametest.Read(t, toml)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	l, _ := seam.Find(f, j, j.Welder)
	p, err := Make(Input{Layout: l, Welder: j.Welder, Chores: chores})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// check looks at everything in a plan that must hold whatever the job is.
func check(t *testing.T, p *Plan) {
	t.Helper()
	if err := verify(&p.Docket, p.Schedule); err != nil {
		t.Fatal(err)
	}
	for _, f := range p.Figures {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
	for k := range p.Layout.Seams {
		for _, f := range p.SeamFigures(k) {
			if err := f.Check(); err != nil {
				t.Error(err)
			}
		}
	}
	j := p.JSON()
	var arcs, tacks, seams, rests, all float64
	arcOf := map[string]float64{}
	for _, e := range j.Schedule {
		all += e.EndS - e.StartS
		switch e.Kind {
		case "arc":
			arcs += e.EndS - e.StartS
			arcOf[e.Seam] += e.EndS - e.StartS
		case "tack":
			tacks += e.EndS - e.StartS
		case "rest":
			rests += e.EndS - e.StartS
		case "fit", "clean", "turn":
		default:
			t.Errorf("kind %q", e.Kind)
		}
	}
	for _, x := range j.Joints {
		for _, s := range x.Seams {
			seams += s.ArcS
			// durations are whole nanoseconds, the sums are of floats
			if math.Abs(arcOf[s.ID]-s.ArcS) > 1e-6 {
				t.Errorf("seam %s: %g s, its arcs in the schedule are %g s", s.ID, s.ArcS, arcOf[s.ID])
			}
		}
	}
	if math.Abs(arcs-seams) > 1e-6 || math.Abs(j.ArcS-arcs-tacks) > 1e-6 {
		t.Errorf("arc %g s: seams %g, arcs %g, tacks %g", j.ArcS, seams, arcs, tacks)
	}
	if math.Abs(j.RestS-rests) > 1e-6 || j.IdleS > j.RestS+1e-9 || math.Abs(j.ArcS+j.RestS+j.WorkS-all) > 1e-6 || math.Abs(j.ElapsedS-all) > 1e-6 {
		t.Errorf("rest %g s (idle %g), the schedule's rests %g; arc %g, work %g, elapsed %g, all entries %g", j.RestS, j.IdleS, rests, j.ArcS, j.WorkS, j.ElapsedS, all)
	}
	if j.BoundS > j.ElapsedS+1e-9 || j.ElapsedS > j.UnfilledS+1e-9 {
		t.Errorf("bound %g, elapsed %g, unfilled %g", j.BoundS, j.ElapsedS, j.UnfilledS)
	}
	// under the pure square law (one point on the plate) the model says what the window rule says
	if p.Thermal.Tau == 0 && p.Thermal.Worst == 0 && (p.Peak > 1+1e-9 || p.Peak <= 0) {
		t.Errorf("peak %.4f of the limit", p.Peak)
	}
	// no arc, tack or fit of a stage before the stages that it waits for are over and its own turn is done
	open := make([]time.Duration, len(p.Layout.Stages))
	over := make([]time.Duration, len(p.Layout.Stages))
	for _, e := range p.Schedule.Entries {
		if e.Task >= 0 && e.Kind != Saw && e.Kind != Clean {
			i := p.Docket.Tasks[e.Task].Stage
			over[i] = max(over[i], e.End)
			if e.Kind == Turn {
				open[i] = e.End
			}
		}
	}
	for _, e := range p.Schedule.Entries {
		if e.Task < 0 || e.Kind == Saw || e.Kind == Clean {
			continue
		}
		i := p.Docket.Tasks[e.Task].Stage
		if e.Kind != Turn && e.Start < open[i] {
			t.Errorf("%s of stage %d begins at %v, before the frame is turned at %v", p.Docket.Tasks[e.Task].ID, i+1, e.Start, open[i])
		}
		for _, a := range p.Layout.Stages[i].After {
			if e.Start < over[a] {
				t.Errorf("%s of stage %d begins at %v, stage %d is over at %v", p.Docket.Tasks[e.Task].ID, i+1, e.Start, a+1, over[a])
			}
		}
	}
	// tacks of a stage before its first pass, save for seams that something comes to stand on
	first := map[int]time.Duration{}
	for _, e := range p.Schedule.Entries {
		if e.Kind == Arc {
			x := p.Docket.Tasks[e.Task]
			early := false
			for _, s := range p.Layout.Seams {
				early = early || s.ID == x.Seam && len(s.Before) > 0
			}
			if _, ok := first[x.Stage]; !ok && !early {
				first[x.Stage] = e.Start
			}
		}
	}
	for _, e := range p.Schedule.Entries {
		if e.Kind == Tack {
			if at, ok := first[p.Docket.Tasks[e.Task].Stage]; ok && e.Start > at {
				t.Errorf("tack of %s at %v, first pass of its stage at %v", e.Joint, e.Start, at)
			}
		}
	}
}

func TestRack(t *testing.T) {
	p := planOf(t, rack)
	check(t, p)
	s := p.Schedule
	t.Logf("duty %.4f, budget %v: arc %v, rest %v, work %v, elapsed %v, bound %v, unfilled %v (%s)", p.Duty.Value, p.Budget.Arc.Round(sec), s.ArcTime.Round(sec), s.RestSum.Round(sec),
		s.WorkSum.Round(sec), s.Elapsed.Round(sec), s.Bound.Round(sec), s.Unfilled.Round(sec), s.Why)
	// the order keeps the heat nearer to the middle than finishing joint after joint
	t.Logf("the heat strays %.0f mm, joint by joint %.0f mm", p.Pull.Lopsided, p.Pull.Plain)
	for _, b := range p.Pull.Bows {
		t.Logf("%s: bow %.2f mm along %s towards %s; strays %.2f, joint by joint %.2f; %s", p.Layout.Stages[b.Stage].Name, b.EndMM, b.Along, b.Way, b.Sway, b.Plain, b.PreSet)
	}
	if p.Pull.Lopsided >= p.Pull.Plain {
		t.Errorf("the heat strays %.0f mm, joint by joint %.0f mm", p.Pull.Lopsided, p.Pull.Plain)
	}
	if gap := float64(s.Elapsed-s.Bound) / float64(s.Bound); gap > 0.01 {
		t.Errorf("gap %.2f %%", 100*gap)
	}
	// all at 9 ipm: 10 crossbar ends with 2 x 2.5 in and 2 x 1.5 in, 4 corners with 2 x 2.5 in and two mitres of 1.5 in
	want := (10*(2*2.5+2*1.5) + 4*(2*2.5+2*1.5*math.Sqrt2)) / 9 * 60
	var seams time.Duration
	for _, x := range p.Seams {
		seams += x.Arc
	}
	if math.Abs(seams.Seconds()-want) > 1e-6 {
		t.Errorf("seams take %v of arc, want %g s", seams, want)
	}
	again := planOf(t, rack)
	if !reflect.DeepEqual(p.Schedule, again.Schedule) {
		t.Error("a second plan differs")
	}
}

// TestChoresFillRests gives the saw's work to the rests: it costs less time than it takes.
func TestChoresFillRests(t *testing.T) {
	hot := strings.Replace(rack, `amps = 110`, `amps = 130`, 1)
	without := planOf(t, hot)
	var chores []Chore
	var sum time.Duration
	for k := range 8 {
		chores = append(chores, Chore{ID: fmt.Sprint("cut ", k+1), What: "saw a rung", Take: 75 * sec})
		sum += 75 * sec
	}
	with := planOf(t, hot, chores...)
	check(t, without)
	check(t, with)
	cost := with.Schedule.Elapsed - without.Schedule.Elapsed
	t.Logf("%v of sawing costs %v; rest %v becomes %v", sum, cost.Round(sec), without.Schedule.RestSum.Round(sec), with.Schedule.RestSum.Round(sec))
	if cost > sum/10 {
		t.Errorf("%v of sawing costs %v", sum, cost)
	}
}

func TestLongSeamsAreSplit(t *testing.T) {
	slow := strings.Replace(strings.Replace(rack, `travel = "9ipm"`, `travel = "0.5ipm"`, 1), `amps = 110`, `amps = 130`, 1)
	p := planOf(t, slow)
	check(t, p)
	for k, s := range p.Layout.Seams {
		arc := s.LengthMM / (0.5 * 25.4 / 60)
		if want := int(math.Ceil(arc/180 - 1e-9)); p.Seams[k].Runs != want {
			t.Errorf("seam %s burns %.0f s in %d runs, want %d", s.ID, arc, p.Seams[k].Runs, want)
		}
	}
}

// places finds what names of an order stand for.
func places(t *testing.T, l seam.Layout, names ...string) []seam.Place {
	t.Helper()
	var list []job.Name
	for i, n := range names {
		list = append(list, job.Name{Where: job.Where{Line: i + 1}, Text: n})
	}
	out, problems := l.Sequence(list)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return out
}

func TestWorkersOrder(t *testing.T) {
	j := frametest.Read(t, rack)
	f, _ := frame.Build(j, frametest.Sections(t, j))
	l, _ := seam.Find(f, j, j.Welder)
	want := []string{"J9.2", "J1.1", "J1.2", "J5.2"}
	p, err := Make(Input{Layout: l, Welder: j.Welder, Order: places(t, l, want...)})
	if err != nil {
		t.Fatal(err)
	}
	check(t, p)
	var got []string
	for _, e := range p.Schedule.Entries {
		if e.Kind == Arc && slices.Contains(want, p.Docket.Tasks[e.Task].Seam) {
			got = append(got, p.Docket.Tasks[e.Task].Seam)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("order %v, want %v", got, want)
	}
	d := &Docket{Budget: p.Budget, Tasks: []Task{{ID: "fit", Kind: Fit, Take: sec}, {ID: "weld", Kind: Arc, Take: sec, After: []int{0}}}}
	if _, err := d.InOrder([]int{1, 0}); err == nil || !strings.Contains(err.Error(), "weld cannot come before fit") {
		t.Errorf("%v", err)
	}
	if _, err := d.InOrder([]int{0}); err == nil || !strings.Contains(err.Error(), "weld") {
		t.Errorf("%v", err)
	}
	if s, err := d.InOrder([]int{0, 1}); err != nil || s.Elapsed != 2*sec {
		t.Errorf("%+v, %v", s, err)
	}
}

func TestMachinesSideBySide(t *testing.T) {
	small := frametest.Read(t, rack)
	f, _ := frame.Build(small, frametest.Sections(t, small))
	var ins []Input
	for _, w := range []struct {
		name  string
		duty  float64
		price measure.Money
	}{{"small", 0.1, 0}, {"rented", 0.6, 45 * measure.Whole}} {
		m := *small.Welder
		m.Name, m.Price, m.Amps = w.name, w.price, 130
		m.Duty = []job.PlatePoint{{Duty: w.duty, Amps: 130}}
		l, _ := seam.Find(f, small, &m)
		ins = append(ins, Input{Layout: l, Welder: &m})
	}
	bad := *small.Welder
	bad.Amps = 200
	ins = append(ins, Input{Layout: ins[0].Layout, Welder: &bad})
	sides := Compare(ins)
	if sides[0].Err != nil || sides[1].Err != nil || sides[0].Elapsed <= sides[1].Elapsed || sides[1].Cost != 45*measure.Whole*measure.Money(sides[1].Days) {
		t.Errorf("%+v", sides)
	}
	if sides[2].Err == nil || !strings.Contains(sides[2].Err.Error(), "130 A") {
		t.Errorf("200 A on a plate that ends at 130 A: %v", sides[2].Err)
	}
	t.Logf("10 %%: %v, 60 %%: %v", sides[0].Elapsed.Round(sec), sides[1].Elapsed.Round(sec))
}

func BenchmarkRack(b *testing.B) {
	p := planOf(b, rack)
	for b.Loop() {
		if _, err := p.Docket.Best(DefaultEffort); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMake300 plans a job of some 300 seams from its layout on.
func BenchmarkMake300(b *testing.B) {
	j := frametest.Read(b, strings.Replace(strings.Replace(rack, "count = 5", "count = 33", 1), `length = "96in"`, `length = "40ft"`, 1))
	f, _ := frame.Build(j, frametest.Sections(b, j))
	l, _ := seam.Find(f, j, j.Welder)
	var p *Plan
	for b.Loop() {
		var err error
		if p, err = Make(Input{Layout: l, Welder: j.Welder}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(l.Seams)), "seams")
	b.ReportMetric(100*float64(p.Schedule.Elapsed-p.Schedule.Bound)/float64(p.Schedule.Bound), "%-over-bound")
}

// A seam that a leg comes to stand on is laid when the frame has been turned, not when its corner was tacked on the bench.
func TestSeamUnderALegWaitsForTheTurn(t *testing.T) {
	p := planOf(t, rack+`
[section.post]
shape = "square-tube"
size = "1-1/2 x 11ga"
[[legs]]
under = "lower"
section = "post"
length = "20in"
`)
	check(t, p)
	under := 0
	for _, s := range p.Layout.Seams {
		if len(s.CoveredBy) > 0 && s.Stage > p.Layout.Joints[s.Joint].Stage {
			under++
		}
	}
	if under == 0 {
		t.Error("no seam lies under a leg: the test tests nothing")
	}
}
