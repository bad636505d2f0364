package nest

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"bench.example/soapstone/fab/measure"
)

// brute finds the optimum by trying every partition of the pieces, every stick, every order and every way of lying. It
// places pieces by its own float geometry.
type brute struct {
	p      *Problem
	pieces []int // kinds
	priced bool
	one    map[[2]int]*outcome // by stick and set
	best   outcome
	fewest int // sticks of any nest, whatever it costs
}

type outcome struct {
	ok       bool
	cost     int64
	material float64 // mm
	drop     float64
	bars     int
}

const fine = 1e-4 // mm: placements of the engine are rounded up to the nanometre

func (b *brute) better(a, o outcome) bool {
	switch {
	case !o.ok:
		return a.ok
	case a.cost != o.cost:
		return a.cost < o.cost
	case math.Abs(a.material-o.material) > fine:
		return a.material < o.material
	}
	return a.drop > o.drop
}

// stick tries all orders of the set on stick s.
func (b *brute) stick(s, set int) *outcome {
	key := [2]int{s, set}
	if o := b.one[key]; o != nil {
		return o
	}
	best := &outcome{}
	b.one[key] = best
	groups := map[string]int{}
	for i, k := range b.pieces {
		if w := b.p.Kinds[k].Same; w != "" {
			if set&(1<<i) != 0 {
				groups[w] |= 1
			} else {
				groups[w] |= 2
			}
		}
	}
	for _, g := range groups {
		if g == 3 {
			return best
		}
	}
	st := &b.p.Sticks[s]
	r := &b.p.Rules
	ends := st.Ends
	if len(ends) == 0 {
		ends = []Lay{{}}
	}
	cost := int64(st.Price)
	yardCut := int64(r.YardCut)
	if !b.priced {
		cost, yardCut = 0, 0
		if !st.OnHand {
			cost = int64(st.Length)
		}
	}
	trim := r.Trim.MM()
	if st.Trimmed {
		trim = 0
	}
	if r.Haul == 0 || st.OnHand || st.Length <= r.Haul {
		for _, e := range ends {
			b.orders(set, between(e, trim, st.Length.MM()-r.TrimEnd.MM(), r.Depth.MM(), r.Width.MM()), nil, 0, func(to float64, last Lay, long float64) {
				drop := math.Max(0, st.Length.MM()-to-alongStick(r.Kerf.MM(), last.Right))
				if long+drop < r.Grip.MM()-1e-6 {
					return
				}
				o := outcome{ok: true, cost: cost, bars: 1}
				if drop >= r.Keep.MM() {
					o.drop = drop
				}
				o.material = st.Length.MM() - o.drop
				if r.Keep == 0 {
					o.material = to + r.Kerf.MM()
				}
				if b.better(o, *best) {
					*best = o
				}
			})
		}
		return best
	}
	// Parts: what each subset needs in each role, then all ways to share the set out.
	haul := r.Haul.MM()
	least := int(math.Ceil(st.Length.MM() / haul)) // a long stick with few pieces is parted in its rest too
	for parts := least; parts <= least+len(b.pieces)+2; parts++ {
		if b.share(set, 0, parts, st, trim, st.Length.MM()) {
			*best = outcome{ok: true, cost: cost + int64(parts-1)*yardCut, bars: 1}
			return best
		}
	}
	return best
}

// share gives part at a subset and the later parts the rest; left is the length that is left.
func (b *brute) share(set, at, parts int, st *Stick, trim, left float64) bool {
	if left < -1e-6 {
		return false
	}
	if at == parts {
		return set == 0
	}
	for sub := set; ; sub = (sub - 1) & set {
		need := b.need(sub, at == 0, at == parts-1, st, trim)
		if need <= b.p.Rules.Haul.MM()+1e-6 && b.share(set&^sub, at+1, parts, st, trim, left-need) {
			return true
		}
		if sub == 0 {
			return false
		}
	}
}

func (b *brute) need(sub int, first, last bool, st *Stick, trim float64) float64 {
	r := &b.p.Rules
	ends := Lay{}
	head, tail, drop := r.YardTrim.MM(), r.YardTrim.MM(), r.YardTrim.MM()
	if first {
		head = trim
		if len(st.Ends) > 0 {
			ends.Left = st.Ends[0].Left
		}
	}
	if last {
		tail, drop = r.TrimEnd.MM(), 0
		if len(st.Ends) > 0 {
			ends.Right = st.Ends[0].Right
		}
	}
	least := math.Inf(1)
	const far = 1e5
	room := between(ends, head, far-tail, r.Depth.MM(), r.Width.MM())
	if sub == 0 {
		// A part without pieces keeps what its ends take, square.
		from, to := math.Inf(-1), math.Inf(1)
		for _, y := range []float64{0, r.Depth.MM()} {
			for _, z := range []float64{0, r.Width.MM()} {
				from, to = math.Max(from, room.left(y, z)), math.Min(to, room.right(y, z))
			}
		}
		return from + far - to
	}
	b.orders(sub, room, nil, 0, func(to float64, l Lay, long float64) {
		over := math.Inf(1)
		s := between(l, to-long, to, r.Depth.MM(), r.Width.MM())
		for _, y := range []float64{0, r.Depth.MM()} {
			for _, z := range []float64{0, r.Width.MM()} {
				over = math.Min(over, room.right(y, z)-s.right(y, z))
			}
		}
		need := far - over
		if long < r.Grip.MM() {
			need = math.Max(need, to+alongStick(r.Kerf.MM(), l.Right)+r.Grip.MM()-long+drop)
		}
		least = math.Min(least, need)
	})
	return least
}

// orders places the pieces of the set one after the other as far left as they go.
func (b *brute) orders(set int, room solid, prev *solid, prevKerf float64, done func(to float64, last Lay, long float64)) {
	r := &b.p.Rules
	depth, width := r.Depth.MM(), r.Width.MM()
	tried := map[int]bool{}
	for i, k := range b.pieces {
		if set&(1<<i) == 0 || tried[k] {
			continue
		}
		tried[k] = true
		kind := &b.p.Kinds[k]
		lays := kind.Lays
		if len(lays) == 0 {
			lays = []Lay{{}}
		}
		for _, l := range lays {
			s := between(l, 0, kind.Length.MM(), depth, width)
			shift := math.Inf(-1)
			kerf := alongStick(r.Kerf.MM(), l.Left)
			for _, y := range []float64{0, depth} {
				for _, z := range []float64{0, width} {
					if prev == nil {
						shift = math.Max(shift, room.left(y, z)-s.left(y, z))
					} else {
						shift = math.Max(shift, prev.right(y, z)+math.Max(kerf, prevKerf)-s.left(y, z))
					}
				}
			}
			here := between(l, shift, shift+kind.Length.MM(), depth, width)
			ok := true
			for _, y := range []float64{0, depth} {
				for _, z := range []float64{0, width} {
					ok = ok && here.right(y, z) <= room.right(y, z)+1e-6
				}
			}
			if !ok {
				continue
			}
			if set == 1<<i {
				done(shift+kind.Length.MM(), l, kind.Length.MM())
				continue
			}
			b.orders(set&^(1<<i), room, &here, alongStick(r.Kerf.MM(), l.Right), done)
		}
	}
}

func (b *brute) run(set int, sum outcome, used []int) {
	if set == 0 {
		sum.ok = true
		if b.fewest == 0 || sum.bars < b.fewest {
			b.fewest = sum.bars
		}
		if b.better(sum, b.best) {
			b.best = sum
		}
		return
	}
	low := set & -set
	rest := set &^ low
	for sub := rest; ; sub = (sub - 1) & rest {
		for s := range b.p.Sticks {
			if l := b.p.Sticks[s].Limit; l > 0 && used[s] >= l {
				continue
			}
			if o := b.stick(s, sub|low); o.ok {
				used[s]++
				b.run(rest&^sub, outcome{cost: sum.cost + o.cost, material: sum.material + o.material, drop: math.Max(sum.drop, o.drop), bars: sum.bars + 1}, used)
				used[s]--
			}
		}
		if sub == 0 {
			return
		}
	}
}

func bruteForce(p *Problem) (best outcome, fewest int) {
	b := &brute{p: p, one: map[[2]int]*outcome{}}
	for k := range p.Kinds {
		for range p.Kinds[k].Qty {
			b.pieces = append(b.pieces, k)
		}
	}
	for _, s := range p.Sticks {
		b.priced = b.priced || s.Price > 0 && !s.OnHand
	}
	b.run(1<<len(b.pieces)-1, outcome{}, make([]int, len(p.Sticks)))
	return b.best, b.fewest
}

// randomProblem makes a small job with all features mixed, or a larger mitred one.
func randomProblem(rng *rand.Rand, pieces int) *Problem {
	p := &Problem{}
	pick := func(v ...float64) float64 { return v[rng.IntN(len(v))] }
	mmL := func(v float64) measure.Length { return measure.FromMM(v) }
	r := &p.Rules
	r.Depth, r.Width = mmL(pick(40, 60)), mmL(pick(20, 40))
	sym := Symmetry(rng.IntN(5))
	if sym == Quarter || sym == EqualAngle {
		r.Width = r.Depth
	}
	r.Kerf = mmL(pick(0, 1.5, 3.175))
	if rng.IntN(3) == 0 {
		r.Trim = mmL(pick(5, 12.7))
	}
	if rng.IntN(3) == 0 {
		r.TrimEnd = mmL(pick(1, 12.7))
	}
	if rng.IntN(3) == 0 {
		r.Grip = mmL(pick(75, 200))
	}
	if rng.IntN(2) == 0 {
		r.Keep = mmL(pick(150, 300))
	}
	if rng.IntN(5) == 0 {
		r.Haul = mmL(pick(500, 700, 1000))
		r.YardTrim = mmL(pick(0, 6))
		r.YardCut = measure.Money(pick(0, 25000))
	}
	angles := []float64{0, 45, -45, 30, -30, 22.5}
	if rng.IntN(3) == 0 {
		angles = []float64{0}
	}
	ends := func() []Lay {
		face := Face(rng.IntN(2))
		lays := LaysOf(pick(angles...), pick(angles...), face, sym)
		if rng.IntN(8) == 0 {
			a, b := LeftPlane(pick(angles...), Depth), LeftPlane(pick(angles...), Width)
			lays = LaysOfPlanes(Plane{a.SY, b.SZ}, RightPlane(pick(angles...), Depth), face, sym)
		}
		return lays
	}
	for left := pieces; left > 0; {
		k := Kind{Qty: min(left, 1+rng.IntN(3)), Length: mmL(200 + float64(rng.IntN(50))*10)}
		if rng.IntN(4) != 0 {
			k.Lays = ends()
			if few := 1 + rng.IntN(4); len(k.Lays) > few {
				k.Lays = k.Lays[:few]
			}
		}
		left -= k.Qty
		if rng.IntN(10) == 0 {
			k.Same = "pair"
		}
		p.Kinds = append(p.Kinds, k)
	}
	priced := rng.IntN(3) != 0
	for range 1 + rng.IntN(3) {
		s := Stick{Length: mmL(600 + float64(rng.IntN(100))*10)}
		if priced {
			s.Price = measure.Money(10000*(3+rng.IntN(20)) + 50*rng.IntN(3))
		}
		if rng.IntN(4) == 0 {
			s.Limit = 1 + rng.IntN(2)
		}
		p.Sticks = append(p.Sticks, s)
	}
	if rng.IntN(2) == 0 {
		s := Stick{Length: mmL(300 + float64(rng.IntN(60))*10), OnHand: true, Limit: 1 + rng.IntN(2), Trimmed: rng.IntN(3) == 0}
		if rng.IntN(2) == 0 {
			s.Ends = ends()
		}
		if rng.IntN(5) == 0 {
			s.Price = measure.Money(rng.IntN(50000))
		}
		p.Sticks = append(p.Sticks, s)
	}
	return p
}

func soak(normal, long int) int {
	if os.Getenv("SOAK") != "" {
		return long
	}
	return normal
}

// TestAgainstBruteForce solves small jobs with all features mixed both ways: no proof may be false, no bound may pass the
// optimum, and what can be built must be found.
func TestAgainstBruteForce(t *testing.T) {
	proven, material, drops, bars, solved, failed, slow := 0, 0, 0, 0, 0, 0, 0
	var most time.Duration // processor time
	for seed := range soak(500, 20000) {
		rng := rand.New(rand.NewPCG(uint64(seed), 8))
		p := randomProblem(rng, 2+rng.IntN(3))
		want, fewest := bruteForce(p)
		c := spent()
		n, err := Solve(context.Background(), *p, Options{})
		if c = spent() - c; c > most {
			most, slow = c, seed
			t.Logf("seed %d took %v", slow, most)
		}
		if err != nil {
			failed++
			if want.ok {
				t.Errorf("seed %d: %v, but it can be built for %d", seed, err, want.cost)
			}
			continue
		}
		solved++
		if !want.ok {
			t.Errorf("seed %d: cannot be built, and yet a nest for %d", seed, n.Cost)
			continue
		}
		for _, f := range faults(p, &n) {
			t.Errorf("seed %d: %s", seed, f)
		}
		if int64(n.BoundCost) > want.cost || int64(n.Cost) < want.cost || n.Proven && int64(n.Cost) != want.cost {
			t.Errorf("seed %d: bound %d, optimum %d, answer %d, proven %v", seed, n.BoundCost, want.cost, n.Cost, n.Proven)
			continue
		}
		if n.BoundBars > fewest || n.Bars < fewest {
			t.Errorf("seed %d: at least %d sticks, %d do, the answer has %d", seed, n.BoundBars, fewest, n.Bars)
		}
		if n.BoundBars == fewest {
			bars++
		}
		if n.Proven {
			proven++
		}
		if int64(n.Cost) != want.cost || p.Rules.Haul > 0 {
			continue
		}
		got, bound := float64(n.Material.Value)/1e6, float64(n.Material.Bound)/1e6
		if n.Proven && bound > want.material+fine || got < want.material-fine || n.Material.Proven && math.Abs(got-want.material) > 2e-3 {
			t.Errorf("seed %d: material at least %.6f, optimum %.6f, answer %.6f, proven %v", seed, bound, want.material, got, n.Material.Proven)
			continue
		}
		if n.Material.Proven {
			material++
			got := float64(n.Longest.Value) / 1e6
			if n.Longest.Proven {
				drops++
			}
			if float64(n.Longest.Bound)/1e6 < want.drop-2e-3 || n.Longest.Proven && math.Abs(got-want.drop) > 2e-3 {
				t.Errorf("seed %d: longest drop %.6f, at most %.6f, optimum %.6f, proven %v", seed, got, float64(n.Longest.Bound)/1e6, want.drop, n.Longest.Proven)
			}
		}
	}
	t.Logf("solved %d (cost proven %d, material %d, longest drop %d, the bound of the sticks their fewest %d), cannot be built %d; the slowest, seed %d, took %v", solved, proven, material, drops, bars, failed, slow, most)
	if proven < solved*99/100 {
		t.Errorf("only %d of %d small jobs proven", proven, solved)
	}
}
