package nest

import (
	"errors"
	"math"
	"slices"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest/cutstock"
)

// tolerance of the material and of drops: a nest within a micrometre of its bound is proven. The bounds of the linear
// program are whole nanometres lower than the truth for each piece.
const tolerance = int64(measure.Micrometre)

// Usual efforts for the objectives after money, in steps of search.
const usualEffort = 100_000

// consume makes the material least among the plans that cost no more, as far as the effort reaches.
func (e *engine) consume() {
	m := e.m
	e.used, e.drop.Value = m.materialOf(e.best), m.longestDrop(e.best)
	e.lift(e.leastMaterial())
	if m.plain && !m.hauls() && e.bound >= e.best.cost && e.opts.Effort >= 0 {
		e.lengthenPlain()
	}
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
	c.found = func(cols []*column, _ int64) {
		e.improve(m.planOf(cols))
	}
	c.node()
	if whole && !c.aborted && !m.unsure {
		e.lift(e.used - tolerance)
	}
}

// improve keeps the plan if it costs no more and is better in material, or as good and its longest drop longer.
func (e *engine) improve(p *plan) {
	if p == nil || p.cost > e.best.cost {
		return
	}
	used, drop := e.m.materialOf(p), e.m.longestDrop(p)
	if p.cost == e.best.cost && (used > e.used+tolerance || used >= e.used-tolerance && drop <= e.drop.Value) {
		return
	}
	e.best, e.used, e.drop.Value = p, used, drop
	e.tell()
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
		least = min(least, st.base)
		if m.p.Rules.Keep > 0 || st.parts > 1 {
			least = min(least, st.long-st.cap) // no drop is kept of it: the whole stick counts
		}
	}
	bars := e.bars
	if least < 0 {
		bars = m.pieces
	}
	return sum + least*int64(bars)
}

// barRounds bounds the work for the number of sticks, which is no aim of its own.
const barRounds = 60

// leastBars bounds the number of sticks: by volume, where every stick costs something by the bound of the cost, and where
// that leaves a gap by the cutting-stock problem in which each stick counts one.
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
	if int(bars) < e.best.bars && len(m.stocks) > 1 {
		// Sticks that count one each, whatever they cost: what holds for the relaxed job holds for every nest.
		cp := m.relaxed()
		for s := range cp.Stocks {
			cp.Stocks[s].Cost = 1
		}
		if a, err := cutstock.Solve(e.ctx, cp, cutstock.Options{Nodes: 1, Rounds: barRounds}); err == nil || errors.Is(err, cutstock.ErrNotFound) {
			bars = max(bars, a.Bound)
		}
	}
	return int(bars)
}

// bundle looks for a plan as good in cost, material and longest drop with fewer different patterns: each round fills sticks
// with other weights on the long pieces and uses every filling as often as it can.
func (e *engine) bundle() {
	m := e.m
	value := m.effs()
	for round := 0; round < 40 && !e.stopped(); round++ {
		for i := range value {
			value[i] = int64(1e6 * math.Pow(float64(m.items[i].eff+1)/1e6, 1+0.03*float64(round)/2))
		}
		p := &plan{}
		if !m.finish(p, m.newState(), value, 2000, e.stopped) || p.cost > e.best.cost || len(p.patterns) >= len(e.best.patterns) {
			continue
		}
		if m.materialOf(p) <= e.used && m.longestDrop(p) >= e.drop.Value {
			e.best = p
			e.tell()
		}
	}
}
