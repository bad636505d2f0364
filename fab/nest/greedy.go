package nest

import (
	"math"
)

// pattern is a load on a stick and how often it is used.
type pattern struct {
	stock int
	takes []take
	times int
	cost  int64 // of one: the stick and the yard's cuts
}

// plan is a set of patterns that covers all items.
type plan struct {
	patterns []pattern
	cost     int64
	bars     int
}

// costOf gives what a stick with the takes costs, yard's cuts included.
func (m *model) costOf(s int, takes []take) int64 {
	st := &m.stocks[s]
	if st.parts == 1 {
		return st.cost
	}
	l := m.newLoad()
	for _, t := range takes {
		l.add(t.item, t.n)
	}
	p, ok := l.place(s)
	if !ok {
		return infinite
	}
	return st.cost + int64(len(p.fits)-st.parts)*st.yardCut
}

func (p *plan) add(q pattern) {
	p.patterns = append(p.patterns, q)
	p.cost += q.cost * int64(q.times)
	p.bars += q.times
}

// state is what is still to be covered and the sticks still there.
type state struct {
	left   []int
	pieces int // items left, units
	sticks []int
}

func (m *model) newState() *state {
	s := &state{}
	for i := range m.items {
		s.left = append(s.left, m.items[i].qty)
		s.pieces += m.items[i].qty
	}
	for i := range m.stocks {
		s.sticks = append(s.sticks, m.stocks[i].limit)
	}
	return s
}

// use takes the pattern as often as it can be used whole, but no more than most times.
func (s *state) use(p *pattern, most int) int {
	n := min(most, s.sticks[p.stock])
	for _, t := range p.takes {
		n = min(n, s.left[t.item]/t.n)
	}
	if n <= 0 {
		return 0
	}
	for _, t := range p.takes {
		s.left[t.item] -= n * t.n
		s.pieces -= n * t.n
	}
	s.sticks[p.stock] -= n
	return n
}

// finish covers what is left by filling one stick after the other with the load of most value, choosing each time the
// stick that costs least for the value it takes; it fails where the limits leave pieces over, or stop says so. steps bounds
// each filling; 0: the pieces in their order, longest first.
func (m *model) finish(p *plan, s *state, value []int64, steps int, stop func() bool) bool {
	for s.pieces > 0 {
		if stop != nil && stop() {
			return false
		}
		best := pattern{stock: -1}
		bestRate := math.Inf(1)
		bestAll := int64(infinite)
		for si := range m.stocks {
			if s.sticks[si] == 0 {
				continue
			}
			var q priced
			if steps > 0 {
				q = m.price(si, value, s.left, steps)
			} else {
				q = m.firstFit(si, value, s.left)
			}
			if len(q.lists) == 0 {
				continue
			}
			takes := q.lists[len(q.lists)-1]
			cost := m.costOf(si, takes)
			units := 0
			for _, t := range takes {
				units += t.n
			}
			if units == s.pieces && cost < bestAll {
				bestAll = cost
				best = pattern{si, takes, 1, cost}
				continue
			}
			if rate := float64(cost) / float64(q.value); bestAll == infinite && rate < bestRate {
				bestRate = rate
				best = pattern{si, takes, 1, cost}
			}
		}
		if best.stock < 0 {
			return false
		}
		n := s.use(&best, s.sticks[best.stock])
		best.times = n
		p.add(best)
	}
	return true
}

// firstFit fills a stick with the items in their order, longest first.
func (m *model) firstFit(s int, value []int64, left []int) priced {
	l := m.newLoad()
	p := priced{}
	for i := range m.items {
		for l.x[i] < left[i] {
			l.add(i, 1)
			if !l.holds(s) {
				l.add(i, -1)
				break
			}
			p.value += value[i]
		}
	}
	if l.total > 0 {
		p.lists = [][]take{l.takes()}
	}
	return p
}

// effs gives the items' rooms as values: a filling is then as full as can be.
func (m *model) effs() []int64 {
	v := make([]int64, len(m.items))
	for i := range v {
		v[i] = m.items[i].eff + 1
	}
	return v
}

// corrected runs rounds of sequential value correction (Mukhacheva; Belov and Scheithauer, EJOR 171, 2006): pieces that
// ended up in poorly filled sticks become dearer in the next round. It gives the best plan met.
func (m *model) corrected(best *plan, rounds, steps int, stop func() bool, better func(*plan)) *plan {
	weight := make([]float64, len(m.items))
	for i := range weight {
		weight[i] = float64(m.items[i].eff + 1)
	}
	value := make([]int64, len(weight))
	for round := 0; round < rounds && !stop(); round++ {
		for i, w := range weight {
			value[i] = max(1, int64(w*math.Pow(1.02, float64(round%5))))
			if round > 0 {
				// A little more for long pieces, by turns, so that rounds differ.
				value[i] = max(1, int64(math.Pow(w/1e6, 1+0.01*float64(round%7))*1e6))
			}
		}
		p, s := &plan{}, m.newState()
		if !m.finish(p, s, value, steps, stop) {
			if stop() {
				break
			}
			// Short of sticks: what was left over counts more.
			for i, n := range s.left {
				if n > 0 {
					weight[i] *= 1.2
				}
			}
			continue
		}
		if best == nil || p.cost < best.cost {
			best = p
			better(p)
		}
		for _, q := range p.patterns {
			eff := int64(0)
			for _, t := range q.takes {
				eff += m.items[t.item].eff * int64(t.n)
			}
			fill := float64(m.stocks[q.stock].cap) / float64(max(eff, 1))
			for _, t := range q.takes {
				share := float64(t.n*q.times) / float64(m.items[t.item].qty) / 2
				weight[t.item] = (1-share)*weight[t.item] + share*fill*float64(m.items[t.item].eff+1)
			}
		}
	}
	return best
}
