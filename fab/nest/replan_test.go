package nest

import (
	"context"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/measure"
)

// Whatever the job: the bound is no more than the optimum that trying everything finds, the answer no less, and what
// cannot be built is refused.
func TestBoundOptimumAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomProblem(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 9)), rapid.IntRange(1, 4).Draw(t, "pieces"))
		want, fewest := bruteForce(p)
		last := Nest{Cost: measure.MaxMoney * 1000}
		n, err := Solve(context.Background(), *p, Options{Effort: -1, Progress: func(n Nest) {
			if n.BoundCost < last.BoundCost || n.Cost > last.Cost || int64(n.BoundCost) > want.cost || int64(n.Cost) < want.cost {
				t.Fatalf("on the way from %d..%d to %d..%d, optimum %d", last.BoundCost, last.Cost, n.BoundCost, n.Cost, want.cost)
			}
			last = n
		}})
		if (err == nil) != want.ok {
			t.Fatalf("%v, but a nest exists: %v", err, want.ok)
		}
		if err != nil {
			return
		}
		if int64(n.BoundCost) > want.cost || int64(n.Cost) < want.cost || n.Proven != (n.BoundCost == n.Cost) || n.BoundBars > fewest {
			t.Fatalf("bound %d, optimum %d, answer %d, proven %v; at least %d sticks, fewest %d", n.BoundCost, want.cost, n.Cost, n.Proven, n.BoundBars, fewest)
		}
		for _, f := range faults(p, &n) {
			t.Fatal(f)
		}
	})
}

// rest is what is left to plan of a job when the first cuts of its first stick are done: the pieces not cut yet, and that
// stick as a trimmed drop on hand, up to the last cut and its kerf.
func rest(p *Problem, n *Nest, done int) Problem {
	q := *p
	q.Kinds = append([]Kind(nil), p.Kinds...)
	q.Sticks = append([]Stick(nil), p.Sticks...)
	u := &n.Used[0]
	for _, c := range u.Cuts[:done] {
		q.Kinds[c.Kind].Qty--
	}
	last := u.Cuts[done-1]
	from := p.Sticks[u.Stick]
	// The fresh end has the plane of the last cut, kerf/cos beyond it: its tip is where that plane comes nearest.
	_, hi := bounds(last.Lay.Right.corners(&p.Rules))
	lo, _ := bounds(last.Lay.Right.corners(&p.Rules))
	begin := int64(last.To) - hi + lo + int64(alongStick(float64(p.Rules.Kerf), last.Lay.Right)+0.5)
	q.Sticks = append(q.Sticks, Stick{Length: from.Length - measure.Length(begin), OnHand: true, Limit: 1, Trimmed: true,
		Ends: []Lay{{Left: last.Lay.Right, Right: u.Ends.Right}}})
	if l := q.Sticks[u.Stick].Limit; l == 1 {
		q.Sticks = append(q.Sticks[:u.Stick], q.Sticks[u.Stick+1:]...)
	} else if l > 1 {
		q.Sticks[u.Stick].Limit--
	}
	return q
}

// After any cut the rest of a proven plan is still a plan of the rest: planned anew it costs no more than the first plan
// less the stick that is open already, and no piece is cut twice or lost.
func TestPlannedAnewAfterACut(t *testing.T) {
	held := 0
	for seed := range uint64(60) {
		p := mitredJob(rand.New(rand.NewPCG(seed, 77)), 6)
		n, err := Solve(context.Background(), *p, Options{Effort: -1})
		if err != nil || !n.Proven {
			t.Fatal(seed, err, n.Proven)
		}
		pieces := func(n *Nest) (k int) {
			for _, u := range n.Used {
				k += len(u.Cuts)
			}
			return k
		}
		for done := 1; done <= len(n.Used[0].Cuts); done++ {
			q := rest(p, &n, done)
			again, err := Solve(context.Background(), q, Options{Effort: -1})
			if err != nil {
				t.Fatalf("seed %d after %d cuts: %v", seed, done, err)
			}
			for _, f := range faults(&q, &again) {
				t.Errorf("seed %d after %d cuts: %s", seed, done, f)
			}
			paid := p.Sticks[n.Used[0].Stick].Price
			if again.Cost > n.Cost-paid || pieces(&again) != pieces(&n)-done {
				t.Errorf("seed %d after %d cuts: the rest costs %v for %d pieces, the plan had %v for %d", seed, done, again.Cost, pieces(&again), n.Cost-paid, pieces(&n)-done)
			}
			held++
		}
	}
	t.Logf("%d times planned anew", held)
}
