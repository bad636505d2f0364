package cutstock

import (
	"context"
	"math"
	"slices"
)

// dive fixes columns of the LP one after the other and prices the rest anew, down to a whole plan. It returns the best
// plan of cost below cutoff that it meets, or nil. The patterns it finds go back to the master. variant shifts the
// choice among columns that are about as good.
func (m *master) dive(ctx context.Context, cutoff int64, variant int) *plan {
	d := m.clone()
	known := len(d.cols)
	var best *plan
	fixed := &plan{}
	defer func() {
		for _, c := range d.cols[known:] {
			if len(m.cols) < 20000 {
				m.add(c.pattern)
			}
		}
		m.rounds = d.rounds
	}()
	r := newRoom(m.in)
	offer := func(rest *plan) {
		if rest == nil {
			return
		}
		if c := fixed.cost + rest.cost; c < cutoff {
			p := &plan{uses: append(slices.Clone(fixed.uses), rest.uses...), cost: c}
			best, cutoff = p, p.cost
		}
	}
	for step := 0; ; step++ {
		if d.generate(ctx, cutoff) != converged {
			return best
		}
		if float64(fixed.cost)+d.value() > float64(cutoff)-1+1e-6*math.Max(1, float64(cutoff)*1e-6)+1e-3 {
			return best
		}
		sup := d.support()
		if len(sup) == 0 {
			return best
		}
		did := false
		for _, s := range sup {
			if n := int(s.x + 1e-4); n > 0 {
				did = d.fix(r, fixed, d.cols[s.col].pattern, n) || did
			}
		}
		if !did && !d.fix(r, fixed, d.cols[d.choose(sup, variant, step)].pattern, 1) {
			return best // a column that no longer fits stays in the basis: nothing more comes of this dive
		}
		if r.n == 0 {
			offer(&plan{})
			return best
		}
		offer(greedy(m.in, r, false, -1))
		if r.n < 400 {
			offer(greedy(m.in, r, true, -1))
		}
		if fixed.cost+m.metalRest(r) >= cutoff {
			return best
		}
	}
}

// metalRest bounds the cost of what is left by length alone.
func (m *master) metalRest(r *room) int64 {
	var v int64
	for k, n := range r.left {
		v += int64(n) * m.in.size[k]
	}
	if len(m.in.stocks) == 1 {
		s := m.in.stocks[0]
		return (v + s.cap - 1) / s.cap * s.cost
	}
	return 0
}

// choose picks the column to be rounded up.
func (m *master) choose(sup []share, variant, step int) int {
	best, score := sup[0].col, -1.0
	for _, s := range sup {
		p := m.cols[s.col].pattern
		frac := s.x - math.Floor(s.x)
		var big int64
		for _, t := range p.takes {
			big = max(big, m.in.size[t.k])
		}
		v := frac
		switch variant % 4 {
		case 1: // full sticks first
			v += 0.5 * float64(m.in.sum(p.takes)) / float64(m.in.stocks[p.stock].cap)
		case 2: // large pieces first
			v += 0.5 * float64(big) / float64(m.in.stocks[0].cap)
		case 3: // many pieces late
			v -= 0.02 * float64(len(p.takes))
		}
		// A small shift that differs from variant to variant and is the same in every run.
		h := uint32(s.col*2654435761) ^ uint32(variant*40503+step*7919)
		h ^= h >> 13
		h *= 0x5bd1e995
		v += float64(variant/4) * 0.05 * float64(h>>8&0xffff) / 65536
		if v > score {
			best, score = s.col, v
		}
	}
	return best
}

// fix uses pattern p n times, as far as demand and limits allow.
func (m *master) fix(r *room, fixed *plan, p pattern, n int) bool {
	n = min(n, r.limit[p.stock])
	for _, t := range p.takes {
		n = min(n, int(r.left[t.k]/t.n))
	}
	if n <= 0 {
		return false
	}
	for _, t := range p.takes {
		m.left[t.k] -= t.n * int32(n)
		r.left[t.k] = m.left[t.k]
		r.n -= int(t.n) * n
		m.lp.SetRHS(int(t.k), float64(m.left[t.k]))
		if m.left[t.k] == 0 {
			m.lp.Nudge(int(t.k), 0)
		}
	}
	r.limit[p.stock] -= n
	if row := m.rowHi[p.stock]; row >= 0 {
		m.lp.SetRHS(row, float64(r.limit[p.stock]))
	}
	if row := m.rowLo[p.stock]; row >= 0 {
		m.lp.SetRHS(row, max(0, m.lp.RHS(row)-float64(n)))
	}
	fixed.uses = append(fixed.uses, use{p, n})
	fixed.cost += int64(n) * m.in.stocks[p.stock].cost
	for _, c := range m.cols {
		for _, t := range c.takes {
			if t.n > m.left[t.k] {
				if m.lp.Basic(c.h) {
					m.lp.SetCost(c.h, m.dear)
				} else {
					m.lp.Bar(c.h)
				}
				break
			}
		}
	}
	return true
}
