package cutstock

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
)

// The cheapest mix is held against all mixes of small stocks.
func TestCheapestMix(t *testing.T) {
	empty, found := 0, 0
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 3))
		in := &inst{}
		for range 2 + r.IntN(3) {
			in.stocks = append(in.stocks, bin{cost: int64(r.IntN(9)), hi: r.IntN(5)})
		}
		n := len(in.stocks)
		var covers []cover
		for range 1 + r.IntN(3) {
			c := cover{need: int64(r.IntN(60))}
			for range n {
				c.have = append(c.have, int64(r.IntN(12)))
			}
			covers = append(covers, c)
		}
		var none [][]int64
		for range r.IntN(4) {
			var w []int64
			for _, b := range in.stocks {
				if b.cost == 0 {
					w = append(w, int64(b.hi))
				} else {
					w = append(w, int64(r.IntN(b.hi+1)))
				}
			}
			none = append(none, w)
		}
		from, stop := int64(r.IntN(10)), int64(10+r.IntN(60))
		within := func(y, w []int64) bool {
			for k := range y {
				if y[k] > w[k] {
					return false
				}
			}
			return true
		}
		holds := func(y []int64) bool {
			for _, c := range covers {
				var sum int64
				for k, v := range y {
					sum += v * c.have[k]
				}
				if sum < c.need {
					return false
				}
			}
			return !slices.ContainsFunc(none, func(w []int64) bool { return within(y, w) })
		}
		want := stop
		y := make([]int64, n)
		var walk func(k int, sum int64)
		walk = func(k int, sum int64) {
			if k == n {
				if sum >= from && sum < want && holds(y) {
					want = sum
				}
				return
			}
			for c := range in.stocks[k].hi + 1 {
				y[k] = int64(c)
				walk(k+1, sum+int64(c)*in.stocks[k].cost)
			}
		}
		walk(0, 0)
		got, cost, ok := cheapestMix(in, covers, none, from, stop)
		if !ok || cost != want {
			t.Fatalf("seed %d: cost %d ok %v, the cheapest of all is %d", seed, cost, ok, want)
		}
		if got == nil {
			empty++
			continue
		}
		found++
		var sum int64
		for k, v := range got {
			sum += v * in.stocks[k].cost
		}
		if sum != cost || !holds(got) {
			t.Fatalf("seed %d: mix %v costs %d, said %d; holds %v", seed, got, sum, cost, holds(got))
		}
	}
	if empty < 100 || found < 100 {
		t.Errorf("only %d without and %d with a mix: the draw tests nothing", empty, found)
	}
}

// A cover made of any values holds for the sticks of every plan: here for the plans of the greedy methods.
func TestJudgedMixHoldsForPlans(t *testing.T) {
	held, tight := 0, 0
	for seed := range uint64(60) {
		s := &solver{p: shopJob(seed), ctx: context.Background()}
		s.c = reduce(s.p)
		if len(s.c.size) == 0 || len(s.c.stocks) < 2 {
			continue
		}
		s.in = s.c.inst()
		p := quick(s.in)
		if p == nil {
			continue
		}
		m := newMaster(s.in)
		r := rand.New(rand.NewPCG(seed, 4))
		pi := make([]int64, len(s.in.size))
		for k, v := range s.in.size {
			pi[k] = v*1000/s.in.stocks[0].cap + r.Int64N(30)
		}
		cv, ok := m.judgeMix(pi, make([]int64, len(s.in.stocks)))
		if !ok {
			t.Fatalf("seed %d: no cover", seed)
		}
		var sum int64
		for _, u := range p.uses {
			sum += cv.have[u.stock] * int64(u.times)
		}
		if sum < cv.need {
			t.Errorf("seed %d: a plan's sticks are worth %d, its pieces %d", seed, sum, cv.need)
		}
		held++
		if sum < cv.need*13/10 {
			tight++
		}
	}
	if held < 40 || tight == 0 {
		t.Errorf("%d plans held, %d of them close: the draw tests nothing", held, tight)
	}
}
