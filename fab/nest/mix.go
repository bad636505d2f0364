package nest

import "slices"

// Bounds of the search by mixes: mixes of one cost, nodes of the search in each.
const (
	maxMixes = 12
	mixNodes = 3000
	mixSteps = 2_000_000 // of a search for one load
)

// mixes closes in on the least cost from below: for the next cost that sticks can add up to, every mix of sticks of that cost is
// tried by itself. A mix has its own linear program, whose bound is sharper than that of sticks in parts; where it can hold
// the job, the nest is found or the mix refuted by a search. It ends where neither comes out, with what is proven till then.
func (e *engine) mixes(r *root) {
	for e.bound < e.best.cost && !e.stopped() {
		cost := e.reach(e.bound)
		if e.raise(cost); cost >= e.best.cost {
			return
		}
		list, ok := e.mixesOf(cost)
		closed := ok
		for _, mix := range list {
			refuted := r.try(mix, cost)
			if e.best.cost <= cost || e.stopped() {
				return
			}
			closed = closed && refuted
		}
		next := e.reach(cost + 1)
		if !closed || next <= cost {
			return
		}
		e.raise(next)
	}
}

// mixesOf lists the mixes of exactly this cost, sticks that cost nothing all there; false where they are too many.
func (e *engine) mixesOf(cost int64) ([][]int, bool) {
	m := e.m
	if e.sums() == nil || m.hauls() {
		return nil, false
	}
	mix := make([]int, len(m.stocks))
	var list [][]int
	steps := 0
	var add func(s int, rest int64)
	add = func(s int, rest int64) {
		if steps++; len(list) > maxMixes || steps > 100_000 {
			return
		}
		if s == len(m.stocks) {
			if rest == 0 {
				list = append(list, slices.Clone(mix))
			}
			return
		}
		st := &m.stocks[s]
		if st.cost == 0 {
			mix[s] = st.limit
			add(s+1, rest)
			return
		}
		for n := 0; n <= st.limit && int64(n)*st.cost <= rest; n++ {
			mix[s] = n
			add(s+1, rest-int64(n)*st.cost)
		}
	}
	add(0, cost)
	return list, len(list) <= maxMixes && steps <= 100_000
}

// try looks for a plan of no more than cost with the sticks of the mix alone, and tells whether it is proven that there is
// none.
func (r *root) try(mix []int, cost int64) (refuted bool) {
	e, m := r.e, r.e.m
	s := m.newState()
	s.sticks = mix
	var d *root
	// Where the mix is too small its program leaves pieces out. What one of them counts bounds the values: little at first, as
	// great values are slow to price and a small excess shows in small ones.
	dear := make([]int64, len(m.items))
	for _, times := range []int64{1, 3, 12} {
		for i := range dear {
			dear[i] = times * (r.value[i] + r.value[i]/4 + r.ceiling/int64(100*m.pieces))
		}
		d = r.rest(s, dear)
		d.sticks = mix
		d.run(cost+1, 400, mixSteps)
		if d.bound > cost*d.stage.scale {
			return true
		}
		if !d.missing() {
			break
		}
	}
	if e.stopped() || d.dives(cost+1) {
		return false
	}
	d.searchOwn(cost+1, mixNodes)
	if e.best.cost <= cost {
		return false
	}
	pool, whole := d.columnsWithin(cost+1, maxPool, maxListing)
	if !whole {
		return false
	}
	c := d.newSearch(pool, cost+1, mixNodes)
	c.next = func(int64) int64 { return 0 } // any plan of this cost will do
	c.found = func(cols []*column, _ int64) { e.take(m.planOf(cols)) }
	c.node()
	return !c.aborted && !m.unsure && e.best.cost > cost
}

// missing tells whether the program's solution leaves out (parts of) pieces.
func (r *root) missing() bool {
	for i := range r.e.m.items {
		if r.lp.X(r.absent[i]) > 1e-6 {
			return true
		}
	}
	return false
}

// searchOwn searches the program's own columns for plans of less than target; what it does not find proves nothing.
func (r *root) searchOwn(target int64, nodes int) {
	e := r.e
	pool := make([]*column, len(r.cols))
	for i, c := range r.cols {
		k := *c
		k.in = -1
		pool[i] = &k
	}
	c := r.newSearch(pool, target, nodes)
	c.next = e.below
	c.found = func(cols []*column, _ int64) { e.take(e.m.planOf(cols)) }
	c.node()
}
