package cutstock

import "slices"

// plan is a list of patterns that covers a demand, with its cost.
type plan struct {
	uses []use
	cost int64
}

// room is the running state of a greedy plan.
type room struct {
	c     *inst
	left  []int32
	limit []int
	first int // largest kind left
	n     int // pieces left
}

func newRoom(c *inst) *room {
	r := &room{c: c, left: append([]int32(nil), c.dem...), limit: make([]int, len(c.stocks))}
	for i, s := range c.stocks {
		r.limit[i] = s.hi
	}
	for _, d := range c.dem {
		r.n += int(d)
	}
	return r
}

// fillLargest fills cap with the largest pieces that fit, one after the other.
func (r *room) fillLargest(cap int64, out []take) ([]take, int64) {
	out = out[:0]
	c := r.c
	var sum int64
	last := len(c.size) - 1
	for k := r.first; k < len(c.size); k++ {
		if r.left[k] == 0 || c.size[k] > cap-sum {
			continue
		}
		n := int32(min(int64(r.left[k]), (cap-sum)/c.size[k]))
		if c.conf != nil {
			if n = c.allowed(out, int32(k), n); n == 0 {
				continue
			}
		}
		out = append(out, take{int32(k), n})
		if sum += int64(n) * c.size[k]; cap-sum < c.size[last] {
			break
		}
	}
	return out, sum
}

// fillFull fills cap as full as it can, the largest piece that fits included, by a search cut off after some steps.
func (r *room) fillFull(cap int64, out []take, steps int) ([]take, int64) {
	c := r.c
	best, bestSum := r.fillLargest(cap, nil)
	if len(best) == 0 || bestSum == cap {
		return append(out[:0], best...), bestSum
	}
	// Sum of what is left from kind k on, to cut branches that cannot catch up.
	tail := make([]int64, len(c.size)+1)
	for k := len(c.size) - 1; k >= 0; k-- {
		tail[k] = tail[k+1] + int64(r.left[k])*c.size[k]
	}
	cur := []take{}
	var dfs func(k int, sum int64)
	dfs = func(k int, sum int64) {
		if sum > bestSum {
			bestSum = sum
			best = append(best[:0], cur...)
		}
		for ; k < len(c.size) && bestSum < cap && steps > 0; k++ {
			if sum+min(tail[k], cap-sum) <= bestSum {
				return
			}
			if r.left[k] == 0 || c.size[k] > cap-sum {
				continue
			}
			n := int32(min(int64(r.left[k]), (cap-sum)/c.size[k]))
			if c.conf != nil {
				n = c.allowed(cur, int32(k), n)
			}
			for ; n > 0; n-- {
				steps--
				cur = append(cur, take{int32(k), n})
				dfs(k+1, sum+int64(n)*c.size[k])
				cur = cur[:len(cur)-1]
				if bestSum == cap || steps <= 0 {
					return
				}
			}
		}
	}
	k := best[0].k
	first := best[0]
	for n := first.n; n > 0 && steps > 0 && bestSum < cap; n-- {
		cur = append(cur[:0], take{k, n})
		dfs(int(k)+1, int64(n)*c.size[k])
	}
	return append(out[:0], best...), bestSum
}

func (r *room) apply(p *plan, stock int, takes []take) {
	times := r.limit[stock]
	for _, t := range takes {
		times = min(times, int(r.left[t.k]/t.n))
	}
	for _, t := range takes {
		r.left[t.k] -= t.n * int32(times)
		r.n -= int(t.n) * times
	}
	r.limit[stock] -= times
	p.uses = append(p.uses, use{pattern{int32(stock), append([]take(nil), takes...)}, times})
	p.cost += r.c.stocks[stock].cost * int64(times)
	for r.first < len(r.left) && r.left[r.first] == 0 {
		r.first++
	}
}

// greedy fills stick after stick. full asks for the fullest fill instead of largest first; only >= 0 restricts new
// sticks to one stock as long as that holds the largest piece. It returns nil where the limits ran out.
func greedy(c *inst, start *room, full bool, only int) *plan {
	r := newRoom(c)
	if start != nil {
		copy(r.left, start.left)
		copy(r.limit, start.limit)
		r.n = start.n
	}
	for r.first < len(r.left) && r.left[r.first] == 0 {
		r.first++
	}
	p := &plan{}
	var buf, best []take
	for r.n > 0 {
		at, score, filled := -1, 0.0, int64(0)
		for k, s := range c.stocks {
			if r.limit[k] == 0 {
				continue
			}
			if only >= 0 && k != only && c.size[r.first] <= c.stocks[only].cap && r.limit[only] > 0 && s.cost > 0 {
				continue
			}
			var sum int64
			if full {
				buf, sum = r.fillFull(s.cap, buf, 4000)
			} else {
				buf, sum = r.fillLargest(s.cap, buf)
			}
			if sum == 0 {
				continue
			}
			v := float64(s.cost) / float64(sum)
			// The largest piece must get its stick while there is one that holds it.
			if buf[0].k != int32(r.first) && s.cost > 0 {
				v += float64(s.cost)
			}
			if at < 0 || v < score || v == score && sum > filled {
				at, score, filled = k, v, sum
				best = append(best[:0], buf...)
			}
		}
		if at < 0 {
			return nil
		}
		r.apply(p, at, best)
	}
	p.shrink(c, r.limit)
	return p
}

// shrink moves every stick's content to the cheapest stock that holds it and of which there are some left.
func (p *plan) shrink(c *inst, left []int) {
	if len(c.stocks) == 1 {
		return
	}
	left = slices.Clone(left)
	for changed := true; changed; {
		changed = false
		for n := 0; n < len(p.uses); n++ {
			u := p.uses[n]
			sum := c.sum(u.takes)
			best := u.stock
			for k, s := range c.stocks {
				if s.cap >= sum && left[k] > 0 && s.cost < c.stocks[best].cost {
					best = int32(k)
				}
			}
			if best == u.stock {
				continue
			}
			m := min(left[best], u.times)
			left[best] -= m
			left[u.stock] += m
			p.cost -= int64(m) * (c.stocks[u.stock].cost - c.stocks[best].cost)
			changed = true
			if m == u.times {
				p.uses[n].stock = best
				continue
			}
			p.uses[n].times -= m
			p.uses = append(p.uses, use{pattern{best, u.takes}, m})
		}
	}
}

// quick returns the best of the greedy plans, or nil.
func quick(c *inst) *plan {
	var best *plan
	try := func(p *plan) {
		if p != nil && (best == nil || p.cost < best.cost) {
			best = p
		}
	}
	try(greedy(c, nil, false, -1))
	small := len(c.size) <= 1200
	if small {
		try(greedy(c, nil, true, -1))
	}
	if len(c.stocks) > 1 {
		for k := range c.stocks {
			try(greedy(c, nil, false, k))
			if small && len(c.stocks) <= 12 {
				try(greedy(c, nil, true, k))
			}
		}
	}
	return best
}
