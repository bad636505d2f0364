package nest

import (
	"cmp"
	"errors"
	"slices"

	"bench.example/soapstone/fab/nest/cutstock"
)

// lengthen makes the longest single drop longest among the plans of this cost and material.
func (e *engine) lengthen() {
	m := e.m
	if e.drop.Bound == 0 {
		e.drop.Bound = e.mostDrop()
	}
	e.drop.Bound = max(e.drop.Value, e.drop.Bound)
	if e.drop.Bound-e.drop.Value <= tolerance {
		e.drop.Proven = e.settled() && e.bound >= e.best.cost
		return
	}
	if !e.settled() || e.bound < e.best.cost || e.opts.Effort < 0 || m.unsure || m.hauls() || e.stopped() {
		return
	}
	if m.plain && m.p.Rules.Keep == 0 && m.pieces > 8 && e.opts.Effort == 0 {
		return // the probes for drops have spent the usual effort
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
			e.improve(found)
			break
		}
		if c.aborted {
			return
		}
	}
	e.drop.Proven = true
}

// maxProbes bounds the questions of lengthenPlain, probeNodes and probeRounds the search for each answer; maxProbed is the
// number of pieces up to which they are asked where no effort is named.
const (
	maxProbes   = 40
	probeNodes  = 8
	probeRounds = 200
	maxProbed   = 500
)

// lengthenPlain looks for the longest drop of a square job by asking whether a drop of a given length can be had at the
// same cost: it is one more piece to be cut. The answers, yes or a proven no, close in on the longest. Where every drop is
// kept the material is the same in every such nest but for the trims, which go into the cost that is asked for, so the
// limit is that of the objective too; where short drops are scrap, it only gives good nests to the search for the least
// material.
func (e *engine) lengthenPlain() {
	m := e.m
	if m.pieces > maxProbed && e.opts.Effort == 0 {
		return
	}
	keep := int64(m.p.Rules.Keep)
	cp := m.relaxed()
	// Costs with the trims behind the comma.
	bases, big := int64(0), int64(1)
	for s := range m.stocks {
		bases = gcd(bases, m.stocks[s].base)
	}
	if bases > 0 && keep == 0 {
		for s := range m.stocks {
			big = max(big, m.stocks[s].base/bases*int64(m.pieces)+1)
		}
		if e.best.cost > (1<<58)/big {
			return
		}
		for s := range cp.Stocks {
			cp.Stocks[s].Cost = cp.Stocks[s].Cost*big + m.stocks[s].base/bases
		}
	}
	unit, kerf, end := int64(0), m.kerf[0], int64(m.p.Rules.TrimEnd)
	pieces := int64(0)
	for i := range cp.Items {
		unit = gcd(unit, cp.Items[i].Size)
		pieces += cp.Items[i].Size * int64(cp.Items[i].Demand)
	}
	// No drop is longer than what the shortest piece leaves of a stick; drops differ by multiples of unit on each sort.
	// floor and above give the greatest of them up to v, and the least beyond it.
	floor := func(v int64) int64 {
		most := int64(0)
		for s := range m.stocks {
			longest := m.stocks[s].cap + end - kerf
			if steps := ceilDiv(longest-v, unit); longest-max(0, steps)*unit > 0 {
				most = max(most, longest-max(0, steps)*unit)
			}
		}
		return most
	}
	above := func(v int64) int64 {
		least := int64(infinite)
		for s := range m.stocks {
			if longest := m.stocks[s].cap + end - kerf; longest > v {
				least = min(least, longest-(longest-v-1)/unit*unit)
			}
		}
		return least
	}
	cost := func(p *plan) int64 {
		sum := int64(0)
		for _, q := range p.patterns {
			sum += cp.Stocks[q.stock].Cost * int64(q.times)
		}
		return sum
	}
	if bases > 0 && keep == 0 {
		// The fewest trims first.
		if a, err := cutstock.Solve(e.ctx, cp, cutstock.Options{Nodes: probeNodes}); err == nil {
			e.improve(m.unrelaxed(&a, e.stopped))
			e.lift(pieces + (a.Bound-e.best.cost*big)*bases)
		}
	}
	// What a round of pricing costs: a table over the kinds and the stick's length, or a search as long as it may be.
	table := len(cp.Items) * int(min(m.stocks[0].cap/max(1, unit), 1<<16)) / 64
	enough := 1
	if keep > 0 {
		enough = e.rest() * 3 / 4 // these answers prove nothing of the objective
	}
	high := floor(e.mostDrop())
	cp.Items = append(cp.Items, cutstock.Item{Demand: 1})
	for range maxProbes {
		low := max(e.drop.Value, keep-1)
		if high <= low+tolerance || e.stopped() || e.rest() <= enough {
			break
		}
		ask := max(above(low), floor(low+(high-low+1)/2))
		if ask > high {
			high = low
			break
		}
		cp.Items[len(cp.Items)-1].Size = max(1, ask-end+kerf)
		limit := cost(e.best)
		a, err := cutstock.Solve(e.ctx, cp, cutstock.Options{Nodes: probeNodes, Rounds: probeRounds, Most: limit})
		e.work += 1000 + 20*a.Pivots + a.Rounds*(100+table)
		switch {
		case errors.Is(err, cutstock.ErrTooLong), errors.Is(err, cutstock.ErrInfeasible), errors.Is(err, cutstock.ErrDear), err == nil && a.Bound > limit:
			high = floor(ask - 1)
			continue
		case err == nil && a.Cost <= limit:
			before := e.drop.Value
			e.improve(m.unrelaxed(&a, e.stopped))
			if e.drop.Value > before {
				continue
			}
		}
		break // no answer in so few nodes
	}
	if keep == 0 {
		e.drop.Bound = max(e.drop.Value, high)
	}
}
