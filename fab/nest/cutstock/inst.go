package cutstock

// bin is a stock of an inst: between lo and hi of it are used.
type bin struct {
	cap, cost int64
	lo, hi    int
	free      bool
}

// inst is what a node of the search tree solves: kinds (a merged pair is a kind of its own), demands, stocks with
// bounds, and pairs that may not share a stick.
type inst struct {
	size   []int64
	dem    []int32
	stocks []bin
	parts  [][]take   // kind -> core kinds it consists of
	conf   [][]uint64 // kind -> kinds it may not meet (itself: no second piece); nil where there are none
	cuts   []triple   // only where pool is set
	pool   []pattern  // all patterns that a better plan can use; nil where they are not listed
}

func (c *core) inst() *inst {
	in := &inst{size: c.size, dem: make([]int32, len(c.dem)), parts: make([][]take, len(c.dem))}
	for i, d := range c.dem {
		in.dem[i] = int32(d)
		in.parts[i] = []take{{int32(i), 1}}
	}
	for _, s := range c.stocks {
		in.stocks = append(in.stocks, bin{s.cap, s.cost, 0, s.limit, s.free})
	}
	return in
}

func (c *inst) sum(takes []take) int64 {
	var s int64
	for _, t := range takes {
		s += int64(t.n) * c.size[t.k]
	}
	return s
}

func (c *inst) clash(a, b int32) bool {
	return c.conf != nil && c.conf[a] != nil && c.conf[a][b>>6]>>(uint(b)&63)&1 != 0
}

// allowed cuts n, the copies of k to be added to takes, down to what the conflicts allow.
func (c *inst) allowed(takes []take, k, n int32) int32 {
	if c.conf == nil || c.conf[k] == nil {
		return n
	}
	for _, t := range takes {
		if c.clash(k, t.k) {
			return 0
		}
	}
	if n > 1 && c.clash(k, k) {
		return 1
	}
	return n
}

// fits tells whether takes is a legal filling of stock k.
func (c *inst) fits(k int32, takes []take) bool {
	if c.stocks[k].hi == 0 || c.sum(takes) > c.stocks[k].cap {
		return false
	}
	for i, t := range takes {
		if t.n > c.dem[t.k] || t.n > 1 && c.clash(t.k, t.k) {
			return false
		}
		for _, o := range takes[:i] {
			if c.clash(t.k, o.k) {
				return false
			}
		}
	}
	return true
}

func (c *inst) volume() int64 {
	var v int64
	for i, d := range c.dem {
		v += int64(d) * c.size[i]
	}
	return v
}
