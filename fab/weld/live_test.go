package weld

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

const sec = time.Second

func budget(t testing.TB, window time.Duration, duty float64) Budget {
	t.Helper()
	b, err := NewBudget(window, duty)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestBoothState(t *testing.T) {
	b := budget(t, 600*sec, 0.3) // 180 s
	burns := []Burn{{Start: 0, End: 100 * sec, Planned: 100 * sec}, {Start: 200 * sec, End: 260 * sec}}
	for _, c := range []struct{ now, used, left time.Duration }{
		{260 * sec, 160 * sec, 20 * sec},
		{600 * sec, 160 * sec, 20 * sec},
		{650 * sec, 110 * sec, 70 * sec},
		{700 * sec, 60 * sec, 120 * sec},
		{2000 * sec, 0, 180 * sec},
	} {
		s := b.At(burns, c.now)
		if s.Used != c.used || s.Left != c.left {
			t.Errorf("at %v: used %v, left %v; want %v, %v", c.now, s.Used, s.Left, c.used, c.left)
		}
		// by its definition: the longest arc that may begin now
		if at, _ := b.Ready(burns, c.now, s.Straight); s.Straight > 0 && at != c.now {
			t.Errorf("at %v: %v straight on may begin at %v only", c.now, s.Straight, at)
		}
		if s.Straight < b.Arc {
			if at, _ := b.Ready(burns, c.now, s.Straight+1); at <= c.now {
				t.Errorf("at %v: more than %v could begin now", c.now, s.Straight)
			}
		}
		if at, _ := b.Ready(burns, c.now, b.Arc); at-c.now != s.Cold {
			t.Errorf("at %v: cold in %v, the whole budget may begin in %v", c.now, s.Cold, at-c.now)
		}
	}
	if _, ok := b.Ready(nil, 0, 181*sec); ok {
		t.Error("an arc longer than the budget is promised")
	}
	open := b.At([]Burn{{Start: 10 * sec, Open: true, Planned: 30 * sec}}, 40*sec)
	if !open.Burning || open.Since != 30*sec || open.Used != 30*sec || len(open.Doubts) != 0 {
		t.Errorf("%+v", open)
	}
}

func TestDoubts(t *testing.T) {
	b := budget(t, 600*sec, 0.3)
	for _, c := range []struct {
		burn  Burn
		now   time.Duration
		doubt bool
		guess time.Duration
	}{
		{Burn{Start: 0, End: 60 * sec, Planned: 30 * sec}, 100 * sec, false, 0},
		{Burn{Start: 0, End: 61 * sec, Planned: 30 * sec}, 100 * sec, true, 30 * sec},
		{Burn{Start: 5 * sec, Open: true, Planned: 30 * sec}, 60 * sec, false, 0},
		{Burn{Start: 5 * sec, Open: true, Planned: 30 * sec}, 9 * time.Hour, true, 35 * sec}, // the laptop died
		{Burn{Start: 0, Open: true}, 360 * sec, false, 0},
		{Burn{Start: 0, Open: true}, 361 * sec, true, 180 * sec},
		{Burn{Start: 9 * sec, End: 5 * sec}, 100 * sec, true, 9 * sec},
	} {
		s := b.At([]Burn{c.burn}, c.now)
		if (len(s.Doubts) > 0) != c.doubt || c.doubt && s.Doubts[0].Guess != c.guess {
			t.Errorf("%+v at %v: %+v", c.burn, c.now, s.Doubts)
		}
	}
}

// TestReadyIsEarliest compares with a walk over every second.
func TestReadyIsEarliest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		window := time.Duration(rapid.IntRange(20, 120).Draw(t, "window")) * sec
		b := Budget{window, time.Duration(rapid.IntRange(1, int(window/sec)-1).Draw(t, "budget")) * sec}
		var burns []Burn
		now := time.Duration(0)
		for range rapid.IntRange(0, 8).Draw(t, "burns") {
			now += time.Duration(rapid.IntRange(0, 40).Draw(t, "gap")) * sec
			from := now
			now += time.Duration(rapid.IntRange(1, 40).Draw(t, "arc")) * sec
			burns = append(burns, Burn{Start: from, End: now})
		}
		arc := time.Duration(rapid.IntRange(1, int(b.Arc/sec)).Draw(t, "new")) * sec
		got, ok := b.Ready(burns, now, arc)
		if !ok {
			t.Fatal("not ok")
		}
		in := func(end time.Duration) time.Duration {
			var sum time.Duration
			for _, x := range burns {
				if o := min(x.End, end) - max(x.Start, end-window); o > 0 {
					sum += o
				}
			}
			return sum
		}
		want := now
		for in(want+arc)+arc > b.Arc {
			want += sec
		}
		if got != want {
			t.Fatalf("budget %v: %v arc after %v at %v, want %v", b, arc, burns, got, want)
		}
	})
}

func TestRetime(t *testing.T) {
	for k := range 300 {
		r := rand.New(rand.NewPCG(uint64(k), 9))
		d := randomDocket(r, 2+r.IntN(20), r.IntN(20))
		d.Before = nil
		s, err := d.Best(Effort{Nodes: 200, Moves: 2000})
		if err != nil {
			t.Fatal(err)
		}
		// play the first entries with arcs that take longer or shorter than planned
		done := make([]bool, len(d.Tasks))
		var burns []Burn
		var now time.Duration
		for _, e := range s.Entries[:r.IntN(len(s.Entries))] {
			took := time.Duration(float64(e.End-e.Start) * (0.7 + 0.8*r.Float64()))
			if e.Kind.Burns() {
				burns = append(burns, Burn{Start: now, End: now + took})
			}
			now += took
			if e.Task >= 0 {
				done[e.Task] = true
			}
		}
		for _, keep := range [][]int{nil, s.Order()} {
			rest, again, old, err := d.Retime(done, burns, now, keep, Effort{Nodes: 200, Moves: 2000})
			if err != nil {
				t.Fatalf("docket %d: %v", k, err)
			}
			if len(old) != len(rest.Tasks) {
				t.Fatalf("docket %d: %d ways back for %d tasks", k, len(old), len(rest.Tasks))
			}
			for i, o := range old {
				if rest.Tasks[i].ID != d.Tasks[o].ID || done[o] && rest.Tasks[i].Kind != Gate {
					t.Fatalf("docket %d: task %d is %s, was %s", k, i, rest.Tasks[i].ID, d.Tasks[o].ID)
				}
			}
			// every window that holds an arc still to come keeps the budget (what is burnt cannot be undone)
			all := append(append([]Span(nil), rest.Before...), again.Arcs()...)
			for _, a := range again.Arcs() {
				var sum time.Duration
				for _, x := range all {
					if o := min(x.End, a.End) - max(x.Start, a.End-rest.Budget.Window); o > 0 {
						sum += o
					}
				}
				if sum > rest.Budget.Arc {
					t.Fatalf("docket %d: the window that ends at %v holds %v of %v", k, a.End, sum, rest.Budget.Arc)
				}
			}
			if again.Bound > again.Elapsed {
				t.Fatalf("docket %d: bound %v above %v", k, again.Bound, again.Elapsed)
			}
		}
	}
}

func TestMeanwhile(t *testing.T) {
	d := &Docket{Budget: budget(t, 600*sec, 0.2), Tasks: []Task{
		{ID: "fit", Kind: Fit, Take: 60 * sec}, {ID: "arc", Kind: Arc, Take: 20 * sec, After: []int{0}}, {ID: "clean", Kind: Clean, Take: 10 * sec, After: []int{1}},
		{ID: "gate", After: []int{0}}, {ID: "saw", Kind: Saw, Take: 90 * sec, After: []int{3}}, {ID: "grind", Kind: Grind, Take: 15 * sec, After: []int{3}},
	}}
	names := func(done []bool, free time.Duration) string {
		s := ""
		for _, i := range d.Meanwhile(done, free) {
			s += d.Tasks[i].ID + " "
		}
		return s
	}
	if got := names(nil, time.Minute); got != "fit " {
		t.Errorf("at first: %q", got)
	}
	if got := names([]bool{true}, time.Minute); got != "grind saw " {
		t.Errorf("fitted: %q", got)
	}
	if got := names([]bool{true, true}, 2*time.Minute); got != "saw grind clean " {
		t.Errorf("welded: %q", got)
	}
}

func TestDays(t *testing.T) {
	d := shopDocket(rand.New(rand.NewPCG(4, 3)), 80, 0.2, 10, 60)
	s, err := d.Best(DefaultEffort)
	if err != nil {
		t.Fatal(err)
	}
	const hours, watch = 3 * time.Hour, 30 * time.Minute
	days := d.Days(s.Order(), hours, watch)
	var order []int
	for n, day := range days {
		var arcs []Span
		var now time.Duration
		for _, e := range day.Entries {
			if e.Start != now {
				t.Errorf("day %d: entry at %v after %v", n, e.Start, now)
			}
			now = e.End
			if e.Task >= 0 {
				order = append(order, e.Task)
			}
			if e.Kind.Burns() {
				arcs = append(arcs, Span{e.Start, e.End})
			}
		}
		if now > hours || day.End != now {
			t.Errorf("day %d ends at %v", n, now)
		}
		if day.LastArc+watch > hours || day.LastArc > 0 && day.Watch != day.LastArc+watch {
			t.Errorf("day %d: last arc %v, watch until %v", n, day.LastArc, day.Watch)
		}
		if over, at := d.Budget.Excess(arcs); over > 0 {
			t.Errorf("day %d: %v over the budget in the window from %v", n, over, at)
		}
	}
	if !slices.Equal(order, s.Order()) {
		t.Error("the days do another order than the plan")
	}
	if least := int(s.Elapsed / hours); len(days) < least {
		t.Errorf("%d days for %v", len(days), s.Elapsed)
	}
	if one := d.Days(s.Order(), 1000*time.Hour, watch); len(one) != 1 || one[0].End != s.Elapsed {
		t.Errorf("one long day: %d days, end %v, elapsed %v", len(one), one[0].End, s.Elapsed)
	}
}

func ExampleBudget_At() {
	b, _ := NewBudget(10*time.Minute, 0.3)
	s := b.At([]Burn{{Start: 0, End: 150 * time.Second}}, 200*time.Second)
	fmt.Println(s.Left, s.Straight, s.Cold)
	when, _ := b.Ready([]Burn{{Start: 0, End: 150 * time.Second}}, 200*time.Second, 60*time.Second)
	fmt.Println(when - 200*time.Second)
	// Output:
	// 30s 30s 6m10s
	// 6m10s
}

// TestShortDays: in evenings of half an hour the fire watch comes on top, rather than taking all of the time.
func TestShortDays(t *testing.T) {
	p := planOf(t, rack)
	order := p.Schedule.Order()
	evenings := p.Docket.Days(order, 30*time.Minute, 30*time.Minute)
	if n := len(evenings); n < 2 || n > 4 {
		t.Errorf("%v of work in %d evenings of half an hour", p.Schedule.Elapsed, n)
	}
	for _, d := range evenings {
		if d.End > 30*time.Minute || d.LastArc > 0 && d.Watch != d.LastArc+30*time.Minute {
			t.Errorf("an evening until %v, last arc %v, watch until %v", d.End, d.LastArc, d.Watch)
		}
	}
	for _, d := range p.Docket.Days(order, 2*time.Hour, 30*time.Minute) {
		if d.Watch > 2*time.Hour {
			t.Errorf("the watch of a day of two hours runs until %v", d.Watch)
		}
	}
}
