package cutstock

import (
	"cmp"
	"math"
	"slices"
)

// node is an open node of the search tree.
type node struct {
	in    *inst
	cols  []pattern // columns to start from, in the kinds of in; the first basic of them were basic in the parent
	basic int
	bound int64
	depth int
}

// child is the inst of a branch with the map of its parent's kinds to its own (-1: gone).
type child struct {
	in   *inst
	to   []int32
	a, b int32 // the merged pair in the parent's kinds
	k    int32 // the kind they became, -1 where none was merged
}

func (in *inst) copyStocks() []bin { return slices.Clone(in.stocks) }

// apart forbids kinds a and b on one stick (a == b: a second piece of a).
func (in *inst) apart(a, b int32) child {
	n := len(in.size)
	out := &inst{size: in.size, dem: in.dem, stocks: in.stocks, parts: in.parts, conf: make([][]uint64, n)}
	copy(out.conf, in.conf)
	set := func(x, y int32) {
		row := make([]uint64, (n+63)/64)
		copy(row, out.conf[x])
		row[y>>6] |= 1 << (uint(y) & 63)
		out.conf[x] = row
	}
	set(a, b)
	if a != b {
		set(b, a)
	}
	to := make([]int32, n)
	for i := range to {
		to[i] = int32(i)
	}
	ch := child{out, to, a, b, -1}
	ch.carryPool(in)
	return ch
}

// carryPool brings the listed patterns of the parent into the child.
func (ch child) carryPool(in *inst) {
	if in.pool == nil {
		return
	}
	ch.in.pool = []pattern{}
	for _, p := range in.pool {
		ch.in.pool = append(ch.in.pool, ch.carry(p)...)
	}
	ch.carryCuts(in)
}

// together joins one piece of kind a with one of kind b for good.
func (in *inst) together(a, b int32) child {
	n := len(in.size)
	type row struct {
		old  int32 // -1: the merged one
		size int64
		dem  int32
	}
	dem := slices.Clone(in.dem)
	dem[a]--
	dem[b]--
	joined := mergeParts(in.parts[a], in.parts[b])
	// A kind made of the same parts with the same conflicts takes the new piece.
	same := int32(-1)
	for k := range in.size {
		if dem[k] > 0 && in.size[k] == in.size[a]+in.size[b] && slices.Equal(in.parts[k], joined) && in.conf == nil {
			same = int32(k)
			dem[k]++
			break
		}
	}
	var rows []row
	for k := range in.size {
		if dem[k] > 0 {
			rows = append(rows, row{int32(k), in.size[k], dem[k]})
		}
	}
	if same < 0 {
		rows = append(rows, row{-1, in.size[a] + in.size[b], 1})
	}
	slices.SortStableFunc(rows, func(x, y row) int { return cmp.Compare(y.size, x.size) })
	ch := child{in: &inst{stocks: in.stocks}, to: make([]int32, n), a: a, b: b, k: -1}
	for i := range ch.to {
		ch.to[i] = -1
	}
	for i, r := range rows {
		ch.in.size = append(ch.in.size, r.size)
		ch.in.dem = append(ch.in.dem, r.dem)
		if r.old < 0 {
			ch.k = int32(i)
			ch.in.parts = append(ch.in.parts, joined)
			continue
		}
		ch.to[r.old] = int32(i)
		ch.in.parts = append(ch.in.parts, in.parts[r.old])
	}
	if same >= 0 {
		ch.k = ch.to[same]
	}
	if in.conf != nil {
		m := len(rows)
		conf := make([][]uint64, m)
		set := func(x, y int32) {
			if conf[x] == nil {
				conf[x] = make([]uint64, (m+63)/64)
			}
			conf[x][y>>6] |= 1 << (uint(y) & 63)
		}
		for x, rx := range rows {
			for y, ry := range rows[:x+1] {
				var c bool
				switch {
				case rx.old >= 0 && ry.old >= 0:
					c = in.clash(rx.old, ry.old)
				case rx.old < 0 && ry.old < 0:
					c = in.clash(a, a) || in.clash(b, b)
				default:
					o := max(rx.old, ry.old)
					c = in.clash(a, o) || in.clash(b, o)
				}
				if c {
					set(int32(x), int32(y))
					set(int32(y), int32(x))
				}
			}
		}
		ch.in.conf = conf
	}
	ch.carryPool(in)
	return ch
}

func mergeParts(a, b []take) []take {
	out := append(slices.Clone(a), b...)
	slices.SortFunc(out, func(x, y take) int { return cmp.Compare(x.k, y.k) })
	n := 0
	for _, t := range out {
		if n > 0 && out[n-1].k == t.k {
			out[n-1].n += t.n
		} else {
			out[n] = t
			n++
		}
	}
	return out[:n]
}

// carry brings a pattern of the parent into the child: as it is, and with the pair joined. ok[i] tells which is legal.
func (ch child) carry(p pattern) (out []pattern) {
	var plain, joined []take
	good := true
	var na, nb int32
	for _, t := range p.takes {
		if t.k == ch.a {
			na = t.n
		}
		if t.k == ch.b {
			nb = t.n
		}
		if k := ch.to[t.k]; k >= 0 {
			plain = append(plain, take{k, t.n})
		} else {
			good = false
		}
	}
	if good {
		slices.SortFunc(plain, func(x, y take) int { return cmp.Compare(x.k, y.k) })
		if ch.in.fits(p.stock, plain) {
			out = append(out, pattern{p.stock, plain})
		}
	}
	if ch.k >= 0 && na > 0 && nb > 0 && (ch.a != ch.b || na > 1) {
		good = true
		for _, t := range p.takes {
			n := t.n
			if t.k == ch.a {
				n--
			}
			if t.k == ch.b {
				n--
			}
			if n > 0 {
				k := ch.to[t.k]
				if k < 0 {
					good = false
					break
				}
				joined = append(joined, take{k, n})
			}
		}
		if good {
			joined = mergeParts(joined, []take{{ch.k, 1}})
			if ch.in.fits(p.stock, joined) {
				out = append(out, pattern{p.stock, joined})
			}
		}
	}
	return out
}

// open makes the node of a branch from the solved master of its parent.
func (m *master) open(ch child, depth int) node {
	nd := node{in: ch.in, bound: m.bound, depth: depth}
	var rest []pattern
	gap := 0.25
	for _, c := range m.cols {
		bas := m.lp.Basic(c.h)
		if !bas && (m.lp.Barred(c.h) || m.lp.Reduced(c.h) > gap) {
			continue
		}
		for _, p := range ch.carry(c.pattern) {
			if bas {
				nd.cols = append(nd.cols, p)
			} else {
				rest = append(rest, p)
			}
		}
	}
	nd.basic = len(nd.cols)
	nd.cols = append(nd.cols, rest...)
	return nd
}

// start builds the master of a node.
func (nd node) start() *master {
	m := newMaster(nd.in)
	m.bound = nd.bound
	for k := range nd.in.size {
		for q, b := range nd.in.stocks {
			if b.hi > 0 && b.cap >= nd.in.size[k] && nd.in.pool == nil {
				m.add(pattern{int32(q), []take{{int32(k), 1}}})
			}
		}
	}
	var basis []int
	for i, p := range nd.cols {
		n := len(m.cols)
		if m.add(p) && i < nd.basic {
			basis = append(basis, m.cols[n].h)
		}
	}
	if nd.basic > 0 {
		m.lp.Start(basis)
	}
	return m
}

// raw turns patterns of a node into patterns of the core.
func (in *inst) raw(p *plan) *plan {
	out := &plan{cost: p.cost}
	for _, u := range p.uses {
		var t []take
		for _, x := range u.takes {
			for _, q := range in.parts[x.k] {
				t = append(t, take{q.k, q.n * x.n})
			}
		}
		out.uses = append(out.uses, use{pattern{u.stock, mergeParts(t, nil)}, u.times})
	}
	return out
}

// round makes a plan of the LP solution: whole parts, then the largest fractions as long as they fit, then greedy.
func (m *master) round(cutoff int64) *plan {
	r := newRoom(m.in)
	p := &plan{}
	sup := m.support()
	put := func(pt pattern, n int) {
		n = min(n, r.limit[pt.stock])
		for _, t := range pt.takes {
			n = min(n, int(r.left[t.k]/t.n))
		}
		if n <= 0 {
			return
		}
		for _, t := range pt.takes {
			r.left[t.k] -= t.n * int32(n)
			r.n -= int(t.n) * n
		}
		r.limit[pt.stock] -= n
		p.uses = append(p.uses, use{pt, n})
		p.cost += int64(n) * m.in.stocks[pt.stock].cost
	}
	for _, s := range sup {
		put(m.cols[s.col].pattern, int(s.x+1e-4))
	}
	slices.SortStableFunc(sup, func(a, b share) int {
		return cmp.Compare(b.x-math.Floor(b.x+1e-4), a.x-math.Floor(a.x+1e-4))
	})
	for _, s := range sup {
		if f := s.x - math.Floor(s.x+1e-4); f > 0.4 {
			put(m.cols[s.col].pattern, 1)
		}
	}
	if r.n > 0 {
		rest := greedy(m.in, r, r.n < 200, -1)
		if rest == nil {
			return nil
		}
		p.uses = append(p.uses, rest.uses...)
		p.cost += rest.cost
	}
	if p.cost >= cutoff {
		return nil
	}
	return p
}

// tree is depth-first branch and price below the root master.
func (s *solver) tree() {
	stack := []node{}
	s.nodes = 1
	if in := s.listed(); in != nil {
		stack = append(stack, node{in: in, bound: s.m.bound})
	} else {
		s.branch(s.m, 0, &stack)
	}
	for len(stack) > 0 {
		if s.ended() || s.o.Nodes > 0 && s.nodes >= s.o.Nodes {
			s.openBound(stack)
			return
		}
		nd := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if nd.bound >= s.upper {
			continue
		}
		s.nodes++
		m := nd.start()
		if s.o.Rounds > 0 {
			m.most = s.o.Rounds - s.m.rounds
		}
		if len(nd.in.stocks) > 1 {
			if m.metalBound(s.upper); m.bound >= s.upper {
				continue
			}
		}
		how := m.generate(s.ctx, s.upper)
		if how == converged && m.bound < s.upper && nd.in.pool != nil && m.artificial() < 1e-4 {
			rounds := cutsBelow
			if nd.depth == 0 {
				rounds = cutsAtRoot
			}
			m, how = m.cut(s.ctx, s.upper, rounds)
		}
		switch how {
		case pruned:
		case stopped:
			if s.ctx.Err() == nil {
				// The numbers gave up here: the node stays open, and no proof is claimed.
				s.leave(max(nd.bound, m.bound))
				break
			}
			stack = append(stack, nd)
		case converged:
			if m.bound < s.upper {
				if nd.in.pool == nil {
					if in := s.list(m, 20000); in != nil {
						m.in = in
					}
				}
				s.branch(m, nd.depth, &stack)
			}
		}
		s.m.rounds += m.rounds
		if s.done() {
			return
		}
	}
	if !s.gaveUp {
		s.raise(s.upper)
		if s.best == nil {
			s.bound = maxTotal
		}
	} else {
		s.raise(s.lowest)
	}
}

// openBound raises the proven bound to the least bound of the open nodes.
func (s *solver) openBound(stack []node) {
	b := s.upper
	if s.gaveUp {
		b = min(b, s.lowest)
	}
	for _, nd := range stack {
		b = min(b, nd.bound)
	}
	s.raise(b)
}
