package cutstock

import (
	"context"
	"math"
	"slices"
)

const (
	mixesMost = 60  // mixes asked about before the general search takes over
	mixDives  = 4   // dives for one mix
	mixNodes  = 200 // tree nodes for one mix
	laxMix    = 13  // how lax the pricing for mixes is (see pricer)
)

// mixes turns the search round for several lengths with prices: what costs is how many sticks of each kind are taken, so
// it goes through these mixes from the cheapest upwards and asks of each whether the pieces go into it. A no by the duals
// is a cover, which forbids other mixes as well; a no by search forbids the mix and all within it. The cheapest mix that
// nothing forbids bounds the cost, and the first that holds the pieces is the answer. Where a question is too hard, the
// dives and the tree go on from the bound so far.
func (s *solver) mixes() {
	if len(s.in.stocks) < 2 || s.m.sc.down > 0 || s.m.last == nil {
		return
	}
	covers := []cover{s.m.metal()}
	if cv, ok := s.m.judgeMix(s.m.last, s.m.lastTop); ok {
		covers = append(covers, cv)
	}
	var none [][]int64
	for t := 0; t < mixesMost && !s.done() && !s.ended(); t++ {
		y, cost, ok := cheapestMix(s.in, covers, none, s.bound, s.upper)
		if !ok {
			return
		}
		s.raise(cost)
		if y == nil && s.best == nil {
			s.bound = maxTotal
		}
		if y == nil || s.done() {
			return
		}
		m := s.m.within(y)
		if s.o.Rounds > 0 {
			m.most = s.o.Rounds - s.m.rounds
		}
		out := m.generate(s.ctx, cost+1)
		if out == converged {
			s.offer(m.round(cost + 1))
			for v := 0; v < mixDives && !s.done() && !s.ended(); v++ {
				s.offer(m.dive(s.ctx, cost+1, v))
			}
		}
		s.m.rounds += m.rounds
		if s.done() || out == stopped {
			return
		}
		if out == converged && m.pr.lax > 0 {
			m.pr.lax = 0
			had := m.rounds
			out = m.generate(s.ctx, cost+1)
			s.m.rounds += m.rounds - had
		}
		if out == stopped {
			return
		}
		if out == pruned {
			none = append(none, y)
			if cv, ok := s.m.judgeMix(m.last, m.lastTop); ok {
				covers = append(covers, cv)
			}
			continue
		}
		sub := &solver{c: s.c, in: m.in, ctx: s.ctx, upper: cost + 1, lowest: cost + 1, m: m}
		sub.o.Nodes = mixNodes
		if s.o.Nodes > 0 {
			sub.o.Nodes = min(mixNodes, s.o.Nodes-s.nodes)
		}
		had := m.rounds
		if s.o.Rounds > 0 {
			sub.o.Rounds = had + s.o.Rounds - s.m.rounds
		}
		sub.tree()
		s.nodes += sub.nodes
		s.m.rounds += m.rounds - had
		s.offer(sub.best)
		if sub.best == nil && sub.bound < maxTotal {
			return
		}
		none = append(none, y)
	}
}

// within is a master with at most y[k] sticks of each stock, started from the columns of m.
func (m *master) within(y []int64) *master {
	in := *m.in
	in.stocks = slices.Clone(m.in.stocks)
	for k := range in.stocks {
		in.stocks[k].hi, in.stocks[k].free = int(y[k]), false
	}
	to := make([]int32, len(in.size))
	for i := range to {
		to[i] = int32(i)
	}
	sub := m.open(child{&in, to, -1, -1, -1}, 0).start()
	sub.pr.tab, sub.pr.lax = m.pr.tab, m.pr.lax
	return sub
}

// judgeMix makes a cover of integer duals: what a stick of each kind can be worth at most against what the pieces are
// worth. floor is what a search of some stocks has found already.
func (m *master) judgeMix(pi, floor []int64) (cover, bool) {
	least := slices.Clone(floor)
	for k, v := range least {
		least[k] = max(v, m.sc.cost[k]/2)
	}
	cv := cover{}
	for k, v := range pi {
		cv.need += v * int64(m.in.dem[k])
	}
	m.pr.ctx = context.Background()
	m.pr.load(m.in, pi, m.in.dem, false)
	cv.have, _, _ = m.pr.price(least, 0)
	most := int64(1)
	for k, b := range m.in.stocks {
		// A single stick covers no more than all.
		cv.have[k] = min(cv.have[k], cv.need)
		most += int64(b.hi)
	}
	return cv, cv.need > 0 && cv.need < math.MaxInt64/4/most
}

// cheapestMix returns the cheapest stick counts of cost from up to below stop that satisfy all covers and lie within none
// of the forbidden mixes; sticks that cost nothing are all there. y is nil where there are none, ok false where the
// search was too long.
func cheapestMix(in *inst, covers []cover, none [][]int64, from, stop int64) (y []int64, cost int64, ok bool) {
	var order []int // stocks that cost something
	at := make([]int64, len(in.stocks))
	need := make([]int64, len(covers))
	for i, cv := range covers {
		need[i] = cv.need
	}
	for k, b := range in.stocks {
		if b.cost > 0 {
			order = append(order, k)
			continue
		}
		at[k] = int64(b.hi)
		for i, cv := range covers {
			need[i] -= cv.have[k] * at[k]
		}
	}
	// ratio[n][i] is the least cost for a unit of cover i among the stocks order[n:].
	ratio := make([][]float64, len(order)+1)
	for n := range ratio {
		ratio[n] = make([]float64, len(covers))
		for i, cv := range covers {
			ratio[n][i] = math.Inf(1)
			for _, k := range order[n:] {
				if b := in.stocks[k]; b.hi > 0 && cv.have[k] > 0 {
					ratio[n][i] = min(ratio[n][i], float64(b.cost)/float64(cv.have[k]))
				}
			}
		}
	}
	best := stop
	steps := 300000
	forbidden := func() bool {
		for _, w := range none {
			inside := true
			for k, v := range at {
				if v > w[k] {
					inside = false
					break
				}
			}
			if inside {
				return true
			}
		}
		return false
	}
	rest := make([][]int64, len(order)+1)
	for n := range rest {
		rest[n] = make([]int64, len(covers))
	}
	copy(rest[0], need)
	var dfs func(n int, sum int64)
	dfs = func(n int, sum int64) {
		if steps--; steps < 0 || sum >= best {
			return
		}
		for i, v := range rest[n] {
			// A hair lower, so that the bound stays one in float64.
			if v > 0 && float64(sum)+ratio[n][i]*float64(v)*(1-1e-9) > float64(best)-1+1e-6 {
				return
			}
		}
		if n == len(order) {
			if sum >= from && !forbidden() {
				best = sum
				y = slices.Clone(at)
			}
			return
		}
		k := order[n]
		b := in.stocks[k]
		for c := min(int64(b.hi), (best-1-sum)/b.cost); c >= 0 && best > from; c-- {
			at[k] = c
			for i, v := range rest[n] {
				rest[n+1][i] = v - c*covers[i].have[k]
			}
			dfs(n+1, sum+c*b.cost)
		}
		at[k] = 0
	}
	dfs(0, 0)
	return y, best, steps >= 0
}
