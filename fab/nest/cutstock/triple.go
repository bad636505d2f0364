package cutstock

import (
	"cmp"
	"context"
	"slices"

	"bench.example/soapstone/fab/nest/lp"
)

// triple is a subset-row cut over three kinds (Jepsen, Petersen, Spoorendonk, Pisinger, Oper. Res. 56, 2008): a plan that
// cuts every piece exactly once has, over its patterns p, sum floor(pieces of the three kinds in p / 2) no more than
// floor(pieces wanted of them / 2). Two of three single pieces share a stick at most once, while a fractional plan has
// each pair on half a stick.
//
// Cuts are used over listed patterns alone: there the pricing counts every pattern with the duals of its cuts, in
// integers, and so the bound of lagrange holds as it is with worth less the cuts' right-hand sides.
type triple [3]int32

// most is the right-hand side of the cut.
func (t triple) most(in *inst) int64 {
	return int64(in.dem[t[0]]+in.dem[t[1]]+in.dem[t[2]]) / 2
}

// in is the coefficient of a pattern.
func (t triple) in(takes []take) int32 {
	var n int32
	for _, x := range takes {
		if x.k == t[0] || x.k == t[1] || x.k == t[2] {
			n += x.n
		}
	}
	return n / 2
}

// cutting holds the cuts of a pricing with their integer duals.
type cutting struct {
	of   [][]int32 // kind -> its cuts
	dual []int64
	cap  float64 // of a dual, as a share of the dearest dual of a kind
	sum  []int32 // scratch
	hit  []int32
}

func newCutting(in *inst) cutting {
	c := cutting{of: make([][]int32, len(in.size)), dual: make([]int64, len(in.cuts)), sum: make([]int32, len(in.cuts))}
	for i, t := range in.cuts {
		for _, k := range t {
			c.of[k] = append(c.of[k], int32(i))
		}
	}
	var most int64
	for _, t := range in.cuts {
		most += t.most(in)
	}
	c.cap = 4 * min(1, float64(sumDem(in))/float64(max(most, 1)))
	return c
}

// price is what the cuts take from the value of a pattern.
func (c *cutting) price(takes []take) (v int64) {
	c.hit = c.hit[:0]
	for _, t := range takes {
		for _, i := range c.of[t.k] {
			if c.sum[i] == 0 {
				c.hit = append(c.hit, i)
			}
			c.sum[i] += t.n
		}
	}
	for _, i := range c.hit {
		v += int64(c.sum[i]/2) * c.dual[i]
		c.sum[i] = 0
	}
	return v
}

// cutDuals brings the duals of the cut rows into the pricer and returns what the cuts take from the worth of the demand.
// Whatever their rounding, duals of 0 or more give a bound. Those of a pair of dear pieces reach twice the dearest dual;
// the cap is above that and keeps the sum of all within four times that of the pieces, for which the scale leaves room.
func (m *master) cutDuals() (worth int64) {
	for i, t := range m.in.cuts {
		d := min(max(-m.lp.Dual(m.rowCut+i), 0), m.dear*m.pr.cuts.cap)
		m.pr.cuts.dual[i] = int64(d * m.sc.ref)
		worth += m.pr.cuts.dual[i] * t.most(m.in)
	}
	return worth
}

// carryCuts brings the cuts of the parent to the kinds of the child. A cut holds over any three kinds; what it says of
// pieces that were joined is lost.
func (ch child) carryCuts(in *inst) {
	for _, t := range in.cuts {
		var u triple
		good := true
		for i, k := range t {
			u[i] = ch.to[k]
			good = good && u[i] >= 0
		}
		if good && u.most(ch.in) > 0 {
			ch.in.cuts = append(ch.in.cuts, u)
		}
	}
}

const (
	triplesRound = 40   // cuts added at once
	triplesMost  = 300  // cuts held
	tripleSlack  = 0.02 // violations below are not worth a row
	cutsAtRoot   = 20   // rounds of cuts at the root of the search over listed patterns
	cutsBelow    = 1    // and at the nodes below, where four made Hard28 slower
)

// violated returns cuts over single pieces that the solution of m breaks, the most broken first. Of three such kinds at
// least two pairs share sticks, so that a kind and two of its neighbours are enough to look at.
func (m *master) violated() []triple {
	n := len(m.in.size)
	near := make([]map[int32]float64, n)
	using := make([][]share, n)
	for _, s := range m.support() {
		takes := m.cols[s.col].takes
		for _, a := range takes {
			if m.in.dem[a.k] != 1 {
				continue
			}
			using[a.k] = append(using[a.k], s)
			for _, b := range takes {
				if a.k == b.k || m.in.dem[b.k] != 1 {
					continue
				}
				if near[a.k] == nil {
					near[a.k] = map[int32]float64{}
				}
				near[a.k][b.k] += s.x
			}
		}
	}
	have := map[triple]bool{}
	for _, t := range m.in.cuts {
		have[t] = true
	}
	type broken struct {
		t    triple
		over float64
	}
	var out []broken
	for i := range near {
		var next []int32
		for k := range near[i] {
			next = append(next, k)
		}
		slices.Sort(next)
		for x, j := range next {
			for _, k := range next[:x] {
				if near[i][j]+near[i][k]+near[j][k] <= 1+tripleSlack {
					continue
				}
				t := triple{int32(i), j, k}
				slices.Sort(t[:])
				if have[t] {
					continue
				}
				have[t] = true
				// Every pattern with two of them has i or both the others.
				v := 0.0
				for _, s := range using[t[0]] {
					v += s.x * float64(t.in(m.cols[s.col].takes))
				}
				for _, s := range using[t[1]] {
					takes := m.cols[s.col].takes
					if !slices.ContainsFunc(takes, func(x take) bool { return x.k == t[0] }) {
						v += s.x * float64(t.in(takes))
					}
				}
				if v > 1+tripleSlack {
					out = append(out, broken{t, v - 1})
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b broken) int {
		if c := cmp.Compare(b.over, a.over); c != 0 {
			return c
		}
		return slices.Compare(a.t[:], b.t[:])
	})
	// A kind is in few of the cuts of a round: those that look alike add little.
	count := make([]int, n)
	var pick []triple
	for _, b := range out {
		if len(pick) == triplesRound {
			break
		}
		if count[b.t[0]] < 5 && count[b.t[1]] < 5 && count[b.t[2]] < 5 {
			pick = append(pick, b.t)
			for _, k := range b.t {
				count[k]++
			}
		}
	}
	return pick
}

// recut makes a master of the same node with the cuts that bind and those added, from the basis of m.
func (m *master) recut(add []triple) *master {
	in := *m.in
	in.cuts = nil
	for i, t := range m.in.cuts {
		if -m.lp.Dual(m.rowCut+i) > 1e-7 {
			in.cuts = append(in.cuts, t)
		}
	}
	in.cuts = append(in.cuts, add...)
	c := newMaster(&in)
	c.bound, c.rounds, c.most = m.bound, m.rounds, m.most
	var basis []int
	for _, col := range m.cols {
		if m.lp.Barred(col.h) {
			continue
		}
		n := len(c.cols)
		if c.add(col.pattern) && m.lp.Basic(col.h) {
			basis = append(basis, c.cols[n].h)
		}
	}
	c.lp.Start(basis)
	return c
}

// cut adds rounds of cuts to a solved node over listed patterns, as long as they move its bound, and returns the master
// that stands then and how its last column generation ended.
func (m *master) cut(ctx context.Context, cutoff int64, rounds int) (*master, outcome) {
	now := m.lp.Value()
	for ; rounds > 0 && m.in.pool != nil; rounds-- {
		add := m.violated()
		if len(add) == 0 || len(m.in.cuts)+len(add) > triplesMost {
			break
		}
		c := m.recut(add)
		if o := c.generate(ctx, cutoff); o != converged {
			if o == stopped && ctx.Err() == nil {
				m.rounds, m.bound = c.rounds, c.bound
				return m, converged // the numbers gave up with these cuts: the node goes on without them
			}
			return c, o
		}
		v := c.lp.Value()
		m = c
		if v < now+1e-4 && rounds > 1 {
			rounds = 1 + rounds/2
		}
		now = v
	}
	return m, converged
}

// addCutRows appends the rows of the cuts; columns are added after them.
func (m *master) addCutRows() {
	m.rowCut = m.lp.Rows()
	for _, t := range m.in.cuts {
		m.lp.AddRow(lp.LE, float64(t.most(m.in)))
	}
	if len(m.in.cuts) > 0 {
		m.pr.cuts = newCutting(m.in)
	}
}
