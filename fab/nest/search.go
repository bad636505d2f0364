package nest

import (
	"math"
	"slices"

	"bench.example/soapstone/fab/nest/lp"
)

// search looks for a plan below target among the columns of a pool that holds every column which can be part of one: a
// depth-first branch and bound, the linear program over the pool at each node. Its bounds are counted in integers over
// the whole pool, so that the program's floats only ever suggest.
//
// Two ways to branch: the number of sticks of a sort is at most n or at least n+1; a column is used once more, or never
// again. What was never used on the second way takes with it the columns of which it can stand in the place.
type search struct {
	e       *engine
	stage   stage
	pool    []*column
	lp      lp.LP
	row     struct{ limit, low []int }
	money   int // its row, -1: none
	unit    float64
	ceiling int64
	big     float64
	target  int64             // plans must count less
	next    func(int64) int64 // the target once a plan of this cost is found
	at      int64             // the integer bound of the node just solved
	found   func(cols []*column, cost int64)

	left      []int // of each item, still to cover
	most      []int // sticks that may still be used
	low       []int // sticks that must still be used
	spent     int64
	purse     int64 // money left
	purse0    float64
	chosen    []*column
	barred    []bool // by pool index
	inLP      []int  // pool index of the columns in the program
	nodes     int
	limit     int // of nodes
	allowance int // of the engine\'s work; 0: none
	aborted   bool
}

func (r *root) newSearch(pool []*column, target int64, nodes int) *search {
	e, m := r.e, r.e.m
	c := &search{e: e, stage: r.stage, pool: pool, target: target, limit: nodes, unit: r.unit, ceiling: r.ceiling, money: -1,
		barred: make([]bool, len(pool)), purse: r.money, purse0: float64(max(1, r.money))}
	// One missing piece counts more than any plan of interest; no more, as values end at the ceiling.
	c.big = 1.5 * float64(target) / r.unit
	artificial := func(row int) {
		if _, err := c.lp.AddCol(c.big, []int32{int32(row)}, []float64{1}); err != nil {
			panic(err)
		}
	}
	for i := range m.items {
		c.left = append(c.left, m.items[i].qty)
		row := c.lp.AddRow(lp.GE, float64(m.items[i].qty))
		c.lp.Nudge(row, lpTiny*float64(1+i%7))
		artificial(row)
	}
	for s := range m.stocks {
		most := m.stocks[s].limit
		if r.sticks != nil {
			most = r.sticks[s]
		}
		c.most = append(c.most, most)
		c.low = append(c.low, 0)
		c.row.limit = append(c.row.limit, c.lp.AddRow(lp.LE, float64(most)))
		c.row.low = append(c.row.low, c.lp.AddRow(lp.GE, 0))
		artificial(c.row.low[s])
	}
	if c.stage.material && r.money > 0 {
		c.money = c.lp.AddRow(lp.LE, 1)
	}
	return c
}

// enter puts a column of the pool into the program.
func (c *search) enter(j int) {
	col := c.pool[j]
	var idx []int32
	var val []float64
	for _, t := range col.takes {
		idx = append(idx, int32(t.item))
		val = append(val, float64(t.n))
	}
	idx = append(idx, int32(c.row.limit[col.stock]), int32(c.row.low[col.stock]))
	val = append(val, 1, 1)
	if c.money >= 0 && col.money > 0 {
		idx = append(idx, int32(c.money))
		val = append(val, float64(col.money)/c.purse0)
	}
	in, err := c.lp.AddCol(float64(col.cost)/c.unit, idx, val)
	if err != nil {
		panic(err)
	}
	col.in = in
	c.inLP = append(c.inLP, j)
}

// usable tells whether the column may still be part of the plan: not barred, its stick there, and in the material stage
// no more of any item than is left (in the money stage what is too much is left off).
func (c *search) usable(j int) bool {
	col := c.pool[j]
	if c.barred[j] || c.most[col.stock] == 0 {
		return false
	}
	if c.stage.material {
		if col.money > c.purse {
			return false
		}
		for _, t := range col.takes {
			if t.n > c.left[t.item] {
				return false
			}
		}
	}
	return true
}

// node bounds the rest and branches; aborted says whether some of it was left unsearched.
func (c *search) node() {
	if c.nodes++; c.nodes > c.limit || c.allowance > 0 && c.e.work > c.allowance || c.e.stopped() {
		c.aborted = true
	}
	if c.aborted {
		return
	}
	x, open := c.solve()
	if !open || c.aborted {
		return
	}
	if s, at, ok := c.splitStock(x); ok {
		c.branchStock(s, at)
		return
	}
	j := c.choose(x)
	if j < 0 {
		c.whole(x)
		return
	}
	c.use(j, 1)
	c.node()
	c.use(j, -1)
	if c.aborted {
		return
	}
	var bars []int
	for k := range c.pool {
		if !c.barred[k] && c.within(k, j) {
			c.barred[k] = true
			bars = append(bars, k)
		}
	}
	c.node()
	for _, k := range bars {
		c.barred[k] = false
	}
}

// solve prices the pool's columns into the program until it is solved for the node, and tells whether the node stays
// open under the integer bound. x is by pool index.
func (c *search) solve() (map[int]float64, bool) {
	m := c.e.m
	for i, n := range c.left {
		c.lp.SetRHS(i, float64(n))
	}
	for s := range m.stocks {
		if c.low[s] > c.most[s] {
			return nil, false
		}
		c.lp.SetRHS(c.row.limit[s], float64(c.most[s]))
		c.lp.SetRHS(c.row.low[s], float64(max(0, c.low[s])))
	}
	if c.money >= 0 {
		c.lp.SetRHS(c.money, float64(c.purse)/c.purse0)
	}
	for _, j := range c.inLP {
		col := c.pool[j]
		cost := float64(col.cost) / c.unit
		if !c.usable(j) {
			cost = 2 * c.big
			for _, t := range col.takes {
				cost += c.big * float64(t.n)
			}
		}
		if c.lp.Cost(col.in) != cost {
			c.lp.SetCost(col.in, cost)
		}
	}
	type find struct {
		j int
		r float64
	}
	scale := float64(c.stage.scale)
	for range 200 {
		before := c.lp.Pivots
		st := c.lp.Solve(c.e.ctx)
		c.e.work += (c.lp.Pivots - before) * (8 + c.lp.Rows()/2)
		if st != lp.Optimal {
			c.aborted = true
			return nil, false
		}
		f := c.unit * scale
		value := make([]int64, len(m.items))
		bound := c.spent * c.stage.scale
		for i := range value {
			if c.left[i] > 0 {
				value[i] = whole(c.lp.Dual(i)*f, c.ceiling)
				bound += value[i] * int64(c.left[i])
			}
		}
		side := int64(0)
		if c.money >= 0 {
			side = whole(-c.lp.Dual(c.money)*f/c.purse0, c.ceiling/max(1, int64(c.purse0))*int64(m.pieces+1))
			bound -= side * c.purse
		}
		pay := make([]float64, len(m.stocks))
		least := make([]int64, len(m.stocks))
		for s := range least {
			pay[s] = (c.lp.Dual(c.row.limit[s]) + c.lp.Dual(c.row.low[s])) * f
			least[s] = infinite
		}
		var finds [12]find // the best, falling
		found := 0
		c.e.work += len(c.pool)
		for j, col := range c.pool {
			if !c.usable(j) {
				continue
			}
			r := c.stage.scale*col.cost + side*col.money
			for _, t := range col.takes {
				r -= value[t.item] * int64(min(t.n, c.left[t.item]))
			}
			least[col.stock] = min(least[col.stock], r)
			if v := float64(r) - pay[col.stock]; v < -1e-8*f && col.in < 0 {
				if found < len(finds) {
					found++
				} else if finds[found-1].r <= v {
					continue
				}
				k := found - 1
				for ; k > 0 && finds[k-1].r > v; k-- {
					finds[k] = finds[k-1]
				}
				finds[k] = find{j, v}
			}
		}
		pieces := 0
		for _, n := range c.left {
			pieces += n
		}
		for s, r := range least {
			switch {
			case r == infinite:
				if c.low[s] > 0 {
					return nil, false
				}
			case r < 0:
				bound = less(bound, -r, min(c.most[s], pieces))
			default:
				bound += r * int64(max(0, c.low[s]))
			}
		}
		c.at = bound
		if bound > (c.target-1)*c.stage.scale {
			return nil, false
		}
		if found == 0 {
			break
		}
		for _, f := range finds[:found] {
			c.enter(f.j)
		}
	}
	x := map[int]float64{}
	for _, j := range c.inLP {
		if v := c.lp.X(c.pool[j].in); v > 1e-5 && c.usable(j) {
			x[j] = v
		}
	}
	return x, true
}

func (c *search) sorted(x map[int]float64) []int {
	var js []int
	for j := range x {
		js = append(js, j)
	}
	slices.Sort(js)
	return js
}

// splitStock finds a sort of stick whose number is not whole.
func (c *search) splitStock(x map[int]float64) (s, at int, ok bool) {
	n := make([]float64, len(c.most))
	for _, j := range c.sorted(x) {
		n[c.pool[j].stock] += x[j]
	}
	best := 1e-3
	for i, v := range n {
		if off := math.Abs(v - math.Round(v)); off > best {
			best, s, at, ok = off, i, int(math.Floor(v)), true
		}
	}
	return s, at, ok
}

func (c *search) branchStock(s, at int) {
	most, low := c.most[s], c.low[s]
	c.low[s] = at + 1
	c.node()
	c.low[s] = low
	if c.aborted {
		return
	}
	c.most[s] = min(most, at)
	c.node()
	c.most[s] = most
}

// choose gives the column to branch on: the one that is nearest to being used once more; -1 where all are whole.
func (c *search) choose(x map[int]float64) int {
	best, at := 1e-4, -1
	for _, j := range c.sorted(x) {
		v := x[j]
		if frac := v - math.Floor(v+1e-4); frac > best {
			best, at = frac, j
		}
	}
	return at
}

// use puts n copies of the column into the plan, or takes them back.
func (c *search) use(j, n int) {
	col := c.pool[j]
	if n > 0 {
		c.chosen = append(c.chosen, col)
		col = &column{stock: col.stock, cost: col.cost, money: col.money}
		for _, t := range c.pool[j].takes {
			if k := min(t.n, c.left[t.item]); k > 0 {
				col.takes = append(col.takes, take{t.item, k})
			}
		}
		c.chosen[len(c.chosen)-1] = col
	} else {
		col = c.chosen[len(c.chosen)-1]
		c.chosen = c.chosen[:len(c.chosen)-1]
	}
	for _, t := range col.takes {
		c.left[t.item] -= n * t.n
	}
	c.most[col.stock] -= n
	c.low[col.stock] -= n // below zero: more than were asked for; node bounds with it as it is
	c.spent += int64(n) * col.cost
	c.purse -= int64(n) * col.money
}

// whole takes the solution of a node in which all is whole.
func (c *search) whole(x map[int]float64) {
	var js []int
	for _, j := range c.sorted(x) {
		for range int(math.Round(x[j])) {
			js = append(js, j)
		}
	}
	n := 0
	ok := true
	for _, j := range js {
		if c.most[c.pool[j].stock] == 0 {
			ok = false
			break
		}
		c.use(j, 1)
		n++
	}
	for _, left := range c.left {
		ok = ok && left == 0
	}
	ok = ok && (c.money < 0 || c.purse >= 0)
	if ok && c.spent < c.target {
		c.target = c.next(c.spent)
		c.found(slices.Clone(c.chosen), c.spent)
	} else {
		ok = false
	}
	if !ok || c.at <= (c.target-1)*c.stage.scale {
		// The floats called a point whole and best that is not: the node is not settled.
		c.aborted = true
	}
	for i := n - 1; i >= 0; i-- {
		c.use(js[i], -1)
	}
}

// within tells whether column j can stand in the place of k for what is left.
func (c *search) within(k, j int) bool {
	if k == j {
		return true
	}
	a, b := c.pool[k], c.pool[j]
	if a.stock != b.stock || a.cost < b.cost || a.money < b.money || c.stage.material {
		return false
	}
	for _, t := range a.takes {
		n := min(t.n, c.left[t.item])
		if n == 0 {
			continue
		}
		has := 0
		for _, u := range b.takes {
			if u.item == t.item {
				has = min(u.n, c.left[t.item])
			}
		}
		if n > has {
			return false
		}
	}
	return true
}
