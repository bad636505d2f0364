package nest

import (
	"cmp"
	"context"
	"errors"
	"slices"

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

	work int // steps of search so far

	coins    *coins // see sums
	coinless bool

	laid   *Nest // the nest of laidOf
	laidOf *plan
	used   int64 // material of the best plan, once money is done
	before int   // work spent on money

	material, drop Goal // bounds and proofs of the later objectives
}

func (e *engine) stopped() bool { return e.ctx.Err() != nil }

func (e *engine) run() (Nest, error) {
	m := e.m
	if len(m.items) == 0 {
		return Nest{Priced: m.priced, Proven: true, Material: Goal{Proven: true}, Longest: Goal{Proven: true}}, nil
	}
	p := &plan{}
	if m.finish(p, m.newState(), m.effs(), 0, nil) {
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
	e.bars = e.leastBars()
	e.before = e.work
	e.consume()
	e.lengthen()
	if e.opts.FewPatterns {
		e.bundle()
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

// built lays out the best plan, once.
func (e *engine) built() Nest {
	if e.laid == nil || e.laidOf != e.best {
		n := e.m.build(e.best)
		e.laid, e.laidOf = &n, e.best
	}
	return *e.laid
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
	n := e.built()
	n.BoundCost = measure.Money(min(e.bound, e.best.cost))
	n.Proven = e.bound >= e.best.cost
	n.BoundBars = min(e.bars, n.Bars)
	n.Material.Bound = min(e.material.Bound, n.Material.Value)
	n.Material.Proven = n.Proven && e.used > 0 && e.settled()
	n.Longest.Bound = max(e.drop.Bound, n.Longest.Value)
	n.Longest.Proven = n.Material.Proven && e.drop.Proven
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
	if p := m.corrected(e.best, 4, quick, e.stopped, e.take); p != nil {
		e.take(p)
	}
	if e.best == nil || e.bound >= e.best.cost || e.stopped() {
		return nil
	}
	r := e.newRoot(false, e.best.cost)
	if r == nil {
		return nil
	}
	// Most bounds of the relaxed job are the cost itself: good plans first, proofs only where these do not meet it.
	r.run(e.best.cost, 400, quick)
	r.dives(e.below(e.best.cost))
	if e.bound < e.best.cost {
		r.searchOwn(e.below(e.best.cost), ownNodes)
	}
	if e.bound >= e.best.cost || e.stopped() {
		return nil
	}
	r.run(e.best.cost, 400, 200_000)
	e.raise(e.reach(ceilDiv(r.bound, r.stage.scale)))
	if e.bound < e.best.cost {
		e.mixes(r)
	}
	if e.bound >= e.best.cost || e.stopped() {
		return nil
	}
	target := e.below(e.best.cost)
	pool, whole := r.columnsWithin(target, maxPool, maxListing)
	if !whole {
		r.searchOwn(target, maxNodes) // no proof comes of these, but perhaps a better plan
		return nil
	}
	c := r.newSearch(pool, target, maxNodes)
	c.next = e.below
	c.found = func(cols []*column, _ int64) { e.take(m.planOf(cols)) }
	c.node()
	if !c.aborted && !m.unsure {
		e.raise(e.best.cost)
	}
	return nil
}

// Bounds of the search for the least cost: columns in a pool, steps to list them, nodes of the search.
const (
	maxPool    = 60_000
	maxListing = 3_000_000
	maxNodes   = 20_000
	ownNodes   = 600 // where only the columns at hand are searched, before the proofs
)

func ceilDiv(a, b int64) int64 {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}

// planOf gathers columns into a plan, equal ones into one pattern.
func (m *model) planOf(cols []*column) *plan {
	p := &plan{}
	for _, c := range cols {
		if len(c.takes) == 0 {
			continue
		}
		takes := slices.Clone(c.takes)
		slices.SortFunc(takes, func(a, b take) int { return cmp.Compare(a.item, b.item) })
		q := pattern{stock: c.stock, takes: takes, times: 1, cost: m.costOf(c.stock, takes)}
		p.cost += q.cost
		p.bars++
		same := slices.IndexFunc(p.patterns, func(o pattern) bool { return o.stock == q.stock && slices.Equal(o.takes, q.takes) })
		if same >= 0 {
			p.patterns[same].times++
			continue
		}
		p.patterns = append(p.patterns, q)
	}
	return p
}

// reach rounds a bound up to the next cost that sticks and yard cuts can add up to.
func (e *engine) reach(bound int64) int64 {
	if c := e.sums(); c != nil {
		for at := ceilDiv(max(bound, 0), c.unit); at < int64(len(c.can)); at++ {
			if c.can[at] {
				return at * c.unit
			}
		}
	}
	return max(bound, 0)
}

// below gives a target just above the dearest cost that sticks can add up to below cost: a plan cheaper than cost is
// cheaper than the target.
func (e *engine) below(cost int64) int64 {
	if c := e.sums(); c != nil {
		for at := min(ceilDiv(cost, c.unit)-1, int64(len(c.can))-1); at >= 0; at-- {
			if c.can[at] {
				return at*c.unit + 1
			}
		}
	}
	return cost
}

// coins tells which costs sticks and yard cuts can add up to, in multiples of unit.
type coins struct {
	unit int64
	can  []bool
}

// sums tabulates the costs up to the best plan's; nil where the table would be too long or says nothing.
func (e *engine) sums() *coins {
	if e.coins != nil || e.coinless {
		return e.coins
	}
	m := e.m
	var each []int64
	unit := int64(0)
	add := func(c int64) {
		if c > 0 {
			each = append(each, c)
			unit = gcd(unit, c)
		}
	}
	for i := range m.stocks {
		add(m.stocks[i].cost)
		if m.stocks[i].parts > 1 {
			add(m.stocks[i].yardCut)
		}
	}
	const most = 2_000_000
	if unit == 0 || e.best == nil || e.best.cost/unit > most {
		e.coinless = unit == 0 || e.best != nil
		return nil
	}
	c := &coins{unit, make([]bool, e.best.cost/unit+1)}
	c.can[0] = true
	for _, v := range each {
		for at := int(v / unit); at < len(c.can); at++ {
			c.can[at] = c.can[at] || c.can[at-int(v/unit)]
		}
	}
	e.coins = c
	return c
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// relaxed is the job as if its ends were square, each piece as long as its eff.
func (m *model) relaxed() cutstock.Problem {
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
	return cp
}

// relax solves the relaxed job: a bound of the cost for certain, and the answer itself where the patterns hold as they
// are. What does not hold is packed anew.
func (e *engine) relax() (*plan, error) {
	m := e.m
	a, err := cutstock.Solve(e.ctx, m.relaxed(), cutstock.Options{Progress: func(a cutstock.Answer) { e.raise(a.Bound) }})
	switch {
	case errors.Is(err, cutstock.ErrInfeasible):
		return nil, e.short()
	case err != nil:
		return nil, nil // no plan for the limited sticks yet; the engine goes on
	}
	e.raise(a.Bound)
	return m.unrelaxed(&a, e.stopped), nil
}

// unrelaxed makes a plan of the patterns of a relaxed answer; nil where the limits leave pieces over.
func (m *model) unrelaxed(a *cutstock.Answer, stop func() bool) *plan {
	p, s := &plan{}, m.newState()
	whole := true
	for _, q := range a.Patterns {
		t := pattern{stock: q.Stock}
		x := make([]int, len(m.items))
		for _, k := range q.Takes {
			if k.Item >= len(m.items) {
				continue // a drop that was asked for
			}
			t.takes = append(t.takes, take{k.Item, k.N})
			x[k.Item] += k.N
		}
		if len(t.takes) == 0 {
			continue
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
	if !whole && !m.finish(p, s, m.effs(), 2000, stop) {
		return nil
	}
	return p
}

// short is the error of a job that the limited sticks cannot hold: it names the longest piece that a careful packing
// leaves over.
func (e *engine) short() error {
	m := e.m
	s := m.newState()
	m.finish(&plan{}, s, m.effs(), 2000, nil)
	for i, n := range s.left {
		if n > 0 {
			k := m.items[i].kinds[0]
			return &Error{Kind: k, Stick: -1, Name: m.p.Kinds[k].Name, Length: m.p.Kinds[k].Length,
				format: "the sticks that there are cannot hold the whole job; %s of it is left over: allow more sticks or fewer pieces", args: []any{m.p.Kinds[k].Length}}
		}
	}
	return wrong("the sticks that there are cannot hold the whole job: allow more sticks or fewer pieces")
}
