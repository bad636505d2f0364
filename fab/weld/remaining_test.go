package weld

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// started gives the progress of a plan of which the first n entries went exactly as planned, now being the end of the last.
func started(p *Plan, n int) (Progress, time.Duration) {
	x := Progress{Done: make([]bool, len(p.Docket.Tasks))}
	x.Burns = []Burn{{Start: p.Docket.Before[0].Start, End: p.Docket.Before[0].End}}
	for _, e := range p.Schedule.Entries[:n] {
		x.Now = e.End
		if e.Task < 0 {
			continue
		}
		x.Done[e.Task] = true
		if e.Kind.Burns() {
			x.Burns = append(x.Burns, Burn{Start: e.Start, End: e.End})
			x.Real, x.Plan, x.Count = x.Real+e.End-e.Start, x.Plan+e.End-e.Start, x.Count+1
		}
	}
	return x, x.Now
}

// TestRemainingAsPlanned: where all goes as planned, what is left ends when the plan said, at every moment.
func TestRemainingAsPlanned(t *testing.T) {
	p := planOf(t, strings.Replace(rack, `amps = 110`, `amps = 130`, 1))
	for n := 0; n < len(p.Schedule.Entries); n += 7 {
		x, now := started(p, n)
		r, err := p.Remaining(x)
		if err != nil {
			t.Fatal(err)
		}
		if d := now + r.Elapsed - p.Schedule.Elapsed; d > time.Millisecond || d < -time.Millisecond {
			t.Errorf("after %d entries the rest ends %v later than planned", n, d)
		}
		if r.Pace.Value != 1 || r.Bound > r.Elapsed {
			t.Errorf("pace %g, bound %v, elapsed %v", r.Pace.Value, r.Bound, r.Elapsed)
		}
	}
}

func TestRemainingFollowsWhatHappened(t *testing.T) {
	p := planOf(t, strings.Replace(rack, `amps = 110`, `amps = 130`, 1))
	x, _ := started(p, len(p.Schedule.Entries)/2)
	base, err := p.Remaining(x)
	if err != nil {
		t.Fatal(err)
	}
	slow := x
	slow.Real = x.Plan * 5 / 4
	r, err := p.Remaining(slow)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Pace.Value-1.25) > 1e-9 || math.Abs(r.Arc.Seconds()/base.Arc.Seconds()-1.25) > 1e-6 || r.Elapsed <= base.Elapsed {
		t.Errorf("pace %g, arc %v after %v, elapsed %v after %v", r.Pace.Value, r.Arc, base.Arc, r.Elapsed, base.Elapsed)
	}
	// a trip lowers the duty, arc without a trip gives it back
	trip := x
	trip.Trips = Trips{Count: 1}
	low, err := p.Remaining(trip)
	if err != nil {
		t.Fatal(err)
	}
	trip.Trips.Since = time.Duration(regain*p.PlateDuty.Value*float64(p.Budget.Window)) + time.Second
	back, err := p.Remaining(trip)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(low.Duty.Value-0.9*base.Duty.Value) > 1e-12 || low.Elapsed <= base.Elapsed || back.Elapsed != base.Elapsed {
		t.Errorf("duty %g, %g, %g; elapsed %v, %v, %v", base.Duty.Value, low.Duty.Value, back.Duty.Value, base.Elapsed, low.Elapsed, back.Elapsed)
	}
	// idling for a window cools the machine, but costs no less in all
	idle := x
	idle.Now += p.Budget.Window
	r, err = p.Remaining(idle)
	if err != nil {
		t.Fatal(err)
	}
	if r.Elapsed > base.Elapsed || idle.Now+r.Elapsed < x.Now+base.Elapsed {
		t.Errorf("after a window of nothing %v are left, before it %v", r.Elapsed, base.Elapsed)
	}
	// a task that burnt half of its time takes half
	half := x
	half.Spent = make([]time.Duration, len(p.Docket.Tasks))
	for _, i := range base.Order {
		if p.Docket.Tasks[i].Kind == Arc {
			half.Spent[i] = p.Docket.Tasks[i].Take / 2
			r, err = p.Remaining(half)
			if d := base.Arc - r.Arc - p.Docket.Tasks[i].Take/2; err != nil || d > time.Microsecond || d < -time.Microsecond {
				t.Errorf("arc %v, was %v, half a seam is %v: %v", r.Arc, base.Arc, p.Docket.Tasks[i].Take/2, err)
			}
			break
		}
	}
	for _, f := range []interface{ Check() error }{low.Duty, r.Pace} {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
	}
}

// TestRemainingKeepsTheRules: at random moments, with random moves up and down, the rest holds every rule of the docket.
func TestRemainingKeepsTheRules(t *testing.T) {
	p := planOf(t, strings.Replace(rack, `amps = 110`, `amps = 130`, 1))
	for k := range 60 {
		r := rand.New(rand.NewPCG(uint64(k), 9))
		x, _ := started(p, r.IntN(len(p.Schedule.Entries)))
		x.Rank = make([]int, len(p.Docket.Tasks))
		first, last := "", ""
		for _, task := range p.Docket.Tasks {
			if task.Joint != "" && r.IntN(40) == 0 {
				first = task.Joint
			}
			if task.Joint != "" && r.IntN(40) == 0 {
				last = task.Joint
			}
		}
		for i, task := range p.Docket.Tasks {
			switch {
			case task.Joint == "":
			case task.Joint == first:
				x.Rank[i] = -1
			case task.Joint == last:
				x.Rank[i] = 1
			}
		}
		rest, err := p.Remaining(x)
		if err != nil {
			t.Fatalf("%d: %v", k, err)
		}
		at := make([]int, len(p.Docket.Tasks))
		for n, i := range rest.Order {
			at[i] = n + 1
		}
		var before func(i int) []int
		before = func(i int) (all []int) {
			for _, a := range p.Docket.Tasks[i].After {
				if p.Docket.Tasks[a].Kind == Gate {
					all = append(all, before(a)...)
				} else {
					all = append(all, a)
				}
			}
			return all
		}
		n := 0
		for i, task := range p.Docket.Tasks {
			if task.Kind == Gate || x.Done[i] {
				continue
			}
			n++
			if at[i] == 0 {
				t.Fatalf("%d: %s is left out", k, task.ID)
			}
			for _, a := range before(i) {
				if !x.Done[a] && at[a] > at[i] {
					t.Fatalf("%d: %s before %s", k, task.ID, p.Docket.Tasks[a].ID)
				}
			}
		}
		if n != len(rest.Order) {
			t.Errorf("%d: %d tasks left, %d in the order", k, n, len(rest.Order))
		}
		// what was moved down comes only when nothing of another rank could
		if last != "" && last != first {
			done := append([]bool(nil), x.Done...)
			for n, i := range rest.Order {
				if x.Rank[i] > 0 {
					for _, j := range rest.Order[n+1:] {
						open := x.Rank[j] <= 0
						for _, a := range before(j) {
							open = open && done[a]
						}
						if open {
							t.Fatalf("%d: %s comes while %s could", k, p.Docket.Tasks[i].ID, p.Docket.Tasks[j].ID)
						}
					}
				}
				done[i] = true
			}
		}
	}
}

// BenchmarkRemaining times what the booth does with each entry of a job of some 300 seams.
func BenchmarkRemaining(b *testing.B) {
	p := planOf(b, strings.Replace(strings.Replace(rack, "count = 5", "count = 33", 1), `length = "96in"`, `length = "40ft"`, 1))
	x, _ := started(p, len(p.Schedule.Entries)/3)
	for b.Loop() {
		if _, err := p.Remaining(x); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(p.Docket.Tasks)), "tasks")
}
