package cutstock

import (
	"context"
	"math/rand/v2"
	"slices"
)

// view is a vector of integer values with what it says about plans of at most so many sticks: in such a plan every
// pattern is worth at least least.
//
// With V the greatest value of a pattern, D the value of the whole demand and K sticks to use, the patterns of a plan
// add up to D while none exceeds V, so each is worth at least D - (K-1) V.
type view struct {
	val   []int64
	least int64
}

// judge makes a view of the values pi for plans of k sticks. possible is false where there is no such plan; ok is false
// where the table does not fit.
func (m *master) judge(pi []int64, k int64) (v view, possible, ok bool) {
	m.pr.load(m.in, pi, m.in.dem, false)
	if !m.pr.tabular() {
		return v, true, false
	}
	most := int64(m.pr.tab[m.in.stocks[0].cap])
	var d int64
	for i, x := range pi {
		d += x * int64(m.in.dem[i])
	}
	return view{pi, d - (k-1)*most}, d <= k*most, true
}

// metalView is the view of the sizes themselves.
func (m *master) metalView(k int64) view {
	v := view{val: m.in.size}
	var d int64
	for i, s := range m.in.size {
		d += s * int64(m.in.dem[i])
	}
	v.least = d - (k-1)*m.in.stocks[0].cap
	return v
}

// list tries to restrict the inst of a solved node to the patterns that a better plan can use, by waste and by the
// duals of its last pricing.
func (s *solver) list(m *master, most int) *inst {
	in := m.in
	if len(in.stocks) != 1 || !in.stocks[0].free || s.best == nil || in.stocks[0].cost == 0 || m.last == nil {
		return nil
	}
	if m.pr.load(in, in.size, in.dem, true); !m.pr.fits() {
		return nil // too dear for every node: the root's list has to do
	}
	k := (s.upper - 1) / in.stocks[0].cost
	v := view{val: slices.Clone(m.last)}
	var d int64
	for i, x := range m.last {
		d += x * int64(in.dem[i])
	}
	v.least = d - (k-1)*m.lastTop[0]
	list, ok := m.pool(s.ctx, []view{m.metalView(k), v}, most)
	if !ok {
		return nil
	}
	out := *in
	out.pool = []pattern{}
	for _, t := range list {
		out.pool = append(out.pool, pattern{0, t})
	}
	return &out
}

const poolMost = 40000

// listed tries to list all patterns that a plan better than the one in hand can use, and returns an inst restricted to
// them, or nil. The views are the sizes themselves (nothing but waste counts there) and optimal duals of the master
// under small shifts of the demand, their mean included: inner points of the optimal face rule out the most.
// One unlimited stock only.
func (s *solver) listed() *inst {
	in := s.in
	if len(in.stocks) != 1 || !in.stocks[0].free || s.best == nil || in.stocks[0].cost == 0 {
		return nil
	}
	k := (s.upper - 1) / in.stocks[0].cost
	m := s.m.clone()
	if m.pr.load(in, in.size, in.dem, true); !m.pr.fits() {
		return s.listedWide(m, k)
	}
	var views []view
	views = append(views, m.metalView(k))
	rnd := rand.New(rand.NewPCG(5, 6))
	mean := make([]float64, len(in.size))
	for t := 0; t < 12 && s.ctx.Err() == nil; t++ {
		if t > 0 {
			for i := range in.dem {
				m.lp.Nudge(i, 0.02*(rnd.Float64()-0.5))
			}
			m.center = nil
			if m.generate(s.ctx, maxTotal) != converged {
				return nil
			}
		}
		pi := make([]int64, len(in.size))
		for i := range pi {
			d := max(m.lp.Dual(i), 0)
			mean[i] += d
			pi[i] = int64(d * m.sc.ref)
		}
		v, _, ok := m.judge(pi, k)
		if !ok {
			return nil
		}
		views = append(views, v)
		if t > 0 {
			pi = make([]int64, len(in.size))
			for i := range pi {
				pi[i] = int64(mean[i] / float64(t+1) * m.sc.ref)
			}
			if v, _, ok = m.judge(pi, k); !ok {
				return nil
			}
			views = append(views, v)
		}
		if t != 0 && t != 3 && t != 11 {
			continue
		}
		list, ok := m.pool(s.ctx, views, poolMost)
		if ok {
			out := *in
			out.pool = []pattern{}
			for _, t := range list {
				out.pool = append(out.pool, pattern{0, t})
			}
			return &out
		}
	}
	return nil
}

// pool lists the patterns that every view admits, up to most of them; ok is false where there are more.
func (m *master) pool(ctx context.Context, views []view, most int) (out [][]take, ok bool) {
	// The tightest view leads the search, the others judge what it finds.
	lead := views[len(views)-1]
	m.pr.load(m.in, lead.val, m.in.dem, true)
	p := &m.pr
	var reach func(i int, room int64) int64
	if p.tabular() {
		reach = func(i int, room int64) int64 { return int64(p.tab[int64(i)*p.wide+room]) }
	} else {
		reach = p.coarse()
	}
	in := m.in
	var cur []take
	sums := make([]int64, len(views))
	steps := 0
	limit := 200 * most
	ok = true
	var from func(i int, room, v int64)
	from = func(i int, room, v int64) {
		if v >= lead.least {
			good := true
			for n, w := range views {
				if sums[n] < w.least {
					good = false
					break
				}
			}
			if good {
				out = append(out, slices.Clone(cur))
				if len(out) > most {
					ok = false
				}
			}
		}
		for ; i < len(p.kind) && ok; i++ {
			if v+reach(i, room) < lead.least {
				return
			}
			for c := min(int64(p.cnt[i]), room/p.sz[i]); c > 0 && ok; c-- {
				nv, nr := v+c*p.val[i], room-c*p.sz[i]
				if nv+reach(i+1, nr) < lead.least {
					continue
				}
				if in.allowed(cur, p.kind[i], int32(c)) < int32(c) {
					continue
				}
				if steps++; steps > limit || steps&1023 == 0 && ctx.Err() != nil {
					ok = false
					return
				}
				kd := p.kind[i]
				cur = append(cur, take{kd, int32(c)})
				for n := range views {
					sums[n] += c * views[n].val[kd]
				}
				from(i+1, nr, nv)
				for n := range views {
					sums[n] -= c * views[n].val[kd]
				}
				cur = cur[:len(cur)-1]
			}
		}
	}
	from(0, in.stocks[0].cap, 0)
	return out, ok
}

// listedWide is listed for sticks too long for a table of values: the views are the duals of the last pricings, whose
// greatest pattern the pricing has bounded. Sums of views are views too.
func (s *solver) listedWide(m *master, k int64) *inst {
	in := s.in
	sum := view{val: make([]int64, len(in.size))}
	var top, need int64
	rnd := rand.New(rand.NewPCG(5, 6))
	scale := m.sc.ref
	m.last, m.lastTop = slices.Clone(s.m.last), slices.Clone(s.m.lastTop)
	for t := 0; t < 8 && s.ctx.Err() == nil; t++ {
		if t > 0 {
			for i := range in.dem {
				m.lp.Nudge(i, 0.02*(rnd.Float64()-0.5))
			}
			m.center = nil
			if m.generate(s.ctx, maxTotal) != converged || m.sc.ref != scale {
				return nil
			}
		}
		for i, v := range m.last {
			sum.val[i] += v
			need += v * int64(in.dem[i])
		}
		top += m.lastTop[0]
		if need > maxTotal || float64(k)*float64(top) > float64(maxTotal) {
			return nil // the next sum might leave an int64
		}
		sum.least = need - (k-1)*top
		list, ok := m.pool(s.ctx, []view{m.metalView(k), {slices.Clone(sum.val), sum.least}}, poolMost)
		if ok {
			out := *in
			out.pool = []pattern{}
			for _, t := range list {
				out.pool = append(out.pool, pattern{0, t})
			}
			return &out
		}
	}
	return nil
}
