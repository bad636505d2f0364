package cutstock

import (
	"math/bits"
	"slices"
)

// take is n pieces of a kind of a core.
type take struct{ k, n int32 }

// pattern fills one stick of a core's stock; takes are in increasing kind.
type pattern struct {
	stock int32
	takes []take
}

type use struct {
	pattern
	times int
}

// stick is a kind of stick of a core. limit is never negative: an unlimited one is limited by the number of pieces.
type stick struct {
	cap, cost int64
	limit     int
	free      bool  // unlimited
	orig      []int // the caller's stocks
	limits    []int // what is left of each, -1: as many as wanted
}

// give takes one stick for good and tells which of the caller's stocks it is.
func (s *stick) give() int {
	o := 0
	for s.limits[o] == 0 {
		o++
	}
	if s.limits[o] > 0 {
		s.limits[o]--
	}
	return s.orig[o]
}

// core is a problem in reduced form: kinds by falling size, stocks by falling capacity (cheaper first among equals).
type core struct {
	size   []int64
	dem    []int
	stocks []stick
	origs  [][]source // kind -> where its pieces come from
	fixed  []use2     // sticks settled by reduction, in the caller's terms
	base   int64      // what those cost
	unit   int64      // greatest common divisor of the costs; core costs are in units of it
	pieces int
	volume int64
}

type source struct{ item, n int }

type use2 struct {
	stock int
	takes []Take
	times int
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// reduce brings p, which has passed check, into core form.
func reduce(p Problem) *core {
	c := &core{unit: 1}
	var idx []int
	for i, it := range p.Items {
		if it.Demand > 0 {
			idx = append(idx, i)
			c.pieces += it.Demand
		}
	}
	slices.SortStableFunc(idx, func(a, b int) int {
		switch x, y := p.Items[a].Size, p.Items[b].Size; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	for _, i := range idx {
		it := p.Items[i]
		if n := len(c.size); n > 0 && c.size[n-1] == it.Size {
			c.dem[n-1] += it.Demand
			c.origs[n-1] = append(c.origs[n-1], source{i, it.Demand})
			continue
		}
		c.size = append(c.size, it.Size)
		c.dem = append(c.dem, it.Demand)
		c.origs = append(c.origs, []source{{i, it.Demand}})
	}
	for k, s := range p.Stocks {
		if s.Limit == 0 || len(c.size) == 0 || s.Length < c.size[len(c.size)-1] {
			continue
		}
		lim, free := s.Limit, false
		if lim < 0 || lim >= c.pieces {
			lim, free = c.pieces, true
		}
		c.stocks = append(c.stocks, stick{s.Length, s.Cost, lim, free, []int{k}, []int{s.Limit}})
	}
	c.giveFree()
	c.scale()
	c.lowerCaps()
	c.settleLarge()
	c.scale()
	c.lowerCaps()
	var g int64
	for _, s := range c.stocks {
		g = gcd(g, s.cost)
	}
	if g > 1 {
		c.unit = g
		for i := range c.stocks {
			c.stocks[i].cost /= g
		}
	}
	c.count()
	return c
}

func (c *core) count() {
	c.pieces, c.volume = 0, 0
	for i, d := range c.dem {
		c.pieces += d
		c.volume += int64(d) * c.size[i]
	}
	for i := range c.stocks {
		if s := &c.stocks[i]; s.free || s.limit > c.pieces {
			s.limit, s.free = c.pieces, true
		}
	}
}

// draw takes n pieces of kind k for a settled stick and returns them in the caller's terms.
func (c *core) draw(k, n int) []Take {
	var out []Take
	c.dem[k] -= n
	o := c.origs[k]
	for n > 0 {
		m := min(n, o[0].n)
		out = append(out, Take{o[0].item, m})
		o[0].n -= m
		n -= m
		if o[0].n == 0 {
			o = o[1:]
		}
	}
	c.origs[k] = o
	return out
}

func (c *core) dropEmpty() {
	n := 0
	for i, d := range c.dem {
		if d > 0 {
			c.size[n], c.dem[n], c.origs[n] = c.size[i], d, c.origs[i]
			n++
		}
	}
	c.size, c.dem, c.origs = c.size[:n], c.dem[:n], c.origs[:n]
}

// giveFree settles all pieces that fit an unlimited stock which costs nothing.
func (c *core) giveFree() {
	best := -1
	for i, s := range c.stocks {
		if s.free && s.cost == 0 && (best < 0 || s.cap > c.stocks[best].cap) {
			best = i
		}
	}
	if best < 0 {
		return
	}
	s := &c.stocks[best]
	first := 0
	for first < len(c.size) && c.size[first] > s.cap {
		first++
	}
	for {
		room := s.cap
		var takes []Take
		for k := first; k < len(c.size); k++ {
			if n := min(int64(c.dem[k]), room/c.size[k]); n > 0 {
				takes = append(takes, c.draw(k, int(n))...)
				room -= n * c.size[k]
			}
		}
		if takes == nil {
			break
		}
		c.fixed = append(c.fixed, use2{s.give(), takes, 1})
	}
	c.dropEmpty()
	c.count()
}

// scale divides sizes and capacities by the sizes' common divisor.
func (c *core) scale() {
	var g int64
	for _, s := range c.size {
		g = gcd(g, s)
	}
	if g <= 1 {
		return
	}
	for i := range c.size {
		c.size[i] /= g
	}
	for i := range c.stocks {
		c.stocks[i].cap /= g
	}
}

// reachLimit bounds the table of reachable sums.
const reachLimit = 4 << 20

// lowerCaps cuts every capacity down to the largest sum of pieces within it, then merges and drops stocks.
func (c *core) lowerCaps() {
	if len(c.size) == 0 {
		c.stocks = c.stocks[:0]
		return
	}
	var most int64
	for i, s := range c.stocks {
		if s.cap > c.volume && c.volume > 0 {
			c.stocks[i].cap = c.volume
		}
		most = max(most, c.stocks[i].cap)
	}
	if most <= reachLimit && most*int64(len(c.size)) <= 64*(32<<20) {
		set := make([]uint64, most/64+1)
		set[0] = 1
		tmp := make([]uint64, len(set))
		for k, s := range c.size {
			// d copies by doubling: 1, 2, 4, ... and the rest.
			for left, n := min(int64(c.dem[k]), most/s), int64(1); left > 0; n *= 2 {
				n = min(n, left)
				left -= n
				shiftOr(set, tmp, n*s)
			}
		}
		for i, s := range c.stocks {
			w := s.cap / 64
			word := set[w] & (^uint64(0) >> (63 - uint(s.cap%64)))
			for word == 0 {
				w--
				word = set[w]
			}
			c.stocks[i].cap = w*64 + int64(63-bits.LeadingZeros64(word))
		}
	}
	slices.SortStableFunc(c.stocks, func(a, b stick) int {
		switch {
		case a.cap != b.cap:
			if a.cap > b.cap {
				return -1
			}
			return 1
		case a.cost != b.cost:
			if a.cost < b.cost {
				return -1
			}
			return 1
		case a.free != b.free:
			if a.free {
				return -1
			}
			return 1
		}
		return 0
	})
	smallest := c.size[len(c.size)-1]
	keep := c.stocks[:0]
next:
	for _, s := range c.stocks {
		if s.cap < smallest {
			continue
		}
		for n := range keep {
			o := &keep[n]
			if o.free && o.cost <= s.cost {
				continue next // o is as long, as cheap and unlimited
			}
			if o.cap == s.cap && o.cost == s.cost {
				o.limit = min(c.pieces, o.limit+s.limit)
				o.free = o.free || o.limit == c.pieces
				o.orig = append(o.orig, s.orig...)
				o.limits = append(o.limits, s.limits...)
				continue next
			}
		}
		keep = append(keep, s)
	}
	c.stocks = keep
}

func shiftOr(set, tmp []uint64, by int64) {
	w, b := int(by/64), uint(by%64)
	if w >= len(set) {
		return
	}
	copy(tmp, set)
	for i := len(set) - 1; i >= w; i-- {
		v := tmp[i-w] << b
		if b > 0 && i-w > 0 {
			v |= tmp[i-w-1] >> (64 - b)
		}
		set[i] |= v
	}
}

// settleLarge sets aside pieces whose stick is certain. It argues by exchange and so needs that the piece's stick can
// only be one unlimited kind: the longest stock, where it is the only one that holds the piece.
func (c *core) settleLarge() {
	if len(c.stocks) == 0 || !c.stocks[0].free {
		return
	}
	s := &c.stocks[0]
	var next int64 // the second longest
	if len(c.stocks) > 1 {
		next = c.stocks[1].cap
	}
	for changed := true; changed; {
		changed = false
		for k := 0; k < len(c.size) && c.size[k] > next; k++ {
			if c.dem[k] == 0 {
				continue
			}
			room := s.cap - c.size[k]
			// The largest piece that goes with it, and whether any two do.
			j := 0
			for j < len(c.size) && (c.size[j] > room || c.dem[j] == 0 || j == k && c.dem[k] < 2) {
				j++
			}
			if j == len(c.size) {
				for c.dem[k] > 0 {
					c.fixed = append(c.fixed, use2{s.give(), c.draw(k, 1), 1})
					c.base += s.cost
				}
				changed = true
				continue
			}
			exact := c.size[j] == room
			two := false
			if !exact {
				// The two smallest others.
				var sum int64
				got := 0
				for i := len(c.size) - 1; i >= 0 && got < 2; i-- {
					n := c.dem[i]
					if i == k {
						n--
					}
					for ; n > 0 && got < 2; n-- {
						sum += c.size[i]
						got++
					}
				}
				two = got == 2 && sum <= room
			}
			if exact || !two {
				n := min(c.dem[k], c.dem[j])
				if j == k {
					n = c.dem[k] / 2
				}
				for ; n > 0; n-- {
					t := c.draw(k, 1)
					t = append(t, c.draw(j, 1)...)
					c.fixed = append(c.fixed, use2{s.give(), t, 1})
					c.base += s.cost
				}
				changed = true
				k--
			}
		}
	}
	c.dropEmpty()
	c.count()
}
