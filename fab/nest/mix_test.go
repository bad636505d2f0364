package nest

import (
	"context"
	"math/rand/v2"
	"testing"
)

// What Solve asks of dives and mixes only where the relaxed job leaves a gap is asked here of every small job, from a bound
// of nothing: no bound may pass the optimum, and in the end they must meet.
func TestMixesAgainstBruteForce(t *testing.T) {
	asked, met := 0, 0
	for seed := range soak(400, 8000) {
		rng := rand.New(rand.NewPCG(uint64(seed), 21))
		p := randomProblem(rng, 2+rng.IntN(3))
		p.Rules.Haul = 0
		want, _ := bruteForce(p)
		m, err := newModel(p)
		if err != nil || !want.ok {
			continue
		}
		e := &engine{ctx: context.Background(), m: m}
		first := &plan{}
		if !m.finish(first, m.newState(), m.effs(), 0, nil) {
			continue
		}
		e.take(first)
		r := e.newRoot(false, e.best.cost)
		if r == nil || want.cost == 0 {
			continue
		}
		asked++
		r.run(e.best.cost, 400, 200_000)
		if seed%2 == 0 {
			r.dives(e.below(e.best.cost))
		}
		e.mixes(r)
		n := e.nest()
		for _, f := range faults(p, &n) {
			t.Errorf("seed %d: %s", seed, f)
		}
		if e.bound > want.cost || e.best.cost < want.cost {
			t.Errorf("seed %d: bound %d, optimum %d, answer %d", seed, e.bound, want.cost, e.best.cost)
		}
		if e.bound == e.best.cost {
			met++
		}
	}
	t.Logf("%d of %d jobs closed by mixes alone", met, asked)
	if met < asked*9/10 {
		t.Errorf("only %d of %d closed", met, asked)
	}
}

// The table is no less than the best filling, and just that where the effs have a common measure.
func TestCeilingAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for round := range 300 {
		items := make([]item, 1+rng.IntN(4))
		order, value, most := make([]int, len(items)), make([]int64, len(items)), make([]int, len(items))
		unit := int64(1)
		if round%2 == 0 {
			unit = 1_587_500
		}
		room := int64(rng.IntN(3000)) * unit
		for i := range items {
			items[i].eff = int64(rng.IntN(1200)) * unit
			order[i], value[i], most[i] = i, int64(rng.IntN(500)-50), rng.IntN(4)
		}
		if round%3 == 0 && unit == 1 {
			room, items[0].eff = room*12345+77, items[0].eff*12345+3 // no common measure: a coarse grid
		}
		c := newCeiling(items, order, value, most, room)
		for at := range items {
			for _, space := range []int64{0, room / 3, room} {
				want := enumerate(items[at:], value[at:], most[at:], space)
				got := c.from(at, space)
				if got < want || c.grid%max(1, unit) == 0 && c.grid <= unit && got != want {
					t.Fatalf("round %d: from %d with room %d at most %d, a filling is worth %d", round, at, space, got, want)
				}
			}
		}
	}
}

func enumerate(items []item, value []int64, most []int, room int64) int64 {
	if len(items) == 0 {
		return 0
	}
	best := int64(0)
	for n := 0; n <= most[0] && int64(n)*items[0].eff <= room; n++ {
		best = max(best, int64(n)*value[0]+enumerate(items[1:], value[1:], most[1:], room-int64(n)*items[0].eff))
	}
	return best
}
