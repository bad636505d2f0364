package nest

import (
	"cmp"
	"slices"
)

// pricer finds the load of most value for a stick: a bounded knapsack over the items by depth first, the most valuable for
// their room first, cut off by the fractional bound on the effs; what the joints really take is asked of the orders at
// every step. As a stick that holds a load holds every part of it, a load that does not fit ends its branch.
type pricer struct {
	m     *model
	l     *load
	value []int64
	most  []int // of each item
	order []int // items with value, best ratio first
	s     int
	loose bool // only the effs count: a bound for all loads
	steps int
	limit int
	best  int64
	lists [][]take // of the best, and of those that were best before it
	extra int64    // value lost by each part beyond the least number
}

// most is the outcome of a pricing.
type priced struct {
	value int64 // of the best load found
	bound int64 // no load is worth more
	lists [][]take
}

// price finds the load of stick s with the most value, taking no more than most of each item, in at most limit steps.
// Values are not negative. atLeast is the value below which a load is of no interest.
func (m *model) price(s int, value []int64, most []int, atLeast int64, limit int, yardCut int64) priced {
	q := &pricer{m: m, l: m.newLoad(), value: value, most: most, s: s, limit: limit, best: atLeast, extra: yardCut}
	q.sort()
	q.run(0, m.stocks[s].cap, 0)
	p := priced{value: q.best, bound: q.best, lists: q.lists}
	if q.steps > limit {
		p.bound = max(q.best, q.fraction(0, m.stocks[s].cap))
	}
	return p
}

func (q *pricer) sort() {
	for i, v := range q.value {
		if v > 0 && q.most[i] > 0 {
			q.order = append(q.order, i)
		}
	}
	it := q.m.items
	slices.SortStableFunc(q.order, func(a, b int) int {
		// value/eff falling; eff may be 0.
		return cmp.Compare(float64(q.value[b])*float64(it[a].eff), float64(q.value[a])*float64(it[b].eff))
	})
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
		// e > 0 here. Rounded up, and one more for the float.
		return sum + int64(float64(q.value[i])*(float64(room)/float64(e))*(1+1e-12)) + 1
	}
	return sum
}

func (q *pricer) run(at int, room, value int64) {
	if q.steps++; q.steps > q.limit {
		return
	}
	for ; at < len(q.order); at++ {
		if value+q.fraction(at, room) <= q.best {
			return
		}
		i := q.order[at]
		it := &q.m.items[i]
		n := q.most[i]
		if it.eff > 0 {
			n = int(min(int64(n), room/it.eff))
		}
		if n == 0 {
			continue
		}
		// The most that the stick really holds, found from below: each step is a set that fits.
		fits := 0
		for fits < n {
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
				break
			}
		}
		q.l.add(i, -max(fits, 0))
		if q.steps > q.limit {
			return
		}
	}
}

// offer keeps the load where it is worth more than the best.
func (q *pricer) offer(v int64) {
	if v <= q.best {
		return
	}
	if q.extra > 0 && q.m.stocks[q.s].parts > 1 {
		p, ok := q.l.place(q.s)
		if !ok {
			return
		}
		if v -= q.extra * int64(len(p.fits)-q.m.stocks[q.s].parts); v <= q.best {
			return
		}
	}
	q.best = v
	q.lists = append(q.lists, q.l.takes())
	if len(q.lists) > 8 {
		q.lists = slices.Delete(q.lists, 0, 1)
	}
}
