package cutstock

import (
	"cmp"
	"context"
	"slices"
)

// pricer finds the patterns of greatest value for integer values of the kinds: a bounded knapsack for each stock.
type pricer struct {
	in   *inst
	kind []int32 // the kinds worth something, by falling size
	sz   []int64
	val  []int64
	cnt  []int32
	tab  []int32 // (len(kind)+1) rows of width; tab[i*width+w]: best value of kinds i.. within w
	wide int64
	buf  []take
	ord  []int32
	effv []float64
	list states
	cuts cutting
	deep int  // so many times the usual number of steps; 0: once
	lax  uint // where above 0, a search without a table lets go of what passes the floor by less than its 2^lax-th part
	ctx  context.Context
}

// tableLimit is the largest number of cells that a table of values may have.
const tableLimit = 40 << 20

// found is a pattern with its value.
type found struct {
	stock int32
	value int64
	takes []take
}

// load takes the values. Kinds worth nothing are left out unless all is set.
func (p *pricer) load(in *inst, pi []int64, left []int32, all bool) {
	p.in = in
	p.kind, p.sz, p.val, p.cnt = p.kind[:0], p.sz[:0], p.val[:0], p.cnt[:0]
	var most int64
	for _, s := range in.stocks {
		if s.hi > 0 {
			most = max(most, s.cap)
		}
	}
	for k, v := range pi {
		if (v > 0 || all) && left[k] > 0 && in.size[k] <= most {
			n := min(int64(left[k]), most/in.size[k])
			if in.conf != nil && in.clash(int32(k), int32(k)) {
				n = 1
			}
			p.kind = append(p.kind, int32(k))
			p.sz = append(p.sz, in.size[k])
			p.val = append(p.val, v)
			p.cnt = append(p.cnt, int32(n))
		}
	}
	p.wide = most + 1
}

// fits tells whether the table has room.
func (p *pricer) fits() bool {
	return p.wide <= tableLimit && p.wide*int64(len(p.kind)+1) <= tableLimit
}

// coarse gives an upper bound of the value that the kinds i.. can have within a room, from a table of sizes rounded down
// to multiples of a step.
func (p *pricer) coarse() func(i int, room int64) int64 {
	n := len(p.kind)
	step := p.wide*int64(n+1)/coarseLimit + 1
	w := int(p.wide/step) + 1
	tab := make([]int64, (n+1)*w)
	for i := n - 1; i >= 0; i-- {
		next, row := tab[(i+1)*w:(i+2)*w], tab[i*w:(i+1)*w]
		copy(row, next)
		size := int(p.sz[i] / step)
		for c := 1; c <= int(p.cnt[i]) && c*size < w; c++ {
			v := p.val[i] * int64(c)
			for x := c * size; x < w; x++ {
				row[x] = max(row[x], next[x-c*size]+v)
			}
		}
	}
	return func(i int, room int64) int64 { return tab[i*w+int(room/step)] }
}

// coarseLimit is the number of cells of a coarse table.
const coarseLimit = 8 << 20

// tabular tells whether the table fits, in size and in its 32-bit values; if so it is filled.
func (p *pricer) tabular() bool {
	n, w := len(p.kind), int(p.wide)
	if !p.fits() {
		return false
	}
	// No pattern is worth more than the best value per size times the width.
	for i := range p.val {
		if float64(p.val[i])/float64(p.sz[i])*float64(w) > 1<<31-2 {
			return false
		}
	}
	if need := (n + 1) * w; cap(p.tab) < need {
		p.tab = make([]int32, need+need/4)
	}
	p.tab = p.tab[:(n+1)*w]
	clear(p.tab[n*w:])
	for i := n - 1; i >= 0; i-- {
		next, row := p.tab[(i+1)*w:(i+2)*w], p.tab[i*w:(i+1)*w]
		s, v := int(p.sz[i]), int32(p.val[i])
		if i > 0 {
			// Two larger pieces come before, or one, or none: beyond w less the sizes of two only whole sticks and sticks
			// less one of the larger pieces are asked for.
			high := w - 2*int(p.sz[i-1])
			for _, b := range p.in.stocks {
				if b.hi == 0 {
					continue
				}
				for j := -1; j < i; j++ {
					x := int(b.cap)
					if j >= 0 {
						x -= int(p.sz[j])
					}
					if x < high || x < 0 {
						continue
					}
					best := next[x]
					for c := 1; c <= int(p.cnt[i]) && c*s <= x; c++ {
						best = max(best, next[x-c*s]+v*int32(c))
					}
					row[x] = best
				}
			}
			if high <= 0 {
				continue
			}
			next, row = next[:high], row[:high]
		}
		w := len(row)
		copy(row[:min(s, w)], next)
		if s >= w {
			continue
		}
		old := next[s:w]
		if int(p.cnt[i]) >= (w-1)/s {
			// More of them than go in: one pass over the row itself.
			dst, src := row[s:w], row[:w-s]
			for x := range old {
				dst[x] = max(old[x], src[x]+v)
			}
			continue
		}
		dst := row[s:w]
		for x, b := range next[:w-s] {
			dst[x] = max(old[x], b+v)
		}
		// Bundles of 2, 4, ... and the rest on top of up to c copies; from above, so that none is taken twice.
		for c, most := 1, int(p.cnt[i]); c < most; {
			n := min(c+1, most-c)
			c += n
			if n*s >= w {
				break
			}
			bv := v * int32(n)
			dst, src := row[n*s:w], row[:w-n*s]
			dst = dst[:len(src)]
			for x := len(src) - 1; x >= 0; x-- {
				dst[x] = max(dst[x], src[x]+bv)
			}
		}
	}
	return true
}

// trace appends the best filling of w by kinds i.. to p.buf.
func (p *pricer) trace(i int, w int64) {
	n := len(p.kind)
	for i < n && w > 0 {
		v := int64(p.tab[int64(i)*p.wide+w])
		if v == 0 {
			return
		}
		next := p.tab[int64(i+1)*p.wide : int64(i+2)*p.wide]
		if int64(next[w]) == v {
			i++
			continue
		}
		for c := int64(1); c <= int64(p.cnt[i]); c++ {
			if r := w - c*p.sz[i]; r >= 0 && int64(next[r])+c*p.val[i] == v {
				p.buf = append(p.buf, take{p.kind[i], int32(c)})
				w = r
				break
			}
		}
		i++
	}
}

// price returns for every stock an upper bound of the value of its patterns (exact where it is above the floor of the
// stock, the floor itself otherwise) and up to most patterns whose value is above the floor, best first, no two with
// the same stock and largest kind. exact is false where the search was cut off: then the bounds are still bounds.
func (p *pricer) price(floor []int64, most int) (best []int64, out []found, exact bool) {
	best = make([]int64, len(p.in.stocks))
	exact = true
	if p.in.pool != nil {
		out = p.scan(floor, best)
	} else if p.tabular() {
		if p.in.conf == nil {
			out = p.fromTable(floor, best)
		} else {
			out, exact = p.walkTable(floor, best)
		}
	} else {
		out, exact = p.branch(floor, best)
	}
	slices.SortStableFunc(out, func(a, b found) int {
		return cmp.Compare(b.value-floor[b.stock], a.value-floor[a.stock])
	})
	if len(out) > most {
		out = out[:most]
	}
	return best, out, exact
}

// scan prices the listed patterns.
func (p *pricer) scan(floor, best []int64) (out []found) {
	value := make([]int64, len(p.in.size))
	for i, k := range p.kind {
		value[k] = p.val[i]
	}
	copy(best, floor)
	for _, q := range p.in.pool {
		var v int64
		for _, t := range q.takes {
			v += value[t.k] * int64(t.n)
		}
		if len(p.in.cuts) > 0 {
			v -= p.cuts.price(q.takes)
		}
		best[q.stock] = max(best[q.stock], v)
		if v > floor[q.stock] {
			out = append(out, found{q.stock, v, q.takes})
		}
	}
	return out
}

func (p *pricer) fromTable(floor, best []int64) (out []found) {
	for k, s := range p.in.stocks {
		if s.hi == 0 {
			continue
		}
		best[k] = int64(p.tab[s.cap])
		if best[k] <= floor[k] {
			continue
		}
		for i := range p.kind {
			row := p.tab[int64(i)*p.wide:]
			if int64(row[s.cap]) <= floor[k] {
				break
			}
			next := row[p.wide:]
			var top int64
			at := int64(0)
			for c := int64(1); c <= int64(p.cnt[i]); c++ {
				r := s.cap - c*p.sz[i]
				if r < 0 {
					break
				}
				if v := int64(next[r]) + c*p.val[i]; v > top {
					top, at = v, c
				}
			}
			if top > floor[k] {
				p.buf = append(p.buf[:0], take{p.kind[i], int32(at)})
				p.trace(i+1, s.cap-at*p.sz[i])
				out = append(out, found{int32(k), top, slices.Clone(p.buf)})
			}
		}
	}
	return out
}

// walkTable searches fillings that respect the conflicts; the table, blind to them, bounds what a branch can reach.
// A first pass looks for one pattern for each largest kind with few steps; where it ends without any, a second one
// searches on for the best alone.
func (p *pricer) walkTable(floor, best []int64) (out []found, exact bool) {
	exact = true
	for k, s := range p.in.stocks {
		if s.hi == 0 {
			continue
		}
		best[k] = floor[k]
		if int64(p.tab[s.cap]) <= floor[k] {
			continue
		}
		had := len(out)
		var open int64
		for first := range p.kind {
			if int64(p.tab[int64(first)*p.wide+s.cap]) <= floor[k] {
				break
			}
			w := walk{p: p, stock: int32(k), top: floor[k], steps: 3000}
			w.take(first, s.cap, 0)
			if w.got != nil {
				best[k] = max(best[k], w.top)
				out = append(out, found{int32(k), w.top, w.got})
			}
			open = max(open, w.open)
		}
		if open > best[k] && len(out) == had {
			w := walk{p: p, stock: int32(k), top: floor[k], steps: 4_000_000}
			w.from(0, s.cap, 0)
			if w.got != nil {
				best[k] = w.top
				out = append(out, found{int32(k), w.top, w.got})
			}
			open = w.open
		}
		if open > best[k] {
			best[k] = open
			exact = false
		}
	}
	return out, exact
}

// walk is one depth-first search of walkTable.
type walk struct {
	p     *pricer
	stock int32
	cur   []take
	top   int64
	got   []take
	steps int
	open  int64 // the highest bound of a branch left unexplored
}

func (w *walk) take(i int, room, v int64) {
	p := w.p
	for c := min(int64(p.cnt[i]), room/p.sz[i]); c > 0; c-- {
		reach := v + c*p.val[i] + int64(p.tab[int64(i+1)*p.wide+room-c*p.sz[i]])
		if reach <= w.top {
			continue
		}
		if p.in.allowed(w.cur, p.kind[i], int32(c)) < int32(c) {
			continue
		}
		if w.steps--; w.steps < 0 {
			w.open = max(w.open, reach)
			return
		}
		w.cur = append(w.cur, take{p.kind[i], int32(c)})
		w.from(i+1, room-c*p.sz[i], v+c*p.val[i])
		w.cur = w.cur[:len(w.cur)-1]
	}
}

func (w *walk) from(i int, room, v int64) {
	p := w.p
	if v > w.top {
		w.top = v
		w.got = append(w.got[:0], w.cur...)
	}
	for ; i < len(p.kind); i++ {
		reach := v + int64(p.tab[int64(i)*p.wide+room])
		if reach <= w.top {
			return
		}
		if w.steps < 0 {
			w.open = max(w.open, reach)
			return
		}
		if p.sz[i] <= room {
			w.take(i, room, v)
		}
	}
}

// branchSteps ends a branch-and-bound over one stock; what is left open is bounded by the relaxation.
const branchSteps = 30000

// branch is depth-first branch and bound in the order of value per size, for capacities too wide for a table.
func (p *pricer) branch(floor, best []int64) (out []found, exact bool) {
	n := len(p.kind)
	exact = true
	p.ord = p.ord[:0]
	for i := 0; i < n; i++ {
		p.ord = append(p.ord, int32(i))
	}
	p.effv = p.effv[:0]
	for i := 0; i < n; i++ {
		p.effv = append(p.effv, float64(p.val[i])/float64(p.sz[i]))
	}
	slices.SortStableFunc(p.ord, func(a, b int32) int { return cmp.Compare(p.effv[b], p.effv[a]) })
	sz, val, cnt, eff := make([]int64, n), make([]int64, n), make([]int32, n), make([]float64, n+1)
	least := make([]int64, n+1)
	least[n] = 1 << 62
	for i, o := range p.ord {
		// A hair upwards, so that the bound stays one in float64.
		sz[i], val[i], cnt[i], eff[i] = p.sz[o], p.val[o], p.cnt[o], p.effv[o]*(1+1e-12)
	}
	for i := n - 1; i >= 0; i-- {
		least[i] = min(least[i+1], sz[i])
	}
	for k, s := range p.in.stocks {
		if s.hi == 0 {
			continue
		}
		floor := floor[k]
		if p.lax > 0 {
			floor += floor >> p.lax
		}
		best[k] = floor
		deep := p.deep
		if deep > 0 && p.in.conf == nil && n > 0 {
			kinds := make([]int32, n)
			for i, o := range p.ord {
				kinds[i] = p.kind[o]
			}
			if v, takes, ok := p.list.most(sz, val, cnt, kinds, eff, least, s.cap, floor, statesMost*min(deep/deepSteps, 10)); ok {
				if best[k] = v; takes != nil {
					out = append(out, found{int32(k), v, takes})
				}
				continue
			}
		}
		steps := branchSteps * max(1, deep)
		top := floor
		var open int64 // the highest bound of a branch left unexplored
		p.buf = p.buf[:0]
		var keep []found
		var dfs func(i int, w, v int64)
		dfs = func(i int, w, v int64) {
			if v > top {
				top = v
				keep = append(keep, found{int32(k), v, slices.Clone(p.buf)})
			}
			for ; i < n && w >= least[i]; i++ {
				reach := v + int64(float64(w)*eff[i]) + 1
				if reach <= top {
					return
				}
				if steps--; steps&0xffff == 0 && p.ctx.Err() != nil {
					steps = 0
				}
				if steps <= 0 {
					open = max(open, reach)
					return
				}
				if sz[i] > w {
					continue
				}
				kd := p.kind[p.ord[i]]
				c := min(cnt[i], int32(w/sz[i]))
				if p.in.conf != nil {
					c = p.in.allowed(p.buf, kd, c)
				}
				for ; c > 0; c-- {
					p.buf = append(p.buf, take{kd, c})
					dfs(i+1, w-int64(c)*sz[i], v+int64(c)*val[i])
					p.buf = p.buf[:len(p.buf)-1]
				}
			}
		}
		dfs(0, s.cap, 0)
		best[k] = max(top, open)
		if steps <= 0 {
			exact = false
		}
		for i := len(keep) - 1; i >= 0 && len(keep)-i <= 8; i-- {
			slices.SortFunc(keep[i].takes, func(a, b take) int { return cmp.Compare(a.k, b.k) })
			out = append(out, keep[i])
		}
	}
	return out, exact
}
