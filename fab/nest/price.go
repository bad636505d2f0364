package nest

import (
	"cmp"
	"slices"
)

// stage is one objective: what a load on a stick counts, in units of scale to one of cost.
type stage struct {
	m        *model
	material bool // else money
	scale    int64
	side     int64 // material stage: what a unit of money counts besides, the dual of "no dearer than the cheapest"
}

// cost gives what the load on stick s counts in the objective, and its money.
func (g *stage) cost(s int, l *load) (cost, money int64, ok bool) {
	st := &g.m.stocks[s]
	money = st.cost
	if st.parts == 1 && !g.material {
		return money, money, true
	}
	if g.m.plain && st.parts == 1 && l.total > 0 {
		return g.m.plainMaterial(st, l), money, l.eff <= st.cap
	}
	p, ok := l.place(s)
	if !ok {
		return 0, 0, false
	}
	if st.parts > 1 {
		money += int64(len(p.fits)-st.parts) * st.yardCut
	}
	if !g.material {
		return money, money, true
	}
	return g.m.material(s, &p), money, true
}

// pricer looks for the loads of stick s whose value less their cost is most: a bounded knapsack over the items by depth
// first, the most valuable for their room first, cut off by the fractional bound on the effs; what the joints really take
// is asked of the orders at every step. As a stick that holds a load holds every part of it, a load that does not fit ends
// its branch.
type pricer struct {
	stage
	s     int
	l     *load
	value []int64
	most  []int // of each item
	order []int // best ratio first
	loose bool  // only the effs count: a bound for all loads
	list  bool  // tell every load above the mark (in the money stage: those to which nothing can be added), keep the mark
	tell  func(cost, money, net int64)
	steps int
	limit int
	mark  int64
	gains []int64  // material stage: by place in order, the most that later items can add where they count with their own room
	whole *ceiling // of the values, once the search has become long
	net   *ceiling // material stage: the same where items count with their own room
	fixed int64    // counted against every load of the stick, at least
	alone int64    // the same without the stick's whole length: where a drop is kept
}

// newPricer prepares a search; values are not negative, mark is the net value that a load must pass.
func (g *stage) newPricer(s int, value []int64, most []int, mark int64, limit int) *pricer {
	q := &pricer{stage: *g, s: s, l: g.m.newLoad(), value: value, most: most, mark: mark, limit: limit}
	return q
}

func (q *pricer) start() {
	st := &q.m.stocks[q.s]
	for i, v := range q.value {
		if q.most[i] > 0 && (v > 0 || q.list) {
			q.order = append(q.order, i)
		}
	}
	it := q.m.items
	slices.SortStableFunc(q.order, func(a, b int) int {
		// value/eff falling; eff may be 0.
		return cmp.Compare(float64(q.value[b])*float64(it[a].eff), float64(q.value[a])*float64(it[b].eff))
	})
	if q.material {
		q.fixed = q.scale*st.long + q.side*st.cost
		q.alone = q.scale*st.base + q.side*st.cost
		q.gains = make([]int64, len(q.order)+1)
		for k := len(q.order) - 1; k >= 0; k-- {
			i := q.order[k]
			q.gains[k] = q.gains[k+1] + max(0, q.value[i]-q.scale*it[i].eff)*int64(q.most[i])
		}
	} else {
		q.fixed = q.scale * st.cost
	}
	q.run(0, st.cap, 0)
}

// bound is no less than the net value of any load that adds to the one at hand (worth value) items from place at on.
func (q *pricer) bound(at int, room, value int64) int64 {
	b := int64(-infinite)
	if !q.material || q.m.p.Rules.Keep > 0 || q.m.stocks[q.s].parts > 1 {
		more := int64(0)
		if q.whole != nil {
			more = q.whole.from(at, room)
		} else {
			more = q.fraction(at, room)
		}
		b = value - q.fixed + more
	}
	if q.material {
		more := q.gains[at]
		if q.net != nil {
			more = min(more, q.net.from(at, room))
		}
		b = max(b, value-q.scale*q.l.eff-q.alone+more)
	}
	return b
}

// fraction bounds the value of what can still be added: whole items while they fit, then part of one.
func (q *pricer) fraction(at int, room int64) int64 {
	sum := int64(0)
	for _, i := range q.order[at:] {
		e, n := q.m.items[i].eff, int64(q.most[i])
		if e*n <= room {
			sum += q.value[i] * n
			room -= e * n
			continue
		}
		// e > 0 here. Rounded up, with room for the float's own error.
		return sum + int64(float64(q.value[i])*(float64(room)/float64(e))*(1+1e-12)) + 1
	}
	return sum
}

// Lengths of a search from which tables of its bounds pay: a step asks the orders, but in a plain job it only adds.
const (
	tabled      = 100
	tabledPlain = 20_000
)

// tabulate makes the tables of the bounds.
func (q *pricer) tabulate() {
	it, room := q.m.items, q.m.stocks[q.s].cap
	q.whole = newCeiling(it, q.order, q.value, q.most, room)
	if !q.material {
		return
	}
	net := make([]int64, len(it))
	for _, i := range q.order {
		net[i] = q.value[i] - q.scale*it[i].eff
	}
	q.net = newCeiling(it, q.order, net, q.most, room)
}

func (q *pricer) run(at int, room, value int64) {
	if q.steps++; q.steps > q.limit {
		return
	}
	if q.whole == nil && (q.steps > tabledPlain || q.steps > tabled && !q.m.plain) {
		q.tabulate()
	}
	for ; at < len(q.order); at++ {
		if q.bound(at, room, value) <= q.mark {
			return
		}
		i := q.order[at]
		it := &q.m.items[i]
		n := q.most[i]
		if it.eff > 0 {
			n = int(min(int64(n), room/it.eff))
		}
		// The most that the stick really holds, found from below: each step is a set that fits.
		fits := 0
		for fits < n {
			q.steps++
			q.l.add(i, 1)
			if !q.loose && !q.l.holds(q.s) {
				q.l.add(i, -1)
				break
			}
			fits++
		}
		for ; fits > 0; fits-- {
			v := value + q.value[i]*int64(fits)
			q.offer(v)
			q.run(at+1, room-it.eff*int64(fits), v)
			q.l.add(i, -1)
			if q.steps > q.limit {
				q.l.add(i, 1-fits)
				return
			}
		}
	}
}

// offer counts the load and tells of it where it passes the mark.
func (q *pricer) offer(v int64) {
	if q.loose {
		// No load that fits the effs counts less than this.
		net := v - q.fixed
		if q.material {
			net = max(net, v-q.scale*q.l.eff-q.alone)
		}
		q.mark = max(q.mark, net)
		return
	}
	if !q.material && v-q.fixed <= q.mark {
		return
	}
	if q.list && !q.material && !q.full() {
		return
	}
	cost, money, ok := q.cost(q.s, q.l)
	if !ok {
		return
	}
	net := v - q.scale*cost - q.side*money
	if net <= q.mark {
		return
	}
	if !q.list {
		q.mark = net
	}
	q.tell(cost, money, net)
}

// full tells whether no item can be added to the load at the same cost (one more may take one more part).
func (q *pricer) full() bool {
	st := &q.m.stocks[q.s]
	room := st.cap - q.l.eff
	cost, _, ok := q.cost(q.s, q.l)
	if !ok {
		return false
	}
	for i := len(q.most) - 1; i >= 0; i-- {
		if q.l.x[i] >= q.most[i] || q.m.items[i].eff > room {
			continue
		}
		q.l.add(i, 1)
		more := q.l.holds(q.s)
		if more && st.parts > 1 {
			c, _, ok := q.cost(q.s, q.l)
			more = ok && c <= cost
		}
		q.l.add(i, -1)
		if more {
			return false
		}
	}
	return true
}

// priced is the outcome of a search for the most valuable filling.
type priced struct {
	value int64
	lists [][]take
}

// price finds the load of stick s with the most value, taking no more than most of each item, in at most limit steps.
func (m *model) price(s int, value []int64, most []int, limit int) priced {
	g := stage{m: m}
	p := priced{}
	q := g.newPricer(s, value, most, 0, limit)
	q.tell = func(_, _, net int64) {
		p.value = net
		p.lists = [][]take{q.l.takes()}
	}
	q.start()
	return p
}
