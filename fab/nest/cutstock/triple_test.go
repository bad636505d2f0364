package cutstock

import (
	"context"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// fewest is the least number of patterns of the pool that make up the demand exactly, by trying all; 0: none do.
func fewest(in *inst) int {
	memo := map[string]int{}
	const none = 1 << 20
	var rec func(left []byte) int
	rec = func(left []byte) int {
		first := slices.IndexFunc(left, func(b byte) bool { return b > 0 })
		if first < 0 {
			return 0
		}
		if v, ok := memo[string(left)]; ok {
			return v
		}
		best := none
	next:
		for _, p := range in.pool {
			has := false
			rest := slices.Clone(left)
			for _, t := range p.takes {
				if int(rest[t.k]) < int(t.n) {
					continue next
				}
				rest[t.k] -= byte(t.n)
				has = has || int(t.k) == first
			}
			if has {
				best = min(best, 1+rec(rest))
			}
		}
		memo[string(left)] = best
		return best
	}
	var left []byte
	for _, d := range in.dem {
		left = append(left, byte(d))
	}
	if v := rec(left); v < none {
		return v
	}
	return 0
}

// pooled is a random node over listed patterns: few of all there are, so that the bound without cuts often falls short.
func pooled(r *rand.Rand) *inst {
	in := &inst{stocks: []bin{{100, 1, 0, 40, true}}}
	n := 6 + r.IntN(6)
	for k := 0; k < n; k++ {
		in.size = append(in.size, 20+r.Int64N(26))
	}
	slices.SortFunc(in.size, func(a, b int64) int { return int(b - a) })
	for k := range in.size {
		in.dem = append(in.dem, 1)
		if r.IntN(6) == 0 {
			in.dem[k] = 2
		}
		in.parts = append(in.parts, []take{{int32(k), 1}})
	}
	in.pool = []pattern{}
	share := 10 + r.IntN(60)
	for _, t := range every(in, nil) {
		if len(t) == 1 && t[0].n == 1 && r.IntN(3) > 0 || r.IntN(100) < share {
			in.pool = append(in.pool, pattern{0, t})
		}
	}
	return in
}

// The bound with cuts is held against all plans over the listed patterns, at duals of the master and at random ones, at
// the node and in the children of a branch.
func TestTriplesAgainstBruteForce(t *testing.T) {
	count := 1500
	if os.Getenv("SOAK") != "" {
		count = 20000
	}
	r := rand.New(rand.NewPCG(2, 7))
	ctx := context.Background()
	cases, raised, plans, kept := 0, 0, 0, 0
	for n := 0; n < count; n++ {
		in := pooled(r)
		least := fewest(in)
		check := func(m *master, least int, where string) {
			t.Helper()
			if least > 0 && m.bound > int64(least) {
				t.Fatalf("case %d, %s: bound %d, there is a plan of %d\n%+v", n, where, m.bound, least, m.in)
			}
		}
		m := newMaster(in)
		if m.generate(ctx, maxTotal) != converged {
			t.Fatalf("case %d: the root gave up", n)
		}
		check(m, least, "root")
		if least == 0 || m.artificial() > 1e-4 {
			continue
		}
		plans++
		before := m.bound
		c, how := m.cut(ctx, int64(least)+1, 8)
		if how == pruned {
			t.Fatalf("case %d: no plan of %d is claimed, there is one\n%+v", n, least, in)
		}
		check(c, least, "cuts")
		if len(c.in.cuts) > 0 {
			cases++
		}
		if c.bound > before {
			raised++
		}
		// Any three kinds and any duals give a bound.
		x := *in
		for range 6 {
			p := r.Perm(len(in.size))
			u := triple{int32(p[0]), int32(p[1]), int32(p[2])}
			slices.Sort(u[:])
			x.cuts = append(x.cuts, u)
		}
		rm := newMaster(&x)
		rm.generate(ctx, maxTotal)
		check(rm, least, "cuts at random")
		pi := make([]int64, len(in.size))
		worth := int64(0)
		for k := range pi {
			pi[k] = r.Int64N(rm.sc.cost[0])
			worth += pi[k] * int64(in.dem[k])
		}
		for i, u := range x.cuts {
			rm.pr.cuts.dual[i] = r.Int64N(rm.sc.cost[0])
			worth -= rm.pr.cuts.dual[i] * u.most(&x)
		}
		rm.pr.load(&x, pi, x.dem, false)
		best, _, _ := rm.pr.price([]int64{rm.sc.cost[0]}, 1)
		if b := rm.sc.back(lagrange(&x, rm.sc, worth, best)); b > int64(least) {
			t.Fatalf("case %d: random duals give %d, there is a plan of %d\n%+v", n, b, least, x)
		}
		// A branch carries the cuts to its children.
		a, b := int32(r.IntN(len(in.size))), int32(r.IntN(len(in.size)))
		if a == b && in.dem[a] < 2 {
			continue
		}
		for side, ch := range []child{c.in.apart(a, b), c.in.together(a, b)} {
			kept += len(ch.in.cuts)
			l := fewest(ch.in)
			cm := c.open(ch, 1).start()
			cm.generate(ctx, maxTotal)
			check(cm, l, []string{"apart", "together"}[side])
			if cm.artificial() < 1e-4 {
				cm, _ = cm.cut(ctx, maxTotal, 3)
				check(cm, l, "cuts below")
			}
		}
	}
	t.Logf("%d plans, %d with cuts, %d bounds raised, %d cuts carried", plans, cases, raised, kept)
	if plans < count/4 || cases < count/50 || raised < count/200 || kept < count/50 {
		t.Fatal("the cases are one-sided")
	}
}
