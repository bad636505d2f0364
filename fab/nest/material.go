package nest

import (
	"cmp"
	"slices"

	"bench.example/soapstone/fab/measure"
)

// tolerance of the material and of drops: a nest within a micrometre of its bound is proven. The bounds of the linear
// program are whole nanometres lower than the truth for each piece.
const tolerance = int64(measure.Micrometre)

// Usual efforts for the objectives after money, in steps of search.
const usualEffort = 400_000

// consume makes the material least among the plans that cost no more, as far as the effort reaches.
func (e *engine) consume() {
	m := e.m
	e.used = m.materialOf(e.best)
	e.lift(e.leastMaterial())
	if e.settled() || e.bound < e.best.cost || e.opts.Effort < 0 || e.stopped() {
		return
	}
	if m.unsure || m.hauls() {
		return // what a parted stick gives up is not searched to the end
	}
	r := e.newRoot(true, e.used)
	if r == nil {
		return
	}
	r.run(e.used-tolerance, 200, e.rest()/4)
	e.lift(ceilDiv(r.bound, r.stage.scale))
	if e.settled() || e.stopped() {
		return
	}
	target := e.used - tolerance + 1
	pool, whole := r.columnsWithin(target, maxPool, e.rest())
	if !whole {
		pool = r.cols
		for _, c := range pool {
			c.in = -1
		}
	}
	c := r.newSearch(pool, target, maxNodes)
	c.allowance = e.work + e.rest()
	c.next = func(v int64) int64 { return v - tolerance + 1 }
	c.found = func(cols []*column, used int64) {
		p := m.planOf(cols)
		if p.cost <= e.best.cost {
			e.best, e.used = p, used
			e.tell()
		}
	}
	c.node()
	if whole && !c.aborted && !m.unsure {
		e.lift(e.used - tolerance)
	}
}

// rest is the effort that is left.
func (e *engine) rest() int {
	effort := usualEffort
	if e.opts.Effort > 0 {
		effort = 1000 * e.opts.Effort
	}
	return max(1, effort-(e.work-e.before))
}

func (e *engine) lift(bound int64) { e.material.Bound = max(e.material.Bound, min(bound, e.used)) }

// settled tells whether the material is proven least.
func (e *engine) settled() bool { return e.used-e.material.Bound <= tolerance }

// hauls tells whether the yard parts any of the sticks.
func (m *model) hauls() bool {
	return slices.ContainsFunc(m.stocks, func(s stock) bool { return s.parts > 1 })
}

// materialOf is what the plan gives up, see material.
func (m *model) materialOf(p *plan) int64 {
	sum := int64(0)
	for _, q := range p.patterns {
		l := m.newLoad()
		for _, t := range q.takes {
			l.add(t.item, t.n)
		}
		if at, ok := l.place(q.stock); ok {
			sum += m.material(q.stock, &at) * int64(q.times)
		}
	}
	return sum
}

// leastMaterial bounds the material of every nest: the effs of all pieces, and what each stick takes besides.
func (e *engine) leastMaterial() int64 {
	m := e.m
	sum := int64(0)
	for i := range m.items {
		sum += m.items[i].eff * int64(m.items[i].qty)
	}
	least := int64(infinite)
	for s := range m.stocks {
		st := &m.stocks[s]
		least = min(least, st.base, st.long-st.cap)
	}
	bars := e.bars
	if least < 0 {
		bars = m.pieces
	}
	return sum + least*int64(bars)
}

// leastBars bounds the number of sticks: by volume, and where every stick costs something by the bound of the cost.
func (e *engine) leastBars() int {
	m := e.m
	eff, most, dear := int64(0), int64(1), int64(0)
	free := false
	for i := range m.items {
		eff += m.items[i].eff * int64(m.items[i].qty)
	}
	for s := range m.stocks {
		most = max(most, m.stocks[s].cap)
		dear = max(dear, m.stocks[s].cost)
		free = free || m.stocks[s].cost == 0 || m.stocks[s].parts > 1
	}
	bars := max(1, ceilDiv(eff, most))
	if !free && dear > 0 {
		bars = max(bars, ceilDiv(e.bound, dear))
	}
	return int(bars)
}

// lengthen makes the longest single drop longest among the plans of this cost and material.
func (e *engine) lengthen() {
	m := e.m
	e.drop.Value = m.longestDrop(e.best)
	e.drop.Bound = max(e.drop.Value, e.mostDrop())
	if e.drop.Bound-e.drop.Value <= tolerance {
		e.drop.Proven = e.settled() && e.bound >= e.best.cost
		return
	}
	if !e.settled() || e.bound < e.best.cost || e.opts.Effort < 0 || m.unsure || m.hauls() || e.stopped() {
		return
	}
	e.lengthenByColumns()
}

// longestDrop is the plan's longest kept drop.
func (m *model) longestDrop(p *plan) int64 {
	most := int64(0)
	for _, q := range p.patterns {
		l := m.newLoad()
		for _, t := range q.takes {
			l.add(t.item, t.n)
		}
		if at, ok := l.place(q.stock); ok {
			for _, d := range m.drops(&m.stocks[q.stock], &at) {
				most = max(most, kept(d, int64(m.p.Rules.Keep)))
			}
		}
	}
	return most
}

// mostDrop bounds the longest drop: a stick holds at least one piece.
func (e *engine) mostDrop() int64 {
	m := e.m
	most := int64(0)
	for s := range m.stocks {
		st := &m.stocks[s]
		if st.parts > 1 {
			most = max(most, int64(m.p.Rules.Haul))
			continue
		}
		for i := range m.items {
			l := m.newLoad()
			l.add(i, 1)
			if at, ok := l.place(s); ok {
				most = max(most, kept(at.fits[0].drop, int64(m.p.Rules.Keep)))
			}
		}
	}
	return most
}

// lengthenByColumns lists the columns that a nest of this cost and material can have, and tries them, longest drop first,
// until one is part of such a nest.
func (e *engine) lengthenByColumns() {
	m := e.m
	r := e.newRoot(true, e.used)
	if r == nil {
		return
	}
	r.run(e.used+1, 200, e.rest()/4)
	target := e.used + tolerance
	pool, whole := r.columnsWithin(target, maxPool, e.rest())
	if !whole {
		return
	}
	drop := make(map[*column]int64, len(pool))
	for _, c := range pool {
		drop[c] = m.longestDrop(&plan{patterns: []pattern{{c.stock, c.takes, 1, 0}}})
	}
	order := make([]int, len(pool))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(drop[pool[b]], drop[pool[a]]) })
	c := r.newSearch(pool, target, maxNodes)
	c.allowance = e.work + e.rest()
	c.next = func(int64) int64 { return 0 } // any such nest will do
	var found *plan
	c.found = func(cols []*column, _ int64) { found = m.planOf(cols) }
	for _, j := range order {
		d := drop[pool[j]]
		e.drop.Bound = max(d, e.drop.Value)
		if d <= e.drop.Value+tolerance {
			break
		}
		if !c.usable(j) {
			continue
		}
		c.use(j, 1)
		c.node()
		c.use(j, -1)
		if found != nil && found.cost <= e.best.cost {
			e.best, e.used, e.drop.Value = found, m.materialOf(found), d
			e.tell()
			break
		}
		if c.aborted {
			return
		}
	}
	e.drop.Proven = true
}
