package cutstock

import (
	"math"
	"slices"
)

// branch rounds the LP solution of m and pushes the two sides of a branching, the one to be searched first last.
func (s *solver) branch(m *master, depth int, stack *[]node) {
	if p := m.round(s.upper); p != nil {
		s.offer(m.in.raw(p))
		if m.bound >= s.upper {
			return
		}
	}
	sup := m.support()
	// The number of sticks of a kind.
	bestK, bestF, bestY := -1, 1e-4, 0.0
	for k := range m.in.stocks {
		y := 0.0
		for _, sh := range sup {
			if int(m.cols[sh.col].stock) == k {
				y += sh.x
			}
		}
		if f := math.Min(y-math.Floor(y), math.Ceil(y)-y); f > bestF && len(m.in.stocks) > 1 {
			bestK, bestF, bestY = k, f, y
		}
	}
	if bestK >= 0 {
		id := func(in *inst) child {
			to := make([]int32, len(in.size))
			for i := range to {
				to[i] = int32(i)
			}
			return child{in, to, -1, -1, -1}
		}
		lo, hi := *m.in, *m.in
		lo.stocks, hi.stocks = m.in.copyStocks(), m.in.copyStocks()
		hi.stocks[bestK].lo = int(math.Ceil(bestY))
		lo.stocks[bestK].hi = int(math.Floor(bestY))
		lo.stocks[bestK].free = false
		down, up := m.open(id(&lo), depth+1), m.open(id(&hi), depth+1)
		if bestY-math.Floor(bestY) > 0.5 {
			*stack = append(*stack, down, up)
		} else {
			*stack = append(*stack, up, down)
		}
		return
	}
	a, b, ok := m.pair(sup)
	if !ok {
		// Integral: the plan of round is this solution, unless the numbers deceive; then the node stays open.
		if m.artificial() < 1e-4 {
			s.settle(m, sup)
		} else {
			s.leave(m.bound)
		}
		return
	}
	*stack = append(*stack, m.open(m.in.apart(a, b), depth+1), m.open(m.in.together(a, b), depth+1))
}

// settle makes a plan of an LP solution that no pair of pieces splits: whole columns as they are, and for what is
// split between stocks alone the pieces, largest first, each to the shortest stick left that holds it. The stick
// counts are whole, so this loses nothing (the choices are nested). Where the numbers deceive the node stays open.
func (s *solver) settle(m *master, sup []share) {
	p := &plan{}
	left := slices.Clone(m.in.dem)
	spare := make([]float64, len(m.in.stocks))
	put := func(stock int32, takes []take) {
		var t []take
		for _, x := range takes {
			if v := min(x.n, left[x.k]); v > 0 {
				t = append(t, take{x.k, v})
				left[x.k] -= v
			}
		}
		if t != nil {
			p.uses = append(p.uses, use{pattern{stock, t}, 1})
			p.cost += m.in.stocks[stock].cost
		}
	}
	for _, sh := range sup {
		c := m.cols[sh.col]
		n := math.Floor(sh.x + 1e-4)
		for i := 0; i < int(n); i++ {
			put(c.stock, c.takes)
		}
		spare[c.stock] += sh.x - n
	}
	for k := range left {
		for left[k] > 0 {
			at := -1
			for q, b := range m.in.stocks {
				if spare[q] > 0.5 && b.cap >= m.in.size[k] && (at < 0 || b.cap <= m.in.stocks[at].cap) {
					at = q
				}
			}
			if at < 0 {
				s.leave(m.bound)
				return
			}
			spare[at]--
			put(int32(at), []take{{int32(k), 1}})
		}
	}
	used := make([]int, len(m.in.stocks))
	for _, u := range p.uses {
		used[u.stock] += u.times
	}
	for q, b := range m.in.stocks {
		if used[q] > b.hi {
			s.leave(m.bound)
			return
		}
	}
	s.offer(m.in.raw(p))
	if s.upper > m.bound {
		s.leave(m.bound)
	}
}

// leave notes that a node with this bound was not searched to its end.
func (s *solver) leave(bound int64) {
	s.gaveUp = true
	s.lowest = min(s.lowest, bound)
}

// pair picks the two kinds to branch on: how often they share a stick is fractional. ok is false where the solution is
// integral.
func (m *master) pair(sup []share) (a, b int32, ok bool) {
	type key struct{ a, b int32 }
	aff := map[key]float64{}
	var keys []key
	fractional := false
	for _, s := range sup {
		if math.Abs(s.x-math.Round(s.x)) > 1e-4 {
			fractional = true
		}
	}
	if !fractional {
		return 0, 0, false
	}
	bump := func(x, y int32, v float64) {
		k := key{x, y}
		if _, ok := aff[k]; !ok {
			keys = append(keys, k)
		}
		aff[k] += v
	}
	var loose []key
	for _, s := range sup {
		t := m.cols[s.col].takes
		for i := range t {
			for j := i + 1; j < len(t); j++ {
				bump(t[i].k, t[j].k, s.x*float64(min(t[i].n, t[j].n)))
			}
			if t[i].n > 1 {
				bump(t[i].k, t[i].k, s.x*float64(t[i].n/2))
			}
		}
		if f := s.x - math.Floor(s.x); f > 1e-4 && f < 1-1e-4 {
			if len(t) > 1 {
				loose = append(loose, key{t[0].k, t[1].k})
			} else if t[0].n > 1 {
				loose = append(loose, key{t[0].k, t[0].k})
			}
		}
	}
	best := -1.0
	for _, k := range keys {
		f := aff[k] - math.Floor(aff[k])
		if f < 1e-3 || f > 1-1e-3 {
			continue
		}
		v := f*(1-f)*2 + float64(m.in.size[k.a]+m.in.size[k.b])/float64(m.in.stocks[0].cap)
		if v > best {
			best, a, b, ok = v, k.a, k.b, true
		}
	}
	if !ok && len(loose) > 0 {
		return loose[0].a, loose[0].b, true
	}
	return a, b, ok
}
