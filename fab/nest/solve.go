package nest

import (
	"context"
	"errors"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest/cutstock"
)

// Solve finds the nest of least cost, then least material, then longest drop, and says what of it is proven. When ctx
// ends it returns the best nest so far; it fails with an *Error where a piece fits no stick or the limits cannot hold the
// job, with ctx's error where there is no nest yet.
func Solve(ctx context.Context, p Problem, opts Options) (Nest, error) {
	if err := check(&p); err != nil {
		return Nest{}, err
	}
	m, err := newModel(&p)
	if err != nil {
		return Nest{}, err
	}
	e := &engine{ctx: ctx, m: m, opts: opts}
	return e.run()
}

// engine is one run of Solve.
type engine struct {
	ctx   context.Context
	m     *model
	opts  Options
	best  *plan
	bound int64 // no plan costs less
	bars  int   // no plan has fewer sticks

	material, drop Goal // bounds and proofs of the later objectives
}

func (e *engine) stopped() bool { return e.ctx.Err() != nil }

func (e *engine) run() (Nest, error) {
	m := e.m
	if len(m.items) == 0 {
		return Nest{Priced: m.priced, Proven: true, Material: Goal{Proven: true}, Longest: Goal{Proven: true}}, nil
	}
	p := &plan{}
	if m.finish(p, m.newState(), m.effs(), 0) {
		e.take(p)
	}
	if err := e.money(); err != nil {
		return Nest{}, err
	}
	if e.best == nil {
		if e.ctx.Err() != nil {
			return Nest{}, e.ctx.Err()
		}
		return Nest{}, e.short()
	}
	return e.nest(), nil
}

// take keeps the plan if it is the cheapest so far and tells the world.
func (e *engine) take(p *plan) {
	if e.best != nil && p.cost >= e.best.cost {
		return
	}
	e.best = p
	e.tell()
}

func (e *engine) tell() {
	if e.opts.Progress != nil && e.best != nil {
		e.opts.Progress(e.nest())
	}
}

// raise lifts the bound.
func (e *engine) raise(bound int64) {
	if e.best != nil {
		bound = min(bound, e.best.cost)
	}
	if bound > e.bound {
		e.bound = bound
		e.tell()
	}
}

func (e *engine) nest() Nest {
	n := e.m.build(e.best)
	n.BoundCost = measure.Money(min(e.bound, e.best.cost))
	n.Proven = e.bound >= e.best.cost
	n.BoundBars = min(e.bars, n.Bars)
	n.Material.Bound, n.Material.Proven = e.material.Bound, e.material.Proven
	n.Longest.Bound, n.Longest.Proven = e.drop.Bound, e.drop.Proven
	return n
}

// money makes the cost least.
func (e *engine) money() error {
	m := e.m
	relaxed, err := e.relax()
	if err != nil {
		return err
	}
	if relaxed != nil {
		e.take(relaxed)
	}
	if e.best != nil && e.bound >= e.best.cost {
		return nil
	}
	if p := m.corrected(e.best, 40, 2000, e.stopped, e.take); p != nil {
		e.take(p)
	}
	return nil
}

// relax solves the job as if its ends were square, each piece as long as its eff: a bound of the cost for certain, and
// the answer itself where the patterns hold as they are. What does not hold is packed anew.
func (e *engine) relax() (*plan, error) {
	m := e.m
	var cp cutstock.Problem
	for i := range m.items {
		cp.Items = append(cp.Items, cutstock.Item{Size: max(1, m.items[i].eff), Demand: m.items[i].qty})
	}
	for s := range m.stocks {
		st := &m.stocks[s]
		limit := m.p.Sticks[st.stick].Limit
		if limit == 0 {
			limit = -1
		}
		length := st.cap
		for i := range m.items {
			if m.items[i].eff == 0 {
				length += int64(m.items[i].qty) // sizes of 0 count 1 there
			}
		}
		cp.Stocks = append(cp.Stocks, cutstock.Stock{Length: length, Cost: st.cost, Limit: limit})
	}
	opts := cutstock.Options{Progress: func(a cutstock.Answer) { e.raise(a.Bound) }}
	a, err := cutstock.Solve(e.ctx, cp, opts)
	switch {
	case errors.Is(err, cutstock.ErrInfeasible):
		return nil, e.short()
	case err != nil:
		return nil, nil // no plan for the limited sticks yet; the engine goes on
	}
	e.raise(a.Bound)
	p, s := &plan{}, m.newState()
	whole := true
	for _, q := range a.Patterns {
		t := pattern{stock: q.Stock}
		x := make([]int, len(m.items))
		for _, k := range q.Takes {
			t.takes = append(t.takes, take{k.Item, k.N})
			x[k.Item] += k.N
		}
		if !m.holds(q.Stock, x) {
			whole = false
			continue
		}
		t.cost = m.costOf(q.Stock, t.takes)
		if t.times = s.use(&t, q.Times); t.times > 0 {
			p.add(t)
		}
	}
	if !whole && !m.finish(p, s, m.effs(), 2000) {
		return nil, nil
	}
	return p, nil
}

// short is the error of a job that the limited sticks cannot hold: it names the longest piece that a careful packing
// leaves over.
func (e *engine) short() error {
	m := e.m
	s := m.newState()
	m.finish(&plan{}, s, m.effs(), 2000)
	for i, n := range s.left {
		if n > 0 {
			k := m.items[i].kinds[0]
			return &Error{Kind: k, Stick: -1, Name: m.p.Kinds[k].Name, Length: m.p.Kinds[k].Length,
				Reason: "the sticks that there are cannot hold the whole job; " + mm(m.p.Kinds[k].Length) + " of it is left over: allow more sticks or fewer pieces"}
		}
	}
	return &Error{Kind: -1, Stick: -1, Reason: "the sticks that there are cannot hold the whole job: allow more sticks or fewer pieces"}
}
