package nest

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bench.example/soapstone/fab/nest/lp"
)

// column is a load on a stick as the master program sees it.
type column struct {
	stock int
	takes []take
	cost  int64 // in the stage's objective
	money int64
	in    int // its index in the linear program, -1: not there
}

// root is the linear program of a stage: cover every item at least cost, no more sticks than there are, in the material
// stage no dearer than the best plan. Columns are priced in as they are found.
type root struct {
	e       *engine
	stage   stage
	lp      lp.LP
	cols    []*column
	seen    map[string]bool
	money   int64 // material stage: what the sticks may cost
	rows    struct{ limit, money []int }
	absent  []int   // the columns of missing pieces, by item
	sticks  []int   // of each sort there are, where fewer are wanted than the stocks have; else nil
	ceiling int64   // of a value
	unit    float64 // costs are divided by it, so that the program's numbers are near one

	// What the last round of integer duals proves.
	bound int64 // times scale
	value []int64
	side  int64
	slack []int64 // by stock: least reduced cost of its loads, where below zero
}

const lpTiny = 1e-7

// newRoot starts the program of a stage with the best plan's columns; ceiling is what that plan counts. It is nil where the
// numbers would be too large.
func (e *engine) newRoot(material bool, ceiling int64) *root {
	m := e.m
	r := &root{e: e, stage: stage{m: m, material: material}, seen: map[string]bool{}}
	// Every sum of values stays below 2^60: no value is above twice the ceiling, and there are so many pieces.
	total := max(1, ceiling)
	room := int64(1) << 58 / (2 * int64(m.pieces+1))
	if total > room {
		return nil
	}
	r.stage.scale = 1
	for r.stage.scale < 1<<30 && total*r.stage.scale*2 <= room {
		r.stage.scale *= 2
	}
	r.ceiling = 2 * total * r.stage.scale
	r.unit = float64(total) / float64(max(1, e.best.bars))
	for i := range m.items {
		row := r.lp.AddRow(lp.GE, float64(m.items[i].qty))
		r.lp.Nudge(row, lpTiny*float64(1+i%7))
		// A missing piece, so that the program always has a solution; it counts more than any plan.
		j, err := r.lp.AddCol(1.5*float64(total)/r.unit, []int32{int32(row)}, []float64{1})
		if err != nil {
			panic(err)
		}
		r.absent = append(r.absent, j)
	}
	r.rows.limit = make([]int, len(m.stocks))
	for s := range m.stocks {
		r.rows.limit[s] = -1
		if m.p.Sticks[m.stocks[s].stick].Limit > 0 {
			r.rows.limit[s] = r.lp.AddRow(lp.LE, float64(m.stocks[s].limit))
		}
	}
	if material {
		r.money = e.best.cost
		r.rows.money = append(r.rows.money, r.lp.AddRow(lp.LE, 1))
	}
	for _, q := range e.best.patterns {
		l := m.newLoad()
		for _, t := range q.takes {
			l.add(t.item, t.n)
		}
		if cost, money, ok := r.stage.cost(q.stock, l); ok {
			r.add(&column{stock: q.stock, takes: q.takes, cost: cost, money: money})
		}
	}
	return r
}

// add puts the column into the program unless it is there.
func (r *root) add(c *column) bool {
	key := fmt.Sprint(c.stock, c.takes)
	if r.seen[key] {
		return false
	}
	r.seen[key] = true
	var idx []int32
	var val []float64
	for _, t := range c.takes {
		idx = append(idx, int32(t.item))
		val = append(val, float64(t.n))
	}
	if row := r.rows.limit[c.stock]; row >= 0 {
		idx = append(idx, int32(row))
		val = append(val, 1)
	}
	for _, row := range r.rows.money {
		if r.money > 0 && c.money > 0 {
			idx = append(idx, int32(row))
			val = append(val, float64(c.money)/float64(r.money))
		}
	}
	j, err := r.lp.AddCol(float64(c.cost)/r.unit, idx, val)
	if err != nil {
		panic(err) // the rows are ours
	}
	c.in = j
	r.cols = append(r.cols, c)
	return true
}

// duals rounds the program's duals down to integers, times scale.
func (r *root) duals() (value []int64, side int64) {
	m := r.e.m
	f := r.unit * float64(r.stage.scale)
	value = make([]int64, len(m.items))
	for i := range value {
		value[i] = whole(r.lp.Dual(i)*f, r.ceiling)
	}
	for _, row := range r.rows.money {
		if r.money > 0 {
			side = whole(-r.lp.Dual(row)*f/float64(r.money), r.ceiling/r.money*int64(m.pieces+1))
		}
	}
	return value, side
}

// whole rounds a dual down to an integer between 0 and most; any integers make a true bound, good ones a high one.
func whole(v float64, most int64) int64 {
	switch {
	case !(v > 0):
		return 0
	case v >= float64(most):
		return most
	}
	return int64(v)
}

// less subtracts by times n from bound, staying far below zero rather than overflowing.
func less(bound, by int64, n int) int64 {
	if by > 0 && n > 0 && by > (1<<60)/int64(n) {
		return -infinite
	}
	return max(-infinite, bound-by*int64(n))
}

// quick is the length of a search for columns that need not be the best.
const quick = 400

// run generates columns until none improves the program or the bound reaches target, in at most so many rounds. A round
// first looks briefly; only where that finds nothing it searches every stick to the end (or for steps), which proves a
// bound.
func (r *root) run(target int64, rounds, steps int) {
	e, m := r.e, r.e.m
	r.value, r.slack = make([]int64, len(m.items)), make([]int64, len(m.stocks)) // prove the bound 0
	most := make([]int, len(m.items))
	for i := range most {
		most[i] = m.items[i].qty
	}
	budget := e.work + 30*steps
	for range rounds {
		before := r.lp.Pivots
		if r.lp.Solve(e.ctx) != lp.Optimal || e.stopped() || e.work > budget {
			return
		}
		e.work += (r.lp.Pivots - before) * (8 + r.lp.Rows()/2)
		value, side := r.duals()
		r.stage.side = side
		grown := false
		for s := range m.stocks {
			if r.sticks != nil && r.sticks[s] == 0 {
				continue
			}
			found, _ := r.price(s, value, most, quick)
			grown = r.addBest(found) || grown
		}
		if grown {
			continue
		}
		if steps <= quick {
			return
		}
		worth := make([]int64, len(m.stocks)) // most that a load's value passes its cost by, the limit's dual left out
		for s := range m.stocks {
			if r.sticks != nil && r.sticks[s] == 0 {
				continue
			}
			found, w := r.price(s, value, most, steps)
			worth[s] = w
			if m.unsure {
				worth[s] = max(w, r.loose(s, value, most, steps))
			}
			grown = r.addBest(found) || grown
		}
		r.prove(value, side, worth)
		if !grown || r.bound > (target-1)*r.stage.scale {
			return
		}
	}
}

// price looks for loads of the stick that improve the program, and bounds what the value of any passes its cost by.
func (r *root) price(s int, value []int64, most []int, steps int) ([]*column, int64) {
	// A column pays where it beats the dual of the stick's limit too; the bound wants the best of all.
	pay := int64(0)
	if row := r.rows.limit[s]; row >= 0 {
		pay = whole(-r.lp.Dual(row)*r.unit*float64(r.stage.scale), infinite)
	}
	q := r.stage.newPricer(s, value, most, 0, steps)
	var found []*column
	q.tell = func(cost, money, net int64) {
		if net > pay+pay>>30 {
			found = append(found, &column{stock: s, takes: q.l.takes(), cost: cost, money: money})
		}
	}
	q.start()
	r.e.work += q.steps
	worth := q.mark
	if q.steps > q.limit && steps > quick {
		worth = max(worth, r.loose(s, value, most, steps))
	}
	return found, worth
}

// addBest adds the last, best of the columns found; true where any is new.
func (r *root) addBest(found []*column) bool {
	grown := false
	for i := len(found) - 1; i >= max(0, len(found)-4); i-- {
		grown = r.add(found[i]) || grown
	}
	return grown
}

// loose bounds the net value of every load of the stick by the effs alone; where even that search is too long, by the
// fractional filling.
func (r *root) loose(s int, value []int64, most []int, steps int) int64 {
	q := r.stage.newPricer(s, value, most, 0, steps)
	q.loose = true
	q.start()
	if q.steps <= q.limit {
		return q.mark
	}
	q.l = r.e.m.newLoad()
	return max(0, q.bound(0, r.e.m.stocks[s].cap, 0))
}

// prove turns integer duals into a bound that holds whatever the floats were: the value of all items, less what the loads
// pass their costs by, times the sticks there are (Lagrange); where the sticks are unlimited the duals are first lowered
// until no load passes its cost (Farley, Oper. Res. 38, 1990).
func (r *root) prove(value []int64, side int64, worth []int64) {
	m := r.e.m
	lower := 1.0
	for s, w := range worth {
		st := &m.stocks[s]
		if w <= 0 || r.sticks != nil || m.p.Sticks[st.stick].Limit > 0 {
			continue
		}
		if r.stage.material || st.cost == 0 {
			lower = min(lower, 1) // lowered duals do not help here: the sticks' number is bounded instead
			continue
		}
		full := float64(r.stage.scale * st.cost)
		lower = min(lower, full/(full+float64(w))*(1-1e-15))
	}
	bound := -side * r.money
	lowered := make([]int64, len(value))
	for i, v := range value {
		lowered[i] = v
		if lower < 1 {
			lowered[i] = int64(math.Floor(float64(v) * lower))
		}
		bound += lowered[i] * int64(m.items[i].qty)
	}
	slack := make([]int64, len(worth))
	for s, w := range worth {
		st := &m.stocks[s]
		if w <= 0 {
			continue
		}
		if lower < 1 {
			// worth+cost is the best value, which lowering brings down with it; the rounding of the product is covered.
			full := r.stage.scale * st.cost
			w = int64(math.Ceil(float64(w+full)*lower*(1+1e-15))) - full
			if w <= 0 {
				continue
			}
		}
		slack[s] = w
		n := st.limit
		if r.sticks != nil {
			n = r.sticks[s]
		}
		bound = less(bound, w, n)
	}
	if bound > r.bound {
		r.bound, r.value, r.slack, r.side = bound, lowered, slack, side
	}
}

// columnsWithin lists the loads that can be part of a plan of less than target (in the objective): those whose reduced
// cost is within what separates the bound from it. It fails where they are more than most, or the search too long.
func (r *root) columnsWithin(target int64, most, steps int) ([]*column, bool) {
	m := r.e.m
	gap := target*r.stage.scale - r.bound // reduced costs of a plan's columns add up to less
	g := r.stage
	g.side = r.side
	upTo := make([]int, len(m.items))
	for i := range upTo {
		upTo[i] = m.items[i].qty
	}
	var out []*column
	for s := range m.stocks {
		if r.sticks != nil && r.sticks[s] == 0 {
			continue
		}
		// net value = slack - reduced cost > slack - gap
		q := g.newPricer(s, r.value, upTo, r.slack[s]-gap, steps)
		q.list = true
		q.tell = func(cost, money, _ int64) {
			out = append(out, &column{stock: s, takes: q.l.takes(), cost: cost, money: money, in: -1})
			if len(out) > most {
				q.steps = q.limit + 1
			}
		}
		q.start()
		r.e.work += q.steps
		if q.steps > q.limit || r.e.stopped() {
			return nil, false
		}
	}
	slices.SortStableFunc(out, func(a, b *column) int { return cmp.Compare(a.stock, b.stock) })
	return out, true
}
