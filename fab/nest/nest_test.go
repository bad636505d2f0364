package nest

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
)

// Two sides of a mitred frame share one 45-degree cut of a 20-foot stick; 1/32 in longer they do not fit.
func TestSharedCut(t *testing.T) {
	for _, c := range []struct {
		long float64
		bars int
	}{{121 + 3.0/16, 1}, {121 + 7.0/32, 2}} {
		p := Problem{
			Kinds:  []Kind{{Length: inches(c.long), Qty: 2, Lays: LaysOf(45, 45, Depth, Rectangular)}},
			Sticks: []Stick{{Length: inches(240)}},
			Rules:  Rules{Kerf: inches(1.0 / 16), Depth: inches(2.5)},
		}
		n, err := Solve(context.Background(), p, Options{})
		if err != nil || n.Bars != c.bars || !n.Proven {
			t.Errorf("%g in: %d sticks, proven %v, %v; want %d", c.long, n.Bars, n.Proven, err, c.bars)
		}
	}
}

func TestErrorsNameThePiece(t *testing.T) {
	for _, c := range []struct {
		why  string
		p    Problem
		want string
	}{
		{"too long after the trim", Problem{Kinds: []Kind{{Name: "A", Length: inches(240), Qty: 1}}, Sticks: []Stick{{Length: inches(240)}}, Rules: Rules{Trim: 1}}, "piece A: 6096 mm long"},
		{"limits", Problem{Kinds: []Kind{{Name: "B", Length: inches(100), Qty: 3}}, Sticks: []Stick{{Length: inches(240), Limit: 1}}}, "piece B: the sticks that there are"},
		{"cuts cross", Problem{Kinds: []Kind{{Name: "C", Length: inches(2), Qty: 1, Lays: LaysOf(45, 45, Depth, Rectangular)}}, Sticks: []Stick{{Length: inches(240)}}, Rules: Rules{Depth: inches(2)}}, "piece C: 50.8 mm from tip to tip is too short"},
		{"no stick", Problem{Kinds: []Kind{{Name: "D", Length: 1, Qty: 1}}}, "no stick to cut it from"},
		{"one stick for all", Problem{Kinds: []Kind{{Name: "E", Length: inches(100), Qty: 3, Same: "leg"}}, Sticks: []Stick{{Length: inches(240)}}}, `must come from one stick ("leg")`},
	} {
		_, err := Solve(context.Background(), c.p, Options{})
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.why, err)
		}
	}
}

// A context that has ended still gives the first nest, and progress never gets worse.
func TestCancelKeepsTheBest(t *testing.T) {
	for _, c := range mitreCases(t) {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		n, err := Solve(ctx, c.p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults(&c.p, &n) {
			t.Error(c.name, f)
		}
		last := Nest{Cost: measure.MaxMoney * 1000}
		if _, err := Solve(context.Background(), c.p, Options{Progress: func(n Nest) {
			if n.Cost > last.Cost || n.BoundCost < last.BoundCost || n.BoundCost > n.Cost {
				t.Errorf("%s: from %d..%d to %d..%d", c.name, last.BoundCost, last.Cost, n.BoundCost, n.Cost)
			}
			last = n
		}}); err != nil {
			t.Fatal(err)
		}
	}
}

// Asked for few patterns, the nest is as good and has no more of them.
func TestFewPatterns(t *testing.T) {
	for _, c := range shopCases(t) {
		n, err := Solve(context.Background(), c.p, Options{Effort: -1})
		few, err2 := Solve(context.Background(), c.p, Options{Effort: -1, FewPatterns: true})
		if err != nil || err2 != nil || few.Cost != n.Cost || few.Patterns > n.Patterns || few.Material.Value > n.Material.Value+tolerance {
			t.Errorf("%s: %v %v, cost %s and %s, patterns %d and %d", c.name, err, err2, n.Cost, few.Cost, n.Patterns, few.Patterns)
		}
		for _, f := range faults(&c.p, &few) {
			t.Error(c.name, f)
		}
	}
}

func ExampleSolve() {
	p := Problem{
		Kinds: []Kind{
			{Name: "side", Length: 96 * measure.Inch, Qty: 2, Lays: LaysOf(45, 45, Width, Rectangular)},
			{Name: "end", Length: 48 * measure.Inch, Qty: 2, Lays: LaysOf(45, 45, Width, Rectangular)},
			{Name: "bar", Length: 45 * measure.Inch, Qty: 5},
		},
		Sticks: []Stick{{Length: 20 * measure.Foot, Price: 34_5000}, {Length: 24 * measure.Foot, Price: 41_0000}},
		Rules:  Rules{Kerf: measure.Inch / 16, Depth: 5 * measure.Inch / 2, Width: 3 * measure.Inch / 2},
	}
	n, err := Solve(context.Background(), p, Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(n.Bars, "sticks for", n.Cost, "proven:", n.Proven)
	// Output: 2 sticks for 75.50 proven: true
}

// TestLargeDualsEnd: jobs whose relaxation had duals so large that the simplex method went round for ever in their last digits.
func TestLargeDualsEnd(t *testing.T) {
	for _, seed := range []uint64{73, 88} {
		n, err := Solve(context.Background(), shopJob(seed), Options{})
		if err != nil || !n.Proven {
			t.Errorf("seed %d: proven %v, %v", seed, n.Proven, err)
		}
	}
}
