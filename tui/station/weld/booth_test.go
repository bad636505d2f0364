package weld

import (
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
	"github.com/muesli/termenv"
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
length = "60in"
width = "30in"
[[crossbars]]
on = "lower"
section = "rail"
count = 2
[welder]
process = "FCAW-S"
amps = 130
volts = 19
duty = "30% at 130A"
travel = "9ipm"
fillet = "1/8"
`

// bench plays the workbench: a desk, a record, a clock.
type bench struct {
	t testing.TB
	s *Weld
	d *station.Desk
	n uint64
}

func newBench(t testing.TB) *bench {
	t.Helper()
	j := frametest.Read(t, rack)
	p := plan.Build(t.Context(), plan.Input{Job: j, Steel: frametest.Catalogue(), Effort: -1})
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	return &bench{t: t, s: New(), d: &station.Desk{Look: look.New(termenv.Ascii, look.Dark, true), Plan: p, Work: work.New(), Now: time.Unix(1_800_000_000, 0).UTC(), Front: true}}
}

func (b *bench) write(events ...work.What) {
	b.t.Helper()
	for _, e := range events {
		b.n++
		text, err := work.Encode(e)
		if err != nil {
			b.t.Fatal(err)
		}
		b.d.Work.Apply(work.ID{Writer: 1, Number: b.n}, b.d.Now.UnixNano(), text)
	}
}

// press carries out what the station asks for; answer is typed where it asks.
func (b *bench) press(key, answer string) (said string) {
	b.t.Helper()
	var carry func(list []station.Intent)
	carry = func(list []station.Intent) {
		for _, x := range list {
			switch x := x.(type) {
			case station.Write:
				b.write(x.Events...)
			case station.Say:
				said = x.Text
			case station.Ask:
				more, err := x.Done(answer)
				if err != nil {
					said = err.Error()
				}
				carry(more)
			}
		}
	}
	carry(b.s.Press(b.d, key))
	return said
}

func (b *bench) next() weld.Task {
	b.t.Helper()
	b.s.booth.follow(b.d)
	if b.s.booth.next < 0 {
		b.t.Fatal("nothing is next")
	}
	return b.d.Plan.Weld.Docket.Tasks[b.s.booth.next]
}

// until does what is next until the arc is.
func (b *bench) until(kind weld.Kind) weld.Task {
	b.t.Helper()
	for range 500 {
		t := b.next()
		if t.Kind == kind {
			return t
		}
		if t.Kind.Burns() {
			b.burn(t.Take)
			continue
		}
		b.press("space", "")
		b.d.Now = b.d.Now.Add(t.Take)
	}
	b.t.Fatalf("no %s comes", kind)
	return weld.Task{}
}

func (b *bench) burn(take time.Duration) {
	b.t.Helper()
	b.s.booth.follow(b.d)
	b.d.Now = b.d.Now.Add(b.s.booth.wait(b.d, take))
	b.press("space", "")
	b.d.Now = b.d.Now.Add(take)
	b.press("space", "yes")
}

func TestDeferAndCallUp(t *testing.T) {
	b := newBench(t)
	first := b.until(weld.Fit)
	if said := b.press("d", ""); !strings.Contains(said, "later") {
		t.Errorf("said %q", said)
	}
	second := b.until(weld.Fit)
	if second.Joint == first.Joint {
		t.Fatalf("%s was deferred and is next", first.Joint)
	}
	// a restart finds the same
	again := &bench{t: t, s: New(), d: b.d, n: b.n}
	if got := again.next(); got.ID != b.next().ID {
		t.Errorf("after a restart %s is next, not %s", got.ID, b.next().ID)
	}
	// u sets the tick back, as the bench does it
	b.write(work.Set{Name: lastSetting + b.s.booth.joints[first.Joint], Value: "no"})
	if got := b.next(); got.Joint != first.Joint {
		t.Errorf("taken back, %s is next, not %s", got.Joint, first.Joint)
	}
	// another joint by name, by members, and a wrong name
	last := ""
	for _, j := range b.d.Plan.Weld.Layout.Joints {
		if len(j.Seams) > 0 {
			last = j.ID
		}
	}
	if said := b.press("o", "J99"); !strings.Contains(said, "is no joint") {
		t.Errorf("said %q", said)
	}
	if said := b.press("o", last); !strings.Contains(said, "is next") || b.next().Joint != last {
		t.Errorf("said %q, %s is next, not %s", said, b.next().Joint, last)
	}
	members := strings.Join(b.d.Plan.Weld.Layout.Joints[0].Members, " + ")
	if b.press("o", members); b.next().Joint != b.d.Plan.Weld.Layout.Joints[0].ID {
		t.Errorf("%s is next, not %s", b.next().Joint, members)
	}
	// what is deferred comes in the end: the whole frame gets welded
	b.press("d", "")
	for range 2000 {
		b.s.booth.follow(b.d)
		if b.s.booth.next < 0 {
			break
		}
		if x := b.next(); x.Kind.Burns() {
			b.burn(x.Take)
		} else {
			b.press("space", "")
			b.d.Now = b.d.Now.Add(x.Take)
		}
	}
	for i, done := range b.s.booth.done {
		if !done && b.d.Plan.Weld.Docket.Tasks[i].Kind != weld.Saw {
			t.Errorf("%s was never next", b.d.Plan.Weld.Docket.Tasks[i].ID)
		}
	}
	if said := b.press("o", last); said == "" {
		t.Error("nothing is said where all is welded")
	}
}

// TestTimedAnew: slow arcs lengthen what is left, a trip lowers the budget at once, and arc without a trip gives it back.
func TestTimedAnew(t *testing.T) {
	b := newBench(t)
	b.until(weld.Arc)
	budget := b.s.booth.budget(b.d)
	for range 6 {
		x := b.until(weld.Arc)
		b.burn(x.Take * 3 / 2)
	}
	b.s.booth.follow(b.d)
	if p := b.s.booth.rest.Pace.Value; p < 1.2 || p > 1.5 {
		t.Errorf("pace %g after seams half as long again", p)
	}
	before := b.s.booth.rest.Elapsed
	view := strings.Join(b.s.View(b.d, 120, 40), "\n")
	for _, want := range []string{"planned", "left about", "done about"} {
		if !strings.Contains(view, want) {
			t.Errorf("the screen does not say %q:\n%s", want, view)
		}
	}
	b.press("t", "")
	b.s.booth.follow(b.d)
	if got := b.s.booth.budget(b.d); got.Arc >= budget.Arc || b.s.booth.rest.Elapsed < before {
		t.Errorf("after a trip %v of arc, before it %v; %v left, before it %v", got.Arc, budget.Arc, b.s.booth.rest.Elapsed, before)
	}
	if !strings.Contains(strings.Join(b.s.View(b.d, 120, 40), "\n"), "duty down to 27%") {
		t.Error("the screen does not say that the duty is down")
	}
	for range 200 { // five bursts of arc
		b.s.booth.follow(b.d)
		if b.s.booth.budget(b.d) == budget {
			return
		}
		at := b.d.Now
		b.write(work.ArcOn{Joint: "another job", Amps: 130})
		b.d.Now = at.Add(30 * time.Second)
		b.write(work.ArcOff{Of: work.ID{Writer: 1, Number: b.n}})
		b.d.Now = b.d.Now.Add(5 * time.Minute)
	}
	t.Error("arc without a trip never gives the duty back")
}
