package cutstock

import "slices"

// assemble turns a plan of the core into the caller's terms.
func (c *core) assemble(p *plan) []Pattern {
	var out []Pattern
	emit := func(stock int, takes []Take, times int) {
		slices.SortFunc(takes, func(a, b Take) int { return a.Item - b.Item })
		n := 0
		for _, t := range takes {
			if n > 0 && takes[n-1].Item == t.Item {
				takes[n-1].N += t.N
				continue
			}
			takes[n] = t
			n++
		}
		takes = takes[:n]
		if n := len(out); n > 0 && out[n-1].Stock == stock && slices.Equal(out[n-1].Takes, takes) {
			out[n-1].Times += times
			return
		}
		out = append(out, Pattern{stock, takes, times})
	}
	for _, u := range c.fixed {
		emit(u.stock, slices.Clone(u.takes), u.times)
	}
	src := make([][]source, len(c.origs))
	for i, o := range c.origs {
		src[i] = slices.Clone(o)
	}
	left := make([][]int, len(c.stocks)) // by original stock
	for k, s := range c.stocks {
		left[k] = slices.Clone(s.limits)
	}
	for _, u := range p.uses {
		k := int(u.stock)
		for times := u.times; times > 0; {
			o := 0
			for left[k][o] == 0 {
				o++
			}
			n := times
			if left[k][o] >= 0 {
				n = min(n, left[k][o])
			}
			for _, t := range u.takes {
				if h := src[t.k][0].n; h >= int(t.n) {
					n = min(n, h/int(t.n))
				} else {
					n = 1
				}
			}
			var takes []Take
			for _, t := range u.takes {
				for want := int(t.n) * n; want > 0; {
					h := &src[t.k][0]
					m := min(want, h.n)
					takes = append(takes, Take{h.item, m / n})
					if m%n != 0 { // cannot happen: n divides by the choice above unless n is 1
						panic("cutstock: uneven share")
					}
					want -= m
					if h.n -= m; h.n == 0 {
						src[t.k] = src[t.k][1:]
					}
				}
			}
			emit(c.stocks[k].orig[o], takes, n)
			if left[k][o] > 0 {
				left[k][o] -= n
			}
			times -= n
		}
	}
	return out
}
