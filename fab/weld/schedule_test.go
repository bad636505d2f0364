package weld

import (
	"fmt"
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// verify is the independent judge of a schedule: it shares no code with the scheduler. It looks at every window that
// begins or ends at an event, at precedence, at overlaps, at the rule that spreads the heat, and at the sums.
func verify(d *Docket, s Schedule) error {
	end := map[int]time.Duration{}
	start := map[int]time.Duration{}
	now := time.Duration(0)
	for k, e := range s.Entries {
		if e.Start != now {
			return fmt.Errorf("entry %d starts at %v, the one before ends at %v", k, e.Start, now)
		}
		now = e.End
		if e.Kind == Rest {
			if e.Task != -1 || e.End <= e.Start {
				return fmt.Errorf("entry %d is no proper rest: %+v", k, e)
			}
			continue
		}
		if _, twice := end[e.Task]; twice {
			return fmt.Errorf("task %d twice", e.Task)
		}
		if e.End-e.Start != d.Tasks[e.Task].Take {
			return fmt.Errorf("task %d takes %v, entry has %v", e.Task, d.Tasks[e.Task].Take, e.End-e.Start)
		}
		start[e.Task], end[e.Task] = e.Start, e.End
	}
	if now != s.Elapsed || s.ArcTime+s.RestSum+s.WorkSum != s.Elapsed {
		return fmt.Errorf("elapsed %v, entries end at %v, sums %v+%v+%v", s.Elapsed, now, s.ArcTime, s.RestSum, s.WorkSum)
	}
	var reach func(i int) []int
	reach = func(i int) []int {
		var all []int
		for _, a := range d.Tasks[i].After {
			if d.Tasks[a].Kind == Gate {
				all = append(all, reach(a)...)
			} else {
				all = append(all, a)
			}
		}
		return all
	}
	for i, t := range d.Tasks {
		if t.Kind == Gate {
			continue
		}
		if _, ok := end[i]; !ok {
			return fmt.Errorf("task %s is missing", t.ID)
		}
		for _, a := range reach(i) {
			if end[a] > start[i] {
				return fmt.Errorf("%s starts at %v before %s is done at %v", t.ID, start[i], d.Tasks[a].ID, end[a])
			}
		}
	}
	arcs := append([]Span(nil), d.Before...)
	for _, e := range s.Entries {
		if e.Kind == Tack || e.Kind == Arc {
			arcs = append(arcs, Span{e.Start, e.End})
		}
	}
	for _, w := range arcs {
		for _, from := range []time.Duration{w.Start, w.End, w.Start - d.Budget.Window, w.End - d.Budget.Window} {
			var sum time.Duration
			for _, a := range arcs {
				if o := min(a.End, from+d.Budget.Window) - max(a.Start, from); o > 0 {
					sum += o
				}
			}
			if sum > d.Budget.Arc {
				return fmt.Errorf("the window from %v holds %v of arc, budget %v", from, sum, d.Budget.Arc)
			}
		}
	}
	if d.Spread {
		last := -1
		for _, e := range s.Entries {
			if e.Kind != Arc {
				continue
			}
			if last >= 0 && d.Tasks[last].Joint == e.Joint {
				for i, t := range d.Tasks {
					if t.Kind != Arc || t.Joint == e.Joint || start[i] < e.End {
						continue
					}
					open := true
					for _, a := range reach(i) {
						open = open && end[a] <= e.Start
					}
					if open {
						return fmt.Errorf("two passes in a row at %s while %s waits", e.Joint, t.ID)
					}
				}
			}
			last = e.Task
		}
	}
	if s.Bound > s.Elapsed {
		return fmt.Errorf("bound %v above elapsed %v", s.Bound, s.Elapsed)
	}
	return nil
}

// randomDocket makes a docket of n seams and a few other tasks, with random precedence.
func randomDocket(r *rand.Rand, seams, others int) *Docket {
	duties := []float64{0.1, 0.2, 0.3, 0.35, 0.6, 1}
	b, err := NewBudget([]time.Duration{600, 300, 600}[r.IntN(3)]*time.Second, duties[r.IntN(len(duties))])
	if err != nil {
		panic(err)
	}
	d := &Docket{Budget: b, Spread: r.IntN(2) == 0}
	longest := max(2, int(b.Arc/time.Second)*(1+r.IntN(4))/4)
	longest = min(longest, 180)
	grid := []int{1, 5, 10}[r.IntN(3)]
	for i := range seams + others {
		t := Task{ID: fmt.Sprint("t", i)}
		if i < seams {
			t.Kind = Arc
			if r.IntN(5) == 0 {
				t.Kind = Tack
			}
			t.Joint = fmt.Sprint("J", r.IntN(4))
			take := max(1, (1+r.IntN(longest))/grid*grid)
			t.Take = min(time.Duration(take)*time.Second, b.Arc)
			t.Place = [3]float64{float64(r.IntN(2000)), float64(r.IntN(1000)), 0}
		} else {
			t.Kind = []Kind{Fit, Clean, Grind, Turn, Saw}[r.IntN(5)]
			t.Take = time.Duration(5+r.IntN(400)) * time.Second
		}
		d.Tasks = append(d.Tasks, t)
	}
	r.Shuffle(len(d.Tasks), func(i, j int) { d.Tasks[i], d.Tasks[j] = d.Tasks[j], d.Tasks[i] })
	p := r.IntN(30)
	for i := range d.Tasks {
		for j := range i {
			if r.IntN(100) < p && (len(d.Tasks) < 20 || j > i-6) {
				d.Tasks[i].After = append(d.Tasks[i].After, j)
			}
		}
	}
	if r.IntN(3) == 0 && len(d.Tasks) > 4 { // a gate in the middle
		h := len(d.Tasks) / 2
		g := Task{ID: "gate"}
		for j := range h {
			g.After = append(g.After, j)
		}
		d.Tasks = append(d.Tasks, g)
		for i := h; i < len(d.Tasks)-1; i++ {
			d.Tasks[i].After = append(d.Tasks[i].After, len(d.Tasks)-1)
		}
	}
	if r.IntN(4) == 0 { // arc from before the plan
		d.Before = []Span{{-b.Arc, 0}}
	}
	return d
}

func TestRandomSchedulesHold(t *testing.T) {
	n := 1000
	if os.Getenv("SOAK") != "" {
		n = 10_000
	}
	proven := 0
	for k := range n {
		r := rand.New(rand.NewPCG(uint64(k), 1))
		d := randomDocket(r, 1+r.IntN(40), r.IntN(40))
		s, err := d.Best(Effort{Nodes: 300, Moves: 20_000})
		if err != nil {
			t.Fatalf("docket %d: %v", k, err)
		}
		if err := verify(d, s); err != nil {
			t.Fatalf("docket %d: %v", k, err)
		}
		if over, at := d.Budget.Excess(append(append([]Span(nil), d.Before...), s.Arcs()...)); over != 0 {
			t.Fatalf("docket %d: Excess gives %v at %v", k, over, at)
		}
		if s.Proven {
			proven++
		}
	}
	t.Logf("%d random dockets hold; %d proven to be quickest", n, proven)
}

// quickest tries every order by plain recursion. Its arcs start at the first moment (now, or any event shifted by a
// window) at which the windows hold; it shares no code with the scheduler.
func quickest(d *Docket) time.Duration {
	best := time.Duration(1 << 62)
	n := len(d.Tasks)
	done := make([]bool, n)
	var left time.Duration
	count := 0
	for _, t := range d.Tasks {
		left += t.Take
		count++
	}
	arcs := append([]Span(nil), d.Before...)
	inWindow := func(end time.Duration) time.Duration {
		var sum time.Duration
		for _, a := range arcs {
			if o := min(a.End, end) - max(a.Start, end-d.Budget.Window); o > 0 {
				sum += o
			}
		}
		return sum
	}
	ready := func(i int) bool {
		for _, a := range d.Tasks[i].After {
			if !done[a] {
				return false
			}
		}
		return true
	}
	var walk func(now time.Duration, lastJoint string, did int)
	walk = func(now time.Duration, lastJoint string, did int) {
		if now+left >= best {
			return
		}
		if did == count {
			best = now
			return
		}
		for i := range d.Tasks { // a gate that may open does so at once
			if !done[i] && d.Tasks[i].Kind == Gate && ready(i) {
				done[i] = true
				walk(now, lastJoint, did+1)
				done[i] = false
				return
			}
		}
		other := false
		for i, t := range d.Tasks {
			other = other || !done[i] && t.Kind == Arc && t.Joint != lastJoint && ready(i)
		}
		for i, t := range d.Tasks {
			if done[i] || !ready(i) || d.Spread && t.Kind == Arc && t.Joint == lastJoint && other {
				continue
			}
			start, last := now, lastJoint
			kept := len(arcs)
			if t.Kind == Arc || t.Kind == Tack {
				// the arc inside the window is flat or falling by one second a second while nothing burns: the first good
				// start is where the excess at an event has run out
				for {
					over := inWindow(start+t.Take) + t.Take - d.Budget.Arc
					if d.Budget.Arc == d.Budget.Window || over <= 0 {
						break
					}
					// step on to the next moment at which the window's rear meets the edge of an arc, or by the excess
					step := time.Duration(1 << 62)
					rear := start + t.Take - d.Budget.Window
					for _, a := range arcs {
						if a.Start > rear {
							step = min(step, a.Start-rear)
						} else if a.End > rear {
							step = min(step, min(a.End-rear, over))
						}
					}
					start += step
				}
				arcs = append(arcs, Span{start, start + t.Take})
			}
			if t.Kind == Arc {
				last = t.Joint
			}
			done[i] = true
			left -= t.Take
			walk(start+t.Take, last, did+1)
			left += t.Take
			done[i] = false
			arcs = arcs[:kept]
		}
	}
	walk(0, "", 0)
	return best
}

func TestSmallDocketsAreOptimal(t *testing.T) {
	n := 200
	if os.Getenv("SOAK") != "" {
		n = 2000
	}
	proven, atBound := 0, 0
	for k := range n {
		r := rand.New(rand.NewPCG(uint64(k), 2))
		d := randomDocket(r, 1+r.IntN(7), r.IntN(3))
		if k%2 == 1 { // every other one hard: little duty, so that the seams do not fit the windows well
			d = randomDocket(r, 5+r.IntN(3), r.IntN(3))
			d.Budget = Budget{600 * time.Second, time.Duration(60+r.IntN(120)) * time.Second}
			d.Before = nil
			for i := range d.Tasks {
				if d.Tasks[i].Kind.Burns() {
					d.Tasks[i].Take = min(d.Budget.Arc, time.Duration(15+r.IntN(120))*time.Second)
				}
			}
		}
		s, err := d.Best(DefaultEffort)
		if err != nil {
			t.Fatal(err)
		}
		if err := verify(d, s); err != nil {
			t.Fatalf("docket %d: %v", k, err)
		}
		want := quickest(d)
		if s.Elapsed != want {
			t.Errorf("docket %d: %v, the best order takes %v", k, s.Elapsed, want)
		}
		if !s.Proven {
			t.Errorf("docket %d: not proven", k)
		} else {
			proven++
		}
		if low, _ := bound(newBook(d)); low == s.Elapsed {
			atBound++
		}
	}
	t.Logf("%d small dockets equal the best of all orders, %d proven, %d of them by the bound alone", n, proven, atBound)
}

// shopDocket is a job of n seams at n/4 joints as a frame shop has them: fit, tack, passes, cleaning.
func shopDocket(r *rand.Rand, seams int, duty float64, low, high int) *Docket {
	b, _ := NewBudget(10*time.Minute, duty)
	d := &Docket{Budget: b, Spread: true}
	gate := Task{ID: "all tacked"}
	joints := (seams + 3) / 4
	for j := range joints {
		name := fmt.Sprint("J", j)
		place := [3]float64{float64(r.IntN(3000)), float64(r.IntN(1500)), 0}
		fit := len(d.Tasks)
		d.Tasks = append(d.Tasks, Task{ID: name + " fit", Kind: Fit, Joint: name, Take: time.Duration(60+r.IntN(120)) * time.Second, Place: place},
			Task{ID: name + " tack", Kind: Tack, Joint: name, Take: 12 * time.Second, After: []int{fit}, Place: place})
		gate.After = append(gate.After, fit+1)
	}
	g := len(d.Tasks)
	d.Tasks = append(d.Tasks, gate)
	for i := range seams {
		j := i / 4
		name := fmt.Sprint("J", j)
		a := len(d.Tasks)
		take := time.Duration(low*1000+r.IntN(1000*(high-low))) * time.Millisecond
		d.Tasks = append(d.Tasks, Task{ID: fmt.Sprint(name, " seam ", i), Kind: Arc, Joint: name, Take: min(take, b.Arc), After: []int{g}, Place: d.Tasks[2*j].Place},
			Task{ID: fmt.Sprint(name, " clean ", i), Kind: Clean, Joint: name, Take: time.Duration(5+r.IntN(20)) * time.Second, After: []int{a}})
	}
	return d
}

func TestLargeJobsNearBound(t *testing.T) {
	for _, c := range []struct {
		duty      float64
		low, high int
	}{{0.2, 5, 25}, {0.2, 10, 60}, {0.3, 10, 60}, {0.3, 5, 120}, {0.1, 5, 40}, {0.6, 20, 90}, {0.3, 85, 100}, {0.2, 40, 110}} {
		var worst float64
		for k := range 2 {
			r := rand.New(rand.NewPCG(uint64(k), 3))
			d := shopDocket(r, 300, c.duty, c.low, c.high)
			s, err := d.Best(DefaultEffort)
			if err != nil {
				t.Fatal(err)
			}
			if err := verify(d, s); err != nil {
				t.Fatal(err)
			}
			gap := float64(s.Elapsed-s.Bound) / float64(s.Bound)
			worst = max(worst, gap)
		}
		t.Logf("duty %g, seams %d-%d s: worst gap %.2f %%", c.duty, c.low, c.high, 100*worst)
		if worst > 0.02 {
			t.Errorf("duty %g, seams %d-%d s: gap %.2f %% exceeds 2 %%", c.duty, c.low, c.high, 100*worst)
		}
	}
}

func BenchmarkBest300(b *testing.B) {
	d := shopDocket(rand.New(rand.NewPCG(1, 3)), 300, 0.3, 10, 60)
	for b.Loop() {
		if _, err := d.Best(DefaultEffort); err != nil {
			b.Fatal(err)
		}
	}
}
