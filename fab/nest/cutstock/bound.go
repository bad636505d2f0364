package cutstock

import (
	"math"
	"math/big"
)

// scaled is the integer picture of the duals: costs in fine units, cost[k] <= true cost * up (or >> down).
type scaled struct {
	up   int64 // fine units per cost unit, where down is 0
	down uint  // costs are shifted right by this where they are too large to be scaled up
	cost []int64
	ref  float64 // fine units per LP cost unit
}

// newScale picks the finest unit in which all sums stay below 2^61.
func newScale(in *inst, lpUnit float64, dear float64) scaled {
	pieces := 1.0
	for _, d := range in.dem {
		pieces += float64(d)
	}
	s := scaled{up: 1}
	// The largest sum: every piece at the dearest dual.
	for top := pieces * dear * lpUnit; float64(s.up)*top < 1<<58 && float64(s.up)*lpUnit < 1<<28; {
		s.up *= 2
	}
	for math.Ldexp(pieces*dear*lpUnit, -int(s.down)) > 1<<60 {
		s.down++
	}
	for _, b := range in.stocks {
		s.cost = append(s.cost, b.cost*s.up>>s.down)
	}
	s.ref = math.Ldexp(lpUnit*float64(s.up), -int(s.down))
	return s
}

// back turns a bound in fine units into one in cost units.
func (s scaled) back(b *big.Int) int64 {
	if b.Sign() <= 0 {
		return 0
	}
	z := new(big.Int)
	if s.down > 0 {
		z.Lsh(b, s.down)
	} else {
		// Costs are whole: round up.
		z.Add(b, big.NewInt(s.up-1))
		z.Quo(z, big.NewInt(s.up))
	}
	if !z.IsInt64() || z.Int64() > maxTotal {
		return maxTotal
	}
	return z.Int64()
}

// lagrange bounds the cost of every plan of in from below. worth is the sum of dual times demand, best[k] an upper
// bound of the dual value of any pattern of stock k; all are integers and so is the arithmetic.
//
// A plan with y_k sticks of stock k covers the demand, so worth <= sum best_k y_k. For unlimited stocks the duals are
// first scaled by theta = max best_k/cost_k (Farley), then the rest is Lagrange over lo <= y <= hi.
func lagrange(in *inst, s scaled, worth int64, best []int64) *big.Int {
	num, den := int64(1), int64(1) // 1/theta = num/den
	var a, b big.Int
	for k, bin := range in.stocks {
		if !bin.free || best[k] <= s.cost[k] {
			continue
		}
		if s.cost[k] == 0 {
			return new(big.Int)
		}
		// best/cost > den/num ?
		a.Mul(big.NewInt(best[k]), big.NewInt(num))
		b.Mul(big.NewInt(s.cost[k]), big.NewInt(den))
		if a.Cmp(&b) > 0 {
			num, den = s.cost[k], best[k]
		}
	}
	value := func(num, den int64) *big.Int {
		total := new(big.Int).Mul(big.NewInt(worth), big.NewInt(num))
		for k, bin := range in.stocks {
			// gap*den = cost*den - best*num
			a.Mul(big.NewInt(s.cost[k]), big.NewInt(den))
			b.Mul(big.NewInt(best[k]), big.NewInt(num))
			a.Sub(&a, &b)
			n := bin.lo
			if a.Sign() < 0 {
				n = bin.hi
			}
			if n != 0 {
				total.Add(total, a.Mul(&a, big.NewInt(int64(n))))
			}
		}
		// Rounding up is right: costs are whole multiples of... fine units are whole, the bound is over whole costs.
		q, m := new(big.Int).QuoRem(total, big.NewInt(den), new(big.Int))
		if m.Sign() > 0 {
			q.Add(q, big.NewInt(1))
		}
		return q
	}
	v := value(num, den)
	if num != den {
		// Without scaling every stock is capped by its hi; seldom better, always valid.
		if w := value(1, 1); w.Cmp(v) > 0 {
			v = w
		}
	}
	return v
}

// cover is a valid inequality over the stick counts: sum of have[k]*y_k >= need.
type cover struct {
	have []int64
	need int64
}

// leastMix returns the least cost >= from of stick counts lo <= y <= hi that satisfy all covers, or stop as soon as
// it is known that the least is at least that. ok is false where the search was too long; then from stands.
func leastMix(in *inst, covers []cover, from, stop int64) (int64, bool) {
	n := len(in.stocks)
	if from >= stop {
		return from, true
	}
	// Cost units are small integers after division by their gcd; the search is depth first over the stocks by falling
	// cost with the LP bound of each single cover.
	base := int64(0)
	need := make([]int64, len(covers))
	for i, cv := range covers {
		need[i] = cv.need
	}
	for k, b := range in.stocks {
		if b.lo > b.hi {
			return stop, true
		}
		base += int64(b.lo) * b.cost
		for i, cv := range covers {
			need[i] -= cv.have[k] * int64(b.lo)
		}
	}
	best := stop
	steps := 200000
	var dfs func(k int, cost int64, need []int64)
	dfs = func(k int, cost int64, need []int64) {
		if steps--; steps < 0 || cost >= best {
			return
		}
		if k == n {
			for _, v := range need {
				if v > 0 {
					return
				}
			}
			if cost >= from {
				best = cost
			}
			return
		}
		// Bound: for each cover the cheapest way to the rest by fraction, at the best ratio of the stocks left.
		for i, v := range need {
			if v <= 0 {
				continue
			}
			ratio := math.Inf(1)
			for q := k; q < n; q++ {
				if b := in.stocks[q]; b.hi > b.lo && covers[i].have[q] > 0 {
					ratio = min(ratio, float64(b.cost)/float64(covers[i].have[q]))
				}
			}
			if math.IsInf(ratio, 1) || float64(cost)+ratio*float64(v)*(1-1e-9) > float64(best)-1+1e-6 {
				return
			}
		}
		b := in.stocks[k]
		most := int64(b.hi - b.lo)
		if b.cost > 0 {
			most = min(most, (best-1-cost)/b.cost)
		}
		if k == n-1 {
			// The last stock: the least count that covers and reaches from.
			var y int64
			for i, v := range need {
				if v > 0 {
					h := covers[i].have[k]
					if h <= 0 {
						return
					}
					y = max(y, (v+h-1)/h)
				}
			}
			if b.cost > 0 && cost < from {
				y = max(y, (from-cost+b.cost-1)/b.cost)
			}
			if y <= most && cost+y*b.cost >= from {
				best = min(best, cost+y*b.cost)
			}
			return
		}
		next := make([]int64, len(need))
		for y := int64(0); y <= most; y++ {
			for i := range need {
				next[i] = need[i] - y*covers[i].have[k]
			}
			dfs(k+1, cost+y*b.cost, next)
			if best <= from {
				return
			}
		}
	}
	dfs(0, base, need)
	if steps < 0 {
		return from, false
	}
	return best, true
}

// metalBound bounds the cost by length alone: a cover whose values are the sizes.
func (m *master) metalBound(stop int64) {
	v := m.in.volume()
	var b int64
	if len(m.in.stocks) == 1 {
		s := m.in.stocks[0]
		b = (v + s.cap - 1) / s.cap * s.cost
	} else if w, ok := leastMix(m.in, []cover{m.metal()}, 0, stop); ok {
		b = w
	}
	m.bound = max(m.bound, b)
}
