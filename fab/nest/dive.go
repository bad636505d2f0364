package nest

import (
	"math"
	"slices"

	"bench.example/soapstone/fab/nest/lp"
)

// Bounds of the dives: how many, rounds of pricing after each load that is fixed, steps of search for all of them.
const (
	maxDives   = 24
	diveRounds = 12
	diveWork   = 1_500_000
	thorough   = 5000 // steps of a search for loads where the brief one leaves the program dearer than the target
)

// dives looks for a plan of less than target by fixing loads of the program's solution one after the other and pricing
// anew for what is left. Each dive rounds a little differently; the loads found by one start the next. It tells whether it
// found one.
func (r *root) dives(target int64) bool {
	e := r.e
	first := e.best.cost
	enough := e.work + diveWork
	for variant := 0; variant < maxDives && e.work < enough && !e.stopped(); variant++ {
		if p := r.dive(target, variant); p != nil && p.cost < e.best.cost {
			e.take(p)
			if target = e.below(p.cost); e.bound >= p.cost {
				break
			}
		}
	}
	return e.best.cost < first
}

// rest is the program of what is left: the same loads, fewer pieces, fewer sticks. dear is what a missing piece of each item
// counts (times scale); nil: more than any plan.
func (r *root) rest(s *state, dear []int64) *root {
	m := r.e.m
	d := &root{e: r.e, stage: r.stage, seen: map[string]bool{}, ceiling: r.ceiling, unit: r.unit}
	for i := range m.items {
		row := d.lp.AddRow(lp.GE, float64(s.left[i]))
		d.lp.Nudge(row, lpTiny*float64(1+i%7))
		missing := 0.75 * float64(r.ceiling)
		if dear != nil {
			missing = min(missing, float64(dear[i]))
		}
		j, err := d.lp.AddCol(missing/float64(r.stage.scale)/d.unit, []int32{int32(row)}, []float64{1})
		if err != nil {
			panic(err) // the row is ours
		}
		d.absent = append(d.absent, j)
	}
	d.rows.limit = make([]int, len(m.stocks))
	for i := range m.stocks {
		d.rows.limit[i] = d.lp.AddRow(lp.LE, float64(s.sticks[i]))
	}
	for _, c := range r.cols {
		k := *c
		d.add(&k)
	}
	return d
}

// dive makes one plan; nil where it becomes clear that it would not count less than target.
func (r *root) dive(target int64, variant int) *plan {
	e, m := r.e, r.e.m
	p, s := &plan{}, m.newState()
	if r.sticks != nil {
		s.sticks = slices.Clone(r.sticks)
	}
	d := r.rest(s, nil)
	defer func() {
		for _, c := range d.cols[len(r.cols):] {
			if len(r.cols) < 4000 {
				k := *c
				r.add(&k)
			}
		}
	}()
	for step := 0; s.pieces > 0; step++ {
		value := d.refill(s, quick)
		if value != nil && step == 0 && d.lp.Value() > float64(target-1)/r.unit+1e-6 {
			value = d.refill(s, thorough) // perhaps only for want of better loads
		}
		if value == nil || float64(p.cost)/r.unit+d.lp.Value() > float64(target-1)/r.unit+1e-6 {
			return nil
		}
		if s.pieces < 40 && step > 0 {
			q := &plan{patterns: slices.Clone(p.patterns), cost: p.cost, bars: p.bars}
			t := &state{left: slices.Clone(s.left), pieces: s.pieces, sticks: slices.Clone(s.sticks)}
			if m.finish(q, t, value, quick, e.stopped) && q.cost < target {
				return q
			}
		}
		best, score := -1, -1.0
		fixed := false
		for j, c := range d.cols {
			x := d.lp.X(c.in)
			if x < 1e-4 {
				continue
			}
			if n := int(x + 1e-4); n > 0 {
				fixed = d.fix(s, p, c, n) || fixed
			}
			// A shift that differs from dive to dive and is the same in every run.
			h := uint32(j)*2654435761 ^ uint32(variant*40503+step*7919)
			h ^= h >> 13
			h *= 0x5bd1e995
			v := x - math.Floor(x+1e-4) + float64(variant)*0.04*float64(h>>8&0xffff)/65536
			if v > score {
				best, score = j, v
			}
		}
		if !fixed && (best < 0 || !d.fix(s, p, d.cols[best], 1)) {
			return nil
		}
		for i, n := range s.left {
			d.lp.SetRHS(i, float64(n))
			if n == 0 {
				d.lp.Nudge(i, 0)
			}
		}
		for i, n := range s.sticks {
			d.lp.SetRHS(d.rows.limit[i], float64(n))
		}
	}
	if p.cost >= target {
		return nil
	}
	return p
}

// refill prices loads of what is left into the program and solves it; it gives the items' values, nil where it fails.
func (d *root) refill(s *state, steps int) []int64 {
	e := d.e
	for round := 0; ; round++ {
		before := d.lp.Pivots
		if d.lp.Solve(e.ctx) != lp.Optimal || e.stopped() {
			return nil
		}
		e.work += (d.lp.Pivots - before) * (8 + d.lp.Rows()/2)
		value, _ := d.duals()
		grown := false
		for i := range s.sticks {
			if s.sticks[i] > 0 && round < diveRounds {
				found, _ := d.price(i, value, s.left, steps)
				grown = d.addBest(found) || grown
			}
		}
		if !grown {
			return value
		}
	}
}

// fix puts n sticks with the column's load, less what is no longer wanted, into the plan.
func (d *root) fix(s *state, p *plan, c *column, n int) bool {
	did := false
	for range n {
		q := pattern{stock: c.stock, times: 1}
		for _, t := range c.takes {
			if k := min(t.n, s.left[t.item]); k > 0 {
				q.takes = append(q.takes, take{t.item, k})
			}
		}
		if len(q.takes) == 0 || s.use(&q, 1) == 0 {
			break
		}
		q.cost = d.e.m.costOf(q.stock, q.takes)
		p.add(q)
		did = true
	}
	return did
}
